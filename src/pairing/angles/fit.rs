//! One offset, and a drift where it shows, through the sounds that both recordings have.

use super::super::params::{ELSEWHERE_FROM_S, LAG_FROM_LEVEL_S, LAG_FROM_WAVE_S, TOGETHER_S};
use super::fine::Match;
use super::vote::DRIFT_FROM_S;
use crate::types::{Drift, Offset};

/// Of the loudness of the sounds that agree: from this on others are reckoned with.
const OTHERS_SHARE: f64 = 0.5;

pub struct Fitted {
    pub offset: Offset,
    pub other_places: bool,
    /// A sound was known again.
    pub alike: bool,
}

/// `None` without any sound. `rough`: the lag to be expected at a time of the first, s.
pub fn fit(matches: &[Match], rough: impl Fn(f64) -> f64) -> Option<Fitted> {
    let off = |m: &Match| m.lag_s - rough(m.first_s);
    let near = |centre: f64| matches.iter().filter(move |m| (off(m) - centre).abs() <= TOGETHER_S);
    // The loudest in both is the hitter's own: phones stand nearer to him than to others.
    let mode = matches.iter().map(&off).max_by(|a, b| {
        let weight = |c: f64| near(c).map(|m| m.loudness).sum::<f64>();
        weight(*a).total_cmp(&weight(*b))
    })?;
    // A sound known again is worth more than one that only comes at the right time.
    let alike: Vec<Match> =
        matches.iter().copied().filter(|m| m.alike() && (off(m) - mode).abs() <= ELSEWHERE_FROM_S).collect();
    let span = |of: &[Match]| {
        let times = || of.iter().map(|m| m.first_s);
        times().fold(f64::NEG_INFINITY, f64::max) - times().fold(f64::INFINITY, f64::min)
    };
    // Over a long take a few known ones tell no drift.
    let enough = !alike.is_empty()
        && (span(matches) < DRIFT_FROM_S || alike.len() >= 6 && span(&alike) > span(matches) / 2.0);
    let used: &[Match] = if enough { &alike } else { matches };
    let drifts = span(used) >= DRIFT_FROM_S && used.len() >= 4;
    let mut line = Straight { at: 0.0, value: mode, slope: 0.0, slope_se: None, se: 0.0 };
    // The rough line's slope is a guess: the first look is wider.
    for within in [if drifts { ELSEWHERE_FROM_S } else { TOGETHER_S }, TOGETHER_S, TOGETHER_S] {
        let inliers: Vec<(f64, f64, f64)> = used
            .iter()
            .map(|m| (m.first_s, off(m), m.loudness.max(1e-6)))
            .filter(|(t, o, _)| (o - line.at(*t)).abs() <= within)
            .collect();
        line = straight(&inliers, drifts).unwrap_or(line);
    }
    let agree: f64 = matches
        .iter()
        .filter(|m| (off(m) - line.at(m.first_s)).abs() <= TOGETHER_S)
        .map(|m| m.loudness)
        .sum();
    let others: Vec<&Match> =
        matches.iter().filter(|m| (off(m) - line.at(m.first_s)).abs() > ELSEWHERE_FROM_S).collect();
    let disagree: f64 = others.iter().map(|m| m.loudness).sum();
    let other_places = disagree > OTHERS_SHARE * agree;
    let floor = if enough { LAG_FROM_WAVE_S } else { LAG_FROM_LEVEL_S };
    let mut plus_minus_s = 2.0 * floor.hypot(line.se);
    if other_places {
        let farthest = others.iter().map(|m| (off(m) - line.at(m.first_s)).abs()).fold(0.0, f64::max);
        plus_minus_s = plus_minus_s.max(farthest);
    }
    let at_s = line.at;
    let rough_slope = rough(at_s + 0.5) - rough(at_s - 0.5);
    let drift = line
        .slope_se
        .map(|se| Drift { ppm: (line.slope + rough_slope) * 1e6, plus_minus_ppm: (2.0 * se * 1e6).max(0.5) });
    Some(Fitted {
        offset: Offset { at_s, offset_s: line.value + rough(at_s), plus_minus_s, drift },
        other_places,
        alike: !alike.is_empty(),
    })
}

/// value + slope · (t − at)
struct Straight {
    at: f64,
    value: f64,
    slope: f64,
    slope_se: Option<f64>,
    /// Standard error of the value.
    se: f64,
}

impl Straight {
    fn at(&self, t: f64) -> f64 {
        self.value + self.slope * (t - self.at)
    }
}

/// Weighted least squares through (t, value, weight).
fn straight(points: &[(f64, f64, f64)], with_slope: bool) -> Option<Straight> {
    let sum: f64 = points.iter().map(|p| p.2).sum();
    if sum <= 0.0 {
        return None;
    }
    let mean = |f: &dyn Fn(&(f64, f64, f64)) -> f64| points.iter().map(|p| f(p) * p.2).sum::<f64>() / sum;
    let (at, value) = (mean(&|p| p.0), mean(&|p| p.1));
    let spread = mean(&|p| (p.0 - at).powi(2));
    let sloped = with_slope && spread.sqrt() > DRIFT_FROM_S / 6.0 && points.len() >= 4;
    let slope = if sloped { mean(&|p| (p.0 - at) * (p.1 - value)) / spread } else { 0.0 };
    let rest = mean(&|p| (p.1 - value - slope * (p.0 - at)).powi(2));
    let n = sum.powi(2) / points.iter().map(|p| p.2.powi(2)).sum::<f64>();
    let free = (n - if sloped { 2.0 } else { 1.0 }).max(1.0);
    let sd = (rest * n / free).sqrt().max(LAG_FROM_WAVE_S / 2.0);
    let slope_se = sloped.then(|| sd / (n * spread).sqrt());
    Some(Straight { at, value, slope, slope_se, se: if points.len() > 1 { sd / n.sqrt() } else { 0.0 } })
}
