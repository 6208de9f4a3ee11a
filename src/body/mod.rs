//! From pictures to the body points of the one who swings: the pose net, and only here.
//!
//! Knows pictures ([`crate::ground::Frame`]) and tracks; knows nothing of files, video or events.

mod crop;
mod detect;
mod landmarks;
mod nets;

pub use crop::{Pixels, Region};
pub use detect::Found;
pub use landmarks::{Body, Landmark};
pub use nets::{Eye, Nets};
