//! Reading pictures in order.

use std::path::Path;

use ffmpeg_next as ff;

use super::clip::{Clip, upright_from_bytes};
use super::cut::Cut;
use super::decode::Decoding;
use super::ffmpeg::{self, Source};
use super::fields::{Fields, LEAD};
use super::picture::Painter;
use super::upright::Upright;
use crate::messages::media as messages;
use crate::types::{Cause, Error, Result, TimedFrame, Warning};

/// The first picture that decodes, and what only it can tell.
pub(super) struct First {
    pub pts: i64,
    /// As stored, px.
    pub stored: (usize, usize),
    /// As stored, with square pixels, even, px.
    pub size: (usize, usize),
    pub upright: Option<Upright>,
    /// It holds two moments.
    pub interlaced: bool,
}

pub(super) fn decode_one(path: &Path, source: Source) -> Result<First> {
    let mut decoding = Decoding::new(path, source, 1, ff::frame::Video::empty())?;
    let pts = match decoding.next() {
        Ok(Some(pts)) => pts,
        Ok(None) => {
            let cause = decoding.stopped.unwrap_or_else(|| messages::NOTHING_DECODES.into());
            return Err(Error::NotVideo { path: path.to_owned(), cause });
        }
        Err(e) => return Err(ffmpeg::not_video(path, &e)),
    };
    let picture = &decoding.unit;
    let matrix = picture
        .side_data(ff::frame::side_data::Type::DisplayMatrix)
        .and_then(|s| upright_from_bytes(s.data()));
    let stream_shape = decoding.source.input.stream(decoding.source.stream).map(|s| {
        // SAFETY: reads one field of a live stream; the crate has no getter for it.
        unsafe { ff::Rational::from((*s.as_ptr()).sample_aspect_ratio) }
    });
    let shape = |r: ff::Rational| {
        let ratio = f64::from(r.numerator()) / f64::from(r.denominator());
        // Beyond this it is a wrong tag, not a lens.
        (ratio.is_finite() && ratio > 0.2 && ratio < 5.0).then_some(ratio)
    };
    let ratio = stream_shape.and_then(shape).or_else(|| shape(picture.aspect_ratio())).unwrap_or(1.0);
    let stored = (picture.width() as usize, picture.height() as usize);
    let size = square_pixels(stored.0, stored.1, ratio);
    if size.0 < 2 || size.1 < 2 {
        return Err(Error::NotVideo { path: path.to_owned(), cause: messages::TOO_SMALL.into() });
    }
    Ok(First { pts, stored, size, upright: matrix, interlaced: picture.is_interlaced() })
}

/// When the decoder says that each picture is shown, ticks.
pub(super) fn times_of_pictures(path: &Path, source: Source) -> Result<Vec<i64>> {
    let mut decoding = Decoding::new(path, source, 2, ff::frame::Video::empty())?;
    let mut times = Vec::new();
    while let Some(pts) = decoding.next().map_err(|e| ffmpeg::not_video(path, &e))? {
        times.push(pts);
    }
    Ok(times)
}

/// How many pictures of a file decode.
pub(super) fn count_pictures(path: &Path, source: Source, threads: usize) -> Result<usize> {
    count(path, Decoding::new(path, source, threads, ff::frame::Video::empty())?)
}

/// How many key pictures of a file decode.
pub(super) fn count_keys(path: &Path, source: Source, threads: usize) -> Result<usize> {
    let mut decoding = Decoding::new(path, source, threads, ff::frame::Video::empty())?;
    decoding.only_keys();
    count(path, decoding)
}

fn count(path: &Path, mut decoding: Decoding<ff::frame::Video>) -> Result<usize> {
    let mut count = 0;
    let failed = |cause: Cause| Error::Decode { path: path.to_owned(), cause };
    while decoding.next().map_err(|e| failed(Cause::of(e)))?.is_some() {
        count += 1;
    }
    match decoding.stopped {
        Some(cause) => Err(failed(cause)),
        None if decoding.broken > 0 => Err(failed(messages::damaged_pieces(decoding.broken).into())),
        None => Ok(count),
    }
}

/// The even size with square pixels: the short side grows, so that no detail is lost.
fn square_pixels(width: usize, height: usize, pixel_ratio: f64) -> (usize, usize) {
    if (pixel_ratio - 1.0).abs() < 1e-3 {
        return (width & !1, height & !1);
    }
    let grown = |side: usize, by: f64| (side as f64 * by / 2.0).round() as usize * 2;
    if pixel_ratio > 1.0 {
        (grown(width, pixel_ratio), height & !1)
    } else {
        (width & !1, grown(height, 1.0 / pixel_ratio))
    }
}

