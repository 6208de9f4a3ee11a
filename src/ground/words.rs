//! Every English word that people see, in clips and on the command line; ready to be translated.

use super::{EventId, Measure, MeasureId, Unit, Verdict};

pub const TODAY: &str = "Today";
pub const REFERENCE: &str = "Best rep";
pub const FULL_SPEED: &str = "Full speed";
pub const NOT_MEASURED: &str = "not measured";
/// At the foot of the closing card.
pub const LIMITS: [&str; 2] = ["Each value comes from one camera view.", "Estimates, not a diagnosis."];
pub const NOTHING_SHARED: &str = "No measure could be taken from both swings.";
pub const MAKING: &str = "making the clip";
pub const NO_REGISTRATION: &str = "the two bodies could not be matched";

/// Why there is no ghost, and the layout that is used instead.
pub fn ghost_impossible(why: &str, instead: &str) -> String {
    format!("no ghost can be laid over ({why}); the clip is made {instead}")
}

/// Why the made clip is silent.
pub fn without_sound(why: &super::Error) -> String {
    format!("the made clip goes without sound ({why})")
}

/// "8× slower", "6.5× slower".
pub fn slowed(times: f64) -> String {
    let times = (times * 10.0).round() / 10.0;
    format!("{times}× slower")
}

/// How the event is named in a sentence of its own.
pub const fn event(id: EventId) -> &'static str {
    match id {
        EventId::Stance => "Stance",
        EventId::Load => "Load",
        EventId::FootOff => "Front foot lifts",
        EventId::Touch => "Front foot touches",
        EventId::Plant => "Front foot plants",
        EventId::HandsStart => "Hands start",
        EventId::Contact => "Contact",
        EventId::Extension => "Extension",
        EventId::Finish => "Finish",
    }
}

/// The event in one short word, for tables and marks.
pub const fn event_short(id: EventId) -> &'static str {
    match id {
        EventId::Stance => "stance",
        EventId::Load => "load",
        EventId::FootOff => "foot off",
        EventId::Touch => "touch",
        EventId::Plant => "plant",
        EventId::HandsStart => "hands start",
        EventId::Contact => "contact",
        EventId::Extension => "extension",
        EventId::Finish => "finish",
    }
}

/// The caption while nothing else is said.
pub fn lined_up(id: EventId) -> String {
    format!("Lined up on {}", event_short(id))
}

/// What the time 0 means: "0 = plant".
pub fn zero(id: EventId) -> String {
    format!("0 = {}", event_short(id))
}

pub const fn measure(id: MeasureId) -> &'static str {
    match id {
        MeasureId::PlantToContact => "Plant to contact",
        MeasureId::HandsStartToContact => "Hands start to contact",
        MeasureId::StrideLength => "Stride",
        MeasureId::HandsToFrontFootAtPlant => "Hands to front foot at plant",
        MeasureId::HeadTravelPlantToContact => "Head travel, plant to contact",
        MeasureId::FirstHandTravelDirection => "Hands’ first 10 cm",
        MeasureId::FrontKneeAtPlant => "Front knee at plant",
        MeasureId::FrontKneeAtContact => "Front knee at contact",
        MeasureId::BackFootLiftAtContact => "Back foot lift at contact",
        MeasureId::ExtensionDistance => "Reach at extension",
        MeasureId::ContactToExtension => "Contact to extension",
    }
}

/// What a unit is called after a number.
pub const fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Ms => " ms",
        Unit::Deg => "°",
        Unit::Cm => " cm",
        Unit::BodyHeights => " % of height",
    }
}

/// A unit long enough to be said once for two numbers.
pub const fn long_unit(unit: Unit) -> Option<&'static str> {
    match unit {
        Unit::BodyHeights => Some("% of height"),
        Unit::Ms | Unit::Deg | Unit::Cm => None,
    }
}

/// "182 ± 9 ms", "5.2 ± 0.8 cm", "31 ± 2 % of height", "12 ± 4° down". The error decides how many
/// digits are shown.
pub fn value(id: MeasureId, m: &Measure) -> String {
    let direction = id == MeasureId::FirstHandTravelDirection && m.unit == Unit::Deg;
    let way = match (direction, m.value) {
        (true, v) if v.abs() < 0.5 => ", level",
        (true, v) if v > 0.0 => " down",
        (true, _) => " up",
        (false, _) => "",
    };
    format!("{}{}{way}", number(id, m), unit(m.unit))
}

/// The same without its unit: "182 ± 9".
pub fn number(id: MeasureId, m: &Measure) -> String {
    let (value, error) = match m.unit {
        Unit::BodyHeights => (m.value * 100.0, m.plus_minus * 100.0),
        _ => (m.value, m.plus_minus),
    };
    // Up and down are said in words.
    let direction = id == MeasureId::FirstHandTravelDirection && m.unit == Unit::Deg;
    let shown = if direction { value.abs() } else { value };
    if error < 0.95 && matches!(m.unit, Unit::Cm | Unit::BodyHeights) {
        format!("{} ± {:.1}", signed(shown, 1), error.max(0.1))
    } else {
        // An error is never shown as 0.
        format!("{} ± {}", signed(shown, 0), error.round().max(1.0))
    }
}

/// With a true minus sign, and without a minus before zero.
fn signed(value: f64, digits: usize) -> String {
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

/// What a difference amounts to. `rate_hz` is the slower camera's.
pub fn verdict(verdict: Verdict, rate_hz: f64) -> String {
    match verdict {
        Verdict::Bigger => "clear difference".to_owned(),
        Verdict::Within => "no clear difference".to_owned(),
        Verdict::CantTell => format!("can’t tell at {} fps", rate_hz.round()),
    }
}

/// Measures named under one verdict: "no clear difference: Stride; Front knee at contact".
pub fn also(verdict: &str, measures: &[&str]) -> String {
    format!("{verdict}: {}", measures.join("; "))
}

/// Beside a value that only one of the two clips gives.
pub fn only_from(label: &str) -> String {
    format!("only in {label}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn m(value: f64, plus_minus: f64, unit: Unit) -> Measure {
        Measure { value, plus_minus, unit }
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
    fn no_minus_before_zero() {
        assert_eq!(elapsed(-0.0002), "0 ms");
        assert_eq!(elapsed(-0.125), "−125 ms");
        assert_eq!(elapsed(0.06), "+60 ms");
        assert_eq!(value(MeasureId::BackFootLiftAtContact, &m(-0.3, 2.0, Unit::Cm)), "0 ± 2 cm");
    }

    #[test]
    fn slow_factor_has_no_needless_digits() {
        assert_eq!(slowed(8.0), "8× slower");
        assert_eq!(slowed(6.5), "6.5× slower");
    }
}
