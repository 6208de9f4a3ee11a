//! How alike two clips were filmed, judged from the clips themselves.

use super::params::{SAME_LIGHT, SAME_PLACE, SAME_SCENE, SAME_SETUP, SAME_SHARE};
use crate::math::mean_sd;
use crate::types::{EventId, FilmedAlike, Filming, FilmingChange, Part, Point, Reading, SceneLuma};

/// What `today` and `reference` have in common.
pub fn filmed_alike(today: &Reading, reference: &Reading) -> FilmedAlike {
    use FilmingChange::*;
    let mut changes = Vec::new();
    let mut add = |differs: bool, change| {
        if differs {
            changes.push(change);
        }
    };
    add(today.hitter.view != reference.hitter.view, View);
    add(today.hitter.bats != reference.hitter.bats, Side);
    add(apart(today.clip.capture_rate_hz, reference.clip.capture_rate_hz) > SAME_SHARE, Rate);
    // Sizes as a share of the picture: a file made smaller shows the same scene.
    let size = |r: &Reading| r.scale.body_height_px / (r.clip.height as f64).max(1.0);
    add(apart(size(today), size(reference)) > SAME_SETUP, BodySize);
    let moved = match (feet(today), feet(reference)) {
        (Some(a), Some(b)) => a.distance(b) > SAME_PLACE * (size(today) + size(reference)) / 2.0,
        _ => false,
    };
    add(moved, Place);
    add(today.camera.stood_still() != reference.camera.stood_still(), Steadiness);
    if let (Some(a), Some(b)) = (&today.scene, &reference.scene) {
        let (a, b) = (levels(a), levels(b));
        add(correlation(&a, &b).is_some_and(|c| c < SAME_SCENE), Background);
        add((mean_sd(&a).0 - mean_sd(&b).0).abs() > SAME_LIGHT, Light);
    }
    let has = |change: FilmingChange| changes.contains(&change);
    let filming = if has(View) || has(Side) {
        Filming::OtherView
    } else if has(Rate) || apart(size(today), size(reference)) > SAME_SHARE {
        Filming::Otherwise
    } else if changes.is_empty() {
        Filming::Alike
    } else {
        Filming::SetUpAnew
    };
    FilmedAlike { filming, changes }
}

/// How much larger the larger of two is, as a share.
pub(super) fn apart(a: f64, b: f64) -> f64 {
    a.max(b) / a.min(b).max(1e-9) - 1.0
}

/// The middle of both ankles at stance, shares of the picture's height.
fn feet(reading: &Reading) -> Option<Point> {
    let at_s = reading.events.get(&EventId::Stance).or(reading.events.values().next())?.time_s;
    let pose = reading.track.nearest(at_s)?;
    let (a, b) = (pose.at(Part::LeftAnkle)?, pose.at(Part::RightAnkle)?);
    Some((a + b) * (0.5 / (reading.clip.height as f64).max(1.0)))
}

fn levels(scene: &SceneLuma) -> Vec<f64> {
    scene.cells.iter().map(|c| f64::from(*c)).collect()
}

/// Pearson's; `None` where one of the two is all of one gray, or they are not of one form.
fn correlation(a: &[f64], b: &[f64]) -> Option<f64> {
    let ((ma, sa), (mb, sb)) = (mean_sd(a), mean_sd(b));
    let (sa, sb) = (sa?, sb?);
    if a.len() != b.len() || sa < 1.0 || sb < 1.0 {
        return None;
    }
    let sum: f64 = a.iter().zip(b).map(|(x, y)| (x - ma) * (y - mb)).sum();
    Some(sum / (a.len() as f64 - 1.0) / (sa * sb))
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use crate::types::{Measures, View};

    #[test]
    fn what_differs_is_named() {
        let one = sample::reading(Measures::new());
        assert_eq!(filmed_alike(&one, &one), FilmedAlike { filming: Filming::Alike, changes: vec![] });
        let mut other = one.clone();
        other.clip.capture_rate_hz *= 2.0;
        assert_eq!(filmed_alike(&one, &other).filming, Filming::Otherwise);
        other = one.clone();
        other.scale.body_height_px *= 1.1;
        let said = filmed_alike(&one, &other);
        assert_eq!((said.filming, said.changes), (Filming::SetUpAnew, vec![FilmingChange::BodySize]));
        other.scale.body_height_px *= 1.1;
        assert_eq!(filmed_alike(&one, &other).filming, Filming::Otherwise);
        other.hitter.view = View::ClosedSide;
        assert_eq!(filmed_alike(&one, &other).filming, Filming::OtherView);
    }

    #[test]
    fn another_scene_or_light_is_seen() {
        let with = |cell: &dyn Fn(usize) -> u8| {
            let cells = (0..SceneLuma::WIDTH * SceneLuma::HEIGHT).map(cell).collect();
            Reading { scene: Some(SceneLuma { cells }), ..sample::reading(Measures::new()) }
        };
        let one = with(&|i| 60 + (i % 16) as u8 * 8);
        let brighter = with(&|i| 90 + (i % 16) as u8 * 8);
        let elsewhere = with(&|i| 60 + (i / 16) as u8 * 14);
        assert_eq!(filmed_alike(&one, &one.clone()).changes, []);
        assert_eq!(filmed_alike(&one, &brighter).changes, [FilmingChange::Light]);
        assert_eq!(filmed_alike(&one, &elsewhere).changes, [FilmingChange::Background]);
    }
}
