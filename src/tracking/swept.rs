//! The bat while it is swung: what leaves the hands, is long and is there in this picture only, neither shortly
//! before nor shortly after. Needs a camera that stands.

use super::params::{
    SWEPT_ALIKE, SWEPT_ANGLES, SWEPT_FROM, SWEPT_MOVES, SWEPT_REACH, SWEPT_SHORTEST, SWEPT_STEP,
    SWEPT_SUPPORT, SWEPT_WIDEST,
};
use std::f64::consts::TAU;

use crate::types::{BatBar, Frame, Part, Plane, Point, Pose};

/// The part of the picture where a bat can be, sampled coarsely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Area {
    corner: Point,
    step_px: f64,
    columns: usize,
    rows: usize,
}

/// What `Area::of` took of one picture: Y, U, V of each place.
#[derive(Debug, Clone, PartialEq)]
pub struct Sampled(Vec<[u8; 3]>);

impl Area {
    /// Around all places `hands` come to, px.
    pub fn around(hands: impl IntoIterator<Item = Point>, body_height_px: f64) -> Option<Self> {
        let all = crate::types::Rect::around(hands)?;
        let (room, step_px) = (SWEPT_REACH * body_height_px, SWEPT_STEP * body_height_px);
        let cells = |length: f64| ((length + 2.0 * room) / step_px).ceil();
        let (columns, rows) = (cells(all.width), cells(all.height));
        let sound = step_px > 0.3 && columns < 2000.0 && rows < 2000.0;
        sound.then(|| Self {
            corner: Point::new(all.x - room, all.y - room),
            step_px,
            columns: columns as usize,
            rows: rows as usize,
        })
    }

    pub(crate) fn of(&self, frame: &Frame) -> Sampled {
        let level = |plane: &Plane, x: f64, y: f64| -> u8 {
            let inside = x >= 0.0 && y >= 0.0;
            let row = plane.data.chunks_exact(plane.width.max(1)).nth(y as usize).filter(|_| inside);
            row.and_then(|row| row.get(x as usize)).copied().unwrap_or(0)
        };
        let mut out = Vec::with_capacity(self.columns * self.rows);
        for row in 0..self.rows {
            for column in 0..self.columns {
                let x = self.corner.x + (column as f64 + 0.5) * self.step_px;
                let y = self.corner.y + (row as f64 + 0.5) * self.step_px;
                let (cx, cy) = (x / 2.0, y / 2.0);
                out.push([level(&frame.y, x, y), level(&frame.u, cx, cy), level(&frame.v, cx, cy)]);
            }
        }
        Sampled(out)
    }

    fn place(&self, at: Point) -> Option<usize> {
        let (x, y) = ((at.x - self.corner.x) / self.step_px, (at.y - self.corner.y) / self.step_px);
        let inside = x >= 0.0 && y >= 0.0 && x < self.columns as f64 && y < self.rows as f64;
        inside.then(|| y as usize * self.columns + x as usize)
    }
}

/// The bat that leaves the hands of `pose` in the middle one of three pictures; `None` where nothing moves so.
pub fn swept_bat(area: &Area, pictures: [&Sampled; 3], pose: &Pose, body_height_px: f64) -> Option<BatBar> {
    let hands = pose.at(Part::LeftHand)?.midpoint(pose.at(Part::RightHand)?);
    let [before, now, after] = pictures;
    let apart = |a: &[u8; 3], b: &[u8; 3]| -> i32 {
        a.iter().zip(b).map(|(a, b)| i32::from(a.abs_diff(*b))).sum::<i32>()
    };
    let moves = |at: Point| {
        let i = area.place(at)?;
        let (b, n, a) = (before.0.get(i)?, now.0.get(i)?, after.0.get(i)?);
        Some(apart(b, n) >= SWEPT_MOVES && apart(n, a) >= SWEPT_MOVES)
    };
    let covers = covers(pose, body_height_px);
    // The length up to which what moves outweighs what does not, and by how much, in steps.
    let along = |angle: f64| -> (f64, f64) {
        let way = Point::new(angle.cos(), angle.sin());
        let (mut sum, mut best, mut seen) = (0.0, (0.0, 0.0), 0.0);
        for i in 0..((SWEPT_REACH - SWEPT_FROM) / SWEPT_STEP) as usize {
            let out = SWEPT_FROM + i as f64 * SWEPT_STEP;
            let at = hands + way * (out * body_height_px);
            if covers.iter().any(|c| c.holds(at)) {
                continue;
            }
            let Some(moves) = moves(at) else { break };
            seen += 1.0;
            sum += if moves { 1.0 - SWEPT_SUPPORT } else { -SWEPT_SUPPORT };
            if sum > best.1 {
                best = (out, sum);
            }
        }
        if seen * SWEPT_STEP < 0.5 * SWEPT_SHORTEST { (0.0, 0.0) } else { best }
    };
    let found: Vec<(f64, f64)> =
        (0..SWEPT_ANGLES).map(|i| along(TAU * i as f64 / SWEPT_ANGLES as f64)).collect();
    let (best, &(_, most)) = found.iter().enumerate().max_by(|a, b| a.1.1.total_cmp(&b.1.1))?;
    let alike = |i: usize| {
        found.get(i % SWEPT_ANGLES).is_some_and(|f| f.1 >= SWEPT_ALIKE * most && f.0 >= SWEPT_SHORTEST)
    };
    let left = (1..SWEPT_ANGLES).take_while(|k| alike(best + SWEPT_ANGLES - k)).count();
    let right = (1..SWEPT_ANGLES).take_while(|k| alike(best + k)).count();
    if left + right >= SWEPT_WIDEST || most * SWEPT_STEP < 0.25 * SWEPT_SHORTEST {
        return None;
    }
    let fan = best + SWEPT_ANGLES - left..=best + SWEPT_ANGLES + right;
    let middle = (*fan.start() + *fan.end()) as f64 / 2.0 * TAU / SWEPT_ANGLES as f64;
    let mut lengths: Vec<f64> = fan.filter_map(|i| found.get(i % SWEPT_ANGLES)).map(|f| f.0).collect();
    lengths.sort_by(f64::total_cmp);
    let length = lengths.get(lengths.len() * 3 / 4).copied().unwrap_or(0.0);
    let tip = hands + Point::new(middle.cos(), middle.sin()) * (length * body_height_px);
    let sweep_rad = (left + right) as f64 / 2.0 * TAU / SWEPT_ANGLES as f64;
    (length >= SWEPT_SHORTEST).then_some(BatBar { hands, tip, sweep_rad })
}

