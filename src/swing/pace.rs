//! Whether a swing goes at a pace a body can have: slow motion that nothing tells of would make every time and speed
//! wrong by a whole factor, so such a swing's are not given.

use super::measures::LeftOut;
use crate::ground::{Event, EventId, Events, MeasureId, Warning, words};

/// From hands start to contact takes no longer than this, s. Softball hitters take 208 ± 42 ms (Reilly-Boccia, Sport
/// Journal), baseball hitters about 150 ms (Adair): five standard deviations over the slower.
const SWING_S: f64 = 0.42;
/// From plant to contact, s: about 175 ms (Welch, from memory, unconfirmed); nearly three times that.
const PLANTED_S: f64 = 0.5;
/// The hands' peak is no slower than this, body heights a second. No published norm was found: made-up adults have 4
/// and more, a child's hands reach about 3 (own estimate, as in `burst.rs`).
const HANDS: f64 = 2.3;

/// Times and speeds of a swing that plays slower than a body can.
/// `peak`: of the hands, body heights a second.
pub(super) fn too_slow(events: &Events, peak: f64) -> Option<LeftOut> {
    let surely_longer = |from: EventId, to: EventId, most_s: f64| {
        let (from, to): (&Event, &Event) = (events.get(&from)?, events.get(&to)?);
        let takes_s = to.time_s - from.time_s;
        Some(takes_s - from.plus_minus_s.hypot(to.plus_minus_s) > most_s)
    };
    let slow = peak < HANDS
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
    use crate::ground::Source;

    fn swing(takes_s: f64, plus_minus_s: f64) -> Events {
        let event =
            |time_s| Event { time_s, plus_minus_s, frame: 0, source: Source::Motion, confidence: 0.7 };
        [(EventId::HandsStart, event(1.0)), (EventId::Contact, event(1.0 + takes_s))].into()
    }

    #[test]
    fn a_swing_twice_as_slow_as_the_slowest_is_not_believed() {
        let usual = 5.0;
        assert!(too_slow(&swing(0.21, 0.02), usual).is_none());
        assert!(too_slow(&swing(0.40, 0.02), usual).is_none());
        assert!(too_slow(&swing(0.21, 0.02), 1.3).is_some());
        // Unsure moments are no proof.
        assert!(too_slow(&swing(0.50, 0.2), usual).is_none());
        let out = too_slow(&swing(0.8, 0.03), usual).unwrap();
        assert!(
            out.measures.contains(&MeasureId::PlantToContact)
                && !out.measures.contains(&MeasureId::StrideLength)
        );
        assert!(out.warning.text.contains("--recorded-at"));
    }
}
