//! The made-up hitter.

pub(crate) const NOT_A_DEMO: &str = "a file with that name exists and is not a demo video";
/// A label of a scenario.
pub const NET_IN_FRONT: &str = "net in front";
pub(crate) const NO_ACT: &str = "a session without an act";
pub(crate) const NOT_RIGHT_HANDED: &str =
    "the recording must be of a right-handed hitter; left-handers are mirrored from it";
pub(crate) const EVENTS_OUT_OF_ORDER: &str = "its events are out of order or outside the recording";

pub(crate) fn filming(name: &str) -> String {
    format!("rendering {name}")
}

pub(crate) fn no_point(name: &str) -> String {
    format!("it has no {name}")
}

pub(crate) fn point_missing(name: &str) -> String {
    format!("{name} is missing in some samples")
}
