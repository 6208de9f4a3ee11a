//! Pairs two videos of a hitter's swing. See DEVELOPERS.md for the house and its rooms.

pub mod body;
pub mod clip;
pub mod demo;
pub mod draw;
pub mod ground;
pub mod lesson;
pub mod media;
pub mod pairing;
pub mod reading;
pub mod report;
pub mod reps;
pub mod swing;
