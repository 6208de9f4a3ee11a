//! What a file is and what this program makes of it, without looking for a swing.

use std::path::Path;

use ffmpeg_next as ff;
use serde::Serialize;

use super::clip::{Clip, OpenOptions};
use super::ffmpeg;
use super::playable::{PlayFacts, read_facts};
use super::repeats::RepeatMeter;
use crate::types::{Damage, Error, Result, SpeedChange, Warning};

/// A file as it is stored, and as it is read. Holds no path, so that it can be shown to anyone.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Probed {
    /// `swingpair.probe/1`.
    pub schema: &'static str,
    pub(crate) stored: PlayFacts,
    pub(crate) tracks: Tracks,
    /// `None` where it cannot be read as a clip; a finding says why.
    pub read: Option<ReadAs>,
    /// What the file tells of its making besides pictures and sound.
    pub private: Vec<Private>,
    /// What its owner should know, most urgent first.
    pub findings: Vec<Warning>,
}

/// How many tracks of each kind a file holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Tracks {
    pub(crate) video: usize,
    /// Tracks of sound.
    pub sound: usize,
    /// Timed data, subtitles, attachments.
    pub other: usize,
}

/// What this program makes of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ReadAs {
    /// Upright, with square pixels, px.
    pub width: usize,
    /// Of the upright picture, px.
    pub height: usize,
    /// Shown pictures by the index of their times.
    pub pictures: usize,
    /// Playback, s.
    pub duration_s: f64,
    /// Measured from the pictures' own times, Hz.
    pub rate_hz: f64,
    /// The rate the camera filmed at, Hz.
    pub capture_rate_hz: f64,
    /// How many times slower than life it plays; 1 = real time.
    pub slow_factor: f64,
}

/// Something that is said about who filmed, where, when or with what.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Private {
    /// Where it was filmed.
    Location,
    /// When it was filmed.
    Date,
    /// With what it was filmed.
    Device,
    /// A title, name or comment.
    Words,
}

/// Look at `path`; every picture is decoded once, so that what is lost can be told.
pub fn probe(path: &Path, options: &OpenOptions) -> Result<Probed> {
    let stored = read_facts(path, &options.limits)?;
    let source = ffmpeg::open_video(path, &options.limits)?;
    let mut tracks = Tracks::default();
    let mut private = Vec::new();
    private_tags(source.input.metadata(), &mut private);
    for stream in source.input.streams() {
        match stream.parameters().medium() {
            // A cover is no film.
            ff::media::Type::Video
                if !stream.disposition().contains(ff::format::stream::Disposition::ATTACHED_PIC) =>
            {
                tracks.video += 1;
            }
            ff::media::Type::Audio => tracks.sound += 1,
            _ => tracks.other += 1,
        }
        private_tags(stream.metadata(), &mut private);
    }
    drop(source);
    private.sort_unstable();
    private.dedup();
    let mut findings = Vec::new();
    let mut add = |warning: Warning| findings.push(warning);
    let (mut interlaced, mut whole_halves) = (stored.interlaced, false);
    let read = match Clip::open(path, options) {
        Ok(clip) => {
            whole_halves = interlaced && !clip.inner().interlaced;
            interlaced = clip.inner().interlaced;
            let f = clip.facts();
            in_the_pictures(&clip)?.into_iter().chain(clip.warnings().iter().cloned()).for_each(&mut add);
            if let Some(why) = clip.slowed_part() {
                add(Warning::SpeedChanges { why });
            }
            Some(ReadAs {
                width: f.width,
                height: f.height,
                pictures: f.frames,
                duration_s: f.duration_s,
                rate_hz: f.rate_hz,
                capture_rate_hz: f.capture_rate_hz,
                slow_factor: f.slow_factor,
            })
        }
        Err(e @ (Error::TooShort { .. } | Error::NotVideo { .. } | Error::Decode { .. })) => {
            add(Warning::NotAClip { error: e.into() });
            None
        }
        Err(e) => return Err(e),
    };
    if let Some(cause) = stored.damage.clone() {
        add(Warning::Damaged { by: Damage::Stored { cause } });
    }
    if interlaced {
        add(Warning::Interlaced);
    }
    if whole_halves {
        add(Warning::WholeHalves);
    }
    if tracks.video > 1 {
        add(Warning::SeveralVideos { videos: tracks.video });
    }
    if private.contains(&Private::Location) {
        add(Warning::Location);
    }
    Ok(Probed { schema: "swingpair.probe/1", stored, tracks, read, private, findings })
}

/// What only the pictures themselves tell: which are lost, which repeat the one before.
fn in_the_pictures(clip: &Clip) -> Result<Vec<Warning>> {
    const FIT: (usize, usize) = (640, 640);
    let mut frames = clip.frames(0, Some(FIT))?;
    let mut meter = RepeatMeter::default();
    loop {
        match frames.next_frame() {
            Ok(Some(picture)) => meter.see(picture.index, &picture.frame),
            Ok(None) => break,
            Err(e @ Error::Decode { .. }) => {
                return Ok(vec![Warning::Damaged { by: Damage::Undecodable { error: e.into() } }]);
            }
            Err(e) => return Err(e),
        }
    }
    let mut warnings = frames.warnings();
    let repeats = meter.found();
    if repeats.speed_changes {
        warnings.push(Warning::SpeedChanges { why: SpeedChange::Repeats });
    } else if !repeats.pictures.is_empty() {
        let (pictures, of) = (repeats.pictures.len(), clip.facts().frames);
        warnings.push(Warning::PicturesRepeat { pictures, of });
    }
    Ok(warnings)
}

/// Keys that phones and cameras write, from the facts on phone footage and FFmpeg's own names for the boxes `©xyz`,
/// `loci`, `©day`, `©mak`, `©mod`; the rest common practice, no source.
fn private_tags(metadata: ff::DictionaryRef, private: &mut Vec<Private>) {
    for (key, value) in metadata.iter() {
        if value.trim().is_empty() {
            continue;
        }
        let key = key.to_ascii_lowercase();
        let has = |words: &[&str]| words.iter().any(|w| key.contains(w));
        if has(&["location", "iso6709", "gps", "©xyz", "loci"]) {
            private.push(Private::Location);
        } else if has(&["date", "creation_time", "©day"]) {
            private.push(Private::Date);
        } else if has(&["make", "model", "manufacturer", "software", "android.version"]) {
            private.push(Private::Device);
        } else if has(&[
            "title",
            "artist",
            "author",
            "comment",
            "description",
            "copyright",
            "album",
            "keywords",
        ]) {
            private.push(Private::Words);
        }
    }
}
