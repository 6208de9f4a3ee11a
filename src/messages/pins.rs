//! Events set by hand.

use std::path::Path;

use super::event_short;
use crate::types::EventId;

/// `both`: the pins as they are written.
pub fn cannot_be(clip: &Path, both: &[String; 2], why: &str, event: EventId) -> String {
    let [a, b] = both;
    format!(
        "{}: {a} and {b} cannot both be right: {why}. Nothing was changed; remove a pin with `swingpair mark CLIP {}=found`",
        clip.display(),
        event.word()
    )
}

pub(crate) fn order(earlier: EventId, later: EventId) -> String {
    format!("{} comes before {}", event_short(earlier), event_short(later))
}

pub(crate) fn too_long(earlier: EventId, later: EventId, apart_s: f64, most_s: f64) -> String {
    let (earlier, later) = (event_short(earlier), event_short(later));
    format!(
        "they are {apart_s:.2} s apart, and from {earlier} to {later} a swing takes at most {most_s} s (if the clip is in \
         slow motion, give --recorded-at)"
    )
}

pub(crate) fn too_short(earlier: EventId, later: EventId, apart_s: f64, least_s: f64) -> String {
    let (earlier, later) = (event_short(earlier), event_short(later));
    format!(
        "they are {apart_s:.3} s apart, and from {earlier} to {later} a swing takes at least {least_s} s (if the clip is \
         sped up, give --recorded-at)"
    )
}

pub const PINNED: &str = "Pinned. These times override what is found:";
pub const NONE_PINNED: &str = "Nothing is pinned; every event is found automatically.";

pub const POINTS_SET: &str = "Set. The hitter's track goes through these places:";
pub const NO_POINTS_SET: &str = "No point is set; the track is as found.";

pub(crate) fn was_not_pinned(event: EventId) -> String {
    format!("{} was not pinned, so there is nothing to remove.", event.word())
}
