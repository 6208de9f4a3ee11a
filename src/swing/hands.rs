//! What the hands do: hands start, contact, extension, finish.

use super::burst::Burst;
use super::centre::Moment;
use super::figure::Figure;
use super::params::*;
use super::series::{Series, moments};
use super::weigh;
use crate::types::{BallFlight, Onset, Point, SPEED_OF_SOUND_M_S, Source};

/// The hands' speed over time: (s, body heights per s).
pub fn speeds(hands: &Series, from_s: f64, to_s: f64, half_s: f64, step_s: f64) -> Vec<(f64, f64)> {
    moments(from_s, to_s, (step_s / 2.0).min(1.0 / 240.0))
        .filter_map(|t| Some((t, hands.fit(t, half_s)?.velocity.length())))
        .collect()
}

/// Onset of the last rise of the hands' speed past the trunk before its peak: the corner of a broken line (level, then
/// rising) through the speed, from the last slow moment up to 60 % of the peak. Each corner is weighed by how well it
/// explains the speed (least squares) and by how usual a swing of that length is; the ± is how far what is left of them
/// lies apart.
pub fn hands_start(figure: &Figure, burst: &Burst, contact_s: f64) -> Option<Moment> {
    let path = past_trunk(figure, burst.peak_s - 0.45, burst.peak_s);
    let top = path.iter().rposition(|p| p.1 <= 0.6 * burst.peak)?;
    let low = path[..=top].iter().rposition(|p| p.1 <= 0.12 * burst.peak);
    let lowest = (0..=top).min_by(|a, b| path[*a].1.total_cmp(&path[*b].1))?;
    let valley = low.unwrap_or(lowest);
    let from_s = path[valley].0 - 0.10;
    let part: Vec<(f64, f64)> = path[..=top].iter().copied().filter(|p| p.0 >= from_s).collect();
    // A fit over a wide window begins to rise before the hands do: by half of what it is wider than the usual.
    let early_s = 0.6 * (figure.fast_half_s() - 0.025).max(0.0);
    let corners: Vec<Corner> =
        broken_lines(&part).into_iter().map(|c| Corner { time_s: c.time_s + early_s, ..c }).collect();
    let least = corners.iter().map(|c| c.cost).fold(f64::MAX, f64::min);
    let variance = (least / part.len() as f64).max(START_ERROR * START_ERROR);
    // Speeds within one fit's window are one finding.
    let every_s = (figure.step_s / 2.0).min(1.0 / 240.0);
    let scale = 0.5 / variance * (every_s / (2.0 * figure.fast_half_s())).min(1.0);
    let swing = (USUAL_SWING_FROM_S, USUAL_SWING_TO_S);
    let weighed: Vec<(f64, f64)> = corners
        .iter()
        .map(|c| {
            let usual = weigh::usual(contact_s - c.time_s, swing, USUAL_SWING_SD_S, UNUSUAL_SWING);
            (c.time_s, ((least - c.cost) * scale).exp() * usual)
        })
        .collect();
    let (time_s, sd_s) = weigh::middle(&weighed)?;
    let least_s = 0.028f64.max(figure.step_s);
    Some(Moment { time_s, plus_minus_s: least_s.max(2.0 * sd_s.hypot(0.2 * figure.step_s)) })
}

/// The hands' speed past the trunk's middle: what the body carries along is no start of the hands.
fn past_trunk(figure: &Figure, from_s: f64, to_s: f64) -> Vec<(f64, f64)> {
    let half_s = figure.fast_half_s();
    let trunk = |t: f64| {
        let slow = figure.slow_half_s().max(0.05);
        let parts = [&figure.front.shoulder, &figure.back.shoulder, &figure.front.hip, &figure.back.hip];
        let fits: Vec<Point> = parts.iter().filter_map(|s| Some(s.fit(t, slow)?.velocity)).collect();
        (fits.len() == parts.len()).then(|| fits.iter().fold(Point::default(), |a, b| a + *b) * 0.25)
    };
    moments(from_s, to_s, (figure.step_s / 2.0).min(1.0 / 240.0))
        .filter_map(|t| {
            let hands = figure.hands.fit(t, half_s)?.velocity;
            Some((t, (hands - trunk(t).unwrap_or_default()).length()))
        })
        .collect()
}

