//! A long film to its reps: each found, cut out as a film of its own, and read.

use super::params::{BUNT_FINISH, MOST_LOOKS, REP_AFTER_S, REP_BEFORE_S, SAME_SWING_S, SURE_REP_SPEED};
use std::fs;
use std::path::Path;

use super::find::listen;
use super::read::{self, ReadOptions};
use super::settings::settings_line;
use super::temporary::Temporary;
use super::track::{self, RoughSwing};
use crate::media::{Clip, Extracted, OpenOptions, extract};
use crate::messages::swing_search as messages;
use crate::store;
use crate::store::write_file;
use crate::types::{
    Cancel, Cause, Error, EventId, FoundRep, FoundReps, MeasureId, Progress, Reading, Result, Source, Unit,
};

/// Find every swing of `session`, cut each out into `folder` (made when it is not there) as `NAME_rep01.mp4` and read it.
/// Without a folder the cut films are gone again when this returns. What a run before found and cut is used again.
/// Times of what is found are in real s from the recording's first picture.
///
/// # Errors
///
/// [`Error::SpeedChanges`] where the recording's clock is no measure, [`Error::Unwritable`] where `folder` cannot be written
/// or holds films of these names that no run before has cut, [`Error::Cancelled`], and those of [`Clip::open`].
///
/// ```no_run
/// use swingpair::reading::{ReadOptions, reps_of};
/// use swingpair::types::{Cancel, NoProgress};
///
/// let folder = Some("reps".as_ref());
/// let found = reps_of("cage.mp4".as_ref(), folder, &ReadOptions::default(), &NoProgress, &Cancel::default())?;
/// for rep in &found.reps {
///     println!("{:.1} s to {:.1} s", rep.from_s, rep.to_s);
/// }
/// # Ok::<(), swingpair::types::Error>(())
/// ```
pub fn reps_of(
    session: &Path,
    folder: Option<&Path>,
    options: &ReadOptions,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<FoundReps> {
    let clip =
        Clip::open(session, &OpenOptions { recorded_at_hz: options.recorded_at_hz, limits: options.limits })?;
    clip.check_clock()?;
    let key = format!("{} {}", store::content_hash(session)?, settings_line(options)?);
    let stem = session.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let (place, _gone_again) = match folder {
        Some(folder) => {
            fs::create_dir_all(folder).map_err(|e| Error::writing(folder, e))?;
            (folder.to_owned(), None)
        }
        None => {
            let own = Temporary::folder(&std::env::temp_dir())?;
            (own.place().to_owned(), Some(own))
        }
    };
    let list = place.join(format!("{stem}.reps.json"));
    let before = fs::read(&list).ok().and_then(|b| serde_json::from_slice::<FoundReps>(&b).ok());
    if let Some(found) =
        before.as_ref().filter(|f| f.finished && f.key == key && !options.fresh && all_there(f, &place))
    {
        return Ok(found.clone());
    }
    refuse_strangers(&place, &stem, before.as_ref())?;
    let onsets = listen(&clip)?;
    let (rough, warnings) = track::swings(&clip, &onsets, progress, cancel)?;
    let mut found = FoundReps {
        schema: FoundReps::SCHEMA.to_owned(),
        key,
        films: before.map(|f| f.films).unwrap_or_default(),
        finished: false,
        duration_s: clip.real_s(clip.facts().frames.saturating_sub(1)),
        reps: Vec::new(),
        dropped_s: Vec::new(),
        warnings: clip.warnings().iter().cloned().chain(warnings).collect(),
    };
    for swing in rough {
        cancel.check()?;
        let name = format!("{stem}_rep{:02}.mp4", found.reps.len() + 1);
        let single = place.join(&name);
        if !found.films.contains(&name) {
            // Before it is cut: whatever stops this run, the next one knows the film for its own.
            found.films.push(name.clone());
            keep(&found, &list, folder)?;
        }
        let mut read = None;
        for time_s in std::iter::once(swing.time_s).chain(swing.others_s.iter().copied()).take(MOST_LOOKS) {
            read = read_part(&clip, &single, time_s, &swing, options, progress, cancel)?;
            if read.is_some() {
                break;
            }
            forget(&single);
        }
        let Some((cut, read)) = read else {
            found.dropped_s.push(swing.time_s);
            continue;
        };
        let from_s = clip.real_s(cut.first);
        // Two movements of one swing are one rep.
        let contact_s = read.events.get(&EventId::Contact).map(|c| from_s + c.time_s);
        let again =
            |r: &FoundRep| r.contact_s.zip(contact_s).is_some_and(|(a, b)| (a - b).abs() < SAME_SWING_S);
        if found.reps.iter().any(again) {
            forget(&single);
            continue;
        }
        let contact = read.events.get(&EventId::Contact);
        let met = contact.is_some_and(|c| matches!(c.source, Source::MotionAndSound | Source::MotionAndBall));
        found.reps.push(FoundRep {
            clip: folder.is_some().then_some(name),
            from_s,
            to_s: clip.real_s(cut.first + cut.pictures.saturating_sub(1)),
            lossless: cut.lossless,
            contact_s: contact.map(|c| from_s + c.time_s),
            contact_plus_minus_s: contact.map(|c| c.plus_minus_s),
            met,
            bats: read.hitter.bats,
            view: read.hitter.view,
            hitter_at: [swing.at.x, swing.at.y],
            hands: swing.speed,
            measures: read.measures,
            warnings: read.warnings,
        });
    }
    found.finished = true;
    // Films of a run before that are no rep of this one.
    let kept: Vec<String> = found.reps.iter().filter_map(|r| r.clip.clone()).collect();
    for name in found.films.iter().filter(|name| !kept.contains(name)) {
        forget(&place.join(name));
    }
    found.films = kept;
    keep(&found, &list, folder)?;
    Ok(found)
}

/// Cuts out a part about a moment and reads it; `None`: it shows no swing.
fn read_part(
    clip: &Clip,
    single: &Path,
    time_s: f64,
    swing: &RoughSwing,
    options: &ReadOptions,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<Option<(Extracted, Reading)>> {
    cancel.check()?;
    let [from, to] = [time_s - REP_BEFORE_S, time_s + REP_AFTER_S].map(|t| clip.frame_at_real(t));
    let cut = extract(clip, from, to, single)?;
    // Who is meant is known; a point on him may lie on nobody in the part's few pictures.
    // A film cut without loss begins at a whole picture, maybe long before: another swing may be in it.
    let about_s = Some(time_s - clip.real_s(cut.first));
    let own = ReadOptions { hitter: None, keypoints: None, about_s, ..options.clone() };
    match read::read(single, &own, progress, cancel) {
        Ok(read) => {
            let slow = !swing.is_sure() && is_slow(&read.reading, options.height_cm);
            let swings = !is_bunt(&read.reading, options.height_cm) && !slow;
            Ok(swings.then_some((cut, read.reading)))
        }
        Err(Error::NoSwing { .. } | Error::NoPerson { .. } | Error::TooShort { .. }) => Ok(None),
        Err(e) => Err(e),
    }
}

fn keep(found: &FoundReps, list: &Path, folder: Option<&Path>) -> Result<()> {
    if folder.is_none() {
        return Ok(());
    }
    let text = serde_json::to_vec_pretty(found)
        .map_err(|e| Error::Unwritable { path: list.to_owned(), cause: Cause::of(e) })?;
    write_file(list, &text)
}

fn all_there(found: &FoundReps, place: &Path) -> bool {
    found.reps.iter().all(|rep| rep.clip.as_ref().is_some_and(|name| place.join(name).is_file()))
}

/// A film under a name that would be used, which no run before has made, is not replaced.
fn refuse_strangers(place: &Path, stem: &str, before: Option<&FoundReps>) -> Result<()> {
    let ours: Vec<&str> = before.iter().flat_map(|f| &f.films).map(String::as_str).collect();
    let own_name = |name: &str| {
        let number = name.strip_prefix(&format!("{stem}_rep")).and_then(|n| n.strip_suffix(".mp4"));
        number.is_some_and(|n| n.len() >= 2 && n.bytes().all(|b| b.is_ascii_digit()))
    };
    for entry in fs::read_dir(place).map_err(|e| Error::reading(place, e))?.flatten() {
        let path = entry.path();
        let name = crate::types::file_name(&path);
        if own_name(&name) && !ours.contains(&name.as_str()) {
            let cause = messages::NOT_CUT_HERE.into();
            return Err(Error::Unwritable { path, cause });
        }
    }
    Ok(())
}

/// A swing ends with the hands about the shoulders, a bunt with them before the chest (common practice, no source; the
/// limit is an own choice on made-up sessions).
fn is_bunt(reading: &Reading, height_cm: Option<f64>) -> bool {
    let finish = reading.measures.get(&MeasureId::HandsOverShouldersAtFinish);
    finish.is_some_and(|m| match m.unit {
        Unit::Cm => height_cm.is_some_and(|h| m.value / h < BUNT_FINISH),
        _ => m.value < BUNT_FINISH,
    })
}

/// Hands that were slow at a coarse look and not heard to meet a ball must be fast in every picture: a waggle never is.
/// Body heights a second; own choice between a waggle's 2 and the 3 of a child's swing (own estimates).
fn is_slow(reading: &Reading, height_cm: Option<f64>) -> bool {
    let peak = reading.measures.get(&MeasureId::PeakHandSpeed);
    peak.is_some_and(|m| match m.unit {
        Unit::MetresPerS => height_cm.is_some_and(|h| 100.0 * m.value / h < SURE_REP_SPEED),
        _ => m.value < SURE_REP_SPEED,
    })
}

/// A part that is no rep leaves nothing behind.
fn forget(single: &Path) {
    for path in [single.to_owned(), store::sidecar_path(single)] {
        let _ = fs::remove_file(path);
    }
}
