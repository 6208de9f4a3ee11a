//! What was set at the desk, so that it can be undone and done again. What counts is what is kept beside the clip.

use std::sync::Mutex;

use serde::Serialize;

use super::films::Film;
use crate::media::OpenOptions;
use crate::messages::desk as messages;
use crate::reading;
use crate::store;
use crate::types::{Error, EventId, Limits, Result, Side};

/// So many steps are remembered.
const MOST: usize = 200;

/// One event of a clip: pinned where before, pinned where now, real s. `None`: as found.
type Pinned = (EventId, Option<f64>, Option<f64>);

/// One thing that a person set.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    pub clip: String,
    pub pins: Vec<Pinned>,
    /// The hitter's side, where that was set: before and now.
    pub bats: Option<(Option<Side>, Option<Side>)>,
}

impl Change {
    fn turned(&self) -> Self {
        Self {
            clip: self.clip.clone(),
            pins: self.pins.iter().map(|(event, before, now)| (*event, *now, *before)).collect(),
            bats: self.bats.map(|(before, now)| (now, before)),
        }
    }

    /// Keep it beside the film.
    fn apply(&self, film: &Film, limits: Limits) -> Result<()> {
        let options = OpenOptions { recorded_at_hz: None, limits };
        let pins: Vec<_> = self.pins.iter().map(|(event, _, now)| (*event, *now)).collect();
        if !pins.is_empty() {
            reading::pin(&film.path, &pins, &options)?;
        }
        if let Some((_, now)) = self.bats {
            reading::set_bats(&film.path, now, &options)?;
        }
        Ok(())
    }
}

#[derive(Default)]
struct Steps {
    done: Vec<Change>,
    undone: Vec<Change>,
}

/// How many steps back and forward there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Depth {
    pub undo: usize,
    pub redo: usize,
}

#[derive(Default)]
pub struct History(Mutex<Steps>);

/// What is set of a clip now, as its sidecar tells.
fn set_now(film: &Film) -> Result<(std::collections::BTreeMap<EventId, f64>, Option<Side>)> {
    let sidecar = store::load(&film.path)?;
    Ok((sidecar.pins, sidecar.hitter.bats))
}

impl History {
    pub fn depth(&self) -> Depth {
        self.0
            .lock()
            .map_or(Depth { undo: 0, redo: 0 }, |s| Depth { undo: s.done.len(), redo: s.undone.len() })
    }

    fn keep(&self, change: Change) -> Result<()> {
        let mut steps = self.0.lock().map_err(|_| Error::WorkerLost)?;
        steps.undone.clear();
        steps.done.push(change);
        if steps.done.len() > MOST {
            steps.done.remove(0);
        }
        Ok(())
    }

    fn make(&self, film: &Film, change: Change, limits: Limits) -> Result<()> {
        if change.pins.iter().all(|(_, before, now)| before == now) && change.bats.is_none_or(|(b, n)| b == n)
        {
            return Ok(());
        }
        change.apply(film, limits)?;
        self.keep(change)
    }

    /// Pin an event at a real time, s; `None` takes the pin back.
    pub fn pin(&self, film: &Film, event: EventId, at_s: Option<f64>, limits: Limits) -> Result<()> {
        let (pins, _) = set_now(film)?;
        let pins = vec![(event, pins.get(&event).copied(), at_s)];
        self.make(film, Change { clip: film.id.clone(), pins, bats: None }, limits)
    }

    pub fn bats(&self, film: &Film, bats: Option<Side>, limits: Limits) -> Result<()> {
        let (_, before) = set_now(film)?;
        let change = Change { clip: film.id.clone(), pins: Vec::new(), bats: Some((before, bats)) };
        self.make(film, change, limits)
    }

    /// Take back all that a person set of the clip's swing.
    pub fn as_found(&self, film: &Film, limits: Limits) -> Result<()> {
        let (pins, bats) = set_now(film)?;
        let pins = pins.into_iter().map(|(event, at_s)| (event, Some(at_s), None)).collect();
        self.make(film, Change { clip: film.id.clone(), pins, bats: bats.map(|b| (Some(b), None)) }, limits)
    }

    /// One step back, or forward again; gives the clip that changed. A step that fails stays where it was.
    pub fn step(&self, back: bool, find: impl Fn(&str) -> Result<Film>, limits: Limits) -> Result<Film> {
        let mut steps = self.0.lock().map_err(|_| Error::WorkerLost)?;
        let from = if back { &steps.done } else { &steps.undone };
        let none = if back { messages::NOTHING_TO_UNDO } else { messages::NOTHING_TO_REDO };
        let change = from.last().cloned().ok_or_else(|| Error::Usage(none.to_owned()))?;
        let film = find(&change.clip)?;
        if back {
            change.turned().apply(&film, limits)?;
        } else {
            change.apply(&film, limits)?;
        }
        let Steps { done, undone } = &mut *steps;
        let (from, to) = if back { (done, undone) } else { (undone, done) };
        to.extend(from.pop());
        Ok(film)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_turned_twice_is_itself() {
        let change = Change {
            clip: "a".into(),
            pins: vec![(EventId::Plant, None, Some(1.2)), (EventId::Contact, Some(1.4), None)],
            bats: Some((None, Some(Side::Left))),
        };
        assert_eq!(change.turned().turned(), change);
        assert_eq!(change.turned().pins[0], (EventId::Plant, Some(1.2), None));
        let history = History::default();
        history.keep(change.clone()).unwrap();
        assert_eq!(history.depth(), Depth { undo: 1, redo: 0 });
        let gone = |_: &str| Err(Error::Usage("gone".into()));
        assert!(history.step(true, gone, Limits::default()).is_err());
        assert_eq!(history.depth(), Depth { undo: 1, redo: 0 }, "a step that failed stays");
        assert!(history.step(false, gone, Limits::default()).is_err());
    }
}
