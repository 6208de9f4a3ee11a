//! The lesson's file: TOML, written by hand or drafted.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::footage::{Found, reps_of};
use super::{Day, Hitter, Lesson, Wanted, beside, folder_name};
use crate::clip::Ready;
use crate::ground::{Bound, Error, Limits, MeasureId, Result, Side, Warning, from_toml, nearest, words};

/// The form of the file.
const FORM: u32 = 1;

#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LessonText {
    pub lesson: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub output: Option<PathBuf>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub make: Option<MakeText>,
    #[serde(default)]
    pub hitter: Vec<HitterText>,
}

#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MakeText {
    /// A ready plan, a plan's file, or "none".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clip: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sheet: Option<bool>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread: Option<bool>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub page: Option<bool>,
}

#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HitterText {
    pub name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bats: Option<Side>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_cm: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bat_cm: Option<f64>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub good: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub watch: Vec<MeasureId>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub labels: Option<[String; 2]>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub make: Option<MakeText>,
    #[serde(default)]
    pub day: Vec<DayText>,
}

#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DayText {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<DateText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub reps: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub recordings: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recorded_at_hz: Option<f64>,
}

/// A date, with or without quotes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum DateText {
    Bare(toml::value::Datetime),
    Quoted(String),
}

impl DateText {
    /// `2026-03-07`, which sorts as it passes.
    fn day(&self) -> std::result::Result<String, String> {
        let text = match self {
            Self::Bare(date) => date.date.map(|d| d.to_string()).unwrap_or_default(),
            Self::Quoted(text) => text.trim().to_owned(),
        };
        let parsed: std::result::Result<toml::value::Datetime, _> = text.parse();
        match parsed {
            Ok(date) if date.date.is_some() && date.time.is_none() => Ok(text),
            _ => Err(format!("“{text}” is no date; write year, month and day, as in date = 2026-03-07")),
        }
    }
}

impl Lesson {
    /// Read the file and look its footage up. What is missing is told in `warnings`; words that cannot be understood
    /// are an error.
    pub fn from_file(path: &Path, limits: &Limits) -> Result<Self> {
        let wrong = |cause: String| Error::Lesson { path: path.to_owned(), cause };
        let bytes = limits.read(Bound::PlanKb, path)?;
        let text = String::from_utf8(bytes).map_err(|_| wrong("it is not text in UTF-8".to_owned()))?;
        let text: LessonText = from_toml(text.trim_start_matches('\u{feff}')).map_err(wrong)?;
        let lesson = understood(path, text).map_err(wrong)?;
        Ok(lesson)
    }
}

fn understood(file: &Path, text: LessonText) -> std::result::Result<Lesson, String> {
    if text.lesson != FORM {
        return Err(format!("it is of form {}, this program knows form {FORM}", text.lesson));
    }
    if text.hitter.is_empty() {
        return Err("it names no hitter; add [[hitter]] with a name and a [[hitter.day]]".to_owned());
    }
    let mut warnings = Vec::new();
    let mut hitters: Vec<Hitter> = Vec::new();
    for hitter in &text.hitter {
        let folder = folder_name(&hitter.name);
        let taken = hitters.iter().filter(|h| h.name == hitter.name).count();
        if taken > 0 {
            return Err(format!("two hitters are called “{}”; give each a name of their own", hitter.name));
        }
        let same = hitters
            .iter()
            .filter(|h| h.folder == folder || h.folder.starts_with(&format!("{folder}-")))
            .count();
        let folder = if same == 0 { folder } else { format!("{folder}-{}", same + 1) };
        let about = |cause: String| format!("hitter “{}”: {cause}", hitter.name);
        hitters.push(one(file, hitter, folder, text.make.as_ref(), &mut warnings).map_err(about)?);
    }
    let output = beside(file, text.output.as_deref().unwrap_or("made".as_ref()));
    Ok(Lesson { file: file.to_owned(), title: text.title, output, hitters, warnings })
}

