//! Whether two clips can show one swing, by what was read of each.

use crate::types::{Measure, MeasureId, Reading, Unit, View};

/// Two values of one swing lie farther apart than this many times both ± (95 %) in 3 of 1000 cases.
const UNLIKE: f64 = 1.5;
/// So many measures apart, seen from one side, are two swings: one alone may be misread.
const TOO_MANY: usize = 2;

/// A measure that one swing cannot have twice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unlike {
    /// Which measure.
    pub measure: MeasureId,
    /// What each of the two clips gives.
    pub values: [Measure; 2],
}

/// What speaks against two clips showing one swing from two sides.
#[derive(Debug, Clone, PartialEq)]
pub struct Against {
    /// Both are seen from this view.
    pub one_view: Option<View>,
    /// The hitter bats on another side in each.
    pub other_side: bool,
    /// The farthest apart first.
    pub unlike: Vec<Unlike>,
}

impl Against {
    /// From one side two films of one swing would measure alike. A view may be misread, and then lengths and angles differ
    /// all the same: how long things take does not.
    pub fn are_two_swings(&self) -> bool {
        let lasts = |u: &Unlike| u.values[0].unit == Unit::Ms;
        self.one_view.is_some() && self.unlike.len() >= TOO_MANY && self.unlike.iter().any(lasts)
    }
}

/// How long things take is the same from every side; the rest only where both see the same side.
pub fn against([a, b]: [&Reading; 2]) -> Against {
    let one_view = (a.hitter.view == b.hitter.view).then_some(a.hitter.view);
    let apart = |u: &Unlike| {
        let [a, b] = u.values;
        (a.value - b.value).abs() / a.plus_minus.hypot(b.plus_minus).max(1e-9)
    };
    let mut unlike: Vec<Unlike> = a
        .measures
        .iter()
        .filter_map(|(id, m)| Some(Unlike { measure: *id, values: [*m, *b.measures.get(id)?] }))
        .filter(|u| u.values[0].unit == u.values[1].unit)
        .filter(|u| one_view.is_some() || u.values[0].unit == Unit::Ms)
        .filter(|u| apart(u) > UNLIKE)
        .collect();
    unlike.sort_by(|x, y| apart(y).total_cmp(&apart(x)));
    Against { one_view, other_side: a.hitter.bats != b.hitter.bats, unlike }
}

#[cfg(test)]
mod tests {
    use super::super::super::sample;
    use super::*;
    use crate::types::Side;

    fn reading(values: &[(MeasureId, Unit, f64)]) -> Reading {
        let measure = |unit, value| Measure { value, plus_minus: 2.0, unit };
        let mut reading = sample::reading(Default::default());
        reading.measures = values.iter().map(|(id, unit, v)| (*id, measure(*unit, *v))).collect();
        reading
    }

    #[test]
    fn one_side_seen_twice_is_held_to_all_measures_and_two_sides_to_durations() {
        use MeasureId::{FrontKneeAtPlant, PlantToContact, StrideLength};
        let first = reading(&[
            (PlantToContact, Unit::Ms, 150.0),
            (FrontKneeAtPlant, Unit::Deg, 150.0),
            (StrideLength, Unit::Cm, 70.0),
        ]);
        let mut second = reading(&[
            (PlantToContact, Unit::Ms, 151.0),
            (FrontKneeAtPlant, Unit::Deg, 130.0),
            (StrideLength, Unit::Cm, 80.0),
        ]);
        let reported = against([&first, &second]);
        assert!(!reported.are_two_swings() && !reported.other_side);
        assert_eq!(
            reported.unlike.iter().map(|u| u.measure).collect::<Vec<_>>(),
            [FrontKneeAtPlant, StrideLength]
        );
        let mut longer = second.clone();
        longer.measures.insert(PlantToContact, Measure { value: 190.0, plus_minus: 2.0, unit: Unit::Ms });
        assert!(against([&first, &longer]).are_two_swings());
        second.hitter.view = View::FromBehind;
        assert_eq!(
            against([&first, &second]),
            Against { one_view: None, other_side: false, unlike: Vec::new() }
        );
        second.hitter.bats = if first.hitter.bats == Side::Left { Side::Right } else { Side::Left };
        second.measures.insert(PlantToContact, Measure { value: 190.0, plus_minus: 2.0, unit: Unit::Ms });
        let reported = against([&first, &second]);
        assert!(
            reported.other_side && !reported.are_two_swings() && reported.unlike[0].measure == PlantToContact
        );
    }
}
