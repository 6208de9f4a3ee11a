//! What no body does: a reading that says so is not given.

use super::Swing;
use super::figure::{Figure, shows_stride};
use super::params::{
    FASTEST_HANDS, LEAST_KNEE_DEG, SHORTEST_LANDING_S, SHORTEST_SWING_S, STRIDE_AWAY, STRIDE_BACKWARD,
    UNDER_GROUND, WALKS,
};
use super::series::Series;
use crate::ground::{Event, EventId, Events, MeasureId, Source, Unit, View, Warning};

/// In plain words, what of a reading cannot be.
pub fn faults(figure: &Figure, swing: &Swing) -> Vec<String> {
    let mut faults = Vec::new();
    let at = |id: EventId| swing.events.get(&id).filter(|e| e.source != Source::Pinned).map(|e| e.time_s);
    if !shows_stride(swing.hitter.view) {
        return faults;
    }
    let half_s = figure.slow_half_s();
    let toe = |toe: &Series, id| toe.at(at(id)?, half_s);
    let rear = &figure.back.toe;
    let sinks = toe(rear, EventId::Contact).zip(toe(rear, EventId::Stance)).map(|(c, s)| c.y - s.y);
    if sinks.is_some_and(|y| y < -UNDER_GROUND) {
        faults.push("the back foot would be under the ground at contact".to_owned());
    }
    if stride(figure, &swing.events).is_some_and(|(_, beside_back)| beside_back < -STRIDE_BACKWARD) {
        faults.push("the front foot would stride away from the pitcher".to_owned());
    }
    faults
}

/// Takes out a stance and a load from which the whole body goes too far: the hitter walked up, or the camera turned.
pub fn leave_out_walk(figure: &Figure, events: &mut Events, view: View) -> Option<Warning> {
    let hips = |t: f64| {
        let half_s = figure.slow_half_s();
        Some(figure.front.hip.at(t, half_s)?.midpoint(figure.back.hip.at(t, half_s)?))
    };
    let plant = events.get(&EventId::Plant).and_then(|e| hips(e.time_s))?;
    let far = |id: EventId| {
        let event = events.get(&id).filter(|e| e.source != Source::Pinned)?;
        Some((hips(event.time_s)? - plant).x.abs() > WALKS)
    };
    let out: Vec<EventId> =
        [EventId::Stance, EventId::Load].into_iter().filter(|id| far(*id) == Some(true)).collect();
    if out.is_empty() || !shows_stride(view) {
        return None;
    }
    for id in out {
        events.remove(&id);
    }
    let text = "Before the stride the hitter walks, or the camera turns: stance and load are not given.";
    Some(Warning::new("walks_up", text))
}

/// How far the front foot goes toward the pitcher from stance to plant, and how far beside the back foot, body heights.
fn stride(figure: &Figure, events: &Events) -> Option<(f64, f64)> {
    let at = |id: EventId| events.get(&id).map(|e| e.time_s);
    let (stance_s, plant_s) = (at(EventId::Stance)?, at(EventId::Plant)?);
    let way = |toe: &Series, ankle: &Series| {
        let foot = if toe.is_empty() { ankle } else { toe };
        let at = |t: f64| foot.at(t, figure.slow_half_s());
        Some(at(plant_s)?.x - at(stance_s)?.x)
    };
    let front = way(&figure.front.toe, &figure.front.ankle)?;
    Some((front, front - way(&figure.back.toe, &figure.back.ankle).unwrap_or(0.0)))
}

/// Takes out a stance from which the front foot goes the wrong way: the camera turned, or the foot was up already.
pub fn leave_out_stance(figure: &Figure, events: &mut Events, view: View) -> Option<Warning> {
    let away = stride(figure, events).is_some_and(|(front, beside)| front.min(beside) < -STRIDE_AWAY);
    if !shows_stride(view) || !away || events.get(&EventId::Stance)?.source == Source::Pinned {
        return None;
    }
    events.remove(&EventId::Stance);
    let text = "From stance to plant the front foot seems to go away from the pitcher, as when the camera turns or the foot \
                was up already: stance is not given.";
    Some(Warning::new("stance_left_out", text))
}

/// Takes out moments that are out of order or too near each other, and measures that no body gives, and tells of it.
/// What a person set stays.
pub fn leave_out(events: &mut Events) -> Option<Warning> {
    use EventId::{Contact, Extension, Finish, FootOff, HandsStart, Load, Plant, Stance, Touch};
    // The second of a pair is believed: contact is heard or seen, and what comes before is found from it.
    let pairs = [
        (Plant, Contact, SHORTEST_LANDING_S, Plant),
        (HandsStart, Contact, SHORTEST_SWING_S, HandsStart),
        (Touch, Plant, 0.0, Touch),
        (FootOff, Plant, 0.0, FootOff),
        (FootOff, Touch, 0.0, FootOff),
        (Load, Plant, 0.0, Load),
        (Load, Contact, 0.0, Load),
        (Touch, Contact, 0.0, Touch),
        (FootOff, Contact, 0.0, FootOff),
        (Stance, Load, 0.0, Stance),
        (Stance, Plant, 0.0, Stance),
        (Contact, Extension, 0.0, Extension),
        (Extension, Finish, 0.0, Finish),
        (Contact, Finish, 0.0, Finish),
    ];
    let mut gone = Vec::new();
    for (first, second, least_s, out) in pairs {
        let event = |id: EventId| events.get(&id).copied();
        let (Some(a), Some(b)) = (event(first), event(second)) else { continue };
        let pinned = |e: Event| e.source == Source::Pinned;
        if b.time_s - a.time_s >= least_s - 1e-9 || (pinned(a) && pinned(b)) {
            continue;
        }
        let out =
            if event(out).is_some_and(pinned) { if out == first { second } else { first } } else { out };
        events.remove(&out);
        gone.push(out);
    }
    if gone.is_empty() {
        return None;
    }
    let names: Vec<&str> = gone.iter().map(|id| crate::ground::words::event_short(*id)).collect();
    let text = format!(
        "{} came out at a moment that cannot be and {} left out; check the clip, or mark the moment.",
        names.join(" and "),
        if names.len() == 1 { "is" } else { "are" }
    );
    Some(Warning::new("moment_left_out", text))
}

/// Measures that no body gives.
pub fn measures(swing: &mut Swing) {
    let knees = [MeasureId::FrontKneeAtPlant, MeasureId::FrontKneeAtContact];
    let bent =
        knees.into_iter().filter(|id| swing.measures.get(id).is_some_and(|m| m.value < LEAST_KNEE_DEG));
    let per_height = |value: f64, unit: Unit| match unit {
        Unit::MetresPerS => {
            swing.scale.px_per_cm.map_or(0.0, |k| 100.0 * value * k / swing.scale.body_height_px)
        }
        _ => value,
    };
    let speed = swing.measures.get(&MeasureId::PeakHandSpeed);
    let fast = speed.is_some_and(|m| per_height(m.value, m.unit) > FASTEST_HANDS);
    let mut out: Vec<MeasureId> = bent.collect();
    out.extend(fast.then_some(MeasureId::PeakHandSpeed));
    for id in out {
        swing.measures.remove(&id);
        swing.absent.insert(id, "the points give a value that no body has".to_owned());
    }
}
