//! The bat in some quiet pictures, read again once it is known when the swing begins.

use super::super::params::{BAT_AFTER_S, BAT_BEFORE_S, BAT_LONG_BEFORE_S, BAT_LOOKS, BAT_SHORT_BEFORE_S};
use crate::media::Clip;
use crate::messages::swing_search as messages;
use crate::tracking::{Bar, bars, bat_look};
use crate::types::{BatAtRest, BatUnmeasured, Cancel, EventId, Progress, Reading, Result};

use super::survey::spread;

/// How long the bat looks; the inner `Err` says why that cannot be told.
pub fn bat(
    clip: &Clip,
    reading: &Reading,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<std::result::Result<BatAtRest, BatUnmeasured>> {
    Ok(bat_look(
        &bars_before_swing(clip, reading, progress, cancel)?.into_iter().map(|p| p.1).collect::<Vec<_>>(),
    ))
}

/// Index, and time (real s) with the bars found, of each picture looked at.
pub type PictureBars = (usize, (f64, Vec<Bar>));

/// The bars that begin at the hands in quiet pictures before the swing, picture px.
pub fn bars_before_swing(
    clip: &Clip,
    reading: &Reading,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<Vec<PictureBars>> {
    let time = |id: EventId| reading.events.get(&id).map(|e| e.time_s);
    let contact_s = time(EventId::Contact).unwrap_or(clip.facts().duration_s);
    let until_s = time(EventId::HandsStart).map_or(contact_s - BAT_SHORT_BEFORE_S, |t| t + BAT_AFTER_S);
    let from_s =
        time(EventId::Stance).map_or(contact_s - BAT_LONG_BEFORE_S, |t| t - BAT_BEFORE_S).min(until_s - 0.2);
    let (from, to) = (clip.frame_at_real(from_s.max(0.0)), clip.frame_at_real(until_s.max(0.0)) + 1);
    let rate_hz = BAT_LOOKS as f64 / (until_s - from_s).max(0.1);
    let wanted = spread(from, to, rate_hz, |i| clip.real_s(i));
    let mut found = Vec::with_capacity(wanted.len());
    progress.begin(messages::FINDING_BAT, wanted.len() as u64);
    let mut frames = clip.picked(&wanted, None)?;
    while let Some(picture) = frames.next_frame()? {
        cancel.check()?;
        progress.advance(1);
        let time_s = clip.real_s(picture.index);
        let nearest = reading.track.nearest_index(time_s);
        let pose = nearest.and_then(|i| reading.track.poses.get(i)).filter(|p| p.frame == picture.index);
        if let Some(pose) = pose {
            let bars = bars(&picture.frame, pose, reading.scale.body_height_px);
            found.push((picture.index, (time_s, bars)));
        }
    }
    progress.end();
    Ok(found)
}
