//! Killed at every single call that writes: `strace` counts them and kills the program as it enters the next one.

use std::fs;
use std::os::unix::process::ExitStatusExt;
use std::process::Command;

use super::scene::{OLDER, Scene, Template};
use super::{Outcome, Tally};

/// Everything that makes, fills, names, locks or takes away a file.
const CALLS: &str =
    "openat,write,writev,pwrite64,fsync,ftruncate,flock,rename,renameat,renameat2,unlink,unlinkat,fchmod";

struct Job {
    what: &'static str,
    words: &'static [&'static str],
    targets: &'static [&'static str],
    /// Brings about the state before the run.
    before: fn(&Scene) -> Outcome<()>,
    /// At most so many of its steps are tried, evenly spread; the first and the last always.
    most: usize,
    /// There was one that could not be used.
    damaged: bool,
}

const JOBS: [Job; 7] = [
    Job {
        what: "mark, over a sidecar with pins",
        words: &["mark", "@today.mp4", "contact=1.75"],
        targets: &[],
        before: |_| Ok(()),
        most: 60,
        damaged: false,
    },
    Job {
        what: "read, over a sidecar with pins",
        words: &["read", "@today.mp4"],
        targets: &[],
        before: |_| Ok(()),
        most: 60,
        damaged: false,
    },
    Job {
        what: "mark, the first sidecar",
        words: &["mark", "@today.mp4", "finish=2.1", "contact=1.75"],
        targets: &[],
        before: |scene| {
            Ok(fs::rename(scene.path("today.swing.json"), scene.path("today.swing.json.unread-9"))?)
        },
        most: 60,
        damaged: false,
    },
    Job {
        what: "mark, over a damaged sidecar",
        words: &["mark", "@today.mp4", "contact=1.75"],
        targets: &[],
        before: |scene| Ok(fs::write(scene.path("today.swing.json"), OLDER)?),
        most: 60,
        damaged: true,
    },
    Job {
        what: "pair, its cut-outs over damaged ones, its clip",
        words: &[
            "-q",
            "pair",
            "@today.mp4",
            "@best.mp4",
            "-o",
            "@out.mp4",
            "--layout",
            "ghost",
            "--size",
            "256x456",
            "--slow",
            "1",
        ],
        targets: &["out.mp4"],
        before: |scene| {
            fs::write(scene.path("best.ghost.json"), OLDER)?;
            Ok(fs::write(scene.path("out.mp4"), OLDER)?)
        },
        most: 30,
        damaged: true,
    },
    Job {
        what: "report, its page",
        words: &[
            "-q",
            "report",
            "@today.mp4",
            "@best.mp4",
            "-o",
            "@out.html",
            "--size",
            "256x456",
            "--slow",
            "1",
        ],
        targets: &["out.html"],
        before: |scene| Ok(fs::write(scene.path("out.html"), OLDER)?),
        most: 15,
        damaged: false,
    },
    Job {
        what: "sheet",
        words: &["-q", "sheet", "@today.mp4", "@best.mp4", "-o", "@out.png"],
        targets: &["out.png"],
        before: |scene| Ok(fs::write(scene.path("out.png"), OLDER)?),
        most: 15,
        damaged: false,
    },
];

/// A call by name, and which of that name it is in its thread.
type Step = (String, usize);

pub fn rows(template: &Template) -> Outcome<Vec<Tally>> {
    if Command::new("strace").arg("-V").output().is_err() {
        return Ok(vec![Tally::skipped(
            "killed at every step of a sidecar write",
            "no strace (apt install strace)",
        )]);
    }
    let mut rows = Vec::new();
    for job in JOBS {
        eprintln!("{}, killed step by step", job.what);
        let mut row = Tally::new(format!("{}: SIGKILL at each step", job.what));
        let steps = steps(template, &job)?;
        let all = steps.len();
        let tried = spread(steps, job.most);
        row.note = format!("{} of {all} steps", tried.len());
        for (call, number) in tried {
            let scene = template.scene()?;
            (job.before)(&scene)?;
            let mut strace = Command::new("strace");
            strace.args(["-f", "-qq", "-o", "/dev/null", "-e", &format!("trace={call}"), "-e"]);
            strace.arg(format!("inject={call}:signal=KILL:when={number}"));
            let done = scene.through(strace, job.words).output()?;
            // strace ends as what it watched did.
            if done.status.signal() == Some(9) {
                row.ended += 1;
            }
            scene.judge(&mut row, job.targets)?;
            // What could not be used is never deleted, wherever it lies now.
            let damaged = |n: &String| fs::read(scene.path(n)).is_ok_and(|b| b == OLDER);
            if job.damaged && !scene.names()?.iter().filter(|n| n.contains(".json")).any(damaged) {
                eprintln!("LOST in {}: the damaged one", row.what);
                row.sidecar += 1;
            }
        }
        rows.push(row);
    }
    Ok(rows)
}

/// The calls of an undisturbed run, in order, from the first unfinished file to the end.
fn steps(template: &Template, job: &Job) -> Outcome<Vec<Step>> {
    let scene = template.scene()?;
    (job.before)(&scene)?;
    let log = tempfile::NamedTempFile::new()?;
    let mut strace = Command::new("strace");
    strace.args(["-f", "-qq", "-e", &format!("trace={CALLS}"), "-o"]).arg(log.path());
    let done = scene.through(strace, job.words).output()?;
    if !done.status.success() {
        return Err(format!("{}: {}", job.what, String::from_utf8_lossy(&done.stderr)).into());
    }
    let mut counts = std::collections::HashMap::new();
    let (mut begun, mut steps) = (false, Vec::new());
    for line in fs::read_to_string(log.path())?.lines() {
        let Some((thread, rest)) = line.split_once(' ') else { continue };
        let Some((call, words)) = rest.trim_start().split_once('(') else { continue };
        if !CALLS.split(',').any(|c| c == call) {
            continue;
        }
        let number = counts.entry((thread.to_owned(), call.to_owned())).or_insert(0);
        *number += 1;
        // Locking the folder comes first of all.
        begun |= words.contains(".swingpair-") || call == "flock";
        if begun {
            steps.push((call.to_owned(), *number));
        }
    }
    Ok(steps)
}

fn spread(steps: Vec<Step>, most: usize) -> Vec<Step> {
    if steps.len() <= most {
        return steps;
    }
    let last = steps.len() - 1;
    (0..most).map(|i| steps[i * last / (most - 1)].clone()).collect()
}
