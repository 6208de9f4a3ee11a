//! Every sentence that a person sees, in videos and on the command line, by subject. American English; short and active.

pub mod angles;
mod captions;
pub mod changed;
pub mod command;
mod damage;
pub mod demo;
mod errors;
pub mod files;
pub mod keypoints;
pub mod lesson;
pub mod lesson_file;
pub mod media;
mod names;
pub mod output;
pub mod page;
pub mod pairing;
pub mod pins;
pub mod plan_file;
mod plans;
pub mod playable;
pub mod probe;
pub mod reading;
mod screen;
pub mod session;
pub mod swing;
pub mod swing_search;
pub mod tracking;
mod values;
mod verdicts;

pub use captions::*;
pub use damage::*;
pub use names::*;
pub use plans::*;
pub use screen::*;
pub use values::*;
pub use verdicts::*;
