use super::mask::around;
use super::{Ink, Mask, Rgb, Stroke};
use crate::types::{Frame, Plane, Point, Rect};

/// A picture being drawn on. Distances in px from its top left corner, or from that of the part that is drawn on
/// at the moment ([`Canvas::within`]).
#[derive(Debug, Clone)]
pub struct Canvas {
    frame: Frame,
    part: Block,
}

impl Canvas {
    /// One colour all over. Odd sizes are rounded up to even.
    pub fn new(width: usize, height: usize, colour: Rgb) -> Self {
        let Ink { y, u, v } = colour.ink();
        let (w, h) = (width.next_multiple_of(2), height.next_multiple_of(2));
        Self::over(Frame {
            y: Plane::filled(w, h, y),
            u: Plane::filled(w / 2, h / 2, u),
            v: Plane::filled(w / 2, h / 2, v),
        })
    }

    pub(crate) fn over(frame: Frame) -> Self {
        let part = Block { x: 0, y: 0, width: frame.width(), height: frame.height() };
        Self { frame, part }
    }

    /// Draw on one part alone, as if it were the whole picture: nothing reaches past its edge. The corners are moved
    /// out to even places.
    pub fn within<T>(&mut self, rect: Rect, draw: impl FnOnce(&mut Self) -> T) -> T {
        let Block { x, y, width, height } = Block::of(rect, self.size());
        let outer = self.part;
        self.part = Block { x: outer.x + x, y: outer.y + y, width, height };
        let drawn = draw(self);
        self.part = outer;
        drawn
    }

    pub(crate) fn frame(&self) -> &Frame {
        &self.frame
    }

    /// The picture as it is.
    pub fn into_frame(self) -> Frame {
        self.frame
    }

    pub(crate) fn size(&self) -> (usize, usize) {
        (self.part.width, self.part.height)
    }

    /// A mask that fits `bounds` on this canvas.
    pub fn mask(&self, bounds: Rect) -> Mask {
        Mask::new(bounds, self.size())
    }

    /// Fill what `mask` covers. `alpha` 0…1.
    pub fn fill(&mut self, mask: &Mask, colour: Rgb, alpha: f64) {
        let ink = colour.ink();
        let alpha = (alpha.clamp(0.0, 1.0) * 256.0) as u16;
        let Block { x, y, width, height } = self.part;
        let width = mask.width.min(width.saturating_sub(mask.x));
        let height = mask.height.min(height.saturating_sub(mask.y));
        for pair in 0..height / 2 {
            let rows = &mask.cover[pair * 2 * mask.width..(pair * 2 + 2) * mask.width];
            let (top, low) = rows.split_at(mask.width);
            let (top, low) = (&top[..width], &low[..width]);
            // Most of a mask is empty: only what lies between its first and last covered px is touched.
            let first = first_covered(top).min(first_covered(low)) & !1;
            let end = end_covered(top).max(end_covered(low)).next_multiple_of(2).min(width);
            if first >= end {
                continue;
            }
            let (top, low) = (&top[first..end], &low[first..end]);
            let (left, row) = (x + mask.x + first, y + mask.y + pair * 2);
            for (row, cover) in [(row, top), (row + 1, low)] {
                let line = &mut self.frame.y.row_mut(row)[left..left + cover.len()];
                for (value, &c) in line.iter_mut().zip(cover) {
                    *value = blend(*value, ink.y, weight(u16::from(c), alpha));
                }
            }
            for (plane, to) in [(&mut self.frame.u, ink.u), (&mut self.frame.v, ink.v)] {
                let line = &mut plane.row_mut(row / 2)[left / 2..(left + top.len()) / 2];
                for ((value, t), l) in line.iter_mut().zip(top.chunks_exact(2)).zip(low.chunks_exact(2)) {
                    let c = u16::from(t[0]) + u16::from(t[1]) + u16::from(l[0]) + u16::from(l[1]);
                    *value = blend(*value, to, weight((c + 2) / 4, alpha));
                }
            }
        }
    }

