use super::super::butterworth::{Butterworth, residual_cutoff_hz};
use super::super::params::{SMOOTH_FEWEST, SMOOTH_LONGEST_STEP_S};
use super::series::Series;
use crate::math::median;
use crate::types::{PARTS, Part, Point, Track};

/// Between which cut-offs, Hz, Winter's residual analysis may choose for each kind of part: what is slow is
/// smoothed more, the hands least (chosen here: the hands' whole forward swing takes about 0.2 s, the foot's last
/// stop before plant about 0.05 s).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cutoffs {
    /// Head, trunk, hips, knees. Default: 6–12 Hz.
    pub body_hz: (f64, f64),
    /// Ankles, heels, toes. Default: 9–16 Hz.
    pub feet_hz: (f64, f64),
    /// Elbows, wrists, hands. Default: 16–25 Hz.
    pub hands_hz: (f64, f64),
}

impl Default for Cutoffs {
    fn default() -> Self {
        Self { body_hz: (6.0, 12.0), feet_hz: (9.0, 16.0), hands_hz: (16.0, 25.0) }
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Body,
    Feet,
    Hands,
}

fn kind(part: Part) -> Kind {
    use Part::*;
    match part {
        LeftElbow | RightElbow | LeftWrist | RightWrist | LeftHand | RightHand => Kind::Hands,
        LeftAnkle | RightAnkle | LeftHeel | RightHeel | LeftToe | RightToe => Kind::Feet,
        _ => Kind::Body,
    }
}

/// Smooths each part without lag (Butterworth forward and back), over uneven times too. The arms are not smoothed
/// across `break_s` (contact, real s), where their motion changes at once. Where the picture rate cannot show the
/// cut-off, nothing is changed.
pub fn smooth(track: &Track, cutoffs: &Cutoffs, break_s: Option<f64>) -> Track {
    let mut out = track.clone();
    for part in PARTS {
        let (range, break_s) = match kind(part) {
            Kind::Body => (cutoffs.body_hz, None),
            Kind::Feet => (cutoffs.feet_hz, None),
            Kind::Hands => (cutoffs.hands_hz, break_s),
        };
        for run in runs(&Series::of(track, part), break_s) {
            for (pose, at) in smooth_run(&run, range) {
                if let Some(pose) = out.poses.get_mut(pose)
                    && let Some(mut spot) = pose.spot(part)
                {
                    spot.at = at;
                    pose.set(part, Some(spot));
                }
            }
        }
    }
    out
}

type Sample = (usize, f64, Point);

fn runs(series: &Series, break_s: Option<f64>) -> Vec<Vec<Sample>> {
    let mut runs: Vec<Vec<Sample>> = Vec::new();
    for &sample in &series.samples {
        let goes_on = runs.last().and_then(|r| r.last()).is_some_and(|last| {
            let breaks = break_s.is_some_and(|b| last.1 <= b && b < sample.1);
            sample.1 - last.1 <= SMOOTH_LONGEST_STEP_S && sample.1 > last.1 && !breaks
        });
        match runs.last_mut() {
            Some(run) if goes_on => run.push(sample),
            _ => runs.push(vec![sample]),
        }
    }
    runs
}

fn smooth_run(run: &[Sample], (lowest_hz, highest_hz): (f64, f64)) -> Vec<(usize, Point)> {
    let (Some(first), Some(last)) = (run.first(), run.last()) else { return Vec::new() };
    if run.len() < SMOOTH_FEWEST {
        return Vec::new();
    }
    // Evenly spaced at the finest usual step: the window holds stretches of different density.
    let mut steps: Vec<f64> = run.windows(2).map(|w| w[1].1 - w[0].1).collect();
    steps.sort_by(f64::total_cmp);
    let Some(step_s) = steps.get(steps.len() / 10).copied().filter(|s| *s > 1e-4) else { return Vec::new() };
    let usual_s = median(&mut steps).unwrap_or(step_s);
    let count = ((last.1 - first.1) / step_s).round() as usize + 1;
    let rate_hz = (count - 1) as f64 / (last.1 - first.1);
    let even: Vec<Point> = (0..count).map(|i| cubic_at(run, first.1 + i as f64 / rate_hz)).collect();
    let smoothed = |of: &dyn Fn(Point) -> f64| -> Option<Vec<f64>> {
        let samples: Vec<f64> = even.iter().map(|p| of(*p)).collect();
        let hz = residual_cutoff_hz(&samples, rate_hz, lowest_hz, highest_hz).unwrap_or(highest_hz);
        // What the sparser stretches can show bounds it too.
        let hz = hz.min(0.45 / usual_s);
        (hz >= lowest_hz)
            .then(|| Some(Butterworth::for_two_passes(hz, rate_hz)?.forward_and_back(&samples)))?
    };
    let (Some(xs), Some(ys)) = (smoothed(&|p| p.x), smoothed(&|p| p.y)) else { return Vec::new() };
    run.iter()
        .filter_map(|&(pose, time_s, _)| {
            let place = (time_s - first.1) * rate_hz;
            let i = (place.floor() as usize).min(count.saturating_sub(2));
            let t = place - i as f64;
            let mix = |v: &[f64]| Some(v.get(i)? + (v.get(i + 1)? - v.get(i)?) * t);
            Some((pose, Point::new(mix(&xs)?, mix(&ys)?)))
        })
        .collect()
}

/// The run's curve at a time: a cubic through the two nearest samples with their neighbours' slopes.
fn cubic_at(run: &[Sample], time_s: f64) -> Point {
    let k = run.partition_point(|s| s.1 <= time_s).clamp(1, run.len() - 1);
    let (a, b) = (run[k - 1], run[k]);
    let length = b.1 - a.1;
    let slope = |i: usize| {
        let (p, q) = (run[i.saturating_sub(1)], run[(i + 1).min(run.len() - 1)]);
        (q.2 - p.2) * (1.0 / (q.1 - p.1))
    };
    let t = ((time_s - a.1) / length).clamp(0.0, 1.0);
    let (t2, t3) = (t * t, t * t * t);
    a.2 * (2.0 * t3 - 3.0 * t2 + 1.0)
        + slope(k - 1) * (length * (t3 - 2.0 * t2 + t))
        + b.2 * (3.0 * t2 - 2.0 * t3)
        + slope(k) * (length * (t3 - t2))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Pose, Seen, Spot};

