//! Where a small place of one picture lies in the next, to a fraction of a pixel: pyramidal Lucas–Kanade.
//!
//! J.-Y. Bouguet, Pyramidal Implementation of the Lucas Kanade Feature Tracker (Intel, 2000); the pyramid
//! (5 × 5 binomial, every second pixel) and the gradient (Scharr's 3-10-3) are those of OpenCV, whose answers
//! are the reference in the test.

use crate::types::{Plane, Point};

/// A grey picture and ever smaller ones of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Pyramid {
    levels: Vec<Plane>,
}

/// How a place is followed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// The window reaches so far on each side of its middle, px; at most [`MOST_HALF`]. Default: 7.
    pub half: usize,
    /// Steps on each level, at most. Default: 12.
    pub steps: usize,
    /// A step shorter than this ends the level, px. Default: 0.02.
    pub enough_px: f64,
}

/// The largest [`Window::half`].
pub const MOST_HALF: usize = 15;

impl Default for Window {
    fn default() -> Self {
        Self { half: 7, steps: 12, enough_px: 0.02 }
    }
}

/// What was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found {
    /// px, as the place that was asked for.
    pub at: Point,
    /// Mean difference of luma between the two windows, levels.
    pub residual: f64,
    /// How well marked the place is: the smaller eigenvalue of the window's mean gradient matrix,
    /// (levels per px)². An edge alone has none.
    pub marked: f64,
}

impl Pyramid {
    /// `levels` ≥ 1 in all; fewer when the picture is too small.
    pub fn of(picture: Plane, levels: usize) -> Self {
        let mut all = vec![picture];
        while all.len() < levels {
            match all.last().map(halved) {
                Some(next) if next.width >= 16 && next.height >= 16 => all.push(next),
                _ => break,
            }
        }
        Self { levels: all }
    }

    /// How many there are.
    pub fn levels(&self) -> usize {
        self.levels.len()
    }

    /// 0 is the picture itself.
    pub fn level(&self, level: usize) -> Option<&Plane> {
        self.levels.get(level)
    }

    /// Forgets the finest level; false when it is the only one.
    pub fn coarsen(&mut self) -> bool {
        let more = self.levels.len() > 1;
        if more {
            self.levels.remove(0);
        }
        more
    }

    /// Bytes held.
    pub fn bytes(&self) -> usize {
        self.levels.iter().map(|l| l.data.len()).sum()
    }

    /// Where the window around `at` lies in `next`, looked for from `guess`. `None` outside the picture and
    /// where there is nothing to hold on to. Places in px with pixel centres at .5.
    pub fn follow(&self, next: &Self, at: Point, guess: Point, window: &Window) -> Option<Found> {
        let base = self.levels.first()?;
        if !inside(base, at) || !at.is_finite() || !guess.is_finite() {
            return None;
        }
        let half = window.half.clamp(1, MOST_HALF);
        let mut off = (guess - at) * (1.0 / f64::from(1u32 << (self.levels.len() - 1)));
        let mut found = None;
        for (level, (from, to)) in self.levels.iter().zip(&next.levels).enumerate().rev() {
            let by = f64::from(1u32 << level);
            // Indices of pixels: those of every level's pixels lie on each other at 0, so they halve.
            let centre = Point::new((at.x - 0.5) / by, (at.y - 0.5) / by);
            match refine(from, to, centre, off, half, window) {
                Some(better) => {
                    off = better.0;
                    found = Some(better);
                }
                None if level == 0 => return None,
                None => {}
            }
            if level > 0 {
                off = off * 2.0;
            }
        }
        let (off, residual, marked) = found?;
        let at = at + off;
        inside(next.levels.first()?, at).then_some(Found { at, residual, marked })
    }
}

fn inside(plane: &Plane, at: Point) -> bool {
    at.x >= 0.0 && at.y >= 0.0 && at.x < plane.width as f64 && at.y < plane.height as f64
}

