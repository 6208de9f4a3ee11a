//! Mends a track over time: the whole swing is known, so both neighbours of a picture may be asked.
//!
//! Pure functions on [`Track`]. A part that nobody saw stays `None`; what is worked out is marked
//! [`crate::types::Seen::Inferred`]; nothing lags.

mod fuse;
mod gaps;
mod grip;
mod hands;
mod outliers;
mod series;
mod smooth;
mod swaps;

pub use fuse::fuse;
pub use gaps::fill_gaps;
pub use grip::hold_the_grip;
pub use hands::hold_one_bat;
pub use outliers::drop_outliers;
pub use smooth::{Cutoffs, smooth};
pub use swaps::undo_swaps;

use super::moves::Moves;
use super::params::LONGEST_GAP_S;
use super::stature::standing_height_px;
use crate::types::Track;

/// All repairs in order: swaps undone, outliers dropped, two hands on one bat, short gaps filled. Not smoothed.
/// A track without a readable body height comes back as it is.
pub fn repair_unsmoothed(track: &Track) -> Track {
    let Some(height_px) = standing_height_px(&track.poses) else { return track.clone() };
    let mut track = undo_swaps(track, height_px);
    drop_outliers(&mut track, height_px);
    hold_one_bat(&mut track, height_px);
    fill_gaps(&mut track, LONGEST_GAP_S);
    track
}

/// [`repair_unsmoothed`], then lightly smoothed without lag.
pub fn repair(track: &Track) -> Track {
    smooth(&repair_unsmoothed(track), &Cutoffs::default(), None)
}

/// [`repair`] with what the pictures say of how feet and hands move (`moves`: from each pose to the next): sides
/// are set right first, then net and pictures are fitted together, the hands put where the grip is seen, then all is
/// smoothed.
pub fn repair_moving(track: &Track, moves: &[Moves]) -> Track {
    let mended = repair_unsmoothed(track);
    let Some(height_px) = standing_height_px(&track.poses) else { return mended };
    let mut fused = fuse(&mended, moves, height_px);
    hold_the_grip(&mut fused, &undo_swaps(track, height_px), height_px);
    smooth(&fused, &Cutoffs::default(), None)
}
