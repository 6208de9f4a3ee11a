//! What `check` reports about a file: one sentence each, what is wrong and what it means.

pub(crate) const PLAYS: &str = "Plays on phones.";
pub(crate) const PLAYS_MOST: &str = "Plays on most phones; some phones or messengers may refuse it:";
pub(crate) const PLAYS_NOT: &str = "Will not play on many phones:";
pub(crate) const WAY_OUT: &str = "pair makes videos that play on phones; re-encode a file from elsewhere as H.264, 8-bit \
    4:2:0, BT.709, level 4.0, 30 fps, with AAC audio and the index first.";

/// As the cause of damage.
pub const CUT_SHORT: &str = "it is incomplete";
pub(crate) const INDEX_LAST: &str =
    "Its index comes after the video data, so it starts to play only when all of it has arrived.";
pub(crate) const IN_PIECES: &str =
    "It is fragmented, as for live streaming; some messengers and gallery apps reject that.";
pub(crate) const NO_SOUND: &str = "It has no audio.";
pub(crate) const B_FRAMES: &str = "It uses B-frames, stored in a different order than they are shown; some messengers on Android reject that.";
pub(crate) const INTERLACED: &str = "It is interlaced, so phones show combing where something moves.";
pub(crate) const FULL_RANGE: &str =
    "Its colors are full range; some players show them with too much contrast.";
pub(crate) const UNTAGGED: &str = "Its colors are not tagged; players guess, and may guess wrong.";
pub(crate) const TURNED: &str = "Players have to rotate it; phones do, some programs on computers do not.";
pub(crate) const UNEVEN: &str = "Its frame rate varies; some players stutter or lose audio sync.";
pub(crate) const NO_TIMES: &str = "It has fewer than two frames with a timestamp, so it is not a clip.";

/// Bytes as people write them: "16 MB", "600 KB", "8.2 MB". Thousands, not 1024s.
pub fn bytes(bytes: u64) -> String {
    let (value, unit) = if bytes < 1_000_000 { (1e3, "KB") } else { (1e6, "MB") };
    let value = bytes as f64 / value;
    let tenths = (value * 10.0).round() / 10.0;
    if unit == "KB" { format!("{} KB", value.round()) } else { format!("{tenths} MB") }
}

/// The same, rounded up so that the size given is enough.
pub fn bytes_up(bytes: u64) -> String {
    let step = if bytes < 1_000_000 { 1_000 } else { 100_000 };
    self::bytes(bytes.div_ceil(step) * step)
}

pub(crate) fn container(kind: &str) -> String {
    format!("It is a {kind} file, not an MP4.")
}

pub(crate) fn codec(codec: &str) -> String {
    format!("Its video is {codec}; every phone plays H.264.")
}

pub(crate) fn profile(profile: &str) -> String {
    format!("Its H.264 profile is {profile}; phones play Baseline, Main and High.")
}

/// `number`: ten times the level; 0 when even the highest is too low.
pub fn level(number: i32, width: usize, height: usize, rate_hz: Option<f64>) -> String {
    let rate = rate_hz.map_or_else(String::new, |hz| format!(" at {hz:.0} fps"));
    let name =
        if number > 0 { format!("level {:.1}", f64::from(number) / 10.0) } else { "no level".to_owned() };
    format!("It needs a decoder of {name} ({width}×{height}{rate}); every phone supports level 4.0.")
}

pub(crate) fn level_untrue(claimed: &str, needed: &str) -> String {
    format!("It claims level {claimed} but needs level {needed}; a strict decoder rejects it.")
}

pub(crate) fn bit_rate(peak_bits_s: f64, level: &str, most_bits_s: u32) -> String {
    let mbit = |v: f64| v / 1e6;
    format!(
        "Its bit rate peaks at {:.1} Mbit/s; level {level} allows {:.1}.",
        mbit(peak_bits_s),
        mbit(f64::from(most_bits_s))
    )
}

pub(crate) fn pixels(pixels: &str) -> String {
    format!("Its pixel format is {pixels}; phones play 8-bit 4:2:0 (yuv420p).")
}

pub(crate) fn odd_size(width: usize, height: usize) -> String {
    format!("Its size, {width}×{height}, is odd; phones need even numbers.")
}

pub(crate) fn matrix(matrix: &str) -> String {
    format!("Its colors are {matrix}, not bt709; some players show them slightly off.")
}

pub(crate) fn hdr(matrix: &str) -> String {
    format!("It is HDR ({matrix}); phones without HDR show pale or dark colors.")
}

pub(crate) fn rate(hz: f64) -> String {
    format!("It plays at {hz:.0} fps; every phone and messenger supports 30, most phones 60.")
}

pub fn sound(codec: &str) -> String {
    format!("Its audio is {codec}; every phone plays AAC.")
}

pub(crate) fn damaged(cause: &str) -> String {
    format!("Not all of it can be decoded ({cause}).")
}

/// `fits`: the smallest common limit it keeps; `over`: the largest it breaks.
pub fn size(bytes: u64, fits: Option<u64>, over: Option<u64>) -> String {
    let it = self::bytes(bytes);
    let name = self::bytes;
    match (fits, over) {
        (Some(fits), None) => format!("{it}: fits a {} limit, the smallest common one.", name(fits)),
        (Some(fits), Some(over)) => {
            format!("{it}: fits a messenger limit of {}, but not one of {}.", name(fits), name(over))
        }
        (None, _) => format!("{it}: too large for many messengers; 16 MB is a common limit."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_said_in_thousands() {
        assert_eq!(
            [600_000, 999_499, 3_500_000, 16_000_000, 8_240_000].map(bytes),
            ["600 KB", "999 KB", "3.5 MB", "16 MB", "8.2 MB"]
        );
        assert_eq!([1_000_001, 840_200].map(bytes_up), ["1.1 MB", "841 KB"]);
        assert!(size(5_000_000, Some(16_000_000), Some(3_500_000)).contains("not one of 3.5 MB"));
    }
}
