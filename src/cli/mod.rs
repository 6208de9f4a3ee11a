//! Words, flags, progress, exit codes. How anything is done is the library's business.

mod args;
mod check;
mod clip;
mod demo;
mod mark;
mod pair;
mod plan;
mod probe;
mod progress;
mod read;
mod report;
mod sheet;
mod swings;

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;
use swingpair::ground::{Cancel, Error, Result, Warning};

use args::{Job, Words};
use progress::Talk;

const FAILED: u8 = 1;
const USAGE: u8 = 2;
const INTERRUPTED: u8 = 130;

pub fn run() -> ExitCode {
    // clap itself leaves with 2 on wrong words and 0 on --help.
    let words = Words::parse();
    let talk = Talk::new(words.quiet);
    let cancel = Cancel::default();
    let on_signal = cancel.clone();
    if let Err(e) = ctrlc::set_handler(move || on_signal.cancel()) {
        talk.say(&format!("warning: Ctrl-C will not clean up ({e})"));
    }
    let done = match words.job {
        Job::Pair(args) => pair::run(&args, &talk, &cancel),
        Job::Sheet(args) => sheet::run(&args, &talk, &cancel),
        Job::Report(args) => report::run(&args, &talk, &cancel),
        Job::Check(args) => match check::run(&args) {
            Ok(true) => Ok(()),
            // Told on stdout already.
            Ok(false) => return ExitCode::from(FAILED),
            Err(e) => Err(e),
        },
        Job::Clip(args) => clip::run(&args, &talk, &cancel),
        Job::Plan(args) => plan::run(&args),
        Job::Read(args) => read::run(&args, &talk, &cancel),
        Job::Mark(args) => mark::run(&args, &talk),
        Job::Probe(args) => probe::run(&args),
        Job::Demo(args) => demo::run(&args, &talk, &cancel),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) => {
            eprintln!("error: {e}");
            ExitCode::from(match e {
                Error::Cancelled => INTERRUPTED,
                Error::Usage(_)
                | Error::OutputIsInput { .. }
                | Error::Glyph { .. }
                | Error::KnownLength { .. } => USAGE,
                _ => FAILED,
            })
        }
    }
}

/// Data to stdout. A reader that went away (a closed pipe) is no error of ours.
fn print(text: &str) {
    let mut out = std::io::stdout().lock();
    let _ = writeln!(out, "{text}");
}

fn print_json(value: &impl serde::Serialize) -> Result<()> {
    let text = serde_json::to_string_pretty(value).map_err(|e| Error::Usage(e.to_string()))?;
    print(&text);
    Ok(())
}

fn warn(talk: &Talk, whose: &str, warnings: &[Warning]) {
    for warning in warnings {
        talk.say(&format!("warning: {whose}{}", warning.text));
    }
}
