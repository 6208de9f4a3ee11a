//! How much one hitter's reps differ from each other.

use serde::{Deserialize, Serialize};

use super::{GoodRep, MeasureId, Unit};

/// Reps of one hitter beside each other.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RepSpread {
    /// In the order given, each with its distance from the middle or why it is left out.
    pub reps: Vec<GoodRep>,
    /// How many are counted.
    pub counted: usize,
    /// Place in `reps` of the one nearest the middle. `None` where fewer than two are counted.
    pub nearest: Option<usize>,
    /// The odd one out, if one is.
    pub odd: Option<OddRep>,
    /// In the order of measures.
    pub measures: Vec<MeasureSpread>,
}

/// One measure over the counted reps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MeasureSpread {
    /// Which measure.
    pub measure: MeasureId,
    /// Of all its numbers.
    pub unit: Unit,
    /// Value and ± of each rep, by its place in [`RepSpread::reps`]; `None` where it lacks the measure.
    pub values: Vec<Option<(f64, f64)>>,
    /// How many give it.
    pub reps: usize,
    /// Of the reps that give it.
    pub mean: f64,
    /// 95 % error of the mean, from the reps' own spread. `None` from fewer than three.
    pub mean_plus_minus: Option<f64>,
    /// Within-hitter standard deviation (typical error, n − 1 in the denominator); what measuring adds is part of it.
    /// `None` from fewer than three.
    pub sd: Option<f64>,
    /// Where the true one lies in 95 of 100 cases.
    pub sd_between: Option<(f64, f64)>,
    /// The smallest change that is real (95 %) between means of so many reps of each of two days: of 1, 3 and 5.
    pub real_change: Option<[f64; 3]>,
}

/// Reps on each side that [`MeasureSpread::real_change`] is told for.
pub const REAL_CHANGE_REPS: [usize; 3] = [1, 3, 5];

/// The rep that strays most from the others.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OddRep {
    /// Its place in [`RepSpread::reps`].
    pub rep: usize,
    /// Where it is farther from the others than one more of them would be by chance, the farthest first.
    pub by: Vec<Stray>,
}

/// A measure by which a rep is odd.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Stray {
    /// Which measure.
    pub measure: MeasureId,
    /// Of `value`.
    pub unit: Unit,
    /// The odd rep's.
    pub value: f64,
    /// Mean of the others.
    pub others: f64,
    /// How far one more of the others may lie from their mean (95 %, the number of reps and measures looked at taken
    /// into account).
    pub needed: f64,
}
