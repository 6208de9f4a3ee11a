//! A lesson's file drafted from what lies in a folder.

use std::fs;
use std::path::{Path, PathBuf};

use super::footage::films_in;
use super::text::{DateText, DayText, HitterText, LessonText};
use crate::messages;
use crate::types::{Error, Result};

/// Folders of a hitter's own inside `folder`, days inside those; films that lie in a hitter's folder itself are one day.
/// Where `folder` holds films or days itself, they are one hitter's. Returns the file's text.
pub fn draft(folder: &Path) -> Result<String> {
    let inside = folders_in(folder)?;
    let mut hitters = Vec::new();
    let dated = inside.iter().any(|f| date_in(&crate::types::file_name(f)).is_some());
    if dated || !films_in(folder).is_empty() {
        hitters.extend(hitter("Hitter".to_owned(), folder, folder)?);
    } else {
        for own in &inside {
            hitters.extend(hitter(as_name(&crate::types::file_name(own)), own, folder)?);
        }
    }
    if hitters.is_empty() {
        return Err(Error::Usage(messages::lesson::nothing_to_draft(folder)));
    }
    let text = LessonText {
        lesson: 1,
        title: Some(as_name(&crate::types::file_name(folder))),
        hitter: hitters,
        ..LessonText::default()
    };
    let body = toml::to_string(&text).map_err(|e| Error::Internal(e.to_string()))?;
    Ok(format!("{}\n{body}", messages::lesson::DRAFT_HEAD))
}

fn hitter(name: String, own: &Path, folder: &Path) -> Result<Option<HitterText>> {
    let mut day = Vec::new();
    let below = |p: &Path| p.strip_prefix(folder).unwrap_or(p).display().to_string();
    let here = films_in(own);
    if !here.is_empty() {
        // Films of several days in one folder, by the date in their names.
        let mut dates: Vec<Option<String>> =
            here.iter().map(|f| date_in(&crate::types::file_name(f))).collect();
        dates.sort();
        dates.dedup();
        for date in dates {
            let of: Vec<PathBuf> =
                here.iter().filter(|f| date_in(&crate::types::file_name(f)) == date).cloned().collect();
            let reps = super::footage::reps_from(&of)
                .iter()
                .map(|r| {
                    r.behind.as_ref().map_or_else(
                        || below(&r.side),
                        |behind| format!("{}+{}", below(&r.side), below(behind)),
                    )
                })
                .collect();
            day.push(DayText { date: date.map(date_text), reps, ..DayText::default() });
        }
    }
    for inner in folders_in(own)? {
        if films_in(&inner).is_empty() {
            continue;
        }
        let called = crate::types::file_name(&inner);
        let date = date_in(&called).map(date_text);
        let name = if date.is_some() { None } else { Some(called) };
        day.push(DayText { date, name, reps: vec![below(&inner)], ..DayText::default() });
    }
    Ok((!day.is_empty()).then_some(HitterText { name, day, ..HitterText::default() }))
}

fn date_text(date: String) -> DateText {
    match date.parse() {
        Ok(bare) => DateText::Bare(bare),
        Err(_) => DateText::Quoted(date),
    }
}

/// Folders by name; hidden ones and what lessons made are left out.
fn folders_in(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut folders = Vec::new();
    for entry in fs::read_dir(folder).map_err(|e| Error::reading(folder, e))? {
        let path = entry.map_err(|e| Error::reading(folder, e))?.path();
        let name = crate::types::file_name(&path);
        if path.is_dir() && !name.starts_with('.') && name != "made" {
            folders.push(path);
        }
    }
    folders.sort();
    Ok(folders)
}

/// A date in a name, as 2026-03-07 or 20260307: `2026-03-07`.
fn date_in(name: &str) -> Option<String> {
    let bytes = name.as_bytes();
    let digits = |from: usize, n: usize| -> Option<u32> {
        let part = bytes.get(from..from + n)?;
        part.iter().all(u8::is_ascii_digit).then(|| std::str::from_utf8(part).ok()?.parse().ok()).flatten()
    };
    (0..bytes.len()).find_map(|i| {
        if i > 0 && bytes[i - 1].is_ascii_digit() {
            return None;
        }
        let year = digits(i, 4)?;
        let dash = matches!(bytes.get(i + 4), Some(b'-' | b'_' | b'.'));
        let (month, day, end) = if dash {
            (digits(i + 5, 2)?, digits(i + 8, 2)?, i + 10)
        } else {
            (digits(i + 4, 2)?, digits(i + 6, 2)?, i + 8)
        };
        let whole = bytes.get(end).is_none_or(|b| !b.is_ascii_digit());
        let sound = (1990..2200).contains(&year) && (1..=12).contains(&month) && (1..=31).contains(&day);
        (whole && sound).then(|| format!("{year:04}-{month:02}-{day:02}"))
    })
}

/// "wren-castellow" → "Wren Castellow".
fn as_name(folder: &str) -> String {
    let parts = folder.split(['-', '_', ' ']).filter(|p| !p.is_empty());
    let capital = |p: &str| {
        let mut letters = p.chars();
        letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
    };
    let name = parts.map(capital).collect::<Vec<String>>().join(" ");
    if name.is_empty() { "Lesson".to_owned() } else { name }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_are_found_in_names() {
        for (name, date) in [
            ("2026-03-07", Some("2026-03-07")),
            ("IMG_20260307_174501.mov", Some("2026-03-07")),
            ("cage 2026.03.07 b", Some("2026-03-07")),
            ("rep12", None),
            ("20261399", None),
            ("1202603071", None),
        ] {
            assert_eq!(date_in(name).as_deref(), date, "{name}");
        }
        assert_eq!(as_name("wren-castellow"), "Wren Castellow");
    }
}
