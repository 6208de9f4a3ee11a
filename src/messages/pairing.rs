//! Two swings side by side: why one is not compared, and how sure the moment is that they are lined up on.

use crate::types::{EventId, Side, View};

pub(crate) const NO_REFERENCE: &str = "no reference is given";
pub(crate) const SAME_AS_TODAY: &str = "it shows the same swing as today's clip";
pub(crate) const FEW_POINTS: &str = "too few body points are visible at stance in both clips";

/// `whose`: "today's".
pub fn other_view(rep: View, whose: &str, other: View) -> String {
    let [rep, other] = [rep, other].map(super::view_short);
    format!("it is filmed from a different side ({rep}; {whose} is {other})")
}

/// `who`: "today" or "in the others".
pub fn other_side(rep: Side, who: &str, other: Side) -> String {
    format!("the hitter bats {} in it but {} {who}", super::side(rep), super::side(other))
}

pub(crate) fn different_views(today: View, reference: View) -> String {
    let [today, reference] = [today, reference].map(super::view_short);
    format!("the two clips are filmed from different sides, {today} and {reference}")
}

pub(crate) fn no_shared_event(wanted: EventId) -> String {
    let word = wanted.word();
    format!("they share no event; set {word} in both with `swingpair mark CLIP {word}=SECONDS`")
}

/// `shown_by`: whether today's clip and the reference show the event that was asked for.
pub fn sync_fallback(wanted: EventId, shown_by: [bool; 2], instead: EventId) -> String {
    let (word, instead) = (wanted.word(), instead.word());
    match shown_by {
        [false, false] => format!("Neither clip shows {word}; lined up on {instead} instead."),
        [false, true] => format!("Today's clip does not show {word}; lined up on {instead} instead."),
        _ => format!("The reference does not show {word}; lined up on {instead} instead."),
    }
}

/// `surest`: an event that both know better.
pub fn sync_unsure(on: EventId, plus_minus_s: f64, surest: Option<EventId>) -> String {
    let word = on.word();
    let way_out = match surest {
        Some(surest) => format!("--sync {} is more precise", surest.word()),
        None => format!("set it by hand with `swingpair mark CLIP {word}=SECONDS`"),
    };
    let ms = plus_minus_s * 1000.0;
    format!("The clips are lined up on {word}, which is only known to ± {ms:.0} ms; {way_out}.")
}
