//! How feet and hands move from picture to picture, on all threads.

use crate::messages::swing_search as messages;
use crate::tracking::{Glimpse, Moves, moves, standing_height_px};
use crate::types::{CameraMotion, Result, Track};

use super::stream::Pass;

/// From each pose of `track` to the next: one answer fewer than poses. `track`: the net's points, mended and
/// smoothed; one glimpse for each.
pub fn moved(pass: &Pass, glimpses: &[Glimpse], track: &Track, camera: &CameraMotion) -> Result<Vec<Moves>> {
    let steps = track.poses.len().saturating_sub(1);
    let Some(height_px) = standing_height_px(&track.poses) else { return Ok(vec![Moves::new(); steps]) };
    let step = |i: usize| -> Option<Moves> {
        let poses = (track.poses.get(i)?, track.poses.get(i + 1)?);
        let scene = camera.to_steady(i + 1).inverse().after(&camera.to_steady(i));
        Some(moves(glimpses.get(i)?, glimpses.get(i + 1)?, poses, &scene, height_px))
    };
    let mut all = vec![Moves::new(); steps];
    let share = steps.div_ceil(pass.threads.max(1)).max(1);
    pass.progress.begin(messages::FOLLOWING_MOVES, steps as u64);
    std::thread::scope(|scope| {
        for (k, chunk) in all.chunks_mut(share).enumerate() {
            let step = &step;
            scope.spawn(move || {
                for (i, slot) in chunk.iter_mut().enumerate() {
                    if pass.cancel.check().is_err() {
                        return;
                    }
                    *slot = step(k * share + i).unwrap_or_default();
                    pass.progress.advance(1);
                }
            });
        }
    });
    pass.progress.end();
    pass.cancel.check()?;
    Ok(all)
}
