//! The error of a difference: what two readings share cancels.
//!
//! A reading's ± holds three parts: what is wrong for every clip of this hitter (shoes, limb lengths, the pose net's
//! habits), what changes when the camera is set up again, and what changes from rep to rep. The first cancels in every
//! difference of one hitter, the second where the camera was not moved.

use super::differences::Z95;
use super::params::{FILMED_OTHERWISE, PARTS, Parts};
use crate::types::{Filming, Measure, MeasureId};

/// What of this measure's error does not cancel; a measure without a row shares nothing.
pub fn parts(measure: MeasureId) -> Parts {
    PARTS.into_iter().find(|p| p.measure == measure).unwrap_or(Parts {
        measure,
        rep: 1.0,
        setup: 1.0,
        other_view: 1.0,
    })
}

/// What does not cancel between two clips filmed so, as a share of a reading's standard error: 0…1, and more only
/// between two sides.
pub fn left_over(measure: MeasureId, filming: Filming) -> f64 {
    let Parts { rep, setup, other_view, .. } = parts(measure);
    match filming {
        Filming::Alike => rep.min(1.0),
        Filming::SetUpAnew => rep.hypot(setup).min(1.0),
        Filming::Otherwise => rep.hypot(setup).hypot(FILMED_OTHERWISE).min(1.0),
        Filming::OtherView => other_view,
    }
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
        let ways = [Filming::Alike, Filming::SetUpAnew, Filming::Otherwise, Filming::OtherView];
        for id in MeasureId::ALL {
            assert!(PARTS.iter().any(|p| p.measure == id), "{id:?} has no row");
            let shares = ways.map(|w| left_over(id, w));
            assert!(shares.windows(2).all(|w| w[0] <= w[1]) && shares[0] >= 0.25, "{id:?}: {shares:?}");
            assert!(shares[3] >= 1.0, "{id:?}");
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
