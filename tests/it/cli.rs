//! The command line as a person meets it: the built program on small filmed clips in folders of its own.

mod angles;
mod captions;
mod ends;
mod exits;
pub mod films;
mod fitting;
mod good_reps;
mod help;
pub mod lesson;
mod mirror;
mod odd_footage;
mod pages;
mod pair;
mod plans;
mod points;
mod private;
mod probe;
mod read;
mod refusals;
mod reported;
pub mod reps;
mod units;
