//! How far the scene has shifted in the picture since the film began: a hand that holds the camera moves everything.

use super::params::{PAN_LONGEST, PAN_LOST_LEVELS, PAN_MOST_LEVELS, PAN_STRIDE};
use crate::types::Point;

use super::motion::Small;

/// Told every picture in order, says where the scene lies in it.
#[derive(Debug, Default)]
pub(super) struct PanMeter {
    reference: Option<Small>,
    /// Where the scene lay in the reference, and since then, px of the small pictures.
    base: Point,
    shift: (i32, i32),
    speed: (i32, i32),
    last: Point,
}

impl PanMeter {
    /// Where what lay at 0,0 in the first picture lies in this one, px of the small picture.
    pub(super) fn next(&mut self, now: &Small) -> Point {
        let Some(reference) = self.reference.as_ref().filter(|r| r.luma.len() == now.luma.len()) else {
            self.take(now);
            return self.last;
        };
        let (shift, levels) = best_shift(reference, now, self.shift, self.speed);
        if levels > PAN_LOST_LEVELS {
            self.take(now);
            return self.last;
        }
        self.speed = (shift.0 - self.shift.0, shift.1 - self.shift.1);
        self.shift = shift;
        self.last = self.base + finer(reference, now, shift);
        let far = |s: i32, length: usize| f64::from(s.abs()) > PAN_LONGEST * length as f64;
        if far(shift.0, now.width) || far(shift.1, now.height) {
            let speed = self.speed;
            self.take(now);
            self.speed = speed;
        }
        self.last
    }

    fn take(&mut self, now: &Small) {
        (self.base, self.shift, self.speed) = (self.last, (0, 0), (0, 0));
        self.reference = Some(now.clone());
    }
}

/// The shift that leaves least difference, and how much, levels.
fn best_shift(before: &Small, now: &Small, last: (i32, i32), speed: (i32, i32)) -> ((i32, i32), f64) {
    let starts = [last, (last.0 + speed.0, last.1 + speed.1)];
    let mut best = (last, f64::INFINITY);
    for start in starts {
        let levels = difference(before, now, start);
        if levels < best.1 {
            best = (start, levels);
        }
    }
    for step in [4, 2, 1, 1] {
        let from = best.0;
        for dy in [-step, 0, step] {
            for dx in [-step, 0, step] {
                let shift = (from.0 + dx, from.1 + dy);
                let levels = difference(before, now, shift);
                if levels < best.1 {
                    best = (shift, levels);
                }
            }
        }
    }
    best
}

/// The least of a parabola through the differences beside it, each way.
fn finer(before: &Small, now: &Small, (x, y): (i32, i32)) -> Point {
    let middle = difference(before, now, (x, y));
    let between = |less: f64, more: f64| {
        let bend = less + more - 2.0 * middle;
        if bend > 0.2 { ((less - more) / (2.0 * bend)).clamp(-0.5, 0.5) } else { 0.0 }
    };
    let across = between(difference(before, now, (x - 1, y)), difference(before, now, (x + 1, y)));
    let down = between(difference(before, now, (x, y - 1)), difference(before, now, (x, y + 1)));
    Point::new(f64::from(x) + across, f64::from(y) + down)
}

/// Mean difference of what both show, levels; ∞ where they share too little to tell.
fn difference(before: &Small, now: &Small, (dx, dy): (i32, i32)) -> f64 {
    let shared = |d: i32, length: usize| {
        let from = d.max(0) as usize;
        from..(length as i32 + d.min(0)).max(0) as usize
    };
    let (columns, rows) = (shared(dx, now.width), shared(dy, now.height));
    if columns.len() * 3 < now.width * 2 || rows.len() * 2 < now.height {
        return f64::INFINITY;
    }
    let (mut sum, mut n) = (0i64, 0i64);
    for y in rows.step_by(PAN_STRIDE) {
        let there = (y as i32 - dy) as usize * before.width;
        let row = now.luma.get(y * now.width + columns.start..y * now.width + columns.end);
        let from = (columns.start as i32 - dx) as usize;
        let old = before.luma.get(there + from..there + from + columns.len());
        for (a, b) in row.into_iter().flatten().zip(old.into_iter().flatten()).step_by(PAN_STRIDE) {
            sum += i64::from((i32::from(*a) - i32::from(*b)).abs().min(PAN_MOST_LEVELS));
            n += 1;
        }
    }
    sum as f64 / n.max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A patterned scene seen from `x`, `y`, with a body that crosses it.
    fn seen(x: f64, y: f64, body: usize) -> Small {
        let (width, height) = (192_usize, 108_usize);
        let mut luma = Vec::new();
        for row in 0..height {
            for column in 0..width {
                let (u, v) = (column as f64 - x, row as f64 - y);
                let ground =
                    110.0 + 40.0 * (u / 9.0).sin() + 30.0 * (v / 7.0).cos() + 25.0 * ((u + v) / 23.0).sin();
                let inside = column.abs_diff(body) < 14 && row > 30;
                luma.push(if inside { 230 } else { ground as u8 });
            }
        }
        Small { width, height, luma }
    }

    #[test]
    fn a_held_camera_is_followed_there_and_back_beside_a_walker() {
        let mut meter = PanMeter::default();
        for i in 0..120 {
            let t = f64::from(i) / 30.0;
            let (x, y) = (60.0 * (1.3 * t).sin(), 9.0 * (2.1 * t).sin());
            let at = meter.next(&seen(x, y, 20 + i as usize));
            assert!(at.distance(Point::new(x, y)) < 2.5, "picture {i}: {at:?}, not {x},{y}");
        }
    }

    #[test]
    fn a_camera_that_stands_still_does_not_drift() {
        let mut meter = PanMeter::default();
        for i in 0..90 {
            let at = meter.next(&seen(0.0, 0.0, 20 + i));
            assert!(at.length() < 0.1, "picture {i}: {at:?}");
        }
    }
}
