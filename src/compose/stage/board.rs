//! What stands on the output picture already.

use super::SIDES;
use crate::draw::Canvas;
use crate::types::{EventId, Frame};

/// The output picture as it was left, so that only what changes is drawn anew.
#[derive(Debug, Default)]
pub struct Board {
    pub(super) canvas: Option<Canvas>,
    pub(super) caption: Option<CaptionState>,
    /// Which source pictures are on it, and how many times slower than life it says they play.
    pub(super) pictures: Option<([Option<usize>; SIDES], f64)>,
}

impl Board {
    /// The picture; nothing before the first was composed.
    pub fn frame(&self) -> Option<&Frame> {
        self.canvas.as_ref().map(Canvas::frame)
    }

    /// A picture that is not composed of panels.
    pub fn show(&mut self, frame: Frame) {
        *self = Self { canvas: Some(Canvas::over(frame)), caption: None, pictures: None };
    }

    pub(super) fn into_frame(self) -> Frame {
        self.canvas.map_or(Frame::black(2, 2), Canvas::into_frame)
    }
}

/// What the words under the pictures say, and of which shot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CaptionState {
    pub event: Option<EventId>,
    pub hold: Option<EventId>,
    pub number: usize,
}
