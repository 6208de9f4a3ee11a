//! The lesson of the folder: its hitters and days, with what was made of them.

use std::fs;
use std::path::{Path, PathBuf};

use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};
use serde::Serialize;

use super::Shared;
use crate::lesson::{Make, Rep, Target, targets};
use crate::messages::desk as messages;
use crate::types::{Error, Result};

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
    /// Ids of the clips to compare with, where the lesson names them.
    good: Vec<String>,
    days: Vec<DayJson>,
}

#[derive(Debug, Serialize)]
struct DayJson {
    name: String,
    reps: usize,
    /// Ids of the day's clips that lie inside the folder.
    clips: Vec<String>,
    /// What was made of this day: its name and address.
    made: Vec<MadeJson>,
}

#[derive(Debug, Serialize)]
struct MadeJson {
    name: &'static str,
    address: String,
}

fn ids(shared: &Shared, reps: &[Rep]) -> Vec<String> {
    let clips = reps.iter().flat_map(|rep| std::iter::once(&rep.side).chain(&rep.behind));
    clips.filter_map(|path| shared.films.film(path)).map(|film| film.id).collect()
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
    let Some(lesson) = shared.films.lesson()? else { return Ok(None) };
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
            let clips = ids(shared, &day.reps);
            DayJson { name: day.name.clone(), reps: day.reps.len(), clips, made: made.collect() }
        });
        let (page, good) = (of(Make::Page { hitter: h }), ids(shared, &hitter.good));
        HitterJson { name: hitter.name.clone(), page, good, days: days.collect() }
    });
    Ok(Some(LessonJson { title: lesson.title.clone(), hitters: hitters.collect() }))
}

/// The file that a name below [`ADDRESS`] stands for: one that the lesson makes, and no other.
pub fn made_file(shared: &Shared, name: &str) -> Result<PathBuf> {
    let gone = || Error::Usage(messages::NOTHING_HERE.to_owned());
    let lesson = shared.films.lesson()?.ok_or_else(gone)?;
    let is_output = |t: &Target| {
        matches!(t.make, Make::Spread { .. } | Make::Clip { .. } | Make::Sheet { .. } | Make::Page { .. })
    };
    let same = |t: &Target| Path::new(&t.name) == Path::new(name);
    let target = targets(&lesson).into_iter().find(|t| is_output(t) && same(t) && is_made(t));
    target.map(|t| t.output).ok_or_else(gone)
}
