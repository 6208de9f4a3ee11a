//! One clip to one reading: look (or take what was seen before), listen, then read the swing.

use std::path::{Path, PathBuf};

use super::settings::{settings, settings_line};
use super::track::{self, TrackingOptions};
use crate::media::{Clip, OpenOptions};
use crate::messages;
use crate::store::{self, KeptRep, Key, MadeFrom, Observation, Sidecar};
use crate::swing::{self, KnownBat, Pins, SwingInput, Why};
use crate::tracking::keypoints::{self, Keypoints, Times};
use crate::types::{
    BallFlight, BatAtRest, CameraMotion, Cancel, ClipFacts, Error, Events, KnownHitter, KnownLength, Limits,
    Onset, Point, Progress, Reading, Result, Track, Warning,
};

/// So many other moments are looked at where the likeliest shows no swing.
const MOST_OTHERS: usize = 3;
/// Sound is listened to at this rate, Hz.
const SOUND_RATE_HZ: u32 = 48_000;

/// How to read a clip.
#[derive(Debug, Clone, Default)]
pub struct ReadOptions {
    /// The rate the camera filmed at, Hz, where the file does not say it. Default: the file's word.
    pub recorded_at_hz: Option<f64>,
    /// A point on the hitter, px of the upright picture. Default: the one who swings is found.
    pub hitter: Option<Point>,
    /// About when the swing to read is, real s: for a film that is known to be cut about one. Default: the fastest.
    pub about_s: Option<f64>,
    /// Which swing of several is read, from 1 in time order. Default: the likeliest.
    pub swing: Option<usize>,
    /// Points of another estimator (COCO keypoint JSON) in place of the nets. Default: the nets.
    pub keypoints: Option<PathBuf>,
    /// Pictures a second of `keypoints` where they carry no times, Hz. Default: the clip's own times.
    pub keypoints_rate_hz: Option<f64>,
    /// Standing height of the hitter, cm. Default: lengths stay in body heights.
    pub height_cm: Option<f64>,
    /// Length of the bat, knob to tip, cm. Default: lengths stay in body heights, or go by `height_cm`.
    pub bat_cm: Option<f64>,
    /// Two points in the clip's first picture and the length between them. Default: none.
    pub known_length: Option<KnownLength>,
    /// Microphone to plate, m. Default: judged from how small the hitter looks.
    pub mic_distance_m: Option<f64>,
    /// Moments that another camera on the same swing sees better, on this clip's clock; a reading with such is not kept.
    /// Default: none.
    pub borrowed: Events,
    /// What a person says of the hitter; kept beside the clip. Default: what was said before, else found in the picture.
    pub known_hitter: KnownHitter,
    /// Look again even when the sidecar is good. Default: false.
    pub fresh: bool,
    /// How much is taken on. Default: [`Limits::default`].
    pub limits: Limits,
}

/// A clip and what was read from it.
#[derive(Debug, Clone)]
pub struct ReadClip {
    /// The opened clip.
    pub clip: Clip,
    /// What was measured of it.
    pub reading: Reading,
}

