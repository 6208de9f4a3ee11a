//! The turn, scale and shift that carry points onto others.

use crate::types::{Point, Similarity};

/// Least-squares similarity from `(from, to)` pairs (Umeyama 1991, IEEE TPAMI 13(4), in its plane form,
/// the mirror chosen by the caller). `None` with fewer than two distinct points.
pub fn similarity_from_pairs(pairs: &[(Point, Point)], mirrored: bool) -> Option<Similarity> {
    let n = pairs.len() as f64;
    let flip = |p: Point| if mirrored { Point::new(-p.x, p.y) } else { p };
    let (mut mean_from, mut mean_to) = (Point::default(), Point::default());
    for (from, to) in pairs {
        mean_from = mean_from + flip(*from) * (1.0 / n);
        mean_to = mean_to + *to * (1.0 / n);
    }
    let (mut dot, mut cross, mut spread) = (0.0, 0.0, 0.0);
    for (from, to) in pairs {
        let (f, t) = (flip(*from) - mean_from, *to - mean_to);
        dot += f.dot(t);
        cross += f.x * t.y - f.y * t.x;
        spread += f.dot(f);
    }
    if pairs.len() < 2 || spread <= f64::EPSILON {
        return None;
    }
    let (a, b) = (dot / spread, cross / spread);
    Some(Similarity {
        a,
        b,
        tx: mean_to.x - (a * mean_from.x - b * mean_from.y),
        ty: mean_to.y - (b * mean_from.x + a * mean_from.y),
        mirrored,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// Umeyama 1991 gives a worked example in its section IV: triangle (0,0) (1,0) (0,2) onto
    /// (0,0) (−1,0) (0,2). Values from memory of the paper: R = [[.832, .555], [−.555, .832]],
    /// c = .721, t = (−.8, .4) for the proper rotation.
    #[test]
    fn agrees_with_umeyama_1991() {
        let pairs = [
            (Point::new(0.0, 0.0), Point::new(0.0, 0.0)),
            (Point::new(1.0, 0.0), Point::new(-1.0, 0.0)),
            (Point::new(0.0, 2.0), Point::new(0.0, 2.0)),
        ];
        let s = similarity_from_pairs(&pairs, false).unwrap();
        assert_abs_diff_eq!(s.scale(), 0.7211, epsilon = 1e-3);
        assert_abs_diff_eq!(s.a / s.scale(), 0.832, epsilon = 1e-3);
        assert_abs_diff_eq!(s.b / s.scale(), -0.5547, epsilon = 1e-3);
        assert_abs_diff_eq!(s.tx, -0.8, epsilon = 1e-9);
        assert_abs_diff_eq!(s.ty, 0.4, epsilon = 1e-9);
    }
}
