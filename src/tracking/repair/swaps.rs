use super::super::params::{AGAINST_THE_NET, SWAP_CHANGE, SWAP_LONGEST_STEP_S};
use crate::types::{Part, Pose, Track};

/// Parts that change sides together.
const GROUPS: [&[Part]; 2] = [
    &[Part::LeftShoulder, Part::LeftElbow, Part::LeftWrist, Part::LeftHand],
    &[Part::LeftHip, Part::LeftKnee, Part::LeftAnkle, Part::LeftHeel, Part::LeftToe],
];

/// Finds the pictures in which the net took left for right, for arms and legs apart, by the least total
/// jumping over the whole track (Viterbi), and swaps them back.
pub fn undo_swaps(track: &Track, height_px: f64) -> Track {
    let mut out = track.clone();
    for group in GROUPS {
        let swapped = best_sides(track, group, height_px);
        for (pose, _) in out.poses.iter_mut().zip(swapped).filter(|(_, s)| *s) {
            for part in group {
                let (left, right) = (pose.spot(*part), pose.spot(part.other_side()));
                pose.set(*part, right);
                pose.set(part.other_side(), left);
            }
        }
    }
    out
}

fn best_sides(track: &Track, group: &[Part], height_px: f64) -> Vec<bool> {
    // cost[s]: least cost so far when the current picture is taken as it is (0) or swapped (1).
    let step_s = |pair: &[Pose]| (pair[1].time_s - pair[0].time_s).clamp(0.0, SWAP_LONGEST_STEP_S);
    let mut cost = [0.0, AGAINST_THE_NET * track.poses.windows(2).next().map_or(0.0, step_s)];
    let mut came_from: Vec<[usize; 2]> = Vec::with_capacity(track.poses.len());
    for pair in track.poses.windows(2) {
        let same = jump(&pair[0], &pair[1], group, false) / height_px;
        let cross = jump(&pair[0], &pair[1], group, true) / height_px;
        let mut next = [0.0; 2];
        let mut from = [0; 2];
        for now in 0..2 {
            let stay = cost[now] + same;
            let change = cost[1 - now] + cross + SWAP_CHANGE;
            from[now] = if change < stay { 1 - now } else { now };
            next[now] = stay.min(change) + AGAINST_THE_NET * step_s(pair) * now as f64;
        }
        cost = next;
        came_from.push(from);
    }
    let mut state = usize::from(cost[1] < cost[0]);
    let mut sides = vec![state == 1];
    for from in came_from.iter().rev() {
        state = from[state];
        sides.push(state == 1);
    }
    sides.reverse();
    sides
}

/// How far the group's parts move from one picture to the next, px, mean of the parts known in both.
fn jump(a: &Pose, b: &Pose, group: &[Part], crossed: bool) -> f64 {
    let (mut sum, mut n) = (0.0, 0.0);
    for &part in group {
        for part in [part, part.other_side()] {
            let to = if crossed { part.other_side() } else { part };
            if let (Some(p), Some(q)) = (a.at(part), b.at(to)) {
                sum += p.distance(q);
                n += 1.0;
            }
        }
    }
    if n > 0.0 { sum / n } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Point, Seen, Spot};

    fn walking(i: usize) -> Pose {
        let t = i as f64 / 30.0;
        let mut p = Pose::empty(i, t);
        let mut put = |part, x: f64, y: f64| {
            p.set(part, Some(Spot { at: Point::new(x, y), visibility: 0.9, seen: Seen::Picture }));
        };
        // Legs that pass each other, as seen from the side.
        let swing = 40.0 * (4.0 * t).sin();
        for (left, y, k) in [
            (Part::LeftHip, 200.0, 0.1),
            (Part::LeftKnee, 300.0, 0.6),
            (Part::LeftAnkle, 390.0, 1.0),
            (Part::LeftToe, 400.0, 1.1),
        ] {
            put(left, 100.0 + swing * k, y);
            put(left.other_side(), 100.0 - swing * k, y);
        }
        p
    }

    fn swap(p: &mut Pose) {
        for part in GROUPS[1] {
            let (l, r) = (p.spot(*part), p.spot(part.other_side()));
            p.set(*part, r);
            p.set(part.other_side(), l);
        }
    }

    #[test]
    fn legs_that_pass_each_other_are_left_alone() {
        let t = Track { poses: (0..90).map(walking).collect() };
        assert_eq!(undo_swaps(&t, 400.0), t);
    }

    #[test]
    fn swapped_stretches_are_undone() {
        let t = Track { poses: (0..90).map(walking).collect() };
        let mut wrong = t.clone();
        for i in [11, 12, 13, 40, 58, 59] {
            swap(&mut wrong.poses[i]);
        }
        assert_eq!(undo_swaps(&wrong, 400.0), t);
    }

    #[test]
    fn the_rate_of_the_clip_does_not_decide() {
        // For `long_s` the net has the legs the other way round; they stand 6 % of the height apart, so
        // going against it saves 2 × 0.06 − 2 × 0.04 body heights at its two ends: 1/15 s of doubt.
        let undone = |rate_hz: f64, long_s: f64| {
            let from = rate_hz as usize;
            let to = from + (long_s * rate_hz).round() as usize;
            let poses = (0..2 * from).map(|i| {
                let mut p = Pose::empty(i, i as f64 / rate_hz);
                for part in GROUPS[1] {
                    let side = if (from..to).contains(&i) { -12.0 } else { 12.0 };
                    let spot =
                        |x| Some(Spot { at: Point::new(x, 300.0), visibility: 0.9, seen: Seen::Picture });
                    p.set(*part, spot(100.0 + side));
                    p.set(part.other_side(), spot(100.0 - side));
                }
                p
            });
            let given = Track { poses: poses.collect() };
            undo_swaps(&given, 400.0) != given
        };
        for rate_hz in [30.0, 60.0, 120.0, 240.0] {
            assert!(undone(rate_hz, 0.034), "{rate_hz}");
            assert!(!undone(rate_hz, 0.134), "{rate_hz}");
        }
    }

    #[test]
    fn nothing_and_gaps_are_safe() {
        assert_eq!(undo_swaps(&Track::default(), 400.0), Track::default());
        let t = Track { poses: (0..5).map(|i| Pose::empty(i, i as f64)).collect() };
        assert_eq!(undo_swaps(&t, 400.0), t);
    }
}
