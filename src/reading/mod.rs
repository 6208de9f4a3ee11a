//! One clip to one reading: where media, body and swing meet, in threads.

mod angles;
mod cause;
mod params;
mod pins;
mod read;
mod session;
pub mod track;

pub use angles::{AnglesOptions, LinedUp, line_up_clips, read_two_angles};
pub use cause::read;
pub use params::TABLES as PARAMS;
pub use read::{ReadClip, ReadOptions, kept_reading, pin, read_keypoints, set_rating, settings_line, why};
pub use session::reps_of;
