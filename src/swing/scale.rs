//! How long things are: the hitter's standing height in px from limb lengths, px per cm from a known one.

use super::series::{median, quantile};
use crate::ground::{Part, Point, Scale, Track};

/// Segment lengths as shares of stature: thigh = hip .530 − knee .285, shank = knee .285 − ankle .039,
/// trunk = shoulder .818 − hip .530 (Drillis & Contini 1966, in Winter fig. 4.1).
const THIGH: f64 = 0.245;
const SHANK: f64 = 0.246;
const TRUNK: f64 = 0.288;
/// A bent limb looks short; its longest looks come near its true length. This share of looks is below.
const LONG_LOOK: f64 = 0.85;
/// Standard error of the height so found: adult averages, net noise and limbs never quite in the
/// picture's plane. Own estimate.
const HEIGHT_ERROR: f64 = 0.05;

/// `height_cm` is the hitter's standing height, if it was given.
pub fn scale(track: &Track, height_cm: Option<f64>) -> Option<Scale> {
    let body_height_px = body_height_px(track)?;
    Some(Scale {
        body_height_px,
        body_height_error: HEIGHT_ERROR,
        px_per_cm: height_cm.map(|cm| body_height_px / cm),
        px_per_cm_error: HEIGHT_ERROR,
    })
}

fn body_height_px(track: &Track) -> Option<f64> {
    let long = |lengths: Vec<f64>| quantile(lengths, LONG_LOOK);
    let limb = |a: Part, b: Part| {
        long(track.poses.iter().filter_map(|p| Some(p.at(a)?.distance(p.at(b)?))).collect())
    };
    let middle = |p: &crate::ground::Pose, a: Part| -> Option<Point> {
        Some(p.at(a)?.midpoint(p.at(a.other_side())?))
    };
    let trunk = long(
        track
            .poses
            .iter()
            .filter_map(|p| Some(middle(p, Part::LeftShoulder)?.distance(middle(p, Part::LeftHip)?)))
            .collect(),
    );
    let longer = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => Some(a.max(b)),
        (a, b) => a.or(b),
    };
    let thigh = longer(limb(Part::LeftHip, Part::LeftKnee), limb(Part::RightHip, Part::RightKnee));
    let shank = longer(limb(Part::LeftKnee, Part::LeftAnkle), limb(Part::RightKnee, Part::RightAnkle));
    let guesses = [(trunk, TRUNK), (thigh, THIGH), (shank, SHANK)];
    median(guesses.iter().filter_map(|(px, share)| Some((*px)? / share)).filter(|h| *h > 1.0).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Pose, Seen, Spot};

    #[test]
    fn a_figure_of_average_build_has_its_height() {
        let mut pose = Pose::empty(0, 0.0);
        let mut put = |part, x: f64, share: f64| {
            pose.set(
                part,
                Some(Spot { at: Point::new(x, 500.0 - 400.0 * share), visibility: 1.0, seen: Seen::Picture }),
            );
        };
        for (left, share) in [
            (Part::LeftShoulder, 0.818),
            (Part::LeftHip, 0.530),
            (Part::LeftKnee, 0.285),
            (Part::LeftAnkle, 0.039),
        ] {
            put(left, 90.0, share);
            put(left.other_side(), 110.0, share);
        }
        let track = Track { poses: vec![pose] };
        let s = scale(&track, Some(180.0)).unwrap();
        assert!((s.body_height_px - 400.0).abs() < 1e-6);
        assert!((s.px_per_cm.unwrap() - 400.0 / 180.0).abs() < 1e-9);
        assert!(scale(&Track::default(), None).is_none());
    }
}
