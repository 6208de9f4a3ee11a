//! When something that was moving came to rest: a path that slows down as a parabola and then stays
//! (or drifts slowly, as a pose net does),
//! fitted to the samples as a whole, so that the jitter of single samples hardly moves the answer.

use super::params::{DRIFT_COST, SETTLE_AFTER_S, SETTLE_BEFORE_S, SETTLE_GRID_S, SETTLE_SEARCH_S};
use super::series::{Series, moments};
use crate::math::solve;
use crate::types::Point;

/// The fitted end of a movement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rest {
    /// When the speed came down to the asked level, s.
    pub time_s: f64,
    /// Root-mean-square distance of the samples from the fit, body heights.
    pub residual: f64,
}

/// Which way of the point counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Along {
    Both,
    Up,
}

/// Fit `still after T, parabola before T` around `rough_s`; the answer is where that parabola's speed
/// falls to `speed` (body heights per s). Needs seven samples, three of them moving.
pub fn rest(series: &Series, rough_s: f64, along: Along, speed: f64, step_s: f64) -> Option<Rest> {
    let tried = tried(series, rough_s, along, speed, step_s)?;
    let best = tried.all.iter().min_by(|a, b| a.cost.total_cmp(&b.cost))?;
    Some(Rest { time_s: best.time_s, residual: (best.cost / tried.weight).sqrt() })
}

/// How well each moment near `rough_s` explains both ways of the samples as their [`rest`]: (time, s; log likelihood up
/// to a constant). What is left of the best fit, but no less than `noise` (body heights), counts as the samples' error,
/// and it stays alike for `alike_s`: more samples in that while tell no more.
pub fn likelihood(
    series: &Series,
    rough_s: f64,
    speed: f64,
    step_s: f64,
    (noise, alike_s): (f64, f64),
) -> Option<Vec<(f64, f64)>> {
    let tried = tried(series, rough_s, Along::Both, speed, step_s)?;
    let least = tried.all.iter().map(|f| f.cost).fold(f64::MAX, f64::min);
    let variance = (least / tried.weight / 2.0).max(noise * noise);
    let scale = 0.5 / variance * (step_s / alike_s).min(1.0);
    Some(tried.all.iter().map(|f| (f.time_s, (least - f.cost) * scale)).collect())
}

/// One moment that was tried as the end of the movement.
struct Tried {
    /// When the speed came down to the asked level, s.
    time_s: f64,
    /// Weighted sum of squares that it leaves.
    cost: f64,
}

struct AllTried {
    all: Vec<Tried>,
    /// Of all samples.
    weight: f64,
}

fn tried(series: &Series, rough_s: f64, along: Along, speed: f64, step_s: f64) -> Option<AllTried> {
    let (before_s, after_s) = (SETTLE_BEFORE_S.max(3.4 * step_s), SETTLE_AFTER_S.max(3.4 * step_s));
    let from = series.times_s.partition_point(|t| *t < rough_s - before_s);
    let to = series.times_s.partition_point(|t| *t <= rough_s + after_s);
    let (times, points) = (series.times_s.get(from..to)?, series.points.get(from..to)?);
    if times.len() < 7 {
        return None;
    }
    let axis = |f: fn(&Point) -> f64| points.iter().map(f).collect::<Vec<_>>();
    let (x, y) = (axis(|p| p.x), axis(|p| p.y));
    // Samples at the ends of the window count less and less: that one more or one less lies inside must not move
    // the answer.
    let weight = |t: &f64| {
        let inside = (t - (rough_s - before_s)).min(rough_s + after_s - t);
        (inside / (0.2 * before_s)).clamp(0.0, 1.0)
    };
    let weights: Vec<f64> = times.iter().map(weight).collect();
    let mut all = Vec::new();
    for corner in
        moments(rough_s - SETTLE_SEARCH_S.max(step_s), rough_s + SETTLE_SEARCH_S.max(step_s), SETTLE_GRID_S)
    {
        let axes: &[&Vec<f64>] = if along == Along::Up { &[&y] } else { &[&x, &y] };
        let fits: Option<Vec<_>> = axes.iter().map(|v| stay_then_bend(times, v, &weights, corner)).collect();
        let Some(fits) = fits else { continue };
        // Speed just before the corner, and how it grows going back: start + growth·back = speed
        let start = fits.iter().map(|f| f.1 * f.1).sum::<f64>().sqrt();
        let along: f64 = fits.iter().map(|f| f.1 * f.2).sum();
        let bend = fits.iter().map(|f| f.2 * f.2).sum::<f64>().sqrt();
        let growth = if start > 1e-6 { 2.0 * along / start } else { 2.0 * bend };
        let back = if start >= speed || growth <= 1e-6 { 0.0 } else { ((speed - start) / growth).min(0.04) };
        all.push(Tried { time_s: corner - back, cost: fits.iter().map(|f| f.0).sum() });
    }
    (!all.is_empty()).then(|| AllTried { all, weight: weights.iter().sum::<f64>().max(1e-9) })
}

/// Least squares of v = c + d·(t − corner) for t ≥ corner, c + a·r + b·r² with r = corner − t before it:
/// (summed squared error, a, b). The slow drift d is the estimator's own wander, which is no movement.
fn stay_then_bend(times: &[f64], values: &[f64], weights: &[f64], corner: f64) -> Option<(f64, f64, f64)> {
    let mut m = [[0.0; 4]; 4];
    let mut rhs = [0.0; 4];
    let (mut moving, mut resting) = (0, 0);
    let row = |t: f64| {
        let (r, s) = ((corner - t).max(0.0), (t - corner).max(0.0));
        [1.0, r, r * r, s]
    };
    for ((t, v), w) in times.iter().zip(values).zip(weights) {
        if *t < corner {
            moving += 1;
        } else {
            resting += 1;
        }
        let row = row(*t);
        for i in 0..4 {
            for j in 0..4 {
                m[i][j] += w * row[i] * row[j];
            }
            rhs[i] += w * row[i] * v;
        }
    }
    if moving < 3 || resting < 2 {
        return None;
    }
    m[3][3] += DRIFT_COST * times.len() as f64;
    let fit = solve(m, rhs)?;
    let error = |t: f64, v: f64| v - row(t).iter().zip(fit).map(|(x, f)| x * f).sum::<f64>();
    let cost = times.iter().zip(values).zip(weights).map(|((t, v), w)| w * error(*t, *v).powi(2)).sum();
    Some((cost, fit[1] + fit[3], fit[2]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_foot_that_slows_and_stays_is_timed_within_a_few_milliseconds() {
        for rate in [30.0, 60.0, 240.0] {
            let mut s = Series::default();
            let at = 1.013;
            for i in 0..(2.0 * rate) as usize {
                let t = i as f64 / rate;
                let r = (at - t).max(0.0);
                s.push(t, Point::new(-1.2 * r * r, 0.4 * r * r));
            }
            let rest = rest(&s, 1.0, Along::Both, 0.0, 1.0 / rate).unwrap();
            assert!((rest.time_s - at).abs() < 0.004, "{rate}: {rest:?}");
        }
    }
}
