//! Which differences between today's swing and one reference rep are more than what two reps of one hitter
//! differ by anyway.
//!
//! From one rep the usual rep-to-rep change is not known. It is assumed ([`assumed_sd`]) and, with the ± of
//! both, decides what is said. Three and more good reps tell it themselves: [`super::spread`].

use crate::types::{Difference, Limit, Measure, Measures, OneSided, Unit, Verdict, Which};

/// 95 % of a normal error lie within this many standard errors.
pub const Z95: f64 = 1.96;

/// The needed difference between the means of `a` and `b` reps, in within-hitter standard deviations, when
/// that deviation is known: 2.77 for one against one (MDC95 = 1.96·√2·SEM: Weir 2005; typical error: Hopkins
/// 2000, Sports Med 30:1–15).
pub fn needed_in_sd(a: f64, b: f64) -> f64 {
    Z95 * (1.0 / a + 1.0 / b).sqrt()
}

/// The standard deviation between reps of one hitter that is assumed while only one good rep is there to
/// compare with: 5 % of a speed, 5 % of a time and at least 10 ms, 1 % of the standing height (1.75 cm), 4°. An own choice; no
/// published within-hitter value was found.
pub fn assumed_sd(unit: Unit, size: f64) -> f64 {
    match unit {
        Unit::Ms => (0.05 * size.abs()).max(10.0),
        Unit::BodyHeights => 0.010,
        Unit::Cm => 1.75,
        Unit::Deg => 4.0,
        Unit::MetresPerS | Unit::BodyHeightsPerS => 0.05 * size.abs(),
    }
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

/// `rate_hz`: the slower camera's.
pub fn between(today: &Measures, reference: &Measures, rate_hz: f64) -> Vec<Difference> {
    let mut all = Vec::new();
    for (measure, t) in today {
        let Some(r) = reference.get(measure).filter(|r| r.unit == t.unit) else { continue };
        let difference = t.value - r.value;
        let plus_minus = t.plus_minus.hypot(r.plus_minus);
        let usual = needed_in_sd(1.0, 1.0) * assumed_sd(t.unit, (t.value.abs() + r.value.abs()) / 2.0);
        let needed = plus_minus.hypot(usual);
        let (verdict, limit) = if difference.abs() > needed {
            (Verdict::Bigger, None)
        } else if difference.abs() <= usual && plus_minus <= usual {
            (Verdict::Within, None)
        } else {
            (Verdict::CantTell, Some(limit(t.unit, plus_minus, rate_hz)))
        };
        all.push(Difference {
            measure: *measure,
            today: *t,
            reference: *r,
            difference,
            plus_minus,
            needed: Some(needed),
            verdict,
            limit,
            spread: None,
        });
    }
    all
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
    use crate::types::MeasureId;

    fn one(value: f64, plus_minus: f64) -> Measures {
        Measures::from([(MeasureId::PlantToContact, Measure { value, plus_minus, unit: Unit::Ms })])
    }

    #[test]
    fn error_and_the_assumed_change_decide_what_is_said() {
        // Assumed: 10 ms, so 27.7 ms between two reps.
        let said = |a, b, pm, rate_hz| {
            let d = between(&one(a, pm), &one(b, pm), rate_hz).remove(0);
            (d.verdict, d.limit)
        };
        assert_eq!(said(180.0, 160.0, 10.0, 240.0), (Verdict::Within, None));
        assert_eq!(said(215.0, 180.0, 10.0, 240.0), (Verdict::Bigger, None));
        assert_eq!(said(215.0, 180.0, 16.0, 240.0), (Verdict::CantTell, Some(Limit::Measuring)));
        // However alike: with ± 38 ms nobody can say that they are.
        assert_eq!(said(180.0, 180.0, 27.0, 30.0), (Verdict::CantTell, Some(Limit::FrameRate)));
        assert_eq!(said(180.0, 180.0, 27.0, 240.0), (Verdict::CantTell, Some(Limit::Measuring)));
        assert!(between(&one(1.0, 1.0), &Measures::new(), 60.0).is_empty());
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
