//! What was set at the desk, so that it can be undone and done again. What counts is what is kept beside the clip.

use std::sync::Mutex;

use serde::Serialize;

use super::films::Film;
use crate::media::OpenOptions;
use crate::messages::desk as messages;
use crate::reading;
use crate::store::{self, Sidecar};
use crate::types::{BodyPoint, Error, EventId, KnownLength, Limits, Point, Result, Side};

/// So many steps are remembered.
const MOST: usize = 200;

/// One thing that a person can set of a clip, with its value; `None`: as found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Item {
    /// Real s.
    Pin(EventId, Option<f64>),
    /// At a time, real s.
    Point(BodyPoint, f64, Option<Point>),
    Bats(Option<Side>),
    /// cm.
    Height(Option<f64>),
    Length(Option<KnownLength>),
    Hitter(Option<Point>),
}

impl Item {
    /// The same thing as it is kept now.
    fn as_kept(self, kept: &Sidecar) -> Self {
        let by_hand = &kept.by_hand;
        match self {
            Self::Pin(event, _) => Self::Pin(event, kept.pins.get(&event).copied()),
            Self::Point(point, time_s, _) => {
                let kept = by_hand.points.iter().find(|p| p.point == point && p.is_at(time_s));
                Self::Point(point, time_s, kept.map(|p| p.at))
            }
            Self::Bats(_) => Self::Bats(kept.hitter.bats),
            Self::Height(_) => Self::Height(by_hand.height_cm),
            Self::Length(_) => Self::Length(by_hand.known_length),
            Self::Hitter(_) => Self::Hitter(by_hand.hitter_at),
        }
    }

    /// All that a person set, each thing as it was found.
    fn all_found(kept: &Sidecar) -> Vec<Self> {
        let by_hand = &kept.by_hand;
        let pins = kept.pins.keys().map(|event| Self::Pin(*event, None));
        let points = by_hand.points.iter().map(|p| Self::Point(p.point, p.time_s, None));
        let rest = [Self::Bats(None), Self::Height(None), Self::Length(None), Self::Hitter(None)];
        pins.chain(points).chain(rest).collect()
    }
}

/// What is set of one clip, before and now.
#[derive(Debug, Clone, PartialEq)]
struct OfClip {
    clip: String,
    items: Vec<(Item, Item)>,
}

impl OfClip {
    /// `None` where nothing would change.
    fn new(film: &Film, wanted: Vec<Item>) -> Result<Option<Self>> {
        let kept = store::load(&film.path)?;
        let items = wanted.into_iter().map(|item| (item.as_kept(&kept), item));
        let items: Vec<_> = items.filter(|(before, now)| before != now).collect();
        Ok((!items.is_empty()).then(|| Self { clip: film.id.clone(), items }))
    }

    /// Keep it beside the film.
    fn apply(&self, film: &Film, back: bool, limits: Limits) -> Result<()> {
        let options = OpenOptions { recorded_at_hz: None, limits };
        let (mut pins, mut points) = (Vec::new(), Vec::new());
        for (before, now) in &self.items {
            match if back { before } else { now } {
                Item::Pin(event, at_s) => pins.push((*event, *at_s)),
                Item::Point(point, time_s, at) => points.push((*point, *time_s, *at)),
                Item::Bats(side) => drop(reading::set_bats(&film.path, *side, &options)?),
                Item::Height(cm) => drop(reading::set_height(&film.path, *cm, &options)?),
                Item::Length(known) => drop(reading::set_known_length(&film.path, *known, &options)?),
                Item::Hitter(at) => drop(reading::set_hitter(&film.path, *at, &options)?),
            }
        }
        // Together: one after another they could be out of order on the way.
        if !pins.is_empty() {
            reading::pin(&film.path, &pins, &options)?;
        }
        if !points.is_empty() {
            reading::set_points(&film.path, &points, &options)?;
        }
        Ok(())
    }
}

/// One thing that a person did; of several clips where it is about the hitter of all.
#[derive(Debug, Clone, PartialEq)]
struct Change(Vec<OfClip>);

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

    /// Set something of these films, as one step.
    pub fn set(&self, films: &[&Film], items: &[Item], limits: Limits) -> Result<()> {
        let mut change = Vec::new();
        for film in films {
            if let Some(of_clip) = OfClip::new(film, items.to_vec())? {
                of_clip.apply(film, false, limits)?;
                change.push(of_clip);
            }
        }
        if change.is_empty() { Ok(()) } else { self.keep(Change(change)) }
    }

    /// Take back all that a person set of the film.
    pub fn as_found(&self, film: &Film, limits: Limits) -> Result<()> {
        self.set(&[film], &Item::all_found(&store::load(&film.path)?), limits)
    }

    /// One step back, or forward again; gives the clips that changed. A step that fails stays where it was.
    pub fn step(&self, back: bool, find: impl Fn(&str) -> Result<Film>, limits: Limits) -> Result<Vec<Film>> {
        let mut steps = self.0.lock().map_err(|_| Error::WorkerLost)?;
        let from = if back { &steps.done } else { &steps.undone };
        let none = if back { messages::NOTHING_TO_UNDO } else { messages::NOTHING_TO_REDO };
        let change = from.last().cloned().ok_or_else(|| Error::Usage(none.to_owned()))?;
        let films: Vec<Film> = change.0.iter().map(|of| find(&of.clip)).collect::<Result<_>>()?;
        for (of_clip, film) in change.0.iter().zip(&films) {
            of_clip.apply(film, back, limits)?;
        }
        let Steps { done, undone } = &mut *steps;
        let (from, to) = if back { (done, undone) } else { (undone, done) };
        to.extend(from.pop());
        Ok(films)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::SetPoint;

    #[test]
    fn what_is_set_is_compared_with_what_is_kept() {
        let mut kept = Sidecar { pins: [(EventId::Plant, 1.2)].into(), ..Sidecar::default() };
        let at = Point::new(3.0, 4.0);
        kept.by_hand.points.push(SetPoint { point: BodyPoint::Head, time_s: 1.0, at });
        assert_eq!(Item::Pin(EventId::Plant, None).as_kept(&kept), Item::Pin(EventId::Plant, Some(1.2)));
        let head = |time_s, at| Item::Point(BodyPoint::Head, time_s, at);
        assert_eq!(head(1.0, None).as_kept(&kept), head(1.0, Some(at)));
        assert_eq!(head(1.1, Some(at)).as_kept(&kept), head(1.1, None));
        assert_eq!(Item::Height(Some(170.0)).as_kept(&kept), Item::Height(None));
        let found = Item::all_found(&kept);
        assert!(found.contains(&head(1.0, None)) && found.contains(&Item::Pin(EventId::Plant, None)));
    }

    #[test]
    fn a_step_that_fails_stays() {
        let items = vec![(Item::Bats(None), Item::Bats(Some(Side::Left)))];
        let history = History::default();
        history.keep(Change(vec![OfClip { clip: "a".into(), items }])).unwrap();
        assert_eq!(history.depth(), Depth { undo: 1, redo: 0 });
        let gone = |_: &str| Err(Error::Usage("gone".into()));
        assert!(history.step(true, gone, Limits::default()).is_err());
        assert_eq!(history.depth(), Depth { undo: 1, redo: 0 }, "a step that failed stays");
        assert!(history.step(false, gone, Limits::default()).is_err());
    }
}
