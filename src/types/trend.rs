//! How one hitter's measures go from day to day.

use serde::{Deserialize, Serialize};

use super::{MeasureId, Unit, Verdict};

/// One measure on one day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct DayMean {
    /// How many reps give it.
    pub reps: usize,
    /// Of the day's reps.
    pub mean: f64,
    /// 95 % error of the mean.
    pub plus_minus: f64,
}

/// One measure over the days.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Trend {
    /// Which measure.
    pub measure: MeasureId,
    /// Of all its numbers.
    pub unit: Unit,
    /// By day; `None` where no rep of that day gives it.
    pub days: Vec<Option<DayMean>>,
    /// Within-hitter standard deviation, from all days together; the days' own means are taken out.
    pub sd: Option<f64>,
    /// Last day less first, of the days that give it.
    pub change: f64,
    /// 95 % error of the change.
    pub plus_minus: Option<f64>,
    /// A change beyond this is real, the number of measures looked at taken into account. `None`: too few reps, or not
    /// looked at.
    pub needed: Option<f64>,
    /// What the change means.
    pub verdict: Verdict,
}
