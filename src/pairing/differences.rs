//! Which differences between two swings are more than error.

use crate::ground::{Difference, Measures, OneSided, Verdict, Which};

/// Usual rep-to-rep change is not known from one rep of each, so two single reps differ for sure only
/// when the difference leaves the error of measuring behind by this factor. An own choice, not a
/// published figure: hitters vary at least as much as the measurement does.
const SINGLE_REP_FACTOR: f64 = 2.0;

pub fn between(today: &Measures, reference: &Measures) -> Vec<Difference> {
    let mut all = Vec::new();
    for (measure, t) in today {
        let Some(r) = reference.get(measure).filter(|r| r.unit == t.unit) else { continue };
        let difference = t.value - r.value;
        let plus_minus = t.plus_minus.hypot(r.plus_minus);
        let verdict = if difference.abs() <= plus_minus {
            Verdict::Within
        } else if difference.abs() >= SINGLE_REP_FACTOR * plus_minus {
            Verdict::Bigger
        } else {
            Verdict::CantTell
        };
        all.push(Difference { measure: *measure, today: *t, reference: *r, difference, plus_minus, verdict });
    }
    all
}

/// What only one of the two gives.
pub fn one_sided(today: &Measures, reference: &Measures) -> Vec<OneSided> {
    let alone = |mine: &Measures, other: &Measures, clip: Which| {
        let keep = mine.iter().filter(|(id, _)| !other.contains_key(id));
        keep.map(|(id, m)| OneSided { measure: *id, clip, value: *m }).collect::<Vec<_>>()
    };
    let mut all = alone(today, reference, Which::Today);
    all.extend(alone(reference, today, Which::Reference));
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Measure, MeasureId, Unit};

    #[test]
    fn error_decides_what_is_said() {
        let one = |value| {
            Measures::from([(MeasureId::PlantToContact, Measure { value, plus_minus: 10.0, unit: Unit::Ms })])
        };
        let verdict = |a, b| between(&one(a), &one(b))[0].verdict;
        assert_eq!(verdict(180.0, 175.0), Verdict::Within);
        assert_eq!(verdict(200.0, 180.0), Verdict::CantTell);
        assert_eq!(verdict(220.0, 180.0), Verdict::Bigger);
        assert!(between(&one(1.0), &Measures::new()).is_empty());
    }
}
