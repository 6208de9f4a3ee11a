use super::super::params::{BAT_HOLD_S, HAND_WIDTH, WIDEST_GRIP, WRIST_ASK_S};
use crate::types::{Part, Point, Track};

use super::series::infer;
use crate::math::median;

/// Both hands hold one bat. While they do, a wrist or hand that jumps away from its fellow, or is missing, is
/// put back beside it, at the distance its good neighbours show, and marked inferred. A real letting go lasts
/// and is left alone.
pub fn hold_one_bat(track: &mut Track, height_px: f64) {
    for (left, right) in [(Part::LeftWrist, Part::RightWrist), (Part::LeftHand, Part::RightHand)] {
        put_back(track, left, right, height_px);
    }
}

/// What a picture shows of the two.
#[derive(Clone, Copy)]
struct Grip {
    time_s: f64,
    left: Option<Point>,
    right: Option<Point>,
}

impl Grip {
    fn both(&self) -> Option<(Point, Point)> {
        Some((self.left?, self.right?))
    }

    fn apart(&self) -> Option<f64> {
        self.both().map(|(l, r)| l.distance(r))
    }
}

fn put_back(track: &mut Track, left: Part, right: Part, height_px: f64) {
    let grips: Vec<Grip> =
        track.poses.iter().map(|p| Grip { time_s: p.time_s, left: p.at(left), right: p.at(right) }).collect();
    let usual: Vec<Option<f64>> = grips.iter().map(|g| usual_grip(&grips, g.time_s, height_px)).collect();
    let good: Vec<bool> = grips
        .iter()
        .zip(&usual)
        .map(|(g, usual)| match (g.apart(), usual) {
            (Some(apart), Some(usual)) => apart <= usual + HAND_WIDTH * height_px,
            _ => false,
        })
        .collect();
    for (i, grip) in grips.iter().enumerate() {
        if good[i] || usual[i].is_none() {
            continue;
        }
        let before = (0..i).rev().find(|&k| good[k]).map(|k| grips[k]);
        let after = (i + 1..grips.len()).find(|&k| good[k]).map(|k| grips[k]);
        // (expected place of left, of right, from left to right)
        let (Some(expected), Some(offset)) = (
            between(before, after, grip.time_s, &|l, r| (l, r)),
            between(before, after, grip.time_s, &|l, r| (r - l, Point::default())).map(|o| o.0),
        ) else {
            continue;
        };
        let keep_left = match (grip.left, grip.right) {
            (Some(l), Some(r)) => l.distance(expected.0) <= r.distance(expected.1),
            (Some(_), None) => true,
            (None, Some(_)) => false,
            (None, None) => continue,
        };
        let (jumper, fellow, at) = match (keep_left, grip.left, grip.right) {
            (true, Some(l), _) => (right, left, l + offset),
            (false, _, Some(r)) => (left, right, r - offset),
            _ => continue,
        };
        let belief = track.poses.get(i).and_then(|p| p.spot(fellow)).map_or(0.0, |s| s.visibility * 0.5);
        infer(track, i, jumper, at, belief);
    }
}

/// The usual distance while the hands are together about `time_s`, px; `None` when they mostly are not.
fn usual_grip(grips: &[Grip], time_s: f64, height_px: f64) -> Option<f64> {
    let from = grips.partition_point(|g| g.time_s < time_s - BAT_HOLD_S);
    let to = grips.partition_point(|g| g.time_s <= time_s + BAT_HOLD_S);
    let known: Vec<f64> = grips.get(from..to)?.iter().filter_map(Grip::apart).collect();
    let mut together: Vec<f64> = known.iter().copied().filter(|d| *d < WIDEST_GRIP * height_px).collect();
    if together.len() < 2 || together.len() * 2 < known.len() {
        return None;
    }
    median(&mut together)
}

fn between(
    before: Option<Grip>,
    after: Option<Grip>,
    time_s: f64,
    of: &dyn Fn(Point, Point) -> (Point, Point),
) -> Option<(Point, Point)> {
    let value = |g: Grip| {
        let (l, r) = g.both()?;
        ((g.time_s - time_s).abs() <= WRIST_ASK_S).then(|| (g.time_s, of(l, r)))
    };
    match (before.and_then(value), after.and_then(value)) {
        (Some((t0, a)), Some((t1, b))) if t1 > t0 => {
            let t = (time_s - t0) / (t1 - t0);
            Some((a.0.lerp(b.0, t), a.1.lerp(b.1, t)))
        }
        (Some((_, v)), _) | (None, Some((_, v))) => Some(v),
        (None, None) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Pose, Seen, Spot};

    fn swing(rate: f64, wrong: &[usize], let_go_s: f64) -> Track {
        let poses = (0..rate as usize)
            .map(|i| {
                let t = i as f64 / rate;
                let share = 1.0 / (1.0 + (-(t - 0.5) * 25.0).exp());
                let left = Point::new(100.0 + 350.0 * share, 200.0);
                let mut right = left + Point::new(10.0 - 20.0 * share, 20.0);
                if wrong.contains(&i) {
                    right = Point::new(90.0, 320.0);
                }
                if t > let_go_s {
                    right = Point::new(250.0, 380.0);
                }
                let mut p = Pose::empty(i, t);
                for (part, at) in [(Part::LeftWrist, left), (Part::RightWrist, right)] {
                    p.set(part, Some(Spot { at, visibility: 0.9, seen: Seen::Picture }));
                }
                p
            })
            .collect();
        Track { poses }
    }

    #[test]
    fn the_hand_that_jumps_away_is_put_back_beside_the_other() {
        let wrong = [14, 15, 16];
        let truth = swing(30.0, &[], 9.0);
        let mut t = swing(30.0, &wrong, 9.0);
        hold_one_bat(&mut t, 400.0);
        for (i, (p, q)) in t.poses.iter().zip(&truth.poses).enumerate() {
            let spot = p.spot(Part::RightWrist).unwrap();
            assert!(spot.at.distance(q.at(Part::RightWrist).unwrap()) < 12.0, "{i}");
            assert_eq!(spot.seen == Seen::Inferred, wrong.contains(&i), "{i}");
            assert_eq!(p.spot(Part::LeftWrist), q.spot(Part::LeftWrist), "{i}");
        }
    }

    #[test]
    fn a_missing_wrist_is_found_beside_the_other() {
        let truth = swing(60.0, &[], 9.0);
        let mut t = truth.clone();
        for i in 28..33 {
            t.poses[i].set(Part::LeftWrist, None);
        }
        hold_one_bat(&mut t, 400.0);
        for (p, q) in t.poses.iter().zip(&truth.poses) {
            assert!(p.at(Part::LeftWrist).unwrap().distance(q.at(Part::LeftWrist).unwrap()) < 6.0);
        }
    }

    #[test]
    fn letting_go_after_the_finish_is_kept() {
        let before = swing(60.0, &[], 0.75);
        let mut t = before.clone();
        hold_one_bat(&mut t, 400.0);
        // Beyond the time in which holding could still be meant, nothing is touched.
        for (p, q) in t.poses.iter().zip(&before.poses).filter(|(p, _)| p.time_s > 0.95) {
            assert_eq!(p, q);
        }
    }

    #[test]
    fn hands_that_are_always_apart_are_left_alone() {
        let mut t = swing(60.0, &[], -1.0);
        let before = t.clone();
        hold_one_bat(&mut t, 400.0);
        assert_eq!(t, before);
    }
}
