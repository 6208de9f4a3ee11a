//! Where source pictures come from and made ones go, as the render threads see it.

use std::path::Path;

use crate::ground::{Frame, Result, TimedFrame};
use crate::media;

/// A clip that can be read from any picture on.
pub trait Footage: Sync {
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
