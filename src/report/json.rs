//! What `pair --json` prints. `read --json` is [`Reading`] itself without its track.

use serde::Serialize;

use crate::clip::Made;
use crate::ground::{
    Absent, ClipFacts, Difference, Events, Hitter, Measures, OneSided, Pairing, Reading, Registration,
    SyncOn, TimeMap, Warning,
};
use crate::media::Written;

#[derive(Debug, Clone, Serialize)]
pub struct PairJson<'a> {
    /// `swingpair.pairing/1`.
    pub schema: &'static str,
    pub today: SideJson<'a>,
    pub reference: SideJson<'a>,
    pub sync: SyncOn,
    pub time_map: &'a TimeMap,
    pub registration: Option<&'a Registration>,
    pub why_no_registration: Option<&'a str>,
    pub differences: &'a [Difference],
    pub one_sided: &'a [OneSided],
    pub written: &'a Written,
    pub warnings: Vec<&'a Warning>,
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
        differences: &pairing.differences,
        one_sided: &pairing.one_sided,
        written: &made.written,
        warnings: warnings.iter().chain(&made.warnings).collect(),
    }
}