    /// Fill whole pixels; the corners are moved out to even places.
    pub fn fill_block(&mut self, rect: Rect, colour: Rgb) {
        let Ink { y, u, v } = colour.ink();
        let block = Block::of(rect, self.size());
        let (left, top) = (self.part.x + block.x, self.part.y + block.y);
        for row in top..top + block.height {
            self.frame.y.row_mut(row)[left..left + block.width].fill(y);
        }
        for row in top / 2..(top + block.height) / 2 {
            let span = left / 2..(left + block.width) / 2;
            self.frame.u.row_mut(row)[span.clone()].fill(u);
            self.frame.v.row_mut(row)[span].fill(v);
        }
    }

    /// Copy a picture in with its top left at `(x, y)` (taken as even), cut to the canvas.
    pub fn place(&mut self, picture: &Frame, x: usize, y: usize) {
        let (x, y) = (x & !1, y & !1);
        let part = self.part;
        for (to, from, shift) in [
            (&mut self.frame.y, &picture.y, 0),
            (&mut self.frame.u, &picture.u, 1),
            (&mut self.frame.v, &picture.v, 1),
        ] {
            let width = from.width.min(part.width.saturating_sub(x) >> shift);
            let height = from.height.min(part.height.saturating_sub(y) >> shift);
            let (left, top) = ((part.x + x) >> shift, (part.y + y) >> shift);
            for row in 0..height {
                to.row_mut(top + row)[left..left + width].copy_from_slice(&from.row(row)[..width]);
            }
        }
    }

    /// Paint over a block's corners so that it looks rounded.
    pub fn round_corners(&mut self, rect: Rect, radius: f64, outside: Rgb) {
        let r = radius;
        for (x, y) in [
            (rect.x, rect.y),
            (rect.right() - r, rect.y),
            (rect.x, rect.bottom() - r),
            (rect.right() - r, rect.bottom() - r),
        ] {
            let corner = Rect::new(x, y, r, r);
            let mut mask = self.mask(corner);
            let mut inside = self.mask(corner);
            mask.add(corner, |px, py| {
                (px - corner.centre().x).abs().max((py - corner.centre().y).abs()) - r / 2.0
            });
            inside.round_rect(rect, radius);
            for (m, i) in mask.cover.iter_mut().zip(&inside.cover) {
                *m = (*m).min(255 - *i);
            }
            self.fill(&mask, outside, 1.0);
        }
    }

    /// `radius` in px; `alpha` 0…1.
    pub fn disc(&mut self, centre: Point, radius: f64, colour: Rgb, alpha: f64) {
        let mut mask = self.mask(around(centre, radius + 1.0));
        mask.disc(centre, radius);
        self.fill(&mask, colour, alpha);
    }

    pub(crate) fn ring(&mut self, centre: Point, radius: f64, width: f64, colour: Rgb, alpha: f64) {
        let mut mask = self.mask(around(centre, radius + width / 2.0 + 1.0));
        mask.ring(centre, radius, width);
        self.fill(&mask, colour, alpha);
    }

    pub(crate) fn round_rect(&mut self, rect: Rect, radius: f64, colour: Rgb, alpha: f64) {
        let mut mask = self.mask(rect);
        mask.round_rect(rect, radius);
        self.fill(&mask, colour, alpha);
    }

    pub(crate) fn round_frame(&mut self, rect: Rect, radius: f64, width: f64, colour: Rgb, alpha: f64) {
        let g = width / 2.0 + 1.0;
        let bounds = Rect::new(rect.x - g, rect.y - g, rect.width + 2.0 * g, rect.height + 2.0 * g);
        let mut mask = self.mask(bounds);
        mask.round_frame(rect, radius, width);
        self.fill(&mask, colour, alpha);
    }

    /// Through all points, px; `alpha` 0…1.
    pub fn line(&mut self, points: &[Point], stroke: Stroke, colour: Rgb, alpha: f64) {
        let Some(box_) = Rect::around(points.iter().copied()) else { return };
        let g = stroke.width / 2.0 + 1.0;
        let bounds = Rect::new(box_.x - g, box_.y - g, box_.width + 2.0 * g, box_.height + 2.0 * g);
        let mut mask = self.mask(bounds);
        mask.polyline(points, stroke);
        self.fill(&mask, colour, alpha);
    }
}

