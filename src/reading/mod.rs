//! One clip to one reading: where media, body and swing meet, in threads.

pub mod look;
mod read;

pub use read::{ReadClip, ReadOptions, kept_reading, pin, read, read_keypoints, settings_line, stand};
