//! The reference's body as a ghost: where it is in any picture, from cut-outs of some.
//!
//! The body is the landmark net's own mask (`tracking/cutout.rs`), found 75 times a second in the swing and 20 around it
//! (`reading/track/cutouts.rs`) and carried along the bones between (`compose/carry.rs`). The bat is what moves in one frame
//! and not 17 ms before or after, from the hands out (`tracking/swept.rs`), else a bar that lies still (`tracking/bat.rs`).
//! Without either within 60 ms no bat is drawn.

mod cover;

use super::carry::{Bones, Carry, bones};
use super::edge::Grid;
use super::marks::PanelTransform;
use crate::draw::{Mask, Rgb, mix, wash};
use crate::types::{BatBar, Cutouts, Frame, Plane, Point, Pose, Reading, Rect, Similarity, words};
use cover::{capsule, fill};

words! {
    /// How a ghost is shown.
    #[derive(Default)]
    pub enum GhostStyle {
        /// Its own picture, drawn toward its colour.
        #[default]
        "tinted" Tinted,
        /// A line around it, filled with hardly any colour.
        "outline" Outline,
    }
}

/// Poses farther apart than this say nothing about what is between, s; nor do looks.
const GAP_S: f64 = 0.3;
/// Looks so many times their distance away in time still count, with less weight the farther.
const STEADIED_OVER: f64 = 1.6;
/// A single look serves so far beyond the first and last, s.
const BEYOND_S: f64 = 0.12;
/// Coarse cells a body height.
const CELLS: f64 = 260.0;
/// Where the net fails, so much of each bone's width is the body nonetheless.
const THIN: f64 = 0.5;
/// Half widths of a bat at the hands and at the tip, body heights: 4 and 7 cm across with its blur on 170 cm.
const BAT: (f64, f64) = (0.011, 0.02);
/// Where a swung bat's fan is wider, it is shown up to this half width at the tip, body heights.
const BAT_FAN: f64 = 0.045;
/// Between two looks the bat turns evenly, by less than this, rad.
const BAT_TURNS: f64 = 1.4;
/// A bat is known only so near to a look, s.
const BAT_NEAR_S: f64 = 0.06;

/// How far a tinted ghost's colour is drawn toward the reference's, 0…1.
const TINT: f64 = 0.6;
/// How strongly an outlined ghost is filled, of its strength.
const OUTLINE_FILL: f64 = 0.25;

struct GhostFrame {
    time_s: f64,
    /// 0–255.
    cover: Plane,
    grid_from_picture: Similarity,
    bones: Bones,
    bat: Option<BatBar>,
}

/// A reference's cut-outs, ready to be carried to any picture of its swing.
pub struct Ghost {
    /// Tinted or as an outline.
    pub look: GhostStyle,
    looks: Vec<GhostFrame>,
}

/// Where the ghost is on its panel, px.
#[derive(Debug, Clone)]
pub struct Shape {
    pub mask: Mask,
    /// The line around it.
    pub line: Mask,
}

impl Ghost {
    /// Without cutouts the body is cut out roughly along the pose.
    pub fn new(reading: &Reading, cutouts: Option<&Cutouts>, look: GhostStyle) -> Self {
        let looks = cutouts.into_iter().flat_map(|c| &c.looks).filter_map(|cut| {
            Some(GhostFrame {
                time_s: cut.time_s,
                cover: Plane { width: cut.side, height: cut.side, data: cut.cover()? },
                grid_from_picture: cut.picture_from_grid.inverse(),
                bones: bones(&pose_at(reading, cut.time_s)?),
                bat: cut.bat,
            })
        });
        Self { look, looks: looks.collect() }
    }

    /// Its shape at a real time on a panel of `size`, where `panel_transform` lays the picture; `None` where nobody knows.
    pub(super) fn shape(
        &self,
        reading: &Reading,
        real_s: f64,
        panel_transform: &PanelTransform,
        size: (usize, usize),
    ) -> Option<Shape> {
        let pose = pose_at(reading, real_s)?;
        let own = bones(&pose);
        let body_px = reading.scale.body_height_px;
        let hands = super::marks::hands(&pose).map(|h| h.0);
        let bat = hands.and_then(|hands| self.bat(real_s, hands));
        let panel = |p: Point| panel_transform.from_picture.apply(p);
        let points = own.iter().flatten().flat_map(|b| [b.a, b.b]).chain(bat.iter().map(|b| b.tip));
        let around = Rect::around(points.map(panel))?;
        let room = 0.17 * panel_transform.body_height_px;
        let bounds = cut(around, room, size)?;
        let mut grid = Grid::new(bounds, (panel_transform.body_height_px / CELLS).max(1.0));
        let near = self.near(real_s);
        if !near.is_empty() {
            let carried: Vec<_> =
                near.iter().map(|(look, w)| (*look, *w, Carry::new(&own, &look.bones, body_px))).collect();
            fill(&mut grid, &carried, &own, &panel_transform.from_picture.inverse(), body_px);
        }
        let share = if near.is_empty() { 1.0 } else { THIN };
        for bone in own.iter().flatten() {
            let (a, b, r) =
                (panel(bone.a), panel(bone.b), bone.radius * share * panel_transform.body_height_px);
            capsule(&mut grid, a, b, (r, r));
        }
        if let Some(bat) = bat {
            let tip = BAT.1 + (bat.sweep_rad.tan() * bat.hands.distance(bat.tip) / body_px);
            let wide =
                (BAT.0 * panel_transform.body_height_px, tip.min(BAT_FAN) * panel_transform.body_height_px);
            capsule(&mut grid, panel(bat.hands), panel(bat.tip), wide);
        }
        let body = panel_transform.body_height_px;
        let line = match self.look {
            GhostStyle::Tinted => 0.0035 * body,
            GhostStyle::Outline => 0.007 * body,
        };
        let (mask, line) = grid.masks(size, (0.007 * body).max(2.0), line.max(1.5));
        Some(Shape { mask, line })
    }

