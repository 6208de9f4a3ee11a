//! Student's t: how far a new value may lie from a mean of few before it is unlikely to be one of them.

use std::f64::consts::{FRAC_2_PI, FRAC_PI_2};

/// The t that leaves 5 % in both tails together (0.975 quantile) for `dof` ≥ 1 degrees of freedom.
pub fn t95(dof: usize) -> f64 {
    beyond(0.05, dof)
}

/// The t that leaves `chance` (0…1) in both tails together.
pub fn beyond(chance: f64, dof: usize) -> f64 {
    let root = (dof.max(1) as f64).sqrt();
    // t = √dof · tan θ, and the share between −t and t rises with θ: halve until nothing is left to halve.
    let (mut low, mut high) = (0.0, FRAC_PI_2);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if share_between(middle, dof.max(1)) < 1.0 - chance { low = middle } else { high = middle }
    }
    root * ((low + high) / 2.0).tan()
}

/// How often a t as far from 0 as this one, or farther, comes about by chance alone (two tails).
pub fn chance(t: f64, dof: usize) -> f64 {
    let dof = dof.max(1);
    (1.0 - share_between((t.abs() / (dof as f64).sqrt()).atan(), dof)).max(0.0)
}

/// Share of the t distribution between −t and t, where t = √dof · tan θ: the finite sums of Abramowitz &
/// Stegun, Handbook of Mathematical Functions (1964), 26.7.3 (odd) and 26.7.4 (even).
fn share_between(theta: f64, dof: usize) -> f64 {
    let (sin, cos) = theta.sin_cos();
    let odd = dof % 2 == 1;
    // Odd: cos + 2/3 cos³ + 2·4/(3·5) cos⁵ …; even: 1 + 1/2 cos² + 1·3/(2·4) cos⁴ …; up to cos^(dof − 2).
    let (mut term, mut power) = if odd { (cos, 1) } else { (1.0, 0) };
    let mut sum = 0.0;
    while power + 2 <= dof {
        sum += term;
        let k = power as f64;
        term *= (k + 1.0) / (k + 2.0) * cos * cos;
        power += 2;
    }
    if odd { FRAC_2_PI * (theta + sin * sum) } else { sin * sum }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// Upper critical values at 0.975 as in any printed table (NIST/SEMATECH e-Handbook of Statistical
    /// Methods, 1.3.6.7.2; values from memory).
    #[test]
    fn agrees_with_the_printed_table() {
        for (dof, t) in [
            (1, 12.706),
            (2, 4.303),
            (3, 3.182),
            (4, 2.776),
            (5, 2.571),
            (6, 2.447),
            (7, 2.365),
            (8, 2.306),
            (9, 2.262),
            (10, 2.228),
            (15, 2.131),
            (20, 2.086),
            (30, 2.042),
            (60, 2.000),
            (100, 1.984),
        ] {
            assert_abs_diff_eq!(t95(dof), t, epsilon = 6e-4);
        }
        assert_abs_diff_eq!(t95(100_000), 1.960, epsilon = 6e-4);
    }

    #[test]
    fn chance_and_limit_are_inverses() {
        for (share, dof) in [(0.05, 4), (0.05, 18), (0.0023, 8), (0.5, 1), (1e-5, 30)] {
            assert_abs_diff_eq!(chance(beyond(share, dof), dof), share, epsilon = 1e-9);
        }
        assert_eq!(chance(0.0, 7), 1.0);
    }

    /// `fixtures/statistics.py` wrote the file.
    #[test]
    fn agrees_with_scipy() {
        let file: serde_json::Value =
            serde_json::from_str(include_str!("../../fixtures/statistics.json")).unwrap();
        let rows = file["student_t_975"].as_array().unwrap();
        assert!(rows.len() >= 30);
        for row in rows {
            let (dof, t) = (row[0].as_u64().unwrap() as usize, row[1].as_f64().unwrap());
            assert_abs_diff_eq!(t95(dof), t, epsilon = 1e-9 * t);
        }
    }
}
