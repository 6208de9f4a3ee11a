//! What the desk says in its page and on the command line. The page's own words stand in `desk/page/words.js`.

use std::path::Path;

pub const NO_KEY: &str = "This page opens with the address that swingpair desk printed. Copy the whole line.";
pub const OTHER_HOST: &str = "Use the address that swingpair desk printed.";
pub const OTHER_PAGE: &str = "Another page asked for this, so it was refused.";
pub const NOTHING_HERE: &str = "There is nothing at this address.";
pub const TOO_LARGE: &str = "The request is too large.";
pub const NOT_UNDERSTOOD: &str = "The request was not understood.";
pub const NO_SUCH_CLIP: &str = "This clip is no longer in the folder.";
pub const NO_SUCH_VIDEO: &str = "This video is no longer there.";
pub const NO_SUCH_EVENT: &str = "There is no such event.";
pub const NO_REFERENCE: &str = "There is no rep left to compare with.";
pub const TWO_NEEDED: &str = "Choose two different clips.";
pub const BUSY_MAKING: &str = "A video is being made; wait for it or stop it.";
pub const NOTHING_TO_UNDO: &str = "There is nothing to undo.";
pub const NOTHING_TO_REDO: &str = "There is nothing to redo.";
pub const STOPPED: &str = "Stopped.";
pub const NO_CONTACT: &str = "Contact was not found.";
pub const NO_PLANT: &str = "Front-foot plant was not found.";
pub const OPEN_IT: &str = "Open this address in your browser. Press Ctrl-C to stop the desk.";

pub fn not_read_yet(name: &str) -> String {
    format!("{name} has not been read yet.")
}

pub fn no_such_frame(index: usize, frames: usize) -> String {
    format!("There is no frame {index}; the clip has {frames}.")
}

pub fn port_taken(port: u16, cause: &dyn std::fmt::Display) -> String {
    format!("port {port} cannot be used ({cause}); leave out --port or choose another")
}

pub fn no_random(cause: &dyn std::fmt::Display) -> String {
    format!("the system gives no random numbers ({cause})")
}

pub fn not_a_folder(folder: &Path) -> String {
    format!("{}: is not a folder; give the folder your clips are in", folder.display())
}

pub fn no_browser(cause: &dyn std::fmt::Display) -> String {
    format!("warning: the browser could not be opened ({cause}); open the address yourself")
}
