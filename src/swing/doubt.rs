//! Two explanations that fit about as well: only what both say is given.

use super::Swing;
use super::params::{ONE_SWING_S, SAME_MOMENT_S};
use crate::ground::{Side, Warning};

/// Why a measure is absent then.
const UNSURE: &str = "two readings of this swing fit about as well; say --bats right or --bats left";

/// Whether two readings tell of another hitter or another moment.
pub fn differ(a: &Swing, b: &Swing) -> bool {
    let contact = |s: &Swing| s.events.get(&crate::ground::EventId::Contact).map_or(0.0, |e| e.time_s);
    a.hitter != b.hitter || (contact(a) - contact(b)).abs() > ONE_SWING_S
}

/// Takes out of a reading what the other does not say too, and tells of the doubt.
pub fn keep_what_agrees(swing: &mut Swing, other: &Swing) {
    swing.events.retain(|id, event| {
        let again = other.events.get(id);
        again.is_some_and(|o| (o.time_s - event.time_s).abs() <= SAME_MOMENT_S.max(event.plus_minus_s))
    });
    let gone: Vec<_> = swing
        .measures
        .iter()
        .filter(|(id, m)| {
            let again = other.measures.get(id);
            again.is_none_or(|o| (o.value - m.value).abs() > m.plus_minus.max(o.plus_minus))
        })
        .map(|(id, _)| *id)
        .collect();
    for id in gone {
        swing.measures.remove(&id);
        swing.absent.insert(id, UNSURE.to_owned());
    }
    let side = |s: Side| if s == Side::Right { "right" } else { "left" };
    let text = if swing.hitter.bats != other.hitter.bats {
        format!(
            "The hitter may bat {} or {}: only what is the same either way is given. Say which with --bats.",
            side(swing.hitter.bats),
            side(other.hitter.bats)
        )
    } else if swing.hitter.pitcher_side != other.hitter.pitcher_side {
        "Where the pitcher is cannot be told for sure: only what is the same either way is given. Say it with --pitcher."
            .to_owned()
    } else {
        "Two moments could be the swing: only what both share is given. Mark contact to say which.".to_owned()
    };
    swing.warnings.insert(0, Warning::new("explanations_tie", text));
}
