//! What `pair --json` prints. `read --json` is [`Reading`] itself without its track.

use serde::Serialize;

use crate::compose::Made;
use crate::media::Written;
use crate::types::{
    Absent, ClipFacts, Difference, Events, FilmedAlike, GoodReps, Hitter, Measures, OneSided, Pairing,
    Reading, Registration, SyncOn, TimeMap, Warning,
};

use super::text::said;

#[derive(Debug, Clone, Serialize)]
pub struct PairJson<'a> {
    /// `swingpair.pairing/1`.
    pub schema: &'static str,
    pub today: SideJson<'a>,
    /// The rep that is shown: with several, the one nearest their middle.
    pub reference: SideJson<'a>,
    pub sync: SyncOn,
    pub time_map: &'a TimeMap,
    pub registration: Option<&'a Registration>,
    pub why_no_registration: Option<&'a str>,
    pub differences: Vec<DifferenceJson<'a>>,
    pub one_sided: &'a [OneSided],
    /// Every reference given, in order, and which one is `reference`; null with one.
    pub good_reps: Option<&'a GoodReps>,
    /// How alike the two clips were filmed.
    pub filmed: &'a FilmedAlike,
    pub written: &'a Written,
    pub warnings: Vec<&'a Warning>,
}

/// A difference and its verdict in words.
#[derive(Debug, Clone, Serialize)]
pub struct DifferenceJson<'a> {
    #[serde(flatten)]
    pub difference: &'a Difference,
    /// "bigger than the usual rep-to-rep change", "within it", "can't tell at 30 fps".
    pub said: String,
}

#[derive(Debug, Clone, Serialize)]
pub struct SideJson<'a> {
    pub clip: &'a ClipFacts,
    pub hitter: &'a Hitter,
    pub events: &'a Events,
    pub measures: &'a Measures,
    pub absent: &'a Absent,
    pub warnings: &'a [Warning],
}

impl<'a> SideJson<'a> {
    fn of(reading: &'a Reading) -> Self {
        Self {
            clip: &reading.clip,
            hitter: &reading.hitter,
            events: &reading.events,
            measures: &reading.measures,
            absent: &reading.absent,
            warnings: &reading.warnings,
        }
    }
}

pub fn pair_json<'a>(
    today: &'a Reading,
    reference: &'a Reading,
    pairing: &'a Pairing,
    warnings: &'a [Warning],
    made: &'a Made,
) -> PairJson<'a> {
    PairJson {
        schema: "swingpair.pairing/1",
        today: SideJson::of(today),
        reference: SideJson::of(reference),
        sync: pairing.sync,
        time_map: &pairing.time_map,
        registration: pairing.registration.as_ref(),
        why_no_registration: pairing.why_no_registration.as_deref(),
        differences: pairing
            .differences
            .iter()
            .map(|difference| DifferenceJson {
                difference,
                said: said(difference, pairing, today, reference),
            })
            .collect(),
        one_sided: &pairing.one_sided,
        good_reps: pairing.good_reps.as_ref(),
        filmed: &pairing.filmed,
        written: &made.written,
        warnings: warnings.iter().chain(&made.warnings).collect(),
    }
}