/// One level: offset, mean difference, smaller eigenvalue.
fn refine(
    from: &Plane,
    to: &Plane,
    centre: Point,
    mut off: Point,
    half: usize,
    window: &Window,
) -> Option<(Point, f64, f64)> {
    const MOST_SIDE: usize = 2 * MOST_HALF + 3;
    let side = 2 * half + 1;
    let n = (side * side) as f64;
    // One pixel more on each side for the gradient.
    let mut grown = [0.0f32; MOST_SIDE * MOST_SIDE];
    cut(from, centre, half + 1, &mut grown);
    let (mut ix, mut iy, mut it) = (Vec::new(), Vec::new(), Vec::new());
    for v in [&mut ix, &mut iy, &mut it] {
        v.reserve_exact(side * side);
    }
    let wide = side + 2;
    let (mut xx, mut xy, mut yy) = (0.0f64, 0.0f64, 0.0f64);
    for rows in grown.chunks_exact(wide).take(wide).collect::<Vec<_>>().windows(3) {
        let [a, b, c] = rows else { continue };
        for ((a, b), c) in a.windows(3).zip(b.windows(3)).zip(c.windows(3)) {
            let gx = (3.0 * (a[2] - a[0]) + 10.0 * (b[2] - b[0]) + 3.0 * (c[2] - c[0])) / 32.0;
            let gy = (3.0 * (c[0] - a[0]) + 10.0 * (c[1] - a[1]) + 3.0 * (c[2] - a[2])) / 32.0;
            ix.push(gx);
            iy.push(gy);
            it.push(b[1]);
            xx += f64::from(gx * gx);
            xy += f64::from(gx * gy);
            yy += f64::from(gy * gy);
        }
    }
    let marked = (xx + yy - ((xx - yy).powi(2) + 4.0 * xy * xy).sqrt()) / (2.0 * n);
    let det = xx * yy - xy * xy;
    if marked < 0.1 || det < 1e-9 {
        return None;
    }
    let mut now = [0.0f32; MOST_SIDE * MOST_SIDE];
    let mut last = Point::default();
    let mut residual = 0.0;
    for step in 0..window.steps.max(1) {
        cut(to, centre + off, half, &mut now);
        let (mut bx, mut by, mut sum) = (0.0f32, 0.0f32, 0.0f32);
        for (((gx, gy), i), j) in ix.iter().zip(&iy).zip(&it).zip(&now) {
            let d = i - j;
            bx += d * gx;
            by += d * gy;
            sum += d.abs();
        }
        residual = f64::from(sum) / n;
        let (bx, by) = (f64::from(bx), f64::from(by));
        let by_px = Point::new((yy * bx - xy * by) / det, (xx * by - xy * bx) / det);
        if !by_px.is_finite() || by_px.length() > 4.0 * half as f64 {
            return None;
        }
        off = off + by_px;
        if by_px.length() <= window.enough_px {
            break;
        }
        // To and fro between two places: the middle.
        if step > 0 && (by_px + last).length() < 0.01 {
            off = off - by_px * 0.5;
            break;
        }
        last = by_px;
    }
    Some((off, residual, marked))
}

