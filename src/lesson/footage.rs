//! Where the footage of a lesson lies.

use std::fs;
use std::path::{Path, PathBuf};

use super::{Rep, beside};
use crate::ground::{Warning, words};

pub(super) type Found = Rep;

/// Endings of films, as phones and cameras write them.
const FILMS: [&str; 8] = ["mp4", "mov", "m4v", "mkv", "webm", "avi", "mts", "3gp"];
/// What stands at the end of a film's name that shows the swing of another from behind.
const REAR: [&str; 4] = ["_behind", "-behind", "_rear", "-rear"];

pub fn is_film(path: &Path) -> bool {
    let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default();
    FILMS.iter().any(|f| f.eq_ignore_ascii_case(ending)) && path.is_file()
}

/// The films of a folder by name, hidden ones left out.
pub fn films_in(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let hidden = |p: &Path| words::keep::name(p).starts_with('.');
    let mut films: Vec<PathBuf> = entries.map(|e| e.path()).filter(|p| is_film(p) && !hidden(p)).collect();
    films.sort_by_key(|p| in_order(&words::keep::name(p)));
    films
}

/// Names in the order people count: rep2 before rep10.
fn in_order(name: &str) -> Vec<(String, u64)> {
    let mut parts = Vec::new();
    let mut rest = name;
    while !rest.is_empty() {
        let letters = rest.find(|c: char| c.is_ascii_digit()).unwrap_or(rest.len());
        let (text, after) = rest.split_at(letters);
        let digits = after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len());
        let (number, after) = after.split_at(digits);
        parts.push((text.to_lowercase(), number.parse().unwrap_or(0)));
        rest = after;
    }
    parts
}

/// Films with the ones from behind joined to their own.
pub fn reps_from(films: &[PathBuf]) -> Vec<Rep> {
    let stem = |p: &Path| p.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let open_of = |film: &PathBuf| -> Option<PathBuf> {
        let own = stem(film);
        let base = REAR.iter().find_map(|r| own.strip_suffix(r))?;
        films.iter().find(|f| f.parent() == film.parent() && stem(f) == base).cloned()
    };
    let rears: Vec<(PathBuf, PathBuf)> =
        films.iter().filter_map(|f| Some((open_of(f)?, f.clone()))).collect();
    let is_rear = |f: &PathBuf| rears.iter().any(|(_, rear)| rear == f);
    films
        .iter()
        .filter(|f| !is_rear(f))
        .map(|open| {
            let rear = rears.iter().find(|(of, _)| of == open).map(|(_, rear)| rear.clone());
            Rep { open: open.clone(), rear }
        })
        .collect()
}

/// The reps that these words name: films, OPEN+REAR, or folders of films. Missing ones are told.
pub fn reps_of(lesson: &Path, words_given: &[String], warnings: &mut Vec<Warning>) -> Vec<Found> {
    let mut reps = Vec::new();
    for word in words_given {
        let path = beside(lesson, Path::new(word));
        if path.is_dir() {
            let films = films_in(&path);
            if films.is_empty() {
                warnings.push(Warning::new("folder_empty", words::lesson::empty_folder(word)));
            }
            reps.extend(reps_from(&films));
        } else if path.is_file() {
            reps.push(Rep { open: path, rear: None });
        } else if let Some((open_word, rear_word)) = word.split_once('+') {
            let [open, rear] = [open_word, rear_word].map(|w| beside(lesson, Path::new(w.trim())));
            if !open.is_file() {
                warnings.push(missing(open_word));
                continue;
            }
            let here = rear.is_file();
            if !here {
                warnings.push(missing(rear_word));
            }
            reps.push(Rep { open, rear: here.then_some(rear) });
        } else {
            warnings.push(missing(word));
        }
    }
    reps
}

fn missing(word: &str) -> Warning {
    Warning::new("clip_missing", words::lesson::missing(word.trim()))
}
