//! An opened file: what is in it and when each picture is shown. Plain data; every reader of it
//! opens the file anew, so it can be shared between threads freely.

mod stream;

use std::path::Path;
use std::sync::Arc;

use super::cadence;
use super::cut::Cut;
use super::ffmpeg;
use super::fields::are_halves;
use super::frames::{Frames, decode_one, times_of_pictures};
use super::index::{Index, SLOW_FROM, measured_rate_hz, slow_factor};
use super::marked;
use super::mp4;
use super::picked::Picked;
use super::upright::Upright;
use stream::{capture_rate, packets, sound_stream, stream_upright};

pub use stream::CAPTURE_RATE;
pub(super) use stream::upright_from_bytes;

use crate::messages::media as words;
use crate::types::{Bound, ClipFacts, CutShort, Error, Limits, Result, SpeedChange, Spoilt, Warning};

/// How to understand a file.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct OpenOptions {
    /// The rate the camera filmed at, Hz, where the file does not say or says it wrong.
    /// Default: what the file says.
    pub recorded_at_hz: Option<f64>,
    /// How much is taken on. Default: [`Limits::default`].
    pub limits: Limits,
}

/// An opened, indexed file. Cheap to clone.
#[derive(Debug, Clone)]
pub struct Clip(Arc<Inner>);

#[derive(Debug)]
pub(super) struct Inner {
    pub facts: ClipFacts,
    pub warnings: Vec<Warning>,
    pub index: Index,
    pub pts_s: Vec<f64>,
    /// Real (capture) time of each picture, s from the first.
    pub real_s: Vec<f64>,
    /// Why its clock is no measure: a part of it plays slower than the rest.
    pub slowed_part: Option<SpeedChange>,
    /// The first picture's size as stored, px.
    pub stored: (usize, usize),
    pub stream: usize,
    /// Start of the first picture on the file's own clock, s.
    pub first_s: f64,
    pub upright: Upright,
    /// Each stored picture holds two moments; the index counts those.
    pub interlaced: bool,
    /// The stream that carries sound a decoder knows.
    pub sound: Option<usize>,
    pub limits: Limits,
}

