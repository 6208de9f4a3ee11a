//! A lesson: who hit on which day, where the footage lies, what shall be made of it. Plain data, and which files
//! follow from which; how they are made is not known here.

mod draft;
mod file;
mod footage;
mod stamp;
mod targets;
mod text;

use std::path::{Path, PathBuf};

use crate::types::{Delivery, MeasureId, PitcherSide, Side, Units, Warning};

pub use draft::draft;
pub use footage::films_in;
pub use stamp::{Stamp, is_current, keep_stamp};
pub use targets::{Make, Target, targets};

/// A lesson, read and looked up on the disk.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson {
    /// The file it was read from.
    pub file: PathBuf,
    /// Over its pages.
    pub title: Option<String>,
    /// What its pages and videos are read in; without it whoever runs it decides.
    pub units: Option<Units>,
    /// Where everything is made.
    pub output: PathBuf,
    /// 1 or more, in the file's order.
    pub hitters: Vec<Hitter>,
}

/// One hitter of a lesson.
#[derive(Debug, Clone, PartialEq)]
pub struct Hitter {
    /// As the file has it; no two are alike.
    pub name: String,
    /// The name as a folder is called, one of its own for each hitter.
    pub folder: String,
    /// Said by the file; else read from the clips.
    pub bats: Option<Side>,
    /// Standing height, 60…250 cm.
    pub height_cm: Option<f64>,
    /// Length of the bat, 40…120 cm.
    pub bat_cm: Option<f64>,
    /// Reps to compare with; empty: those marked good on the disk.
    pub good: Vec<Rep>,
    /// Measures worked on; empty: all are looked at.
    pub watch: Vec<MeasureId>,
    /// In rising order.
    pub days: Vec<Day>,
    /// What is made for this hitter.
    pub wanted: Wanted,
    /// How today and the reference are called.
    pub labels: Option<[String; 2]>,
    /// What is missing, given twice or not dated; the rest goes on.
    pub warnings: Vec<Warning>,
}

/// What was filmed on one day.
#[derive(Debug, Clone, PartialEq)]
pub struct Day {
    /// The date, else what the day is called.
    pub name: String,
    /// Each once, in the file's order.
    pub reps: Vec<Rep>,
    /// Long films in which the reps are to be found first.
    pub recordings: Vec<PathBuf>,
    /// The rate the camera filmed at, Hz, where the files do not say it.
    pub recorded_at_hz: Option<f64>,
    /// Where in the picture the pitcher is; `None`: found in each film.
    pub pitcher: Option<PitcherSide>,
    /// How the ball came that day.
    pub ball: Option<Delivery>,
}

/// One swing: its film, and one from behind if there is one.
#[derive(Debug, Clone, PartialEq)]
pub struct Rep {
    /// Filmed from the open or closed side; the only clip of most reps.
    pub side: PathBuf,
    /// The same swing from behind.
    pub behind: Option<PathBuf>,
}

impl Rep {
    /// As it is given on the command line: SIDE, or SIDE+BEHIND.
    pub fn words(&self) -> String {
        let side = self.side.display();
        self.behind.as_ref().map_or_else(|| side.to_string(), |behind| format!("{side}+{}", behind.display()))
    }
}

/// What is made for a hitter.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// A ready plan's word or a plan's file; `None`: no clip.
    pub clip: Option<String>,
    pub(crate) sheet: bool,
    /// A plot and table for each day.
    pub spread: bool,
    pub(crate) page: bool,
}

impl Default for Wanted {
    fn default() -> Self {
        Self { clip: Some("quick".to_owned()), sheet: true, spread: true, page: true }
    }
}

/// A name as a folder is called: letters and digits of any script, the rest as hyphens.
fn folder_name(name: &str) -> String {
    let plain: String =
        name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    let parts: Vec<&str> = plain.split('-').filter(|p| !p.is_empty()).collect();
    if parts.is_empty() { "hitter".to_owned() } else { parts.join("-") }
}

/// `path` as seen from the lesson's folder.
fn beside(lesson: &Path, path: &Path) -> PathBuf {
    match lesson.parent() {
        Some(folder) if path.is_relative() => folder.join(path),
        _ => path.to_owned(),
    }
}
