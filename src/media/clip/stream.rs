//! What a stream holds and says of itself: its packets, how it is turned, the rate it was filmed at, its sound.

use std::path::Path;

use ffmpeg_next as ff;

use super::super::ffmpeg::{self, Read};
use super::super::index::PacketFacts;
use super::super::upright::Upright;
use crate::types::{Bound, CutShort, Reported, Result, Warning};

/// Every packet's facts. A damaged file gives what could be read, and a warning.
pub(super) fn packets(
    path: &Path,
    source: &mut ffmpeg::Source,
    warnings: &mut Vec<Warning>,
) -> Result<Vec<PacketFacts>> {
    let mut facts = Vec::new();
    let mut packet = ff::Packet::empty();
    let (mut damaged, mut in_a_row, mut corrupt) = (0usize, 0usize, 0usize);
    let mut cut = None;
    loop {
        match ffmpeg::read(source, &mut packet) {
            Read::Packet => {
                in_a_row = 0;
                let flags = ffmpeg::flags(&packet);
                corrupt += usize::from(flags & ff::ffi::AV_PKT_FLAG_CORRUPT != 0);
                facts.push(PacketFacts {
                    pts: packet.pts(),
                    dts: packet.dts(),
                    duration: packet.duration(),
                    key: flags & ff::ffi::AV_PKT_FLAG_KEY != 0,
                    discard: flags & ff::ffi::AV_PKT_FLAG_DISCARD != 0,
                });
                source.limits.check(Bound::Pictures, path, facts.len() as f64)?;
            }
            Read::Damaged => {
                damaged += 1;
                in_a_row += 1;
                if in_a_row > ffmpeg::PATIENCE {
                    cut = Some(CutShort::MostlyUnreadable);
                    break;
                }
            }
            Read::End => break,
            Read::Failed(e) => {
                cut = Some(CutShort::Failed { cause: ffmpeg::why(&e) });
                break;
            }
        }
    }
    warnings.extend(cut.map(|why| Warning::FileCutShort { why }));
    if damaged + corrupt > 0 {
        warnings.push(Warning::FileDamaged { pieces: damaged + corrupt });
    }
    Ok(facts)
}

/// The turn the stream itself asks for: its display matrix, or in old files a `rotate` tag
/// (degrees, clockwise).
pub(super) fn stream_upright(source: &ffmpeg::Source) -> Option<Upright> {
    let stream = source.input.stream(source.stream)?;
    let matrix = stream
        .side_data()
        .find(|s| s.kind() == ff::packet::side_data::Type::DisplayMatrix)
        .and_then(|s| upright_from_bytes(s.data()));
    matrix.or_else(|| {
        let degrees: f64 = stream.metadata().get("rotate")?.trim().parse().ok()?;
        let degrees = degrees.is_finite().then(|| (degrees / 90.0).round() as i32)?;
        Some(Upright::from_turn(degrees.rem_euclid(4) * 90, false))
    })
}

/// A display matrix as FFmpeg keeps it: nine native-endian int32.
pub(in crate::media) fn upright_from_bytes(data: &[u8]) -> Option<Upright> {
    let at = |i: usize| data.get(4 * i..4 * i + 4)?.try_into().ok().map(i32::from_ne_bytes);
    let (a, b, c, d) = (at(0)?, at(1)?, at(3)?, at(4)?);
    // All zero is no matrix at all.
    (a != 0 || b != 0).then(|| Upright::from_matrix(a, b, c, d))
}

/// The tag in which phones keep the rate they filmed at, Hz.
pub const CAPTURE_RATE: &str = "com.android.capture.fps";

/// The rate the file says it was filmed at, Hz.
pub(super) fn capture_rate(source: &ffmpeg::Source) -> Option<f64> {
    let stream = source.input.stream(source.stream);
    let metadata = source.input.metadata();
    let text = metadata.get(CAPTURE_RATE).map(str::to_owned);
    let text = text.or_else(|| stream.and_then(|s| s.metadata().get(CAPTURE_RATE).map(str::to_owned)))?;
    text.trim().parse().ok().filter(|hz: &f64| hz.is_finite() && *hz > 0.0)
}

/// The best track of sound that a decoder knows; one that none knows is a warning.
pub(super) fn sound_stream(source: &ffmpeg::Source, warnings: &mut Vec<Warning>) -> Option<usize> {
    let audio = || source.input.streams().filter(|s| s.parameters().medium() == ff::media::Type::Audio);
    let best = source.input.streams().best(ff::media::Type::Audio).map(|s| s.index());
    let known = |index: usize| {
        source.input.stream(index).is_some_and(|s| ff::codec::decoder::find(s.parameters().id()).is_some())
    };
    let found = best.filter(|i| known(*i)).or_else(|| audio().map(|s| s.index()).find(|i| known(*i)));
    if found.is_none() && audio().next().is_some() {
        warnings.push(Warning::SoundUnreadable { in_video: false, error: Reported::default() });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_matrix_of_zeros_is_none() {
        assert_eq!(upright_from_bytes(&[0; 36]), None);
        assert_eq!(upright_from_bytes(&[0; 7]), None);
    }
}