impl Clip {
    /// Open and index `path`: reads every packet's header once and decodes the first picture.
    /// Times are in s from the first picture, sizes in px of the upright picture.
    ///
    /// # Errors
    ///
    /// [`Error::Missing`], [`Error::Unreadable`], [`Error::Empty`], [`Error::NotVideo`], [`Error::CutShort`] and
    /// [`Error::TooShort`] by what the file is; [`Error::OverLimit`] beyond `options.limits`.
    ///
    /// ```no_run
    /// use swingpair::media::{Clip, OpenOptions};
    ///
    /// let clip = Clip::open("today.mp4".as_ref(), &OpenOptions::default())?;
    /// let facts = clip.facts();
    /// println!("{} × {} px, {:.2} s at {:.1} Hz", facts.width, facts.height, facts.duration_s, facts.rate_hz);
    /// # Ok::<(), swingpair::types::Error>(())
    /// ```
    pub fn open(path: &Path, options: &OpenOptions) -> Result<Self> {
        let mut warnings = Vec::new();
        let limits = options.limits;
        let mut source = ffmpeg::open_video(path, &limits)?;
        let packets = packets(path, &mut source, &mut warnings)?;
        if mp4::is_cut_short(path) && !warnings.iter().any(is_cut_short) {
            warnings.insert(0, Warning::FileCutShort { why: CutShort::EndsTooSoon });
        }
        let mut index = Index::from_packets(&packets);
        // Some containers give times to some of their pictures only, and say of the others just when they are
        // decoded, which is not when they are shown.
        if packets.iter().any(|p| p.pts.is_none() && p.dts.is_some()) {
            index = Index::from_times(times_of_pictures(path, ffmpeg::open_video(path, &limits)?)?);
        }
        let too_short = |frames| Error::TooShort { path: path.to_owned(), frames };
        if index.pts.is_empty() {
            return Err(Error::NotVideo { path: path.to_owned(), cause: words::NO_TIMES.into() });
        }
        drop(source);

        let source = ffmpeg::open_video(path, &limits)?;
        let (stream, mut time_base) = (source.stream, f64::from(source.time_base));
        let of_stream = stream_upright(&source);
        let capture_hz = options.recorded_at_hz.or_else(|| capture_rate(&source));
        let super_slow = options.recorded_at_hz.is_none() && marked::super_slow(path, &source.input);
        let sound = sound_stream(&source, &mut warnings);
        let first = decode_one(path, source)?;
        let lost = index.begin_at(first.pts);
        if lost > 0 {
            warnings.push(Warning::StartUndecodable { frames: lost });
        }
        let interlaced = first.interlaced && are_halves(path, ffmpeg::open_video(path, &limits)?)?;
        if interlaced {
            index.in_fields();
            time_base /= 2.0;
        }
        let frames = index.pts.len();
        let (Some(first_pts), Some(last_pts)) = (index.pts.first().copied(), index.pts.last().copied())
        else {
            return Err(too_short(0));
        };
        if frames < 2 {
            return Err(too_short(frames));
        }

        let pts_s: Vec<f64> = index.pts.iter().map(|p| (p - first_pts) as f64 * time_base).collect();
        let rate_hz = measured_rate_hz(&pts_s);
        let slow_factor = slow(options, capture_hz, rate_hz, cadence::quickest_hz(&pts_s))?;
        let (speed_change, slow_factor, real_s) = match cadence::speed_change(&pts_s) {
            Some(change)
                if options.recorded_at_hz.is_some_and(|hz| (hz / change.quick_hz - 1.0).abs() < 0.1) =>
            {
                // Every picture of the camera is there, so the camera's rate tells when each was taken.
                let step_s = 1.0 / change.quick_hz;
                let real_s = (0..frames).map(|i| i as f64 * step_s).collect();
                (None, (change.quick_hz / rate_hz).max(1.0), real_s)
            }
            change => (change, slow_factor, pts_s.iter().map(|t| t / slow_factor).collect()),
        };
        let by_steps = speed_change
            .map(|change| SpeedChange::Steps { quick_hz: change.quick_hz, slow_hz: change.slow_hz });
        let slowed_part = by_steps.or_else(|| super_slow.then_some(SpeedChange::Marked));
        if let Some((low_hz, high_hz)) = cadence::uneven_hz(&pts_s).filter(|_| slowed_part.is_none()) {
            warnings.push(Warning::UnevenRate { low_hz, high_hz });
        }
        if let Some(given_hz) = options.recorded_at_hz.filter(|hz| hz * SLOW_FROM < rate_hz) {
            warnings.push(Warning::RecordedAtUnused { rate_hz, given_hz });
        }
        let last_s = (last_pts - first_pts) as f64 * time_base;
        let stays_s =
            if index.last_duration > 0 { index.last_duration as f64 * time_base } else { 1.0 / rate_hz };
        limits.check(Bound::Minutes, path, (last_s + stays_s) / 60.0)?;
        // Pixels that are not square make a larger picture than the stored one.
        limits.check(Bound::Pixels, path, first.size.0 as f64 * first.size.1 as f64)?;
        let upright = of_stream.or(first.upright).unwrap_or(Upright::AS_STORED);
        let (width, height) = upright.size(first.size.0, first.size.1);
        let facts = ClipFacts {
            path: path.to_owned(),
            width,
            height,
            frames,
            duration_s: last_s + stays_s,
            rate_hz,
            capture_rate_hz: rate_hz * slow_factor,
            slow_factor,
        };
        let first_s = first_pts as f64 * time_base;
        Ok(Self(Arc::new(Inner {
            facts,
            warnings,
            index,
            pts_s,
            real_s,
            slowed_part,
            stored: first.stored,
            stream,
            first_s,
            upright,
            interlaced,
            sound,
            limits,
        })))
    }

    /// Size, rates, length and what is wrong with the file.
    pub fn facts(&self) -> &ClipFacts {
        &self.0.facts
    }

    /// What the file's reader should know; more may come from [`Frames::warnings`].
    pub fn warnings(&self) -> &[Warning] {
        &self.0.warnings
    }

    /// Playback time of each picture, s, from the first.
    pub fn pts_s(&self) -> &[f64] {
        &self.0.pts_s
    }

    /// What is wrong with the file itself, the worst first: `None` where it is whole.
    pub fn damage(&self) -> Option<Spoilt> {
        let warnings = &self.0.warnings;
        let damaged = || warnings.iter().any(|w| matches!(w, Warning::FileDamaged { .. }));
        match warnings.iter().any(is_cut_short) {
            true => Some(Spoilt::CutShort),
            false => damaged().then_some(Spoilt::Damaged),
        }
    }

    /// Real (capture) time of picture `index`, s from the first; the last one's beyond the end.
    pub fn real_s(&self, index: usize) -> f64 {
        self.0.real_s.get(index).or(self.0.real_s.last()).copied().unwrap_or(0.0)
    }

    /// Why the file's clock is no measure: a part of it plays slower than the rest. `None` also where
    /// [`OpenOptions::recorded_at_hz`] sets it right.
    pub fn slowed_part(&self) -> Option<SpeedChange> {
        self.0.slowed_part
    }

    /// Refuse a file whose clock is no measure.
    pub fn check_clock(&self) -> Result<()> {
        self.slowed_part()
            .map_or(Ok(()), |cause| Err(Error::SpeedChanges { path: self.facts().path.clone(), cause }))
    }

    /// The picture whose real (capture) time is nearest to `time_s`; the earlier one of two as near.
    pub fn frame_at_real(&self, time_s: f64) -> usize {
        let times = &self.0.real_s;
        let after = times.partition_point(|t| *t < time_s).min(times.len().saturating_sub(1));
        match after.checked_sub(1).and_then(|b| Some((b, times.get(b)?, times.get(after)?))) {
            Some((before, b, a)) if time_s - b <= a - time_s => before,
            _ => after,
        }
    }

