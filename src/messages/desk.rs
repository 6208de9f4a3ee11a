//! What the desk says in its page and on the command line. The page's own words stand in `desk/page/words.js`.

use std::path::Path;

use crate::types::{BodyPoint, Side};

pub(crate) const NO_KEY: &str =
    "Open this page with the address that swingpair desk printed. Copy the whole line.";
pub(crate) const OTHER_HOST: &str = "Use the address that swingpair desk printed.";
pub(crate) const OTHER_PAGE: &str = "Another page asked for this, so it was refused.";
pub(crate) const NOTHING_HERE: &str = "There is nothing at this address.";
pub(crate) const TOO_LARGE: &str = "The request is too large.";
pub(crate) const NOT_UNDERSTOOD: &str = "The request was not understood.";
pub(crate) const NO_SUCH_CLIP: &str = "This clip is no longer in the folder.";
pub(crate) const NO_SUCH_VIDEO: &str = "This video is no longer there.";
pub(crate) const NO_SUCH_EVENT: &str = "There is no such event.";
pub(crate) const NO_SUCH_POINT: &str = "There is no such point of the body.";
pub(crate) const NO_REFERENCE: &str = "There is no rep left to compare with.";
pub(crate) const TWO_NEEDED: &str = "Choose two different clips.";
pub(crate) const BUSY_MAKING: &str = "A video is being made; wait for it or stop it.";
pub(crate) const NOTHING_TO_UNDO: &str = "There is nothing to undo.";
pub(crate) const NOTHING_TO_REDO: &str = "There is nothing to redo.";
pub(crate) const STOPPED: &str = "Stopped.";
pub(crate) const NO_CONTACT: &str = "Contact was not found.";
pub(crate) const NO_PLANT: &str = "Front-foot plant was not found.";
pub(crate) const ONE_SCALE: &str =
    "Only one of the two clips has a height or a known length, so lengths are not compared.";
pub(crate) const NO_SUCH_SWING: &str = "There is no such swing in this clip; look for its swings again.";
pub(crate) const TAKEN_ALREADY: &str =
    "It is among your clips already; delete it there if you don't want it.";
pub(crate) const BUSY_FINDING: &str = "A search for swings is already running; wait for it or stop it.";
pub(crate) const MADE_SPREAD: &str = "Spread";
pub(crate) const MADE_VIDEO: &str = "Video";
pub(crate) const MADE_SHEET: &str = "Sheet";
pub(crate) const NO_SUCH_VOICE: &str = "This recording is no longer there; record it again.";
pub(crate) const THE_RECORDING: &str = "the recording";
pub(crate) const SHARE_IS_OFF: &str = "Sharing is off; start the desk with --share.";
pub const SHARE_CAUTION: &str = "caution: anyone on this network who has the address can open a video that you share. Share \
     a minor's video only with a parent's or guardian's consent, and never on an open network.";
pub const OPEN_IT: &str = "Open this address in your browser. Press Ctrl-C to stop the desk.";

/// A point by its name. `bats`: a hitter from the right side has the left foot in front.
pub(crate) fn body_point(point: BodyPoint, bats: Side) -> &'static str {
    let left_in_front = bats == Side::Right;
    match point {
        BodyPoint::Head => "Head",
        BodyPoint::Hands => "Hands",
        BodyPoint::LeftHeel if left_in_front => "Front heel",
        BodyPoint::RightHeel if left_in_front => "Back heel",
        BodyPoint::LeftToe if left_in_front => "Front toe",
        BodyPoint::RightToe if left_in_front => "Back toe",
        BodyPoint::LeftHeel => "Back heel",
        BodyPoint::RightHeel => "Front heel",
        BodyPoint::LeftToe => "Back toe",
        BodyPoint::RightToe => "Front toe",
    }
}

pub(crate) fn nothing_to_mirror(bats: Side) -> String {
    format!("Both swings are read as batting {}, so neither is mirrored.", super::side(bats))
}

pub(crate) fn not_read_yet(name: &str) -> String {
    format!("{name} has not been read yet.")
}

pub(crate) fn no_such_frame(index: usize, frames: usize) -> String {
    format!("There is no frame {index}; the clip has {frames}.")
}

pub(crate) fn port_taken(port: u16, cause: &dyn std::fmt::Display) -> String {
    format!("port {port} cannot be used ({cause}); leave out --port or choose another")
}

pub(crate) fn no_random(cause: &dyn std::fmt::Display) -> String {
    format!("the system gives no random numbers ({cause})")
}

pub(crate) fn no_share(cause: &dyn std::fmt::Display) -> String {
    format!("no address can be opened for other devices ({cause}); leave out --share")
}

pub(crate) fn not_a_folder(folder: &Path) -> String {
    format!("{}: is not a folder; give the folder your clips are in", folder.display())
}

pub fn no_browser(cause: &dyn std::fmt::Display) -> String {
    format!("warning: the browser could not be opened ({cause}); open the address yourself")
}
