use super::super::params::{MEDIAN_WINDOW, MEDIAN_WINDOW_S, OUTLIER_ASK_S};
use crate::types::{PARTS, Part, Track};

use super::series::{Series, clear};
use crate::math::median;

/// Faster than anybody moves a part, body heights a second: hands at most about 8 in a swing (chosen here,
/// with room for the perspective of a near camera).
fn fastest(part: Part) -> f64 {
    use Part::*;
    match part {
        LeftWrist | RightWrist | LeftHand | RightHand => 14.0,
        LeftElbow | RightElbow => 9.0,
        LeftAnkle | RightAnkle | LeftHeel | RightHeel | LeftToe | RightToe => 8.0,
        _ => 6.0,
    }
}

/// A part may stray from the running median so far before it is an outlier, body heights.
fn play(part: Part) -> f64 {
    use Part::*;
    match part {
        LeftWrist | RightWrist | LeftHand | RightHand => 0.06,
        LeftElbow | RightElbow => 0.05,
        _ => 0.03,
    }
}

/// Segments with a length of their own: seen from the side they may look shorter, never longer.
const SEGMENTS: [(Part, Part); 10] = [
    (Part::LeftShoulder, Part::LeftElbow),
    (Part::RightShoulder, Part::RightElbow),
    (Part::LeftElbow, Part::LeftWrist),
    (Part::RightElbow, Part::RightWrist),
    (Part::LeftHip, Part::LeftKnee),
    (Part::RightHip, Part::RightKnee),
    (Part::LeftKnee, Part::LeftAnkle),
    (Part::RightKnee, Part::RightAnkle),
    (Part::LeftAnkle, Part::LeftToe),
    (Part::RightAnkle, Part::RightToe),
];

/// Drops single wrong places: those that jump away and back, those far from the running median of their
/// neighbours, and the far end of a limb that is longer than it can be.
pub fn drop_outliers(track: &mut Track, height_px: f64) {
    for part in PARTS {
        for pose in jumps(track, part, height_px) {
            clear(track, pose, part);
        }
        for pose in strays(track, part, height_px) {
            clear(track, pose, part);
        }
    }
    for (near, far) in SEGMENTS {
        for pose in too_long(track, near, far, height_px) {
            clear(track, pose, far);
        }
    }
}

/// Poses where a part is too far from where it was and from where it will be, while those two agree.
fn jumps(track: &Track, part: Part, height_px: f64) -> Vec<usize> {
    let series = Series::of(track, part);
    let limit = fastest(part) * height_px;
    let mut out = Vec::new();
    for w in series.samples.windows(3) {
        let (a, b, c) = (w[0], w[1], w[2]);
        let into = a.2.distance(b.2) / (b.1 - a.1);
        let away = b.2.distance(c.2) / (c.1 - b.1);
        let across = a.2.distance(c.2) / (c.1 - a.1);
        if c.1 - a.1 <= OUTLIER_ASK_S && into > limit && away > limit && across < limit {
            out.push(b.0);
        }
    }
    out
}

/// Hampel's rule: farther from the running median than its neighbours usually are.
fn strays(track: &Track, part: Part, height_px: f64) -> Vec<usize> {
    let series = Series::of(track, part).samples;
    let mut out = Vec::new();
    for (k, s) in series.iter().enumerate() {
        let mut lo = k;
        while lo > 0 && (k - lo < MEDIAN_WINDOW || s.1 - series[lo - 1].1 <= MEDIAN_WINDOW_S) {
            lo -= 1;
        }
        let mut hi = k;
        while hi + 1 < series.len() && (hi - k < MEDIAN_WINDOW || series[hi + 1].1 - s.1 <= MEDIAN_WINDOW_S) {
            hi += 1;
        }
        // The same reach on both sides, so that steady motion has its middle in the middle.
        let reach = (k - lo).min(hi - k);
        let Some(near) = series.get(k - reach..=k + reach) else { continue };
        if reach < MEDIAN_WINDOW
            || near.last().zip(near.first()).is_none_or(|(b, a)| b.1 - a.1 > OUTLIER_ASK_S)
        {
            continue;
        }
        let deviation = |of: &dyn Fn(usize) -> f64| {
            let mut values: Vec<f64> = (k - reach..=k + reach).map(of).collect();
            let middle = median(&mut values)?;
            let mut off: Vec<f64> = values.iter().map(|v| (v - middle).abs()).collect();
            // 1.4826: from median deviation to standard deviation of a normal distribution.
            Some(((of(k) - middle).abs(), 1.4826 * median(&mut off)?))
        };
        let (Some(x), Some(y)) = (deviation(&|i| series[i].2.x), deviation(&|i| series[i].2.y)) else {
            continue;
        };
        let floor = play(part) * height_px;
        if x.0 > (3.5 * x.1).max(floor) || y.0 > (3.5 * y.1).max(floor) {
            out.push(s.0);
        }
    }
    out
}

