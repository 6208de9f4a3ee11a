//! Places the reference's body over today's: the similarity that best carries the points that hold
//! still in the stance from one picture to the other.

use crate::math::{median_of, similarity_from_pairs};
use crate::types::{EventId, NotAligned, PARTS, Part, Point, Reading, Registration};

/// Poses this close to stance are taken together, s.
const STANCE_WINDOW_S: f64 = 0.08;
/// Less than this many shared points cannot place a body.
const MIN_POINTS: usize = 4;

/// Parts that keep their place in a stance. Arms are left out: the hands waggle.
const STABLE: [Part; 16] = [
    Part::Nose,
    Part::LeftEar,
    Part::RightEar,
    Part::LeftShoulder,
    Part::RightShoulder,
    Part::LeftHip,
    Part::RightHip,
    Part::LeftKnee,
    Part::RightKnee,
    Part::LeftAnkle,
    Part::RightAnkle,
    Part::LeftHeel,
    Part::RightHeel,
    Part::LeftToe,
    Part::RightToe,
    Part::LeftEye,
];

/// `Err` says why one body cannot be laid over the other.
pub fn register(today: &Reading, reference: &Reading) -> Result<Registration, NotAligned> {
    if today.hitter.view != reference.hitter.view {
        return Err(NotAligned::DifferentViews {
            today: today.hitter.view,
            reference: reference.hitter.view,
        });
    }
    // Seen from one side, a hitter who bats left is the mirror of one who bats right, front foot for
    // front foot: left parts then belong to right parts.
    let mirrored = today.hitter.bats != reference.hitter.bats;
    let (here, there) = (stance(today), stance(reference));
    let mut pairs = Vec::new();
    for part in STABLE {
        let from = if mirrored { part.other_side() } else { part };
        if let (Some(to), Some(from)) = (here[part as usize], there[from as usize]) {
            pairs.push((from, to));
        }
    }
    let map = similarity_from_pairs(&pairs, mirrored)
        .filter(|_| pairs.len() >= MIN_POINTS)
        .ok_or(NotAligned::FewPoints)?;
    let sum: f64 = pairs.iter().map(|(from, to)| map.apply(*from).distance(*to).powi(2)).sum();
    let residual_px = (sum / pairs.len() as f64).sqrt();
    Ok(Registration {
        reference_to_today: map,
        residual_px,
        residual_body_heights: residual_px / today.scale.body_height_px.max(1.0),
        points: pairs.len(),
    })
}

/// Each part's median place around stance (or the earliest event there is), by part.
fn stance(reading: &Reading) -> Vec<Option<Point>> {
    let at_s = reading
        .events
        .get(&EventId::Stance)
        .or_else(|| reading.events.values().min_by(|a, b| a.time_s.total_cmp(&b.time_s)))
        .map_or(0.0, |e| e.time_s);
    let near: Vec<_> =
        reading.track.poses.iter().filter(|p| (p.time_s - at_s).abs() <= STANCE_WINDOW_S).collect();
    let near = if near.is_empty() { reading.track.nearest(at_s).into_iter().collect() } else { near };
    PARTS
        .iter()
        .map(|part| {
            let seen: Vec<Point> = near.iter().filter_map(|p| p.at(*part)).collect();
            let x = median_of(seen.iter().map(|p| p.x))?;
            let y = median_of(seen.iter().map(|p| p.y))?;
            Some(Point::new(x, y))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Similarity;
    use approx::assert_abs_diff_eq;

    /// scikit-image's `SimilarityTransform` (which fits by Umeyama's method); `fixtures/statistics.py` wrote the
    /// file.
    #[test]
    fn agrees_with_scikit_image() {
        let file: serde_json::Value =
            serde_json::from_str(include_str!("../../fixtures/statistics.json")).unwrap();
        let fits = file["similarity"].as_array().unwrap();
        assert_eq!(fits.len(), 4);
        for fit in fits {
            let points = |key: &str| -> Vec<Point> {
                let at = |p: &serde_json::Value| Point::new(p[0].as_f64().unwrap(), p[1].as_f64().unwrap());
                fit[key].as_array().unwrap().iter().map(at).collect()
            };
            let pairs: Vec<_> = points("from").into_iter().zip(points("to")).collect();
            let found = similarity_from_pairs(&pairs, false).unwrap();
            for (name, value) in [("a", found.a), ("b", found.b), ("tx", found.tx), ("ty", found.ty)] {
                assert_abs_diff_eq!(value, fit[name].as_f64().unwrap(), epsilon = 1e-6);
            }
        }
    }

    #[test]
    fn a_known_placing_is_found_mirrored_or_not() {
        for mirrored in [false, true] {
            let truth = Similarity { a: 0.8, b: 0.1, tx: 40.0, ty: -7.0, mirrored };
            let from = [(1.0, 2.0), (30.0, 5.0), (12.0, 60.0), (-4.0, 33.0)];
            let pairs: Vec<_> =
                from.iter().map(|(x, y)| (Point::new(*x, *y), truth.apply(Point::new(*x, *y)))).collect();
            let found = similarity_from_pairs(&pairs, mirrored).unwrap();
            assert_abs_diff_eq!(found.a, truth.a, epsilon = 1e-9);
            assert_abs_diff_eq!(found.b, truth.b, epsilon = 1e-9);
            assert_abs_diff_eq!(found.tx, truth.tx, epsilon = 1e-9);
            assert_abs_diff_eq!(found.ty, truth.ty, epsilon = 1e-9);
        }
        assert_eq!(similarity_from_pairs(&[], false), None);
    }
}
