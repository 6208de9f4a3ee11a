//! What a person says of a clip, kept beside it: moments, and what she thinks of the rep.

use std::path::Path;

use super::pins;
use crate::media::{Clip, OpenOptions};
use crate::messages;
use crate::store::{self, Key, Rating, Sidecar};
use crate::swing::Pins;
use crate::types::{Error, EventId, Result, Side, Warning};

/// Keep what a person thinks of a rep; `None` takes it back.
pub fn set_rating(path: &Path, rating: Option<Rating>, options: &OpenOptions) -> Result<Vec<Warning>> {
    Clip::open(path, options)?;
    let content = store::content_hash(path)?;
    let (_, warnings) = store::update(path, &content, |s| {
        s.key.get_or_insert(Key { content: content.clone(), settings: String::new() });
        s.rating = rating;
    })?;
    Ok(warnings)
}

/// Keep which side of the plate the hitter bats from; `None` takes it back. The reading follows at the next look.
pub fn set_bats(path: &Path, bats: Option<Side>, options: &OpenOptions) -> Result<Vec<Warning>> {
    Clip::open(path, options)?;
    let content = store::content_hash(path)?;
    let (_, warnings) = store::update(path, &content, |s| {
        s.key.get_or_insert(Key { content: content.clone(), settings: String::new() });
        s.hitter.bats = bats;
        s.made_from = None;
    })?;
    Ok(warnings)
}

/// Pin events of a clip (real s from the first picture), or with `None` take pins back; the reading follows at the next
/// look. Pins that cannot belong to one swing are refused. The warnings tell of pins that were not there and of an older
/// sidecar that could not be used and was set aside.
///
/// # Errors
///
/// [`Error::Usage`] for a time outside the clip or pins that cannot belong to one swing, [`Error::Unwritable`] where the
/// sidecar cannot be kept, and those of [`Clip::open`].
///
/// ```no_run
/// use swingpair::media::OpenOptions;
/// use swingpair::reading::pin;
/// use swingpair::types::EventId;
///
/// pin("today.mp4".as_ref(), &[(EventId::Plant, Some(1.42))], &OpenOptions::default())?;
/// # Ok::<(), swingpair::types::Error>(())
/// ```
pub fn pin(
    path: &Path,
    pins: &[(EventId, Option<f64>)],
    options: &OpenOptions,
) -> Result<(Sidecar, Vec<Warning>)> {
    let clip = Clip::open(path, options)?;
    let end_s = clip.real_s(clip.facts().frames.saturating_sub(1));
    for (event, time_s) in pins.iter().filter_map(|(event, time_s)| Some((event, (*time_s)?))) {
        if !time_s.is_finite() || time_s < 0.0 || time_s > end_s + 1e-9 {
            return Err(Error::Usage(format!(
                "{}: {}",
                path.display(),
                messages::swing_search::pin_outside(event.word(), time_s, end_s)
            )));
        }
    }
    let content = store::content_hash(path)?;
    let before = store::load(path)?;
    let mut wanted = if before.is_foreign(&content) { Pins::new() } else { before.pins };
    let mut unpinned = Vec::new();
    for (event, time_s) in pins {
        match time_s {
            Some(time_s) => drop(wanted.insert(*event, *time_s)),
            None if wanted.remove(event).is_none() => {
                unpinned.push(Warning::WasNotPinned { event: *event });
            }
            None => (),
        }
    }
    pins::check(path, &wanted)?;
    let (kept, warnings) = store::update(path, &content, |s| {
        s.key.get_or_insert(Key { content: content.clone(), settings: String::new() });
        s.pins = wanted;
        s.made_from = None;
    })?;
    unpinned.extend(warnings);
    Ok((kept, unpinned))
}
