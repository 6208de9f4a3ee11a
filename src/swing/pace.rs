//! Whether a swing goes at a pace a body can have: slow motion that nothing tells of would make every time and speed
//! wrong by a whole factor, so such a swing's are not given.

use super::measures::LeftOut;
use crate::ground::{Event, EventId, Events, MeasureId, Measures, Unit, Warning, words};

/// From hands start to contact takes no longer than this, s. Softball hitters take 208 ± 42 ms (Reilly-Boccia, Sport
/// Journal), baseball hitters about 150 ms (Adair): five standard deviations over the slower.
const SWING_S: f64 = 0.42;
/// From plant to contact, s: about 175 ms (Welch, from memory, unconfirmed); nearly three times that.
const PLANTED_S: f64 = 0.5;
/// The hands' peak is no slower than this, body heights a second. No published norm was found: made-up swings have 4.5
/// and more, and half of that is two thirds of this.
const HANDS: f64 = 3.2;
/// Height that a speed in m/s is judged by, m: a large adult's, so that a small body seems quicker, not slower.
const HEIGHT_M: f64 = 1.9;

/// Times and speeds of a swing that plays slower than a body can.
pub(super) fn too_slow(events: &Events, measures: &Measures) -> Option<LeftOut> {
    let surely_longer = |from: EventId, to: EventId, most_s: f64| {
        let (from, to): (&Event, &Event) = (events.get(&from)?, events.get(&to)?);
        let takes_s = to.time_s - from.time_s;
        Some(takes_s - from.plus_minus_s.hypot(to.plus_minus_s) > most_s)
    };
    let slow_hands = measures.get(&MeasureId::PeakHandSpeed).is_some_and(|m| {
        let height = if m.unit == Unit::MetresPerS { HEIGHT_M } else { 1.0 };
        (m.value + m.plus_minus / 2.0) / height < HANDS
    });
    let slow = slow_hands
        || surely_longer(EventId::HandsStart, EventId::Contact, SWING_S) == Some(true)
        || surely_longer(EventId::Plant, EventId::Contact, PLANTED_S) == Some(true);
    slow.then(|| LeftOut {
        measures: vec![
            MeasureId::LoadToPlant,
            MeasureId::FootOffToPlant,
            MeasureId::PlantToContact,
            MeasureId::HandsStartToContact,
            MeasureId::PeakHandSpeed,
            MeasureId::PeakHandSpeedToContact,
            MeasureId::BatSpeed,
            MeasureId::ContactToExtension,
        ],
        why: words::TOO_SLOW,
        warning: Warning::new("too_slow_for_life", words::TOO_SLOW_LONG),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Measure, Source};

    fn swing(takes_s: f64, plus_minus_s: f64) -> Events {
        let event =
            |time_s| Event { time_s, plus_minus_s, frame: 0, source: Source::Motion, confidence: 0.7 };
        [(EventId::HandsStart, event(1.0)), (EventId::Contact, event(1.0 + takes_s))].into()
    }

    #[test]
    fn a_swing_twice_as_slow_as_the_slowest_is_not_believed() {
        let none = Measures::new();
        assert!(too_slow(&swing(0.21, 0.02), &none).is_none());
        assert!(too_slow(&swing(0.40, 0.02), &none).is_none());
        // Unsure moments are no proof.
        assert!(too_slow(&swing(0.50, 0.2), &none).is_none());
        let out = too_slow(&swing(0.8, 0.03), &none).unwrap();
        assert!(
            out.measures.contains(&MeasureId::PlantToContact)
                && !out.measures.contains(&MeasureId::StrideLength)
        );
        assert!(out.warning.text.contains("--recorded-at"));
    }

    #[test]
    fn hands_that_hardly_move_are_not_believed() {
        let hands = |value, plus_minus, unit| {
            let measures = [(MeasureId::PeakHandSpeed, Measure { value, plus_minus, unit })].into();
            too_slow(&swing(0.2, 0.02), &measures).is_some()
        };
        assert!(hands(2.1, 0.8, Unit::BodyHeightsPerS) && hands(2.0, 2.0, Unit::BodyHeightsPerS));
        assert!(hands(3.5, 1.4, Unit::MetresPerS));
        assert!(!hands(5.0, 2.0, Unit::BodyHeightsPerS) && !hands(9.0, 2.0, Unit::MetresPerS));
    }
}
