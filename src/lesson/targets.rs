//! Which files follow from a lesson, and from what.

use std::path::{Path, PathBuf};

use super::{Day, Hitter, Lesson};
use crate::store;

/// What is done for a target.
#[derive(Debug, Clone, PartialEq)]
pub enum Make {
    /// Find the reps of a long film: a folder of films. Only when it is there the day's other targets are known.
    Find {
        /// Its place in [`Lesson::hitters`].
        hitter: usize,
        /// Its place in [`Hitter::days`].
        day: usize,
        /// The long clip in which reps are found.
        recording: PathBuf,
    },
    /// Read a rep: its sidecar.
    Read {
        /// Its place in [`Lesson::hitters`].
        hitter: usize,
        /// Its place in [`Hitter::days`]; `None` for a good rep, which has no day.
        day: Option<usize>,
        /// What is read.
        clip: PathBuf,
    },
    /// How much the reps of one day differ.
    Spread {
        /// Its place in [`Lesson::hitters`].
        hitter: usize,
        /// Its place in [`Hitter::days`].
        day: usize,
    },
    /// The last day's typical rep against the reference.
    Clip {
        /// Its place in [`Lesson::hitters`].
        hitter: usize,
    },
    /// The sheet of stills.
    Sheet {
        /// Its place in [`Lesson::hitters`].
        hitter: usize,
    },
    /// The hitter's page.
    Page {
        /// Its place in [`Lesson::hitters`].
        hitter: usize,
    },
}

/// One file that is made, from files alone: again gives the same.
#[derive(Debug, Clone, PartialEq)]
pub struct Target {
    /// How it is called for: its place in the lesson's output, or of a reading the clip's own place.
    pub name: String,
    /// What has to be done for it.
    pub make: Make,
    /// Where it is written.
    pub output: PathBuf,
    /// The films it rests on.
    pub inputs: Vec<PathBuf>,
}

/// Every target, those first that others can use.
pub fn targets(lesson: &Lesson) -> Vec<Target> {
    let mut all: Vec<Target> = Vec::new();
    for (h, hitter) in lesson.hitters.iter().enumerate() {
        for (d, day) in hitter.days.iter().enumerate() {
            for recording in &day.recordings {
                let output = found_folder(&lesson.output, &hitter.folder, recording);
                let name = output.strip_prefix(&lesson.output).unwrap_or(&output).display().to_string();
                let make = Make::Find { hitter: h, day: d, recording: recording.clone() };
                all.push(Target { name, make, output, inputs: vec![recording.clone()] });
            }
        }
    }
    for (h, hitter) in lesson.hitters.iter().enumerate() {
        let days = hitter.days.iter().enumerate();
        let of_days = days.flat_map(|(d, day)| day.reps.iter().map(move |rep| (Some(d), rep)));
        for (day, rep) in of_days.chain(hitter.good.iter().map(|rep| (None, rep))) {
            for clip in [Some(&rep.side), rep.behind.as_ref()].into_iter().flatten() {
                let output = store::sidecar_path(clip);
                if all.iter().any(|t| t.output == output) {
                    continue;
                }
                let name = clip.display().to_string();
                let make = Make::Read { hitter: h, day, clip: clip.clone() };
                all.push(Target { name, make, output, inputs: vec![clip.clone()] });
            }
        }
    }
    for (h, hitter) in lesson.hitters.iter().enumerate() {
        let mut add = |name: String, make: Make, inputs: Vec<PathBuf>| {
            let place = Path::new(&hitter.folder).join(name);
            let (name, output) = (place.display().to_string(), lesson.output.join(&place));
            all.push(Target { name, make, output, inputs });
        };
        let wanted = &hitter.wanted;
        for (d, day) in
            hitter.days.iter().enumerate().filter(|(_, day)| wanted.spread && !day.reps.is_empty())
        {
            add(
                format!("{}-spread.png", file_word(&day.name)),
                Make::Spread { hitter: h, day: d },
                films(day, false),
            );
        }
        let Some((_, last)) = hitter.last_day() else { continue };
        let everything = all_films(hitter);
        let word = file_word(&last.name);
        if let Some(plan) = &wanted.clip {
            let own = Some(PathBuf::from(plan)).filter(|p| p.is_file());
            let inputs = everything.iter().cloned().chain(own).collect();
            add(format!("{word}-clip.mp4"), Make::Clip { hitter: h }, inputs);
        }
        if wanted.sheet && compared(hitter) {
            add(format!("{word}-sheet.png"), Make::Sheet { hitter: h }, everything.clone());
        }
        if wanted.page {
            add(format!("{}.html", hitter.folder), Make::Page { hitter: h }, everything);
        }
    }
    all
}

impl Hitter {
    /// The last day that has a rep, and its place.
    pub fn last_day(&self) -> Option<(usize, &Day)> {
        self.days.iter().enumerate().rev().find(|(_, d)| !d.reps.is_empty())
    }
}

fn films(day: &Day, both: bool) -> Vec<PathBuf> {
    let of = |rep: &super::Rep| {
        let behind = rep.behind.clone().filter(|_| both);
        std::iter::once(rep.side.clone()).chain(behind).collect::<Vec<_>>()
    };
    day.reps.iter().flat_map(of).collect()
}

fn all_films(hitter: &Hitter) -> Vec<PathBuf> {
    let mut all: Vec<PathBuf> = hitter.days.iter().flat_map(|d| films(d, true)).collect();
    all.extend(
        hitter.good.iter().flat_map(|rep| std::iter::once(rep.side.clone()).chain(rep.behind.clone())),
    );
    all
}

/// Whether there is something to compare the last day with.
fn compared(hitter: &Hitter) -> bool {
    let days = hitter.days.iter().filter(|d| !d.reps.is_empty()).count();
    let marked = |rep: &super::Rep| store::kept(&rep.side).is_some_and(|k| k.rating.is_some());
    days > 1 || !hitter.good.is_empty() || hitter.days.iter().flat_map(|d| &d.reps).any(marked)
}

/// Where the reps found in a long film lie.
pub(super) fn found_folder(output: &Path, hitter: &str, recording: &Path) -> PathBuf {
    let stem = recording.file_stem().unwrap_or_default().to_string_lossy();
    output.join(hitter).join(format!("{}-reps", super::folder_name(&stem)))
}

/// A day's name in a file's.
fn file_word(day: &str) -> String {
    super::folder_name(day)
}
