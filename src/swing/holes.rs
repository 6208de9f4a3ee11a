//! Stretches of a clip without pictures: a moment that falls into one is only known to lie in it, and no measure is
//! taken there.

use super::measures::LeftOut;
use super::params::{HOLE_STEPS, HOLE_TRAVEL_S, PICTURE_HOLE_NEAR_S, SHORTEST_HOLE_S, USUAL_STEPS};
use crate::types::{AbsentReason, EventId, Events, MeasureId, Source, Warning};

/// From when to when there is no picture, real s; `times_s`: when those were taken that could be read.
pub fn holes(times_s: &[f64]) -> Vec<(f64, f64)> {
    let steps = || times_s.iter().zip(times_s.iter().skip(1)).map(|(a, b)| (*a, *b));
    let mut lengths: Vec<f64> = steps().map(|(a, b)| b - a).collect();
    lengths.sort_unstable_by(f64::total_cmp);
    let usual = lengths.get((lengths.len().saturating_sub(1) as f64 * USUAL_STEPS) as usize).copied();
    let Some(usual_s) = usual else { return Vec::new() };
    steps().filter(|(a, b)| b - a > (HOLE_STEPS * usual_s).max(SHORTEST_HOLE_S)).collect()
}

/// A moment seen in no picture may be anywhere in the hole it falls into, whatever the points on both sides say; and
/// all that is read from motion shares the doubt about the pictures' own times.
pub(super) fn widen(events: &mut Events, holes: &[(f64, f64)], time_doubt_s: f64) {
    for event in events.values_mut().filter(|e| matches!(e.source, Source::Motion | Source::MotionAndBall)) {
        event.plus_minus_s = event.plus_minus_s.hypot(time_doubt_s);
        let t = event.time_s;
        for (from_s, to_s) in holes.iter().filter(|(from_s, to_s)| (*from_s..=*to_s).contains(&t)) {
            event.plus_minus_s = event.plus_minus_s.max(t - from_s).max(to_s - t);
            event.confidence = event.confidence.min(0.2);
        }
    }
}

/// Measures that rest on pictures that are not there.
pub(super) fn touched(events: &Events, holes: &[(f64, f64)]) -> Option<LeftOut> {
    let measures: Vec<MeasureId> = MeasureId::ALL
        .into_iter()
        .filter(|id| {
            let spans = spans(*id, events);
            spans.iter().any(|(a, b)| {
                holes
                    .iter()
                    .any(|(from, to)| a - PICTURE_HOLE_NEAR_S < *to && b + PICTURE_HOLE_NEAR_S > *from)
            })
        })
        .collect();
    (!measures.is_empty()).then(|| LeftOut {
        measures,
        why: AbsentReason::FramesMissing,
        warning: Warning::MeasuresInAHole { holes_s: holes.to_vec() },
    })
}