/// Read a clip; the reading is kept beside it and used again while clip and settings stay the same.
pub fn read(
    path: &Path,
    options: &ReadOptions,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<ReadClip> {
    let clip =
        Clip::open(path, &OpenOptions { recorded_at_hz: options.recorded_at_hz, limits: options.limits })?;
    check_known_length(clip.facts(), options)?;
    clip.check_clock()?;
    let key = Key { content: store::content_hash(path)?, settings: settings(options)? };
    let mut sidecar = store::load(path)?;
    if sidecar.is_foreign(&key.content) {
        sidecar = Sidecar::default();
    }
    let given = options;
    let options = &ReadOptions { known_hitter: options.known_hitter.or(sidecar.hitter), ..options.clone() };
    let known = sidecar.seen.take().filter(|_| sidecar.key.as_ref() == Some(&key) && !options.fresh);
    let mut seen = match known {
        Some(seen) => seen,
        None => see_swing(&clip, options, &sidecar.pins, progress, cancel)?,
    };
    if options.keypoints.is_none() && seen.ball.is_none() {
        seen.ball = see_ball(&clip, &seen, options, progress, cancel)?;
    }
    if options.bat_cm.is_some() && seen.bat.is_none() {
        seen.bat = see_bat(&clip, &seen, &sidecar.pins, options, progress, cancel)?;
    }
    let read = reading_from(&clip, &seen, &sidecar.pins, options);
    if !options.borrowed.is_empty() {
        let mut reading = read?;
        reading.warnings.splice(0..0, clip.warnings().iter().cloned());
        return Ok(ReadClip { clip, reading });
    }
    // What was seen is kept even when no swing is read from it: a pin may help, looking again would not.
    let kept = read.as_ref().ok().map(|reading| Reading {
        track: Track::default(),
        camera: CameraMotion::default(),
        scene: None,
        ..reading.clone()
    });
    let content = key.content.clone();
    let made_from = MadeFrom::of(path, settings_line(given)?);
    let pins = sidecar.pins;
    let saved = store::update(path, &content, |s| {
        (s.key, s.seen, s.reading) = (Some(key), Some(seen), kept);
        s.hitter = options.known_hitter.or(s.hitter);
        // Pinned meanwhile: the reading is from before.
        s.made_from = made_from.filter(|_| s.pins == pins);
    });
    let mut reading = read?;
    let reported = match saved {
        Ok((_, set_aside)) => set_aside,
        Err(e) => vec![Warning::new("sidecar_not_kept", messages::files::reading_not_kept(&e))],
    };
    reading.warnings.splice(0..0, clip.warnings().iter().cloned().chain(reported));
    Ok(ReadClip { clip, reading })
}

/// Every explanation of a clip's swing that was weighed, the one that counts first. The clip is read first, so that
/// what was seen is there.
pub fn why(path: &Path, options: &ReadOptions, progress: &dyn Progress, cancel: &Cancel) -> Result<Vec<Why>> {
    let clip =
        Clip::open(path, &OpenOptions { recorded_at_hz: options.recorded_at_hz, limits: options.limits })?;
    match read(path, options, progress, cancel) {
        Ok(_) | Err(Error::NoSwing { .. }) => (),
        Err(e) => return Err(e),
    }
    let sidecar = store::load(path)?;
    let none = |cause: String| Error::NoSwing { path: path.to_owned(), cause };
    let seen = sidecar.seen.ok_or_else(|| none(messages::swing_search::NOT_FOLLOWED.to_owned()))?;
    let options = ReadOptions { known_hitter: options.known_hitter.or(sidecar.hitter), ..options.clone() };
    let times: Vec<f64> = (0..clip.facts().frames).map(|i| clip.real_s(i)).collect();
    with_input(clip.facts(), &times, &seen, &sidecar.pins, &options, swing::why).map_err(|e| none(e.cause))
}

/// The reading kept beside a clip, without its track, where neither clip nor settings have changed since: nothing is
/// opened. `None`: it has to be `read`.
pub fn kept_reading(kept: &KeptRep, options: &ReadOptions) -> Option<Reading> {
    let settings = settings_line(options).ok().filter(|_| !options.fresh && options.borrowed.is_empty())?;
    let same = kept.made_from.is_some() && kept.made_from == MadeFrom::of(&kept.clip, settings);
    kept.reading.clone().filter(|_| same)
}

/// Read a swing from keypoints alone, without any picture.
pub fn read_keypoints(path: &Path, options: &ReadOptions) -> Result<Reading> {
    let rate = options.keypoints_rate_hz.map_or(Times::FromFile, Times::Rate);
    let points = keypoints::load(path, rate, options.hitter, &options.limits)?;
    let times = points.times_s;
    let (first, last) = (times.first().copied().unwrap_or(0.0), times.last().copied().unwrap_or(0.0));
    let step = (last - first) / (times.len().saturating_sub(1).max(1)) as f64;
    let rate_hz = if step > 0.0 { 1.0 / step } else { 0.0 };
    let facts = ClipFacts {
        path: path.to_owned(),
        width: points.width,
        height: points.height,
        frames: times.len(),
        duration_s: last - first + step,
        rate_hz,
        capture_rate_hz: rate_hz,
        slow_factor: 1.0,
    };
    check_known_length(&facts, options)?;
    let seen = Observation { track: points.track, warnings: points.warnings, ..Observation::default() };
    assemble(facts, &times, &seen, &Pins::new(), options)
}

/// Both ends of a known length lie in the picture, and it is one.
fn check_known_length(facts: &ClipFacts, options: &ReadOptions) -> Result<()> {
    let Some(known) = options.known_length else { return Ok(()) };
    let bad = |cause: String| Err(Error::KnownLength { path: facts.path.clone(), cause });
    if !(known.cm.is_finite() && known.cm > 0.0) {
        return bad(messages::swing_search::no_length(known.cm));
    }
    let (width, height) = (facts.width as f64, facts.height as f64);
    for p in [known.from, known.to] {
        if !(p.is_finite() && (0.0..=width).contains(&p.x) && (0.0..=height).contains(&p.y)) {
            return bad(messages::swing_search::point_outside(p.x, p.y, width, height));
        }
    }
    if known.from.distance(known.to) < 1.0 {
        return bad(messages::swing_search::POINTS_TOO_CLOSE.to_owned());
    }
    Ok(())
}

/// Looks at the likeliest moment; where no swing can be read from what is seen there, at the next ones. Without any the
/// first look stands.
fn see_swing(
    clip: &Clip,
    options: &ReadOptions,
    pins: &Pins,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<Observation> {
    let (first, others_s) = see(clip, options, progress, cancel)?;
    // A person who says when contact is says where to look too; where it was said before, nothing else is asked.
    if options.about_s.is_some()
        || options.swing.is_some()
        || reading_from(clip, &first, pins, options).is_ok()
    {
        return Ok(first);
    }
    for at_s in others_s.into_iter().take(MOST_OTHERS) {
        let about = ReadOptions { about_s: Some(at_s), ..options.clone() };
        match see(clip, &about, progress, cancel) {
            Ok((seen, _)) if reading_from(clip, &seen, pins, options).is_ok() => return Ok(seen),
            Ok(_) | Err(Error::NoSwing { .. } | Error::NoPerson { .. }) => (),
            Err(e) => return Err(e),
        }
    }
    Ok(first)
}

/// What is seen and heard, and when else the swing may be, real s.
fn see(
    clip: &Clip,
    options: &ReadOptions,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<(Observation, Vec<f64>)> {
    let mut others_s = Vec::new();
    let found = match &options.keypoints {
        Some(file) => {
            let times: Vec<f64> = (0..clip.facts().frames).map(|i| clip.real_s(i)).collect();
            let rate = options.keypoints_rate_hz.map_or(Times::Given(&times), Times::Rate);
            let mut points = keypoints::load(file, rate, options.hitter, &options.limits)?;
            fit_picture(&mut points, clip, file)?;
            for pose in &mut points.track.poses {
                pose.frame = clip.frame_at_real(pose.time_s);
            }
            Observation { track: points.track, warnings: points.warnings, ..Observation::default() }
        }
        None => {
            let found = track::track_hitter(
                clip,
                &TrackingOptions {
                    hitter: options.hitter,
                    about_s: options.about_s,
                    swing: options.swing.filter(|_| options.about_s.is_none()),
                    ..TrackingOptions::default()
                },
                progress,
                cancel,
            )?;
            others_s = found.others_s;
            Observation {
                track: found.track,
                camera: found.camera,
                warnings: found.warnings,
                lost: found.lost,
                repeated: found.repeated,
                scene: found.scene,
                ..Observation::default()
            }
        }
    };
    Ok((Observation { onsets: listen(clip)?, ..found }, others_s))
}

/// The ball about contact. `None` where no swing is read.
fn see_ball(
    clip: &Clip,
    seen: &Observation,
    options: &ReadOptions,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<Option<std::result::Result<BallFlight, String>>> {
    let Ok(reading) = reading_from(clip, seen, &Pins::new(), options) else { return Ok(None) };
    let ball = track::ball(clip, &reading, &seen.repeated, progress, cancel)?;
    Ok(Some(ball.ok_or_else(|| messages::swing_search::NO_FLIGHT.to_owned())))
}

/// Points of a picture of another size are brought to the clip's; of another shape they belong to another picture.
fn fit_picture(points: &mut Keypoints, clip: &Clip, file: &Path) -> Result<()> {
    let (w, h) = (points.width as f64, points.height as f64);
    let (clip_w, clip_h) = (clip.facts().width as f64, clip.facts().height as f64);
    if w < 1.0 || h < 1.0 || (w == clip_w && h == clip_h) {
        return Ok(());
    }
    let (across, down) = (clip_w / w, clip_h / h);
    if (across / down - 1.0).abs() > 0.02 {
        let cause = messages::keypoints::other_shape((w, h), (clip_w, clip_h));
        return Err(Error::Keypoints { path: file.to_owned(), cause });
    }
    for spot in points.track.poses.iter_mut().flat_map(|p| p.spots.iter_mut().flatten()) {
        spot.at = spot.at * across;
    }
    Ok(())
}

/// How long the bat looks in quiet pictures, from stance to just after the hands start. `None` where no swing
/// is read, which is said elsewhere.
fn see_bat(
    clip: &Clip,
    seen: &Observation,
    pins: &Pins,
    options: &ReadOptions,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<Option<std::result::Result<BatAtRest, String>>> {
    let Ok(reading) = reading_from(clip, seen, pins, options) else { return Ok(None) };
    track::bat(clip, &reading, progress, cancel).map(Some)
}

/// Sudden sounds. A clip stored slower than life carries no sound that keeps time with the swing.
pub(super) fn listen(clip: &Clip) -> Result<Vec<Onset>> {
    let slow = clip.facts().slow_factor;
    if (slow - 1.0).abs() > 0.01 {
        return Ok(Vec::new());
    }
    Ok(clip.sound(SOUND_RATE_HZ)?.map(|s| swing::onsets(&s, slow)).unwrap_or_default())
}

fn reading_from(clip: &Clip, seen: &Observation, pins: &Pins, options: &ReadOptions) -> Result<Reading> {
    let times: Vec<f64> = (0..clip.facts().frames).map(|i| clip.real_s(i)).collect();
    assemble(clip.facts().clone(), &times, seen, pins, options)
}

/// Puts together all that is known of a clip's swing and hands it on.
fn with_input<T>(
    facts: &ClipFacts,
    times: &[f64],
    seen: &Observation,
    pins: &Pins,
    options: &ReadOptions,
    then: impl FnOnce(&SwingInput) -> T,
) -> T {
    let shown = |i: &usize| seen.lost.binary_search(i).is_err() && seen.repeated.binary_search(i).is_err();
    let moments: Vec<f64> = (0..times.len()).filter(shown).filter_map(|i| times.get(i).copied()).collect();
    let input = SwingInput {
        pins,
        borrowed: &options.borrowed,
        camera: &seen.camera.to_steady,
        onsets: &seen.onsets,
        height_cm: options.height_cm,
        bat: match (options.bat_cm, &seen.bat) {
            (Some(bat_cm), Some(Ok(at_rest))) => Some(KnownBat { at_rest: *at_rest, bat_cm }),
            _ => None,
        },
        known_length: options.known_length,
        ball: seen.ball.as_ref().and_then(|b| b.as_ref().ok()),
        mic_distance_m: options.mic_distance_m,
        point_wander: if options.keypoints.is_some() { 0.0 } else { swing::NET_WANDER },
        holes: &swing::holes(&moments),
        // A picture repeated was taken up to a step before it is shown, and so were those about it.
        time_doubt_s: if seen.repeated.is_empty() { 0.0 } else { 1.0 / facts.capture_rate_hz.max(1.0) },
        rate_told: options.recorded_at_hz.is_some(),
        known_hitter: KnownHitter { ball: None, ..options.known_hitter },
        ..SwingInput::new(&seen.track, times, facts.width.max(facts.height) as f64)
    };
    then(&input)
}

fn assemble(
    facts: ClipFacts,
    times: &[f64],
    seen: &Observation,
    pins: &Pins,
    options: &ReadOptions,
) -> Result<Reading> {
    let swing = with_input(&facts, times, seen, pins, options, swing::read_swing)
        .map_err(|e| Error::NoSwing { path: facts.path.clone(), cause: e.cause })?;
    let mut warnings: Vec<Warning> = seen.warnings.iter().cloned().chain(swing.warnings).collect();
    if options.bat_cm.is_some() {
        let why = match &seen.bat {
            Some(Ok(_)) => None,
            Some(Err(why)) => Some(why.as_str()),
            None => Some(messages::swing_search::NO_PICTURES),
        };
        warnings.extend(
            why.map(|why| Warning::new("bat_not_measured", messages::swing_search::bat_not_measured(why))),
        );
    }
    Ok(Reading {
        schema: Reading::SCHEMA.to_owned(),
        clip: facts,
        hitter: swing.hitter,
        scale: swing.scale,
        events: swing.events,
        measures: swing.measures,
        absent: swing.absent,
        warnings,
        track: seen.track.clone(),
        camera: seen.camera.clone(),
        ball: options.known_hitter.ball,
        scene: seen.scene.clone(),
    })
}
