//! Numbers with their error and unit.

use super::Captions;
use crate::types::{CM_PER_INCH, Difference, M_PER_S_PER_MPH, Measure, MeasureId, Unit, Units};

/// A head's height, chin to crown, as a share of stature: chin at .870 (Drillis & Contini 1966, in Winter
/// fig. 4.1).
const HEAD_HEIGHT: f64 = 0.130;

/// What a coach sees more easily than the number, where there is such a thing: head travel in head heights
/// while no scale is known.
pub fn aside(id: MeasureId, m: &Measure) -> Option<String> {
    let head = matches!(id, MeasureId::HeadTravelStanceToPlant | MeasureId::HeadTravelPlantToContact);
    (head && m.unit == Unit::BodyHeights).then(|| format!("about {:.1} head heights", m.value / HEAD_HEIGHT))
}

/// Measures that are absent for one and the same reason: "film from the open side: Stride, Bat speed".
pub fn absent(why: &str, measures: &[&str]) -> String {
    format!("not measured, {why}: {}", measures.join(", "))
}

impl Captions {
    /// What a kept number is multiplied by to be shown in [`Captions::unit`].
    pub fn times(&self, unit: Unit) -> f64 {
        match (unit, self.units) {
            (Unit::BodyHeights, _) => 100.0,
            (Unit::Cm, Units::Us) => 1.0 / CM_PER_INCH,
            (Unit::MetresPerS, Units::Us) => 1.0 / M_PER_S_PER_MPH,
            _ => 1.0,
        }
    }

    /// "182 ± 9 ms", "5.2 ± 0.8 cm", "31 ± 2 % of height", "12 ± 4° down". The error decides how many
    /// digits are shown.
    pub fn value(&self, id: MeasureId, m: &Measure) -> String {
        format!("{}{}{}", self.number(id, m), self.unit(m.unit), self.way(id, m))
    }

    /// Which way the hands go first; nothing of other measures.
    pub fn way(&self, id: MeasureId, m: &Measure) -> String {
        match m.value {
            _ if !is_direction(id, m.unit) => String::new(),
            v if v.abs() < 0.5 => format!(", {}", self.word("directions", "level")),
            v => format!(" {}", self.up_or_down(v)),
        }
    }

    fn up_or_down(&self, deg: f64) -> &str {
        self.word("directions", if deg < 0.0 { "up" } else { "down" })
    }

    /// The range of the good reps: "168–182 ms".
    pub fn range(&self, d: &Difference) -> Option<String> {
        if is_direction(d.measure, d.today.unit) {
            // Up and down are said in words: "4–10° up", "3° up to 2° down".
            let spread = d.spread?;
            let [low, high] = [spread.low.round(), spread.high.round()];
            let [from, to] = [low, high].map(|v| self.up_or_down(v));
            return Some(match (low.abs(), high.abs()) {
                (a, b) if from != to => format!("{a}° {from} {} {b}° {to}", self.word("directions", "to")),
                (a, b) if a == b => format!("{a}° {from}"),
                (a, b) => format!("{}–{}° {from}", a.min(b), a.max(b)),
            });
        }
        Some(format!("{}{}", self.range_number(d)?, self.unit(d.today.unit)))
    }

    /// The same without its unit: "168–182".
    pub fn range_number(&self, d: &Difference) -> Option<String> {
        let spread = d.spread?;
        let times = self.times(d.today.unit);
        let fine = times * d.today.plus_minus < 0.95 && in_tenths(d.today.unit);
        let [low, high] = [spread.low, spread.high].map(|v| signed(v * times, usize::from(fine)));
        let minus = low.starts_with('−') || high.starts_with('−');
        let to = if minus { format!(" {} ", self.word("directions", "to")) } else { "–".to_owned() };
        Some(if low == high { low } else { format!("{low}{to}{high}") })
    }

    /// A value without its unit: "182 ± 9".
    pub fn number(&self, id: MeasureId, m: &Measure) -> String {
        let (value, error) = (m.value * self.times(m.unit), m.plus_minus * self.times(m.unit));
        // Up and down are said in words.
        let shown = if is_direction(id, m.unit) { value.abs() } else { value };
        if error < 0.95 && in_tenths(m.unit) {
            format!("{} ± {:.1}", signed(shown, 1), error.max(0.1))
        } else {
            // An error is never shown as 0.
            format!("{} ± {}", signed(shown, 0), error.round().max(1.0))
        }
    }

