//! Pairs two videos of a hitter's swing. See DEVELOPERS.md for the house and its rooms.

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
