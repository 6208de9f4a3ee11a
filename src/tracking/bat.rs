//! The bat, which the pose net does not see: a straight narrow bar that begins at the hands and ends at a
//! clear tip, looked for in quiet pictures. The knob hides in the gloves, so what is measured is the way
//! from the middle of both hand points to the tip.

mod chain;

use super::params::{
    BAT_ACROSS, BAT_ALONG, BAT_ANGLES, BAT_ASIDE, BAT_CLEAR, BAT_CLEARLY, BAT_FROM, BAT_GRIP, BAT_HALFWAY,
    BAT_KEEP, BAT_LONGEST, BAT_REACH, BAT_SHORTEST, BAT_SIDE, BAT_SUPPORT,
};
use std::f64::consts::TAU;

use crate::math::bilinear;
use crate::types::{Frame, Part, Point, Pose};
use chain::turn;
pub use chain::{bat_look, chain};

/// One possible bat in one picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bar {
    /// Beside the middle of the hands, on the bar's axis, px.
    pub from: Point,
    /// The far end of the barrel, px.
    pub tip: Point,
    /// 0…1: share of the way on which it stands out from both sides.
    pub support: f64,
    /// Length that stands out less what does not, body heights.
    score: f64,
}

impl Bar {
    pub(crate) fn length_px(&self) -> f64 {
        self.from.distance(self.tip)
    }

    fn angle_rad(&self) -> f64 {
        let d = self.tip - self.from;
        d.y.atan2(d.x)
    }
}

/// Bars that begin at the hands of `pose`, best first, at most three; `body_height_px` is the hitter's
/// standing height. Empty when the hands are not known or nothing is like a bat.
pub fn bars(frame: &Frame, pose: &Pose, body_height_px: f64) -> Vec<Bar> {
    let hands = match (pose.at(Part::LeftHand), pose.at(Part::RightHand)) {
        (Some(l), Some(r)) => l.midpoint(r),
        _ => return Vec::new(),
    };
    if !(body_height_px.is_finite() && body_height_px > 40.0 && hands.is_finite()) {
        return Vec::new();
    }
    let search = Search { frame, hands, height: body_height_px, hidden: hidden(pose, body_height_px) };
    let mut rough: Vec<Found> = (0..BAT_ANGLES)
        .filter_map(|i| search.along(TAU * i as f64 / BAT_ANGLES as f64, BAT_ALONG, None))
        .collect();
    rough.sort_by(|a, b| b.score.total_cmp(&a.score));
    let mut kept: Vec<Found> = Vec::new();
    for found in rough {
        if kept.len() < BAT_KEEP && kept.iter().all(|k| turn(k.angle_rad, found.angle_rad).abs() > 0.14) {
            kept.push(found);
        }
    }
    kept.into_iter().filter_map(|f| search.refined(&f)).collect()
}

/// A disc or a thick line that may cover the bat: neither for nor against it.
struct Cover {
    a: Point,
    b: Point,
    radius: f64,
}

fn hidden(pose: &Pose, height: f64) -> Vec<Cover> {
    use Part::*;
    let mut covers = Vec::new();
    for (a, b, share) in [
        (LeftElbow, LeftWrist, 0.030),
        (RightElbow, RightWrist, 0.030),
        (LeftShoulder, LeftElbow, 0.038),
        (RightShoulder, RightElbow, 0.038),
        (LeftEar, RightEar, 0.085),
    ] {
        if let (Some(a), Some(b)) = (pose.at(a), pose.at(b)) {
            covers.push(Cover { a, b, radius: share * height });
        }
    }
    covers
}

impl Cover {
    fn holds(&self, p: Point) -> bool {
        let d = self.b - self.a;
        let t = ((p - self.a).dot(d) / d.dot(d).max(1e-9)).clamp(0.0, 1.0);
        self.a.lerp(self.b, t).distance(p) < self.radius
    }
}