/// A thick line of the body, which moves too: neither for nor against a bat.
struct Cover {
    a: Point,
    b: Point,
    radius_px: f64,
}

impl Cover {
    fn holds(&self, p: Point) -> bool {
        let d = self.b - self.a;
        let t = ((p - self.a).dot(d) / d.dot(d).max(1e-9)).clamp(0.0, 1.0);
        self.a.lerp(self.b, t).distance(p) < self.radius_px
    }
}

fn covers(pose: &Pose, body_height_px: f64) -> Vec<Cover> {
    use Part::*;
    // Half widths with room for clothes and for what the arms uncover, body heights: own figures.
    let lines = [
        (LeftElbow, LeftWrist, 0.05),
        (RightElbow, RightWrist, 0.05),
        (LeftShoulder, LeftElbow, 0.06),
        (RightShoulder, RightElbow, 0.06),
        (LeftShoulder, RightShoulder, 0.075),
        (LeftShoulder, LeftHip, 0.09),
        (RightShoulder, RightHip, 0.09),
        (LeftHip, RightHip, 0.09),
        (LeftHip, LeftKnee, 0.075),
        (RightHip, RightKnee, 0.075),
        (LeftEar, RightEar, 0.09),
    ];
    lines
        .iter()
        .filter_map(|(a, b, share)| {
            Some(Cover { a: pose.at(*a)?, b: pose.at(*b)?, radius_px: share * body_height_px })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Seen, Spot};

    /// A grey picture with a light bar from the hands at `angle_rad`, as long as 0.45 body heights.
    fn picture(hands: Point, body_px: f64, angle_rad: f64) -> Frame {
        let mut f = Frame::black(800, 600);
        f.y.data.fill(90);
        let way = Point::new(angle_rad.cos(), angle_rad.sin());
        for y in 0..600 {
            for (x, v) in f.y.row_mut(y).iter_mut().enumerate() {
                let d = Point::new(x as f64 + 0.5, y as f64 + 0.5) - hands;
                let (out, aside) = (d.dot(way), d.dot(Point::new(-way.y, way.x)));
                if (0.0..0.45 * body_px).contains(&out) && aside.abs() < 0.018 * body_px {
                    *v = 170;
                }
            }
        }
        f
    }

    fn pose(hands: Point) -> Pose {
        let mut pose = Pose::empty(0, 0.0);
        for part in [Part::LeftHand, Part::RightHand] {
            pose.set(part, Some(Spot { at: hands, visibility: 1.0, seen: Seen::Picture }));
        }
        pose
    }

    #[test]
    fn a_swung_bar_is_found_and_a_still_one_is_not() {
        let (hands, body) = (Point::new(400.0, 300.0), 400.0);
        let area = Area::around([hands], body).unwrap();
        let at = |angle: f64| area.of(&picture(hands, body, angle));
        for angle in [-2.6f64, -0.4, 0.9, 3.0] {
            let (b, n, a) = (at(angle - 0.25), at(angle), at(angle + 0.25));
            let bat = swept_bat(&area, [&b, &n, &a], &pose(hands), body).unwrap();
            let tip = hands + Point::new(angle.cos(), angle.sin()) * (0.45 * body);
            assert!(bat.tip.distance(tip) < 0.04 * body, "{angle}: {bat:?} {tip:?}");
            assert_eq!(swept_bat(&area, [&n, &n, &n], &pose(hands), body), None);
        }
    }

    #[test]
    fn hands_that_are_not_known_have_no_bat() {
        let area = Area::around([Point::new(400.0, 300.0)], 400.0).unwrap();
        let s = area.of(&Frame::black(800, 600));
        assert_eq!(swept_bat(&area, [&s, &s, &s], &Pose::empty(0, 0.0), 400.0), None);
        assert!(Area::around([], 400.0).is_none());
    }
}
