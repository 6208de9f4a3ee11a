//! One clip to one reading: where media, body and swing meet, in threads.

pub mod look;
mod read;

pub use read::{ReadClip, ReadOptions, pin, read, read_keypoints};
