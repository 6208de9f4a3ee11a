//! What a player has to know of a file, read from it.

use std::path::Path;

use ffmpeg_next as ff;
use serde::Serialize;

use super::super::clip::{Clip, OpenOptions};
use super::super::ffmpeg::{self, Read, Source};
use super::super::frames::count_pictures;
use super::super::mp4;
use crate::messages::playable as messages;
use crate::types::{Bound, Error, Limits, Result};

/// A file as its player meets it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlayFacts {
    /// Names of the container's kind, with commas between (`mov,mp4,m4a,…`).
    pub container: String,
    pub(crate) codec: String,
    /// As FFmpeg names it (`High`).
    pub profile: String,
    /// Ten times the level the file claims: 40 is level 4.0. 0 or less: none.
    pub level: i32,
    /// As stored, px.
    pub width: usize,
    /// As stored, px.
    pub height: usize,
    /// How pixels are kept (`yuv420p`).
    pub pixels: String,
    /// How colours are coded, as tagged (`bt709`).
    pub matrix: Option<String>,
    /// BT.2020 colours, or a curve for high dynamic range.
    pub wide_gamut: bool,
    /// Tagged as full range (0–255).
    pub full_range: bool,
    pub(crate) interlaced: bool,
    /// Players have to turn or mirror it.
    pub turned: bool,
    /// Pictures that decode.
    pub frames: usize,
    /// From the first picture to the end of the last, s.
    pub duration_s: f64,
    /// Mean over the file, Hz; `None` with fewer than two pictures that carry times.
    pub rate_hz: Option<f64>,
    /// Every picture stays equally long, to a tick of the clock.
    pub constant_rate: bool,
    /// Pictures are stored in another order than they are shown (B-frames).
    pub reordered: bool,
    /// Whole MP4: the index comes before the pictures.
    pub index_first: Option<bool>,
    /// MP4: pictures come in pieces with an index each.
    pub in_pieces: bool,
    /// Codec of the first sound; `None` without sound.
    pub sound: Option<String>,
    /// Size of the file.
    pub bytes: u64,
    /// Video bits in the heaviest second.
    pub peak_bits_s: f64,
    /// Why not every picture decodes, if so.
    pub damage: Option<String>,
}

/// One packet: when shown and how large.
struct Piece {
    pts: i64,
    bytes: usize,
}

pub(in super::super) fn read(path: &Path, limits: &Limits) -> Result<PlayFacts> {
    let mut source = ffmpeg::open_video(path, limits)?;
    let bytes = std::fs::metadata(path).map_err(|e| Error::reading(path, e))?.len();
    let container = source.input.format().name().to_owned();
    let is_mp4 = container.split(',').any(|c| c == "mp4");
    let unreadable = |e: std::io::Error| Error::reading(path, e);
    let cut_short = is_mp4 && mp4::cut_short(path).map_err(unreadable)?;
    let index_first = (is_mp4 && !cut_short).then(|| mp4::starts_fast(path)).transpose();
    let in_pieces = is_mp4 && mp4::in_pieces(path).map_err(unreadable)?;
    let sound =
        source.input.streams().best(ff::media::Type::Audio).map(|s| s.parameters().id().name().to_owned());
    let mut facts = PlayFacts {
        container,
        codec: String::new(),
        profile: "unknown".to_owned(),
        level: 0,
        width: 0,
        height: 0,
        pixels: "unknown".to_owned(),
        matrix: None,
        wide_gamut: false,
        full_range: false,
        interlaced: false,
        turned: false,
        frames: 0,
        duration_s: 0.0,
        rate_hz: None,
        constant_rate: true,
        reordered: false,
        index_first: index_first.map_err(unreadable)?,
        in_pieces,
        sound,
        bytes,
        peak_bits_s: 0.0,
        damage: None,
    };
    stored(&source, &mut facts);
    let tick_s = f64::from(source.time_base);
    timed(&pieces(path, &mut source)?, tick_s, &mut facts);
    drop(source);
    match ffmpeg::open_video(path, limits).and_then(|source| count_pictures(path, source, 2)) {
        Ok(frames) => facts.frames = frames,
        Err(Error::Decode { cause, .. } | Error::NotVideo { cause, .. }) => {
            facts.damage = Some(cause.to_string());
        }
        Err(other) => return Err(other),
    }
    if cut_short {
        facts.damage.get_or_insert_with(|| messages::CUT_SHORT.to_owned());
    }
    // What the readers of clips find out about turning; a file too short or broken for them has no turn to tell.
    if let Ok(clip) = Clip::open(path, &OpenOptions { recorded_at_hz: None, limits: *limits }) {
        facts.turned = clip.inner().upright != super::super::upright::Upright::AS_STORED;
        facts.duration_s = clip.facts().duration_s;
    }
    Ok(facts)
}

