//! Every job that is due, side by side, each a process of its own: one that fails takes nothing else with it, and
//! together they keep to the memory they may take.

use std::process::Command;
use std::time::Duration;

use swingpair::lesson::{Lesson, Make, Target, keep_stamp, targets};
use swingpair::messages;
use swingpair::types::{Cancel, Error, Result};

use super::jobs::{Ended, Jobs};
use super::make::how;
use super::{End, command, is_up_to_date, summary};
use crate::cli::args::LessonArgs;
use crate::cli::progress::Talk;

/// What one job may take at most, MB: making a clip of two 3840 × 2160 films takes 500 (DEVELOPERS.md, Render).
const JOB_MB: u64 = 600;
const LOOK: Duration = Duration::from_millis(30);

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
    // Dropped on every way out of here, and with it what still runs.
    let mut jobs = Jobs::default();
    let mut ended: Vec<Ended> = Vec::new();
    loop {
        cancel.check()?;
        while jobs.running() < at_once {
            let Some(target) = waiting.next() else { break };
            let command = process(lesson, &target, args)?;
            jobs.start(target, command)?;
        }
        if jobs.running() == 0 {
            return Ok(ended);
        }
        for one in jobs.ended()? {
            let said = messages::lesson::job_ended(&one.target.name, one.took_s, one.failure.is_some());
            talk.say(&format!("[{}/{}] {said}", ended.len() + 1, count));
            if let (Make::Find { .. }, None) = (&one.target.make, &one.failure) {
                keep_stamp(lesson, &one.target, &how(lesson, &one.target))?;
            }
            ended.push(one);
        }
        std::thread::sleep(LOOK);
    }
}

/// The target as a run of this program.
fn process(lesson: &Lesson, target: &Target, args: &LessonArgs) -> Result<Command> {
    let program =
        std::env::current_exe().map_err(|e| Error::Usage(messages::command::program_missing(&e)))?;
    let mut process = Command::new(program);
    process.args(command(lesson, target)).args(args.allow.words());
    process.args(["--units", lesson.units.unwrap_or_default().word()]);
    Ok(process)
}
