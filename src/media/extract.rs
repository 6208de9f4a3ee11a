//! A part of a film as a film of its own, its pictures as they were coded.

use std::path::Path;

use ffmpeg_next as ff;

use super::clip::{CAPTURE_RATE, Clip, OpenOptions};
use super::ffmpeg;
use super::mp4;
use super::upright::Upright;
use super::writer::{Preset, WriteOptions, Writer};
use crate::messages;
use crate::store::AtomicFile;
use crate::types::{Cause, Error, Result, Sound};

/// A key picture may lie so long before the part, s of playback; farther, the part is coded anew.
const LONGEST_LEAD_S: f64 = 4.0;

/// What was cut out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extracted {
    /// Place in the long film's index of the part's first picture: its time is what the part's times count from.
    pub first: usize,
    /// How many it holds.
    pub pictures: usize,
    /// Nothing was coded anew.
    pub lossless: bool,
}

/// Cut pictures `from` to `to` (places in the index) out of `clip` into the MP4 `target`: from the key picture before
/// `from` on, without loss, where one is near and MP4 takes the codec; else coded anew from `from` itself. Sound comes
/// along. Tags (place, device, date) do not, but for the rate of filming.
pub fn extract(clip: &Clip, from: usize, to: usize, target: &Path) -> Result<Extracted> {
    let inner = clip.inner();
    let last = clip.facts().frames.saturating_sub(1);
    let (from, to) = (from.min(last), to.clamp(from.min(last), last));
    let time = |i: usize| clip.pts_s().get(i).copied().unwrap_or(0.0);
    let key = inner.index.key_before(from).and_then(|k| inner.index.keys.get(k)).copied();
    if let (Some(key), false) = (key, inner.interlaced) {
        let first = inner.index.find(key.pts);
        if let Some(first) = first.filter(|first| time(from) - time(*first) <= LONGEST_LEAD_S)
            && let Ok(pictures) = copied(clip, key.seek_to, first, to, target)
        {
            return Ok(Extracted { first, pictures, lossless: true });
        }
    }
    coded(clip, from, to, target)?;
    Ok(Extracted { first: from, pictures: to + 1 - from, lossless: false })
}

/// Copy packets; the file is kept only when every picture is there at its time.
fn copied(clip: &Clip, seek_to: i64, first: usize, to: usize, target: &Path) -> Result<usize> {
    let inner = clip.inner();
    let failed = |cause: Cause| Error::Encode { path: target.to_owned(), cause };
    let wrong = |e: ff::Error| failed(Cause::of(e));
    let (begin, end) = match (inner.index.pts.get(first), inner.index.pts.get(to)) {
        (Some(a), Some(b)) => (*a, *b),
        _ => return Err(failed(messages::media::NOT_IN_INDEX.into())),
    };
    let unfinished = AtomicFile::beside(target)?;
    let url =
        ffmpeg::url(unfinished.temporary()).ok_or_else(|| failed(messages::files::NAME_NOT_TEXT.into()))?;
    let mut source = ffmpeg::open_video(&clip.facts().path, &inner.limits)?;
    source.also(inner.sound);
    if !source.seek(seek_to) && first > 0 {
        return Err(failed(messages::media::NO_ENTRY.into()));
    }
    let mut output = ffmpeg::mp4_output(&url).map_err(wrong)?;
    let streams: Vec<usize> = std::iter::once(inner.stream).chain(inner.sound).collect();
    let mut bases = Vec::new();
    for stream in &streams {
        let from = source.input.stream(*stream).ok_or_else(|| failed(messages::media::STREAM_GONE.into()))?;
        let (parameters, base) = (from.parameters(), from.time_base());
        let mut to = output.add_stream(ff::encoder::find(ff::codec::Id::None)).map_err(wrong)?;
        to.set_parameters(parameters);
        to.set_time_base(base);
        // SAFETY: the stream is live and ours; the tag of another container would be wrong in this one.
        unsafe { (*to.parameters().as_mut_ptr()).codec_tag = 0 };
        bases.push(base);
    }
    let mut flags = String::from("+faststart");
    let slow = clip.facts().slow_factor;
    if (slow - 1.0).abs() > 0.01 {
        flags.push_str("+use_metadata_tags");
        let hz = format!("{:.6}", clip.facts().capture_rate_hz);
        output.set_metadata([(CAPTURE_RATE, hz.as_str())].into_iter().collect());
    }
    output.write_header_with([("movflags", flags.as_str())].into_iter().collect()).map_err(wrong)?;
    let begin_s = begin as f64 * f64::from(source.time_base);
    let end_s = end as f64 * f64::from(source.time_base);
    let wanted = to + 1 - first;
    let (mut written, mut most) = (0usize, begin);
    let mut packet = ff::Packet::empty();
    let mut sound_done = inner.sound.is_none();
    let mut pictures_done = false;
    while !(pictures_done && sound_done) {
        match ffmpeg::read_any(&mut source, &mut packet) {
            ffmpeg::Read::Packet => (),
            ffmpeg::Read::Damaged => continue,
            ffmpeg::Read::End => break,
            ffmpeg::Read::Failed(e) => return Err(failed(ffmpeg::cause(e))),
        }
        let Some(place) = streams.iter().position(|s| *s == packet.stream()) else { continue };
        let base = bases.get(place).copied().unwrap_or(source.time_base);
        let Some(pts) = packet.pts().or(packet.dts()) else { continue };
        let at_s = pts as f64 * f64::from(base);
        if place == 0 {
            // Pictures shown before the key one belong to what lies before it.
            if pictures_done || pts < begin {
                continue;
            }
            (written, most) = (written + 1, most.max(pts));
            // Whole only when nothing between the first and the last is still to come.
            let through = inner.index.pts.partition_point(|p| *p <= most).saturating_sub(first);
            pictures_done = written >= wanted && written == through;
        } else {
            sound_done = at_s > end_s + 0.2;
            if at_s < begin_s - 0.05 || at_s > end_s + 0.05 {
                continue;
            }
        }
        let out = output
            .stream(place)
            .map(|s| s.time_base())
            .ok_or_else(|| failed(messages::media::STREAM_GONE.into()))?;
        let shift = (begin_s / f64::from(base)).round() as i64;
        packet.set_pts(packet.pts().map(|t| t - shift));
        packet.set_dts(packet.dts().map(|t| t - shift));
        packet.rescale_ts(base, out);
        packet.set_stream(place);
        packet.set_position(-1);
        packet.write_interleaved(&mut output).map_err(wrong)?;
    }
    output.write_trailer().map_err(wrong)?;
    drop(output);
    turn(clip, unfinished.temporary()).map_err(|e| Error::writing(target, e))?;
    let pictures = same_times(clip, first, unfinished.temporary()).map_err(|why| failed(why.into()))?;
    if pictures < wanted {
        return Err(failed(messages::media::frames_lost(pictures, wanted).into()));
    }
    unfinished.keep()?;
    Ok(pictures)
}