fn too_long(track: &Track, near: Part, far: Part, height_px: f64) -> Vec<usize> {
    let lengths: Vec<(usize, f64)> = track
        .poses
        .iter()
        .enumerate()
        .filter_map(|(i, p)| Some((i, p.at(near)?.distance(p.at(far)?))))
        .collect();
    let mut sorted: Vec<f64> = lengths.iter().map(|l| l.1).collect();
    sorted.sort_by(f64::total_cmp);
    let Some(usual) = sorted.get(sorted.len() * 9 / 10) else { return Vec::new() };
    let limit = usual * 1.25 + 0.02 * height_px;
    lengths.into_iter().filter(|l| l.1 > limit).map(|l| l.0).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Point, Pose, Seen, Spot};

    fn put(pose: &mut Pose, part: Part, x: f64, y: f64) {
        pose.set(part, Some(Spot { at: Point::new(x, y), visibility: 0.9, seen: Seen::Picture }));
    }

    /// A wrist that speeds up and turns, 400 px tall hitter, at `rate` pictures a second.
    fn swing(rate: f64) -> Track {
        let poses = (0..(rate as usize))
            .map(|i| {
                let t = i as f64 / rate;
                let share = 1.0 / (1.0 + (-(t - 0.5) * 30.0).exp());
                let mut p = Pose::empty(i, t);
                put(&mut p, Part::LeftWrist, 100.0 + 350.0 * share, 200.0 - 120.0 * (share * 3.1).sin());
                put(&mut p, Part::Nose, 200.0, 50.0);
                p
            })
            .collect();
        Track { poses }
    }

    #[test]
    fn a_clean_swing_loses_nothing_at_any_rate() {
        for rate in [30.0, 60.0, 120.0, 240.0] {
            let mut t = swing(rate);
            drop_outliers(&mut t, 400.0);
            assert_eq!(t, swing(rate), "{rate}");
        }
    }

    #[test]
    fn a_wrist_that_jumps_away_for_one_or_two_pictures_is_dropped() {
        for rate in [30.0, 120.0] {
            let mut t = swing(rate);
            let bad = [rate as usize / 4, rate as usize * 3 / 4, rate as usize * 3 / 4 + 1];
            for i in bad {
                put(&mut t.poses[i], Part::LeftWrist, 420.0 - 250.0 * f64::from(i > rate as usize / 2), 60.0);
            }
            drop_outliers(&mut t, 400.0);
            for (i, p) in t.poses.iter().enumerate() {
                assert_eq!(p.at(Part::LeftWrist).is_none(), bad.contains(&i), "{rate}: {i}");
            }
        }
    }

    #[test]
    fn a_limb_longer_than_itself_loses_its_far_end() {
        let mut t = swing(30.0);
        for (i, p) in t.poses.iter_mut().enumerate() {
            put(p, Part::LeftKnee, 100.0, 300.0);
            put(p, Part::LeftAnkle, 100.0, if (10..12).contains(&i) { 480.0 } else { 400.0 });
        }
        drop_outliers(&mut t, 400.0);
        for (i, p) in t.poses.iter().enumerate() {
            assert_eq!(p.at(Part::LeftAnkle).is_none(), (10..12).contains(&i), "{i}");
        }
    }
}