/// A broken line (level, then rising) that was tried.
struct Corner {
    time_s: f64,
    /// Sum of squares that it leaves.
    cost: f64,
}

/// Every corner of level-then-line fitted to (t, v) with least squares.
fn broken_lines(path: &[(f64, f64)]) -> Vec<Corner> {
    let fit = |k: usize| {
        let corner = path.get(k)?.0;
        // v = level + slope·max(0, t − corner)
        let (mut n, mut sr, mut srr, mut sv, mut srv, mut svv) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
        for (t, v) in path {
            let r = (t - corner).max(0.0);
            n += 1.0;
            sr += r;
            srr += r * r;
            sv += v;
            srv += r * v;
            svv += v * v;
        }
        let det = n * srr - sr * sr;
        let slope = (n * srv - sr * sv) / det;
        let level = (sv - slope * sr) / n;
        let cost = (svv - level * sv - slope * srv).max(0.0);
        (det > 1e-12 && slope > 0.0).then_some(Corner { time_s: corner, cost })
    };
    (0..path.len().saturating_sub(2)).filter_map(fit).collect()
}

/// Whether contact, seen or heard, lies where the hands' fastest moment allows it.
pub fn agrees(burst: &Burst, contact_s: f64) -> bool {
    (contact_s - burst.contact_s).abs() < CONTACT_NEAR_S
}

/// The burst with its peak where a heard contact puts it: for views that do not show the peak.
pub fn burst_before(burst: &Burst, contact_s: f64) -> Burst {
    Burst { peak_s: contact_s - PEAK_TO_CONTACT_S, contact_s, ..*burst }
}

/// Contact, and what gave it. Ball and sound count only inside the window that the picture of the hitter allows.
pub fn contact(
    figure: &Figure,
    burst: &Burst,
    onsets: &[Onset],
    delay: SoundDelay,
    ball: Option<&BallFlight>,
    side_view: bool,
) -> (Moment, Source, f64) {
    let window_s =
        if side_view { (-CONTACT_NEAR_S, CONTACT_NEAR_S) } else { (ALONG_WINDOW_FROM_S, ALONG_WINDOW_TO_S) };
    let (from_s, to_s) = (burst.contact_s + window_s.0, burst.contact_s + window_s.1);
    let earliest_s = from_s.min(burst.contact_s - CONTACT_EARLIER_S);
    let fits =
        |m: &Moment, from_s: f64| m.time_s >= from_s - m.plus_minus_s && m.time_s <= to_s + m.plus_minus_s;
    let seen = ball
        .map(|b| Moment { time_s: b.contact_s, plus_minus_s: b.plus_minus_s })
        .filter(|m| fits(m, earliest_s));
    let alone = |o: &Onset| {
        let others = onsets.iter().filter(|p| p.time_s != o.time_s && (p.time_s - o.time_s).abs() < 0.5);
        o.rise_db >= CRACK_DB && others.map(|p| p.rise_db).fold(0.0, f64::max) <= o.rise_db - CRACK_ALONE_DB
    };
    let heard = onsets
        .iter()
        .filter(|o| o.rise_db >= CONTACT_RISE_DB)
        .map(|o| {
            let plus_minus_s = delay.plus_minus_s.hypot(0.002);
            (o, Moment { time_s: o.time_s - delay.delay_s, plus_minus_s })
        })
        .filter(|(o, m)| fits(m, if alone(o) { earliest_s } else { from_s }))
        // With the ball seen, only a sound that agrees with it is its contact.
        .filter(|(_, m)| seen.is_none_or(|s| (m.time_s - s.time_s).abs() <= m.plus_minus_s + s.plus_minus_s))
        .max_by(|a, b| a.0.rise_db.total_cmp(&b.0.rise_db))
        .map(|(o, m)| (m, o.rise_db));
    match (seen, heard) {
        (Some(seen), Some((heard, _))) => (both(seen, heard), Source::MotionAndBall, 0.98),
        (Some(seen), None) => (seen, Source::MotionAndBall, 0.9),
        (None, Some((heard, rise))) => (heard, Source::MotionAndSound, (rise / 30.0).clamp(0.5, 0.98)),
        (None, None) => {
            let motion_s = if side_view { PEAK_TO_CONTACT_PM_S } else { ALONG_PM_S };
            let plus_minus_s = motion_s.hypot(figure.step_s / 2.0);
            (Moment { time_s: burst.contact_s, plus_minus_s }, Source::Motion, 0.5)
        }
    }
}

