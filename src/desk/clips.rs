//! The list of clips as the page gets it.

use serde::Serialize;

use super::Shared;
use super::films::Film;
use crate::messages::desk as messages;
use crate::store::Rating;
use crate::types::{EventId, Reading, Result, Side, View};

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum State {
    Read,
    /// Read, but something that matters is open.
    Doubtful,
    /// Its turn comes.
    Waiting,
    Reading,
    NotRead,
}

/// One swing with what belongs to it takes some seconds: longer clips are recordings of practice, s of life.
const LONG_S: f64 = 15.0;

/// One clip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClipJson {
    pub id: String,
    /// The file's name.
    pub name: String,
    /// Where it lies below the desk's folder; empty: in the folder itself.
    pub folder: String,
    pub state: State,
    /// Why it is doubtful or not read.
    pub why: Option<String>,
    /// Changes with the film's content.
    pub content: String,
    /// Changes with the film and with what is kept beside it.
    pub stamp: String,
    /// When the file was changed last, ms from 1970.
    pub modified_ms: u64,
    pub rating: Option<Rating>,
    /// Events that a person set.
    pub pinned: Vec<EventId>,
    pub bats: Option<Side>,
    pub view: Option<View>,
    pub rate_hz: Option<f64>,
    pub frames: Option<usize>,
    /// It is so long that it may show many swings. A lesson finds those of its own long clips itself.
    pub long: bool,
    /// The picture at contact, else in the middle of what was found.
    pub picture: Option<usize>,
}

pub fn list(shared: &Shared) -> Result<Vec<ClipJson>> {
    Ok(shared.films.list()?.iter().map(|film| clip(shared, film)).collect())
}

pub fn clip(shared: &Shared, film: &Film) -> ClipJson {
    let kept = shared.films.kept(film);
    let reading = kept.rep.as_ref().and_then(|rep| rep.reading.as_ref());
    let failed = shared.reader.failed(film);
    let (state, why) = match (reading, failed) {
        _ if shared.reader.status().now.as_ref() == Some(&film.id) => (State::Reading, None),
        (_, Some(why)) => (State::NotRead, Some(why)),
        (Some(reading), None) => match doubt(reading) {
            Some(why) => (State::Doubtful, Some(why)),
            None => (State::Read, None),
        },
        (None, None) => (State::Waiting, None),
    };
    ClipJson {
        id: film.id.clone(),
        name: film.name.clone(),
        folder: film.folder.clone(),
        state,
        why,
        content: film.content_stamp.clone(),
        stamp: film.stamp.clone(),
        modified_ms: film.modified_ms,
        rating: kept.rep.as_ref().and_then(|rep| rep.rating),
        pinned: kept.rep.iter().flat_map(|rep| rep.pins.keys().copied()).collect(),
        bats: reading.map(|r| r.hitter.bats),
        view: reading.map(|r| r.hitter.view),
        rate_hz: reading.map(|r| r.clip.capture_rate_hz),
        frames: reading.map(|r| r.clip.frames),
        long: film.folder.is_empty()
            && reading.is_some_and(|r| r.clip.duration_s / r.clip.slow_factor.max(1e-3) > LONG_S),
        picture: reading.map(picture),
    }
}

fn picture(reading: &Reading) -> usize {
    let event = |id| reading.events.get(&id).map(|e| e.frame);
    event(EventId::Contact).or_else(|| event(EventId::Plant)).unwrap_or(reading.clip.frames / 2)
}

/// What is open about a reading, if anything that the comparison rests on is.
fn doubt(reading: &Reading) -> Option<String> {
    let tie = reading.warnings.iter().find(|w| w.code() == "explanations_tie").map(crate::messages::warning);
    let lacks = |event, text: &str| (!reading.events.contains_key(&event)).then(|| text.to_owned());
    tie.or_else(|| lacks(EventId::Contact, messages::NO_CONTACT))
        .or_else(|| lacks(EventId::Plant, messages::NO_PLANT))
}
