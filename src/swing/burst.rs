//! The swing itself: the one burst in which both hands together move fastest.

use super::NoSwing;
use super::figure::{hands_series, part_series};
use super::series::{Series, moments, quantile};
use crate::ground::{Part, Point, Track};

/// Hands slower than this at their fastest do not swing a bat, body heights per s. A child's hands reach
/// about 3, an adult's 5; a walker's about 1 (own estimate).
const MIN_PEAK: f64 = 1.2;
/// In a swing the hands travel at least this far while they are faster than 40 % of their peak.
const MIN_TRAVEL: f64 = 0.18;
/// Two hands on one bat stay closer than this, body heights.
const MAX_HANDS_APART: f64 = 0.24;

#[derive(Debug, Clone, Copy)]
pub struct Burst {
    /// When the hands are fastest, s.
    pub peak_s: f64,
    /// How fast, body heights per s.
    pub peak: f64,
    /// Mean direction of travel in the burst, picture px, length 1.
    pub direction: Point,
}

/// `track` in steady px.
pub fn find_swing(track: &Track, body_height_px: f64, step_s: f64) -> Result<Burst, NoSwing> {
    let hands = hands_series(track);
    let (Some(first), Some(last)) = (hands.first_s(), hands.last_s()) else {
        return Err(NoSwing::new("the hands are never seen"));
    };
    let half_s = (1.7 * step_s).max(0.025);
    let grid: Vec<(f64, f64, Point)> = moments(first, last, (step_s / 2.0).min(1.0 / 240.0))
        .filter_map(|t| {
            let f = hands.fit(t, half_s)?;
            Some((t, f.velocity.length() / body_height_px, f.velocity))
        })
        .collect();
    let mut order: Vec<usize> = (1..grid.len().saturating_sub(1))
        .filter(|i| grid[*i].1 >= grid[i - 1].1 && grid[*i].1 > grid[i + 1].1)
        .collect();
    order.sort_by(|a, b| grid[*b].1.total_cmp(&grid[*a].1));
    let fastest = order.first().map_or(0.0, |i| grid[*i].1);
    if fastest < MIN_PEAK {
        return Err(NoSwing::new(format!(
            "the hands reach {fastest:.1} body heights a second, a swing needs {MIN_PEAK}"
        )));
    }
    let mut best: Option<(f64, Burst)> = None;
    let mut why = NoSwing::new("no burst of both hands together was seen");
    // Stretches of a twitch or a false point, whose own speed says nothing of the burst it lies in.
    let mut twitches: Vec<(usize, usize)> = Vec::new();
    for i in order {
        let (peak_s, peak, _) = grid[i];
        if peak < MIN_PEAK {
            break;
        }
        let from = (0..=i).rev().find(|j| grid[*j].1 < 0.4 * peak).unwrap_or(0);
        let to = (i..grid.len()).find(|j| grid[*j].1 < 0.4 * peak).unwrap_or(grid.len() - 1);
        let in_twitch = |j: usize| twitches.iter().any(|t| (t.0..=t.1).contains(&j));
        if in_twitch(i) || (from..=to).any(|j| grid[j].1 > peak && !in_twitch(j)) {
            // A shoulder of a faster burst.
            continue;
        }
        let travel: f64 = grid[from..=to]
            .windows(2)
            .map(|w| (w[1].0 - w[0].0) * (w[0].1 + w[1].1).min(2.0 * peak) / 2.0)
            .sum();
        if travel < MIN_TRAVEL {
            why = NoSwing::new("the hands move fast only for a moment, as in a twitch or a false point");
            twitches.push((from, to));
            continue;
        }
        let apart = hands_apart(track, peak_s - 0.12, peak_s + 0.05) / body_height_px;
        if apart > MAX_HANDS_APART {
            why = NoSwing::new("the two hands are apart while they are fast, so they do not hold one bat");
            continue;
        }
        let sum = grid[from..=i].iter().fold(Point::default(), |a, (_, _, v)| a + *v);
        let direction = sum * (1.0 / sum.length().max(1e-9));
        // A false point jumps fast but not far: what counts is how far the hands go at that speed.
        let score = peak * travel;
        if best.is_none_or(|(s, _)| score > s) {
            best = Some((score, Burst { peak_s, peak, direction }));
        }
    }
    best.map(|b| b.1).ok_or(why)
}

/// Median distance of the wrists between two times, px; 0 when only one is ever seen.
fn hands_apart(track: &Track, from_s: f64, to_s: f64) -> f64 {
    let apart: Vec<f64> = track
        .poses
        .iter()
        .filter(|p| p.time_s >= from_s && p.time_s <= to_s)
        .filter_map(|p| Some(p.at(Part::LeftWrist)?.distance(p.at(Part::RightWrist)?)))
        .collect();
    quantile(apart, 0.4).unwrap_or(0.0)
}

/// The two parts' middle as a series, px.
pub fn middle_series(track: &Track, part: Part) -> Series {
    let (a, b) = (part_series(track, part), part_series(track, part.other_side()));
    let mut series = Series::default();
    for (t, p) in a.times_s.iter().zip(&a.points) {
        if let Ok(i) = b.times_s.binary_search_by(|x| x.total_cmp(t)) {
            series.push(*t, p.midpoint(b.points[i]));
        }
    }
    series
}
