//! The χ² distribution: how well a standard deviation is known from few values.

/// Between which multiples of a standard deviation, found from `n` ≥ 2 values, the true one lies in 95 of 100 cases.
pub fn sd_between(n: usize) -> (f64, f64) {
    let dof = n.saturating_sub(1).max(1);
    let times = |share| (dof as f64 / quantile(share, dof)).sqrt();
    (times(0.975), times(0.025))
}

/// The value that leaves `share` below it.
fn quantile(share: f64, dof: usize) -> f64 {
    let (mut low, mut high) = (0.0, 10.0 * dof as f64 + 50.0);
    for _ in 0..100 {
        let middle = (low + high) / 2.0;
        if below(middle, dof) < share { low = middle } else { high = middle }
    }
    (low + high) / 2.0
}

/// The share below `x`: the incomplete gamma function P(dof / 2, x / 2), by its series (Abramowitz & Stegun, Handbook of
/// Mathematical Functions, 1964, 6.5.29).
fn below(x: f64, dof: usize) -> f64 {
    let (a, x) = (dof as f64 / 2.0, x / 2.0);
    if x <= 0.0 {
        return 0.0;
    }
    // x^a e^-x / Γ(a + 1), as a logarithm: Γ at halves by its recurrence from Γ(1) = 1 and Γ(1/2) = √π.
    let mut ln_gamma = if dof.is_multiple_of(2) { 0.0 } else { std::f64::consts::PI.sqrt().ln() };
    let mut k = if dof.is_multiple_of(2) { 1.0 } else { 0.5 };
    while k < a + 0.75 {
        ln_gamma += f64::ln(k);
        k += 1.0;
    }
    let mut term = (a * x.ln() - x - ln_gamma).exp();
    let mut sum = 0.0;
    let mut n = a;
    while term > 1e-17 * sum && n < a + 10_000.0 {
        sum += term;
        n += 1.0;
        term *= x / n;
    }
    sum.min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// As in any printed table (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4; values from memory).
    #[test]
    fn agrees_with_the_printed_table() {
        for (dof, low, high) in [
            (1, 0.001, 5.024),
            (2, 0.051, 7.378),
            (3, 0.216, 9.348),
            (4, 0.484, 11.143),
            (5, 0.831, 12.833),
            (9, 2.700, 19.023),
            (10, 3.247, 20.483),
            (20, 9.591, 34.170),
            (30, 16.791, 46.979),
        ] {
            assert_abs_diff_eq!(quantile(0.025, dof), low, epsilon = 6e-4);
            assert_abs_diff_eq!(quantile(0.975, dof), high, epsilon = 6e-4);
        }
    }

    /// `fixtures/statistics.py` wrote the file with SciPy.
    #[test]
    fn agrees_with_scipy() {
        let file: serde_json::Value =
            serde_json::from_str(include_str!("../../fixtures/statistics.json")).unwrap();
        let rows = file["sd_between"].as_array().unwrap();
        assert!(rows.len() >= 20);
        for row in rows {
            let (low, high) = sd_between(row[0].as_u64().unwrap() as usize);
            assert_abs_diff_eq!(low, row[1].as_f64().unwrap(), epsilon = 1e-6);
            assert_abs_diff_eq!(high, row[2].as_f64().unwrap(), epsilon = 1e-6 * high);
        }
    }

    /// A typical error from five reps is itself uncertain 0.60 to 2.87 times.
    #[test]
    fn five_reps_know_it_roughly() {
        let (low, high) = sd_between(5);
        assert_abs_diff_eq!(low, 0.599, epsilon = 1e-3);
        assert_abs_diff_eq!(high, 2.874, epsilon = 1e-3);
    }
}
