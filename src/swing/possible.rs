//! What no body does: a reading that says so is not given.

use super::Swing;
use super::figure::{Figure, Frame2d, shows_stride};
use super::params::{
    FASTEST_HANDS, LEAST_KNEE_DEG, SHORTEST_LANDING_S, SHORTEST_SWING_S, STRIDE_AWAY, STRIDE_BACKWARD,
    UNDER_GROUND, WALK_WITHIN_S, WALKS, WALKS_THROUGH,
};
use super::series::Series;
use crate::types::{
    AbsentReason, Event, EventId, Events, Fault, Hitter, MeasureId, Source, Unit, View, Warning,
};

/// What of a reading cannot be.
pub fn faults(figure: &Figure, swing: &Swing) -> Vec<Fault> {
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
        faults.push(Fault::FootUnderGround);
    }
    if stride(figure, &swing.events).is_some_and(|(_, beside_back)| beside_back < -STRIDE_BACKWARD) {
        faults.push(Fault::StrideAway);
    }
    if at(EventId::Contact).is_some_and(|t| walks(figure, &swing.hitter, t)) {
        faults.push(Fault::Walks);
    }
    faults
}

/// Whether the hips go so far up to contact that the hitter walks: in the picture as well as in the scene, for either
/// may deceive where the camera moves.
fn walks(figure: &Figure, hitter: &Hitter, contact_s: f64) -> bool {
    let half_s = figure.slow_half_s();
    let hips = |t: f64| {
        let (front, back) = (figure.front.hip.at(t, half_s)?, figure.back.hip.at(t, half_s)?);
        let aim = figure.aim.at(t, half_s).unwrap_or_default();
        let middle = front.midpoint(back).x;
        Some((middle, middle - Frame2d::of(hitter, 1.0).forward * aim.x))
    };
    let (was, is) = (hips(contact_s - WALK_WITHIN_S), hips(contact_s));
    was.zip(is).is_some_and(|(a, b)| (b.0 - a.0).abs().min((b.1 - a.1).abs()) > WALKS_THROUGH)
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
    Some(Warning::WalksUp)
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
    Some(Warning::StanceLeftOut)
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
        (Stance, Contact, 0.0, Stance),
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
    Some(Warning::MomentLeftOut { events: gone })
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
        swing.absent.insert(id, AbsentReason::NoBodyGives);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::messages::warning;
    use crate::types::{Measure, PitcherSide, Point, Scale, Side};
    use EventId::{Contact, Extension, Finish, FootOff, HandsStart, Load, Plant, Stance, Touch};

    /// Every moment of a swing that can be.
    const USUAL: [(EventId, f64); 9] = [
        (Stance, 0.5),
        (Load, 0.9),
        (FootOff, 1.0),
        (Touch, 1.25),
        (Plant, 1.3),
        (HandsStart, 1.35),
        (Contact, 1.5),
        (Extension, 1.55),
        (Finish, 1.9),
    ];

    fn events(times: &[(EventId, f64)]) -> Events {
        let event =
            |time_s| Event { time_s, plus_minus_s: 0.01, frame: 0, source: Source::Motion, confidence: 0.7 };
        times.iter().map(|(id, t)| (*id, event(*t))).collect()
    }

    fn pin(events: &mut Events, id: EventId) {
        events.get_mut(&id).unwrap().source = Source::Pinned;
    }

    fn swing(events: Events, view: View) -> Swing {
        Swing {
            hitter: Hitter { bats: Side::Right, pitcher_side: PitcherSide::Right, view },
            scale: Scale {
                body_height_px: 400.0,
                body_height_error: 0.04,
                px_per_cm: Some(2.5),
                px_per_cm_error: 0.04,
            },
            events,
            measures: Default::default(),
            absent: Default::default(),
            warnings: Vec::new(),
        }
    }

    /// Feet and hips that are in one place until load, then in another; body heights.
    fn figure(front: Point, back: Point, hips: Point) -> Figure {
        let mut figure = Figure { step_s: 1.0 / 60.0, ..Figure::default() };
        let from = (Point::new(0.3, 0.02), Point::new(0.0, 0.02), Point::new(0.15, 0.53));
        for i in 0..120 {
            let t = f64::from(i) / 60.0;
            let there = |home: Point, way: Point| if t < 1.1 { home } else { home + way };
            figure.front.toe.push(t, there(from.0, front));
            figure.back.toe.push(t, there(from.1, back));
            figure.front.hip.push(t, there(from.2, hips));
            figure.back.hip.push(t, there(from.2, hips));
        }
        figure
    }

    const STILL: Point = Point { x: 0.0, y: 0.0 };

    #[test]
    fn each_fault_is_told_once() {
        let all = swing(events(&USUAL), View::OpenSide);
        let stride = Point::new(0.2, 0.0);
        assert!(faults(&figure(stride, STILL, STILL), &all).is_empty());
        let under = faults(&figure(stride, Point::new(0.0, -0.08), STILL), &all);
        assert_eq!(under, [Fault::FootUnderGround]);
        let away = faults(&figure(Point::new(-0.2, 0.0), STILL, STILL), &all);
        assert_eq!(away, [Fault::StrideAway]);
        let both = figure(Point::new(-0.2, 0.0), Point::new(0.0, -0.08), STILL);
        assert_eq!(faults(&both, &all), [under, away].concat());
        // The camera turns: both feet go, one no farther than the other.
        let turned = figure(Point::new(-0.2, 0.0), Point::new(-0.2, 0.0), STILL);
        assert!(faults(&turned, &all).is_empty());
        let walks = figure(stride, STILL, Point::new(0.6, 0.0));
        assert_eq!(faults(&walks, &all), [Fault::Walks]);
        // Only the camera, followed badly, says so: in the picture the hips stay.
        let mut followed = figure(stride, STILL, Point::new(0.6, 0.0));
        for i in 0..120 {
            let t = f64::from(i) / 60.0;
            followed.aim.push(t, Point::new(if t < 1.1 { 0.0 } else { 0.6 }, 0.0));
        }
        assert!(faults(&followed, &all).is_empty());
        // Along the pitch neither is seen.
        assert!(faults(&both, &swing(events(&USUAL), View::FromBehind)).is_empty());
    }

    #[test]
    fn a_moment_that_cannot_be_is_left_out_and_named() {
        for (early, late, out) in [
            (Contact, Plant, Plant),
            (Contact, HandsStart, HandsStart),
            (Plant, Touch, Touch),
            (Plant, FootOff, FootOff),
            (Touch, FootOff, FootOff),
            (Plant, Load, Load),
            (Contact, Load, Load),
            (Contact, Touch, Touch),
            (Contact, FootOff, FootOff),
            (Load, Stance, Stance),
            (Plant, Stance, Stance),
            (Contact, Stance, Stance),
            (Extension, Contact, Extension),
            (Finish, Extension, Finish),
            (Finish, Contact, Finish),
        ] {
            let mut two = events(&[(early, 1.0), (late, 1.1)]);
            let reported = leave_out(&mut two).unwrap_or_else(|| panic!("{early:?} before {late:?} stays"));
            let stays = if out == early { late } else { early };
            assert_eq!(two.keys().collect::<Vec<_>>(), [&stays]);
            let name = crate::messages::event_short(out);
            let text = warning(&reported);
            assert!(reported.code() == "moment_left_out" && text.starts_with(name), "{reported:?}");
            assert!(text.contains(" is left out"), "{reported:?}");
        }
        // Nearer than a body can be, though in order.
        let mut near = events(&[(Plant, 1.49), (HandsStart, 1.46), (Contact, 1.5)]);
        let reported = leave_out(&mut near).unwrap();
        assert_eq!(near.keys().collect::<Vec<_>>(), [&Contact]);
        assert!(warning(&reported).contains(" are left out"), "{reported:?}");
        let mut usual = events(&USUAL);
        assert_eq!(leave_out(&mut usual), None);
        assert_eq!(usual, events(&USUAL));
    }

    /// However moments lie, what stays is in order and each that goes is named once.
    #[test]
    fn what_stays_is_in_order() {
        let order = [
            [Stance, Load],
            [Stance, Plant],
            [Stance, Contact],
            [Load, Plant],
            [Load, Contact],
            [FootOff, Touch],
            [FootOff, Plant],
            [FootOff, Contact],
            [Touch, Plant],
            [Touch, Contact],
            [Plant, Contact],
            [HandsStart, Contact],
            [Contact, Extension],
            [Contact, Finish],
            [Extension, Finish],
        ];
        let mut seed = 1u64;
        for _ in 0..2000 {
            let mut all = events(&USUAL);
            for event in all.values_mut() {
                seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                event.time_s = (seed >> 33) as f64 / f64::from(1u32 << 31);
            }
            let reported = leave_out(&mut all);
            for pair in order {
                if let [Some(a), Some(b)] = pair.map(|id| all.get(&id)) {
                    assert!(a.time_s <= b.time_s, "{pair:?}: {a:?} {b:?}");
                }
            }
            let text = reported.as_ref().map_or_else(String::new, warning);
            for id in EventId::ALL {
                let name = crate::messages::event_short(id);
                let named = text
                    .split(" are left")
                    .next()
                    .unwrap_or("")
                    .split(" is left")
                    .next()
                    .unwrap_or("")
                    .split(" and ")
                    .filter(|n| *n == name);
                assert_eq!(named.count(), usize::from(!all.contains_key(&id)), "{name}: {text}");
            }
        }
    }

    #[test]
    fn what_a_person_set_stays() {
        let mut pinned = events(&[(Contact, 1.0), (Plant, 1.1)]);
        pin(&mut pinned, Plant);
        assert!(warning(&leave_out(&mut pinned).unwrap()).starts_with("contact"));
        assert_eq!(pinned.keys().collect::<Vec<_>>(), [&Plant]);
        let mut both = events(&[(Contact, 1.0), (Plant, 1.1)]);
        pin(&mut both, Plant);
        pin(&mut both, Contact);
        assert_eq!(leave_out(&mut both), None);
        assert_eq!(both.len(), 2);
    }

    #[test]
    fn a_walk_before_the_stride_leaves_out_stance_and_load() {
        let still = figure(STILL, STILL, Point::new(0.1, 0.0));
        let mut all = events(&USUAL);
        assert_eq!(leave_out_walk(&still, &mut all, View::OpenSide), None);
        let walked = figure(STILL, STILL, Point::new(0.6, 0.0));
        assert_eq!(leave_out_walk(&walked, &mut all, View::FromBehind), None);
        assert_eq!(all, events(&USUAL));
        let mut pinned = all.clone();
        pin(&mut pinned, Stance);
        assert_eq!(leave_out_walk(&walked, &mut all, View::OpenSide).unwrap().code(), "walks_up");
        assert!(all.len() == 7 && !all.contains_key(&Stance) && !all.contains_key(&Load), "{all:?}");
        leave_out_walk(&walked, &mut pinned, View::OpenSide).unwrap();
        assert!(pinned.contains_key(&Stance) && !pinned.contains_key(&Load), "{pinned:?}");
    }

    #[test]
    fn a_stance_that_the_front_foot_leaves_backward_is_left_out() {
        let away = figure(Point::new(-0.1, 0.0), STILL, STILL);
        let mut all = events(&USUAL);
        assert_eq!(leave_out_stance(&away, &mut all, View::FromFront), None);
        let mut pinned = all.clone();
        pin(&mut pinned, Stance);
        assert_eq!(leave_out_stance(&away, &mut pinned, View::OpenSide), None);
        assert_eq!(leave_out_stance(&away, &mut all, View::OpenSide).unwrap().code(), "stance_left_out");
        assert!(all.len() == 8 && !all.contains_key(&Stance), "{all:?}");
        let toward = figure(Point::new(0.2, 0.0), STILL, STILL);
        assert_eq!(leave_out_stance(&toward, &mut events(&USUAL), View::OpenSide), None);
    }

    #[test]
    fn measures_that_no_body_gives_are_absent() {
        let read = |knee_deg: f64, speed: f64, unit: Unit| {
            let mut swing = swing(events(&USUAL), View::OpenSide);
            let measure = |value, unit| Measure { value, plus_minus: 1.0, unit };
            swing.measures.insert(MeasureId::FrontKneeAtPlant, measure(knee_deg, Unit::Deg));
            swing.measures.insert(MeasureId::PeakHandSpeed, measure(speed, unit));
            measures(&mut swing);
            let absent: Vec<MeasureId> = swing.absent.keys().copied().collect();
            assert_eq!(swing.measures.len() + absent.len(), 2);
            absent
        };
        assert!(read(150.0, 5.0, Unit::BodyHeightsPerS).is_empty());
        assert_eq!(read(30.0, 5.0, Unit::BodyHeightsPerS), [MeasureId::FrontKneeAtPlant]);
        assert_eq!(read(150.0, 9.5, Unit::BodyHeightsPerS), [MeasureId::PeakHandSpeed]);
        // He is 160 cm tall: 9.5 m/s are 5.9 of his heights a second, 15 m/s are 9.4.
        assert!(read(150.0, 9.5, Unit::MetresPerS).is_empty());
        assert_eq!(read(150.0, 15.0, Unit::MetresPerS), [MeasureId::PeakHandSpeed]);
    }
}
