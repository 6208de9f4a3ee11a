//! Words, flags, progress, exit codes. How anything is done is the library's business.

mod allow;
mod angles;
mod args;
mod at_once;
mod care;
mod check;
mod clip;
mod demo;
mod desk;
mod lesson;
mod mark;
mod pair;
mod plan;
mod probe;
mod progress;
mod pulse;
mod read;
mod rep;
mod report;
mod reps;
mod sheet;
mod shell;
mod spread;
mod swings;
mod units;

use std::io::{ErrorKind, Write};
use std::path::Path;
use std::process::ExitCode;

use clap::Parser;
use swingpair::messages;
use swingpair::types::{Cancel, Error, Result, Warning};

use args::{Arguments, Job};
use progress::Talk;

const FAILED: u8 = 1;
const USAGE: u8 = 2;
const WITH_WARNINGS: u8 = 3;
const INTERRUPTED: u8 = 130;

pub fn run() -> ExitCode {
    // clap itself leaves with 2 on wrong words and 0 on --help.
    let words = Arguments::parse();
    let talk = Talk::new(words.quiet);
    let failure_to = words.failure_to;
    let told_to = failure_to.clone();
    talk.pulse().watch(move |seconds| {
        tell_failure(told_to.as_deref(), &messages::command::stuck(seconds));
        std::process::exit(i32::from(FAILED));
    });
    let cancel = Cancel::default();
    if let Err(e) = stop_on_signal(&cancel, words.job.stops_itself()) {
        talk.say(&messages::command::no_clean_up(&e));
    }
    let typed = words.units;
    let units = || units::chosen(typed, None);
    let done = match words.job {
        Job::Pair(mut args) => {
            args.swings.find_references().and_then(|()| pair::run(&args, units()?, &talk, &cancel))
        }
        Job::Sheet(mut args) => {
            args.swings.find_references().and_then(|()| sheet::run(&args, units()?, &talk, &cancel))
        }
        Job::Report(mut args) => {
            args.swings.find_references().and_then(|()| report::run(&args, units()?, &talk, &cancel))
        }
        Job::Desk(args) => units().and_then(|units| desk::run(&args, units, &talk, &cancel)),
        Job::Check(args) => match check::run(&args) {
            Ok(true) => Ok(()),
            // Told on stdout already.
            Ok(false) => return ExitCode::from(FAILED),
            Err(e) => Err(e),
        },
        Job::Clip(args) => units().and_then(|units| clip::run(&args, units, &talk, &cancel)),
        Job::Plan(args) => plan::run(&args),
        Job::Captions => print(messages::CAPTIONS_TOML.trim_end()),
        Job::Lesson(args) => match lesson::run(&args, typed, &talk, &cancel) {
            Ok(lesson::End::WithWarnings) => return ExitCode::from(WITH_WARNINGS),
            end => end.map(drop),
        },
        Job::Angles(args) => angles::run(&args, &talk, &cancel),
        Job::Reps(args) => reps::run(&args, &talk, &cancel),
        Job::Spread(args) => units().and_then(|units| spread::run(&args, units, &talk, &cancel)),
        Job::Read(args) => units().and_then(|units| read::run(&args, units, &talk, &cancel)),
        Job::Mark(args) => mark::run(&args, &talk),
        Job::Probe(args) => probe::run(&args),
        Job::Demo(args) => demo::run(&args, &talk, &cancel),
        Job::Completions(args) => shell::completions(&args),
        Job::Man(args) => shell::man(&args),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) => {
            tell_failure(failure_to.as_deref(), &e.to_string());
            ExitCode::from(match e {
                Error::Cancelled => INTERRUPTED,
                Error::Usage(_)
                | Error::OutputIsInput { .. }
                | Error::Ending { .. }
                | Error::Plan { .. }
                | Error::Captions { .. }
                | Error::Lesson { .. }
                | Error::NobodyThere { .. }
                | Error::Glyph { .. }
                | Error::KnownLength { .. } => USAGE,
                _ => FAILED,
            })
        }
    }
}

/// Why the run failed: to people, and to the lesson that started it.
fn tell_failure(to: Option<&Path>, cause: &str) {
    progress::say(&format!("error: {cause}"));
    if let Some(to) = to {
        // The exit code says that it failed, and the lesson tells so.
        let _ = std::fs::write(to, cause);
    }
}

/// Ctrl-C, and being asked to end by the system or a closed terminal: the job stops at its next step and clears what is
/// unfinished. Asked a second time, or where the job would not look up, it ends at once; the next run clears.
fn stop_on_signal(cancel: &Cancel, stops_itself: bool) -> std::result::Result<(), ctrlc::Error> {
    let cancel = cancel.clone();
    ctrlc::set_handler(move || {
        if cancel.is_cancelled() || !stops_itself {
            std::process::exit(i32::from(INTERRUPTED));
        }
        cancel.cancel();
    })
}

/// Data to stdout. A reader that went away (a closed pipe) is no error of ours; a disk that is full is.
fn print(text: &str) -> Result<()> {
    let mut out = std::io::stdout().lock();
    match writeln!(out, "{text}").and_then(|()| out.flush()) {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => {
            Err(Error::writing(Path::new(messages::command::OUTPUT), e))
        }
        _ => Ok(()),
    }
}

fn print_json(value: &impl serde::Serialize) -> Result<()> {
    let text = serde_json::to_string_pretty(value).map_err(|e| Error::Internal(e.to_string()))?;
    print(&text)
}

fn warn(talk: &Talk, whose: &str, warnings: &[Warning]) {
    for warning in warnings {
        talk.say(&format!("warning: {whose}{}", messages::warning(warning)));
    }
}
