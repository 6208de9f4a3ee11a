//! Middles and spreads. A median of an even number of values is the mean of the middle two, everywhere.

/// The median; sorts `values`. `None` of none.
pub fn median(values: &mut [f64]) -> Option<f64> {
    let middle = values.len() / 2;
    if values.is_empty() {
        return None;
    }
    let even = values.len().is_multiple_of(2);
    let (below, upper, _) = values.select_nth_unstable_by(middle, f64::total_cmp);
    let upper = *upper;
    Some(if even { (below.iter().copied().fold(f64::MIN, f64::max) + upper) / 2.0 } else { upper })
}

/// The median of values that nobody keeps.
pub fn median_of(values: impl IntoIterator<Item = f64>) -> Option<f64> {
    median(&mut values.into_iter().collect::<Vec<_>>())
}

/// The value below which a share `q` (0…1) lies: the nearest of the values.
pub fn quantile(mut values: Vec<f64>, q: f64) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let i = (q * values.len().saturating_sub(1) as f64).round() as usize;
    values.get(i).copied()
}

/// Mean and standard deviation (n − 1) of at least one value; no deviation of a single one.
pub fn mean_sd(values: &[f64]) -> (f64, Option<f64>) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let square: f64 = values.iter().map(|v| (v - mean).powi(2)).sum();
    (mean, (values.len() > 1).then(|| (square / (n - 1.0)).sqrt()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn medians_and_quantiles() {
        assert_eq!(median_of([3.0, 1.0, 2.0]), Some(2.0));
        assert_eq!(median_of([4.0, 1.0, 2.0, 3.0]), Some(2.5));
        assert_eq!(median_of([]), None);
        assert_eq!(quantile(vec![5.0, 1.0, 3.0], 0.5), Some(3.0));
        assert_eq!(quantile(vec![], 0.5), None);
    }
}
