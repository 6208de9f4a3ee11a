//! The lesson of the folder: its hitters and days, with what was made of them.

use std::fs;
use std::path::{Path, PathBuf};

use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};
use serde::Serialize;

use super::Shared;
use crate::lesson::{Lesson, Make, Target, targets};
use crate::messages::desk as messages;
use crate::types::{Error, Result};

/// How a lesson's file in the folder is called.
const FILE: &str = "lesson.toml";
/// Where what was made is given.
pub const ADDRESS: &str = "/lesson/";
/// What a path in an address may not hold as it is (RFC 3986, 2.3).
const NOT_AS_IT_IS: AsciiSet =
    NON_ALPHANUMERIC.remove(b'-').remove(b'.').remove(b'_').remove(b'~').remove(b'/');

#[derive(Debug, Serialize)]
pub struct LessonJson {
    title: Option<String>,
    hitters: Vec<HitterJson>,
}

#[derive(Debug, Serialize)]
struct HitterJson {
    name: String,
    /// The address of the hitter's page, once it is made.
    page: Option<String>,
    days: Vec<DayJson>,
}

#[derive(Debug, Serialize)]
struct DayJson {
    name: String,
    reps: usize,
    /// What was made of this day: its name and address.
    made: Vec<MadeJson>,
}

#[derive(Debug, Serialize)]
struct MadeJson {
    name: &'static str,
    address: String,
}

fn lesson(shared: &Shared) -> Result<Option<Lesson>> {
    let path = shared.films.folder().join(FILE);
    if path.is_file() { Lesson::from_file(&path, &shared.limits).map(Some) } else { Ok(None) }
}

/// Whether it is there as a file of its own: a link may lead anywhere.
fn is_made(target: &Target) -> bool {
    fs::symlink_metadata(&target.output).is_ok_and(|facts| facts.is_file())
}

fn address(target: &Target) -> String {
    let name = target.name.replace(std::path::MAIN_SEPARATOR, "/");
    format!("{ADDRESS}{}", utf8_percent_encode(&name, &NOT_AS_IT_IS))
}

/// What a lesson of the folder tells; `None` where there is none.
pub fn lesson_json(shared: &Shared) -> Result<Option<LessonJson>> {
    let Some(lesson) = lesson(shared)? else { return Ok(None) };
    let made: Vec<Target> = targets(&lesson).into_iter().filter(is_made).collect();
    let hitters = lesson.hitters.iter().enumerate().map(|(h, hitter)| {
        let of = |wanted: Make| made.iter().find(|t| t.make == wanted).map(address);
        let last = hitter.last_day().map(|(d, _)| d);
        let days = hitter.days.iter().enumerate().map(|(d, day)| {
            let own = [
                (messages::MADE_SPREAD, of(Make::Spread { hitter: h, day: d })),
                (messages::MADE_VIDEO, of(Make::Clip { hitter: h }).filter(|_| last == Some(d))),
                (messages::MADE_SHEET, of(Make::Sheet { hitter: h }).filter(|_| last == Some(d))),
            ];
            let made = own.into_iter().filter_map(|(name, a)| Some(MadeJson { name, address: a? }));
            DayJson { name: day.name.clone(), reps: day.reps.len(), made: made.collect() }
        });
        HitterJson { name: hitter.name.clone(), page: of(Make::Page { hitter: h }), days: days.collect() }
    });
    Ok(Some(LessonJson { title: lesson.title.clone(), hitters: hitters.collect() }))
}

/// The file that a name below [`ADDRESS`] stands for: one that the lesson makes, and no other.
pub fn made_file(shared: &Shared, name: &str) -> Result<PathBuf> {
    let gone = || Error::Usage(messages::NOTHING_HERE.to_owned());
    let lesson = lesson(shared)?.ok_or_else(gone)?;
    let is_output = |t: &Target| {
        matches!(t.make, Make::Spread { .. } | Make::Clip { .. } | Make::Sheet { .. } | Make::Page { .. })
    };
    let same = |t: &Target| Path::new(&t.name) == Path::new(name);
    let target = targets(&lesson).into_iter().find(|t| is_output(t) && same(t) && is_made(t));
    target.map(|t| t.output).ok_or_else(gone)
}
