//! Moments weighed by how usual they are, and what is left of them.

/// How usual it is that something takes so long, against the most usual: level from `from_s` to `to_s`, beyond that it falls
/// as a normal error of `sd_s` does; but anything happens in the share `unusual`.
pub fn usual(long_s: f64, (from_s, to_s): (f64, f64), sd_s: f64, unusual: f64) -> f64 {
    let off = (long_s - long_s.clamp(from_s, to_s)) / sd_s;
    (-0.5 * off * off).exp() + unusual
}

/// Mean and standard deviation of (moment, s; weight); `None` where nothing weighs anything.
pub fn middle(weighed: &[(f64, f64)]) -> Option<(f64, f64)> {
    let total: f64 = weighed.iter().map(|w| w.1).sum();
    if total <= 0.0 {
        return None;
    }
    let mean = weighed.iter().map(|(t, w)| t * w).sum::<f64>() / total;
    let variance = weighed.iter().map(|(t, w)| (t - mean).powi(2) * w).sum::<f64>() / total;
    Some((mean, variance.sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_usual_weighs_the_same_and_what_is_not_still_something() {
        let weight = |t| usual(t, (0.10, 0.26), 0.03, 0.02);
        assert_eq!((weight(0.10), weight(0.2), weight(0.26)), (1.02, 1.02, 1.02));
        // One standard deviation beyond: e^(−1/2).
        assert!((weight(0.29) - 0.6265).abs() < 1e-4 && (weight(1.0) - 0.02).abs() < 1e-9);
    }

    #[test]
    fn the_middle_of_two_equal_moments_lies_between_them() {
        let (mean, sd) = middle(&[(1.0, 2.0), (3.0, 2.0), (9.0, 0.0)]).unwrap();
        assert!((mean - 2.0).abs() < 1e-12 && (sd - 1.0).abs() < 1e-12);
        assert_eq!(middle(&[(1.0, 0.0)]), None);
        assert_eq!(middle(&[]), None);
    }
}
