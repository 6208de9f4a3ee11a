//! The few bytes of an MP4 that are looked at or changed without FFmpeg.

use std::fs::File;
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::Path;

/// A box's header: its four letters, where its content begins and where it ends.
struct BoxAt {
    kind: [u8; 4],
    content: u64,
    end: u64,
}

/// Read the header of the box at `at`; `None` at `end` or where it makes no sense.
fn box_at(file: &mut File, at: u64, end: u64) -> std::io::Result<Option<BoxAt>> {
    if at + 8 > end {
        return Ok(None);
    }
    let mut head = [0u8; 8];
    file.seek(SeekFrom::Start(at))?;
    file.read_exact(&mut head)?;
    let [s0, s1, s2, s3, kind @ ..] = head;
    let (size, header) = match u32::from_be_bytes([s0, s1, s2, s3]) {
        0 => (end - at, 8),
        1 => {
            let mut long = [0u8; 8];
            file.read_exact(&mut long)?;
            (u64::from_be_bytes(long), 16)
        }
        short => (u64::from(short), 8),
    };
    let fits = size >= header && at.checked_add(size).is_some_and(|e| e <= end);
    Ok(fits.then_some(BoxAt { kind, content: at + header, end: at + size }))
}

fn find(file: &mut File, kind: &[u8; 4], mut at: u64, end: u64) -> std::io::Result<Option<BoxAt>> {
    while let Some(found) = box_at(file, at, end)? {
        if &found.kind == kind {
            return Ok(Some(found));
        }
        at = found.end;
    }
    Ok(None)
}

/// Whether the index of a file comes before its pictures, so that a phone can begin playing it while
/// it still loads.
pub(super) fn starts_fast(path: &Path) -> std::io::Result<bool> {
    let mut file = File::open(path)?;
    let end = file.metadata()?.len();
    let index = find(&mut file, b"moov", 0, end)?;
    let pictures = find(&mut file, b"mdat", 0, end)?;
    Ok(matches!((index, pictures), (Some(i), Some(p)) if i.content < p.content))
}

/// Whether the file ends before its last box does: cut short by a broken copy.
pub(super) fn cut_short(path: &Path) -> std::io::Result<bool> {
    let mut file = File::open(path)?;
    let end = file.metadata()?.len();
    let mut at = 0;
    while let Some(found) = box_at(&mut file, at, end)? {
        at = found.end;
    }
    Ok(at < end)
}

/// The same of what may be no MP4 at all: only a file that begins as one can be one cut short.
pub(super) fn is_cut_short(path: &Path) -> bool {
    let begins = || {
        let mut head = [0u8; 8];
        File::open(path)?.read_exact(&mut head)?;
        Ok::<_, std::io::Error>(head.ends_with(b"ftyp"))
    };
    begins().unwrap_or(false) && cut_short(path).unwrap_or(false)
}

/// Whether the pictures come in pieces, each with an index of its own (a fragmented file).
pub(super) fn in_pieces(path: &Path) -> std::io::Result<bool> {
    let mut file = File::open(path)?;
    let end = file.metadata()?.len();
    Ok(find(&mut file, b"moof", 0, end)?.is_some())
}

/// Set the first track's display matrix (ISO/IEC 14496-12 §8.3.2): whole-unit (a, b, c, d) as in
/// [`super::upright::matrix`]. Written here because FFmpeg's way to do it differs between versions.
pub(super) fn set_matrix(
    path: &Path,
    (a, b, c, d): (i32, i32, i32, i32),
    (width, height): (usize, usize),
) -> std::io::Result<()> {
    let mut file = File::options().read(true).write(true).open(path)?;
    let end = file.metadata()?.len();
    let lost = || std::io::Error::other(crate::messages::media::NO_TRACK_HEADER);
    let index = find(&mut file, b"moov", 0, end)?.ok_or_else(lost)?;
    let track = find(&mut file, b"trak", index.content, index.end)?.ok_or_else(lost)?;
    let header = find(&mut file, b"tkhd", track.content, track.end)?.ok_or_else(lost)?;
    let mut version = [0u8];
    file.seek(SeekFrom::Start(header.content))?;
    file.read_exact(&mut version)?;
    // Times and durations are 32 bit in version 0, 64 bit in version 1.
    let matrix_at = header.content + if version == [0] { 40 } else { 52 };
    if matrix_at + 36 > header.end {
        return Err(lost());
    }
    // Turned about the origin the picture leaves the first quadrant: shift it back.
    let (w, h) = (width as i32, height as i32);
    let back = |x: i32, y: i32| x.min(0) + y.min(0);
    let (tx, ty) = (-back(a * w, c * h), -back(b * w, d * h));
    let (unit, whole) = (1i32 << 16, 1i32 << 30);
    file.seek(SeekFrom::Start(matrix_at))?;
    for value in [a * unit, b * unit, 0, c * unit, d * unit, 0, tx * unit, ty * unit, whole] {
        file.write_all(&value.to_be_bytes())?;
    }
    Ok(())
}

/// An H.264 packet (start-code form) without the encoder's own text: its settings travel as a user
/// data message that no player needs. `None` when there is nothing to take out.
pub(super) fn without_encoder_text(data: &[u8]) -> Option<Vec<u8>> {
    const SEI: u8 = 6;
    const USER_DATA_UNREGISTERED: u8 = 5;
    let is_text = |unit: &[u8]| {
        let body = unit.iter().position(|b| *b == 1).and_then(|p| unit.get(p + 1..)).unwrap_or(&[]);
        matches!(body, [head, kind, ..] if head & 0x1f == SEI && *kind == USER_DATA_UNREGISTERED)
    };
    let (text, rest): (Vec<&[u8]>, Vec<&[u8]>) = units(data).into_iter().partition(|u| is_text(u));
    (!text.is_empty()).then(|| rest.concat())
}

/// The packet cut before each start code (00 00 01 or 00 00 00 01), start codes kept.
fn units(data: &[u8]) -> Vec<&[u8]> {
    let mut starts: Vec<usize> = data
        .windows(3)
        .enumerate()
        .filter(|(_, w)| *w == [0, 0, 1])
        .map(|(i, _)| if i > 0 && data.get(i - 1) == Some(&0) { i - 1 } else { i })
        .collect();
    starts.push(data.len());
    starts.iter().zip(starts.iter().skip(1)).filter_map(|(a, b)| data.get(*a..*b)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn encoder_text_is_taken_out() {
        let text = [0, 0, 0, 1, 0x06, 5, 3, b'a', b'b', b'c', 0x80];
        let picture = [0, 0, 1, 0x65, 1, 2, 3];
        let both: Vec<u8> = text.iter().chain(&picture).copied().collect();
        assert_eq!(without_encoder_text(&both).as_deref(), Some(&picture[..]));
        assert_eq!(without_encoder_text(&picture), None);
        assert_eq!(without_encoder_text(&[]), None);
    }
}
