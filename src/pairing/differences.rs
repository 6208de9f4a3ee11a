//! Which differences between today's swing and one reference rep are more than what two reps of one hitter
//! differ by anyway.
//!
//! From one rep the usual rep-to-rep change is not known. Other hitters' is taken ([`super::usual`]) and, with the error
//! of the difference, decides what is said. Three and more good reps tell it themselves: [`super::spread`].

use super::params::FAR_BEYOND_USUAL;
use super::shared_error::of_difference;
use super::usual::usual;
use crate::types::{
    Delivery, Difference, Filming, Limit, Measure, MeasureId, Measures, OneSided, Reading, Settle, Unit,
    UsualFrom, Verdict, Which,
};

/// 95 % of a normal error lie within this many standard errors.
pub const Z95: f64 = 1.96;

/// The needed difference between the means of `a` and `b` reps, in within-hitter standard deviations, when
/// that deviation is known: 2.77 for one against one (MDC95 = 1.96·√2·SEM: Weir 2005; typical error: Hopkins
/// 2000, Sports Med 30:1–15).
pub fn needed_in_sd(a: f64, b: f64) -> f64 {
    Z95 * (1.0 / a + 1.0 / b).sqrt()
}

/// 95 % error of the difference of two intervals that comes from the time between two pictures alone, ms. An
/// interval's standard error is 1/(f·√6).
fn from_rate_ms(rate_hz: f64) -> f64 {
    1000.0 * Z95 * std::f64::consts::SQRT_2 / (rate_hz.max(1e-3) * 6.0f64.sqrt())
}

/// What stands in the way where the error is too large: the frame rate when it makes up at least half of the
/// error's square.
pub fn limit(unit: Unit, plus_minus: f64, rate_hz: f64) -> Limit {
    let by_rate = unit == Unit::Ms && from_rate_ms(rate_hz).powi(2) >= 0.5 * plus_minus.powi(2);
    if by_rate { Limit::FrameRate } else { Limit::Measuring }
}

/// What two swings are compared under.
#[derive(Debug, Clone, Copy)]
pub struct Terms {
    pub filming: Filming,
    /// How the ball came, as far as it is known; `None` too where the two differ in it.
    pub ball: Option<Delivery>,
    /// The slower camera's.
    pub rate_hz: f64,
}

impl Terms {
    pub fn of(today: &Reading, reference: &Reading, filming: Filming) -> Self {
        Self {
            filming,
            ball: match (today.ball, reference.ball) {
                (Some(a), Some(b)) if a != b => None,
                (a, b) => a.or(b),
            },
            rate_hz: today.clip.capture_rate_hz.min(reference.clip.capture_rate_hz),
        }
    }
}

pub fn between(today: &Measures, reference: &Measures, terms: Terms) -> Vec<Difference> {
    let both = today.iter().filter_map(|(id, t)| {
        let r = reference.get(id).filter(|r| r.unit == t.unit)?;
        Some(one(*id, t, r, terms))
    });
    both.collect()
}

fn one(measure: MeasureId, t: &Measure, r: &Measure, terms: Terms) -> Difference {
    let difference = t.value - r.value;
    let plus_minus = of_difference(measure, t, r, terms.filming);
    let usual = usual(measure, t.unit, (t.value.abs() + r.value.abs()) / 2.0, terms.ball);
    let anyway = needed_in_sd(1.0, 1.0) * usual.sd;
    let needed = plus_minus.hypot(anyway);
    // Points that were followed badly are off by more than their ± now and then, a hitter hardly ever by so much.
    let doubtful = difference.abs() > FAR_BEYOND_USUAL * anyway && plus_minus > anyway;
    let (verdict, limit) = if doubtful {
        (Verdict::CantTell, Some(limit(t.unit, plus_minus, terms.rate_hz)))
    } else if difference.abs() > needed {
        (Verdict::Bigger, None)
    } else if difference.abs() <= anyway && plus_minus <= anyway {
        (Verdict::Within, None)
    } else {
        (Verdict::CantTell, Some(limit(t.unit, plus_minus, terms.rate_hz)))
    };
    let alike = of_difference(measure, t, r, Filming::Alike);
    Difference {
        measure,
        today: *t,
        reference: *r,
        difference,
        plus_minus,
        usual_sd: usual.sd,
        usual_from: if usual.measured { UsualFrom::Measured } else { UsualFrom::Estimated },
        needed: Some(needed),
        verdict,
        limit,
        settle: limit.map(|limit| match doubtful {
            true => Settle::CheckEvents,
            false => settle(limit, alike <= anyway && plus_minus > anyway),
        }),
        spread: None,
    }
}

/// What would help; `by_filming`: it could be told if both had been filmed alike.
pub fn settle(limit: Limit, by_filming: bool) -> Settle {
    match limit {
        Limit::FrameRate => Settle::HigherRate,
        Limit::Measuring if by_filming => Settle::FilmAlike,
        Limit::Measuring | Limit::FewReps => Settle::MoreReps,
    }
}