    /// "+12 ms", "−4 % of height": today less the reference.
    pub fn difference(&self, d: &Difference) -> String {
        if is_direction(d.measure, d.today.unit) {
            let turned = d.difference.round();
            let way = if turned < 0.0 { "up" } else { "down" };
            return format!("{}° more {way}", turned.abs());
        }
        let times = self.times(d.today.unit);
        let (value, error) = (d.difference * times, d.plus_minus * times);
        let digits = usize::from(error < 0.95 && in_tenths(d.today.unit));
        let text = signed(value, digits);
        let sign =
            if text.starts_with('−') || text.chars().all(|c| c == '0' || c == '.') { "" } else { "+" };
        format!("{sign}{text}{}", self.unit(d.today.unit))
    }
}

/// Units whose numbers may be sure to less than 1.
pub(super) const fn in_tenths(unit: Unit) -> bool {
    matches!(unit, Unit::Cm | Unit::BodyHeights | Unit::MetresPerS | Unit::BodyHeightsPerS)
}

/// With a true minus sign, and without a minus before zero.
pub(super) fn signed(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        Some(rest) => format!("−{rest}"),
        None => text,
    }
}

/// Time from the moment the two are lined up on: "−125 ms", "0 ms", "+60 ms".
pub fn elapsed(seconds: f64) -> String {
    let ms = (seconds * 1000.0).round();
    match ms {
        m if m > 0.0 => format!("+{m} ms"),
        m if m < 0.0 => format!("−{} ms", -m),
        _ => "0 ms".to_owned(),
    }
}

/// The same where nobody could read thousandths: "−0.3 s".
pub fn elapsed_tenths(seconds: f64) -> String {
    let tenths = (seconds * 10.0).round();
    let sign = if tenths > 0.0 { "+" } else { "−" };
    if tenths == 0.0 { "0 s".to_owned() } else { format!("{sign}{:.1} s", tenths.abs() / 10.0) }
}

fn is_direction(id: MeasureId, of: Unit) -> bool {
    id == MeasureId::FirstHandTravelDirection && of == Unit::Deg
}

#[cfg(test)]
mod tests {
    use super::super::{english, english_in, verdict};
    use super::*;
    use crate::types::UsualFrom;
    use crate::types::{Limit, Spread, Verdict};

    fn m(value: f64, plus_minus: f64, unit: Unit) -> Measure {
        Measure { value, plus_minus, unit }
    }

    fn value(id: MeasureId, m: &Measure) -> String {
        english().value(id, m)
    }

    /// Checked against NIST SP 811, appendix B.8: an inch is 2.54 cm, a mile an hour 0.447 04 m/s, both exactly.
    #[test]
    fn lengths_and_speeds_are_shown_in_inches_and_miles_an_hour() {
        let us = |id, value, plus_minus, unit| english_in(Units::Us).value(id, &m(value, plus_minus, unit));
        let stride = MeasureId::StrideLength;
        assert_eq!(us(stride, 25.4, 5.08, Unit::Cm), "10 ± 2 in");
        assert_eq!(us(stride, 25.4, 1.27, Unit::Cm), "10.0 ± 0.5 in");
        assert_eq!(us(MeasureId::PeakHandSpeed, 8.9408, 0.89408, Unit::MetresPerS), "20 ± 2 mph");
        assert_eq!(us(stride, 0.314, 0.02, Unit::BodyHeights), "31 ± 2 % of height");
        assert_eq!(us(MeasureId::PlantToContact, 181.6, 9.3, Unit::Ms), "182 ± 9 ms");
        assert_eq!(us(MeasureId::FrontKneeAtPlant, 150.0, 6.0, Unit::Deg), "150 ± 6°");
    }

    #[test]
    fn values_carry_their_error_and_unit() {
        let time = MeasureId::PlantToContact;
        assert_eq!(value(time, &m(181.6, 9.3, Unit::Ms)), "182 ± 9 ms");
        assert_eq!(value(time, &m(181.6, 0.2, Unit::Ms)), "182 ± 1 ms");
        assert_eq!(value(MeasureId::StrideLength, &m(74.6, 4.2, Unit::Cm)), "75 ± 4 cm");
        assert_eq!(value(MeasureId::StrideLength, &m(0.314, 0.02, Unit::BodyHeights)), "31 ± 2 % of height");
        let head = MeasureId::HeadTravelPlantToContact;
        assert_eq!(value(head, &m(5.24, 0.8, Unit::Cm)), "5.2 ± 0.8 cm");
        assert_eq!(value(head, &m(0.0, 0.01, Unit::Cm)), "0.0 ± 0.1 cm");
    }

