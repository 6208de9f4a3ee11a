//! What no hitter does, looked for in a reading and the points under it; nothing here needs the truth.

use swingpair::swing::Swing;
use swingpair::types::{EventId, Part, PitcherSide, Side, Track, Warning};

/// A standing foot's ankle is about .039 of the height over the ground (Drillis & Contini 1966, in Winter fig. 4.1):
/// a toe this much lower than at stance is in the ground, body heights. Points stray by half of it.
const UNDER_GROUND: f64 = 0.06;
/// The front foot lands nearer the pitcher than it stood, or where it stood (common practice, no source); this is what
/// points stray, body heights.
const BACKWARD: f64 = 0.05;
/// Own choice: nobody taps oftener.
const MOST_TAPS: usize = 3;

/// Pairs that follow one another by their definitions.
const ORDER: [(EventId, EventId); 10] = [
    (EventId::Stance, EventId::Load),
    (EventId::Stance, EventId::Plant),
    (EventId::Load, EventId::Plant),
    (EventId::FootOff, EventId::Touch),
    (EventId::FootOff, EventId::Plant),
    (EventId::Touch, EventId::Plant),
    (EventId::Plant, EventId::Contact),
    (EventId::HandsStart, EventId::Contact),
    (EventId::Contact, EventId::Extension),
    (EventId::Extension, EventId::Finish),
];

/// In words; nothing when all of it can be.
pub fn impossible(swing: &Swing, track: &Track) -> Vec<String> {
    let at = |id: EventId| swing.events.get(&id).map(|e| e.time_s);
    let mut found: Vec<String> = ORDER
        .into_iter()
        .filter(|(a, b)| matches!((at(*a), at(*b)), (Some(a), Some(b)) if a > b))
        .map(|(a, b)| format!("{} after {}", a.word(), b.word()))
        .collect();
    let toward = match swing.hitter.pitcher_side {
        PitcherSide::Right => 1.0,
        PitcherSide::Left => -1.0,
        PitcherSide::Away | PitcherSide::Toward => return found,
    };
    let (front, back) = match swing.hitter.bats {
        Side::Right => (Part::LeftAnkle, Part::RightToe),
        Side::Left => (Part::RightAnkle, Part::LeftToe),
    };
    let goes = |part: Part, from: EventId, to: EventId| {
        let place = |id: EventId| track.nearest(at(id)?)?.at(part);
        Some((place(to)? - place(from)?) * (1.0 / swing.scale.body_height_px))
    };
    let strides = goes(front, EventId::Stance, EventId::Plant).map(|way| toward * way.x);
    if strides.is_some_and(|way| way < -BACKWARD) {
        found.push(format!("the front foot strides {strides:.2?} of the height"));
    }
    let sinks = goes(back, EventId::Stance, EventId::Contact).map(|way| way.y);
    if sinks.is_some_and(|way| way > UNDER_GROUND) {
        found.push(format!("the back foot sinks {sinks:.2?} of the height"));
    }
    let taps = swing.warnings.iter().find_map(|w| match w {
        Warning::ToeTap { taps } => Some(*taps),
        _ => None,
    });
    if taps.is_some_and(|n| n > MOST_TAPS) {
        found.push(format!("{taps:?} toe taps"));
    }
    found
}