    /// Times: 60 Hz, then 240 Hz in the middle half second, then 60 Hz.
    fn times() -> Vec<f64> {
        let mut t: Vec<f64> = (0..60).map(|i| f64::from(i) / 60.0).collect();
        t.extend((0..120).map(|i| 1.0 + f64::from(i) / 240.0));
        t.extend((0..30).map(|i| 1.5 + f64::from(i) / 60.0));
        t
    }

    fn track(part: Part, x: impl Fn(f64) -> f64, noise_px: f64) -> Track {
        let mut seed = 3u32;
        let mut noise = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (f64::from(seed >> 8) / f64::from(1u32 << 24) - 0.5) * 2.0 * noise_px
        };
        let poses = times()
            .into_iter()
            .enumerate()
            .map(|(i, t)| {
                let mut p = Pose::empty(i, t);
                let at = Point::new(x(t) + noise(), 100.0 + noise());
                p.set(part, Some(Spot { at, visibility: 0.9, seen: Seen::Picture }));
                p
            })
            .collect();
        Track { poses }
    }

    fn worst(t: &Track, part: Part, x: impl Fn(f64) -> f64) -> f64 {
        t.poses.iter().map(|p| (p.at(part).unwrap().x - x(p.time_s)).abs()).fold(0.0, f64::max)
    }

    fn rms(t: &Track, part: Part, x: impl Fn(f64) -> f64) -> f64 {
        let sum: f64 = t.poses.iter().map(|p| (p.at(part).unwrap().x - x(p.time_s)).powi(2)).sum();
        (sum / t.poses.len() as f64).sqrt()
    }

    #[test]
    fn slow_motion_keeps_its_place_over_uneven_times() {
        let x = |t: f64| 300.0 + 80.0 * (std::f64::consts::TAU * 1.2 * t).sin();
        let clean = smooth(&track(Part::LeftKnee, x, 0.0), &Cutoffs::default(), None);
        assert!(worst(&clean, Part::LeftKnee, x) < 1.0, "{}", worst(&clean, Part::LeftKnee, x));
        let noisy = track(Part::LeftKnee, x, 3.0);
        let smoothed = smooth(&noisy, &Cutoffs::default(), None);
        assert!(rms(&smoothed, Part::LeftKnee, x) < 0.75 * rms(&noisy, Part::LeftKnee, x));
    }

    #[test]
    fn the_hands_are_not_smeared_across_contact() {
        // Speed halves at once at 1.25 s.
        let x = |t: f64| 300.0 + if t < 1.25 { 900.0 * (t - 1.25) } else { 300.0 * (t - 1.25) };
        let t = track(Part::LeftHand, x, 0.0);
        let broken = smooth(&t, &Cutoffs::default(), Some(1.25));
        let across = smooth(&t, &Cutoffs::default(), None);
        assert!(worst(&broken, Part::LeftHand, x) < 0.5, "{}", worst(&broken, Part::LeftHand, x));
        assert!(worst(&across, Part::LeftHand, x) > 1.0);
    }

    #[test]
    fn too_slow_a_rate_changes_nothing() {
        let poses = (0..30)
            .map(|i| {
                let mut p = Pose::empty(i, i as f64 / 30.0);
                let at = Point::new((i * i) as f64, 0.0);
                p.set(Part::LeftWrist, Some(Spot { at, visibility: 0.9, seen: Seen::Picture }));
                p
            })
            .collect();
        let t = Track { poses };
        assert_eq!(smooth(&t, &Cutoffs::default(), None), t);
    }
}
