//! Two clips of one swing, lined up by what both heard and saw.

use super::params::LONGEST_SEEN_S;
use std::path::Path;

use super::cause::read;
use super::read::{ReadClip, ReadOptions};
use crate::media::{Clip, OpenOptions};
use crate::messages as all_words;
use crate::messages::angles as messages;
use crate::pairing::angles::{Against, SOUND_HZ, SoundDelays, against, agreed, borrowed, line_up};
use crate::store;
use crate::swing::SoundDelay;
use crate::types::{
    Angles, Cancel, Error, EventId, LinedUpBy, Measure, MeasureId, Progress, Result, Sound, Unheard, Warning,
    file_name,
};

/// How two angles are lined up.
#[derive(Debug, Clone, Default)]
pub struct AnglesOptions {
    /// How each is read.
    pub reads: [ReadOptions; 2],
    /// Microphone to plate, m. Default: judged from how small the hitter looks.
    pub distances_m: Option<[f64; 2]>,
    /// Leave the picture out. Default: false.
    pub sound_alone: bool,
}

/// Two clips lined up.
#[derive(Debug, Clone)]
pub struct LinedUp {
    /// The offset, and what speaks for it.
    pub angles: Angles,
    /// What was read of both; `None` where the picture was left out or shows no swing.
    pub clips: Option<[ReadClip; 2]>,
    /// What is to be known of it.
    pub warnings: Vec<Warning>,
}

