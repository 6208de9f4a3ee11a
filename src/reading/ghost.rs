//! What a ghost is cut out by, kept beside its clip.

use super::track;
use crate::media::Clip;
use crate::store;
use crate::types::{Cancel, Cutouts, Progress, Reading, Result, Warning};

/// The hitter cut out of a clip's pictures: as kept beside it, else found and kept. The warning tells what became of
/// keeping it.
pub fn kept_cutouts(
    clip: &Clip,
    reading: &Reading,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<(Cutouts, Option<Warning>)> {
    let path = &clip.facts().path;
    let key = store::cutouts_key(path, reading)?;
    if let Some(kept) = store::load_cutouts(path, &key) {
        return Ok((kept, None));
    }
    let cutouts = track::cutouts(clip, reading, progress, cancel)?;
    let reported = match store::save_cutouts(path, &key, &cutouts) {
        Ok(set_aside) => set_aside,
        // The video can be made all the same.
        Err(e) => Some(Warning::CutoutsNotKept { error: e.into() }),
    };
    Ok((cutouts, reported))
}
