//! What a pair tells in few words: what changed, what stayed, and what would settle the rest.

use super::Captions;
use crate::types::{Delivery, Difference, FilmedAlike, FilmingChange, Settle, Verdict};

/// At most so many changes are told in full.
pub const MOST_CHANGES: usize = 5;

pub(crate) const CHANGED: &str = "What changed";

/// One change: "Stride  66 cm ± 9, was 56 cm ± 9: +10 cm ± 5".
pub fn change(words: &Captions, d: &Difference) -> String {
    let [today, reference] = [&d.today, &d.reference].map(|m| words.value(d.measure, m));
    format!("{today}, was {reference}: {}", words.difference(d))
}

/// What stayed the same, by name.
pub fn same(words: &Captions, differences: &[Difference]) -> Option<String> {
    let names: Vec<&str> = differences
        .iter()
        .filter(|d| d.verdict == Verdict::Within)
        .map(|d| words.measure(d.measure))
        .collect();
    (!names.is_empty()).then(|| format!("About the same: {}.", names.join(", ")))
}

impl Captions {
    /// One line for all that could not be told, and what would settle most of it.
    pub fn rest<'a>(&self, differences: impl IntoIterator<Item = &'a Difference>) -> Option<String> {
        let open: Vec<&Difference> =
            differences.into_iter().filter(|d| d.verdict == Verdict::CantTell).collect();
        let count = |settle: &Settle| open.iter().filter(|d| d.settle == Some(*settle)).count();
        let ways = [Settle::MoreReps, Settle::FilmAlike, Settle::HigherRate, Settle::CheckEvents];
        let way = self.word("card", way_out(ways.into_iter().max_by_key(count)?));
        match open.len() {
            0 => None,
            1 => Some(self.filled("card", "rest_of_one", &[("way", way)])),
            n => Some(self.filled("card", "rest_of_many", &[("count", &n.to_string()), ("way", way)])),
        }
    }
}

const fn way_out(settle: Settle) -> &'static str {
    match settle {
        Settle::MoreReps => "more_reps",
        Settle::FilmAlike => "film_alike",
        Settle::HigherRate => "higher_rate",
        Settle::CheckEvents => "check_events",
    }
}

/// The two swings of a pair were not swung at the same thing.
pub fn deliveries_differ(today: Delivery, reference: Delivery) -> String {
    format!(
        "Today’s swing was {}, the reference {}: expect the two to differ for that reason alone.",
        delivery(today),
        delivery(reference)
    )
}

const fn delivery(ball: Delivery) -> &'static str {
    match ball {
        Delivery::Tee => "off a tee",
        Delivery::Thrown => "off soft toss",
        Delivery::Machine => "off a machine",
        Delivery::Live => "off live pitching",
    }
}

/// How alike the two were filmed, in one line; nothing where nothing differs.
pub fn filmed(filmed: &FilmedAlike) -> Option<String> {
    let names: Vec<&str> = filmed.changes.iter().map(|c| name(*c)).collect();
    (!names.is_empty())
        .then(|| format!("Filmed differently ({}): small changes are harder to see.", names.join(", ")))
}

const fn name(change: FilmingChange) -> &'static str {
    match change {
        FilmingChange::View => "side",
        FilmingChange::Side => "batting side",
        FilmingChange::Rate => "frame rate",
        FilmingChange::BodySize => "distance or zoom",
        FilmingChange::Place => "framing",
        FilmingChange::Steadiness => "handheld or tripod",
        FilmingChange::Background => "background",
        FilmingChange::Light => "light",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::messages::english;
    use crate::types::{Filming, Limit, Measure, MeasureId, Unit, UsualFrom};

    fn one(measure: MeasureId, verdict: Verdict, settle: Option<Settle>) -> Difference {
        let of = |value| Measure { value, plus_minus: 2.0, unit: Unit::Cm };
        Difference {
            measure,
            today: of(66.0),
            reference: of(56.0),
            difference: 10.0,
            plus_minus: 3.0,
            usual_sd: 1.0,
            usual_from: UsualFrom::Estimated,
            needed: Some(4.0),
            verdict,
            limit: settle.map(|_| Limit::Measuring),
            settle,
            spread: None,
        }
    }

    #[test]
    fn the_rest_is_one_line_with_what_helps_most() {
        let open = |settle| one(MeasureId::LoadToPlant, Verdict::CantTell, Some(settle));
        let all = [open(Settle::HigherRate), open(Settle::MoreReps), open(Settle::HigherRate)];
        assert_eq!(
            english().rest(&all).unwrap(),
            "Can’t tell for 3 others: film at 120 frames a second or more."
        );
        assert_eq!(
            english().rest(&all[1..2]).unwrap(),
            "Can’t tell for 1 other: film two more reps of each."
        );
        assert_eq!(english().rest(&[one(MeasureId::StrideLength, Verdict::Bigger, None)]), None);
        assert_eq!(same(english(), &all), None);
        let alike = FilmedAlike { filming: Filming::Alike, changes: vec![] };
        assert_eq!(filmed(&alike), None);
    }
}