    /// Where it is in the source picture of a real time, of `size`.
    pub fn in_picture(&self, reading: &Reading, real_s: f64, size: (usize, usize)) -> Option<Mask> {
        let (on, body_height_px) = (Similarity::IDENTITY, reading.scale.body_height_px);
        let panel_transform = PanelTransform { from_picture: on, from_steady: None, body_height_px };
        self.shape(reading, real_s, &panel_transform, size).map(|shape| shape.mask)
    }

    /// Lay it over `base` at `strength` 0…1; `own` is its picture in its mask's bounds.
    pub(super) fn lay(&self, base: &mut Frame, own: &Frame, shape: &Shape, strength: f64, colour: Rgb) {
        let strength = strength.clamp(0.0, 1.0);
        match self.look {
            GhostStyle::Tinted => {
                mix(base, own, &shape.mask, strength, colour, TINT);
                wash(base, &shape.line, colour, strength);
            }
            GhostStyle::Outline => {
                wash(base, &shape.mask, colour, OUTLINE_FILL * strength);
                // At half strength the line is already whole: it covers little.
                wash(base, &shape.line, colour, (2.0 * strength).min(1.0));
            }
        }
    }

    /// The looks around a time with their weights: before and after alike, so that nothing lags.
    fn near(&self, real_s: f64) -> Vec<(&GhostFrame, f64)> {
        let i = self.looks.partition_point(|l| l.time_s < real_s);
        let before = i.checked_sub(1).and_then(|i| self.looks.get(i));
        let after = self.looks.get(i);
        let within = match (before, after) {
            (Some(b), Some(a)) if a.time_s - b.time_s <= GAP_S => STEADIED_OVER * (a.time_s - b.time_s),
            _ => BEYOND_S,
        };
        let weight = |l: &GhostFrame| 1.0 - (l.time_s - real_s).abs() / within.max(1e-6);
        self.looks.iter().map(|l| (l, weight(l))).filter(|(_, w)| *w > 0.0).collect()
    }

    /// The bat at a time: turning evenly from one look to the next.
    fn bat(&self, real_s: f64, hands: Point) -> Option<BatBar> {
        let i = self.looks.partition_point(|l| l.time_s < real_s);
        let found = |l: &GhostFrame| {
            l.bat.map(|bat| (l.time_s, bat)).filter(|_| (l.time_s - real_s).abs() <= BAT_NEAR_S)
        };
        let before = self.looks.get(..i)?.iter().rev().find_map(found);
        let after = self.looks.get(i..)?.iter().find_map(found);
        let (way, sweep_rad) = match (before, after) {
            (Some((s, a)), Some((t, b))) => {
                let (from, to) = (a.tip - a.hands, b.tip - b.hands);
                let turn = (from.x * to.y - from.y * to.x).atan2(from.dot(to));
                if turn.abs() > BAT_TURNS {
                    return None;
                }
                let share = ((real_s - s) / (t - s).max(1e-9)).clamp(0.0, 1.0);
                let (sin, cos) = (turn * share + from.y.atan2(from.x)).sin_cos();
                let length = from.length() + (to.length() - from.length()) * share;
                let sweep = a.sweep_rad + (b.sweep_rad - a.sweep_rad) * share;
                (Point::new(cos, sin) * length, sweep)
            }
            (Some((s, bat)), None) | (None, Some((s, bat))) if (s - real_s).abs() < 0.004 => {
                (bat.tip - bat.hands, bat.sweep_rad)
            }
            _ => return None,
        };
        Some(BatBar { hands, tip: hands + way, sweep_rad })
    }
}