/// Pictures of a [`Clip`] in the order they are shown, each with its place in the index.
/// Holds its own file and decoder; hand it to a thread and ask it for one picture after another.
pub struct Frames {
    clip: Clip,
    decoding: Decoding<ff::frame::Video>,
    painter: Painter,
    /// Where the clip is interlaced; made with the first picture.
    fields: Option<Fields>,
    threads: usize,
    /// The next picture wanted.
    next: usize,
    first: usize,
    /// Where decoding began (place in the index's keys); `None` = at the file's beginning.
    began_at: Option<usize>,
    delivered: usize,
    missing: usize,
    strays: usize,
    /// Pictures of another size than the first, and those of them that have another shape.
    resized: usize,
    reshaped: usize,
    done: bool,
    /// Pictures on the way to the wanted one that no other needs are not decoded.
    quick: bool,
}

impl Frames {
    /// The same pictures sooner, where many lie between a key picture and the wanted one. Harm in those that are left out
    /// is not noticed.
    pub(super) fn quick(mut self) -> Self {
        // Halves are made of all pictures before.
        self.quick = !self.clip.inner().interlaced;
        self
    }

    pub(super) fn open(clip: Clip, from: usize, cut: Cut, threads: usize) -> Result<Self> {
        let native = (clip.facts().width, clip.facts().height);
        if !cut.fits(native) {
            let (width, height) = native;
            return Err(Error::Internal(messages::crop_unlike_frame(width, height, &cut)));
        }
        let decoding = Self::decoder(&clip, threads)?;
        let painter = Painter::new(clip.inner().upright, native, cut);
        let mut frames = Self {
            decoding,
            painter,
            fields: None,
            threads,
            next: from,
            first: from,
            began_at: None,
            delivered: 0,
            missing: 0,
            strays: 0,
            resized: 0,
            reshaped: 0,
            done: from >= clip.facts().frames,
            quick: false,
            clip,
        };
        if let Some(key) = frames.key_for(from).filter(|k| *k > 0) {
            frames.begin_at(key)?;
        }
        Ok(frames)
    }

    fn decoder(clip: &Clip, threads: usize) -> Result<Decoding<ff::frame::Video>> {
        let path = &clip.facts().path;
        let source = ffmpeg::open_video(path, &clip.inner().limits)?;
        if source.stream != clip.inner().stream {
            return Err(Error::Decode { path: path.clone(), cause: messages::CHANGED.into() });
        }
        Decoding::new(path, source, threads, ff::frame::Video::empty())
    }

    /// Begin decoding at key number `key`; at the file's beginning when it is 0 or seeking fails.
    fn begin_at(&mut self, key: usize) -> Result<()> {
        self.fields = None;
        let seek_to = self.clip.inner().index.keys.get(key).map(|k| k.seek_to);
        self.began_at = match seek_to {
            Some(ticks) if key > 0 && self.decoding.seek(ticks) => Some(key),
            _ => {
                self.decoding = Self::decoder(&self.clip, self.threads)?;
                None
            }
        };
        Ok(())
    }

    /// The first picture from number `index` on that was not given yet; those before it are decoded where they
    /// must be, but not made ready. `None` after the last.
    pub fn frame_from(&mut self, index: usize) -> Result<Option<TimedFrame>> {
        if index > self.next && self.delivered > 0 {
            self.next = index;
        }
        while let Some(frame) = self.next_frame()? {
            if frame.index >= index {
                return Ok(Some(frame));
            }
        }
        Ok(None)
    }

    /// The next picture, or `None` after the last. Pictures that do not decode are left out (their
    /// indices are skipped) and counted in [`Frames::warnings`].
    pub fn next_frame(&mut self) -> Result<Option<TimedFrame>> {
        while !self.done {
            if self.quick {
                self.decoding.wanted_from = self.clip.inner().index.pts.get(self.next).copied();
            }
            let pts = self.next_moment().map_err(|e| self.decode_error(Cause::of(e)))?;
            let Some(pts) = pts else {
                self.done = true;
                self.end()?;
                break;
            };
            let Some(index) = self.clip.inner().index.find(pts) else {
                self.strays +=
                    usize::from(pts >= self.clip.inner().index.pts.first().copied().unwrap_or(pts));
                continue;
            };
            if index < self.next {
                continue;
            }
            if self.decoding.broken > 0 && self.threads > 1 {
                self.on_one_thread()?;
                continue;
            }
            if index > self.next && self.delivered == 0 && self.reach_back()? {
                continue;
            }
            if !self.is_of_the_clip() {
                continue;
            }
            self.missing += index - self.next;
            self.next = index + 1;
            self.delivered += 1;
            self.done = self.next >= self.clip.facts().frames;
            let frame = self
                .painter
                .paint(&mut self.decoding.unit)
                .map_err(|cause| self.decode_error(cause.into()))?;
            let pts_s = self.clip.pts_s().get(index).copied().unwrap_or(0.0);
            return Ok(Some(TimedFrame { index, pts_s, frame }));
        }
        Ok(None)
    }

