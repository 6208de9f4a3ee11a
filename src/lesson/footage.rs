//! Where the footage of a lesson lies.

use std::fs;
use std::path::{Path, PathBuf};

use super::{Rep, beside};
use crate::store;
use crate::types::Warning;

/// Endings of films, as phones and cameras write them.
const FILMS: [&str; 8] = ["mp4", "mov", "m4v", "mkv", "webm", "avi", "mts", "3gp"];
/// What stands at the end of a film's name that shows the swing of another from behind.
const BEHIND: [&str; 2] = ["_behind", "-behind"];

pub fn is_film(path: &Path) -> bool {
    let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default();
    FILMS.iter().any(|f| f.eq_ignore_ascii_case(ending)) && path.is_file()
}

/// The films of a folder by name, hidden ones left out.
pub fn films_in(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let hidden = |p: &Path| crate::types::file_name(p).starts_with('.');
    let mut films: Vec<PathBuf> = entries.map(|e| e.path()).filter(|p| is_film(p) && !hidden(p)).collect();
    films.sort_by_key(|p| in_order(&crate::types::file_name(p)));
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
    let side_of = |film: &PathBuf| -> Option<PathBuf> {
        let own = stem(film);
        let base = BEHIND.iter().find_map(|r| own.strip_suffix(r))?;
        films.iter().find(|f| f.parent() == film.parent() && stem(f) == base).cloned()
    };
    let behinds: Vec<(PathBuf, PathBuf)> =
        films.iter().filter_map(|f| Some((side_of(f)?, f.clone()))).collect();
    let is_behind = |f: &PathBuf| behinds.iter().any(|(_, behind)| behind == f);
    films
        .iter()
        .filter(|f| !is_behind(f))
        .map(|side| {
            let behind = behinds.iter().find(|(of, _)| of == side).map(|(_, behind)| behind.clone());
            Rep { side: side.clone(), behind }
        })
        .collect()
}

/// The reps that these words name: films, SIDE+BEHIND, or folders of films. Missing ones are told.
pub fn reps_of(lesson: &Path, words_given: &[String], warnings: &mut Vec<Warning>) -> Vec<Rep> {
    let mut found = Vec::new();
    for word in words_given {
        let path = beside(lesson, Path::new(word));
        if path.is_dir() {
            let films = films_in(&path);
            if films.is_empty() {
                warnings.push(Warning::FolderEmpty { folder: word.clone() });
            }
            found.extend(reps_from(&films));
            continue;
        }
        let folder = lesson.parent().unwrap_or(Path::new(""));
        let named = |p: &Path| p.strip_prefix(folder).unwrap_or(p).display().to_string();
        let Ok((side, behind)) = store::parted(Path::new(word), folder) else {
            warnings.push(missing(word));
            continue;
        };
        let mut there = |path: &Path| {
            let there = path.is_file();
            warnings.extend((!there).then(|| missing(&named(path))));
            there
        };
        if there(&side) {
            found.push(Rep { behind: behind.filter(|behind| there(behind)), side });
        }
    }
    found
}

fn missing(word: &str) -> Warning {
    Warning::ClipMissing { clip: word.trim().to_owned() }
}
