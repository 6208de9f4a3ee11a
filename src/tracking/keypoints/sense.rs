//! What a file does not say about its points: their unit, which way y runs, whether left and right are right.
//! What can be told from a body is told; what cannot be used is refused.

use super::super::params::{BODY_TURNS_S, CLEARLY_APART, POINTS_LATE_S, SMALLEST_BODY_PX, TOES_POINT};
use crate::math::median_of;
use crate::tracking::hitter::bursts;
use crate::tracking::stature::standing_height_px;
use crate::types::{KeypointsFault, Part, Point, Pose, Track, Warning};

/// Turns the points into px with y down where they are not. The picture's size is 0 × 0 where it is not known.
pub fn in_picture_px(
    poses: &mut [Pose],
    (width, height): (usize, usize),
) -> Result<Vec<Warning>, KeypointsFault> {
    let mut warnings = Vec::new();
    let Some(tall) = standing_height_px(poses.iter()) else { return Ok(warnings) };
    let (w, h) = (width as f64, height as f64);
    if tall < SMALLEST_BODY_PX {
        let within = |p: Point| (-0.1..=1.1).contains(&p.x) && (-0.1..=1.1).contains(&p.y);
        let (inside, all) = counted(poses, within);
        if 20 * inside < 19 * all || w < 1.0 || h < 1.0 {
            return Err(KeypointsFault::TooSmall { height: tall });
        }
        each(poses, |p| Point::new(p.x * w, p.y * h));
        warnings.push(Warning::PointsNormalised);
    }
    let heads_down = median_of(poses.iter().filter_map(head_over_feet)).is_some_and(|up| up < 0.0);
    if heads_down {
        let top = if h >= 1.0 { h } else { highest(poses) };
        each(poses, |p| Point::new(p.x, top - p.y));
        warnings.push(Warning::YUp);
    }
    if w >= 1.0 && h >= 1.0 {
        let margin = 0.25;
        let within = |p: Point| {
            p.x > -margin * w && p.x < (1.0 + margin) * w && p.y > -margin * h && p.y < (1.0 + margin) * h
        };
        let (inside, all) = counted(poses, within);
        if 2 * inside < all {
            warnings.push(Warning::PointsOutside { width_px: width, height_px: height });
        }
    }
    Ok(warnings)
}

/// Shoulders' middle over the ankles' (or hips'), positive when y runs down.
fn head_over_feet(pose: &Pose) -> Option<f64> {
    let middle = |a: Part| Some(pose.at(a)?.midpoint(pose.at(a.other_side())?).y);
    let low = middle(Part::LeftAnkle).or_else(|| middle(Part::LeftHip))?;
    Some(low - middle(Part::LeftShoulder)?)
}

fn each(poses: &mut [Pose], change: impl Fn(Point) -> Point) {
    for spot in poses.iter_mut().flat_map(|p| p.spots.iter_mut().flatten()) {
        spot.at = change(spot.at);
    }
}

fn places(poses: &[Pose]) -> impl Iterator<Item = Point> {
    poses.iter().flat_map(|p| p.spots.iter().flatten()).map(|s| s.at)
}

fn counted(poses: &[Pose], of: impl Fn(Point) -> bool) -> (usize, usize) {
    places(poses).fold((0, 0), |(n, all), p| (n + usize::from(of(p)), all + 1))
}

fn highest(poses: &[Pose]) -> f64 {
    places(poses).map(|p| p.y).fold(0.0, f64::max)
}

/// Before the swing shoulders, hips, knees and feet stand the same way round: a part whose left and right
/// contradict the shoulders' throughout is turned over. A whole body with left and right swapped cannot be told
/// from a hitter of the other side by its points alone, but for the toes: where they point the other way it is
/// said.
pub fn sides(track: &mut Track) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let Some(tall) = standing_height_px(&track.poses) else { return warnings };
    let all = bursts(&track.poses, tall);
    let swing_s = all.iter().max_by(|a, b| a.score().total_cmp(&b.score())).map_or(f64::MAX, |b| b.time_s);
    let before: Vec<&Pose> = track.poses.iter().filter(|p| p.time_s < swing_s - BODY_TURNS_S).collect();
    // How much farther right the left part is, body heights.
    let spread = |part: Part| {
        let apart = |p: &&Pose| Some((p.at(part)? - p.at(part.other_side())?).x / tall);
        median_of(before.iter().filter_map(apart)).filter(|s| s.abs() > CLEARLY_APART)
    };
    let Some(shoulders) = spread(Part::LeftShoulder) else { return warnings };
    let legs = [Part::LeftHip, Part::LeftKnee, Part::LeftAnkle, Part::LeftHeel, Part::LeftToe];
    let wrong: Vec<Part> =
        legs.into_iter().filter(|p| spread(*p).is_some_and(|s| s * shoulders < 0.0)).collect();
    // Toes against heels in the picture, down.
    let toes = [Part::LeftToe, Part::RightToe].map(|toe| {
        let heel = if toe == Part::LeftToe { Part::LeftHeel } else { Part::RightHeel };
        median_of(before.iter().filter_map(|p| Some((p.at(toe)? - p.at(heel)?).y / tall)))
    });
    for part in &wrong {
        for pose in &mut track.poses {
            let (left, right) = (pose.spot(*part), pose.spot(part.other_side()));
            pose.set(*part, right);
            pose.set(part.other_side(), left);
        }
    }
    if !wrong.is_empty() {
        warnings.push(Warning::SidesContradict);
    }
    if let [Some(l), Some(r)] = toes {
        let toes_down = if l.min(r) > TOES_POINT {
            1.0
        } else if l.max(r) < -TOES_POINT {
            -1.0
        } else {
            0.0
        };
        // The left farther right: the chest is seen, and the toes point at the camera.
        if toes_down * shoulders < 0.0 {
            warnings.push(Warning::SidesMirrored { chest: shoulders > 0.0 });
        }
    }
    warnings
}

/// Said where the points begin late, end soon or miss much.
pub fn seen_throughout(track: &Track, times_s: &[f64]) -> Option<Warning> {
    let (first, last) = (track.poses.first()?.time_s, track.poses.last()?.time_s);
    let (begin, end) = (*times_s.first()?, *times_s.last()?);
    let partial = first - begin > POINTS_LATE_S || end - last > POINTS_LATE_S;
    partial.then(|| Warning::PointsPartial { first_s: first, last_s: last, of_s: end - begin })
}
