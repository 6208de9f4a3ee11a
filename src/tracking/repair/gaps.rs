use crate::types::{PARTS, Point, Track};

use super::series::{Series, infer};

/// Fills gaps of up to `longest_s` between two known places; longer ones stay gaps. A gap at either end of
/// the track is never filled.
pub fn fill_gaps(track: &mut Track, longest_s: f64) {
    for part in PARTS {
        let samples = Series::of(track, part).samples;
        for (k, pair) in samples.windows(2).enumerate() {
            let (&(i, t0, a), &(j, t1, b)) = (&pair[0], &pair[1]);
            // A gap of length g lies between samples g plus one step apart.
            if j <= i + 1 || t1 - t0 > longest_s + (t1 - t0) / (j - i) as f64 {
                continue;
            }
            // Neighbours at least half a gap away where there are any: a slope from two close pictures is mostly
            // noise.
            let gap_s = t1 - t0;
            let far_enough = |s: &&(usize, f64, Point), from_s: f64| (from_s - s.1).abs() >= gap_s / 2.0;
            let near_enough = |s: &&(usize, f64, Point), from_s: f64| (from_s - s.1).abs() <= 2.0 * gap_s;
            let before = samples.get(..k).and_then(|past| {
                past.iter().rev().find(|s| far_enough(s, t0)).or(past.first()).filter(|s| near_enough(s, t0))
            });
            let after = samples.get(k + 2..).and_then(|next| {
                next.iter().find(|s| far_enough(s, t1)).or(next.last()).filter(|s| near_enough(s, t1))
            });
            let chord = (b - a) * (1.0 / gap_s);
            // The slope of the parabola through the end of the gap, its neighbour and the other end.
            let slope = |end: (f64, Point), neighbour: Option<&(usize, f64, Point)>| {
                let Some(n) = neighbour else { return chord };
                let h = (n.1 - end.0).abs();
                ((n.2 - end.1) * (1.0 / (n.1 - end.0)) * gap_s + chord * h) * (1.0 / (gap_s + h))
            };
            let start = slope((t0, a), before);
            let end = slope((t1, b), after);
            for missing in i + 1..j {
                let Some(time_s) = track.poses.get(missing).map(|p| p.time_s) else { continue };
                let at = hermite((t0, a, start), (t1, b, end), time_s);
                let low =
                    |i: usize| track.poses.get(i).and_then(|p| p.spot(part)).map_or(0.0, |s| s.visibility);
                let visibility = low(i).min(low(j));
                infer(track, missing, part, at, visibility);
            }
        }
    }
}

/// A cubic through two places with given velocities, px/s.
fn hermite((t0, a, va): (f64, Point, Point), (t1, b, vb): (f64, Point, Point), time_s: f64) -> Point {
    let length = t1 - t0;
    let t = (time_s - t0) / length;
    let (t2, t3) = (t * t, t * t * t);
    a * (2.0 * t3 - 3.0 * t2 + 1.0)
        + va * (length * (t3 - 2.0 * t2 + t))
        + b * (3.0 * t2 - 2.0 * t3)
        + vb * (length * (t3 - t2))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Part, Pose, Seen, Spot};

    fn track(known: impl Fn(usize) -> bool) -> Track {
        let poses = (0..30)
            .map(|i| {
                let t = i as f64 / 60.0;
                let mut p = Pose::empty(i, t);
                if known(i) {
                    let at = Point::new(100.0 + 400.0 * t * t, 50.0);
                    p.set(Part::LeftToe, Some(Spot { at, visibility: 0.8, seen: Seen::Picture }));
                }
                p
            })
            .collect();
        Track { poses }
    }

    #[test]
    fn short_gaps_are_filled_along_the_curve_and_marked() {
        let mut t = track(|i| !(10..14).contains(&i));
        fill_gaps(&mut t, 0.08);
        for (i, pose) in t.poses.iter().enumerate() {
            let spot = pose.spot(Part::LeftToe).unwrap();
            let wanted = 100.0 + 400.0 * pose.time_s * pose.time_s;
            assert!((spot.at.x - wanted).abs() < 0.5, "{i}: {} {wanted}", spot.at.x);
            assert_eq!(spot.seen == Seen::Inferred, (10..14).contains(&i));
        }
    }

    #[test]
    fn long_gaps_and_open_ends_stay() {
        let mut t = track(|i| (3..27).contains(&i) && !(10..18).contains(&i));
        let before = t.clone();
        fill_gaps(&mut t, 0.08);
        assert_eq!(t, before);
    }
}
