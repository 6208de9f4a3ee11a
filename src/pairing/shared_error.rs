//! The error of a difference: what two readings share cancels.
//!
//! A reading's ± holds three parts: what is wrong for every clip of this hitter (shoes, limb lengths, the pose net's
//! habits), what changes when the camera is set up again, and what changes from rep to rep. The first cancels in every
//! difference of one hitter, the second where the camera was not moved.

use super::differences::Z95;
use crate::types::{Filming, Measure, MeasureId};

/// The parts that do not cancel, as shares of a reading's own standard error (± / 1.96).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Parts {
    /// From rep to rep, whatever was filmed alike.
    pub rep: f64,
    /// Beside it when the camera was set up again.
    pub setup: f64,
}

/// Beside both when the rate is another one. A slower clip's own larger ± carries most of it already.
const OTHER_RATE: f64 = 0.3;

/// What each measure's parts are. From `./dev bench differences --share set` and, where they are larger there, from the
/// recorded swings filmed by one camera (docs/bench/differences.md); never below 0.25, which is as small as so few
/// films can show.
pub const fn parts(measure: MeasureId) -> Parts {
    let (rep, setup) = match measure {
        MeasureId::LoadToPlant => (0.40, 0.25),
        MeasureId::FootOffToPlant => (0.35, 0.45),
        MeasureId::PlantToContact => (0.72, 0.40),
        MeasureId::HandsStartToContact => (0.70, 0.25),
        MeasureId::BodyCentreBackAtLoad => (0.25, 0.25),
        MeasureId::BodyCentreForwardAtPlant => (0.45, 0.30),
        MeasureId::BodyCentreForwardAtContact => (0.35, 0.30),
        MeasureId::StrideLength => (0.25, 0.25),
        MeasureId::HandsToFrontFootAtPlant => (0.30, 0.38),
        MeasureId::HeadTravelStanceToPlant => (0.40, 0.30),
        MeasureId::HeadTravelPlantToContact => (0.55, 0.46),
        MeasureId::FirstHandTravelDirection => (0.75, 0.75),
        MeasureId::FirstHandTravelDrop => (0.60, 0.75),
        MeasureId::FrontShoulderRise => (0.25, 0.25),
        MeasureId::FrontKneeAtPlant => (0.75, 0.25),
        MeasureId::FrontKneeAtContact => (0.50, 0.25),
        MeasureId::BackFootLiftAtContact => (0.25, 0.25),
        MeasureId::PeakHandSpeed => (0.45, 0.46),
        MeasureId::PeakHandSpeedToContact => (0.50, 0.30),
        MeasureId::BatSpeed => (0.70, 0.50),
        MeasureId::ExtensionDistance => (0.25, 0.25),
        MeasureId::ContactToExtension => (0.60, 0.25),
        MeasureId::HandsOverShouldersAtFinish => (0.55, 0.25),
    };
    Parts { rep, setup }
}

/// What does not cancel between two clips filmed so, as a share of a reading's standard error, 0…1.
pub fn left_over(measure: MeasureId, filming: Filming) -> f64 {
    let Parts { rep, setup } = parts(measure);
    let share = match filming {
        Filming::Alike => rep,
        Filming::SetUpAnew => rep.hypot(setup),
        Filming::OtherRate => rep.hypot(setup).hypot(OTHER_RATE),
        Filming::OtherView => 1.0,
    };
    share.min(1.0)
}

/// The 95 % error of `a` − `b`, in their unit.
pub fn of_difference(measure: MeasureId, a: &Measure, b: &Measure, filming: Filming) -> f64 {
    left_over(measure, filming) * a.plus_minus.hypot(b.plus_minus)
}

/// What a whole set of reps filmed alike is off together beside one clip filmed otherwise, standard error: it is in
/// none of the reps' spread.
pub fn setup_error(measure: MeasureId, today: &Measure, filming: Filming) -> f64 {
    let rep = parts(measure).rep.min(1.0);
    let beside = left_over(measure, filming).powi(2) - rep.powi(2);
    beside.max(0.0).sqrt() * std::f64::consts::SQRT_2 * today.plus_minus / Z95
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Unit;

    #[test]
    fn the_more_alike_the_more_cancels() {
        let ways = [Filming::Alike, Filming::SetUpAnew, Filming::OtherRate, Filming::OtherView];
        for id in MeasureId::ALL {
            let shares = ways.map(|w| left_over(id, w));
            assert!(shares.windows(2).all(|w| w[0] <= w[1]) && shares[0] >= 0.25, "{id:?}: {shares:?}");
            assert_eq!(shares[3], 1.0);
        }
        let m = |value| Measure { value, plus_minus: 9.0, unit: Unit::Cm };
        let stride = MeasureId::StrideLength;
        assert!(
            (of_difference(stride, &m(10.0), &m(0.0), Filming::OtherView) - 9.0 * 2f64.sqrt()).abs() < 1e-9
        );
        assert_eq!(setup_error(stride, &m(0.0), Filming::Alike), 0.0);
        assert!(setup_error(stride, &m(0.0), Filming::SetUpAnew) > 1.0);
    }
}
