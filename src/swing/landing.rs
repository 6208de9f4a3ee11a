//! When the foot is loaded, from what is seen of toe and heel and from what is known of feet.
//!
//! How the heel came to rest tells it well at some swings and hardly at others: at a slow one a fit that stops 40 ms
//! earlier explains the points about as well. So every moment is weighed by how well it explains them and by how usual
//! it is after the first touch, and the ± is how far what is left of them lies apart.

use super::centre::Moment;
use super::params::{
    AFTER_TOUCH_S, AFTER_TOUCH_SD_S, ALIKE_IN_FILM_S, EARLY_LANDING, FOOT_PLANTED, HEEL_SPEED, LANDING_ERROR,
    LEAST_LANDING_PM_S, NET_LANDING_SD_S, TURNS_AFTER_S, UNUSUAL_LANDING, UNUSUAL_PLANTED,
    USUAL_PLANTED_FROM_S, USUAL_PLANTED_SD_S, USUAL_PLANTED_TO_S,
};
use super::series::Series;
use super::{settle, weigh};

/// By moment (s), how likely the foot's point came to rest then; not scaled.
#[derive(Debug, Clone)]
pub struct Landing {
    likely: Vec<(f64, f64)>,
}

impl Landing {
    /// `wander`: how far a standing foot's point strays; `net`: the points are a pose net's, whose errors stay alike.
    pub fn of(series: &Series, rough_s: f64, step_s: f64, wander: f64, net: bool) -> Self {
        let alike_s = if net { ALIKE_IN_FILM_S.max(step_s) } else { step_s };
        // A place that strays by so much shifts the moment; and between two pictures anything may have happened.
        let shift_s = (0.3 * step_s).hypot(wander / HEEL_SPEED);
        let seen = settle::likelihood(series, rough_s, FOOT_PLANTED, step_s, (LANDING_ERROR, alike_s));
        let sharp: Vec<(f64, f64)> = match seen {
            Some(seen) => seen.into_iter().map(|(t, log)| (t, log.exp())).collect(),
            // Too few samples to fit: about where they left off moving.
            None => {
                (-60..=60).map(|i| (rough_s + 0.001 * f64::from(i), f64::from(u8::from(i == 0)))).collect()
            }
        };
        let near = |a: f64, b: f64| (-0.5 * ((a - b) / shift_s.max(1e-4)).powi(2)).exp();
        let blurred = |t: f64| sharp.iter().map(|(u, p)| p * near(t, *u)).sum::<f64>();
        let scale = |t: f64| sharp.iter().map(|(u, _)| near(t, *u)).sum::<f64>().max(1e-12);
        Self { likely: sharp.iter().map(|(t, _)| (*t, blurred(*t) / scale(*t))).collect() }
    }

    /// The likeliest moment by what is seen alone, s.
    pub fn seen_s(&self) -> f64 {
        self.likely.iter().max_by(|a, b| a.1.total_cmp(&b.1)).map_or(f64::NAN, |m| m.0)
    }

    /// The part of the foot that comes to rest last; but a toe that still moves long after its heel stands turns, or
    /// is not seen rightly.
    pub fn last(toe: Option<Self>, heel: Option<Self>) -> Option<Self> {
        match (toe, heel) {
            (Some(toe), Some(heel)) => {
                let late_s = toe.seen_s() - heel.seen_s();
                Some(if late_s > 0.0 && late_s < TURNS_AFTER_S { toe } else { heel })
            }
            (toe, heel) => heel.or(toe),
        }
    }

    /// Full weight comes 30–80 ms after the first touch (motion-captured swings), rarely much later, never before it, and
    /// usually well before contact.
    pub fn after(&self, touch_s: f64, contact_s: f64, step_s: f64, net: bool) -> Option<Moment> {
        let landing = (AFTER_TOUCH_S, AFTER_TOUCH_S);
        let planted = (USUAL_PLANTED_FROM_S, USUAL_PLANTED_TO_S);
        let usual = |t: f64| {
            let share = weigh::usual(t - touch_s, landing, AFTER_TOUCH_SD_S, UNUSUAL_LANDING);
            let early = if t < touch_s { EARLY_LANDING } else { 1.0 };
            early * share * weigh::usual(contact_s - t, planted, USUAL_PLANTED_SD_S, UNUSUAL_PLANTED)
        };
        let weighed: Vec<(f64, f64)> = self.likely.iter().map(|(t, p)| (*t, p * usual(*t))).collect();
        let (time_s, sd_s) = weigh::middle(&weighed)?;
        let sd_s = sd_s.hypot(0.2 * step_s).hypot(if net { NET_LANDING_SD_S } else { 0.0 });
        Some(Moment { time_s, plus_minus_s: (2.0 * sd_s).max(LEAST_LANDING_PM_S) })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Point;

    /// A heel that comes down to `rest_s` at a speed that grows as `bend` says, body heights.
    fn heel(rate_hz: f64, rest_s: f64, slope: f64, bend: f64, stray: f64) -> Series {
        let mut s = Series::default();
        for i in 0..(2.0 * rate_hz) as usize {
            let t = i as f64 / rate_hz;
            let r = (rest_s - t).max(0.0);
            let noise = stray * (f64::from((i * 7919 % 101) as u32) / 50.0 - 1.0);
            s.push(t, Point::new(0.0, slope * r + bend * r * r + noise));
        }
        s
    }

    #[test]
    fn a_landing_that_is_seen_clearly_is_believed_whatever_is_usual() {
        for rate_hz in [60.0, 120.0, 240.0] {
            let s = heel(rate_hz, 1.2, 0.3, 0.0, 0.0005);
            let landing = Landing::of(&s, 1.18, 1.0 / rate_hz, 0.001, true);
            for touch_s in [1.0, 1.1, 1.15] {
                let m = landing.after(touch_s, 1.35, 1.0 / rate_hz, true).unwrap();
                assert!((m.time_s - 1.2).abs() < 0.012, "{rate_hz} {touch_s}: {m:?}");
            }
        }
    }

    #[test]
    fn a_landing_that_is_hardly_seen_is_taken_to_be_a_usual_one() {
        let s = heel(60.0, 1.2, 0.02, 0.0, 0.006);
        let m = Landing::of(&s, 1.16, 1.0 / 60.0, 0.004, false).after(1.10, 1.30, 1.0 / 60.0, false).unwrap();
        assert!((m.time_s - 1.155).abs() < 0.025, "{m:?}");
        assert!(m.plus_minus_s > 0.018, "{m:?}");
    }

    #[test]
    fn a_toe_that_moves_on_while_the_heel_stands_does_not_count() {
        let of =
            |rest_s: f64| Landing::of(&heel(120.0, rest_s, 0.3, 0.0, 0.0), rest_s, 1.0 / 120.0, 0.0, true);
        let last = |toe_s: f64| Landing::last(Some(of(toe_s)), Some(of(1.0))).unwrap().seen_s();
        assert!((last(1.10) - 1.0).abs() < 0.01);
        assert!((last(1.02) - 1.02).abs() < 0.01);
        assert!((last(0.9) - 1.0).abs() < 0.01);
    }
}
