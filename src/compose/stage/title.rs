//! Words alone, the line of names above the panels, and that a picture is mirrored.

use super::Stage;
use crate::draw::{Align, Canvas, Style, theme};
use crate::types::{Frame, Point, Rect, Result};

impl Stage<'_> {
    /// Words alone, the first line large, in the middle.
    pub fn title(&self) -> Result<Frame> {
        let mut canvas = Canvas::new(self.place.width, self.place.height, theme::GROUND);
        let s = &self.place.sizes;
        let width = self.place.width as f64 - 2.0 * s.margin;
        let mut set = Vec::new();
        for (i, line) in self.title.iter().enumerate() {
            let style = match i {
                0 => Style::bold(s.title * 1.35, theme::TEXT),
                _ => Style::semibold(s.body, theme::QUIET),
            };
            set.push(self.letters.fit(line, style, width, 3, s.small)?);
        }
        let height: f64 = set.iter().map(|(style, lines)| style.leading_px() * lines.len() as f64).sum();
        let mut y = (self.place.height as f64 - height) / 2.0;
        let x = self.place.width as f64 / 2.0;
        for (style, lines) in &set {
            y += style.cap_px * 1.4;
            y = self.letters.draw_lines(&mut canvas, lines, Point::new(x, y), *style, Align::Middle)?;
            y -= style.cap_px * 1.4 - 0.4 * style.cap_px;
        }
        Ok(canvas.into_frame())
    }

    /// A ghost's two names share the line above its one panel.
    pub(super) fn header(&self, side: usize) -> Rect {
        let place = if self.reference_first { 1 - side.min(1) } else { side };
        if let (true, Some(h)) = (self.layout.overlaid(), self.place.headers.first()) {
            let gap = 28.0 * self.place.sizes.unit;
            let width = (h.width - gap) / 2.0;
            return Rect::new(h.x + place as f64 * (width + gap), h.y, width, h.height);
        }
        let place = if self.layout.alone().is_some() { 0 } else { place };
        self.place.headers.get(place).copied().unwrap_or(self.place.strip)
    }

    /// On the lower edge of a mirrored picture: that it is one. `canvas` is the panel.
    pub(super) fn mirror_told(&self, canvas: &mut Canvas, side: usize, panel: Rect) -> Result<()> {
        let s = &self.place.sizes;
        if !self.mirrored[side % 2] {
            return Ok(());
        }
        let label = if self.layout.overlaid() { self.labels.get(side).copied() } else { None };
        let text = self.captions.mirror_image(label);
        let pad = 18.0 * s.unit;
        let style = Style::semibold(s.small, theme::TEXT);
        let (style, lines) = self.letters.fit(&text, style, panel.width - 4.0 * pad, 1, s.small)?;
        let width = self.letters.width(lines.first().map_or("", |l| l.as_str()), style)? + 2.0 * pad;
        let height = s.small + 1.6 * pad;
        let place = Rect::new(pad, panel.height - pad - height, width, height);
        canvas.round_rect(place, s.radius / 2.0, theme::GROUND, 0.8);
        let at = Point::new(place.x + pad, place.bottom() - 0.8 * pad);
        self.letters.draw_lines(canvas, &lines, at, style, Align::Left)?;
        Ok(())
    }
}
