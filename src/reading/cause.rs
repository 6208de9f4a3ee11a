//! Why no swing is read, the cause that matters most first: a damaged file, then a wrong word, then the swing itself.

use std::path::Path;

use super::read::{self, ReadClip, ReadOptions};
use crate::media::{Clip, OpenOptions};
use crate::store;
use crate::types::{Cancel, Error, NoSwing, Progress, Result};

/// Read a clip; the reading is kept beside it and used again while clip and settings stay the same.
/// Event times are in real s from the first picture, measures in the unit they carry, each with its ± (95 %).
///
/// # Errors
///
/// [`Error::NoPerson`] and [`Error::NoSwing`] where there is none to read, [`Error::Damaged`] where the file's
/// state is why, [`Error::SpeedChanges`] where the clip's clock is
/// no measure, [`Error::NobodyThere`] where `options.hitter` points at nobody, [`Error::Cancelled`], and those of
/// [`Clip::open`](crate::media::Clip::open).
///
/// ```no_run
/// use swingpair::reading::{ReadOptions, read};
/// use swingpair::types::{Cancel, EventId, NoProgress};
///
/// let options = ReadOptions { height_cm: Some(178.0), ..ReadOptions::default() };
/// let rep = read("today.mp4".as_ref(), &options, &NoProgress, &Cancel::default())?;
/// if let Some(contact) = rep.reading.events.get(&EventId::Contact) {
///     println!("contact at {:.3} s ± {:.3}", contact.time_s, contact.plus_minus_s);
/// }
/// # Ok::<(), swingpair::types::Error>(())
/// ```
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
    let kept = || store::load(&path).ok().and_then(|kept| kept.by_hand.hitter_at);
    match (clip.damage(), options.hitter.or_else(kept)) {
        (Some(damage), _) => Error::Damaged { path, damage, cause },
        (None, Some(at)) => Error::NobodyThere { path, x: at.x, y: at.y, width, height, cause },
        (None, None) => error,
    }
}
