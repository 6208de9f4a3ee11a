use super::super::params::{
    BELIEF_ASK_S, GRIP_APART, GRIP_HOLD_S, GRIP_MOVED, HIDDEN_ASK_S, HIDDEN_BELIEF, HIDDEN_SPEED_S,
    LONGEST_HIDDEN_S, NO_BELIEF, WIDEST_GRIP,
};
use crate::types::{Part, Point, Pose, Seen, Track};

use crate::math::median;

/// Both hands hold one bat. `seen`: the net's own points, of the same pictures.
///
/// One hand is often hidden by the other, by arm or by trunk, and the net then has it anywhere, for a tenth of a
/// second and longer: too long to be an outlier. The hand that the net believes less in is drawn to within
/// a hand's width of the other, its wrist with it; the more, the less of it is seen. Where both are seen alike, nothing is
/// changed. Where for a short while neither is seen (from behind the hitter, as they pass the trunk), both are
/// carried over it.
pub fn hold_the_grip(track: &mut Track, seen: &Track, height_px: f64) {
    let beliefs = Beliefs::of(seen);
    let held = held(track, height_px);
    for (pose, _) in track.poses.iter_mut().zip(&held).filter(|(_, held)| **held) {
        draw_to_the_seen_hand(pose, &beliefs, height_px);
    }
    carry_hidden(track, &held, &beliefs, height_px);
}

/// By pose: whether the hands hold one bat about then.
fn held(track: &Track, height_px: f64) -> Vec<bool> {
    let apart: Vec<(f64, f64)> = track
        .poses
        .iter()
        .filter_map(|p| Some((p.time_s, p.at(Part::LeftWrist)?.distance(p.at(Part::RightWrist)?))))
        .collect();
    let at = |pose: &Pose| {
        let near = || apart.iter().filter(|a| (a.0 - pose.time_s).abs() <= GRIP_HOLD_S);
        let together = near().filter(|a| a.1 < WIDEST_GRIP * height_px).count();
        together >= 2 && together * 2 >= near().count()
    };
    track.poses.iter().map(at).collect()
}

/// What the net believes of the left and the right hand: real s, 0…1.
struct Beliefs(Vec<(f64, f64, f64)>);

impl Beliefs {
    fn of(seen: &Track) -> Self {
        let belief = |p: &Pose, part| p.spot(part).map_or(0.0, |s| f64::from(s.visibility));
        let of = |p: &Pose| (p.time_s, belief(p, Part::LeftHand), belief(p, Part::RightHand));
        Self(seen.poses.iter().map(of).collect())
    }

    /// The median within `reach_s` of a time, left and right.
    fn about(&self, time_s: f64, reach_s: f64) -> (f64, f64) {
        let near = self.0.iter().filter(|b| (b.0 - time_s).abs() <= reach_s);
        let (mut left, mut right): (Vec<f64>, Vec<f64>) = near.map(|b| (b.1, b.2)).unzip();
        (median(&mut left).unwrap_or(0.0), median(&mut right).unwrap_or(0.0))
    }
}

fn draw_to_the_seen_hand(pose: &mut Pose, beliefs: &Beliefs, height_px: f64) {
    let (Some(left), Some(right)) = (pose.at(Part::LeftHand), pose.at(Part::RightHand)) else { return };
    let excess = left.distance(right) - GRIP_APART * height_px;
    if excess <= 0.0 {
        return;
    }
    let (of_left, of_right) = beliefs.about(pose.time_s, BELIEF_ASK_S);
    let (hand, wrist, way) = if of_left > of_right {
        (Part::RightHand, Part::RightWrist, left - right)
    } else {
        (Part::LeftHand, Part::LeftWrist, right - left)
    };
    let square = |belief: f64| (belief + NO_BELIEF).powi(2);
    let (more, less) = (square(of_left.max(of_right)), square(of_left.min(of_right)));
    let by = way * (excess / way.length() * (more - less) / (more + less));
    [hand, wrist].into_iter().for_each(|part| shift(pose, part, by, height_px));
}