/// Two independent findings of one moment, each weighed by its own error.
fn both(a: Moment, b: Moment) -> Moment {
    let (wa, wb) = (a.plus_minus_s.powi(-2), b.plus_minus_s.powi(-2));
    Moment { time_s: (a.time_s * wa + b.time_s * wb) / (wa + wb), plus_minus_s: (wa + wb).powf(-0.5) }
}

/// How late the sound of contact reaches the microphone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SoundDelay {
    pub(crate) delay_s: f64,
    pub(crate) plus_minus_s: f64,
}

impl SoundDelay {
    /// From a known distance, or from how small the hitter looks.
    pub fn new(
        distance_m: Option<f64>,
        body_height_px: f64,
        height_cm: Option<f64>,
        long_side_px: f64,
    ) -> Self {
        match distance_m {
            Some(m) => Self { delay_s: m / SPEED_OF_SOUND_M_S, plus_minus_s: 0.001 },
            None => {
                let height_m = height_cm.unwrap_or(170.0) / 100.0;
                let per_lens_m = long_side_px * height_m / body_height_px.max(1.0);
                // Both in logarithms and as unsure as each other: their middle, and its error.
                let m = (LENS_LONG_SIDES * per_lens_m * USUAL_DISTANCE_M).sqrt().clamp(2.0, 25.0);
                let share = 1.96 * DISTANCE_SD / std::f64::consts::SQRT_2;
                Self { delay_s: m / SPEED_OF_SOUND_M_S, plus_minus_s: share * m / SPEED_OF_SOUND_M_S }
            }
        }
    }
}

/// The hands farthest from the rear shoulder after contact. In a picture from the side the rear shoulder
/// itself comes through toward the pitcher, which hides the arms' last reach; the hands' lead over the
/// middle of the shoulders peaks at the same time and is what is looked at there.
pub fn extension(figure: &Figure, contact_s: f64, side_view: bool) -> Option<Moment> {
    let half_s = figure.fast_half_s();
    let reach_at = |t: f64| {
        let hands = figure.hands.at(t, half_s)?;
        let rear = figure.back.shoulder.at(t, half_s)?;
        if side_view {
            Some(hands.x - figure.front.shoulder.at(t, half_s)?.midpoint(rear).x)
        } else {
            Some(hands.distance(rear))
        }
    };
    let reach: Vec<(f64, f64)> =
        moments(contact_s, contact_s + EXTENSION_WITHIN_S, figure.step_s.min(1.0 / 240.0))
            .filter_map(|t| Some((t, reach_at(t)?)))
            .collect();
    let (i, (time_s, farthest)) = reach.iter().copied().enumerate().max_by(|a, b| a.1.1.total_cmp(&b.1.1))?;
    let near = |p: &&(f64, f64)| p.1 >= farthest - figure.noise;
    let left = reach.iter().take(i + 1).rev().take_while(near).last().map_or(time_s, |p| p.0);
    let right = reach.iter().skip(i).take_while(near).last().map_or(time_s, |p| p.0);
    Some(Moment { time_s, plus_minus_s: ((right - left) / 2.0).max(figure.step_s).hypot(REACH_PM_S) })
}

/// The hands' speed has died after extension: below 12 % of its peak for 80 ms.
pub fn finish(figure: &Figure, burst: &Burst, extension_s: f64) -> Option<Moment> {
    let last = figure.hands.last_s()?;
    let path = speeds(
        &figure.hands,
        extension_s,
        last.min(extension_s + 1.2),
        figure.slow_half_s().max(0.06),
        figure.step_s,
    );
    let level = FINISH_SHARE * burst.peak;
    let i = (0..path.len()).find(|i| {
        let stays = path[*i..].iter().take_while(|p| p.0 <= path[*i].0 + FINISH_STAYS_S);
        path[*i].1 < level
            && path.last().is_some_and(|l| l.0 >= path[*i].0 + FINISH_STAYS_S)
            && stays.clone().all(|p| p.1 < level)
    })?;
    Some(Moment { time_s: path[i].0, plus_minus_s: FINISH_PM_S.max(2.0 * figure.step_s) })
}
