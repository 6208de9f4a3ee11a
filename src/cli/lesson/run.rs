//! Every job that is due, side by side, each a process of its own: one that fails takes nothing else with it, and
//! together they keep to the memory they may take.

use std::io::Read;
use std::process::{Child, Command, Stdio};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use swingpair::lesson::{Lesson, Make, Target, keep_stamp, targets};
use swingpair::messages;
use swingpair::types::{Cancel, Error, Result};

use super::make::how;
use super::{End, command, is_up_to_date, summary};
use crate::cli::args::LessonArgs;
use crate::cli::progress::Talk;

/// What one job may take at most, MB: making a clip of two 3840 × 2160 films takes 500 (DEVELOPERS.md, Render).
const JOB_MB: u64 = 600;
const LOOK: Duration = Duration::from_millis(30);

/// A job that runs.
struct Running {
    target: Target,
    child: Child,
    said: JoinHandle<String>,
    began: Instant,
}

/// How a job ended.
pub struct Ended {
    pub target: Target,
    /// What went wrong.
    pub failure: Option<String>,
}

pub fn all(lesson: &Lesson, args: &LessonArgs, talk: &Talk, cancel: &Cancel) -> Result<End> {
    let limits = args.allow.limits();
    let at_once = at_once(args.memory);
    let run = |lesson: &Lesson, of: fn(&Make) -> bool| -> Result<Vec<Ended>> {
        let mut due = targets(lesson);
        due.retain(|t| of(&t.make));
        // What was read of the films serves again.
        due.retain(|t| (args.again && rests_on_reps(&t.make)) || !is_up_to_date(lesson, t));
        stage_of(lesson, due, at_once, args, talk, cancel)
    };
    let mut ended = run(lesson, |make| matches!(make, Make::Find { .. }))?;
    // What was found in long films are reps of their day.
    let found = if ended.is_empty() {
        None
    } else {
        Some(Lesson { units: lesson.units, ..Lesson::from_file(&lesson.file, &limits)? })
    };
    let lesson = found.as_ref().unwrap_or(lesson);
    // Readings first: the rest rests on them, and would read the same films side by side.
    ended.extend(run(lesson, |make| matches!(make, Make::Read { .. }))?);
    ended.extend(run(lesson, |make| rests_on_reps(make) && !matches!(make, Make::Page { .. }))?);
    // Pages last: each holds its hitter's clip.
    ended.extend(run(lesson, |make| matches!(make, Make::Page { .. }))?);
    summary::tell(lesson, &ended, &limits, talk, cancel)
}

fn rests_on_reps(make: &Make) -> bool {
    !matches!(make, Make::Find { .. } | Make::Read { .. })
}

/// As many as memory and processors allow.
fn at_once(memory_mb: Option<u64>) -> usize {
    let processors = std::thread::available_parallelism().map_or(2, usize::from);
    let budget_mb = memory_mb.or_else(|| free_mb().map(|mb| mb / 2)).unwrap_or(JOB_MB);
    ((budget_mb / JOB_MB) as usize).clamp(1, processors)
}

/// Memory that can be taken without swapping, where the system tells (Linux).
fn free_mb() -> Option<u64> {
    let text = std::fs::read_to_string("/proc/meminfo").ok()?;
    let line = text.lines().find(|l| l.starts_with("MemAvailable:"))?;
    line.split_whitespace().nth(1)?.parse::<u64>().ok().map(|kb| kb / 1024)
}

fn stage_of(
    lesson: &Lesson,
    due: Vec<Target>,
    at_once: usize,
    args: &LessonArgs,
    talk: &Talk,
    cancel: &Cancel,
) -> Result<Vec<Ended>> {
    let count = due.len();
    let mut waiting = due.into_iter();
    let mut running: Vec<Running> = Vec::new();
    let mut ended: Vec<Ended> = Vec::new();
    loop {
        if cancel.is_cancelled() {
            stop(&mut running);
            return Err(Error::Cancelled);
        }
        while running.len() < at_once {
            let Some(target) = waiting.next() else { break };
            let mut child = start(lesson, &target, args)?;
            let said = listen(&mut child);
            running.push(Running { target, child, said, began: Instant::now() });
        }
        if running.is_empty() {
            return Ok(ended);
        }
        let mut still = Vec::new();
        for mut job in running {
            match job.child.try_wait() {
                Ok(None) => still.push(job),
                Ok(Some(status)) => {
                    let took_s = job.began.elapsed().as_secs_f64();
                    let one = end_of(job, status.success());
                    let said = messages::lesson::job_ended(&one.target.name, took_s, one.failure.is_some());
                    talk.say(&format!("[{}/{}] {said}", ended.len() + 1, count));
                    if let (Make::Find { .. }, None) = (&one.target.make, &one.failure) {
                        keep_stamp(lesson, &one.target, &how(lesson, &one.target))?;
                    }
                    ended.push(one);
                }
                Err(e) => return Err(Error::Usage(messages::command::job_lost(&e))),
            }
        }
        running = still;
        std::thread::sleep(LOOK);
    }
}

fn start(lesson: &Lesson, target: &Target, args: &LessonArgs) -> Result<Child> {
    let program =
        std::env::current_exe().map_err(|e| Error::Usage(messages::command::program_missing(&e)))?;
    Command::new(program)
        .args(command(lesson, target))
        .args(["--units", lesson.units.unwrap_or_default().word()])
        .args(args.allow.words())
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(|e| Error::Usage(messages::command::job_not_started(&e)))
}

fn end_of(job: Running, well: bool) -> Ended {
    let said = job.said.join().unwrap_or_default();
    let cause = said.lines().filter_map(|l| l.strip_prefix("error: ")).next_back();
    let failure = (!well).then(|| cause.unwrap_or(messages::command::JOB_ENDED).to_owned());
    Ended { target: job.target, failure }
}

/// All that a job says, taken as it comes, so that it never waits for a reader.
fn listen(child: &mut Child) -> JoinHandle<String> {
    let stderr = child.stderr.take();
    std::thread::spawn(move || {
        let mut said = Vec::new();
        if let Some(mut stderr) = stderr {
            // What cannot be read is not told; how it ended is known all the same.
            let _ = stderr.read_to_end(&mut said);
        }
        String::from_utf8_lossy(&said).into_owned()
    })
}

/// Asked to stop as by Ctrl-C, so that each clears what is unfinished.
fn stop(running: &mut [Running]) {
    for job in running.iter_mut() {
        let _ = Command::new("kill").args(["-INT", &job.child.id().to_string()]).status();
    }
    for job in running.iter_mut() {
        let _ = job.child.wait();
    }
}