/// The best bar along one direction.
#[derive(Clone, Copy)]
struct Found {
    angle_rad: f64,
    aside_px: f64,
    length: f64,
    support: f64,
    score: f64,
}

struct Search<'a> {
    frame: &'a Frame,
    hands: Point,
    height: f64,
    hidden: Vec<Cover>,
}

impl Search<'_> {
    /// `near_px` holds the bar near a place beside the hands that was found before.
    fn along(&self, angle_rad: f64, step: f64, near_px: Option<f64>) -> Option<Found> {
        let way = Point::new(angle_rad.cos(), angle_rad.sin());
        let side = Point::new(-way.y, way.x);
        let across = BAT_ACROSS * self.height;
        let rows = ((BAT_REACH - BAT_FROM) / step) as usize;
        let shifts: Vec<f64> = match near_px {
            None => vec![0.0],
            Some(at) => vec![at, at + 0.5 * across],
        };
        let asides: std::ops::RangeInclusive<usize> = if near_px.is_some() {
            BAT_SIDE - 1..=BAT_SIDE + 1
        } else {
            BAT_SIDE - BAT_ASIDE..=BAT_SIDE + BAT_ASIDE
        };
        let mut best: Option<Found> = None;
        for shift in shifts {
            let mut line: Vec<Option<Row>> = Vec::with_capacity(rows);
            for i in 0..rows {
                let on = self.hands + way * ((BAT_FROM + i as f64 * step) * self.height) + side * shift;
                line.push(self.inside(on).then(|| {
                    std::array::from_fn(|j| {
                        colour(self.frame, on + side * ((j as f64 - BAT_SIDE as f64) * across))
                    })
                }));
            }
            for c in asides.clone() {
                let aside_px = shift + (c as f64 - BAT_SIDE as f64) * across;
                let found = self.run(&line, c, step, angle_rad, aside_px);
                if let Some(found) = found
                    && best.is_none_or(|b| found.score > b.score)
                {
                    best = Some(found);
                }
            }
        }
        best
    }

    fn inside(&self, p: Point) -> bool {
        p.x >= 1.0
            && p.y >= 1.0
            && p.x < self.frame.width() as f64 - 1.0
            && p.y < self.frame.height() as f64 - 1.0
    }

    /// How far the bar with its middle at column `c` goes: to where what speaks for it is most.
    fn run(&self, line: &[Option<Row>], c: usize, step: f64, angle_rad: f64, aside_px: f64) -> Option<Found> {
        let way = Point::new(angle_rad.cos(), angle_rad.sin());
        let from = self.hands + Point::new(-way.y, way.x) * aside_px;
        let (mut sum, mut best) = (0.0f64, (0.0f64, 0usize));
        let (mut clear, mut judged) = (0.0f64, 0.0f64);
        let mut at_best = (0.0, 0.0);
        let mut own: Option<Colour> = None;
        let (quickly, slowly) = (keeps(0.4, step), keeps(0.12, step));
        for (i, row) in line.iter().enumerate() {
            let Some(row) = row else { break };
            let at = from + way * ((BAT_FROM + i as f64 * step) * self.height);
            if self.hidden.iter().any(|h| h.holds(at)) {
                sum -= 0.05 * step;
                continue;
            }
            let out = BAT_FROM + i as f64 * step;
            let (mut stands_out, inner, sides) = bar_at(row, c, widths(out));
            // A bat's colour runs on along it and is not that of its sides; a mesh or leaves change from
            // place to place, and behind the tip the colour is the background's.
            if let Some(own) = own
                && out > BAT_GRIP
            {
                let beside = sides.map(|side| length(less(side, own)));
                stands_out = stands_out.min(beside[0].min(beside[1]) - length(less(inner, own)));
            }
            own = Some(own.map_or(inner, |o| mix(o, inner, if out > BAT_GRIP { slowly } else { quickly })));
            let s = (stands_out / BAT_CLEAR).clamp(0.0, 1.0);
            sum += f64::from(s - BAT_HALFWAY) * step;
            clear += f64::from(s);
            judged += 1.0;
            if sum > best.0 {
                best = (sum, i);
                at_best = (clear, judged);
            }
        }
        let length = BAT_FROM + best.1 as f64 * step;
        let support = at_best.0 / f64::max(at_best.1, 1.0);
        let seen = at_best.1 * step;
        let good = (BAT_SHORTEST..=BAT_LONGEST).contains(&length)
            && support >= BAT_SUPPORT
            && best.0 >= BAT_CLEARLY
            && seen >= 0.5 * BAT_SHORTEST;
        good.then_some(Found { angle_rad, aside_px, length, support, score: best.0 })
    }

    /// The same bar once more with small steps, and its end to about a pixel.
    fn refined(&self, rough: &Found) -> Option<Bar> {
        let step = (1.0 / self.height).clamp(0.002, BAT_ALONG);
        let mut best = *rough;
        let mut fine: Option<Found> = None;
        for i in -3..=3 {
            let angle = rough.angle_rad + f64::from(i) * (0.25 * TAU / BAT_ANGLES as f64);
            // The turn moves the far end; the bar is held where it was at half its length.
            let aside = rough.aside_px - (angle - rough.angle_rad) * 0.5 * rough.length * self.height;
            if let Some(found) = self.along(angle, step, Some(aside))
                && fine.is_none_or(|f| found.score > f.score)
            {
                fine = Some(found);
            }
        }
        if let Some(fine) = fine.filter(|f| (f.length - rough.length).abs() < 0.12) {
            best = fine;
        }
        let way = Point::new(best.angle_rad.cos(), best.angle_rad.sin());
        let from = self.hands + Point::new(-way.y, way.x) * best.aside_px;
        Some(Bar {
            from,
            tip: from + way * (best.length * self.height),
            support: best.support,
            score: best.score,
        })
    }
}

