//! How far a job is: a bar on a terminal, a plain line for each stage elsewhere, nothing when quiet.

use std::io::{IsTerminal, Write};
use std::sync::Mutex;

use indicatif::{ProgressBar, ProgressStyle};
use swingpair::types::Progress;

use super::pulse::Pulse;

/// One line to people. That nobody listens any more (a closed pipe) does not end the work.
pub fn say(text: &str) {
    let _ = writeln!(std::io::stderr(), "{text}");
}

pub struct Talk {
    way: ProgressMode,
    pulse: Pulse,
}

enum ProgressMode {
    Quiet,
    Lines,
    Bars(Mutex<Option<ProgressBar>>),
}

impl Talk {
    pub fn new(quiet: bool) -> Self {
        let way = if quiet {
            ProgressMode::Quiet
        } else if std::io::stderr().is_terminal() {
            ProgressMode::Bars(Mutex::new(None))
        } else {
            ProgressMode::Lines
        };
        Self { way, pulse: Pulse::new() }
    }

    pub fn is_quiet(&self) -> bool {
        matches!(self.way, ProgressMode::Quiet)
    }

    pub fn pulse(&self) -> &Pulse {
        &self.pulse
    }

    /// One line to people.
    pub fn say(&self, text: &str) {
        if !self.is_quiet() {
            say(text);
        }
    }
}

impl Progress for Talk {
    fn begin(&self, what: &str, steps: u64) {
        self.pulse.moved(true);
        match &self.way {
            ProgressMode::Quiet => {}
            ProgressMode::Lines => say(&format!("{what}…")),
            ProgressMode::Bars(slot) => {
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
        self.pulse.moved(true);
        if let ProgressMode::Bars(slot) = &self.way
            && let Ok(slot) = slot.lock()
            && let Some(bar) = slot.as_ref()
        {
            bar.inc(steps);
        }
    }

    fn end(&self) {
        self.pulse.moved(false);
        if let ProgressMode::Bars(slot) = &self.way
            && let Ok(mut slot) = slot.lock()
            && let Some(bar) = slot.take()
        {
            bar.finish_and_clear();
        }
    }
}