/// From when to when pictures must be there for a measure, real s.
fn spans(id: MeasureId, events: &Events) -> Vec<(f64, f64)> {
    use EventId::{Contact, Extension, Finish, FootOff, HandsStart, Load, Plant, Stance};
    let at = |id: EventId| events.get(&id).map(|e| e.time_s);
    // A moment that was heard or set by hand needs no picture for its time.
    let timed = |id: EventId| {
        let event = events.get(&id)?;
        matches!(event.source, Source::Motion | Source::MotionAndBall).then_some(event.time_s)
    };
    let moments = |times: &[Option<f64>]| times.iter().flatten().map(|t| (*t, *t)).collect();
    let between = |from: EventId, to: EventId| at(from).zip(at(to)).into_iter().collect();
    match id {
        MeasureId::LoadToPlant => moments(&[timed(Load), timed(Plant)]),
        MeasureId::FootOffToPlant => moments(&[timed(FootOff), timed(Plant)]),
        MeasureId::PlantToContact => moments(&[timed(Plant), timed(Contact)]),
        MeasureId::HandsStartToContact => moments(&[timed(HandsStart), timed(Contact)]),
        MeasureId::ContactToExtension => moments(&[timed(Contact), timed(Extension)]),
        MeasureId::BodyCentreBackAtLoad => moments(&[at(Stance), at(Load)]),
        MeasureId::BodyCentreForwardAtPlant => moments(&[at(Load), at(Plant)]),
        MeasureId::BodyCentreForwardAtContact => moments(&[at(Load), at(Contact)]),
        MeasureId::StrideLength => moments(&[at(Stance), at(Plant)]),
        MeasureId::HandsToFrontFootAtPlant | MeasureId::FrontKneeAtPlant => moments(&[at(Plant)]),
        MeasureId::FrontKneeAtContact | MeasureId::BatSpeed => moments(&[at(Contact)]),
        MeasureId::HeadTravelStanceToPlant => between(Stance, Plant),
        MeasureId::HeadTravelPlantToContact => between(Plant, Contact),
        MeasureId::PeakHandSpeed | MeasureId::PeakHandSpeedToContact => between(HandsStart, Contact),
        MeasureId::FirstHandTravelDirection | MeasureId::FirstHandTravelDrop => {
            at(HandsStart).map(|t| (t, t + HOLE_TRAVEL_S)).into_iter().collect()
        }
        MeasureId::FrontShoulderRise => moments(&[at(Plant), at(Contact)]),
        MeasureId::BackFootLiftAtContact => moments(&[at(Stance), at(Contact)]),
        MeasureId::ExtensionDistance => moments(&[at(Extension)]),
        MeasureId::HandsOverShouldersAtFinish => moments(&[at(Finish)]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Event;

    fn events() -> Events {
        let event =
            |time_s| Event { time_s, plus_minus_s: 0.01, frame: 0, source: Source::Motion, confidence: 0.7 };
        [(EventId::Stance, 0.5), (EventId::Load, 0.9), (EventId::Plant, 1.3), (EventId::HandsStart, 1.4)]
            .into_iter()
            .chain([(EventId::Contact, 1.55), (EventId::Extension, 1.65), (EventId::Finish, 2.0)])
            .map(|(id, t)| (id, event(t)))
            .collect()
    }

    #[test]
    fn holes_are_long_steps_and_uneven_pictures_are_none() {
        let even = |skip: std::ops::Range<usize>| {
            let times = (0..120).filter(|i| !skip.contains(i)).map(|i| i as f64 / 60.0);
            holes(&times.collect::<Vec<_>>())
        };
        assert!(even(0..0).is_empty());
        assert!(even(60..61).is_empty());
        let [(from, to)] = even(60..66)[..] else { panic!("{:?}", even(60..66)) };
        assert!((from - 59.0 / 60.0).abs() < 1e-9 && (to - 66.0 / 60.0).abs() < 1e-9);
        let uneven: Vec<f64> = (0..60).map(|i| f64::from(i) / 30.0 + f64::from(i / 3) / 10.0).collect();
        assert!(holes(&uneven).is_empty());
        assert!(holes(&[]).is_empty() && holes(&[1.0]).is_empty());
    }

    #[test]
    fn a_moment_in_a_hole_may_be_anywhere_in_it() {
        let mut all = events();
        widen(&mut all, &[(1.2, 1.36)], 0.0);
        assert!((all[&EventId::Plant].plus_minus_s - 0.1).abs() < 1e-9);
        assert!((all[&EventId::Contact].plus_minus_s - 0.01).abs() < 1e-9);
        widen(&mut all, &[], 0.03);
        assert!((all[&EventId::Contact].plus_minus_s - 0.01f64.hypot(0.03)).abs() < 1e-9);
        let mut heard = events();
        heard.get_mut(&EventId::Contact).unwrap().source = Source::MotionAndSound;
        widen(&mut heard, &[(1.5, 1.6)], 0.1);
        assert!((heard[&EventId::Contact].plus_minus_s - 0.01).abs() < 1e-9);
    }

    #[test]
    fn what_touches_a_hole_is_left_out_and_nothing_else() {
        assert!(touched(&events(), &[]).is_none());
        let out = touched(&events(), &[(1.2, 1.28)]).unwrap().measures;
        for id in [MeasureId::PlantToContact, MeasureId::StrideLength, MeasureId::HeadTravelStanceToPlant] {
            assert!(out.contains(&id), "{id:?}");
        }
        for id in [MeasureId::HandsStartToContact, MeasureId::PeakHandSpeed, MeasureId::BodyCentreBackAtLoad]
        {
            assert!(!out.contains(&id), "{id:?}");
        }
        // Between two moments only a way is broken, not the time from one to the other.
        let out = touched(&events(), &[(1.0, 1.2)]).unwrap().measures;
        assert_eq!(out, [MeasureId::HeadTravelStanceToPlant]);
    }
}
