//! From how sure each coarse cell is to belong to a shape, to its edge: the distance from it everywhere near.

use crate::draw::Mask;
use crate::types::Rect;

/// A coarse grid over a panel: cell (0, 0) begins at `corner`, px; cells are `step` px wide.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    pub corner: (f64, f64),
    pub step: f64,
    pub columns: usize,
    pub rows: usize,
    /// 0…1; the shape ends at ½.
    pub sure: Vec<f32>,
}

/// Farther off the edge than this many cells nobody asks.
const FAR: f32 = 8.0;

impl Grid {
    pub fn new(bounds: Rect, step: f64) -> Self {
        let cells = |length: f64| (length / step).ceil().clamp(2.0, 4096.0) as usize;
        let (columns, rows) = (cells(bounds.width), cells(bounds.height));
        Self { corner: (bounds.x, bounds.y), step, columns, rows, sure: vec![0.0; columns * rows] }
    }

    fn at(&self, x: usize, y: usize) -> f32 {
        self.sure.get(y.min(self.rows - 1) * self.columns + x.min(self.columns - 1)).copied().unwrap_or(0.0)
    }

    /// Distance from the edge, cells, negative inside, good to within [`FAR`].
    fn distances(&self) -> Vec<f32> {
        let (w, h) = (self.columns, self.rows);
        let mut out = vec![FAR; w * h];
        for y in 0..h {
            for x in 0..w {
                let here = self.at(x, y);
                let (left, right) = (self.at(x.saturating_sub(1), y), self.at(x + 1, y));
                let (up, down) = (self.at(x, y.saturating_sub(1)), self.at(x, y + 1));
                let inside = here >= 0.5;
                if [left, right, up, down].iter().any(|v| (*v >= 0.5) != inside)
                    && let Some(d) = out.get_mut(y * w + x)
                {
                    let slope = ((right - left) * 0.5).hypot((down - up) * 0.5).max(0.05);
                    *d = ((here - 0.5).abs() / slope).min(1.0);
                }
            }
        }
        // Each cell is at most a step farther than its neighbours: down and up once.
        let spread = |out: &mut Vec<f32>, x: usize, y: usize, from: [(i64, i64, f32); 4]| {
            let mut best = out[y * w + x];
            for (dx, dy, far) in from {
                let (nx, ny) = (x as i64 + dx, y as i64 + dy);
                if nx >= 0 && ny >= 0 && nx < w as i64 && ny < h as i64 {
                    best = best.min(out[ny as usize * w + nx as usize] + far);
                }
            }
            out[y * w + x] = best;
        };
        const D: f32 = std::f32::consts::SQRT_2;
        for y in 0..h {
            for x in 0..w {
                spread(&mut out, x, y, [(-1, 0, 1.0), (0, -1, 1.0), (-1, -1, D), (1, -1, D)]);
            }
        }
        for y in (0..h).rev() {
            for x in (0..w).rev() {
                spread(&mut out, x, y, [(1, 0, 1.0), (0, 1, 1.0), (1, 1, D), (-1, 1, D)]);
            }
        }
        for (d, sure) in out.iter_mut().zip(&self.sure) {
            if *sure >= 0.5 {
                *d = -*d;
            }
        }
        out
    }

    /// The shape with an edge that fades over `fade` px, and a line of `line` px along its outside, on a panel of
    /// `size`.
    pub fn masks(&self, size: (usize, usize), fade: f64, line: f64) -> (Mask, Mask) {
        let (width, height) = (self.columns as f64 * self.step, self.rows as f64 * self.step);
        let mut mask = Mask::new(Rect::new(self.corner.0, self.corner.1, width, height), size);
        let mut around = mask.clone();
        let distances = self.distances();
        let step = self.step as f32;
        let (fade, line) = (fade as f32, line as f32);
        // Between which two cells' middles each pixel lies, and where between.
        let between = |px: usize, corner: f64, cells: usize| -> (usize, f32) {
            let at = ((px as f64 + 0.5 - corner) / self.step - 0.5).clamp(0.0, cells as f64 - 1.001);
            (at as usize, at.fract() as f32)
        };
        let columns: Vec<(usize, f32)> =
            (0..mask.width).map(|i| between(mask.x + i, self.corner.0, self.columns)).collect();
        let mut row = vec![0f32; self.columns];
        for y in 0..mask.height {
            let (j, t) = between(mask.y + y, self.corner.1, self.rows);
            let (top, low) = distances[j * self.columns..].split_at(self.columns);
            for ((r, a), b) in row.iter_mut().zip(top).zip(low) {
                *r = (a + (b - a) * t) * step;
            }
            let cells = y * mask.width..(y + 1) * mask.width;
            let out = mask.cover[cells.clone()].iter_mut().zip(&mut around.cover[cells]);
            for ((cover, edge), &(i, s)) in out.zip(&columns) {
                let d = row[i] + (row[i + 1] - row[i]) * s;
                *cover = ((0.5 - d / fade).clamp(0.0, 1.0) * 255.0) as u8;
                *edge = ((line * 0.5 - (d - line * 0.5).abs() + 0.5).clamp(0.0, 1.0) * 255.0) as u8;
            }
        }
        (mask, around)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_disc_keeps_its_size_and_gets_a_line_around() {
        let mut grid = Grid::new(Rect::new(10.0, 20.0, 300.0, 240.0), 3.0);
        let (cx, cy, r) = (50.0f64, 40.0, 25.0);
        for y in 0..grid.rows {
            for x in 0..grid.columns {
                let d = (x as f64 + 0.5 - cx).hypot(y as f64 + 0.5 - cy) - r;
                grid.sure[y * grid.columns + x] = (0.5 - d / 4.0).clamp(0.0, 1.0) as f32;
            }
        }
        let (mask, line) = grid.masks((400, 300), 4.0, 3.0);
        let area = std::f64::consts::PI * 75.0 * 75.0;
        assert!((mask.area_px() / area - 1.0).abs() < 0.02, "{} {area}", mask.area_px());
        let ring = std::f64::consts::TAU * 76.5 * 3.0;
        assert!((line.area_px() / ring - 1.0).abs() < 0.08, "{} {ring}", line.area_px());
    }

    #[test]
    fn an_empty_grid_is_an_empty_mask() {
        let grid = Grid::new(Rect::new(-5.0, -5.0, 20.0, 20.0), 2.0);
        let (mask, line) = grid.masks((30, 30), 3.0, 2.0);
        assert_eq!((mask.area_px(), line.area_px()), (0.0, 0.0));
    }
}
