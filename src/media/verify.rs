//! A made file is believed only after it was opened again: every packet and its time is read, every key picture is
//! decoded, and every picture of the last group, which shows that the file ends as it should. Decoding all the rest too
//! would cost a twelfth of making it; `check` does that.

use std::path::{Path, PathBuf};

use ffmpeg_next as ff;
use serde::Serialize;

use super::clip::{Clip, OpenOptions};
use super::ffmpeg;
use super::frames::{count_keys, count_pictures};
use super::mp4;
use crate::messages::media as messages;
use crate::types::Limits;

/// The facts of a written file, as read back from it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Written {
    #[serde(serialize_with = "crate::types::name_alone")]
    pub(crate) path: PathBuf,
    /// As shown (turned upright), px.
    pub width: usize,
    /// As it is shown, px.
    pub height: usize,
    /// Pictures that decode.
    pub frames: usize,
    /// From the first picture to the end of the last, s.
    pub duration_s: f64,
    pub(crate) rate_hz: f64,
    /// Size of the file.
    pub bytes: u64,
    /// Whether a track of sound is in it.
    pub has_sound: bool,
    /// `h264`.
    pub codec: String,
    /// `High`, as FFmpeg names it.
    pub profile: String,
    /// Ten times the level: 40 is level 4.0.
    pub level: i32,
}

/// What a file was meant to be.
pub(super) struct Wanted {
    /// As stored, px.
    pub width: usize,
    pub height: usize,
    pub frames: usize,
    pub rate: (u32, u32),
    pub sound: bool,
    pub threads: usize,
}

/// Read `path` back; what is not as wanted is told in words.
pub(super) fn verify(path: &Path, wanted: &Wanted) -> std::result::Result<Written, String> {
    let bytes = std::fs::metadata(path).map_err(|e| e.to_string())?.len();
    if !mp4::starts_fast(path).map_err(|e| e.to_string())? {
        return Err(messages::INDEX_LAST.into());
    }
    let source = ffmpeg::open_video(path, &Limits::default()).map_err(|e| e.to_string())?;
    let stored = stored_facts(&source).ok_or(messages::VIDEO_MISSING)?;
    let frames = decoded(path, source, wanted)?;
    if (stored.width, stored.height) != (wanted.width, wanted.height) {
        return Err(messages::wrong_size(stored.width, stored.height));
    }
    if !stored.tagged {
        return Err(messages::WRONG_TAGS.into());
    }
    let mut written = Written {
        path: path.to_owned(),
        width: stored.width,
        height: stored.height,
        frames,
        duration_s: frames as f64 * f64::from(wanted.rate.1) / f64::from(wanted.rate.0),
        rate_hz: f64::from(wanted.rate.0) / f64::from(wanted.rate.1),
        bytes,
        has_sound: stored.sound,
        codec: stored.codec,
        profile: stored.profile,
        level: stored.level,
    };
    // One picture is a valid file, although no clip.
    if frames > 1 {
        let clip = Clip::open(path, &OpenOptions::default()).map_err(|e| e.to_string())?;
        let facts = clip.facts();
        (written.width, written.height) = (facts.width, facts.height);
        let (rate_hz, duration_s) = (facts.rate_hz, facts.duration_s);
        // Times in the container are rounded to ticks of 0.1 ms or finer.
        if facts.frames != frames
            || (rate_hz / written.rate_hz - 1.0).abs() > 1e-2
            || (duration_s - written.duration_s).abs() > 2e-3 + 1.0 / written.rate_hz
        {
            return Err(messages::wrong_length(facts.frames, rate_hz, duration_s));
        }
        (written.rate_hz, written.duration_s) = (rate_hz, duration_s);
    }
    if written.has_sound != wanted.sound {
        return Err(messages::SOUND_MISSING.into());
    }
    Ok(written)
}

/// Decode as much as is decoded, and give the number of pictures.
fn decoded(path: &Path, source: ffmpeg::Source, wanted: &Wanted) -> std::result::Result<usize, String> {
    let text = |e: crate::types::Error| e.to_string();
    // One picture is a valid file, although no clip.
    if wanted.frames <= 1 {
        let frames = count_pictures(path, source, 1).map_err(text)?;
        return if frames == wanted.frames { Ok(frames) } else { Err(messages::EMPTY.into()) };
    }
    let keys = count_keys(path, source, wanted.threads).map_err(text)?;
    let clip = Clip::open(path, &OpenOptions::default()).map_err(text)?;
    let (frames, index) = (clip.facts().frames, &clip.inner().index);
    if frames != wanted.frames {
        return Err(messages::frames_of(frames, wanted.frames));
    }
    if keys != index.keys.len() {
        return Err(messages::keyframes_of(keys, index.keys.len()));
    }
    let last = index.keys.last().and_then(|key| index.find(key.pts)).ok_or(messages::NO_KEYFRAME)?;
    let mut pictures = clip.frames_with_threads(last, None, wanted.threads).map_err(text)?;
    let mut count = 0;
    while pictures.next_frame().map_err(text)?.is_some() {
        count += 1;
    }
    if last + count == frames { Ok(frames) } else { Err(messages::last_frames_of(count, frames - last)) }
}

struct Stored {
    width: usize,
    height: usize,
    tagged: bool,
    sound: bool,
    codec: String,
    profile: String,
    level: i32,
}

fn stored_facts(source: &ffmpeg::Source) -> Option<Stored> {
    let parameters = source.input.stream(source.stream)?.parameters();
    let codec = parameters.id().name().to_owned();
    // SAFETY: reads plain fields of live stream parameters; the crate has no getters for them.
    // `avcodec_profile_name` returns null or a constant string.
    unsafe {
        let raw = parameters.as_ptr();
        let name = ff::ffi::avcodec_profile_name((*raw).codec_id, (*raw).profile);
        let profile = if name.is_null() {
            "unknown".to_owned()
        } else {
            std::ffi::CStr::from_ptr(name).to_string_lossy().into_owned()
        };
        use ff::ffi::{AVColorPrimaries, AVColorRange, AVColorSpace, AVColorTransferCharacteristic};
        Some(Stored {
            width: usize::try_from((*raw).width).ok()?,
            height: usize::try_from((*raw).height).ok()?,
            tagged: (*raw).color_space == AVColorSpace::AVCOL_SPC_BT709
                && (*raw).color_range == AVColorRange::AVCOL_RANGE_MPEG
                && (*raw).color_primaries == AVColorPrimaries::AVCOL_PRI_BT709
                && (*raw).color_trc == AVColorTransferCharacteristic::AVCOL_TRC_BT709,
            sound: source.input.streams().best(ff::media::Type::Audio).is_some(),
            codec,
            profile,
            level: (*raw).level,
        })
    }
}
