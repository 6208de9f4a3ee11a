//! Which side the hitter bats from, where the pitcher is, from where he is seen: from the motion itself.

use super::burst::{Burst, middle_series};
use super::figure::part_series;
use super::series::median;
use crate::ground::{Hitter, Part, PitcherSide, Side, Track, View};

/// Stance is looked at this long before the hands are fastest, s.
const BEFORE_PEAK_S: (f64, f64) = (1.4, 0.55);
/// Feet closer than this in the picture at stance, body heights: the line of the feet points at the camera.
/// Stances are 0.25–0.6 wide (common practice, no source).
const NARROW_FEET: f64 = 0.16;

/// `track` in steady px.
pub fn find_hitter(track: &Track, burst: &Burst, body_height_px: f64) -> Hitter {
    let (from, to) = (burst.peak_s - BEFORE_PEAK_S.0, burst.peak_s - BEFORE_PEAK_S.1);
    let place = |part: Part| {
        let series = part_series(track, part);
        series.median(from, to).or_else(|| series.median(f64::MIN, burst.peak_s))
    };
    // How much farther right the left part is than the right one, body heights.
    let spread = |left: Part| Some((place(left)?.x - place(left.other_side())?.x) / body_height_px);
    let feet = spread(Part::LeftAnkle).or_else(|| spread(Part::LeftKnee)).unwrap_or(0.0);
    let shoulders = spread(Part::LeftShoulder).unwrap_or(0.0);
    let hips = spread(Part::LeftHip).unwrap_or(0.0);
    let along = [feet, 1.4 * shoulders, 2.0 * hips];
    let left_is_right_of = median(along.to_vec()).unwrap_or(0.0) > 0.0;
    let narrow = feet.abs() < NARROW_FEET && shoulders.abs() < NARROW_FEET * 0.7;
    if narrow {
        return along_the_line_of_sight(track, from, to, burst);
    }
    // The hands, the stride and the arms after contact all go toward the pitcher.
    let reach = reach_after(track, burst);
    let votes = burst.direction.x * 2.0
        + (reach / body_height_px).clamp(-1.0, 1.0)
        + (stride(track, burst) / body_height_px * 3.0).clamp(-1.0, 1.0);
    let pitcher_right = votes > 0.0;
    // Chest to the camera: the hitter's left is on the picture's right.
    let view = if left_is_right_of { View::OpenSide } else { View::ClosedSide };
    let front_is_left = pitcher_right == left_is_right_of;
    Hitter {
        bats: if front_is_left { Side::Right } else { Side::Left },
        pitcher_side: if pitcher_right { PitcherSide::Right } else { PitcherSide::Left },
        view,
    }
}

/// Hands' middle relative to the shoulders', soonest after the hands are fastest, px to the right.
fn reach_after(track: &Track, burst: &Burst) -> f64 {
    let relative = |part: Part| middle_series(track, part).median(burst.peak_s + 0.02, burst.peak_s + 0.12);
    match (relative(Part::LeftWrist), relative(Part::LeftShoulder)) {
        (Some(hands), Some(shoulders)) => hands.x - shoulders.x,
        _ => 0.0,
    }
}

/// How far the feet's middle moves to the right from stance to the swing, px.
fn stride(track: &Track, burst: &Burst) -> f64 {
    let feet = middle_series(track, Part::LeftAnkle);
    let before = feet.median(burst.peak_s - BEFORE_PEAK_S.0, burst.peak_s - BEFORE_PEAK_S.1);
    match (before, feet.median(burst.peak_s - 0.1, burst.peak_s + 0.05)) {
        (Some(before), Some(at)) => at.x - before.x,
        _ => 0.0,
    }
}

/// Filmed from behind or from the front. The toes point at the plate; the foot that strides is the front
/// one. Chest toward larger x and the left foot striding is a right-handed hitter seen from behind; the
/// right foot striding, a left-handed one seen from the front.
fn along_the_line_of_sight(track: &Track, from: f64, to: f64, burst: &Burst) -> Hitter {
    let points: f64 = [(Part::LeftToe, Part::LeftHeel), (Part::RightToe, Part::RightHeel)]
        .into_iter()
        .filter_map(|(toe, heel)| {
            let at = |p| part_series(track, p).median(from, to);
            Some((at(toe)? - at(heel)?).x)
        })
        .sum();
    let chest_right = points > 0.0;
    let left_strides =
        farthest(track, Part::LeftAnkle, from, burst) >= farthest(track, Part::RightAnkle, from, burst);
    let behind = chest_right == left_strides;
    Hitter {
        bats: if left_strides { Side::Right } else { Side::Left },
        pitcher_side: if behind { PitcherSide::Away } else { PitcherSide::Toward },
        view: if behind { View::FromBehind } else { View::FromFront },
    }
}

/// The farthest a part gets from its place in the stance before the swing, px.
fn farthest(track: &Track, part: Part, from: f64, burst: &Burst) -> f64 {
    let series = part_series(track, part);
    let Some(home) = series.median(from, from + 0.3).or_else(|| series.points.first().copied()) else {
        return 0.0;
    };
    series
        .times_s
        .iter()
        .zip(&series.points)
        .filter(|(t, _)| **t >= from && **t <= burst.peak_s - 0.08)
        .map(|(_, p)| p.distance(home))
        .fold(0.0, f64::max)
}