type Colour = [f32; 3];
type Row = [Colour; 2 * BAT_SIDE + 1];

/// A share that is taken over at each [`BAT_ALONG`], for another step.
fn keeps(share: f32, step: f64) -> f32 {
    1.0 - (1.0 - share).powf((step / BAT_ALONG) as f32)
}

/// Half widths, in [`BAT_ACROSS`], that a bat may have so far from the hands: a thin handle, then the barrel.
fn widths(out: f64) -> std::ops::RangeInclusive<usize> {
    if out < 0.16 {
        1..=3
    } else if out < 0.27 {
        2..=4
    } else {
        3..=5
    }
}

/// How much the bar around column `c` stands out from both its sides, in one and the same way and over its
/// whole width, at the width where it does most; its colour, and that of its sides.
fn bar_at(row: &Row, c: usize, halves: std::ops::RangeInclusive<usize>) -> (f32, Colour, [Colour; 2]) {
    let own = row.get(c).copied().unwrap_or_default();
    let mut best = (0.0, own, [own; 2]);
    for half in halves {
        let (Some(lo), hi) = (c.checked_sub(half + 2), c + half + 2) else { continue };
        let (Some(inner), Some(&left), Some(&right)) =
            (row.get(c + 1 - half..c + half), row.get(lo), row.get(hi))
        else {
            continue;
        };
        let sum = inner.iter().fold([0.0; 3], |s: Colour, v| [s[0] + v[0], s[1] + v[1], s[2] + v[2]]);
        let mean = sum.map(|v| v / inner.len() as f32);
        let away = less(mean, mix(left, right, 0.5));
        let far = length(away);
        if far < 1.0 {
            continue;
        }
        let by = |v: Colour| (v[0] * away[0] + v[1] * away[1] + v[2] * away[2]) / far;
        let least = inner.iter().map(|v| by(*v)).fold(f32::INFINITY, f32::min);
        let stands_out = least - by(left).max(by(right));
        if stands_out > best.0 {
            best = (stands_out, mean, [left, right]);
        }
    }
    best
}

