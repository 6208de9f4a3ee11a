//! Moments set by hand.

use std::path::Path;

use super::event_short;
use crate::types::EventId;

/// `both`: the pins as they are written.
pub fn cannot_be(clip: &Path, both: &[String; 2], why: &str, event: EventId) -> String {
    let [a, b] = both;
    format!(
        "{}: {a} and {b} cannot both be: {why}. Nothing was changed; take a pin back with `swingpair mark CLIP {}=found`",
        clip.display(),
        event.word()
    )
}

pub fn order(earlier: EventId, later: EventId) -> String {
    format!("{} comes before {}", event_short(earlier), event_short(later))
}

pub fn too_long(earlier: EventId, later: EventId, apart_s: f64, most_s: f64) -> String {
    let (earlier, later) = (event_short(earlier), event_short(later));
    format!(
        "they lie {apart_s:.2} s apart, and from {earlier} to {later} a swing takes at most {most_s} s (of a clip in slow \
         motion say --recorded-at)"
    )
}

pub fn too_short(earlier: EventId, later: EventId, apart_s: f64, least_s: f64) -> String {
    let (earlier, later) = (event_short(earlier), event_short(later));
    format!(
        "they lie {apart_s:.3} s apart, and from {earlier} to {later} a swing takes at least {least_s} s (if the clip \
         plays faster than life, say --recorded-at)"
    )
}

pub const PINNED: &str = "Pinned. These times win over what is found:";
pub const NONE_PINNED: &str = "Nothing is pinned: every moment is found again.";

pub fn was_not_pinned(event: EventId) -> String {
    format!("{} was not pinned, so there is nothing to take back.", event.word())
}
