//! Is what was read possible at all? Nothing here needs the truth.

use swingpair::types::{EventId, MeasureId, Part, PitcherSide, Side, Warning};

use super::rows::Seen;

/// The back foot this far under its own stance at contact, body heights.
const UNDER_GROUND: f64 = 0.06;
/// The front foot this far from the pitcher at plant beside its stance, body heights.
const BACKWARD: f64 = 0.05;
/// Taps that no hitter makes.
const MOST_TAPS: u32 = 3;

/// Pairs that must follow one another.
const ORDER: [(EventId, EventId); 8] = [
    (EventId::Stance, EventId::Load),
    (EventId::Load, EventId::Plant),
    (EventId::FootOff, EventId::Touch),
    (EventId::Touch, EventId::Plant),
    (EventId::FootOff, EventId::Plant),
    (EventId::HandsStart, EventId::Contact),
    (EventId::Contact, EventId::Extension),
    (EventId::Extension, EventId::Finish),
];

/// What cannot be, in words; nothing when all of it can.
pub fn impossible(seen: &Seen) -> Vec<&'static str> {
    let at = |id: EventId| seen.events.get(&id).map(|e| e.time_s);
    let after = |(a, b): (EventId, EventId)| matches!((at(a), at(b)), (Some(a), Some(b)) if a > b);
    let mut found = Vec::new();
    if after((EventId::Plant, EventId::Contact)) {
        found.push("plant after contact");
    }
    if under_ground(seen) {
        found.push("back foot under the ground");
    }
    if backward(seen) {
        found.push("stride away from the pitcher");
    }
    if taps(seen) > MOST_TAPS {
        found.push("more than three taps");
    }
    if ORDER.into_iter().any(after) {
        found.push("events out of order");
    }
    found
}

fn under_ground(seen: &Seen) -> bool {
    let (Some(lift), Some(px_per_cm)) =
        (seen.measures.get(&MeasureId::BackFootLiftAtContact), seen.px_per_cm)
    else {
        return false;
    };
    lift.value * px_per_cm < -UNDER_GROUND * seen.body_height_px
}

/// From the ankle, where the camera stands: on a hand-held phone a little of it is the camera's.
fn backward(seen: &Seen) -> bool {
    let toward = match seen.hitter.pitcher_side {
        PitcherSide::Right => 1.0,
        PitcherSide::Left => -1.0,
        PitcherSide::Away | PitcherSide::Toward => return false,
    };
    let ankle = match seen.hitter.bats {
        Side::Right => Part::LeftAnkle,
        Side::Left => Part::RightAnkle,
    };
    let place = |id: EventId| seen.track.nearest(seen.events.get(&id)?.time_s)?.at(ankle);
    match (place(EventId::Stance), place(EventId::Plant)) {
        (Some(stance), Some(plant)) => (plant.x - stance.x) * toward < -BACKWARD * seen.body_height_px,
        _ => false,
    }
}

/// As the warning tells them.
fn taps(seen: &Seen) -> u32 {
    let reported = seen.warnings.iter().find_map(|w| match w {
        Warning::ToeTap { taps } => u32::try_from(*taps).ok(),
        _ => None,
    });
    reported.unwrap_or(0)
}
