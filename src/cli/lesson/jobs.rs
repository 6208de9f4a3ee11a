//! Runs of this program side by side, each one job. None is left behind: whatever ends this one, they are asked to stop
//! and waited for.

use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use swingpair::lesson::Target;
use swingpair::messages;
use swingpair::types::{Error, Result};
use tempfile::NamedTempFile;

/// How long one that was asked to stop may clear up before it is ended.
const CLEARING: Duration = Duration::from_secs(20);
const LOOK: Duration = Duration::from_millis(30);

/// A job that runs.
struct Job {
    target: Target,
    child: Child,
    began: Instant,
    /// Where it writes why it failed (see `--failure-to`).
    failure: NamedTempFile,
}

/// How a job ended.
#[derive(Debug)]
pub struct Ended {
    pub target: Target,
    pub took_s: f64,
    /// What went wrong.
    pub failure: Option<String>,
}

#[derive(Default)]
pub struct Jobs(Vec<Job>);

impl Jobs {
    pub fn running(&self) -> usize {
        self.0.len()
    }

    /// Runs `command` for `target`; what it says is not shown.
    pub fn start(&mut self, target: Target, mut command: Command) -> Result<()> {
        let failed = |e: std::io::Error| Error::Usage(messages::command::job_not_started(&e));
        let failure = NamedTempFile::with_prefix("swingpair-job-").map_err(failed)?;
        command.arg("--failure-to").arg(failure.path());
        command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
        // Ctrl-C reaches this run alone, which asks each job once: asked twice, a job ends without clearing up.
        #[cfg(unix)]
        std::os::unix::process::CommandExt::process_group(&mut command, 0);
        let child = command.spawn().map_err(failed)?;
        self.0.push(Job { target, child, began: Instant::now(), failure });
        Ok(())
    }

    /// Those that ended since the last look.
    pub fn ended(&mut self) -> Result<Vec<Ended>> {
        let mut ended = Vec::new();
        let mut at = 0;
        while let Some(job) = self.0.get_mut(at) {
            match job.child.try_wait() {
                Ok(None) => at += 1,
                Ok(Some(status)) => {
                    let job = self.0.remove(at);
                    let failure = (!status.success()).then(|| cause(job.failure.path()));
                    let took_s = job.began.elapsed().as_secs_f64();
                    ended.push(Ended { target: job.target, took_s, failure });
                }
                Err(e) => return Err(Error::Usage(messages::command::job_lost(&e))),
            }
        }
        Ok(ended)
    }
}

/// Why a job failed, in its own words; one that was killed left none.
fn cause(file: &Path) -> String {
    let told = std::fs::read_to_string(file).unwrap_or_default();
    if told.is_empty() { messages::command::JOB_ENDED.to_owned() } else { told }
}

impl Drop for Jobs {
    fn drop(&mut self) {
        self.0.iter_mut().for_each(|job| ask_to_stop(&mut job.child));
        let until = Instant::now() + CLEARING;
        for job in &mut self.0 {
            while Instant::now() < until && matches!(job.child.try_wait(), Ok(None)) {
                std::thread::sleep(LOOK);
            }
            // One that has ended cannot be ended again, which is as well.
            let _ = job.child.kill();
            let _ = job.child.wait();
        }
    }
}

/// So that it clears what is unfinished. It is not yet waited for, so its number is its own.
fn ask_to_stop(child: &mut Child) {
    #[cfg(unix)]
    {
        // Not the signal of Ctrl-C: what a shell runs in the background may be told to ignore that.
        let _ = rustix::process::kill_process(
            rustix::process::Pid::from_child(child),
            rustix::process::Signal::TERM,
        );
    }
    #[cfg(not(unix))]
    {
        let _ = child.kill();
    }
}

#[cfg(test)]
#[cfg(unix)]
mod tests {
    use std::path::PathBuf;

    use rustix::process::{Pid, test_kill_process};
    use swingpair::lesson::Make;

    use super::*;

    fn target(name: &str) -> Target {
        let make = Make::Read { hitter: 0, day: None, clip: PathBuf::from("a.mp4") };
        Target { name: name.to_owned(), make, output: PathBuf::from("a.swing.json"), inputs: Vec::new() }
    }

    /// A shell that runs `text`; its last argument is the file for the failure.
    fn shell(text: &str) -> Command {
        let mut command = Command::new("sh");
        command.args(["-c", text, "sh"]);
        command
    }

    fn wait_for(jobs: &mut Jobs) -> Vec<Ended> {
        let mut all = Vec::new();
        while jobs.running() > 0 {
            all.extend(jobs.ended().unwrap());
            std::thread::sleep(LOOK);
        }
        all
    }

    #[test]
    fn jobs_that_are_dropped_clear_up_and_are_gone() {
        let dir = tempfile::tempdir().unwrap();
        let (ready, cleared) = (dir.path().join("ready"), dir.path().join("cleared"));
        let text = format!(
            "trap 'echo > \"{}\"; exit 130' TERM; echo > \"{}\"; while :; do sleep 0.05; done",
            cleared.display(),
            ready.display()
        );
        let mut jobs = Jobs::default();
        jobs.start(target("one"), shell(&text)).unwrap();
        jobs.start(target("two"), shell("exec sleep 600")).unwrap();
        while !ready.exists() {
            std::thread::sleep(LOOK);
        }
        let pids: Vec<Pid> = jobs.0.iter().map(|j| Pid::from_child(&j.child)).collect();
        assert!(pids.iter().all(|p| test_kill_process(*p).is_ok()));
        // As when a later job cannot be started: the error goes up, and this is what is left.
        drop(jobs);
        assert!(cleared.exists());
        assert!(pids.iter().all(|p| test_kill_process(*p).is_err()));
    }

    #[test]
    fn a_job_tells_why_it_failed_by_its_file_alone() {
        let mut jobs = Jobs::default();
        jobs.start(target("well"), shell("echo 'error: not this' >&2")).unwrap();
        jobs.start(target("told"), shell("echo 'error: nor this' >&2; printf 'no room' > \"$2\"; exit 1"))
            .unwrap();
        jobs.start(target("killed"), shell("kill -KILL $$")).unwrap();
        let mut ended = wait_for(&mut jobs);
        ended.sort_by(|a, b| a.target.name.cmp(&b.target.name));
        let told: Vec<Option<&str>> = ended.iter().map(|e| e.failure.as_deref()).collect();
        assert_eq!(told, [Some(messages::command::JOB_ENDED), Some("no room"), None]);
    }
}