/// What only one of the two gives, of the measures that are not compared.
pub fn one_sided(today: &Measures, reference: &Measures, compared: &[Difference]) -> Vec<OneSided> {
    let alone = |mine: &Measures, other: &Measures, clip: Which| {
        let alone = |id| !other.contains_key(id) && compared.iter().all(|d| d.measure != *id);
        let of = |(id, m): (&_, &Measure)| OneSided { measure: *id, clip, value: *m };
        mine.iter().filter(|(id, _)| alone(id)).map(of).collect::<Vec<_>>()
    };
    let mut all = alone(today, reference, Which::Today);
    all.extend(alone(reference, today, Which::Reference));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn one(value: f64, plus_minus: f64) -> Measures {
        Measures::from([(MeasureId::PlantToContact, Measure { value, plus_minus, unit: Unit::Ms })])
    }

    fn terms(filming: Filming, rate_hz: f64) -> Terms {
        Terms { filming, ball: Some(Delivery::Thrown), rate_hz }
    }

    #[test]
    fn error_and_the_usual_change_decide_what_is_said() {
        // 11 ms from rep to rep off a thrower, so 30.5 ms between two reps.
        let said = |a, b, pm, rate_hz| {
            let d = between(&one(a, pm), &one(b, pm), terms(Filming::OtherView, rate_hz)).remove(0);
            (d.verdict, d.limit)
        };
        assert_eq!(said(180.0, 160.0, 10.0, 240.0), (Verdict::Within, None));
        assert_eq!(said(215.0, 180.0, 10.0, 240.0), (Verdict::Bigger, None));
        assert_eq!(said(215.0, 180.0, 16.0, 240.0), (Verdict::CantTell, Some(Limit::Measuring)));
        // However alike: with ± 38 ms nobody can say that they are.
        assert_eq!(said(180.0, 180.0, 27.0, 30.0), (Verdict::CantTell, Some(Limit::FrameRate)));
        assert_eq!(said(180.0, 180.0, 27.0, 240.0), (Verdict::CantTell, Some(Limit::Measuring)));
        assert!(between(&one(1.0, 1.0), &Measures::new(), terms(Filming::Alike, 60.0)).is_empty());
    }

    #[test]
    fn what_two_clips_filmed_alike_share_does_not_hide_a_change() {
        let stride = |value| {
            Measures::from([(MeasureId::StrideLength, Measure { value, plus_minus: 9.0, unit: Unit::Cm })])
        };
        let of = |filming| between(&stride(66.0), &stride(58.0), terms(filming, 120.0)).remove(0);
        assert_eq!(of(Filming::Alike).verdict, Verdict::Bigger);
        let apart = of(Filming::OtherView);
        assert_eq!((apart.verdict, apart.settle), (Verdict::CantTell, Some(Settle::FilmAlike)));
        assert!(of(Filming::Alike).plus_minus < 0.4 * apart.plus_minus);
    }

    #[test]
    fn more_than_reps_ever_differ_by_is_believed_only_of_a_good_reading() {
        let of = |pm| between(&one(245.0, pm), &one(100.0, pm), terms(Filming::OtherView, 30.0)).remove(0);
        assert_eq!(of(10.0).verdict, Verdict::Bigger);
        let doubtful = of(60.0);
        assert_eq!((doubtful.verdict, doubtful.settle), (Verdict::CantTell, Some(Settle::CheckEvents)));
    }

    #[test]
    fn two_deliveries_are_compared_as_none() {
        let with = |ball| Reading { ball, ..super::super::sample::reading(Measures::new()) };
        let of = |a, b| Terms::of(&with(a), &with(b), Filming::Alike).ball;
        let (tee, live) = (Some(Delivery::Tee), Some(Delivery::Live));
        assert_eq!((of(tee, tee), of(tee, None), of(None, live)), (tee, tee, live));
        assert_eq!((of(tee, live), of(None, None)), (None, None));
    }

    /// The factors as they follow from the definitions; 2.77 is Weir's and Hopkins' own.
    #[test]
    fn needed_differences_in_typical_errors() {
        for (n, factor) in [(1.0, 2.77), (3.0, 1.60), (5.0, 1.24), (10.0, 0.88)] {
            assert!((needed_in_sd(n, n) - factor).abs() < 0.005, "{n}: {}", needed_in_sd(n, n));
        }
    }

    /// ± 38, 19, 9.4 and 4.7 ms for the difference of two intervals: 1.96·√2/(f·√6).
    #[test]
    fn what_the_frame_rate_costs() {
        for (rate_hz, ms) in [(30.0, 37.7), (60.0, 18.9), (120.0, 9.4), (240.0, 4.7)] {
            assert!((from_rate_ms(rate_hz) - ms).abs() < 0.06, "{rate_hz}: {}", from_rate_ms(rate_hz));
        }
    }
}