/// A rectangle of whole, even-aligned pixels inside a canvas.
#[derive(Debug, Clone, Copy)]
struct Block {
    x: usize,
    y: usize,
    width: usize,
    height: usize,
}

impl Block {
    fn of(rect: Rect, size: (usize, usize)) -> Self {
        let Mask { x, y, width, height, .. } = Mask::new(rect, size);
        Self { x, y, width, height }
    }
}

fn first_covered(cover: &[u8]) -> usize {
    cover.iter().position(|&c| c > 0).unwrap_or(cover.len())
}

fn end_covered(cover: &[u8]) -> usize {
    cover.iter().rposition(|&c| c > 0).map_or(0, |i| i + 1)
}

/// How much of the new colour, 0–255, for coverage 0–255 and alpha 0–256.
fn weight(cover: u16, alpha: u16) -> u16 {
    (cover * alpha + 128) >> 8
}

/// 16 bits throughout, so that several px are worked on at once.
fn blend(from: u8, to: u8, weight: u16) -> u8 {
    let sum = u16::from(from) * (255 - weight) + u16::from(to) * weight + 127;
    // Divided by 255, exactly for sums up to 255².
    ((sum + 1 + (sum >> 8)) >> 8) as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    const GROUND: Rgb = Rgb(0, 0, 0);
    const WHITE: Rgb = Rgb(255, 255, 255);
    const RED: Rgb = Rgb(255, 0, 0);

    #[test]
    fn luma_added_is_the_area_times_the_step() {
        let mut c = Canvas::new(64, 64, GROUND);
        c.disc(Point::new(31.7, 30.2), 12.0, WHITE, 1.0);
        let added: f64 = c.frame().y.data.iter().map(|&v| f64::from(v) - 16.0).sum();
        let want = std::f64::consts::PI * 144.0 * 219.0;
        assert!((added / want - 1.0).abs() < 0.01, "{added} {want}");
    }

    #[test]
    fn chroma_takes_the_mean_of_its_four_pixels() {
        let mut c = Canvas::new(8, 8, GROUND);
        // One whole pixel of the 2×2 at (2, 2) is red: a quarter of the chroma step.
        c.round_rect(Rect::new(2.0, 2.0, 1.0, 1.0), 0.0, RED, 1.0);
        let v = c.frame().v.row(1)[1];
        assert_eq!(v, 128 + 112 / 4);
        assert_eq!(c.frame().y.row(2)[2], RED.ink().y);
        assert_eq!(c.frame().y.row(2)[3], 16);
        assert_eq!(c.frame().v.row(1)[2], 128);
    }

    #[test]
    fn alpha_mixes() {
        let mut c = Canvas::new(8, 8, GROUND);
        c.round_rect(Rect::new(0.0, 0.0, 8.0, 8.0), 0.0, WHITE, 0.5);
        assert!((i32::from(c.frame().y.row(4)[4]) - 126).abs() <= 1);
    }

    #[test]
    fn a_picture_placed_past_the_edge_is_cut() {
        let mut c = Canvas::new(8, 8, GROUND);
        c.place(Canvas::new(8, 8, WHITE).frame(), 6, 5);
        assert_eq!(c.frame().y.row(4)[6], 235);
        assert_eq!(c.frame().y.row(4)[5], 16);
        assert_eq!(c.frame().y.row(3)[7], 16);
    }

    #[test]
    fn rounded_corners_leave_the_middle_alone() {
        let mut c = Canvas::new(40, 40, WHITE);
        c.round_corners(Rect::new(0.0, 0.0, 40.0, 40.0), 10.0, GROUND);
        assert_eq!(c.frame().y.row(0)[0], 16);
        assert_eq!(c.frame().y.row(39)[39], 16);
        assert_eq!(c.frame().y.row(20)[0], 235);
        assert_eq!(c.frame().y.row(20)[20], 235);
    }
}