    /// The size pictures come in: upright, even, px; scaled down to fit inside `fit` where given.
    pub fn frame_size(&self, fit: Option<(usize, usize)>) -> (usize, usize) {
        let native = (self.0.facts.width, self.0.facts.height);
        fit.map_or(native, |fit| fit_inside(native, fit))
    }

    /// Read pictures in order, beginning with picture `from`, with two decoder threads.
    /// `fit` = scale down to fit inside (width, height), keeping the shape; `None` = native size.
    ///
    /// # Errors
    ///
    /// Those of [`Clip::open`] when the file is gone or another meanwhile, [`Error::Decode`] when its pictures cannot be read.
    ///
    /// ```no_run
    /// use swingpair::media::{Clip, OpenOptions};
    ///
    /// let clip = Clip::open("today.mp4".as_ref(), &OpenOptions::default())?;
    /// let mut frames = clip.frames(0, Some((640, 640)))?;
    /// while let Some(picture) = frames.next_frame()? {
    ///     let luma = &picture.frame.y;
    ///     println!("{:.3} s: {} × {} px", picture.pts_s, luma.width, luma.height);
    /// }
    /// # Ok::<(), swingpair::types::Error>(())
    /// ```
    pub fn frames(&self, from: usize, fit: Option<(usize, usize)>) -> Result<Frames> {
        self.frames_with_threads(from, fit, 2)
    }

    /// [`Clip::frames`] with a chosen number of decoder threads (1–16).
    pub fn frames_with_threads(
        &self,
        from: usize,
        fit: Option<(usize, usize)>,
        threads: usize,
    ) -> Result<Frames> {
        let native = (self.0.facts.width, self.0.facts.height);
        Frames::open(self.clone(), from, Cut::whole(native, self.frame_size(fit)), threads)
    }

    /// Read the pictures of `wanted` (places in the index, rising) alone; `fit` as in [`Clip::frames`].
    ///
    /// # Errors
    ///
    /// As [`Clip::frames`].
    pub fn picked(&self, wanted: &[usize], fit: Option<(usize, usize)>) -> Result<Picked> {
        Picked::open(self, wanted, fit)
    }

    /// Read one part of each picture in order, beginning with picture `from`, with two decoder threads.
    pub fn cuts(&self, from: usize, cut: Cut) -> Result<Frames> {
        Frames::open(self.clone(), from, cut, 2)
    }

    /// As [`Clip::cuts`], for somebody who waits for picture `from`: it comes sooner, and the pictures are the same.
    pub fn cuts_soon(&self, from: usize, cut: Cut) -> Result<Frames> {
        self.cuts(from, cut).map(Frames::quick)
    }

    pub(super) fn inner(&self) -> &Inner {
        &self.0
    }
}

fn is_cut_short(warning: &Warning) -> bool {
    matches!(warning, Warning::FileCutShort { .. })
}

/// How many times slower than life it plays. A camera that was told a rate and could not keep it in poor light plays
/// in real time all the same: some of its pictures come as quickly as it was told.
fn slow(options: &OpenOptions, capture_hz: Option<f64>, rate_hz: f64, quickest_hz: f64) -> Result<f64> {
    if let Some(hz) = options.recorded_at_hz
        && !(hz.is_finite() && hz > 0.0)
    {
        return Err(Error::Usage(words::no_capture_rate(hz)));
    }
    let by_the_file = options.recorded_at_hz.is_none();
    Ok(capture_hz.map_or(1.0, |hz| match slow_factor(hz, quickest_hz) {
        factor if by_the_file && factor <= 1.0 => 1.0,
        _ => slow_factor(hz, rate_hz),
    }))
}

/// The largest even size inside `fit` of the same shape, never larger than `native`.
fn fit_inside(native: (usize, usize), fit: (usize, usize)) -> (usize, usize) {
    let share = |have: usize, room: usize| room as f64 / have.max(1) as f64;
    let scale = share(native.0, fit.0).min(share(native.1, fit.1)).min(1.0);
    let side = |have: usize, room: usize| {
        let even = ((have as f64 * scale) / 2.0).round() as usize * 2;
        even.min(have).min(room & !1).max(2)
    };
    (side(native.0, fit.0), side(native.1, fit.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fitting_keeps_shape_and_never_enlarges() {
        assert_eq!(fit_inside((1920, 1080), (640, 640)), (640, 360));
        assert_eq!(fit_inside((1080, 1920), (640, 640)), (360, 640));
        assert_eq!(fit_inside((354, 492), (1000, 1000)), (354, 492));
        assert_eq!(fit_inside((1920, 1080), (333, 1000)), (332, 188));
        assert_eq!(fit_inside((10, 10), (1, 1)), (2, 2));
    }
}
