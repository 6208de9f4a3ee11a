//! Reading and writing video: what can go wrong with a file's frames, and the warnings on the way.

use std::fmt::{Debug, Display};

// Reading.

pub(crate) const NOT_A_VIDEO: &str = "it is not a video file";
pub(crate) const ONLY_A_COVER: &str = "its only video track is a cover image";
pub(crate) const NO_VIDEO: &str = "it has no video track";
pub(crate) const NO_CLOCK: &str = "its video track has no time base";
pub(crate) const NO_TIMES: &str = "its frames carry no timestamps";
pub(crate) const STREAM_GONE: &str = "its stream is missing";
pub(crate) const MOSTLY_UNREADABLE: &str = "too much of it is unreadable";
pub(crate) const MOSTLY_DAMAGED: &str = "too much of it is damaged";
pub(crate) const NOTHING_DECODES: &str = "no frame can be decoded";
pub(crate) const TOO_SMALL: &str = "its frames are too small";
pub(crate) const CHANGED: &str = "the file has changed";
pub(crate) const FRAME_TOO_LARGE: &str = "the frame is too large";
pub(crate) const FRAME_UNLIKE_SCALER: &str = "the frame does not fit the scaler";
pub(crate) const OUT_OF_MEMORY: &str = "out of memory";
pub(crate) const CROP_OUTSIDE: &str = "the crop lies outside the frame";
pub(crate) const PLANE_MISSING: &str = "an image plane is missing";
pub(crate) const SOUND_UNREADABLE: &str =
    "The clip's audio is in a format this program cannot read, so it is left out.";

pub(crate) fn start_undecodable(lost: usize) -> String {
    format!("The first {lost} frames cannot be decoded and are left out.")
}

pub(crate) fn recorded_at_unused(rate_hz: f64, given_hz: f64) -> String {
    format!(
        "The clip plays at {rate_hz:.1} fps, so it cannot have been recorded at {given_hz} fps; --recorded-at is ignored."
    )
}

pub(crate) fn stopped_early(cause: &str) -> String {
    format!("Reading stopped before the end of the file: {cause}.")
}

pub(crate) fn no_capture_rate(hz: f64) -> String {
    format!("{hz} is not a frame rate; give frames per second, such as 240")
}

pub(crate) fn no_answer_for(seconds: u64) -> String {
    format!("no data arrived for {seconds} s")
}

pub(crate) fn damaged_pieces(pieces: usize) -> String {
    format!("{pieces} damaged pieces")
}

pub(crate) fn nothing_decodes_from(frame: usize) -> String {
    format!("no frame from number {frame} on can be decoded")
}

pub(crate) fn crop_unlike_frame(width: usize, height: usize, cut: &dyn Debug) -> String {
    format!("the crop {cut:?} does not fit a frame of {width}×{height}")
}

pub(crate) fn unknown_pixels(format: &dyn Debug, cause: &dyn Display) -> String {
    format!("pixel format {format:?} cannot be converted: {cause}")
}

// Sound.

pub(crate) const NO_AUDIO: &str = "it has no audio track";
pub(crate) const NO_AUDIO_DECODES: &str = "none of its audio can be decoded";
pub(crate) const SILENT: &str = "it is silent";

pub(crate) fn no_sample_rate(rate_hz: u32) -> String {
    format!("{rate_hz} Hz is not a usable sample rate; give 1000 to 192000")
}

// Cutting without re-encoding.

pub(crate) const NOT_IN_INDEX: &str = "its frames are not in the index";
pub(crate) const NO_ENTRY: &str = "the file cannot be sought to that frame";
pub(crate) const NO_TRACK_HEADER: &str = "no track header to write the display matrix to";

pub(crate) fn frames_lost(frames: usize, wanted: usize) -> String {
    format!("only {frames} of {wanted} frames were copied")
}

pub(crate) fn frame_moved(frame: usize, at_s: f64, expected_s: Option<f64>) -> String {
    match expected_s {
        Some(expected_s) => format!("frame {frame} is at {at_s:.4} s instead of {expected_s:.4} s"),
        None => format!("frame {frame}, at {at_s:.4} s, is one too many"),
    }
}

// Writing.

pub(crate) const NO_FRAMES: &str = "no frame was written";
pub(crate) const NO_ENCODER: &str =
    "this FFmpeg was built without libx264, the H.264 encoder; install a full build";

pub(crate) fn frame_unlike(got: (usize, usize), wanted: (usize, usize)) -> String {
    format!("got a frame of {}×{} instead of {}×{}", got.0, got.1, wanted.0, wanted.1)
}

pub(crate) fn too_many_bytes(bytes: u64) -> String {
    format!("the file would be {bytes} bytes, over the limit")
}

pub(crate) fn size_unwritable(width: usize, height: usize) -> String {
    format!("{width}×{height} cannot be encoded; give an even width and height, 16×16 to 4096×2304")
}

pub(crate) fn rate_unwritable(rate: (u32, u32)) -> String {
    format!("a frame rate of {}/{} cannot be encoded", rate.0, rate.1)
}

pub(crate) fn quality_unwritable(crf: impl Display) -> String {
    format!("quality {crf} is out of range; give 0 to 51")
}

pub(crate) fn rotation_unwritable(deg: impl Display) -> String {
    format!("a rotation of {deg}° is not a multiple of 90°")
}

pub(crate) fn sound_unwritable(rate_hz: u32) -> String {
    format!("audio at {rate_hz} Hz cannot be encoded; give 8000 to 96000 Hz")
}

// The name of a file to write.

pub(crate) const NO_ENDING: &str = "has no extension";

pub(crate) fn ends_in(ending: &str) -> String {
    format!("ends in .{ending}")
}

/// The extensions to choose from: ".png or .pdf".
pub fn endings(all: &[&str]) -> String {
    match all {
        [] => String::new(),
        [one] => format!(".{one}"),
        [most @ .., last] => format!(".{} or .{last}", most.join(", .")),
    }
}

// Checking what was written.

pub(crate) const INDEX_LAST: &str = "its index is not at the front";
pub(crate) const VIDEO_MISSING: &str = "its video track is missing";
pub(crate) const WRONG_TAGS: &str = "its color tags are wrong";
pub(crate) const SOUND_MISSING: &str = "its audio track is missing";
pub(crate) const EMPTY: &str = "it holds no frame";
pub(crate) const NO_KEYFRAME: &str = "it has no keyframe";

pub(crate) fn wrong_size(width: usize, height: usize) -> String {
    format!("its frames are {width}×{height}")
}

pub(crate) fn wrong_length(frames: usize, rate_hz: f64, duration_s: f64) -> String {
    format!("it plays {frames} frames at {rate_hz:.3} fps for {duration_s:.3} s")
}

pub(crate) fn frames_of(frames: usize, wanted: usize) -> String {
    format!("it holds {frames} of {wanted} frames")
}

pub(crate) fn keyframes_of(decoded: usize, all: usize) -> String {
    format!("{decoded} of {all} keyframes can be decoded")
}

pub(crate) fn last_frames_of(decoded: usize, last: usize) -> String {
    format!("{decoded} of the last {last} frames can be decoded")
}
