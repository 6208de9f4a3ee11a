//! Where source pictures come from and made ones go, as the render threads see it.

use std::path::Path;

use crate::ground::{Frame, Result, TimedFrame};
use crate::media;

/// A clip that can be read from any picture on.
pub trait Footage: Sync {
    fn path(&self) -> &Path;
    /// Read in order from picture `from`.
    fn read_from(&self, from: usize) -> Result<Box<dyn Pictures + '_>>;
    /// The picture nearest to a real time.
    fn nearest(&self, real_s: f64) -> usize;
    /// Real time of a picture, s.
    fn real_s(&self, index: usize) -> f64;
}

/// Pictures in order; `None` after the last.
pub trait Pictures {
    fn next_picture(&mut self) -> Result<Option<TimedFrame>>;
}

/// Takes made pictures in order.
pub trait Sink: Send {
    fn take(&mut self, frame: &Frame) -> Result<()>;
}

impl Footage for media::Clip {
    fn path(&self) -> &Path {
        &self.facts().path
    }

    fn read_from(&self, from: usize) -> Result<Box<dyn Pictures + '_>> {
        Ok(Box::new(self.frames(from, None)?))
    }

    fn nearest(&self, real_s: f64) -> usize {
        self.frame_at_real(real_s)
    }

    fn real_s(&self, index: usize) -> f64 {
        media::Clip::real_s(self, index)
    }
}

impl Pictures for media::Frames {
    fn next_picture(&mut self) -> Result<Option<TimedFrame>> {
        self.next_frame()
    }
}

impl Sink for media::Writer {
    fn take(&mut self, frame: &Frame) -> Result<()> {
        self.write(frame)
    }
}