fn stored(source: &Source, facts: &mut PlayFacts) {
    use ff::color::{Range, Space, TransferCharacteristic};
    let Some(stream) = source.input.stream(source.stream) else { return };
    let parameters = stream.parameters();
    facts.codec = parameters.id().name().to_owned();
    // SAFETY: reads plain fields of live stream parameters; the crate has no getters for them.
    // `avcodec_profile_name` returns null or a constant string.
    unsafe {
        let raw = parameters.as_ptr();
        let name = ff::ffi::avcodec_profile_name((*raw).codec_id, (*raw).profile);
        if !name.is_null() {
            facts.profile = std::ffi::CStr::from_ptr(name).to_string_lossy().into_owned();
        }
        facts.level = level(&facts.codec, (*raw).level);
        facts.width = usize::try_from((*raw).width).unwrap_or(0);
        facts.height = usize::try_from((*raw).height).unwrap_or(0);
        use ff::ffi::AVFieldOrder::{AV_FIELD_PROGRESSIVE, AV_FIELD_UNKNOWN};
        facts.interlaced = !matches!((*raw).field_order, AV_FIELD_PROGRESSIVE | AV_FIELD_UNKNOWN);
    }
    let decoder = ff::codec::Context::from_parameters(parameters).and_then(|c| c.decoder().video());
    let Ok(decoder) = decoder else { return };
    if let Some(pixels) = decoder.format().descriptor() {
        facts.pixels = pixels.name().to_owned();
    }
    facts.matrix = match decoder.color_space() {
        Space::Unspecified => None,
        space => space.name().map(str::to_owned),
    };
    facts.full_range = decoder.color_range() == Range::JPEG || facts.pixels.starts_with("yuvj");
    facts.wide_gamut = matches!(decoder.color_space(), Space::BT2020NCL | Space::BT2020CL)
        || matches!(
            decoder.color_transfer_characteristic(),
            TransferCharacteristic::SMPTE2084 | TransferCharacteristic::ARIB_STD_B67
        );
}

/// Ten times the level that a coding's own number means: H.264 keeps just that, HEVC thirty times the level (H.265,
/// general_level_idc in A.4.1), AV1 counts on from 2.0, four to a whole one (AV1, A.3). Others: as it is.
fn level(codec: &str, kept: i32) -> i32 {
    match codec {
        "hevc" => kept / 3,
        "av1" if (0..24).contains(&kept) => 10 * (2 + kept / 4) + kept % 4,
        _ => kept,
    }
}

/// Every packet, in stored order; damage is found by decoding.
fn pieces(path: &Path, source: &mut Source) -> Result<Vec<Piece>> {
    let mut all = Vec::new();
    let mut packet = ff::Packet::empty();
    let mut damaged = 0;
    loop {
        match ffmpeg::read(source, &mut packet) {
            Read::Packet => {
                if let Some(pts) = packet.pts().or(packet.dts()) {
                    all.push(Piece { pts, bytes: packet.size() });
                    source.limits.check(Bound::Pictures, path, all.len() as f64)?;
                }
            }
            Read::Damaged if damaged < ffmpeg::PATIENCE => damaged += 1,
            Read::Damaged | Read::End | Read::Failed(_) => return Ok(all),
        }
    }
}

fn timed(pieces: &[Piece], tick_s: f64, facts: &mut PlayFacts) {
    facts.reordered = pieces.windows(2).any(|w| matches!(w, [a, b] if b.pts < a.pts));
    let mut shown: Vec<(i64, usize)> = pieces.iter().map(|p| (p.pts, p.bytes)).collect();
    shown.sort_unstable();
    let (Some(first), Some(last)) = (shown.first(), shown.last()) else { return };
    let steps = shown.len().saturating_sub(1) as f64;
    let length = (last.0 - first.0) as f64;
    if steps < 1.0 || length <= 0.0 {
        return;
    }
    let step = length / steps;
    facts.rate_hz = Some(1.0 / (step * tick_s));
    facts.duration_s = (length + step) * tick_s;
    // A mean step of whole and half ticks is met to a tick.
    facts.constant_rate = shown.windows(2).all(|w| match w {
        [a, b] => ((b.0 - a.0) as f64 - step).abs() <= (0.01 * step).max(1.01),
        _ => true,
    });
    let second = 1.0 / tick_s;
    let (mut from, mut inside, mut most) = (0, 0usize, 0usize);
    for (pts, bytes) in &shown {
        inside += bytes;
        while let Some(old) = shown.get(from).filter(|old| (pts - old.0) as f64 >= second) {
            inside -= old.1;
            from += 1;
        }
        most = most.max(inside);
    }
    facts.peak_bits_s = most as f64 * 8.0;
}

#[cfg(test)]
mod tests {
    use super::level;

    /// H.265 table A.8 and AV1 annex A.3: level 5.1 is 153 and 13, level 4.0 is 120 and 8.
    #[test]
    fn levels_are_ten_times_what_people_say() {
        assert_eq!([level("hevc", 153), level("hevc", 120)], [51, 40]);
        assert_eq!([level("av1", 13), level("av1", 8)], [51, 40]);
        assert_eq!([level("h264", 40), level("h264", -99), level("av1", 31)], [40, -99, 31]);
    }
}
