use crate::types::{Part, Pose};

/// Leg and trunk as a share of standing height: shoulder .818 less ankle .039
/// (Drillis & Contini 1966, in Winter, fig. 4.1).
const SHOULDER_TO_ANKLE: f64 = 0.818 - 0.039;

/// Standing height in the picture, px, from the lengths of legs and trunk, which bending does not change.
/// Foreshortening only ever shortens, so the upper quarter of what the poses show is taken. `None` when no
/// pose shows shoulders, hips and one whole leg.
pub fn standing_height_px<'p>(poses: impl IntoIterator<Item = &'p Pose>) -> Option<f64> {
    let mut heights: Vec<f64> =
        poses.into_iter().filter_map(shoulder_to_ankle_px).map(|l| l / SHOULDER_TO_ANKLE).collect();
    heights.retain(|h| h.is_finite() && *h > 0.0);
    heights.sort_by(f64::total_cmp);
    heights.get(heights.len() * 3 / 4).copied()
}

fn shoulder_to_ankle_px(pose: &Pose) -> Option<f64> {
    let middle = |a, b| Some(pose.at(a)?.midpoint(pose.at(b)?));
    let hips = middle(Part::LeftHip, Part::RightHip)?;
    let trunk = middle(Part::LeftShoulder, Part::RightShoulder)?.distance(hips);
    let leg = |hip, knee, ankle| {
        let (hip, knee, ankle) = (pose.at(hip)?, pose.at(knee)?, pose.at(ankle)?);
        Some(hip.distance(knee) + knee.distance(ankle))
    };
    let left = leg(Part::LeftHip, Part::LeftKnee, Part::LeftAnkle);
    let right = leg(Part::RightHip, Part::RightKnee, Part::RightAnkle);
    let legs = match (left, right) {
        (Some(l), Some(r)) => l.max(r),
        (one, other) => one.or(other)?,
    };
    Some(trunk + legs)
}
