//! A second camera on a swing: its picture stands under the first one's, in step with it.

use super::super::framing::{Source, four};
use super::super::marks::Marks;
use super::Stage;
use crate::draw::{Align, Canvas, Style, theme};
use crate::types::{Offset, Reading, Result};

/// A second camera on one of the two swings.
#[derive(Debug, Clone, Copy)]
pub struct SecondAngle<'a> {
    /// What was read from it.
    pub reading: &'a Reading,
    /// From the first angle's time to this one's.
    pub offset: Offset,
}

impl<'a> Stage<'a> {
    /// Second angles of the two, shown under the first ones where those stand side by side.
    pub fn with_second(mut self, second: [Option<SecondAngle<'a>>; 2]) -> Self {
        if !self.layout.has_room_below() || second.iter().all(Option::is_none) {
            return self;
        }
        let size = (self.place.width, self.place.height);
        let first = [self.readings[0], self.readings[1]];
        let under = second.map(|s| s.map(|s| s.reading));
        let below = under.map(|r| r.map(Source::whole));
        (self.place, self.views) = four(size, self.sources(), below, self.pairing.registration.as_ref());
        self.readings.truncate(2);
        self.readings.extend([0, 1].map(|i| under[i].unwrap_or(first[i])));
        self.marks = self.readings.iter().map(|r| Marks::new(r)).collect();
        self.second = second;
        self
    }

    /// The source time of `side` at a moment of the two swings; `None` where it is not shown.
    pub fn side_s(&self, side: usize, today_s: f64, reference_s: f64) -> Option<f64> {
        let first_s = if side.is_multiple_of(2) { today_s } else { reference_s };
        let of = |s: &SecondAngle| s.offset.second_from_first(first_s);
        self.shows(side).then(|| match side {
            2.. => self.second.get(side - 2).and_then(Option::as_ref).map_or(first_s, of),
            _ => first_s,
        })
    }

    /// A rep without a second angle beside one that has it: a quiet panel that says so.
    pub(super) fn without_second(&self, canvas: &mut Canvas) -> Result<()> {
        if self.second.iter().all(Option::is_none) {
            return Ok(());
        }
        for (second, view) in self.second.iter().zip(self.views.iter().skip(2)) {
            if second.is_none() {
                let (s, panel) = (&self.place.sizes, view.panel);
                canvas.fill_block(panel, theme::RAISED);
                canvas.round_corners(panel, s.radius, theme::GROUND);
                let style = Style::semibold(s.small, theme::QUIET);
                let (style, lines) = self.letters.fit(
                    self.captions.no_second_angle(),
                    style,
                    panel.width - 2.0 * s.margin,
                    2,
                    s.small,
                )?;
                self.letters.draw_lines(canvas, &lines, panel.centre(), style, Align::Middle)?;
            }
        }
        Ok(())
    }
}
