//! The reps of a long film as a table for a terminal.

use serde::Serialize;

use super::worded;
use crate::messages::{self, WordedWarning};
use crate::types::{FoundRep, FoundReps, Measures, Side, View};

/// What `reps --json` prints: [`FoundReps`] in words.
#[derive(Debug, Clone, Serialize)]
pub struct FoundRepsJson<'a> {
    pub(crate) schema: &'a str,
    pub(crate) key: &'a str,
    pub(crate) films: &'a [String],
    pub(crate) finished: bool,
    /// Of the long clip, real s.
    pub duration_s: f64,
    /// In the order of time.
    pub reps: Vec<FoundRepJson<'a>>,
    pub(crate) dropped_s: &'a [f64],
    /// Each as code and sentence.
    pub warnings: Vec<WordedWarning>,
}

#[derive(Debug, Clone, Serialize)]
pub struct FoundRepJson<'a> {
    pub clip: Option<&'a str>,
    pub from_s: f64,
    pub to_s: f64,
    pub lossless: bool,
    pub contact_s: Option<f64>,
    pub contact_plus_minus_s: Option<f64>,
    pub met: bool,
    pub bats: Side,
    pub view: View,
    pub hitter_at: [f64; 2],
    pub hands: f64,
    pub measures: &'a Measures,
    pub warnings: Vec<WordedWarning>,
}

/// The reps of a long clip, as `reps --json` prints them.
pub fn found_json(found: &FoundReps) -> FoundRepsJson<'_> {
    FoundRepsJson {
        schema: &found.schema,
        key: &found.key,
        films: &found.films,
        finished: found.finished,
        duration_s: found.duration_s,
        reps: found.reps.iter().map(rep_json).collect(),
        dropped_s: &found.dropped_s,
        warnings: worded::warnings(&found.warnings),
    }
}

fn rep_json(rep: &FoundRep) -> FoundRepJson<'_> {
    FoundRepJson {
        clip: rep.clip.as_deref(),
        from_s: rep.from_s,
        to_s: rep.to_s,
        lossless: rep.lossless,
        contact_s: rep.contact_s,
        contact_plus_minus_s: rep.contact_plus_minus_s,
        met: rep.met,
        bats: rep.bats,
        view: rep.view,
        hitter_at: rep.hitter_at,
        hands: rep.hands,
        measures: &rep.measures,
        warnings: worded::warnings(&rep.warnings),
    }
}

/// The same in words.
pub fn found_text(found: &FoundReps) -> String {
    let mut lines = vec![messages::session::reported(found.reps.len(), found.duration_s)];
    for (i, rep) in found.reps.iter().enumerate() {
        let (side, view) = (messages::side(rep.bats), messages::view_short(rep.view));
        let contact = messages::session::contact(rep.contact_s, rep.contact_plus_minus_s);
        let met = if rep.met { messages::session::MET } else { messages::session::NOT_MET };
        let clip = rep.clip.as_deref().unwrap_or_default();
        lines.push(format!("  {:>3}  {contact:<22} bats {side:<5}  {view:<14} {met:<22} {clip}", i + 1));
    }
    if !found.dropped_s.is_empty() {
        lines.push(messages::session::dropped(&found.dropped_s));
    }
    lines.join("\n")
}
