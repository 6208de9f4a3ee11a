//! How much one hitter's reps differ anyway, before anything is known of this hitter.

use crate::types::{Delivery, MeasureId, Unit};

/// The standard deviation between reps of one hitter, and how much it is worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usual {
    /// In the measure's unit, without what measuring adds.
    pub sd: f64,
    /// As many degrees of freedom of a hitter's own reps weigh as much as this.
    pub dof: usize,
    /// Computed from measured swings; otherwise our own estimate.
    pub measured: bool,
}

/// Six hitters' own deviations run from 0.63 to 1.56 times the pooled one, of which some 11 % is chance (about 40 swings
/// each): a variance that varies by 0.6 to 0.7 of itself between hitters is worth 4 + 2 / 0.7² ≈ 8 degrees of freedom
/// (the inverse χ² distribution's own relation).
const MEASURED_DOF: usize = 8;
/// An estimate of ours is soon left behind.
const ESTIMATED_DOF: usize = 4;

/// Rep-to-rep standard deviations, pooled within hitters: all deliveries, then tee, thrown, machine, live. Computed from
/// two open data sets: BaseballSwingTrainingConditions (six hitters, 237 swings at 500 Hz, CC BY-NC-SA 4.0), and for
/// peak hand speed OpenBiomechanics' hitting set (36 sessions, 254 swings off a machine, CC BY-NC-SA 4.0).
const fn measured(measure: MeasureId) -> Option<[f64; 5]> {
    match measure {
        MeasureId::FootOffToPlant => Some([61.0, 36.0, 73.0, 74.0, 58.0]),
        MeasureId::PlantToContact => Some([14.0, 6.0, 11.0, 17.0, 19.0]),
        MeasureId::HandsStartToContact => Some([8.5, 6.0, 8.0, 9.0, 10.0]),
        MeasureId::FrontKneeAtPlant => Some([2.9, 2.1, 3.1, 3.0, 3.2]),
        MeasureId::FrontKneeAtContact => Some([6.7, 3.6, 6.6, 4.3, 10.3]),
        _ => None,
    }
}

/// The usual deviation of `measure`, of which a typical value is `size`, in `unit`.
pub fn usual(measure: MeasureId, unit: Unit, size: f64, ball: Option<Delivery>) -> Usual {
    if let Some(by_ball) = measured(measure) {
        let sd = by_ball[ball.map_or(0, |b| 1 + b as usize)];
        return Usual { sd, dof: MEASURED_DOF, measured: true };
    }
    if measure == MeasureId::PeakHandSpeed {
        return Usual { sd: 0.034 * size.abs(), dof: MEASURED_DOF, measured: true };
    }
    // No published within-hitter value was found: own estimates.
    let sd = match unit {
        Unit::Ms => (0.05 * size.abs()).max(10.0),
        Unit::BodyHeights => 0.010,
        Unit::Cm => 1.75,
        Unit::Deg => 4.0,
        Unit::MetresPerS | Unit::BodyHeightsPerS => 0.05 * size.abs(),
    };
    Usual { sd, dof: ESTIMATED_DOF, measured: false }
}

/// A deviation from a hitter's own reps (`sd`, n − 1 = `dof`), shrunk toward what is usual: the mean of the two variances,
/// weighed by their degrees of freedom (the posterior of a scaled inverse χ² prior; Gelman et al., Bayesian Data
/// Analysis, 2013, 2.6; from memory). Gives the deviation and its degrees of freedom.
pub fn shrunk(sd: f64, dof: usize, prior_sd: f64, prior_dof: usize) -> (f64, usize) {
    let all = dof + prior_dof;
    let sum = dof as f64 * sd * sd + prior_dof as f64 * prior_sd * prior_sd;
    ((sum / all.max(1) as f64).sqrt(), all)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tee_is_not_a_pitcher() {
        let of = |ball| usual(MeasureId::FrontKneeAtContact, Unit::Deg, 160.0, ball).sd;
        assert_eq!((of(None), of(Some(Delivery::Tee)), of(Some(Delivery::Live))), (6.7, 3.6, 10.3));
        assert!(!usual(MeasureId::StrideLength, Unit::Cm, 60.0, None).measured);
        let speed = usual(MeasureId::PeakHandSpeed, Unit::MetresPerS, 10.0, None);
        assert!((speed.sd - 0.34).abs() < 1e-9 && speed.measured);
    }

    #[test]
    fn many_reps_outweigh_what_is_usual() {
        let (few, _) = shrunk(4.0, 2, 10.0, 8);
        let (many, dof) = shrunk(4.0, 80, 10.0, 8);
        assert!(few > 9.0 && many < 5.0 && dof == 88, "{few} {many}");
    }

    /// SciPy's posterior: with a scaled inverse χ² prior the variance's mean is Σ ν s² / (Σ ν − 2);
    /// `fixtures/statistics.py` wrote the file.
    #[test]
    fn agrees_with_scipy() {
        let file: serde_json::Value =
            serde_json::from_str(include_str!("../../fixtures/statistics.json")).unwrap();
        let cases = file["shrunk"].as_array().unwrap();
        assert!(cases.len() >= 4);
        for case in cases {
            let of = |key: &str| case[key].as_f64().unwrap();
            let (dof, prior_dof) = (of("dof") as usize, of("prior_dof") as usize);
            let (sd, dof) = shrunk(of("sd"), dof, of("prior_sd"), prior_dof);
            let mean = sd * sd * dof as f64 / (dof as f64 - 2.0);
            assert!((mean - of("posterior_mean")).abs() < 1e-6 * mean);
            let needed = crate::math::t95(dof) * sd * (1.0 + 1.0 / of("n")).sqrt();
            assert!((needed - of("needed")).abs() < 1e-6 * needed, "{needed} {}", of("needed"));
        }
    }
}
