//! How sure it is of each cell that the ghost covers it: carried from the looks, and along the bones.

use super::GhostFrame;
use crate::compose::carry::{BONES, Bone, Bones, Carry, weights};
use crate::compose::edge::Grid;
use crate::math::bilinear_inside;
use crate::types::{Point, Rect, Similarity};

/// What the net sees so far off every bone is not the hitter, body heights: where it begins to count less, and
/// where it counts nothing.
const OFF: (f64, f64) = (0.03, 0.06);

/// The carrying is worked out at every so many cells and interpolated between.
const COARSER: usize = 6;
/// What the looks say of every cell, carried to this picture and averaged.
pub(super) fn fill(
    grid: &mut Grid,
    looks: &[(&GhostFrame, f64, Carry)],
    own: &Bones,
    picture_from_panel: &Similarity,
    body_px: f64,
) {
    /// One place of the coarser grid: how much it may count, and where it is in each look's own grid.
    struct Node {
        counts: f32,
        first: usize,
    }
    let (columns, rows) = (grid.columns / COARSER + 2, grid.rows / COARSER + 2);
    let (mut nodes, mut places) = (Vec::with_capacity(columns * rows), Vec::new());
    let between = COARSER as f64 * grid.step;
    for row in 0..rows {
        for column in 0..columns {
            let at = Point::new(
                grid.corner.0 + 0.5 * grid.step + column as f64 * between,
                grid.corner.1 + 0.5 * grid.step + row as f64 * between,
            );
            let p = picture_from_panel.apply(at);
            let (w, off): ([f64; BONES], f64) = weights(own, p, body_px);
            let counts = ((OFF.1 - off) / (OFF.1 - OFF.0)).clamp(0.0, 1.0) as f32;
            nodes.push(Node { counts, first: places.len() });
            for (look, _, carry) in looks {
                let there = look.grid_from_picture.apply(carry.apply(p, &w));
                places.push((there.x as f32, there.y as f32));
            }
        }
    }
    let all: f64 = looks.iter().map(|l| l.1).sum();
    for y in 0..grid.rows {
        let (j, t) = (y / COARSER, (y % COARSER) as f32 / COARSER as f32);
        for x in 0..grid.columns {
            let (i, s) = (x / COARSER, (x % COARSER) as f32 / COARSER as f32);
            let corners =
                [j * columns + i, j * columns + i + 1, (j + 1) * columns + i, (j + 1) * columns + i + 1];
            let shares = [(1.0 - s) * (1.0 - t), s * (1.0 - t), (1.0 - s) * t, s * t];
            let around = || corners.iter().zip(shares).filter_map(|(c, share)| Some((nodes.get(*c)?, share)));
            let counts: f32 = around().map(|(node, share)| node.counts * share).sum();
            if counts <= 0.0 {
                continue;
            }
            let mut sum = 0.0;
            for (k, (look, weight, _)) in looks.iter().enumerate() {
                let (mut gx, mut gy) = (0.0, 0.0);
                for (node, share) in around() {
                    let (px, py) = places.get(node.first + k).copied().unwrap_or_default();
                    gx += px * share;
                    gy += py * share;
                }
                sum += look.sure(gx, gy) * *weight as f32;
            }
            grid.sure[y * grid.columns + x] = counts * sum / all as f32;
        }
    }
}

impl GhostFrame {
    /// 0…1 at a place of its grid, px.
    fn sure(&self, x: f32, y: f32) -> f32 {
        bilinear_inside(&self.cover, f64::from(x) - 0.5, f64::from(y) - 0.5).map_or(0.0, |v| v as f32 / 255.0)
    }
}

/// A thick line from `a` to `b` (panel px), its half width going from one to the other.
pub(super) fn capsule(grid: &mut Grid, a: Point, b: Point, radius: (f64, f64)) {
    let bone = Bone { a, b, radius: 0.0 };
    let most = radius.0.max(radius.1) + 2.0 * grid.step;
    let Some(box_) = Rect::around([a, b]) else { return };
    let cell =
        |px: f64, corner: f64, cells: usize| (((px - corner) / grid.step).max(0.0) as usize).min(cells);
    let (x0, x1) = (
        cell(box_.x - most, grid.corner.0, grid.columns),
        cell(box_.right() + most, grid.corner.0, grid.columns),
    );
    let (y0, y1) =
        (cell(box_.y - most, grid.corner.1, grid.rows), cell(box_.bottom() + most, grid.corner.1, grid.rows));
    let ab = b - a;
    for y in y0..y1 {
        for x in x0..x1 {
            let p = Point::new(
                grid.corner.0 + (x as f64 + 0.5) * grid.step,
                grid.corner.1 + (y as f64 + 0.5) * grid.step,
            );
            let along = ((p - a).dot(ab) / ab.dot(ab).max(1e-12)).clamp(0.0, 1.0);
            let d = bone.distance(p) - (radius.0 + (radius.1 - radius.0) * along);
            // As wide a flank as the net's own edge has.
            let sure = (0.5 - d / (4.0 * grid.step)).clamp(0.0, 1.0) as f32;
            let cell = &mut grid.sure[y * grid.columns + x];
            *cell = cell.max(sure);
        }
    }
}