fn middle(pose: &Pose) -> Option<Point> {
    Some(pose.at(Part::LeftHand)?.midpoint(pose.at(Part::RightHand)?))
}

fn carry_hidden(track: &mut Track, held: &[bool], beliefs: &Beliefs, height_px: f64) {
    // Time, place, whether it is seen.
    let hands: Vec<(usize, f64, Point, bool)> = track
        .poses
        .iter()
        .enumerate()
        .filter_map(|(i, pose)| {
            let (left, right) = beliefs.about(pose.time_s, HIDDEN_ASK_S);
            Some((i, pose.time_s, middle(pose)?, left.max(right) >= HIDDEN_BELIEF))
        })
        .collect();
    let seen: Vec<usize> = (0..hands.len()).filter(|k| hands[*k].3).collect();
    for pair in seen.windows(2) {
        let ((_, t0, from, _), (_, t1, to, _)) = (hands[pair[0]], hands[pair[1]]);
        if pair[1] == pair[0] + 1 || t1 - t0 > LONGEST_HIDDEN_S {
            continue;
        }
        let speed = |from_s: f64, to_s: f64| {
            let near = hands.iter().filter(|h| h.3 && (from_s - 1e-6..=to_s + 1e-6).contains(&h.1));
            slope(&near.map(|h| (h.1, h.2)).collect::<Vec<_>>())
        };
        let chord = (to - from) * (1.0 / (t1 - t0));
        // Faster than this at an end, the way would run past the other and back (Fritsch & Carlson 1980).
        let limited = |v: Point| v * (3.0 * chord.length() / v.length().max(1e-9)).min(1.0);
        let before = limited(speed(t0 - HIDDEN_SPEED_S, t0).unwrap_or(chord));
        let after = limited(speed(t1, t1 + HIDDEN_SPEED_S).unwrap_or(chord));
        for &(i, time_s, at, _) in &hands[pair[0] + 1..pair[1]] {
            let (Some(true), Some(pose)) = (held.get(i), track.poses.get_mut(i)) else { continue };
            let by = cubic((t0, from, before), (t1, to, after), time_s) - at;
            for part in [Part::LeftHand, Part::LeftWrist, Part::RightHand, Part::RightWrist] {
                shift(pose, part, by, height_px);
            }
        }
    }
}

/// Least squares, px/s; `None` from fewer than two places.
fn slope(places: &[(f64, Point)]) -> Option<Point> {
    let n = places.len() as f64;
    let middle_s = places.iter().map(|p| p.0).sum::<f64>() / n;
    let square: f64 = places.iter().map(|p| (p.0 - middle_s).powi(2)).sum();
    let sum = places.iter().fold(Point::default(), |s, p| s + p.1 * (p.0 - middle_s));
    (places.len() > 1 && square > 0.0).then(|| sum * (1.0 / square))
}

/// Between two places with their speeds.
fn cubic(
    (t0, from, before): (f64, Point, Point),
    (t1, to, after): (f64, Point, Point),
    time_s: f64,
) -> Point {
    let length_s = t1 - t0;
    let t = (time_s - t0) / length_s;
    let (t2, t3) = (t * t, t * t * t);
    from * (2.0 * t3 - 3.0 * t2 + 1.0)
        + before * (length_s * (t3 - 2.0 * t2 + t))
        + to * (3.0 * t2 - 2.0 * t3)
        + after * (length_s * (t3 - t2))
}

