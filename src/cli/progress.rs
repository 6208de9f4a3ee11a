//! How far a job is: a bar on a terminal, a plain line for each stage elsewhere, nothing when quiet.

use std::io::{IsTerminal, Write};
use std::sync::Mutex;

use indicatif::{ProgressBar, ProgressStyle};
use swingpair::ground::Progress;

/// One line to people. That nobody listens any more (a closed pipe) does not end the work.
pub fn say(text: &str) {
    let _ = writeln!(std::io::stderr(), "{text}");
}

pub enum Talk {
    Quiet,
    Lines,
    Bars(Mutex<Option<ProgressBar>>),
}

impl Talk {
    pub fn new(quiet: bool) -> Self {
        if quiet {
            Self::Quiet
        } else if std::io::stderr().is_terminal() {
            Self::Bars(Mutex::new(None))
        } else {
            Self::Lines
        }
    }

    /// One line to people.
    pub fn say(&self, text: &str) {
        if !matches!(self, Self::Quiet) {
            say(text);
        }
    }
}

impl Progress for Talk {
    fn begin(&self, what: &str, steps: u64) {
        match self {
            Self::Quiet => {}
            Self::Lines => say(&format!("{what}…")),
            Self::Bars(slot) => {
                let bar = if steps > 0 { ProgressBar::new(steps) } else { ProgressBar::new_spinner() };
                if let Ok(style) = ProgressStyle::with_template("{msg:28} {wide_bar} {percent:>3} %") {
                    bar.set_style(style);
                }
                bar.set_message(what.to_owned());
                if let Ok(mut slot) = slot.lock() {
                    *slot = Some(bar);
                }
            }
        }
    }

    fn advance(&self, steps: u64) {
        if let Self::Bars(slot) = self
            && let Ok(slot) = slot.lock()
            && let Some(bar) = slot.as_ref()
        {
            bar.inc(steps);
        }
    }

    fn end(&self) {
        if let Self::Bars(slot) = self
            && let Ok(mut slot) = slot.lock()
            && let Some(bar) = slot.take()
        {
            bar.finish_and_clear();
        }
    }
}
