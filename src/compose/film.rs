//! Where source pictures come from and made ones go, as the render threads see it.

use std::path::Path;

use crate::media;
use crate::types::{Frame, Result, TimedFrame};

/// A clip that can be read from any picture on.
pub trait Footage: Sync {
    /// The clip's file, which errors name.
    fn path(&self) -> &Path;
    /// Read in order from picture `from`, of each the part `cut`; `None` = the whole picture as it is.
    fn read_from(&self, from: usize, cut: Option<media::Cut>) -> Result<Box<dyn Pictures + '_>>;
    /// The picture nearest to a real time.
    fn nearest(&self, real_s: f64) -> usize;
    /// Real time of a picture, s.
    fn real_s(&self, index: usize) -> f64;
}

/// Pictures in order; `None` after the last.
pub trait Pictures {
    /// The first from number `index` on that was not given yet.
    fn picture_from(&mut self, index: usize) -> Result<Option<TimedFrame>>;
}

/// Takes made pictures in order.
pub trait Sink {
    /// Takes the next picture, in order. An error ends the render.
    fn take(&mut self, frame: &Frame) -> Result<()>;
}

impl Footage for media::Clip {
    fn path(&self) -> &Path {
        &self.facts().path
    }

    fn read_from(&self, from: usize, cut: Option<media::Cut>) -> Result<Box<dyn Pictures + '_>> {
        Ok(Box::new(match cut {
            Some(cut) => self.cuts(from, cut)?,
            None => self.frames(from, None)?,
        }))
    }

    fn nearest(&self, real_s: f64) -> usize {
        self.frame_at_real(real_s)
    }

    fn real_s(&self, index: usize) -> f64 {
        media::Clip::real_s(self, index)
    }
}

/// A clip as it is shown: as it was filmed, or as its mirror image.
#[derive(Clone, Copy)]
pub struct Film<'a> {
    /// The indexed clip that is decoded.
    pub clip: &'a media::Clip,
    pub(crate) mirrored: bool,
}

impl Film<'_> {
    /// Where a part of a shown picture lies in the picture as it was filmed.
    pub fn filmed_cut(&self, cut: media::Cut) -> media::Cut {
        if self.mirrored { mirrored_cut(cut, self.clip.facts().width) } else { cut }
    }

    /// A picture as it was filmed, as it is shown.
    pub fn shown(&self, picture: TimedFrame) -> TimedFrame {
        if self.mirrored { TimedFrame { frame: mirrored(picture.frame), ..picture } } else { picture }
    }
}

impl Footage for Film<'_> {
    fn path(&self) -> &Path {
        &self.clip.facts().path
    }

    fn read_from(&self, from: usize, cut: Option<media::Cut>) -> Result<Box<dyn Pictures + '_>> {
        if !self.mirrored {
            return self.clip.read_from(from, cut);
        }
        let cut = cut.map(|cut| mirrored_cut(cut, self.clip.facts().width));
        Ok(Box::new(Mirrored(self.clip.read_from(from, cut)?)))
    }

    fn nearest(&self, real_s: f64) -> usize {
        self.clip.frame_at_real(real_s)
    }

    fn real_s(&self, index: usize) -> f64 {
        self.clip.real_s(index)
    }
}

struct Mirrored<'a>(Box<dyn Pictures + 'a>);

impl Pictures for Mirrored<'_> {
    fn picture_from(&mut self, index: usize) -> Result<Option<TimedFrame>> {
        let picture = self.0.picture_from(index)?;
        Ok(picture.map(|p| TimedFrame { frame: mirrored(p.frame), ..p }))
    }
}

/// Where a part of a mirrored picture lies in the picture as it was filmed.
fn mirrored_cut(cut: media::Cut, width: usize) -> media::Cut {
    media::Cut { x: (width & !1).saturating_sub(cut.x + cut.width), ..cut }
}

/// Left to right.
fn mirrored(mut picture: Frame) -> Frame {
    for plane in [&mut picture.y, &mut picture.u, &mut picture.v] {
        plane.data.chunks_exact_mut(plane.width.max(1)).for_each(<[u8]>::reverse);
    }
    picture
}

impl Pictures for media::Frames {
    fn picture_from(&mut self, index: usize) -> Result<Option<TimedFrame>> {
        self.frame_from(index)
    }
}

impl Sink for media::Writer {
    fn take(&mut self, frame: &Frame) -> Result<()> {
        self.write(frame)
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;

    /// A part of the mirrored picture is the mirrored part of the picture.
    #[test]
    fn parts_of_a_mirrored_picture() {
        let hit = sample::reference();
        let cut = media::Cut { x: 700, y: 300, width: 320, height: 400, size: (320, 400) };
        let mut whole = hit.picture(150);
        let there = mirrored(sample::cut_out(&whole, mirrored_cut(cut, hit.size.0)));
        whole = mirrored(whole);
        assert!(there == sample::cut_out(&whole, cut));
        assert!(there != sample::cut_out(&hit.picture(150), cut));
        assert!(mirrored(whole) == hit.picture(150));
    }
}
