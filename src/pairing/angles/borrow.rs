//! Which moments one angle takes over from the other.

use crate::types::{Event, EventId, Events, Offset, Source, View};

/// Events for one clip that the other sees better, on the one's own clock.
pub type Borrowed = Events;

/// What each of the two clips takes over from the other: the first's, then the second's.
pub fn borrowed(events: [&Events; 2], views: [View; 2], offset: &Offset) -> [Borrowed; 2] {
    let mut out = [Borrowed::new(), Borrowed::new()];
    for id in EventId::ALL {
        let [a, b] = events.map(|e| e.get(&id));
        let Some(better) = better(id, [a, b], views) else { continue };
        let other = 1 - better;
        let (Some(from), to) = ([a, b][better], [a, b][other]) else { continue };
        let time_s = match better {
            0 => offset.second_from_first(from.time_s),
            _ => offset.first_from_second(from.time_s),
        };
        let plus_minus_s = from.plus_minus_s.hypot(offset.plus_minus_s);
        // A person's pin stands, and nothing less sure than what is there is taken.
        let keeps = to.is_some_and(|t| {
            let as_sure = t.plus_minus_s <= plus_minus_s && !sees(id, views[better], views[other]);
            from.source != Source::Pinned && (t.source == Source::Pinned || as_sure)
        });
        if !keeps {
            out[other].insert(id, Event { time_s, plus_minus_s, frame: 0, ..*from });
        }
    }
    out
}

/// 0 or 1: whose event it is.
fn better(id: EventId, [a, b]: [Option<&Event>; 2], views: [View; 2]) -> Option<usize> {
    let (a, b) = match (a, b) {
        (None, None) => return None,
        (Some(_), None) => return Some(0),
        (None, Some(_)) => return Some(1),
        (Some(a), Some(b)) => (a, b),
    };
    let pinned = |e: &Event| e.source == Source::Pinned;
    Some(match (pinned(a), pinned(b)) {
        (true, false) => 0,
        (false, true) => 1,
        _ if sees(id, views[0], views[1]) => 0,
        _ if sees(id, views[1], views[0]) => 1,
        _ => usize::from(b.plus_minus_s < a.plus_minus_s),
    })
}

/// Whether the moment shows from `view` and not from `other`: all but contact are motion along the line of the pitch,
/// seen from the side.
fn sees(id: EventId, view: View, other: View) -> bool {
    let side = |v: View| matches!(v, View::OpenSide | View::ClosedSide);
    id != EventId::Contact && side(view) && !side(other)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn event(time_s: f64, plus_minus_s: f64, source: Source) -> Event {
        Event { time_s, plus_minus_s, frame: 0, source, confidence: 0.7 }
    }

    #[test]
    fn the_side_gives_the_moments_of_the_body_the_surer_one_contact_and_a_pin_wins() {
        let side = Events::from([
            (EventId::Plant, event(1.5, 0.020, Source::Motion)),
            (EventId::Contact, event(1.7, 0.030, Source::Motion)),
            (EventId::HandsStart, event(1.55, 0.02, Source::Motion)),
        ]);
        let behind = Events::from([
            (EventId::Plant, event(1.9, 0.010, Source::Motion)),
            (EventId::Contact, event(2.02, 0.004, Source::MotionAndSound)),
            (EventId::HandsStart, event(1.88, 0.008, Source::Pinned)),
        ]);
        let offset = Offset { at_s: 0.0, offset_s: 0.3, plus_minus_s: 0.003, drift: None };
        let [to_side, to_behind] = borrowed([&side, &behind], [View::OpenSide, View::FromBehind], &offset);
        assert_eq!(to_side.keys().copied().collect::<Vec<_>>(), [EventId::HandsStart, EventId::Contact]);
        assert_eq!(to_behind.keys().copied().collect::<Vec<_>>(), [EventId::Plant]);
        let contact = to_side[&EventId::Contact];
        assert!((contact.time_s - 1.72).abs() < 1e-9 && (contact.plus_minus_s - 0.005).abs() < 1e-9);
        assert!((to_behind[&EventId::Plant].time_s - 1.8).abs() < 1e-9);
    }
}
