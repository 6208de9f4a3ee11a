//! Pairs two videos of a hitter's swing. See DEVELOPERS.md for the house and its rooms.

// The library neither prints, exits nor panics on input (see also tests/it/house.rs); tests may (clippy.toml).
#![warn(missing_docs)]
#![warn(
    clippy::dbg_macro,
    clippy::exit,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stderr,
    clippy::print_stdout,
    clippy::todo,
    clippy::unimplemented,
    clippy::unreachable,
    clippy::unwrap_used
)]

pub mod compose;
pub mod demo;
pub mod desk;
pub mod draw;
pub mod lesson;
pub mod math;
pub mod media;
pub mod messages;
pub mod pairing;
pub mod reading;
pub mod report;
pub mod store;
pub mod swing;
pub mod tracking;
pub mod types;