    /// Several threads do not always tell of the same pictures that they are harmed, one does: from the first harm on
    /// one decodes, beginning again before the picture that is wanted.
    fn on_one_thread(&mut self) -> Result<()> {
        self.threads = 1;
        self.decoding = Self::decoder(&self.clip, self.threads)?;
        self.begin_at(self.key_for(self.next).unwrap_or(0))
    }

    /// Where decoding begins for picture number `index`: halves want some pictures before it.
    fn key_for(&self, index: usize) -> Option<usize> {
        let lead = if self.clip.inner().interlaced { 2 * LEAD } else { 0 };
        self.clip.inner().index.key_before(index.saturating_sub(lead))
    }

    /// Whether what was decoded last has the clip's shape: a smaller or larger picture shows the same, one of another
    /// shape would show bodies drawn out of theirs.
    fn is_of_the_clip(&mut self) -> bool {
        let (width, height) = self.clip.inner().stored;
        let unit = &self.decoding.unit;
        let (across, down) =
            (f64::from(unit.width()) / width.max(1) as f64, f64::from(unit.height()) / height.max(1) as f64);
        if across == 1.0 && down == 1.0 {
            return true;
        }
        self.resized += 1;
        let alike = (across / down - 1.0).abs() < 0.02;
        self.reshaped += usize::from(!alike);
        alike
    }

    /// Decode on to the next moment: a picture, or half of an interlaced one.
    fn next_moment(&mut self) -> std::result::Result<Option<i64>, ff::Error> {
        if !self.clip.inner().interlaced {
            return self.decoding.next();
        }
        loop {
            if let Some(fields) = &mut self.fields
                && let Some(pts) = fields.take(&mut self.decoding.unit)?
            {
                return Ok(Some(pts));
            }
            let Some(pts) = self.decoding.next()? else {
                let Some(fields) = &mut self.fields else { return Ok(None) };
                fields.end()?;
                return fields.take(&mut self.decoding.unit);
            };
            let unit = &mut self.decoding.unit;
            let fields = match self.fields.take().filter(|f| f.fits(unit)) {
                Some(fields) => fields,
                None => Fields::new(unit, self.decoding.source.time_base)?,
            };
            self.fields.insert(fields).give(unit, pts)?;
        }
    }

    /// Decoding began too late for the wanted picture (open group of pictures, coarse seeking):
    /// begin earlier. False when it already began as early as can be.
    fn reach_back(&mut self) -> Result<bool> {
        let Some(key) = self.began_at else { return Ok(false) };
        self.begin_at(key / 2)?;
        Ok(true)
    }

    /// At the end: an end that came too soon because the file could not be read is an error.
    fn end(&mut self) -> Result<()> {
        self.missing += self.clip.facts().frames.saturating_sub(self.next);
        if let Some(cause) = self.decoding.stopped.take()
            && self.missing > 0
        {
            return Err(self.decode_error(cause));
        }
        if self.delivered == 0 {
            return Err(self.decode_error(messages::nothing_decodes_from(self.first).into()));
        }
        Ok(())
    }

    fn decode_error(&self, cause: Cause) -> Error {
        Error::Decode { path: self.clip.facts().path.clone(), cause }
    }

    /// What went wrong so far without stopping the reading.
    pub fn warnings(&self) -> Vec<Warning> {
        let some = |pictures: usize| (pictures > 0).then_some(pictures);
        let of = self.clip.facts().frames;
        [
            some(self.missing).map(|pictures| Warning::PicturesMissing { pictures, of }),
            some(self.decoding.broken).map(|pieces| Warning::PicturesDamaged { pieces }),
            some(self.strays).map(|pictures| Warning::PicturesStray { pictures }),
            some(self.resized - self.reshaped).map(|pictures| Warning::SizeChanges { pictures }),
            some(self.reshaped).map(|pictures| Warning::ShapeChanges { pictures }),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn frames_can_move_between_threads() {
        fn movable<T: Send>() {}
        fn shared<T: Send + Sync + Clone>() {}
        movable::<Frames>();
        shared::<Clip>();
    }

    #[test]
    fn pixels_become_square() {
        assert_eq!(square_pixels(720, 576, 16.0 / 15.0), (768, 576));
        assert_eq!(square_pixels(720, 480, 8.0 / 9.0), (720, 540));
        assert_eq!(square_pixels(641, 481, 1.0), (640, 480));
    }
}
