//! Why no swing is read, the cause that matters most first: a damaged file, then a wrong word, then the swing itself.

use std::path::Path;

use super::read::{self, ReadClip, ReadOptions};
use crate::media::{Clip, OpenOptions};
use crate::types::{Cancel, Error, NoSwing, Progress, Result};

/// Read a clip; the reading is kept beside it and used again while clip and settings stay the same.
pub fn read(
    path: &Path,
    options: &ReadOptions,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<ReadClip> {
    read::read(path, options, progress, cancel).map_err(|error| first_cause(error, path, options))
}

fn first_cause(error: Error, path: &Path, options: &ReadOptions) -> Error {
    let cause = match &error {
        Error::NoSwing { cause, .. } => cause.clone(),
        Error::NoPerson { .. } => NoSwing::Nobody,
        _ => return error,
    };
    let open = OpenOptions { recorded_at_hz: options.recorded_at_hz, limits: options.limits };
    let Ok(clip) = Clip::open(path, &open) else { return error };
    let path = path.to_owned();
    let (width, height) = (clip.facts().width, clip.facts().height);
    match (clip.damage(), options.hitter) {
        (Some(damage), _) => Error::Damaged { path, damage, cause },
        (None, Some(at)) => Error::NobodyThere { path, x: at.x, y: at.y, width, height, cause },
        (None, None) => error,
    }
}