/// `around` with room, cut to the panel; `None` when nothing is left.
fn cut(around: Rect, room: f64, size: (usize, usize)) -> Option<Rect> {
    let (left, top) = ((around.x - room).max(0.0), (around.y - room).max(0.0));
    let (right, low) =
        ((around.right() + room).min(size.0 as f64), (around.bottom() + room).min(size.1 as f64));
    (right - left > 4.0 && low - top > 4.0).then(|| Rect::new(left, top, right - left, low - top))
}

/// The pose at a real time, between those that are known.
fn pose_at(reading: &Reading, real_s: f64) -> Option<Pose> {
    let poses = &reading.track.poses;
    let i = poses.partition_point(|p| p.time_s < real_s);
    let (before, after) = (i.checked_sub(1).and_then(|i| poses.get(i)), poses.get(i));
    match (before, after) {
        (Some(b), Some(a)) if a.time_s - b.time_s <= GAP_S => {
            let share = (real_s - b.time_s) / (a.time_s - b.time_s).max(1e-9);
            let nearer = if share < 0.5 { b } else { a };
            let mut pose = nearer.clone();
            for part in crate::types::PARTS {
                if let (Some(from), Some(to), Some(spot)) = (b.at(part), a.at(part), pose.spot(part)) {
                    let at = from.lerp(to, share);
                    pose.set(part, Some(crate::types::Spot { at, ..spot }));
                }
            }
            Some(pose)
        }
        (b, a) => b.into_iter().chain(a).find(|p| (p.time_s - real_s).abs() < BEYOND_S).cloned(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;

    fn panel_transform(reading: &Reading) -> PanelTransform {
        let from_picture = Similarity::IDENTITY.scaled_shifted(0.5, Point::default());
        let body_height_px = reading.scale.body_height_px * 0.5;
        PanelTransform { from_picture, from_steady: Some(from_picture), body_height_px }
    }

    #[test]
    fn between_two_looks_the_shape_is_the_body_that_is_there() {
        let hit = sample::reference();
        let (_, reading, _) = sample::pair();
        let cutouts = hit.cutouts((200..300).step_by(4));
        let ghost = Ghost::new(&reading, Some(&cutouts), GhostStyle::Tinted);
        for frame in [210, 222, 238] {
            let now = frame as f64 / hit.rate_hz;
            let size = (960, 540);
            let shape = ghost.shape(&reading, now, &panel_transform(&reading), size).unwrap();
            let (mut both, mut either) = (0.0, 0.0);
            let truth = hit.silhouette(frame);
            for y in 0..540 {
                for x in 0..960 {
                    let inside = |m: &Mask| {
                        let at = (x >= m.x && y >= m.y && x < m.x + m.width && y < m.y + m.height)
                            .then(|| m.cover[(y - m.y) * m.width + x - m.x]);
                        at.is_some_and(|c| c > 127)
                    };
                    let (a, b) = (inside(&shape.mask), truth[(2 * y) * 1920 + 2 * x]);
                    both += f64::from(u8::from(a && b));
                    either += f64::from(u8::from(a || b));
                }
            }
            assert!(both / either > 0.9, "{frame}: {}", both / either);
        }
    }

    #[test]
    fn without_looks_the_pose_alone_gives_a_rough_shape_and_elsewhere_there_is_none() {
        let (_, reading, _) = sample::pair();
        let ghost = Ghost::new(&reading, None, GhostStyle::Outline);
        let shape = ghost.shape(&reading, 2.0, &panel_transform(&reading), (960, 540)).unwrap();
        assert!(shape.mask.area_px() > 5000.0 && shape.line.area_px() > 500.0);
        assert!(ghost.shape(&reading, 99.0, &panel_transform(&reading), (960, 540)).is_none());
    }

    #[test]
    fn the_bat_turns_evenly_between_looks_and_is_not_made_up() {
        let (_, reading, _) = sample::pair();
        let bat = |tip: Point| Some(BatBar { hands: Point::default(), tip, sweep_rad: 0.0 });
        let mut cutouts = sample::reference().cutouts([240, 246, 252].into_iter());
        cutouts.looks[0].bat = bat(Point::new(100.0, 0.0));
        cutouts.looks[1].bat = bat(Point::new(0.0, 100.0));
        let ghost = Ghost::new(&reading, Some(&cutouts), GhostStyle::Tinted);
        assert!(ghost.bat(243.0 / 120.0, Point::default()).is_none(), "a quarter turn is too much");
        cutouts.looks[1].bat = bat(Point::new(80.0, 60.0));
        let ghost = Ghost::new(&reading, Some(&cutouts), GhostStyle::Tinted);
        let tip = ghost.bat(243.0 / 120.0, Point::default()).unwrap().tip;
        assert!(tip.distance(Point::new(94.87, 31.62)) < 0.1, "{tip:?}");
        assert!(ghost.bat(249.0 / 120.0, Point::default()).is_none());
    }
}
