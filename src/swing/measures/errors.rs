//! What each measure's own share of error is: one row a measure, the one place to calibrate it.

use super::super::params::{JOINT_ERROR, PEAK_WIDTH_S};
use crate::types::MeasureId;

const TWO_JOINTS: f64 = JOINT_ERROR * std::f64::consts::SQRT_2;
/// Pose nets on fast legs after clean-up: 3.9–7.0° RMSE (arXiv 2505.04713).
const NET_DEG: f64 = 5.0;

/// Beside the ± of events and of the scale, which are propagated, this is not known of a measure
/// (standard errors, added in squares).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ErrorModel {
    /// Times one point's noise in one picture (`Figure::noise`).
    pub noise: f64,
    /// Times one point's slow wander between two events (`Figure::wander`).
    pub wander: f64,
    /// Always there: ms, deg, body heights or body heights per s.
    pub fixed: f64,
    /// Of the value, 0…1.
    pub share: f64,
}

impl ErrorModel {
    const NONE: Self = Self { noise: 0.0, wander: 0.0, fixed: 0.0, share: 0.0 };

    const fn points(noise: f64, wander: f64) -> Self {
        Self { noise, wander, ..Self::NONE }
    }

    const fn fixed(fixed: f64) -> Self {
        Self { fixed, ..Self::NONE }
    }
}

/// Weights of noise and wander began as own estimates: 1 for one point, √2 for two, a half where many points
/// are averaged or the time between is short, 1.5–2 at the feet, which the net follows worst. Where a row says
/// "seen", it was set from what the net read on 29 made-up films of all views and rates.
pub const fn error_model(id: MeasureId) -> ErrorModel {
    match id {
        MeasureId::LoadToPlant
        | MeasureId::FootOffToPlant
        | MeasureId::PlantToContact
        | MeasureId::HandsStartToContact
        | MeasureId::ContactToExtension => ErrorModel::NONE,
        // Seen; ms.
        MeasureId::PeakHandSpeedToContact => ErrorModel::fixed(11.0),
        MeasureId::BodyCentreBackAtLoad => ErrorModel { fixed: 0.002, ..ErrorModel::points(0.4, 0.4) },
        MeasureId::BodyCentreForwardAtPlant => ErrorModel { fixed: 0.004, ..ErrorModel::points(0.4, 0.4) },
        MeasureId::BodyCentreForwardAtContact => ErrorModel { fixed: 0.006, ..ErrorModel::points(0.5, 0.6) },
        MeasureId::StrideLength => ErrorModel::points(1.5, 1.95),
        MeasureId::HandsToFrontFootAtPlant => ErrorModel::fixed(TWO_JOINTS),
        // Between the ears the net strays less than at a foot.
        MeasureId::HeadTravelStanceToPlant => ErrorModel::points(1.0, 0.9),
        MeasureId::HeadTravelPlantToContact => ErrorModel::points(1.0, 0.9),
        // Both ends of 10 cm; over so short a time a point wanders half as much as between two events.
        MeasureId::FirstHandTravelDirection => ErrorModel::points(1.4, 0.7),
        MeasureId::FirstHandTravelDrop => ErrorModel::points(1.4, 0.7),
        // Seen: read 6 cm too low in the middle, 12 cm in 90 %. The net lags where the shoulder comes round.
        MeasureId::FrontShoulderRise => ErrorModel { fixed: 0.035, ..ErrorModel::points(1.0, 1.0) },
        MeasureId::FrontKneeAtPlant => ErrorModel::fixed(NET_DEG),
        MeasureId::FrontKneeAtContact => ErrorModel::fixed(NET_DEG),
        MeasureId::BackFootLiftAtContact => ErrorModel::points(1.5, 1.95),
        // Seen, beside `flattened_share` and the noise of the fit: points that jump at the fastest moment.
        MeasureId::PeakHandSpeed => ErrorModel { share: 0.10, ..ErrorModel::NONE },
        MeasureId::BatSpeed => ErrorModel::NONE,
        MeasureId::ExtensionDistance => ErrorModel::fixed(TWO_JOINTS),
        // The hands are behind the head and the shoulder there, often hidden.
        MeasureId::HandsOverShouldersAtFinish => ErrorModel::fixed(2.6 * TWO_JOINTS),
    }
}

/// How much lower than the true peak the fitted peak of hand speed is, share of the speed: a parabola over
/// ± `half_s` rounds the peak off by (half_s / width of the peak)². Nothing is corrected for it; it is taken
/// as a standard error. On exact points of 24 made-up swings a rate the peak is read 1.9 / 1.7 / 5.0 / 14.7 %
/// low at 240 / 120 / 60 / 30 fps (`tests/it/measures.rs`); this gives 2.0 / 2.0 / 4.0 / 16.1 %.
pub fn flattened_share(half_s: f64) -> f64 {
    (half_s / PEAK_WIDTH_S).powi(2)
}
