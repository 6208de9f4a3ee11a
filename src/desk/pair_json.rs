//! A pair as the page gets it: both readings, the time map, and what changed, in words that are ready to be shown.

use serde::Serialize;

use super::pairs::{PairData, Side};
use crate::messages::{self, Captions};
use crate::report::event_of;
use crate::types::{Difference, EventId, Hitter, Knot, MeasureId, Source, SyncOn, Verdict};

#[derive(Debug, Serialize)]
pub struct PairJson {
    pub version: String,
    pub sync: SyncOn,
    /// The event shown as time 0.
    pub zero: EventId,
    pub knots: Vec<Knot>,
    /// Today's, then the reference that is shown.
    pub sides: [SideJson; 2],
    /// Good reps beside the one that is shown: how many, and how many of them count.
    pub good_reps: Option<[usize; 2]>,
    /// The reference is shown as its mirror image; whether it could be.
    pub mirrored: bool,
    pub can_mirror: bool,
    /// Why the reference cannot be laid over today's; `None` when it can.
    pub no_ghost: Option<String>,
    pub findings: FindingsJson,
}

#[derive(Debug, Serialize)]
pub struct SideJson {
    pub id: String,
    pub name: String,
    pub label: String,
    pub hitter: Hitter,
    /// A person set something of it.
    pub set: bool,
    pub rate_hz: f64,
    pub width: usize,
    pub height: usize,
    /// Real time of each picture, s.
    pub times_s: Vec<f64>,
    /// In time order.
    pub events: Vec<EventJson>,
    /// Events that were not found.
    pub missing: Vec<EventNameJson>,
    pub warnings: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct EventNameJson {
    pub event: EventId,
    pub name: &'static str,
}

#[derive(Debug, Serialize)]
pub struct EventJson {
    pub event: EventId,
    pub name: &'static str,
    /// In one or two short words.
    pub short: &'static str,
    pub time_s: f64,
    pub plus_minus_s: f64,
    pub picture: usize,
    pub source: Source,
}

/// What the comparison tells.
#[derive(Debug, Serialize)]
pub struct FindingsJson {
    /// One sentence.
    pub headline: String,
    /// What is bigger than the usual rep-to-rep change, the clearest first.
    pub changed: Vec<DifferenceJson>,
    pub stayed: Vec<DifferenceJson>,
    pub open: Vec<DifferenceJson>,
    /// What would settle what is open.
    pub settle: Option<String>,
    pub filmed: Option<String>,
    pub warnings: Vec<String>,
}

#[derive(Debug, Serialize)]
pub struct DifferenceJson {
    pub measure: MeasureId,
    pub name: &'static str,
    pub today: String,
    pub reference: String,
    pub difference: String,
    pub verdict: String,
    /// The event it is read at.
    pub event: EventId,
}

pub fn pair_json(data: &PairData) -> PairJson {
    let pairing = &data.pairing;
    let counted = pairing.good_reps.as_ref().map(|good| [good.reps.len(), good.counted]);
    let none = || messages::output::NO_REGISTRATION.to_owned();
    PairJson {
        version: data.version.clone(),
        sync: pairing.sync,
        zero: pairing.time_map.zero,
        knots: pairing.time_map.knots.clone(),
        sides: [side(&data.today, &data.labels[0]), side(&data.filmed, &data.labels[1])],
        mirrored: data.mirrored,
        can_mirror: data.can_mirror,
        good_reps: counted,
        no_ghost: match &pairing.registration {
            Some(_) => None,
            None => Some(pairing.why_no_registration.map_or_else(none, messages::not_aligned)),
        },
        findings: findings(data),
    }
}

fn side(side: &Side, label: &str) -> SideJson {
    let (reading, clip) = (&side.reading, &side.clip);
    let facts = clip.facts();
    let name = |event: EventId| EventNameJson { event, name: messages::event(event) };
    let mut events: Vec<EventJson> = reading
        .events
        .iter()
        .map(|(&event, e)| EventJson {
            event,
            name: messages::event(event),
            short: messages::event_short(event),
            time_s: e.time_s,
            plus_minus_s: e.plus_minus_s,
            picture: clip.frame_at_real(e.time_s),
            source: e.source,
        })
        .collect();
    events.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
    SideJson {
        id: side.film.id.clone(),
        name: side.film.name.clone(),
        label: label.to_owned(),
        hitter: reading.hitter,
        set: side.set,
        rate_hz: facts.capture_rate_hz,
        width: facts.width,
        height: facts.height,
        times_s: (0..facts.frames).map(|i| clip.real_s(i)).collect(),
        events,
        missing: EventId::ALL.into_iter().filter(|e| !reading.events.contains_key(e)).map(name).collect(),
        warnings: reading.warnings.iter().map(messages::warning).collect(),
    }
}

fn findings(data: &PairData) -> FindingsJson {
    let pairing = &data.pairing;
    let ranged = pairing.good_reps.as_ref().is_some_and(|good| good.counted > 0);
    let rates = [&data.today, &data.reference].map(|side| side.clip.facts().capture_rate_hz);
    let rate_hz = if ranged { rates[0] } else { rates[0].min(rates[1]) };
    let of = |verdict: Verdict| {
        let mut all: Vec<&Difference> = pairing.differences.iter().filter(|d| d.verdict == verdict).collect();
        all.sort_by(|a, b| b.clearness().total_cmp(&a.clearness()));
        all.into_iter().map(|d| difference(data.words, d, rate_hz)).collect::<Vec<_>>()
    };
    let mut warnings: Vec<String> = data.warnings.iter().map(messages::warning).collect();
    let in_cm = [&data.today, &data.reference].map(|side| side.reading.scale.px_per_cm.is_some());
    if in_cm[0] != in_cm[1] {
        warnings.push(messages::desk::ONE_SCALE.to_owned());
    }
    FindingsJson {
        headline: messages::changed::changed_most(data.words, &pairing.differences, ranged),
        changed: of(Verdict::Bigger),
        stayed: of(Verdict::Within),
        open: of(Verdict::CantTell),
        settle: data.words.rest(&pairing.differences),
        filmed: messages::settle::filmed(&pairing.filmed),
        warnings,
    }
}

fn difference(words: &'static Captions, d: &Difference, rate_hz: f64) -> DifferenceJson {
    DifferenceJson {
        measure: d.measure,
        name: words.measure(d.measure),
        today: words.value(d.measure, &d.today),
        reference: words.range(d).unwrap_or_else(|| words.value(d.measure, &d.reference)),
        difference: words.difference(d),
        verdict: messages::verdict(d, rate_hz),
        event: event_of(d.measure),
    }
}
