//! One clip to one reading: where media, body and swing meet, in threads.

mod angles;
mod cause;
mod closer;
mod find;
mod ghost;
mod input;
mod params;
mod pins;
mod read;
mod said;
mod session;
mod settings;
mod temporary;
pub mod track;

pub use angles::{AnglesOptions, LinedUp, line_up_clips, read_two_angles};
pub use cause::read;
pub use ghost::kept_cutouts;
pub use params::TABLES as PARAMS;
pub use read::{ReadClip, ReadOptions, kept_reading, read_keypoints, why};
pub use said::{pin, set_bats, set_height, set_hitter, set_known_length, set_points, set_rating};
pub use session::reps_of;
pub use settings::settings_line;
