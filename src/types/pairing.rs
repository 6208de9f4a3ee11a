use std::path::PathBuf;

use serde::{Deserialize, Serialize};

use super::{EventId, FilmedAlike, LeftOut, Measure, MeasureId, NotAligned, Similarity};

/// What two swings are lined up on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SyncOn {
    /// One event; both run at their own true speed.
    Event(EventId),
    /// Every shared event; the reference is stretched between them.
    Phases,
}

/// A moment that is the same in both swings, real seconds in each clip.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Knot {
    /// Which event.
    pub event: EventId,
    /// On today's clock, real s.
    pub today_s: f64,
    /// On the reference's clock, real s.
    pub reference_s: f64,
}

/// From today's real time to the reference's: linear between knots, slope 1 outside them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TimeMap {
    /// The event shown as time 0.
    pub zero: EventId,
    /// At least one, rising in both times.
    pub knots: Vec<Knot>,
}

/// Places the reference's body over today's.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Registration {
    /// Reference px → today px.
    pub reference_to_today: Similarity,
    /// Root-mean-square distance of the stable points after it, today's px.
    pub residual_px: f64,
    /// The same as a share of today's standing height.
    pub residual_body_heights: f64,
    /// How many point pairs it rests on.
    pub points: usize,
}

/// How a difference compares with what one hitter's reps differ by anyway (the usual rep-to-rep change).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Larger than [`Difference::needed`]: 95 of 100 unchanged swings differ by less.
    Bigger,
    /// Such a difference comes about between any two reps.
    Within,
    /// Neither can be said; [`Difference::limit`] tells why.
    CantTell,
}

/// What stands in the way of a verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// The time between two pictures makes up most of the error.
    FrameRate,
    /// The error of measuring is larger than the change that is looked for.
    Measuring,
    /// Too few of the good reps give this measure.
    FewReps,
}

/// What would most likely bring a verdict where there is none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Settle {
    /// More pictures a second.
    HigherRate,
    /// The camera left where it is for both.
    FilmAlike,
    /// Two more reps of each.
    MoreReps,
    /// A person's look at the events: the two readings lie further apart than reps do.
    CheckEvents,
}

/// Where the usual rep-to-rep deviation comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UsualFrom {
    /// Computed from measured swings of other hitters.
    Measured,
    /// An estimate of ours: nothing was found.
    Estimated,
    /// This hitter's own good reps, drawn toward one of the two.
    OwnReps,
}

/// One measure over the good reps.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// How many reps give it.
    pub reps: usize,
    /// Smallest and largest of them.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// Within-hitter standard deviation (typical error, n − 1 in the denominator). The error of measuring is
    /// part of it. `None` from one rep.
    pub sd: Option<f64>,
}

/// One measure in both swings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Difference {
    /// Which measure.
    pub measure: MeasureId,
    /// Today's.
    pub today: Measure,
    /// The reference rep's value; with several good reps their mean and its 95 % error.
    pub reference: Measure,
    /// today − reference, in their unit.
    pub difference: f64,
    /// 95 % error of the difference, without what the two readings share.
    pub plus_minus: f64,
    /// The standard deviation between reps of one hitter that was taken, in their unit, and where it is from.
    pub usual_sd: f64,
    /// Where `usual_sd` is from.
    pub usual_from: UsualFrom,
    /// A difference beyond this is bigger than the usual rep-to-rep change (95 %), in their unit. `None` where
    /// too few reps give the measure.
    pub needed: Option<f64>,
    /// What the difference means.
    pub verdict: Verdict,
    /// With [`Verdict::CantTell`]: why.
    pub limit: Option<Limit>,
    /// With [`Verdict::CantTell`]: what would help.
    pub settle: Option<Settle>,
    /// With several good reps: their range.
    pub spread: Option<Spread>,
}

impl Difference {
    /// How many times the needed difference it is, or its own error where none is known: the larger the clearer.
    pub fn clearness(&self) -> f64 {
        self.difference.abs() / self.needed.unwrap_or(self.plus_minus).max(1e-9)
    }
}

/// Which of the two clips.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Which {
    /// Today's.
    Today,
    /// The reference's.
    Reference,
}

/// A measure that only one of the two clips gives: with two angles of one swing, the angle that sees it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OneSided {
    /// Which measure.
    pub measure: MeasureId,
    /// The one that has it.
    pub clip: Which,
    /// What it is there.
    pub value: Measure,
}

