//! Small linear systems.

use nalgebra::{ArrayStorage, Const, DimMin, Matrix, SVector};

/// A pivot this small, absolute, counts as 0.
const SMALLEST_PIVOT: f64 = 1e-14;

/// Solves `m`·x = `right` (`m` by rows). `None` when the system is singular or not finite.
///
/// ```
/// let x = swingpair::math::solve([[2.0, 1.0], [1.0, 3.0]], [3.0, 5.0]).unwrap();
/// assert!((x[0] - 0.8).abs() < 1e-12 && (x[1] - 1.4).abs() < 1e-12);
/// ```
pub fn solve<const N: usize>(m: [[f64; N]; N], right: [f64; N]) -> Option<[f64; N]>
where
    Const<N>: DimMin<Const<N>, Output = Const<N>>,
{
    // nalgebra stores columns: the rows given are the columns of the transpose.
    let rows = Matrix::<f64, Const<N>, Const<N>, ArrayStorage<f64, N, N>>::from_data(ArrayStorage(m));
    let lu = rows.transpose().lu();
    if (0..N).any(|i| lu.u()[(i, i)].abs() < SMALLEST_PIVOT) {
        return None;
    }
    let x: [f64; N] = lu.solve(&SVector::<f64, N>::from(right))?.into();
    x.iter().all(|v| v.is_finite()).then_some(x)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// The inverse of the 3 × 3 Hilbert matrix is known in whole numbers (Choi 1983, American Mathematical Monthly
    /// 90(5); the entries from memory): its first column is 9, −36, 30.
    #[test]
    fn inverts_a_hilbert_matrix() {
        let m = std::array::from_fn(|i| std::array::from_fn(|j| 1.0 / (i + j + 1) as f64));
        let x = solve::<3>(m, [1.0, 0.0, 0.0]).unwrap();
        for (got, whole) in x.into_iter().zip([9.0, -36.0, 30.0]) {
            assert_abs_diff_eq!(got, whole, epsilon = 1e-10);
        }
    }

    #[test]
    fn what_has_no_answer_gives_none() {
        assert_eq!(solve([[1.0, 2.0], [2.0, 4.0]], [1.0, 2.0]), None);
        assert_eq!(solve([[f64::NAN, 0.0], [0.0, 1.0]], [1.0, 2.0]), None);
    }
}