    #[test]
    fn direction_is_in_words() {
        let id = MeasureId::FirstHandTravelDirection;
        assert_eq!(value(id, &m(12.2, 4.0, Unit::Deg)), "12 ± 4° down");
        assert_eq!(value(id, &m(-7.0, 3.0, Unit::Deg)), "7 ± 3° up");
        assert_eq!(value(id, &m(0.2, 3.0, Unit::Deg)), "0 ± 3°, level");
    }

    #[test]
    fn differences_and_ranges_are_short() {
        let d = |measure, unit, today: f64, low: f64, high: f64, pm| Difference {
            measure,
            today: m(today, pm, unit),
            reference: m((low + high) / 2.0, pm, unit),
            difference: today - (low + high) / 2.0,
            plus_minus: pm,
            needed: Some(1.0),
            verdict: Verdict::Within,
            limit: None,
            settle: None,
            usual_sd: 1.0,
            usual_from: UsualFrom::Estimated,
            spread: Some(Spread { reps: 3, low, high, sd: Some(1.0) }),
        };
        let both = |d: Difference| (english().range(&d).unwrap(), english().difference(&d));
        let says = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        let time = MeasureId::PlantToContact;
        assert_eq!(both(d(time, Unit::Ms, 190.0, 168.2, 181.8, 9.0)), says("168–182 ms", "+15 ms"));
        assert_eq!(both(d(time, Unit::Ms, 168.0, 168.0, 168.0, 9.0)), says("168 ms", "0 ms"));
        let lift = MeasureId::BackFootLiftAtContact;
        assert_eq!(
            both(d(lift, Unit::BodyHeights, 0.0, -0.012, 0.03, 0.02)),
            says("−1 to 3 % of height", "−1 % of height")
        );
        let way = MeasureId::FirstHandTravelDirection;
        assert_eq!(both(d(way, Unit::Deg, 12.0, -10.0, -4.0, 4.0)), says("4–10° up", "19° more down"));
        assert_eq!(both(d(way, Unit::Deg, -3.0, -3.0, 2.0, 4.0)), says("3° up to 2° down", "3° more up"));
        let said = |limit, rate_hz| {
            let limited =
                Difference { verdict: Verdict::CantTell, limit, ..d(time, Unit::Ms, 1.0, 1.0, 1.0, 9.0) };
            verdict(&limited, rate_hz)
        };
        assert_eq!(said(Some(Limit::FrameRate), 29.97), "can’t tell at 30 fps");
        assert_eq!(said(Some(Limit::FewReps), 30.0), "can’t tell from 3 reps");
        assert_eq!(said(Some(Limit::Measuring), 30.0), "can’t tell");
    }

    #[test]
    fn names_that_find_no_room_are_counted() {
        assert_eq!(english().also("within it", &["Stride"], 0), "within it: Stride");
        assert_eq!(english().also("within it", &["Stride"], 4), "within it: Stride; 4 more");
    }

    #[test]
    fn speeds_and_head_heights() {
        let speed = MeasureId::PeakHandSpeed;
        assert_eq!(value(speed, &m(7.32, 0.61, Unit::MetresPerS)), "7.3 ± 0.6 m/s");
        assert_eq!(value(speed, &m(4.1, 0.34, Unit::BodyHeightsPerS)), "4.1 ± 0.3 heights/s");
        let head = MeasureId::HeadTravelStanceToPlant;
        assert_eq!(aside(head, &m(0.065, 0.01, Unit::BodyHeights)).unwrap(), "about 0.5 head heights");
        assert_eq!(aside(head, &m(11.0, 1.0, Unit::Cm)), None);
        assert_eq!(aside(MeasureId::StrideLength, &m(0.3, 0.01, Unit::BodyHeights)), None);
    }

    #[test]
    fn no_minus_before_zero() {
        assert_eq!(elapsed(-0.0002), "0 ms");
        assert_eq!(elapsed(-0.125), "−125 ms");
        assert_eq!(elapsed(0.06), "+60 ms");
        assert_eq!([-0.31, 0.04, 1.26].map(elapsed_tenths), ["−0.3 s", "0 s", "+1.3 s"]);
        assert_eq!(value(MeasureId::BackFootLiftAtContact, &m(-0.3, 2.0, Unit::Cm)), "0 ± 2 cm");
    }

    #[test]
    fn slow_factor_has_no_needless_digits() {
        assert_eq!(english().slowed(8.0), "8× slower");
        assert_eq!(english().slowed(6.5), "6.5× slower");
    }
}
