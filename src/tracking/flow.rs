//! A picture and ever smaller ones of it, on which [`super::piece`] follows the parts of a body.
//!
//! 5 × 5 binomial, every second pixel: as J.-Y. Bouguet, Pyramidal Implementation of the Lucas Kanade Feature Tracker
//! (Intel, 2000), and OpenCV have it.

use crate::types::Plane;

/// A grey picture and ever smaller ones of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Pyramid {
    levels: Vec<Plane>,
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
    use super::super::piece::{Question, follow_piece};
    use super::*;
    use crate::types::Point;

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

    /// Places that OpenCV's pyramidal Lucas–Kanade follows, followed as pieces of a body by what the program runs.
    #[test]
    fn pieces_are_followed_as_opencv_follows_places() {
        let text = include_str!("../../fixtures/flow.json");
        let data: serde_json::Value = serde_json::from_str(text).unwrap();
        let number = |v: &serde_json::Value| v.as_f64().unwrap();
        let (mut shifted, mut turned) = (Vec::new(), Vec::new());
        for case in data["cases"].as_array().unwrap() {
            let shift = Point::new(number(&case["shift"][0]), number(&case["shift"][1]));
            let turn_rad = number(&case["turn_rad"]);
            let off = if turn_rad == 0.0 { &mut shifted } else { &mut turned };
            let from = Pyramid::of(picture(0.0, Point::default()), 3);
            let to = Pyramid::of(picture(turn_rad, shift), 3);
            for place in case["places"].as_array().unwrap() {
                // OpenCV counts from the middle of the first pixel.
                let half = Point::new(0.5, 0.5);
                let at = Point::new(number(&place["from"][0]), number(&place["from"][1])) + half;
                let theirs = Point::new(number(&place["to"][0]), number(&place["to"][1])) + half;
                let question = Question {
                    bones: &[(at - Point::new(4.0, 0.0), at + Point::new(4.0, 0.0))],
                    reach: 9.0,
                    middle: at,
                    // Nothing behind it: the scene goes where it explains no pixel.
                    scene: &|p| p + Point::new(41.0, 37.0),
                    scene_slack: 0.0,
                    noise: 2.5,
                    starts: &[Point::default(), shift],
                };
                let answer = follow_piece(&from, &to, &question).unwrap();
                off.push((at + answer.way.shift).distance(theirs));
            }
        }
        assert!(shifted.len() + turned.len() >= 80);
        // A piece may turn and is as large as a shoe; a place is a window that only shifts.
        let most = |off: &[f64]| off.iter().copied().fold(0.0, f64::max);
        assert!(most(&shifted) < 0.03 && most(&turned) < 0.2, "{} {}", most(&shifted), most(&turned));
    }

    #[test]
    fn small_pictures_are_safe() {
        for (w, h) in [(0, 0), (0, 40), (1, 1), (2, 2), (16, 300), (33, 17)] {
            let mut plane = Plane::filled(w, h, 0);
            for y in 0..h {
                for (x, v) in plane.row_mut(y).iter_mut().enumerate() {
                    *v = ((x * 37 + y * 91) % 251) as u8;
                }
            }
            let mut p = Pyramid::of(plane, 4);
            assert!(p.levels() >= 1 && p.bytes() >= w * h);
            while p.coarsen() {}
            assert!(p.levels() == 1 && p.level(1).is_none());
        }
    }
}
