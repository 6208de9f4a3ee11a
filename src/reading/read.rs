//! One clip to one reading, in three stages that follow each other: find who moves and when ([`Found`]; or take what was
//! seen before), look closer where a draft says ([`Closer`]), read the swing ([`Reading`]).

use std::path::{Path, PathBuf};

use super::find::{Found, Looking};
use super::input::{assemble, real_times, with_input};
use super::settings::{settings, settings_line};
use crate::media::{Clip, OpenOptions};
use crate::messages;
use crate::store::{self, KeptRep, Key, MadeFrom, Observation, Sidecar};
use crate::swing::{self, Pins, Why};
use crate::tracking::keypoints::{self, Times};
use crate::types::{
    ByHand, CameraMotion, Cancel, ClipFacts, Error, Events, KnownHitter, KnownLength, Limits, NoSwing, Point,
    Progress, Reading, Result, SetPoint, Track, Warning,
};

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
    /// Points of the body that a person set. Default: those kept beside the clip.
    pub points: Vec<SetPoint>,
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
    check_known_length(clip.facts(), options.known_length)?;
    clip.check_clock()?;
    let content = store::content_hash(path)?;
    let mut sidecar = store::load(path)?;
    if sidecar.is_foreign(&content) {
        sidecar = Sidecar::default();
    }
    let given = options;
    let options = &with_kept(given, &sidecar);
    let key = Key { content, settings: settings(options)? };
    let kept = sidecar.seen.take().filter(|_| sidecar.key.as_ref() == Some(&key) && !options.fresh);
    let looking = Looking { clip: &clip, options, pins: &sidecar.pins, progress, cancel };
    let found = match kept {
        Some(kept) => Found::kept(kept),
        None => Found::find(&looking)?,
    };
    let closer = found.look_closer(&looking)?;
    let read = closer.read(&looking);
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
    // What led to no swing is not kept: the next run would go by it.
    let said = if read.is_ok() { given } else { &ReadOptions::default() };
    let (pins, by_hand) = (sidecar.pins, with_given(sidecar.by_hand, said));
    let saved = store::update(path, &content, |s| {
        (s.key, s.seen, s.reading) = (Some(key), Some(closer.seen()), kept);
        s.hitter = given.known_hitter.or(s.hitter);
        s.by_hand = with_given(std::mem::take(&mut s.by_hand), said);
        // Set meanwhile: the reading is from before.
        let same = s.pins == pins && s.by_hand == by_hand && s.hitter == options.known_hitter;
        s.made_from = made_from.filter(|_| same);
    });
    let mut reading = read?;
    let reported = match saved {
        Ok((_, set_aside)) => set_aside,
        Err(e) => vec![Warning::SidecarNotKept { error: e.into() }],
    };
    reading.warnings.splice(0..0, clip.warnings().iter().cloned().chain(reported));
    Ok(ReadClip { clip, reading })
}

/// What was asked for, with what a person said before where nothing is said now.
fn with_kept(given: &ReadOptions, kept: &Sidecar) -> ReadOptions {
    let by_hand = &kept.by_hand;
    ReadOptions {
        known_hitter: given.known_hitter.or(kept.hitter),
        hitter: given.hitter.or(by_hand.hitter_at),
        height_cm: given.height_cm.or(by_hand.height_cm),
        known_length: given.known_length.or(by_hand.known_length),
        points: if given.points.is_empty() { by_hand.points.clone() } else { given.points.clone() },
        ..given.clone()
    }
}

/// What is kept of a person's words from now on.
fn with_given(kept: ByHand, given: &ReadOptions) -> ByHand {
    ByHand {
        hitter_at: given.hitter.or(kept.hitter_at),
        height_cm: given.height_cm.or(kept.height_cm),
        known_length: given.known_length.or(kept.known_length),
        ..kept
    }
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
    let none = |cause: NoSwing| Error::NoSwing { path: path.to_owned(), cause };
    let options = with_kept(options, &sidecar);
    let seen = sidecar.seen.ok_or_else(|| none(NoSwing::NotFollowed))?;
    with_input(clip.facts(), &real_times(&clip), &seen, &sidecar.pins, &options, swing::why).map_err(none)
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
    check_known_length(&facts, options.known_length)?;
    let seen = Observation { track: points.track, warnings: points.warnings, ..Observation::default() };
    assemble(facts, &times, &seen, &Pins::new(), options)
}

/// Both ends of a known length lie in the picture, and it is one.
pub(super) fn check_known_length(facts: &ClipFacts, known: Option<KnownLength>) -> Result<()> {
    let Some(known) = known else { return Ok(()) };
    let bad = |cause: String| Err(Error::KnownLength { path: facts.path.clone(), cause: cause.into() });
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