/// Line two clips of one swing up. Sound that tells nothing, or several things, is replaced by plant and contact as
/// seen; where those are not in both either, it is [`Error::NotLinedUp`].
pub fn line_up_clips(
    paths: [&Path; 2],
    options: &AnglesOptions,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<LinedUp> {
    if store::content_hash(paths[0])? == store::content_hash(paths[1])? {
        return Err(Error::Usage(messages::given_twice(paths[1])));
    }
    let mut reads = options.reads.clone();
    for (read, i) in reads.iter_mut().zip(0..) {
        read.mic_distance_m = options.distances_m.map(|d| d[i]).or(read.mic_distance_m);
    }
    let mut warnings = Vec::new();
    let open = |i: usize| {
        let read: &ReadOptions = &reads[i];
        Clip::open(paths[i], &OpenOptions { recorded_at_hz: read.recorded_at_hz, limits: read.limits })
    };
    let opened = [open(0)?, open(1)?];
    let long = opened.iter().any(|c| c.facts().duration_s / c.facts().slow_factor > LONGEST_SEEN_S);
    if long && !options.sound_alone {
        warnings.push(Warning::NotLookedAt);
    }
    let clips = if long || options.sound_alone {
        None
    } else {
        match both(paths, &reads, progress, cancel) {
            Ok(clips) => Some(clips),
            Err(
                e @ (Error::NoSwing { .. }
                | Error::NoPerson { .. }
                | Error::Damaged { .. }
                | Error::NobodyThere { .. }),
            ) => {
                warnings.push(Warning::NoSwingToCheck { error: e.into() });
                None
            }
            Err(e) => return Err(e),
        }
    };
    if let Some([a, b]) = &clips {
        let against = against([&a.reading, &b.reading]);
        if against.are_two_swings() {
            return Err(Error::NotLinedUp { cause: two_swings(paths, &against).into() });
        }
        warnings.extend(doubts(paths, &against));
    }
    let ways = ways(options.distances_m, clips.as_ref(), &reads);
    let near = |i: usize| {
        let contact = clips.as_ref()?[i].reading.events.get(&EventId::Contact)?;
        Some(contact.time_s + ways.delays_s[i])
    };
    let heard = heard(&opened)?.and_then(|[a, b]| line_up([&a, &b], [near(0), near(1)]));
    let events = clips.as_ref().map(|[a, b]| [&a.reading.events, &b.reading.events]);
    let (angles, unheard) = agreed(heard, ways, events);
    let names = paths.map(file_name);
    let Some(angles) = angles else {
        let why = unheard.map(|u| messages::unheard(&u, &names)).unwrap_or_default();
        let cause = messages::not_lined_up(&why, clips.is_some());
        return Err(Error::NotLinedUp { cause: cause.into() });
    };
    warnings.extend(said(&angles, unheard, names));
    Ok(LinedUp { angles, clips, warnings })
}

/// Both clips read, each with the moments that the other sees better; the sound is already in those read before.
pub fn read_two_angles(
    paths: [&Path; 2],
    options: &AnglesOptions,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<([ReadClip; 2], Angles, Vec<Warning>)> {
    let options = AnglesOptions { sound_alone: false, ..options.clone() };
    let lined_up = line_up_clips(paths, &options, progress, cancel)?;
    let LinedUp { angles, clips, warnings } = lined_up;
    let clips = match clips {
        Some(clips) => clips,
        // The sound lined them up; here the swing is wanted too, and why it is not there.
        None => both(paths, &options.reads, progress, cancel)?,
    };
    let [a, b] = &clips;
    let views = [a.reading.hitter.view, b.reading.hitter.view];
    let taken = borrowed([&a.reading.events, &b.reading.events], views, &angles.offset);
    let mut reads = options.reads.clone();
    for (read, taken) in reads.iter_mut().zip(taken) {
        read.borrowed = taken;
        read.fresh = false;
    }
    Ok((both(paths, &reads, progress, cancel)?, angles, warnings))
}

/// Why the two cannot be one swing.
fn two_swings(paths: [&Path; 2], against: &Against) -> String {
    let view = against.one_view.map(all_words::view).unwrap_or_default();
    messages::two_swings(&paths.map(file_name), view, &messages::unlike(&unlike(against)))
}

/// What is to be said of two that may not be one swing.
fn doubts(paths: [&Path; 2], against: &Against) -> Vec<Warning> {
    let mut out = Vec::new();
    let clips = paths.map(file_name);
    if let Some(view) = against.one_view {
        out.push(Warning::SameView { clips: clips.clone(), view });
    }
    if against.other_side {
        out.push(Warning::SidesDiffer { angles: Some(clips.clone()) });
    }
    if !against.unlike.is_empty() {
        out.push(Warning::MovesUnlike { clips, measures: unlike(against) });
    }
    out
}

/// The measures that are farthest apart, with both values.
fn unlike(against: &Against) -> Vec<(MeasureId, [Measure; 2])> {
    against.unlike.iter().take(2).map(|u| (u.measure, u.values)).collect()
}

fn both(
    paths: [&Path; 2],
    reads: &[ReadOptions; 2],
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<[ReadClip; 2]> {
    Ok([read(paths[0], &reads[0], progress, cancel)?, read(paths[1], &reads[1], progress, cancel)?])
}

/// The two sounds; what keeps one from being a witness is inside.
fn heard(clips: &[Clip; 2]) -> Result<std::result::Result<[Sound; 2], Unheard>> {
    let mut sounds = Vec::new();
    for (clip, number) in clips.iter().zip(0..) {
        if (clip.facts().slow_factor - 1.0).abs() > 0.01 {
            return Ok(Err(Unheard::SlowMotion { clip: number }));
        }
        match clip.sound(SOUND_HZ)? {
            Some(sound) => sounds.push(sound),
            None => return Ok(Err(Unheard::NoSound { clip: number })),
        }
    }
    <[Sound; 2]>::try_from(sounds).map(Ok).map_err(|_| Error::WorkerLost)
}

fn ways(
    distances_m: Option<[f64; 2]>,
    clips: Option<&[ReadClip; 2]>,
    reads: &[ReadOptions; 2],
) -> SoundDelays {
    let reported = || Some([reads[0].mic_distance_m?, reads[1].mic_distance_m?]);
    match (distances_m.or_else(reported), clips) {
        (Some(distances_m), _) => SoundDelays::given(distances_m),
        (None, Some(clips)) => {
            let judged = [0, 1].map(|i| {
                let (reading, clip) = (&clips[i].reading, clips[i].clip.facts());
                let long_side_px = clip.width.max(clip.height) as f64;
                let height_px = reading.scale.body_height_px;
                SoundDelay::new(reads[i].mic_distance_m, height_px, reads[i].height_cm, long_side_px)
            });
            SoundDelays {
                delays_s: judged.map(|j| j.delay_s),
                plus_minus_s: judged[0].plus_minus_s.hypot(judged[1].plus_minus_s),
                given: false,
            }
        }
        (None, None) => {
            SoundDelays { delays_s: [0.0; 2], plus_minus_s: SoundDelays::NOT_KNOWN_S, given: false }
        }
    }
}

fn said(angles: &Angles, unheard: Option<Unheard>, clips: [String; 2]) -> Vec<Warning> {
    let mut out = Vec::new();
    match (angles.by, unheard) {
        (LinedUpBy::Picture, Some(why)) => {
            out.push(Warning::LinedUpByPicture { clips, why, plus_minus_s: angles.offset.plus_minus_s });
        }
        (LinedUpBy::Picture, None) => {
            out.push(Warning::SoundOverruled);
        }
        (LinedUpBy::Sound | LinedUpBy::SoundAndPicture, _) => {
            let against = angles.events.iter().filter(|e| e.agrees == Some(false));
            out.extend(against.map(|e| Warning::PictureDisagrees { event: e.event }));
        }
    }
    if angles.by == LinedUpBy::SoundAndPicture {
        out.push(Warning::LoneSound);
    }
    if angles.heard.as_ref().is_some_and(|h| h.other_places) && angles.by != LinedUpBy::Picture {
        out.push(Warning::OtherPlaces);
    }
    out
}