fn less(a: Colour, b: Colour) -> Colour {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn mix(a: Colour, b: Colour, t: f32) -> Colour {
    [0, 1, 2].map(|i| a[i] + (b[i] - a[i]) * t)
}

fn length(a: Colour) -> f32 {
    (a[0] * a[0] + a[1] * a[1] + a[2] * a[2]).sqrt()
}

/// Luma and chroma at a place, levels of 8 bit, chroma weighing more because it spans less.
fn colour(frame: &Frame, at: Point) -> Colour {
    let plane = |p, x, y| bilinear(p, x, y) as f32;
    let (cx, cy) = ((at.x - 0.5) / 2.0, at.y / 2.0 - 0.5);
    [plane(&frame.y, at.x - 0.5, at.y - 0.5), 1.5 * plane(&frame.u, cx, cy), 1.5 * plane(&frame.v, cx, cy)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Seen, Spot};

    const HEIGHT: f64 = 400.0;

    fn pose(hands: Point) -> Pose {
        let mut pose = Pose::empty(0, 0.0);
        for (part, aside) in [(Part::LeftHand, -6.0), (Part::RightHand, 6.0)] {
            let at = hands + Point::new(aside, 0.0);
            pose.set(part, Some(Spot { at, visibility: 1.0, seen: Seen::Picture }));
        }
        pose
    }

    /// A wall with a mesh of thin dark lines; on it, if wanted, a bat: a thin handle, then a barrel.
    fn picture(hands: Point, bat: Option<(f64, f64)>) -> Frame {
        let mut frame = Frame::black(640, 480);
        for y in 0..480usize {
            for x in 0..640usize {
                let mesh = (x + y) % 22 < 2 || (x + 660 - y) % 22 < 2;
                frame.y.row_mut(y)[x] = if mesh { 92 } else { (110 + x / 30) as u8 };
                let Some((angle_rad, length_px)) = bat else { continue };
                let d = Point::new(x as f64 + 0.5, y as f64 + 0.5) - hands;
                let way = Point::new(angle_rad.cos(), angle_rad.sin());
                let (out, aside) = (d.dot(way), (d.x * way.y - d.y * way.x).abs());
                let half = 3.0 + 4.5 * ((out - 50.0) / 45.0).clamp(0.0, 1.0);
                if (-20.0..length_px).contains(&out) && aside < half {
                    frame.y.row_mut(y)[x] = 168;
                    frame.u.row_mut(y / 2)[x / 2] = 100;
                    frame.v.row_mut(y / 2)[x / 2] = 148;
                }
            }
        }
        frame
    }

    #[test]
    fn a_drawn_bat_has_its_angle_and_length() {
        let hands = Point::new(330.0, 270.0);
        // The hand points lie a little beside the bat's axis, as the net's do.
        let seen = pose(hands + Point::new(4.0, 3.0));
        for (angle_deg, length_px) in [(-115.0f64, 150.0), (-60.0, 165.0), (-170.0, 140.0)] {
            let frame = picture(hands, Some((angle_deg.to_radians(), length_px)));
            let found = bars(&frame, &seen, HEIGHT);
            let bar = found.first().unwrap();
            let off_deg = turn(angle_deg.to_radians(), bar.angle_rad()).to_degrees();
            assert!(off_deg.abs() < 1.5, "{angle_deg}: off by {off_deg}°");
            let way = Point::new(angle_deg.to_radians().cos(), angle_deg.to_radians().sin());
            let tip = hands + way * length_px;
            // 2 % of the body's height: where the mesh behind the tip is darker, it seems to go on a little.
            assert!(bar.tip.distance(tip) < 8.0, "{angle_deg}: {bar:?}, tip at {tip:?}");
        }
    }

    #[test]
    fn a_mesh_alone_is_no_bat() {
        let hands = Point::new(330.0, 270.0);
        assert_eq!(bars(&picture(hands, None), &pose(hands), HEIGHT), Vec::new());
        assert_eq!(bars(&picture(hands, None), &Pose::empty(0, 0.0), HEIGHT), Vec::new());
    }
}
