//! Whether a swing goes at a pace a body can have: slow motion that nothing tells of would make every time and speed
//! wrong by a whole factor, so such a swing's are not given.

use super::measures::LeftOut;
use super::params::{LONGEST_PLANTED_S, LONGEST_SWING_S, SLOWEST_HANDS};
use crate::types::{AbsentReason, Event, EventId, Events, MeasureId, Warning};

/// Times and speeds of a swing that plays slower than a body can.
/// `peak`: of the hands, body heights a second.
pub(super) fn too_slow(events: &Events, peak: f64) -> Option<LeftOut> {
    let surely_longer = |from: EventId, to: EventId, most_s: f64| {
        let (from, to): (&Event, &Event) = (events.get(&from)?, events.get(&to)?);
        let takes_s = to.time_s - from.time_s;
        Some(takes_s - from.plus_minus_s.hypot(to.plus_minus_s) > most_s)
    };
    let slow = peak < SLOWEST_HANDS
        || surely_longer(EventId::HandsStart, EventId::Contact, LONGEST_SWING_S) == Some(true)
        || surely_longer(EventId::Plant, EventId::Contact, LONGEST_PLANTED_S) == Some(true);
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
        why: AbsentReason::SlowMotion,
        warning: Warning::TooSlowForLife,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::messages;
    use crate::types::Source;

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
        assert!(messages::warning(&out.warning).contains("--recorded-at"));
    }
}