/// The turn that the long film asks for.
fn turn(clip: &Clip, file: &Path) -> std::io::Result<()> {
    let inner = clip.inner();
    if inner.upright == Upright::AS_STORED {
        return Ok(());
    }
    mp4::set_matrix(file, inner.upright.matrix(), inner.stored)
}

/// How many pictures the part holds, each as far from its first as it is in the long film.
fn same_times(clip: &Clip, first: usize, part: &Path) -> std::result::Result<usize, String> {
    let options = OpenOptions { recorded_at_hz: None, limits: clip.inner().limits };
    let cut = Clip::open(part, &options).map_err(|e| e.to_string())?;
    let begin_s = clip.pts_s().get(first).copied().unwrap_or(0.0);
    // Clocks of other steps may round.
    const ROUNDING_S: f64 = 0.0006;
    for (i, at_s) in cut.pts_s().iter().enumerate() {
        let there = clip.pts_s().get(first + i).map(|t| t - begin_s);
        if there.is_none_or(|t| (t - at_s).abs() > ROUNDING_S) {
            return Err(messages::media::frame_moved(i, *at_s, there));
        }
    }
    Ok(cut.facts().frames)
}

/// Code the part anew, upright, at the film's own rate.
fn coded(clip: &Clip, from: usize, to: usize, target: &Path) -> Result<()> {
    let facts = clip.facts();
    let (width, height) = clip.frame_size(None);
    let slow = facts.slow_factor;
    let tags = if (slow - 1.0).abs() > 0.01 {
        vec![(CAPTURE_RATE.to_owned(), format!("{:.6}", facts.capture_rate_hz))]
    } else {
        Vec::new()
    };
    let begin_s = clip.pts_s().get(from).copied().unwrap_or(0.0);
    let end_s = clip.pts_s().get(to).copied().unwrap_or(begin_s);
    let options = WriteOptions {
        width,
        height,
        rate: ((facts.rate_hz * 1000.0).round() as u32, 1000),
        crf: 17,
        preset: Preset::Veryfast,
        sound: part_of(clip.sound(48_000)?, begin_s, end_s),
        metadata: tags,
        ..WriteOptions::default()
    };
    let mut writer = Writer::create(target, &options)?;
    let mut frames = clip.frames(from, None)?;
    while let Some(picture) = frames.next_frame()? {
        if picture.index > to {
            break;
        }
        writer.write(&picture.frame)?;
    }
    writer.finish().map(drop)
}

fn part_of(sound: Option<Sound>, begin_s: f64, end_s: f64) -> Option<Sound> {
    let sound = sound?;
    let at = |s: f64| {
        (((s - sound.start_s) * f64::from(sound.rate_hz)).max(0.0) as usize).min(sound.samples.len())
    };
    let samples = sound.samples.get(at(begin_s)..at(end_s)).unwrap_or_default().to_vec();
    let start_s = (sound.start_s - begin_s).max(0.0);
    (!samples.is_empty()).then_some(Sound { start_s, samples, ..sound })
}