/// The `2·half + 1` square around `centre` (index of pixels), bilinear, the border repeated.
fn cut(plane: &Plane, centre: Point, half: usize, out: &mut [f32]) {
    let side = 2 * half + 1;
    let (left, top) = ((centre.x - half as f64).floor(), (centre.y - half as f64).floor());
    let (fx, fy) = ((centre.x - half as f64 - left) as f32, (centre.y - half as f64 - top) as f32);
    let (left, top) = (left.clamp(-1e6, 1e6) as i64, top.clamp(-1e6, 1e6) as i64);
    let weights = [(1.0 - fx) * (1.0 - fy), fx * (1.0 - fy), (1.0 - fx) * fy, fx * fy];
    let (w, h) = (plane.width as i64, plane.height as i64);
    let whole = left >= 0 && top >= 0 && left + (side as i64) < w && top + (side as i64) < h;
    let mut edge = [[0u8; 2 * MOST_HALF + 4]; 2];
    for (y, row) in out.chunks_exact_mut(side).take(side).enumerate() {
        let y = top + y as i64;
        let (upper, lower): (&[u8], &[u8]) = if whole {
            let from = left as usize;
            (&plane.row(y as usize)[from..from + side + 1], &plane.row(y as usize + 1)[from..from + side + 1])
        } else {
            for (k, line) in edge.iter_mut().enumerate() {
                let source = plane.row((y + k as i64).clamp(0, h - 1) as usize);
                for (x, v) in line.iter_mut().take(side + 1).enumerate() {
                    *v = source[(left + x as i64).clamp(0, w - 1) as usize];
                }
            }
            (&edge[0][..side + 1], &edge[1][..side + 1])
        };
        for ((o, a), b) in row.iter_mut().zip(upper.windows(2)).zip(lower.windows(2)) {
            *o = weights[0] * f32::from(a[0])
                + weights[1] * f32::from(a[1])
                + weights[2] * f32::from(b[0])
                + weights[3] * f32::from(b[1]);
        }
    }
}