fn shift(pose: &mut Pose, part: Part, by: Point, height_px: f64) {
    if let Some(mut spot) = pose.spot(part) {
        spot.at = spot.at + by;
        if by.length() > GRIP_MOVED * height_px {
            spot.seen = Seen::Inferred;
        }
        pose.set(part, Some(spot));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Spot;

    const HEIGHT_PX: f64 = 400.0;

    /// Both hands go by at 120 Hz, the right one where it is; the left one, of which so much is seen, so far beside it.
    fn swing(left_seen: f32, apart_px: f64) -> Track {
        let poses = (0..60).map(|i| {
            let mut pose = Pose::empty(i, i as f64 / 120.0);
            let right = Point::new(100.0 + 4.0 * i as f64, 200.0);
            let left = right - Point::new(apart_px, 0.0);
            for (part, at, visibility) in [
                (Part::RightHand, right, 0.8),
                (Part::RightWrist, right + Point::new(0.0, 15.0), 0.8),
                (Part::LeftHand, left, left_seen),
                (Part::LeftWrist, left + Point::new(0.0, 15.0), left_seen),
            ] {
                pose.set(part, Some(Spot { at, visibility, seen: Seen::Picture }));
            }
            pose
        });
        Track { poses: poses.collect() }
    }

    fn drawn(track: &Track) -> Track {
        let mut out = track.clone();
        hold_the_grip(&mut out, track, HEIGHT_PX);
        out
    }

    #[test]
    fn a_hidden_hand_comes_to_the_one_that_is_seen() {
        let before = swing(0.04, 50.0);
        for (now, was) in drawn(&before).poses.iter().zip(&before.poses) {
            let (left, right) = (now.spot(Part::LeftHand).unwrap(), now.spot(Part::RightHand).unwrap());
            assert_eq!(Some(right), was.spot(Part::RightHand));
            let apart = left.at.distance(right.at);
            assert!((apart - GRIP_APART * HEIGHT_PX).abs() < 1.0 && left.seen == Seen::Inferred, "{apart}");
            let wrist = now.at(Part::LeftWrist).unwrap() - left.at;
            assert!((wrist - Point::new(0.0, 15.0)).length() < 1e-9, "the wrist goes with its hand");
        }
    }

    #[test]
    fn one_picture_in_which_the_net_is_sure_of_an_elbow_changes_little() {
        let mut before = swing(0.04, 50.0);
        let spot = before.poses[30].spot(Part::LeftHand).unwrap();
        before.poses[30].set(Part::LeftHand, Some(Spot { visibility: 0.95, ..spot }));
        let now = drawn(&before);
        assert_eq!(now.poses[30].spot(Part::RightHand), before.poses[30].spot(Part::RightHand));
    }

    #[test]
    fn hands_that_are_seen_alike_close_together_or_off_the_bat_are_left_alone() {
        for track in [swing(0.8, 50.0), swing(0.04, 15.0), swing(0.04, 120.0)] {
            assert_eq!(drawn(&track), track);
        }
        assert_eq!(drawn(&Track::default()), Track::default());
    }

    #[test]
    fn hands_that_nobody_sees_for_a_moment_are_carried_over_it() {
        let mut before = swing(0.8, 15.0);
        let truth = before.clone();
        for i in 28..36 {
            for part in [Part::LeftHand, Part::RightHand, Part::LeftWrist, Part::RightWrist] {
                let spot = before.poses[i].spot(part).unwrap();
                let at = spot.at + Point::new(-30.0, -20.0);
                before.poses[i].set(part, Some(Spot { at, visibility: 0.03, ..spot }));
            }
        }
        for (now, then) in drawn(&before).poses.iter().zip(&truth.poses) {
            let off = middle(now).unwrap().distance(middle(then).unwrap());
            // The belief's median reaches two pictures into the stretch and out of it.
            assert!(off < 1.0, "{}: {off}", now.frame);
        }
        let mut long = swing(0.03, 15.0);
        for pose in &mut long.poses {
            let spot = pose.spot(Part::RightHand).unwrap();
            pose.set(Part::RightHand, Some(Spot { visibility: 0.03, ..spot }));
        }
        assert_eq!(drawn(&long), long);
    }
}
