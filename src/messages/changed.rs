//! What changed most, in one sentence.

use super::Captions;
use crate::types::{Difference, MeasureId, Unit, Verdict};

/// Of what is bigger than the usual rep-to-rep change the one that is so by most; else that nothing is. `ranged`: the
/// reference is the range of the good reps.
pub fn changed_most(words: &Captions, differences: &[Difference], ranged: bool) -> String {
    let bigger = differences.iter().filter(|d| d.verdict == Verdict::Bigger);
    let other = if ranged { "in the good reps" } else { "in the reference" };
    match bigger.max_by(|a, b| a.clearness().total_cmp(&b.clearness())) {
        Some(d) => {
            let name = words.measure(d.measure);
            let [today, reference] =
                [&d.today, &d.reference].map(|m| plain(words, d.measure, m.unit, m.value));
            format!("What changed most: {name}, {today} today and {reference} {other}.")
        }
        None if differences.is_empty() => {
            "Nothing could be compared because the clips have no measure in common.".to_owned()
        }
        None if differences.iter().all(|d| d.verdict == Verdict::CantTell) => {
            "These clips cannot tell whether anything changed.".to_owned()
        }
        None => "Nothing changed more than it usually does from rep to rep.".to_owned(),
    }
}

/// Without its error, which the table tells.
fn plain(words: &Captions, id: MeasureId, unit: Unit, value: f64) -> String {
    let way = match id == MeasureId::FirstHandTravelDirection && unit == Unit::Deg {
        true if value < 0.0 => " up",
        true => " down",
        false => "",
    };
    let value = if way.is_empty() { value } else { value.abs() };
    format!("{}{way}", words.amount(unit, value))
}

#[cfg(test)]
mod tests {
    use super::super::english;
    use super::*;
    use crate::types::{Measure, UsualFrom};

    fn difference(measure: MeasureId, unit: Unit, values: [f64; 2], verdict: Verdict) -> Difference {
        let [today, reference] = values.map(|value| Measure { value, plus_minus: 1.0, unit });
        Difference {
            measure,
            today,
            reference,
            difference: values[0] - values[1],
            plus_minus: 1.4,
            needed: Some(10.0),
            verdict,
            limit: None,
            settle: None,
            usual_sd: 1.0,
            usual_from: UsualFrom::Estimated,
            spread: None,
        }
    }

    #[test]
    fn one_sentence_tells_the_largest_change_or_that_there_is_none() {
        let reported = |all: &[Difference]| changed_most(english(), all, false);
        assert!(reported(&[]).starts_with("Nothing could be compared"));
        let knee = |verdict| difference(MeasureId::FrontKneeAtPlant, Unit::Deg, [150.0, 120.0], verdict);
        let stride = difference(MeasureId::StrideLength, Unit::Cm, [60.0, 75.0], Verdict::Bigger);
        assert_eq!(
            reported(&[stride.clone(), knee(Verdict::Bigger)]),
            "What changed most: Front knee at plant, 150° today and 120° in the reference."
        );
        assert_eq!(
            changed_most(english(), &[stride, knee(Verdict::Within)], true),
            "What changed most: Stride, 60 cm today and 75 cm in the good reps."
        );
        assert!(reported(&[knee(Verdict::Within)]).starts_with("Nothing changed"));
        assert!(reported(&[knee(Verdict::CantTell)]).contains("cannot tell"));
    }
}
