//! A moving point or number over uneven times, read anywhere by a local fit: position, speed and
//! acceleration come from one weighted parabola, so that gaps and uneven frames need no special case
//! and nothing lags.

use super::params::FIT_GAP_S;
use crate::math::median_of;
use crate::types::Point;

/// Value, first and second derivative of one coordinate at one moment, per s and per s².
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit1 {
    pub value: f64,
    pub rate: f64,
    pub bend: f64,
}

/// The same for a point: body heights, per s, per s².
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    pub at: Point,
    pub velocity: Point,
    pub acceleration: Point,
}

/// Samples of one point in time order, s and body heights (x toward the pitcher, y up).
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Series {
    pub times_s: Vec<f64>,
    pub points: Vec<Point>,
}

impl Series {
    pub fn push(&mut self, time_s: f64, at: Point) {
        if at.is_finite() && self.times_s.last().is_none_or(|last| time_s > *last) {
            self.times_s.push(time_s);
            self.points.push(at);
        }
    }

    pub fn is_empty(&self) -> bool {
        self.times_s.is_empty()
    }

    pub fn first_s(&self) -> Option<f64> {
        self.times_s.first().copied()
    }

    pub fn last_s(&self) -> Option<f64> {
        self.times_s.last().copied()
    }

    /// The local fit at `time_s` from samples within `half_s`, widened until it holds four samples.
    /// `None` outside the samples or inside a gap.
    pub fn fit(&self, time_s: f64, half_s: f64) -> Option<Fit> {
        let (range, half_s) = self.window(time_s, half_s)?;
        let (times, points) = (self.times_s.get(range.clone())?, self.points.get(range)?);
        let x = fit_parabola(times, points.iter().map(|p| p.x), time_s, half_s)?;
        let y = fit_parabola(times, points.iter().map(|p| p.y), time_s, half_s)?;
        Some(Fit {
            at: Point::new(x.value, y.value),
            velocity: Point::new(x.rate, y.rate),
            acceleration: Point::new(x.bend, y.bend),
        })
    }

    /// Where the point is at `time_s`.
    pub fn at(&self, time_s: f64, half_s: f64) -> Option<Point> {
        self.fit(time_s, half_s).map(|f| f.at)
    }

    /// The median of each coordinate between two times.
    pub fn median(&self, from_s: f64, to_s: f64) -> Option<Point> {
        let inside = |t: f64| t >= from_s && t <= to_s;
        let picked: Vec<Point> =
            self.times_s.iter().zip(&self.points).filter(|(t, _)| inside(**t)).map(|(_, p)| *p).collect();
        let x = median_of(picked.iter().map(|p| p.x))?;
        let y = median_of(picked.iter().map(|p| p.y))?;
        Some(Point::new(x, y))
    }

    /// Samples to fit around `time_s`, and the half width that holds them, s.
    fn window(&self, time_s: f64, half_s: f64) -> Option<(std::ops::Range<usize>, f64)> {
        let i = self.times_s.partition_point(|t| *t < time_s);
        let before = i.checked_sub(1).and_then(|j| self.times_s.get(j));
        let after = self.times_s.get(i);
        match (before, after) {
            (Some(b), Some(a)) if a - b > FIT_GAP_S && *a != time_s => return None,
            (None, Some(a)) if a - time_s > 1e-6 => return None,
            (Some(b), None) if time_s - b > 1e-6 => return None,
            (None, None) => return None,
            _ => {}
        }
        let mut half_s = half_s;
        for _ in 0..4 {
            let from = self.times_s.partition_point(|t| *t < time_s - half_s);
            let to = self.times_s.partition_point(|t| *t <= time_s + half_s);
            // Times of a damaged sidecar may stand in any order: then `to` may lie before `from`.
            if to.saturating_sub(from) >= 4 {
                return Some((from..to, half_s));
            }
            half_s *= 1.4;
        }
        let from = self.times_s.partition_point(|t| *t < time_s - half_s);
        let to = self.times_s.partition_point(|t| *t <= time_s + half_s);
        (to > from).then_some((from..to, half_s))
    }
}