/// Every second pixel after a 5 × 5 binomial; the border mirrored about its last pixel.
fn halved(plane: &Plane) -> Plane {
    let (w, h) = (plane.width as i64, plane.height as i64);
    let mirror = |i: i64, n: i64| -> usize {
        let i = i.abs();
        (if i >= n { 2 * n - 2 - i } else { i }).clamp(0, n - 1) as usize
    };
    let (width, height) = (plane.width.div_ceil(2), plane.height.div_ceil(2));
    const KERNEL: [u32; 5] = [1, 4, 6, 4, 1];
    let mut data = Vec::with_capacity(width * height);
    let mut column = vec![0u32; plane.width];
    for y in 0..height as i64 {
        column.fill(0);
        for (k, weight) in KERNEL.into_iter().enumerate() {
            for (sum, v) in column.iter_mut().zip(plane.row(mirror(2 * y + k as i64 - 2, h))) {
                *sum += weight * u32::from(*v);
            }
        }
        for x in 0..width as i64 {
            let sum: u32 = (0i64..5).zip(KERNEL).map(|(k, c)| c * column[mirror(2 * x + k - 2, w)]).sum();
            data.push(((sum + 128) >> 8) as u8);
        }
    }
    Plane { width, height, data }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Plane;

    /// The picture of fixtures/flow.py: waves and two blobs, turned by `turn_rad` and shifted.
    fn picture(turn_rad: f64, shift: Point) -> Plane {
        let (width, height) = (160usize, 120usize);
        let mut plane = Plane::filled(width, height, 0);
        let (sin, cos) = turn_rad.sin_cos();
        for y in 0..height {
            for x in 0..width {
                let (dx, dy) = (x as f64 - 80.0 - shift.x, y as f64 - 60.0 - shift.y);
                let (u, v) = (80.0 + cos * dx + sin * dy, 60.0 - sin * dx + cos * dy);
                let waves = 30.0 * (0.21 * u + 0.05 * v).sin() + 25.0 * (0.17 * v - 0.08 * u).cos();
                let fine = 12.0 * (0.61 * u).sin() * (0.53 * v).cos();
                let blob =
                    |bx: f64, by: f64, r: f64| (-((u - bx).powi(2) + (v - by).powi(2)) / (r * r)).exp();
                let value =
                    120.0 + waves + fine + 50.0 * blob(60.0, 50.0, 9.0) - 45.0 * blob(104.0, 71.0, 7.0);
                plane.row_mut(y)[x] = value.round().clamp(0.0, 255.0) as u8;
            }
        }
        plane
    }

    #[test]
    fn agrees_with_opencv() {
        let text = include_str!("../../fixtures/flow.json");
        let data: serde_json::Value = serde_json::from_str(text).unwrap();
        let number = |v: &serde_json::Value| v.as_f64().unwrap();
        let mut compared = 0;
        for case in data["cases"].as_array().unwrap() {
            let shift = Point::new(number(&case["shift"][0]), number(&case["shift"][1]));
            let levels = case["levels"].as_u64().unwrap() as usize;
            let window = Window { half: case["half"].as_u64().unwrap() as usize, steps: 30, enough_px: 0.01 };
            let from = Pyramid::of(picture(0.0, Point::default()), levels);
            let to = Pyramid::of(picture(number(&case["turn_rad"]), shift), levels);
            for place in case["places"].as_array().unwrap() {
                // OpenCV counts from the middle of the first pixel.
                let half = Point::new(0.5, 0.5);
                let at = Point::new(number(&place["from"][0]), number(&place["from"][1])) + half;
                let theirs = Point::new(number(&place["to"][0]), number(&place["to"][1])) + half;
                let ours = from.follow(&to, at, at, &window).unwrap();
                assert!(ours.at.distance(theirs) < 0.03, "{at:?}: {ours:?}, OpenCV {theirs:?}");
                // Its eigenvalue counts gradients in 32 levels and is scaled by 2^-20.
                let marked = number(&place["least_eigenvalue"]) * 1024.0;
                assert!((ours.marked / marked - 1.0).abs() < 0.03, "{} {marked}", ours.marked);
                compared += 1;
            }
        }
        assert!(compared >= 80, "{compared}");
    }

    #[test]
    fn a_known_shift_is_found_there_and_back() {
        let shift = Point::new(6.3, -3.4);
        let (a, b) = (Pyramid::of(picture(0.0, Point::default()), 3), Pyramid::of(picture(0.0, shift), 3));
        for (x, y) in [(60.5, 50.5), (104.0, 71.0), (80.2, 60.9)] {
            let at = Point::new(x, y);
            let there = a.follow(&b, at, at, &Window::default()).unwrap();
            assert!(there.at.distance(at + shift) < 0.05, "{there:?}");
            let back = b.follow(&a, there.at, there.at, &Window::default()).unwrap();
            assert!(back.at.distance(at) < 0.05, "{back:?}");
        }
    }

    #[test]
    fn nothing_to_hold_on_to_is_no_answer() {
        let flat = Pyramid::of(Plane::filled(64, 64, 90), 3);
        let at = Point::new(30.0, 30.0);
        assert_eq!(flat.follow(&flat, at, at, &Window::default()), None);
        // An edge alone may slide along itself.
        let mut edge = Plane::filled(64, 64, 40);
        (0..64).for_each(|y| edge.row_mut(y)[32..].fill(200));
        let edge = Pyramid::of(edge, 3);
        assert_eq!(edge.follow(&edge, at, at, &Window::default()), None);
        for bad in [Point::new(-3.0, 4.0), Point::new(f64::NAN, 1.0), Point::new(64.0, 64.0)] {
            assert_eq!(edge.follow(&edge, bad, bad, &Window::default()), None);
        }
    }

    #[test]
    fn small_pictures_and_borders_are_safe() {
        for (w, h) in [(2, 2), (16, 300), (33, 17)] {
            let mut plane = Plane::filled(w, h, 0);
            for y in 0..h {
                for (x, v) in plane.row_mut(y).iter_mut().enumerate() {
                    *v = ((x * 37 + y * 91) % 251) as u8;
                }
            }
            let p = Pyramid::of(plane, 4);
            for (x, y) in [(0.0, 0.0), (w as f64 - 0.01, h as f64 - 0.01)] {
                let at = Point::new(x, y);
                if let Some(found) = p.follow(&p, at, at, &Window::default()) {
                    assert!(found.at.distance(at) < 0.1, "{found:?}");
                }
            }
        }
    }
}
