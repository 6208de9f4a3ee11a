//! Small grey pictures, their well-marked places, and the same places found in another picture.

use image::GrayImage;

use super::super::params::{CORNER_CELL, CORNERS_A_CELL, PATCH_HALF, STEADY_LONG_SIDE};
use crate::types::{Frame, Point, Rect};

/// A small grey copy of a picture, kept to find the camera's motion.
#[derive(Debug, Clone)]
pub struct Patchwork(pub(super) GrayImage);

impl Patchwork {
    pub(crate) fn of(picture: &Frame) -> Self {
        let (w, h) = (picture.width(), picture.height());
        let by = (w.max(h) as f64 / STEADY_LONG_SIDE as f64).max(1.0);
        let (width, height) = (((w as f64 / by) as usize).max(1), ((h as f64 / by) as usize).max(1));
        let span = |i: usize, small: usize, full: usize| {
            let from = i * full / small;
            from..((i + 1) * full / small).max(from + 1).min(full)
        };
        let mut grey = Vec::with_capacity(width * height);
        for row in 0..height {
            for column in 0..width {
                let (mut sum, mut n) = (0u32, 0u32);
                for y in span(row, height, h) {
                    for v in picture.y.row(y).get(span(column, width, w)).unwrap_or_default() {
                        sum += u32::from(*v);
                        n += 1;
                    }
                }
                grey.push((sum / n.max(1)) as u8);
            }
        }
        Self(GrayImage::from_raw(width as u32, height as u32, grey).unwrap_or_default())
    }

    fn at(&self, x: i32, y: i32) -> Option<i32> {
        let (x, y) = (u32::try_from(x).ok()?, u32::try_from(y).ok()?);
        self.0.get_pixel_checked(x, y).map(|p| i32::from(p.0[0]))
    }
}

/// Well-marked places away from the hitter, spread over the picture.
pub(super) fn scene_corners(picture: &Patchwork, hitter: Option<Rect>, to_full: f64) -> Vec<Point> {
    let mut found = imageproc::corners::corners_fast9(&picture.0, 10);
    found.sort_by(|a, b| b.score.total_cmp(&a.score));
    let mut kept: Vec<(u32, u32)> = Vec::new();
    let margin = PATCH_HALF as u32 + 2;
    for c in found {
        let inside = c.x >= margin
            && c.y >= margin
            && c.x + margin < picture.0.width()
            && c.y + margin < picture.0.height();
        let full = Point::new(f64::from(c.x) + 0.5, f64::from(c.y) + 0.5) * to_full;
        if !inside || hitter.is_some_and(|b| b.contains(full)) {
            continue;
        }
        let neighbours = kept
            .iter()
            .filter(|k| k.0 / CORNER_CELL == c.x / CORNER_CELL && k.1 / CORNER_CELL == c.y / CORNER_CELL);
        let close = kept.iter().any(|k| k.0.abs_diff(c.x) < 4 && k.1.abs_diff(c.y) < 4);
        if neighbours.count() < CORNERS_A_CELL && !close {
            kept.push((c.x, c.y));
        }
    }
    kept.truncate(160);
    kept.into_iter().map(|(x, y)| Point::new(f64::from(x) + 0.5, f64::from(y) + 0.5)).collect()
}

/// Where the patch around `corner` of `from` lies in `to`, near `guess`; to a fraction of a pixel.
pub(super) fn find_patch(
    from: &Patchwork,
    to: &Patchwork,
    corner: Point,
    guess: Point,
    reach: i32,
) -> Option<Point> {
    let (cx, cy) = (corner.x.floor() as i32, corner.y.floor() as i32);
    let (gx, gy) = (guess.x.floor() as i32, guess.y.floor() as i32);
    let mut patch = Vec::with_capacity(81);
    for dy in -PATCH_HALF..=PATCH_HALF {
        for dx in -PATCH_HALF..=PATCH_HALF {
            patch.push(from.at(cx + dx, cy + dy)?);
        }
    }
    // Sum of squared differences after each patch's own mean is taken off: exposure may change.
    let mean = |v: &[i32]| f64::from(v.iter().sum::<i32>()) / v.len() as f64;
    let patch_mean = mean(&patch);
    let mut other = Vec::with_capacity(81);
    let mut cost = |x: i32, y: i32| -> Option<f64> {
        other.clear();
        for dy in -PATCH_HALF..=PATCH_HALF {
            for dx in -PATCH_HALF..=PATCH_HALF {
                other.push(to.at(x + dx, y + dy)?);
            }
        }
        let shift = mean(&other) - patch_mean;
        Some(patch.iter().zip(&other).map(|(a, b)| (f64::from(b - a) - shift).powi(2)).sum())
    };
    let mut best = (f64::INFINITY, gx, gy);
    for y in gy - reach..=gy + reach {
        for x in gx - reach..=gx + reach {
            if let Some(c) = cost(x, y)
                && c < best.0
            {
                best = (c, x, y);
            }
        }
    }
    let (c, x, y) = best;
    let contrast: f64 = patch.iter().map(|v| (f64::from(*v) - patch_mean).powi(2)).sum();
    if !c.is_finite() || c > 0.35 * contrast {
        return None;
    }
    let part = |before: Option<f64>, after: Option<f64>| {
        let (Some(b), Some(a)) = (before, after) else { return 0.0 };
        let bend = b + a - 2.0 * c;
        if bend > 0.0 { (0.5 * (b - a) / bend).clamp(-0.5, 0.5) } else { 0.0 }
    };
    let fx = part(cost(x - 1, y), cost(x + 1, y));
    let fy = part(cost(x, y - 1), cost(x, y + 1));
    Some(Point::new(f64::from(x) + 0.5 + fx, f64::from(y) + 0.5 + fy))
}
