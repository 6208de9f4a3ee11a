//! What the desk says in its page and on the command line. The page's own words stand in `desk/page/words.js`.

use std::path::Path;

pub(crate) const NO_KEY: &str =
    "This page opens with the address that swingpair desk printed. Copy the whole line.";
pub(crate) const OTHER_HOST: &str = "Use the address that swingpair desk printed.";
pub(crate) const OTHER_PAGE: &str = "Another page asked for this, so it was refused.";
pub(crate) const NOTHING_HERE: &str = "There is nothing at this address.";
pub(crate) const TOO_LARGE: &str = "The request is too large.";
pub(crate) const NOT_UNDERSTOOD: &str = "The request was not understood.";
pub(crate) const NO_SUCH_CLIP: &str = "This clip is no longer in the folder.";
pub(crate) const NO_SUCH_VIDEO: &str = "This video is no longer there.";
pub(crate) const NO_SUCH_EVENT: &str = "There is no such event.";
pub(crate) const NO_REFERENCE: &str = "There is no rep left to compare with.";
pub(crate) const TWO_NEEDED: &str = "Choose two different clips.";
pub(crate) const BUSY_MAKING: &str = "A video is being made; wait for it or stop it.";
pub(crate) const NOTHING_TO_UNDO: &str = "There is nothing to undo.";
pub(crate) const NOTHING_TO_REDO: &str = "There is nothing to redo.";
pub(crate) const STOPPED: &str = "Stopped.";
pub(crate) const NO_CONTACT: &str = "Contact was not found.";
pub(crate) const NO_PLANT: &str = "Front-foot plant was not found.";
pub const OPEN_IT: &str = "Open this address in your browser. Press Ctrl-C to stop the desk.";

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

pub(crate) fn not_a_folder(folder: &Path) -> String {
    format!("{}: is not a folder; give the folder your clips are in", folder.display())
}

pub fn no_browser(cause: &dyn std::fmt::Display) -> String {
    format!("warning: the browser could not be opened ({cause}); open the address yourself")
}
