//! What `probe` reports about a file.

/// How the colors are coded; `matrix`: its standard, where the file tells it.
pub fn color(matrix: Option<&str>, wide_gamut: bool, full_range: bool) -> String {
    let color = match matrix {
        _ if wide_gamut => "wide color (HDR or BT.2020)",
        Some(matrix) => matrix,
        None => "color not tagged",
    };
    format!("{color}{}", if full_range { ", full range" } else { "" })
}

pub(crate) const REAL_TIME: &str = "plays in real time";
pub(crate) const SLOWED_PART: &str = "part of it plays slower than the rest";
pub(crate) const LOCATION: &str = "It contains the location where it was filmed, visible to anyone who gets the file. Videos made \
    here do not.";
pub(crate) const ENDS_TOO_SOON: &str = "The file is incomplete. Copy it from the phone again.";
/// As the cause of what follows.
pub const CUT_SHORT: &str = "the file is incomplete";
pub(crate) const SPOILT: &str = "the file is damaged";
pub(crate) const INTERLACED: &str =
    "It is interlaced: each stored frame holds two moments. It is read as one frame for each, half as sharp.";

pub(crate) const WHOLE_HALVES: &str =
    "It is marked as interlaced, but each stored frame is one moment, so it is read as it is.";

/// `cause`: a clause that begins small.
pub fn speed_changes(cause: &str) -> String {
    format!("No times can be measured in it: {cause}.")
}

pub(crate) fn stored(codec: &str, profile: &str, container: &str, pixels: &str, colour: &str) -> String {
    format!("stored as {codec} {profile} in {container}, {pixels}, {colour}")
}

/// A kind of file as people call it.
pub fn container(names: &str) -> &str {
    match names {
        n if n.contains("mp4") => "MP4 or MOV",
        n if n.contains("matroska") => "Matroska or WebM",
        "mpegts" => "an MPEG transport stream",
        other => other,
    }
}

/// A coding as its standard is called.
pub fn codec(name: &str) -> &str {
    match name {
        "h264" => "H.264",
        "hevc" => "HEVC",
        "vp9" => "VP9",
        "av1" => "AV1",
        other => other,
    }
}

pub(crate) fn read_as(width: usize, height: usize, pictures: usize, seconds: f64, rate: &str) -> String {
    format!("read as   {pictures} frames of {width}×{height}, upright, {seconds:.2} s at {rate} fps")
}

pub(crate) fn slow(factor: f64, capture_hz: f64) -> String {
    format!("recorded at {capture_hz:.0} fps, plays {factor:.2} times slower than real time")
}

pub fn sound(codec: Option<&str>) -> String {
    codec.map_or("without audio".to_owned(), |codec| format!("with audio ({codec})"))
}

pub(crate) fn other_tracks(n: usize) -> String {
    format!("{n} more data track{}, not read", if n == 1 { "" } else { "s" })
}

/// `which`: words of [`PRIVATE`].
pub fn private(which: &[&str]) -> String {
    format!("reveals {}", which.join(", "))
}

/// Location, date, device, words.
pub const PRIVATE: [&str; 4] = ["location", "date", "device", "names or notes"];

pub(crate) fn damaged(cause: &str) -> String {
    format!("It is damaged: {cause}.")
}

pub(crate) fn not_a_clip(cause: &dyn std::fmt::Display) -> String {
    format!("It cannot be read as a clip: {cause}.")
}

pub(crate) fn several_videos(n: usize) -> String {
    format!("It has {n} video tracks; the largest one that is not a still image is read.")
}

pub(crate) fn uneven(low_hz: f64, high_hz: f64) -> String {
    format!("Its frame rate varies from {low_hz:.0} to {high_hz:.0} fps; each frame is used at its own time.")
}

/// Of a damaged file.
pub fn pieces(n: usize) -> String {
    let pieces = if n == 1 { "1 piece".to_owned() } else { format!("{n} pieces") };
    format!("The file is damaged: {pieces} cannot be read properly.")
}

/// Of all `n` pictures.
pub fn left_out(lost: usize, n: usize) -> String {
    format!("{lost} of {n} frames could not be read and are left out; what happens in them is not measured.")
}

pub(crate) fn spoilt(pieces: usize) -> String {
    format!("{pieces} damaged pieces were found while decoding.")
}

pub(crate) fn strays(pictures: usize) -> String {
    format!("{pictures} decoded frames match no timestamp of the clip and are left out.")
}

pub(crate) fn resized(pictures: usize) -> String {
    format!("The frame size changes partway: {pictures} frames were scaled to the first one's.")
}

pub(crate) fn reshaped(pictures: usize) -> String {
    format!("The frame shape changes partway: {pictures} frames of another shape are left out.")
}
