//! From pictures to the body points of the one who swings: the pose net, and only here.
//!
//! Knows pictures ([`crate::types::Frame`]) and tracks; knows nothing of files, video or events.

mod ball;
mod bat;
mod butterworth;
mod crop;
mod cutout;
mod detect;
mod flow;
mod hitter;
pub mod keypoints;
mod landmarks;
mod motion;
mod moves;
mod nets;
mod pan;
mod params;
mod people;
mod piece;
mod repair;
mod shot;
mod stature;
mod steady;
mod swept;

pub use ball::{BALL_M, BallPicture, Field, Mover, changed, find_ball, movers};
pub use bat::{Bar, bars, bat_look, chain};
pub use butterworth::{Butterworth, residual_cutoff_hz};
pub use crop::{Pixels, Region};
pub use cutout::cutout;
pub use detect::{Found, merge};
pub use hitter::{Burst, NoSwing, bursts};
pub use landmarks::{Body, Landmark};
pub use motion::{Motion, MotionMeter};
pub use moves::{Glimpse, Move, Moves, moves};
pub use nets::{Eye, Nets};
pub use params::{
    FINISH_FROM_S, FINISH_TO_S, LONGEST_GAP_S, SLOWEST_SWING, SURE_SWING, TABLES as PARAMS, WIDEST_GRIP,
};
pub use people::{Pan, Person, Sighting, follow, follow_panned, unlike};
pub use repair::{
    Cutoffs, drop_outliers, fill_gaps, fuse, hold_one_bat, hold_the_grip, repair, repair_moving,
    repair_unsmoothed, smooth, undo_swaps,
};
pub use shot::{cuts, shot_around};
pub use stature::standing_height_px;
pub use steady::{Patchwork, steady};
pub use swept::{Area, Sampled, swept_bat};
