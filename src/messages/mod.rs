//! Every sentence that a person sees, in videos and on the command line, by subject. American English; short and active.

#![expect(missing_docs, reason = "a message says what it says; what is filled in has its name and unit")]

pub mod angles;
mod captions;
pub mod changed;
pub mod command;
mod damage;
pub mod demo;
pub mod desk;
mod errors;
pub mod files;
pub mod keypoints;
pub mod lesson;
pub mod lesson_file;
pub mod media;
mod names;
mod no_swing;
pub mod output;
pub mod page;
pub mod pairing;
pub mod pins;
pub mod plan_file;
mod plans;
pub mod playable;
pub mod probe;
pub mod reading;
mod reasons;
mod screen;
pub mod session;
pub mod settle;
pub mod swing;
pub mod swing_search;
pub mod tracking;
mod values;
mod verdicts;
mod warnings;

pub use captions::*;
pub use damage::*;
pub use names::*;
pub use no_swing::fault;
pub use plans::*;
pub use reasons::*;
pub use screen::*;
pub use values::*;
pub use verdicts::*;
pub use warnings::*;
