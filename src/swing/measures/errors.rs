//! What each measure's own share of error is: one row a measure, its numbers stand in `params/errors.rs`.

use super::super::params::{
    CENTRE_AT_CONTACT, CENTRE_AT_PLANT, CENTRE_BACK, CENTRE_CONTACT_NOISE, CENTRE_CONTACT_WANDER,
    CENTRE_POINTS, FINISH_JOINTS, FOOT_NOISE, FOOT_WANDER, HEAD_NOISE, HEAD_WANDER, JOINT_ERROR, NET_DEG,
    PEAK_SPEED_SHARE, PEAK_TIME_MS, PEAK_WIDTH_S, SHOULDER_POINTS, SHOULDER_RISE, TRAVEL_NOISE,
    TRAVEL_WANDER,
};
use crate::types::MeasureId;

const TWO_JOINTS: f64 = JOINT_ERROR * std::f64::consts::SQRT_2;
const CENTRE: ErrorModel = ErrorModel::points(CENTRE_POINTS, CENTRE_POINTS);

/// Beside the ± of events and of the scale, which are propagated, this is not known of a measure
/// (standard errors, added in quadrature).
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

pub const fn error_model(id: MeasureId) -> ErrorModel {
    match id {
        MeasureId::LoadToPlant
        | MeasureId::FootOffToPlant
        | MeasureId::PlantToContact
        | MeasureId::HandsStartToContact
        | MeasureId::ContactToExtension
        | MeasureId::BatSpeed => ErrorModel::NONE,
        MeasureId::PeakHandSpeedToContact => ErrorModel::fixed(PEAK_TIME_MS),
        MeasureId::BodyCentreBackAtLoad => ErrorModel { fixed: CENTRE_BACK, ..CENTRE },
        MeasureId::BodyCentreForwardAtPlant => ErrorModel { fixed: CENTRE_AT_PLANT, ..CENTRE },
        MeasureId::BodyCentreForwardAtContact => ErrorModel {
            fixed: CENTRE_AT_CONTACT,
            ..ErrorModel::points(CENTRE_CONTACT_NOISE, CENTRE_CONTACT_WANDER)
        },
        MeasureId::StrideLength | MeasureId::BackFootLiftAtContact => {
            ErrorModel::points(FOOT_NOISE, FOOT_WANDER)
        }
        MeasureId::HandsToFrontFootAtPlant | MeasureId::ExtensionDistance => ErrorModel::fixed(TWO_JOINTS),
        MeasureId::HeadTravelStanceToPlant | MeasureId::HeadTravelPlantToContact => {
            ErrorModel::points(HEAD_NOISE, HEAD_WANDER)
        }
        MeasureId::FirstHandTravelDirection | MeasureId::FirstHandTravelDrop => {
            ErrorModel::points(TRAVEL_NOISE, TRAVEL_WANDER)
        }
        MeasureId::FrontShoulderRise => {
            ErrorModel { fixed: SHOULDER_RISE, ..ErrorModel::points(SHOULDER_POINTS, SHOULDER_POINTS) }
        }
        MeasureId::FrontKneeAtPlant | MeasureId::FrontKneeAtContact => ErrorModel::fixed(NET_DEG),
        // Beside `flattened_share` and the noise of the fit.
        MeasureId::PeakHandSpeed => ErrorModel { share: PEAK_SPEED_SHARE, ..ErrorModel::NONE },
        MeasureId::HandsOverShouldersAtFinish => ErrorModel::fixed(FINISH_JOINTS * TWO_JOINTS),
    }
}

/// How much lower than the true peak the fitted peak of hand speed is, share of the speed: a parabola over
/// ± `half_s` rounds the peak off by (half_s / width of the peak)². Nothing is corrected for it; it is taken
/// as a standard error. On exact points of 24 made-up swings a rate the peak is read 1.9 / 1.7 / 5.0 / 14.7 %
/// low at 240 / 120 / 60 / 30 fps (`tests/it/measures.rs`); this gives 2.0 / 2.0 / 4.0 / 16.1 %.
pub fn flattened_share(half_s: f64) -> f64 {
    (half_s / PEAK_WIDTH_S).powi(2)
}
