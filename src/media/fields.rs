//! Interlaced pictures hold two moments, half a picture apart: they become one picture for each, by FFmpeg's bwdif.

use ff::filter;
use ffmpeg_next as ff;

use std::path::Path;

use super::decode::Decoding;
use super::ffmpeg::{self, Source};
use crate::types::Result as Outcome;

/// Pictures before a wanted one that the filter has to see for its first result to be as good as any.
pub(super) const LEAD: usize = 2;

/// So many pictures are asked whether their halves differ, and so many answers are enough.
const ASKED: usize = 250;
const ENOUGH: usize = 8;

/// Whether the halves of pictures that are said to be interlaced were taken one after the other. Some camcorders and
/// programs store whole pictures as if they were halves (PsF). FFmpeg's idet looks for the combs that motion makes;
/// where nothing moves, the file's own word is believed.
pub(super) fn are_halves(path: &Path, source: Source) -> Outcome<bool> {
    let failed = |e: ff::Error| ffmpeg::not_video(path, &e);
    let tick = source.time_base;
    let mut decoding = Decoding::new(path, source, 2, ff::frame::Video::empty())?;
    let mut fields: Option<Fields> = None;
    let (mut halves, mut whole) = (0, 0);
    for _ in 0..ASKED {
        let Some(pts) = decoding.next().map_err(failed)? else { break };
        let unit = &mut decoding.unit;
        let asked = match fields.take().filter(|f| f.fits(unit)) {
            Some(fields) => fields,
            None => Fields::with(unit, tick, "idet").map_err(failed)?,
        };
        let fields = fields.insert(asked);
        fields.give(unit, pts).map_err(failed)?;
        while fields.take(unit).map_err(failed)?.is_some() {
            match unit.metadata().get("lavfi.idet.multiple.current_frame") {
                Some("tff" | "bff") => halves += 1,
                Some("progressive") => whole += 1,
                _ => (),
            }
        }
        if halves + whole >= ENOUGH {
            break;
        }
    }
    Ok(whole <= 2 * halves)
}

/// A running filter. Times of what comes out are in half ticks of what goes in.
pub(super) struct Fields {
    graph: filter::Graph,
    made_for: (ff::format::Pixel, u32, u32),
    ended: bool,
}

impl Fields {
    /// One picture for each half of pictures like `picture`.
    pub(super) fn new(picture: &ff::frame::Video, tick: ff::Rational) -> Result<Self, ff::Error> {
        Self::with(picture, tick, "bwdif=mode=send_field:parity=auto:deint=all")
    }

    fn with(picture: &ff::frame::Video, tick: ff::Rational, filter: &str) -> Result<Self, ff::Error> {
        let made_for = (picture.format(), picture.width(), picture.height());
        let format = ff::ffi::AVPixelFormat::from(picture.format()) as i32;
        let source = format!(
            "video_size={}x{}:pix_fmt={format}:time_base={}/{}:pixel_aspect=1/1",
            made_for.1,
            made_for.2,
            tick.numerator(),
            tick.denominator()
        );
        let found = |name| filter::find(name).ok_or(ff::Error::FilterNotFound);
        let mut graph = filter::Graph::new();
        graph.add(&found("buffer")?, "in", &source)?;
        graph.add(&found("buffersink")?, "out", "")?;
        graph.output("in", 0)?.input("out", 0)?.parse(filter)?;
        graph.validate()?;
        Ok(Self { graph, made_for, ended: false })
    }

    /// Whether it takes a picture like this one.
    pub(super) fn fits(&self, picture: &ff::frame::Video) -> bool {
        self.made_for == (picture.format(), picture.width(), picture.height())
    }

    pub(super) fn give(&mut self, picture: &mut ff::frame::Video, pts: i64) -> Result<(), ff::Error> {
        picture.set_pts(Some(pts));
        self.graph.get("in").ok_or(ff::Error::FilterNotFound)?.source().add(picture)
    }

    /// No more will come.
    pub(super) fn end(&mut self) -> Result<(), ff::Error> {
        if std::mem::replace(&mut self.ended, true) {
            return Ok(());
        }
        self.graph.get("in").ok_or(ff::Error::FilterNotFound)?.source().flush()
    }

    /// The next made picture and its time in half ticks; `None` when it wants more, or is at its end.
    pub(super) fn take(&mut self, into: &mut ff::frame::Video) -> Result<Option<i64>, ff::Error> {
        let mut out = self.graph.get("out").ok_or(ff::Error::FilterNotFound)?;
        match out.sink().frame(into) {
            Ok(()) => Ok(Some(into.pts().unwrap_or(i64::MIN))),
            Err(ff::Error::Eof) => Ok(None),
            Err(e) if ffmpeg::wants_more(&e) => Ok(None),
            Err(e) => Err(e),
        }
    }
}
