//! Whether moments that a person pins can belong to one swing: their order, and how far apart they may lie.

use std::path::Path;

use crate::messages;
use crate::swing::Pins;
use crate::types::{Error, EventId, Result};

/// The longest that may pass between two moments, s of life: several times what any hitter takes (common practice, no
/// source), so that only a slip of the finger or a slow-motion clock goes beyond.
const LONGEST_S: [(EventId, EventId, f64); 7] = [
    (EventId::Load, EventId::Contact, 5.0),
    (EventId::FootOff, EventId::Plant, 3.0),
    (EventId::Touch, EventId::Plant, 1.0),
    (EventId::Plant, EventId::Contact, 1.0),
    (EventId::HandsStart, EventId::Contact, 0.6),
    (EventId::Contact, EventId::Extension, 0.5),
    (EventId::Contact, EventId::Finish, 2.5),
];
/// The shortest from plant, and from the hands' start, to contact, s of life: a third of what the quickest take (common
/// practice, no source).
const SHORTEST_S: [(EventId, EventId, f64); 2] =
    [(EventId::Plant, EventId::Contact, 0.02), (EventId::HandsStart, EventId::Contact, 0.03)];

/// Refuse the first two pins that no swing can hold, by name.
pub fn check(clip: &Path, pins: &Pins) -> Result<()> {
    for (earlier, first_s) in pins {
        for (later, second_s) in pins {
            if let Some(why) = wrong(*earlier, *later, second_s - first_s) {
                let pin = |event: &EventId, time_s: &f64| format!("{}={time_s}", event.word());
                let both = [pin(earlier, first_s), pin(later, second_s)];
                return Err(Error::Usage(messages::pins::cannot_be(clip, &both, &why, *later)));
            }
        }
    }
    Ok(())
}

/// Why `later` cannot follow `earlier` by so much; `None` also where the two have no order.
fn wrong(earlier: EventId, later: EventId, apart_s: f64) -> Option<String> {
    let together = earlier == EventId::Touch && later == EventId::Plant;
    if comes_before(earlier, later) && (apart_s < 0.0 || apart_s == 0.0 && !together) {
        return Some(messages::pins::order(earlier, later));
    }
    let named = |(a, b, _): &&(EventId, EventId, f64)| (*a, *b) == (earlier, later);
    let longest = LONGEST_S.iter().find(named).filter(|(_, _, most_s)| apart_s > *most_s);
    let shortest = SHORTEST_S.iter().find(named).filter(|(_, _, least_s)| apart_s < *least_s);
    longest.map(|(_, _, most_s)| messages::pins::too_long(earlier, later, apart_s, *most_s)).or_else(|| {
        shortest.map(|(_, _, least_s)| messages::pins::too_short(earlier, later, apart_s, *least_s))
    })
}

/// Load and foot off come in either order, and the hands may start at any time between stance and contact.
fn comes_before(a: EventId, b: EventId) -> bool {
    let place = |event: EventId| match event {
        EventId::Stance => 0,
        EventId::Load | EventId::FootOff => 1,
        EventId::Touch => 2,
        EventId::Plant => 3,
        EventId::HandsStart => 4,
        EventId::Contact => 5,
        EventId::Extension => 6,
        EventId::Finish => 7,
    };
    let hands = |event: EventId| event == EventId::HandsStart;
    let sure = !(hands(a) || hands(b)) || place(a) == 0 || place(b) >= 5;
    sure && place(a) < place(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(pins: &[(EventId, f64)]) -> Option<String> {
        check(Path::new("rep.mp4"), &pins.iter().copied().collect()).err().map(|e| e.to_string())
    }

    #[test]
    fn the_order_of_a_swing_is_asked_for_and_no_more() {
        use EventId::*;
        let whole = [
            (Stance, 0.2),
            (FootOff, 0.9),
            (Load, 1.0),
            (Touch, 1.3),
            (HandsStart, 1.32),
            (Plant, 1.35),
            (Contact, 1.5),
            (Extension, 1.55),
            (Finish, 1.9),
        ];
        assert_eq!(said(&whole), None);
        assert_eq!(said(&[(Touch, 1.3), (Plant, 1.3), (HandsStart, 1.2)]), None);
        // Any two that have an order, the other way round.
        for (a, b) in [
            (Stance, Load),
            (Stance, HandsStart),
            (FootOff, Touch),
            (Load, Plant),
            (Touch, Plant),
            (Plant, Contact),
            (HandsStart, Contact),
            (Contact, Extension),
            (Extension, Finish),
        ] {
            let reported = said(&[(a, 1.5), (b, 1.4)]).unwrap();
            for pin in [format!("{}=1.5", a.word()), format!("{}=1.4", b.word())] {
                assert!(reported.contains(&pin) && reported.contains("rep.mp4"), "{reported}");
            }
        }
    }

    #[test]
    fn lengths_no_body_can_have_are_refused() {
        use EventId::*;
        for (pins, word) in [
            ([(Plant, 1.0), (Contact, 2.5)], "at most 1 s"),
            ([(Plant, 1.0), (Contact, 1.01)], "at least 0.02 s"),
            ([(HandsStart, 1.0), (Contact, 1.8)], "at most 0.6 s"),
            ([(Contact, 1.0), (Finish, 4.0)], "at most 2.5 s"),
        ] {
            let reported = said(&pins).unwrap();
            assert!(reported.contains(word) && reported.contains("--recorded-at"), "{reported}");
        }
    }
}