/// Weighted least squares of a parabola (a line with three samples, a constant with one) around
/// `time_s`; weights fall to nothing just outside the window (Cleveland's tricube, 1979, from memory).
pub fn fit_parabola(
    times_s: &[f64],
    values: impl Iterator<Item = f64>,
    time_s: f64,
    half_s: f64,
) -> Option<Fit1> {
    let reach = half_s * 1.15 + 1e-9;
    let mut s = [0.0; 5];
    let mut m = [0.0; 3];
    let mut n = 0;
    for (t, v) in times_s.iter().zip(values) {
        let d = (t - time_s) / reach;
        let w = (1.0 - d.abs().min(1.0).powi(3)).powi(3);
        if w <= 1e-9 {
            continue;
        }
        n += 1;
        let mut p = w;
        for (k, sum) in s.iter_mut().enumerate() {
            *sum += p;
            if k < 3 {
                m[k] += p * v;
            }
            p *= d;
        }
    }
    let line = || {
        let det = s[0] * s[2] - s[1] * s[1];
        if n >= 2 && det > 1e-12 {
            Some((((m[0] * s[2] - m[1] * s[1]) / det), (s[0] * m[1] - s[1] * m[0]) / det, 0.0))
        } else if n >= 1 {
            Some((m[0] / s[0], 0.0, 0.0))
        } else {
            None
        }
    };
    let parabola = || {
        let det = s[0] * (s[2] * s[4] - s[3] * s[3]) - s[1] * (s[1] * s[4] - s[3] * s[2])
            + s[2] * (s[1] * s[3] - s[2] * s[2]);
        if n < 4 || det.abs() < 1e-12 {
            return None;
        }
        let a = m[0] * (s[2] * s[4] - s[3] * s[3]) - s[1] * (m[1] * s[4] - s[3] * m[2])
            + s[2] * (m[1] * s[3] - s[2] * m[2]);
        let b = s[0] * (m[1] * s[4] - s[3] * m[2]) - m[0] * (s[1] * s[4] - s[3] * s[2])
            + s[2] * (s[1] * m[2] - m[1] * s[2]);
        let c = s[0] * (s[2] * m[2] - m[1] * s[3]) - s[1] * (s[1] * m[2] - m[1] * s[2])
            + m[0] * (s[1] * s[3] - s[2] * s[2]);
        Some((a / det, b / det, c / det))
    };
    let (a, b, c) = parabola().or_else(line)?;
    Some(Fit1 { value: a, rate: b / reach, bend: 2.0 * c / (reach * reach) })
}

/// Evenly spaced moments from `from_s` to `to_s`, `step_s` apart.
pub fn moments(from_s: f64, to_s: f64, step_s: f64) -> impl DoubleEndedIterator<Item = f64> + Clone {
    // Times that are wrong by ages must not fill the memory: no clip that is taken on has so many moments.
    const MOST: usize = 1 << 21;
    let n = if to_s >= from_s { (((to_s - from_s) / step_s).floor() as usize).min(MOST) + 1 } else { 0 };
    (0..n).map(move |i| from_s + i as f64 * step_s)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parabola_series(step_s: f64) -> Series {
        let mut s = Series::default();
        for i in 0..60 {
            let t = f64::from(i) * step_s + if i % 3 == 0 { step_s * 0.2 } else { 0.0 };
            s.push(t, Point::new(1.0 + 2.0 * t - 3.0 * t * t, -t));
        }
        s
    }

    #[test]
    fn a_parabola_is_read_exactly_on_uneven_times() {
        let f = parabola_series(1.0 / 60.0).fit(0.4, 0.05).unwrap();
        assert!((f.at.x - (1.0 + 0.8 - 0.48)).abs() < 1e-9, "{f:?}");
        assert!((f.velocity.x - (2.0 - 2.4)).abs() < 1e-9, "{f:?}");
        assert!((f.acceleration.x + 6.0).abs() < 1e-6, "{f:?}");
        assert!((f.velocity.y + 1.0).abs() < 1e-9);
    }

    #[test]
    fn gaps_and_ends_are_not_bridged() {
        let mut s = Series::default();
        for i in 0..10 {
            s.push(f64::from(i) * 0.01, Point::new(0.0, 0.0));
        }
        for i in 0..10 {
            s.push(0.5 + f64::from(i) * 0.01, Point::new(1.0, 0.0));
        }
        assert!(s.fit(0.3, 0.02).is_none());
        assert!(s.fit(-0.1, 0.02).is_none());
        assert!(s.fit(0.9, 0.02).is_none());
        assert!(s.fit(0.05, 0.02).is_some());
    }
}