/// One of several reference reps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct GoodRep {
    /// Its file.
    #[serde(serialize_with = "super::name_alone")]
    pub clip: PathBuf,
    /// Why its measures are not in the range; `None` when they are.
    pub left_out: Option<LeftOut>,
    /// How far it lies from the middle of the good reps: the mean over its measures, each in standard
    /// deviations. `None` when it is left out.
    pub from_middle: Option<f64>,
}

/// The references, where several were given.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct GoodReps {
    /// In the order given.
    pub reps: Vec<GoodRep>,
    /// Place in `reps` of the one that is shown and lined up: the nearest to their middle.
    pub shown: usize,
    /// How many are in the range.
    pub counted: usize,
}

/// Two readings lined up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pairing {
    /// What was asked to line up on.
    pub sync: SyncOn,
    /// Which moments belong together.
    pub time_map: TimeMap,
    /// `None` when the two are seen from different sides; then `why_no_registration` says so.
    pub registration: Option<Registration>,
    /// Why the bodies are not laid over each other.
    pub why_no_registration: Option<NotAligned>,
    /// What both give, in the order of measures.
    pub differences: Vec<Difference>,
    /// What one of the two gives.
    pub one_sided: Vec<OneSided>,
    /// With several references: which they are and which one is shown.
    pub good_reps: Option<GoodReps>,
    /// How alike the two clips were filmed; with several references, today's and the one shown.
    pub filmed: FilmedAlike,
}

impl TimeMap {
    /// The reference's moment that belongs to today's, real s. Rises strictly with `today_s`.
    pub fn reference_from_today(&self, today_s: f64) -> f64 {
        map_through(&self.knots, today_s, |k| (k.today_s, k.reference_s))
    }

    /// How many times as long as in life the reference is shown at today's moment: 1 outside the knots.
    pub fn stretch_at(&self, today_s: f64) -> f64 {
        let phase = self.knots.windows(2).find_map(|pair| match pair {
            [a, b] if (a.today_s..b.today_s).contains(&today_s) => {
                Some((b.today_s - a.today_s, b.reference_s - a.reference_s))
            }
            _ => None,
        });
        phase.filter(|(_, took_s)| *took_s > 0.0).map_or(1.0, |(shown_s, took_s)| shown_s / took_s)
    }

    /// The inverse: today's moment that belongs to the reference's, real s.
    pub fn today_from_reference(&self, reference_s: f64) -> f64 {
        map_through(&self.knots, reference_s, |k| (k.reference_s, k.today_s))
    }

    /// Today's moment of the event shown as time 0, s.
    pub fn zero_today_s(&self) -> f64 {
        let zero = self.knots.iter().find(|k| k.event == self.zero).or(self.knots.first());
        zero.map_or(0.0, |k| k.today_s)
    }

    /// The reference's moment of the event shown as time 0, s.
    pub fn zero_reference_s(&self) -> f64 {
        self.reference_from_today(self.zero_today_s())
    }
}

fn map_through(knots: &[Knot], x: f64, axes: impl Fn(&Knot) -> (f64, f64)) -> f64 {
    let (Some(first), Some(last)) = (knots.first().map(&axes), knots.last().map(&axes)) else { return x };
    if x <= first.0 {
        return first.1 + (x - first.0);
    }
    for pair in knots.windows(2) {
        let (a, b) = (axes(&pair[0]), axes(&pair[1]));
        if x <= b.0 {
            return a.1 + (x - a.0) / (b.0 - a.0) * (b.1 - a.1);
        }
    }
    last.1 + (x - last.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_phase_that_takes_longer_today_stretches_the_reference() {
        let knot = |event, today_s, reference_s| Knot { event, today_s, reference_s };
        let knots = vec![
            knot(EventId::Load, 1.0, 2.0),
            knot(EventId::Plant, 1.6, 2.5),
            knot(EventId::Contact, 1.8, 2.75),
        ];
        let map = TimeMap { zero: EventId::Plant, knots };
        for (today_s, stretch) in [(0.9, 1.0), (1.0, 1.2), (1.59, 1.2), (1.6, 0.8), (1.8, 1.0), (3.0, 1.0)] {
            assert!((map.stretch_at(today_s) - stretch).abs() < 1e-9, "{today_s}");
        }
    }
}
