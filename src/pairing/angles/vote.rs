//! Where the second recording lies to the first, roughly: stretches of the first each name their likely lags, and the
//! straight line through most of them wins. A line, since two clocks run apart over a long take.

use super::onsets::Rises;
use super::phat::Phat;

/// The first recording is taken in stretches of about so much, s.
const STRETCH_S: f64 = 30.0;
/// As many as this, spread over it: more cost time and say nothing new.
const MOST_STRETCHES: usize = 24;
/// Likely lags of one stretch.
const MOST_PEAKS: usize = 24;
/// Clocks of phones are this far apart at most, parts in a million (common practice, no source: quartz of 20 to 100).
const MOST_PPM: f64 = 300.0;
const PPM_STEP: f64 = 10.0;
/// From this length on a drift is looked for, s.
pub const DRIFT_FROM_S: f64 = 60.0;
/// Lags closer than this are one, s.
const SAME_S: f64 = 0.008;

/// A line of lags: seconds later at the middle of the first recording, and how it grows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Time of the first, s.
    pub at_s: f64,
    pub lag_s: f64,
    pub ppm: f64,
    pub votes: f64,
}

impl Line {
    pub fn lag_at(&self, first_s: f64) -> f64 {
        self.lag_s + self.ppm * 1e-6 * (first_s - self.at_s)
    }
}

/// The likely lines, best first, each in another place.
pub fn lines(first: &Rises, second: &Rises, most: usize) -> Vec<Line> {
    let stretches = stretches(first);
    let longest = stretches.iter().map(|(from, to)| to - from).max().unwrap_or(0);
    if longest == 0 || second.strength.is_empty() {
        return Vec::new();
    }
    let phat = Phat::new(longest, second.strength.len(), 1);
    let whole = phat.spectrum(&second.strength);
    let mut named: Vec<(f64, f64, f64)> = Vec::new();
    for (from, to) in &stretches {
        let Some(piece) = first.strength.get(*from..*to) else { continue };
        let correlation = phat.correlate(&phat.spectrum(piece), &whole, 0.0..1.0);
        let lags = correlation.lags();
        // Moments that are the same to the ear stray by a millisecond or two.
        let soft = |lag: isize| {
            let near = |d: isize| correlation.at(lag + d);
            near(0) + 0.8 * (near(-1) + near(1)) + 0.4 * (near(-2) + near(2))
        };
        let values: Vec<f32> = lags.clone().map(soft).collect();
        let middle_s = first.time_s((from + to) / 2);
        for (index, height) in highest(&values, MOST_PEAKS) {
            let lag = lags.start + index as isize;
            let lag_s = second.time_s(0) - first.time_s(*from) + lag as f64 * first.hop_s;
            named.push((middle_s, lag_s, f64::from(height)));
        }
    }
    let span_s = first.length_s();
    let at_s = first.start_s + span_s / 2.0;
    let slopes = if span_s >= DRIFT_FROM_S { (MOST_PPM / PPM_STEP) as i32 } else { 0 };
    let mut out: Vec<Line> = Vec::new();
    for slope in -slopes..=slopes {
        let ppm = f64::from(slope) * PPM_STEP;
        let lag_of = |n: &(f64, f64, f64)| n.1 - ppm * 1e-6 * (n.0 - at_s);
        let mut sorted: Vec<(f64, f64)> = named.iter().map(|n| (lag_of(n), n.2)).collect();
        sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
        for i in 0..sorted.len() {
            let within: Vec<_> = sorted[i..].iter().take_while(|n| n.0 <= sorted[i].0 + SAME_S).collect();
            let votes: f64 = within.iter().map(|n| n.1).sum();
            let lag_s = within.iter().map(|n| n.0 * n.1).sum::<f64>() / votes.max(1e-12);
            out.push(Line { at_s, lag_s, ppm, votes });
        }
    }
    out.sort_by(|a, b| b.votes.total_cmp(&a.votes).then(a.ppm.abs().total_cmp(&b.ppm.abs())));
    let mut kept: Vec<Line> = Vec::new();
    for line in out {
        if kept.len() >= most {
            break;
        }
        // With another slope the same place is the same line, seen less well.
        let slack_s = SAME_S + (line.ppm.abs() + MOST_PPM) * 1e-6 * if slopes > 0 { 60.0 } else { 0.0 };
        if kept.iter().all(|k| (k.lag_s - line.lag_s).abs() > slack_s) {
            kept.push(line);
        }
    }
    kept
}

/// Stretches of the first recording with sudden sounds in them, in hops.
fn stretches(rises: &Rises) -> Vec<(usize, usize)> {
    let count = rises.strength.len();
    let pieces = (rises.length_s() / STRETCH_S).round().max(1.0) as usize;
    let all: Vec<(usize, usize)> = (0..pieces)
        .map(|i| (i * count / pieces, (i + 1) * count / pieces))
        .filter(|(from, to)| rises.sudden.iter().any(|(hop, _)| (*from..*to).contains(hop)))
        .collect();
    let step = all.len().div_ceil(MOST_STRETCHES).max(1);
    all.into_iter().step_by(step).collect()
}

/// A lower value so near to a higher one is its slope, hops.
const ASIDE: usize = 8;

/// Places of the highest values, none beside a higher one.
fn highest(values: &[f32], most: usize) -> Vec<(usize, f32)> {
    let mut peaks: Vec<(usize, f32)> = values
        .iter()
        .copied()
        .enumerate()
        .filter(|(i, v)| {
            let near = i.saturating_sub(ASIDE)..(i + ASIDE + 1).min(values.len());
            *v > 0.0 && values[near].iter().all(|w| w <= v)
        })
        .collect();
    peaks.sort_by(|a, b| b.1.total_cmp(&a.1));
    peaks.truncate(most);
    peaks
}
