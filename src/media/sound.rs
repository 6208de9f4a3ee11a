//! A clip's sound as one row of numbers on the pictures' clock.

use std::path::Path;

use ff::format::sample::{Sample, Type};
use ff::software::resampling;
use ffmpeg_next as ff;

use super::clip::Clip;
use super::decode::Decoding;
use super::ffmpeg::{self, Source};
use crate::messages::media as messages;
use crate::types::{Bound, Cause, Error, Limits, Result, Sound};

const MONO: Sample = Sample::F32(Type::Packed);
/// A jump of the sound's clock longer than this is a hole (or an overlap), not rounding, s.
const HOLE_S: f64 = 0.02;
/// Quieter than this is silence: −60 dB of full scale.
const SILENCE: f32 = 0.001;
/// A hole longer than this is a broken clock and is closed, s.
const LONGEST_HOLE_S: f64 = 600.0;

impl Clip {
    /// The sound, mixed to one channel at `rate_hz` (1000…192000). `None` when there is none or
    /// none that decodes. Holes and damaged pieces are silence; what the file marks as not to be
    /// played (encoder priming, edit list) is left out.
    pub fn sound(&self, rate_hz: u32) -> Result<Option<Sound>> {
        check_rate(rate_hz)?;
        let Some(stream) = self.inner().sound else { return Ok(None) };
        let sound = decoded(&self.facts().path, stream, rate_hz, &self.inner().limits)?;
        Ok(sound.map(|s| Sound { start_s: s.start_s - self.inner().first_s, ..s }))
    }
}

/// The sound of a file of sound or video, from its own beginning (`start_s` = 0), mixed to one channel at
/// `rate_hz` (1000…192000). A file without sound, or
/// silent throughout, is an error.
pub fn read_sound(path: &Path, rate_hz: u32, limits: &Limits) -> Result<Sound> {
    check_rate(rate_hz)?;
    let none = |cause: Cause| Error::NoSound { path: path.to_owned(), cause };
    let opened = ffmpeg::open_input(path, limits).map_err(|e| match e {
        Error::NotVideo { cause, .. } => none(cause),
        other => other,
    })?;
    let stream = opened.input.streams().best(ff::media::Type::Audio).map(|s| s.index());
    let stream = stream.ok_or_else(|| none(messages::NO_AUDIO.into()))?;
    drop(opened);
    let sound = decoded(path, stream, rate_hz, limits).map_err(|e| match e {
        Error::NotVideo { cause, .. } => none(cause),
        other => other,
    })?;
    let sound = sound.ok_or_else(|| none(messages::NO_AUDIO_DECODES.into()))?;
    if sound.samples.iter().all(|s| s.abs() < SILENCE) {
        return Err(none(messages::SILENT.into()));
    }
    Ok(Sound { start_s: 0.0, ..sound })
}

fn check_rate(rate_hz: u32) -> Result<()> {
    if !(1_000..=192_000).contains(&rate_hz) {
        return Err(Error::Usage(messages::no_sample_rate(rate_hz)));
    }
    Ok(())
}

/// A stream's sound on the file's own clock.
fn decoded(path: &Path, stream: usize, rate_hz: u32, limits: &Limits) -> Result<Option<Sound>> {
    let failed = |e: ff::Error| Error::Decode {
        path: path.to_owned(),
        cause: Cause::told(format!("its sound: {e}"), e),
    };
    let Some(source) = Source::new(ffmpeg::open_input(path, limits)?, stream) else { return Ok(None) };
    let time_base = source.time_base;
    let mut decoding = Decoding::new(path, source, 1, ff::frame::Audio::empty())?;

    let mut track = Track::default();
    while let Some(pts) = decoding.next().map_err(failed)? {
        let at_s = pts as f64 * f64::from(time_base);
        limits.check(Bound::Minutes, path, track.minutes_until(at_s))?;
        track.add(&mut decoding.unit, at_s).map_err(failed)?;
    }
    if track.samples.is_empty() {
        return Ok(None);
    }
    let start_s = track.start_s;
    let samples = resampled(track.samples, track.rate_hz, rate_hz).map_err(failed)?;
    Ok(Some(Sound { rate_hz, start_s, samples }))
}

/// Sound as it comes, at its own rate.
#[derive(Default)]
struct Track {
    rate_hz: u32,
    start_s: f64,
    samples: Vec<f32>,
    mixer: Option<resampling::Context>,
}

