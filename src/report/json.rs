//! What `read --json` and `pair --json` print.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::compose::Made;
use crate::media::Written;
use crate::messages::{self, WordedWarning};
use crate::types::{
    ClipFacts, Delivery, Difference, Events, FilmedAlike, Hitter, MeasureId, Measures, OneSided, Pairing,
    Reading, Registration, Scale, SyncOn, TimeMap, Warning,
};

use super::text::said;
use super::worded::{self, RepJson};

/// A reading without the hitter's points.
#[derive(Debug, Clone, Serialize)]
pub struct ReadingJson<'a> {
    /// [`Reading::SCHEMA`].
    pub schema: &'a str,
    /// The file it was read from.
    pub clip: &'a ClipFacts,
    /// Side, view and where the pitcher is.
    pub hitter: &'a Hitter,
    /// px to body heights and cm.
    pub scale: &'a Scale,
    /// Real s, each with its ±.
    pub events: &'a Events,
    /// Each with unit and ±.
    pub measures: &'a Measures,
    /// Why each is missing.
    pub absent: BTreeMap<MeasureId, String>,
    /// Each as code and sentence.
    pub warnings: Vec<WordedWarning>,
    /// How the ball came, if it was said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ball: Option<Delivery>,
}

/// One reading, as `read --json` prints it; docs/formats.md tells every field.
pub fn reading_json(reading: &Reading) -> ReadingJson<'_> {
    ReadingJson {
        schema: &reading.schema,
        clip: &reading.clip,
        hitter: &reading.hitter,
        scale: &reading.scale,
        events: &reading.events,
        measures: &reading.measures,
        absent: worded::absent(&reading.absent),
        warnings: worded::warnings(&reading.warnings),
        ball: reading.ball,
    }
}

/// A pairing as programs read it.
#[derive(Debug, Clone, Serialize)]
pub struct PairJson<'a> {
    /// `swingpair.pairing/1`.
    pub schema: &'static str,
    pub(crate) today: SideJson<'a>,
    /// The rep that is shown: with several, the one nearest their middle.
    pub reference: SideJson<'a>,
    pub(crate) sync: SyncOn,
    pub(crate) time_map: &'a TimeMap,
    pub(crate) registration: Option<&'a Registration>,
    pub(crate) why_no_registration: Option<String>,
    pub(crate) differences: Vec<DifferenceJson<'a>>,
    pub(crate) one_sided: &'a [OneSided],
    /// Every reference given, in order, and which one is `reference`; null with one.
    pub good_reps: Option<GoodRepsJson>,
    /// How alike the two clips were filmed.
    pub filmed: &'a FilmedAlike,
    pub(crate) written: &'a Written,
    /// Each as code and sentence.
    pub warnings: Vec<WordedWarning>,
}

/// The references, where several were given.
#[derive(Debug, Clone, Serialize)]
pub struct GoodRepsJson {
    /// Those that count.
    pub reps: Vec<RepJson>,
    pub(crate) shown: usize,
    pub(crate) counted: usize,
}

/// A difference and its verdict in words.
#[derive(Debug, Clone, Serialize)]
pub struct DifferenceJson<'a> {
    #[serde(flatten)]
    pub(crate) difference: &'a Difference,
    /// "bigger than the usual rep-to-rep change", "within it", "can't tell at 30 fps".
    pub said: String,
}

/// One of the two swings.
#[derive(Debug, Clone, Serialize)]
pub struct SideJson<'a> {
    /// The file it was read from.
    pub clip: &'a ClipFacts,
    /// Side, view and where the pitcher is.
    pub hitter: &'a Hitter,
    /// Real s, each with its ±.
    pub events: &'a Events,
    /// Each with unit and ±.
    pub measures: &'a Measures,
    /// Why each is missing.
    pub absent: BTreeMap<MeasureId, String>,
    /// Each as code and sentence.
    pub warnings: Vec<WordedWarning>,
}

impl<'a> SideJson<'a> {
    fn of(reading: &'a Reading) -> Self {
        Self {
            clip: &reading.clip,
            hitter: &reading.hitter,
            events: &reading.events,
            measures: &reading.measures,
            absent: worded::absent(&reading.absent),
            warnings: worded::warnings(&reading.warnings),
        }
    }
}

/// A pairing, as `pair --json` prints it; docs/formats.md tells every field.
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
        why_no_registration: pairing.why_no_registration.map(messages::not_aligned),
        differences: pairing
            .differences
            .iter()
            .map(|difference| DifferenceJson {
                difference,
                said: said(difference, pairing, today, reference),
            })
            .collect(),
        one_sided: &pairing.one_sided,
        good_reps: pairing.good_reps.as_ref().map(|g| GoodRepsJson {
            reps: g.reps.iter().map(RepJson::from).collect(),
            shown: g.shown,
            counted: g.counted,
        }),
        filmed: &pairing.filmed,
        written: &made.written,
        warnings: worded::warnings(warnings.iter().chain(&made.warnings)),
    }
}
