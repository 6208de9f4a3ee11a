//! Which moments are the same in both swings.

use crate::messages::pairing as messages;
use crate::types::{Error, EventId, Events, Knot, Result, SyncOn, TimeMap, Warning};

/// Tried in this order when the wanted event is missing: the ones seen most surely first.
const FALLBACKS: [EventId; 5] =
    [EventId::Plant, EventId::Contact, EventId::HandsStart, EventId::Touch, EventId::Extension];

/// Two knots closer than this are one moment, s: stretching between them would only amplify their error.
const MIN_PHASE_S: f64 = 0.02;

/// A moment less sure than this lines two swings up badly, s.
const UNSURE_S: f64 = 0.1;

pub fn lined_up(
    today: &Events,
    reference: &Events,
    sync: SyncOn,
    warnings: &mut Vec<Warning>,
) -> Result<(SyncOn, TimeMap)> {
    let knot = |event: EventId| {
        let (t, r) = (today.get(&event)?, reference.get(&event)?);
        Some(Knot { event, today_s: t.time_s, reference_s: r.time_s })
    };
    let wanted = match sync {
        SyncOn::Event(event) => event,
        SyncOn::Phases => EventId::Plant,
    };
    let zero = match knot(wanted) {
        Some(zero) => zero,
        None => {
            let other = FALLBACKS
                .into_iter()
                .find_map(knot)
                .ok_or_else(|| Error::Unpairable { cause: messages::no_shared_event(wanted).into() })?;
            let shown_by = [today.contains_key(&wanted), reference.contains_key(&wanted)];
            warnings.push(Warning::SyncFallback { wanted, shown_by, instead: other.event });
            other
        }
    };
    let plus_minus_s = |events: &Events| events.get(&zero.event).map_or(0.0, |e| e.plus_minus_s);
    let unsure_s = plus_minus_s(today).max(plus_minus_s(reference));
    if unsure_s > UNSURE_S {
        let surest = FALLBACKS.into_iter().filter(|e| knot(*e).is_some()).min_by(|a, b| {
            let of = |e: &EventId| today[e].plus_minus_s.max(reference[e].plus_minus_s);
            of(a).total_cmp(&of(b))
        });
        let surest = surest.filter(|s| *s != zero.event);
        warnings.push(Warning::SyncUnsure { on: zero.event, plus_minus_s: unsure_s, surest });
    }
    let knots = match sync {
        SyncOn::Event(_) => vec![zero],
        SyncOn::Phases => rising(EventId::ALL.into_iter().filter_map(knot).collect(), zero),
    };
    let sync = if matches!(sync, SyncOn::Event(_)) { SyncOn::Event(zero.event) } else { sync };
    Ok((sync, TimeMap { zero: zero.event, knots }))
}

/// Keep `zero` and, outward from it, every knot that moves on in both times.
fn rising(all: Vec<Knot>, zero: Knot) -> Vec<Knot> {
    let apart = |a: &Knot, b: &Knot| {
        b.today_s - a.today_s >= MIN_PHASE_S && b.reference_s - a.reference_s >= MIN_PHASE_S
    };
    let mut before = vec![zero];
    for knot in all.iter().rev().filter(|k| k.today_s < zero.today_s) {
        if before.last().is_some_and(|next| apart(knot, next)) {
            before.push(*knot);
        }
    }
    before.reverse();
    for knot in all.iter().filter(|k| k.today_s > zero.today_s) {
        if before.last().is_some_and(|last| apart(last, knot)) {
            before.push(*knot);
        }
    }
    before
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::messages::warning;
    use crate::types::{Event, Source};
    use proptest::prelude::*;

    fn events(list: &[(EventId, f64)]) -> Events {
        let event =
            |time_s| Event { time_s, plus_minus_s: 0.01, frame: 0, source: Source::Motion, confidence: 1.0 };
        list.iter().map(|(id, t)| (*id, event(*t))).collect()
    }

    #[test]
    fn one_event_keeps_both_speeds() {
        let a = events(&[(EventId::Plant, 1.0), (EventId::Contact, 1.2)]);
        let b = events(&[(EventId::Plant, 3.0), (EventId::Contact, 3.15)]);
        let (_, map) = lined_up(&a, &b, SyncOn::Event(EventId::Plant), &mut Vec::new()).unwrap();
        assert!((map.reference_from_today(1.0) - 3.0).abs() < 1e-12);
        assert!((map.reference_from_today(1.5) - 3.5).abs() < 1e-12);
        assert!((map.reference_from_today(0.0) - 2.0).abs() < 1e-12);
    }

    #[test]
    fn phases_meet_at_every_shared_event() {
        let a = events(&[(EventId::Load, 0.2), (EventId::Plant, 1.0), (EventId::Contact, 1.2)]);
        let b = events(&[(EventId::Load, 2.5), (EventId::Plant, 3.0), (EventId::Contact, 3.15)]);
        let (_, map) = lined_up(&a, &b, SyncOn::Phases, &mut Vec::new()).unwrap();
        for knot in &map.knots {
            assert!((map.reference_from_today(knot.today_s) - knot.reference_s).abs() < 1e-12);
        }
        assert_eq!(map.knots.len(), 3);
        assert!((map.reference_from_today(1.1) - 3.075).abs() < 1e-12);
    }

    #[test]
    fn a_missing_sync_event_falls_back_and_says_so() {
        let a = events(&[(EventId::Contact, 1.2)]);
        let b = events(&[(EventId::Plant, 3.0), (EventId::Contact, 3.15)]);
        let mut warnings = Vec::new();
        let (sync, _) = lined_up(&a, &b, SyncOn::Event(EventId::Plant), &mut warnings).unwrap();
        assert_eq!(sync, SyncOn::Event(EventId::Contact));
        let text = warning(&warnings[0]);
        assert!(text.contains("plant") && text.contains("contact"));
        assert!(lined_up(&a, &events(&[]), SyncOn::Phases, &mut warnings).is_err());
    }

    #[test]
    fn an_unsure_moment_is_told_with_the_surer_one() {
        let a = events(&[(EventId::Plant, 1.0), (EventId::Contact, 1.2)]);
        let mut b = a.clone();
        b.get_mut(&EventId::Plant).unwrap().plus_minus_s = 0.2;
        let mut warnings = Vec::new();
        lined_up(&a, &b, SyncOn::Event(EventId::Plant), &mut warnings).unwrap();
        let text = warning(&warnings[0]);
        assert!(text.contains("± 200 ms") && text.contains("--sync contact"));
    }

    proptest! {
        #[test]
        fn maps_rise_and_undo(a in prop::collection::vec(0.0..3.0f64, 9), b in prop::collection::vec(0.0..3.0f64, 9)) {
            let pick = |v: &[f64]| events(&EventId::ALL.into_iter().zip(v.iter().copied()).collect::<Vec<_>>());
            let (_, map) = lined_up(&pick(&a), &pick(&b), SyncOn::Phases, &mut Vec::new()).unwrap();
            let mut last = f64::NEG_INFINITY;
            for i in -10..40 {
                let t = f64::from(i) * 0.1;
                let r = map.reference_from_today(t);
                prop_assert!(r > last);
                prop_assert!((map.today_from_reference(r) - t).abs() < 1e-9);
                last = r;
            }
        }
    }
}