impl Track {
    /// How long it is with a piece that begins at `at_s`, holes filled: damaged clocks must not fill the memory.
    fn minutes_until(&self, at_s: f64) -> f64 {
        let have_s = self.samples.len() as f64 / f64::from(self.rate_hz.max(1));
        let jump_s = if self.samples.is_empty() { 0.0 } else { at_s - self.start_s - have_s };
        (have_s + jump_s.clamp(0.0, LONGEST_HOLE_S)) / 60.0
    }

    /// Append a decoded piece that begins at `at_s` of the file's clock.
    fn add(&mut self, piece: &mut ff::frame::Audio, at_s: f64) -> std::result::Result<(), ff::Error> {
        if piece.samples() == 0 || piece.rate() == 0 {
            return Ok(());
        }
        if piece.channel_layout().is_empty() {
            // Some files name no speakers, only how many.
            let count = i32::from(piece.channels().max(1));
            piece.set_channel_layout(ff::ChannelLayout::default(count));
        }
        if self.samples.is_empty() {
            (self.rate_hz, self.start_s) = (piece.rate(), at_s);
        }
        let same = self.mixer.as_ref().is_some_and(|m| {
            let from = m.input();
            from.format == piece.format()
                && from.channel_layout == piece.channel_layout()
                && from.rate == piece.rate()
        });
        if !same {
            self.mixer = Some(resampling::Context::get(
                piece.format(),
                piece.channel_layout(),
                piece.rate(),
                MONO,
                ff::ChannelLayout::MONO,
                self.rate_hz,
            )?);
        }
        let Some(mixer) = &mut self.mixer else { return Ok(()) };
        let room = room(piece.samples(), piece.rate(), self.rate_hz);
        let mut mixed = ff::frame::Audio::new(MONO, room, ff::ChannelLayout::MONO);
        mixer.run(piece, &mut mixed)?;
        let mut fresh = mono(&mixed);

        let rate = f64::from(self.rate_hz);
        let jump_s = (at_s - self.start_s) - self.samples.len() as f64 / rate;
        if jump_s > HOLE_S && jump_s < LONGEST_HOLE_S {
            let silence = (jump_s * rate).round() as usize;
            self.samples.resize(self.samples.len() + silence, 0.0);
        } else if jump_s < -HOLE_S {
            let twice = ((-jump_s) * rate).round() as usize;
            fresh = fresh.get(twice..).unwrap_or(&[]);
        }
        self.samples.extend_from_slice(fresh);
        Ok(())
    }
}

/// Samples that `count` at one rate may become at another, with room for the filter's tail.
fn room(count: usize, from_hz: u32, to_hz: u32) -> usize {
    (count as u64 * u64::from(to_hz)).div_ceil(u64::from(from_hz.max(1))) as usize + 256
}

fn mono(frame: &ff::frame::Audio) -> &[f32] {
    if frame.samples() == 0 { &[] } else { frame.plane::<f32>(0) }
}

/// The same sound at another rate; FFmpeg's filter is symmetric, so nothing moves in time.
fn resampled(samples: Vec<f32>, from_hz: u32, to_hz: u32) -> std::result::Result<Vec<f32>, ff::Error> {
    if from_hz == to_hz {
        return Ok(samples);
    }
    let layout = ff::ChannelLayout::MONO;
    let mut filter = resampling::Context::get(MONO, layout, from_hz, MONO, layout, to_hz)?;
    let mut out = Vec::with_capacity(room(samples.len(), from_hz, to_hz));
    const CHUNK: usize = 1 << 14;
    for chunk in samples.chunks(CHUNK) {
        let mut from = ff::frame::Audio::new(MONO, chunk.len(), layout);
        from.set_rate(from_hz);
        for (to, sample) in from.plane_mut::<f32>(0).iter_mut().zip(chunk) {
            *to = *sample;
        }
        let mut to = ff::frame::Audio::new(MONO, room(chunk.len(), from_hz, to_hz), layout);
        filter.run(&from, &mut to)?;
        out.extend_from_slice(mono(&to));
    }
    loop {
        let mut to = ff::frame::Audio::new(MONO, room(CHUNK, from_hz, to_hz), layout);
        filter.flush(&mut to)?;
        if to.samples() == 0 {
            return Ok(out);
        }
        out.extend_from_slice(mono(&to));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_click_stays_where_it_is_at_another_rate() {
        ffmpeg::start();
        let mut samples = vec![0.0f32; 48_000];
        samples[24_000] = 1.0;
        let out = resampled(samples, 48_000, 16_000).unwrap();
        assert!(out.len().abs_diff(16_000) <= 1, "{}", out.len());
        let loudest = (0..out.len()).max_by(|a, b| out[*a].abs().total_cmp(&out[*b].abs())).unwrap();
        assert!(loudest.abs_diff(8_000) <= 1, "{loudest}");
    }
}
