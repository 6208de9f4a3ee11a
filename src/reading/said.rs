//! What a person says of a clip, kept beside it: moments, places, the hitter, and what she thinks of the rep.

use std::path::Path;

use super::pins;
use super::read::check_known_length;
use crate::media::{Clip, OpenOptions};
use crate::messages;
use crate::store::{self, Key, Rating, Sidecar};
use crate::swing::Pins;
use crate::types::{
    BodyPoint, Error, EventId, HEIGHTS_CM, KnownLength, Point, Result, SetPoint, Side, Warning,
};

/// Keep what a person thinks of a rep; `None` takes it back.
pub fn set_rating(path: &Path, rating: Option<Rating>, options: &OpenOptions) -> Result<Vec<Warning>> {
    Clip::open(path, options)?;
    keep(path, |s| s.rating = rating)
}

/// Keep which side of the plate the hitter bats from; `None` takes it back. The reading follows at the next look.
pub fn set_bats(path: &Path, bats: Option<Side>, options: &OpenOptions) -> Result<Vec<Warning>> {
    Clip::open(path, options)?;
    keep(path, |s| {
        s.hitter.bats = bats;
        s.made_from = None;
    })
}

/// Keep the hitter's standing height, cm; `None` takes it back. The reading follows at the next look.
pub fn set_height(path: &Path, height_cm: Option<f64>, options: &OpenOptions) -> Result<Vec<Warning>> {
    Clip::open(path, options)?;
    if let Some(cm) = height_cm.filter(|cm| !HEIGHTS_CM.contains(cm)) {
        return Err(Error::Usage(messages::swing_search::no_height(cm)));
    }
    keep(path, |s| {
        s.by_hand.height_cm = height_cm;
        s.made_from = None;
    })
}

/// Keep a length marked in the clip's first picture; `None` takes it back. The reading follows at the next look.
pub fn set_known_length(
    path: &Path,
    known: Option<KnownLength>,
    options: &OpenOptions,
) -> Result<Vec<Warning>> {
    let clip = Clip::open(path, options)?;
    check_known_length(clip.facts(), known)?;
    keep(path, |s| {
        s.by_hand.known_length = known;
        s.made_from = None;
    })
}

/// Keep a place on the hitter, px of the upright picture; `None` takes it back. What was read of somebody else is
/// dropped: the clip is to be read anew.
pub fn set_hitter(path: &Path, at: Option<Point>, options: &OpenOptions) -> Result<Vec<Warning>> {
    let clip = Clip::open(path, options)?;
    at.map_or(Ok(()), |at| check_inside(&clip, at))?;
    keep(path, |s| {
        s.by_hand.hitter_at = at;
        (s.reading, s.made_from) = (None, None);
    })
}

/// Keep where points of the body are in a picture (its time, real s; places in px of the upright picture), or with `None`
/// take such a place back; the reading follows at the next look. Gives what is kept now.
///
/// # Errors
///
/// [`Error::Usage`] for a time or a place outside of the clip, and those of [`Clip::open`].
pub fn set_points(
    path: &Path,
    points: &[(BodyPoint, f64, Option<Point>)],
    options: &OpenOptions,
) -> Result<(Sidecar, Vec<Warning>)> {
    let clip = Clip::open(path, options)?;
    let mut wanted = Vec::new();
    for (point, time_s, at) in points {
        check_inside_time(&clip, point.word(), *time_s)?;
        at.map_or(Ok(()), |at| check_inside(&clip, at))?;
        wanted.push((*point, clip.frame_at_real(*time_s), *at));
    }
    let content = store::content_hash(path)?;
    store::update(path, &content, |s| {
        s.key.get_or_insert(Key { content: content.clone(), settings: String::new() });
        for (point, frame, at) in wanted {
            let all = &mut s.by_hand.points;
            all.retain(|p| p.point != point || clip.frame_at_real(p.time_s) != frame);
            all.extend(at.map(|at| SetPoint { point, time_s: clip.real_s(frame), at }));
        }
        s.made_from = None;
    })
}

/// Change what a person said.
fn keep(path: &Path, change: impl FnOnce(&mut Sidecar)) -> Result<Vec<Warning>> {
    let content = store::content_hash(path)?;
    let (_, warnings) = store::update(path, &content, |s| {
        s.key.get_or_insert(Key { content: content.clone(), settings: String::new() });
        change(s);
    })?;
    Ok(warnings)
}

fn check_inside(clip: &Clip, at: Point) -> Result<()> {
    let (width, height) = (clip.facts().width as f64, clip.facts().height as f64);
    let inside = at.is_finite() && (0.0..=width).contains(&at.x) && (0.0..=height).contains(&at.y);
    let outside = || Error::Usage(messages::swing_search::point_outside(at.x, at.y, width, height));
    if inside { Ok(()) } else { Err(outside()) }
}

fn check_inside_time(clip: &Clip, what: &str, time_s: f64) -> Result<()> {
    let end_s = clip.real_s(clip.facts().frames.saturating_sub(1));
    if time_s.is_finite() && (0.0..=end_s + 1e-9).contains(&time_s) {
        return Ok(());
    }
    let path = clip.facts().path.display();
    Err(Error::Usage(format!("{path}: {}", messages::swing_search::pin_outside(what, time_s, end_s))))
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
    for (event, time_s) in pins.iter().filter_map(|(event, time_s)| Some((event, (*time_s)?))) {
        check_inside_time(&clip, event.word(), time_s)?;
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