fn one(
    file: &Path,
    text: &HitterText,
    folder: String,
    common: Option<&MakeText>,
    warnings: &mut Vec<Warning>,
) -> std::result::Result<Hitter, String> {
    check_text(&text.name)?;
    text.labels.iter().flatten().try_for_each(|l| check_text(l))?;
    for (value, low, high, key) in
        [(text.height_cm, 60.0, 250.0, "height_cm"), (text.bat_cm, 40.0, 120.0, "bat_cm")]
    {
        if value.is_some_and(|v| !(low..=high).contains(&v)) {
            return Err(format!("{key} must lie between {low} and {high}"));
        }
    }
    let mut days = Vec::new();
    for (i, day) in text.day.iter().enumerate() {
        let about = |cause: String| format!("day {}: {cause}", i + 1);
        if day.recorded_at_hz.is_some_and(|hz| !(hz.is_finite() && hz > 0.0)) {
            return Err(about("recorded_at_hz must be more than 0".to_owned()));
        }
        day.name.as_deref().map_or(Ok(()), check_text).map_err(about)?;
        let date = day.date.as_ref().map(DateText::day).transpose().map_err(about)?;
        let name = date.clone().or_else(|| day.name.clone()).unwrap_or_else(|| words::lesson::day(i));
        let found = reps_of(file, &day.reps, warnings);
        let recordings = reps_of(file, &day.recordings, warnings);
        let recordings = recordings.into_iter().map(|r: Found| r.open).collect();
        days.push((date, Day { name, reps: found, recordings, recorded_at_hz: day.recorded_at_hz }));
    }
    if days.iter().all(|(date, _)| date.is_some()) {
        days.sort_by(|a, b| a.0.cmp(&b.0));
    } else if days.len() > 1 {
        warnings.push(Warning::new("days_undated", words::lesson::undated(&text.name)));
    }
    let mut days: Vec<Day> = days.into_iter().map(|(_, day)| day).collect();
    given_twice(&mut days, &text.name, warnings)?;
    let make = |of: fn(&MakeText) -> Option<bool>| {
        text.make.as_ref().and_then(of).or_else(|| common.and_then(of)).unwrap_or(true)
    };
    let clip = text.make.as_ref().and_then(|m| m.clip.as_ref());
    let clip = clip.or_else(|| common.and_then(|m| m.clip.as_ref()));
    let wanted = Wanted {
        clip: clip_plan(file, clip.map(String::as_str))?,
        sheet: make(|m| m.sheet),
        spread: make(|m| m.spread),
        page: make(|m| m.page),
    };
    Ok(Hitter {
        name: text.name.clone(),
        folder,
        bats: text.bats,
        height_cm: text.height_cm,
        bat_cm: text.bat_cm,
        good: reps_of(file, &text.good, warnings),
        watch: text.watch.clone(),
        days,
        wanted,
        labels: text.labels.clone(),
    })
}

/// A rep counts once, on the day it is given first; two days of one name would be made into one file.
fn given_twice(
    days: &mut [Day],
    hitter: &str,
    warnings: &mut Vec<Warning>,
) -> std::result::Result<(), String> {
    let mut names: Vec<String> = Vec::new();
    let mut seen: Vec<PathBuf> = Vec::new();
    for day in days {
        if names.contains(&day.name) {
            return Err(format!("two days are called “{}”; put their reps into one", day.name));
        }
        names.push(day.name.clone());
        day.reps.retain(|rep| {
            let again = seen.contains(&rep.open);
            if again {
                let text = format!("{hitter}: {}", words::given_twice(&rep.open));
                warnings.push(Warning::new("rep_given_twice", text));
            } else {
                seen.push(rep.open.clone());
            }
            !again
        });
    }
    Ok(())
}

fn clip_plan(file: &Path, word: Option<&str>) -> std::result::Result<Option<String>, String> {
    let known = Ready::ALL.map(Ready::word);
    match word {
        None => Ok(Wanted::default().clip),
        Some("none") => Ok(None),
        Some(word) if Ready::from_word(word).is_some() => Ok(Some(word.to_owned())),
        Some(word) => {
            let path = beside(file, Path::new(word));
            if path.is_file() {
                return Ok(Some(path.display().to_string()));
            }
            Err(match nearest(word, &known) {
                Some(near) => format!("there is no clip “{word}”; the nearest is “{near}”"),
                None => {
                    format!("there is no clip “{word}”: give {}, a plan's file, or none", known.join(", "))
                }
            })
        }
    }
}

fn check_text(text: &str) -> std::result::Result<(), String> {
    let letters = text.chars().count();
    if text.trim().is_empty() || letters > 60 || text.chars().any(char::is_control) {
        return Err("a name has 1 to 60 letters and no line break".to_owned());
    }
    Ok(())
}
