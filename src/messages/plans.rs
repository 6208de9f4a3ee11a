//! What of a shot plan a swing cannot fill.

use super::event_short;
use crate::types::EventId;

/// What of a plan the readings cannot give. `shot` counts from 1.
pub fn shot_guessed(shot: usize, event: EventId) -> String {
    format!(
        "Shot {shot} of the plan depends on {}, which was not found; its usual time is used. Set it with \
         `swingpair mark CLIP {}=SECONDS`.",
        event_short(event),
        event.word()
    )
}

pub(crate) fn no_rest(shot: usize, event: EventId) -> String {
    format!(
        "Shot {shot} of the plan holds at {}, which was not found; it plays on instead.",
        event_short(event)
    )
}

pub(crate) fn rest_outside(shot: usize, event: EventId) -> String {
    format!(
        "Shot {shot} of the plan holds at {}, which is outside the shot; there is no hold.",
        event_short(event)
    )
}

/// A clip filmed along the pitch, or one that does not show the whole body, gives no way of the body centre.
pub fn centre_not_shown(shot: usize, of_today: bool) -> String {
    let whose = if of_today { "today’s clip" } else { "the reference" };
    format!(
        "Shot {shot} of the plan draws the body center, which {whose} does not show; film the whole body from the side."
    )
}

pub(crate) fn shot_cut(shot: usize, cut_s: f64) -> String {
    format!("Shot {shot} of the plan extends {cut_s:.2} s beyond the clip and is cut there.")
}

pub(crate) fn shot_empty(shot: usize) -> String {
    format!("Shot {shot} of the plan ends before it begins and is left out.")
}

/// `why`: what is to be said of its shots.
pub fn shows_nothing(why: &[String]) -> String {
    let why = if why.is_empty() { String::new() } else { format!(": {}", why.join(" ")) };
    format!("the plan shows nothing from these clips{why}")
}

pub(crate) fn plan_too_long(most_s: f64) -> String {
    format!("the plan lasts longer than {most_s} s; use shorter shots or slow them down less")
}
