//! The way of one piece of the body (a shoe, the gloves) from one picture to another, when the scene behind it
//! may stand still or move otherwise: two layers, told apart pixel by pixel.
//!
//! How the scene moves is known. What it explains is no evidence for the piece; the piece moves as the pixels say
//! that the scene does not explain (expectation and maximisation, Dempster, Laird & Rubin 1977, over the layers,
//! with Lucas–Kanade steps for a shift, a turn and a stretch).

use super::flow::Pyramid;
use super::params::{BEHIND, LOOSE, LOOSE_1, LOOSE_2, LOOSE_3, LOOSE_4, LOOSE_5, PIECE_LEVELS, UNKNOWN};
use crate::math::{bilinear, solve};
use crate::types::{Plane, Point};

/// Shift, turn and stretch about a middle.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RigidMotion {
    pub shift: Point,
    pub turn: f64,
    pub stretch: f64,
}

impl RigidMotion {
    /// Where `d` from the middle goes, less `d` itself.
    pub fn at(&self, d: Point) -> Point {
        self.shift + Point::new(self.stretch * d.x - self.turn * d.y, self.turn * d.x + self.stretch * d.y)
    }
}

/// What is asked: px of the pyramids' base.
pub struct Question<'q> {
    /// The piece lies within `reach` of these lines.
    pub bones: &'q [(Point, Point)],
    pub reach: f64,
    pub middle: Point,
    /// How a place of the scene moves.
    pub scene: &'q dyn Fn(Point) -> Point,
    /// The scene's move is known to this, px.
    pub scene_slack: f64,
    /// Noise of the difference of two luma values, levels.
    pub noise: f64,
    pub starts: &'q [Point],
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Answer {
    pub way: RigidMotion,
    /// Variances of shift x, shift y (px²), turn and stretch.
    variance: [f64; 4],
    /// Share of the piece's marked pixels that neither the piece nor the scene explains, 0…1.
    pub unexplained: f64,
}

impl Answer {
    /// About one standard deviation of each coordinate of the way of the place `d` from the middle, px.
    pub fn doubt_px(&self, d: Point) -> f64 {
        let [x, y, turn, stretch] = self.variance;
        ((x + y) / 2.0 + (turn + stretch) * d.dot(d)).sqrt()
    }
}

/// One pixel of the piece.
struct Grain {
    d: Point,
    value: f64,
    gradient: Point,
    weight: f64,
    /// How well the scene explains it.
    scene: f64,
}

/// How much a pixel may differ while the way is being found, times the noise.
const STEPS: [f64; 8] = [LOOSE_1, LOOSE_2, LOOSE_3, LOOSE_4, LOOSE_5, LOOSE, LOOSE, LOOSE];

/// The way that, with the scene's, explains the piece's pixels best, of those found from the `starts`.
pub fn follow_piece(a: &Pyramid, b: &Pyramid, q: &Question) -> Option<Answer> {
    let mut best: Option<(f64, Answer)> = None;
    let levels = a.levels().min(b.levels()).min(PIECE_LEVELS);
    let grains: Vec<Vec<Grain>> =
        (0..levels).map(|l| Some(grains(a.level(l)?, b.level(l)?, q, l))).collect::<Option<_>>()?;
    for start in q.starts {
        let mut way = RigidMotion { shift: *start, ..RigidMotion::default() };
        for level in (0..levels).rev() {
            let (Some(g), Some(to)) = (grains.get(level), b.level(level)) else { continue };
            refine(g, to, q, level, &mut way);
        }
        let (Some(g), Some(to)) = (grains.first(), b.level(0)) else { continue };
        if let Some(found) = judge(g, to, q, &way)
            && best.as_ref().is_none_or(|b| found.0 > b.0)
        {
            best = Some(found);
        }
    }
    best.map(|b| b.1)
}

fn grains(from: &Plane, to: &Plane, q: &Question, level: usize) -> Vec<Grain> {
    let by = f64::from(1u32 << level);
    let here = |p: Point| Point::new((p.x - 0.5) / by, (p.y - 0.5) / by);
    let bones: Vec<(Point, Point)> = q.bones.iter().map(|b| (here(b.0), here(b.1))).collect();
    let (middle, reach) = (here(q.middle), q.reach / by);
    let (mut lo, mut hi) = (middle, middle);
    for p in bones.iter().flat_map(|b| [b.0, b.1]) {
        lo = Point::new(lo.x.min(p.x), lo.y.min(p.y));
        hi = Point::new(hi.x.max(p.x), hi.y.max(p.y));
    }
    let range = |lo: f64, hi: f64, n: usize| {
        let last = n.saturating_sub(1) as f64;
        ((lo - reach).clamp(1.0, last).ceil() as usize, (hi + reach).clamp(0.0, last) as usize)
    };
    let ((x0, x1), (y0, y1)) = (range(lo.x, hi.x, from.width), range(lo.y, hi.y, from.height));
    let mut all = Vec::new();
    for y in y0..y1 {
        for x in x0..x1 {
            let p = Point::new(x as f64, y as f64);
            let off = bones.iter().map(|b| to_line(p, b.0, b.1)).fold(f64::INFINITY, f64::min) / reach;
            if off >= 1.0 {
                continue;
            }
            let v = |x: usize, y: usize| f64::from(from.row(y).get(x).copied().unwrap_or(0));
            let gradient = Point::new((v(x + 1, y) - v(x - 1, y)) / 2.0, (v(x, y + 1) - v(x, y - 1)) / 2.0);
            let value = v(x, y);
            let full = Point::new(p.x * by + 0.5, p.y * by + 0.5);
            let goes = here((q.scene)(full));
            let slack = (q.scene_slack / by) * gradient.length();
            let rest = ((at(to, goes) - value).abs() - slack).max(0.0);
            let scene = BEHIND * (-(rest / q.noise).powi(2) / 2.0).exp();
            all.push(Grain { d: p - middle, value, gradient, weight: 1.0 - off * off, scene });
        }
    }
    all
}

fn to_line(p: Point, a: Point, b: Point) -> f64 {
    let ab = b - a;
    let t = if ab.dot(ab) > 0.0 { ((p - a).dot(ab) / ab.dot(ab)).clamp(0.0, 1.0) } else { 0.0 };
    p.distance(a.lerp(b, t))
}

fn refine(grains: &[Grain], to: &Plane, q: &Question, level: usize, way: &mut RigidMotion) {
    let by = f64::from(1u32 << level);
    let middle = Point::new((q.middle.x - 0.5) / by, (q.middle.y - 0.5) / by);
    let reach = q.reach / by;
    for loose in STEPS {
        let Some(normal) = normal_equations(grains, to, middle, way, q.noise, loose, by) else { return };
        let Some(step) = solve4(&normal.0, &normal.1, reach, way) else { return };
        let moved = Point::new(step[0], step[1]);
        if !moved.is_finite() || moved.length() > 6.0 {
            return;
        }
        way.shift = way.shift + moved * by;
        way.turn = (way.turn + step[2]).clamp(-0.8, 0.8);
        way.stretch = (way.stretch + step[3]).clamp(-0.3, 0.3);
        if moved.length() < 0.01 && step[2].abs() * reach < 0.02 && loose <= 2.0 {
            return;
        }
    }
}

type Normal = ([[f64; 4]; 4], [f64; 4]);

fn normal_equations(
    grains: &[Grain],
    to: &Plane,
    middle: Point,
    way: &RigidMotion,
    noise: f64,
    loose: f64,
    by: f64,
) -> Option<Normal> {
    let mut n = [[0.0; 4]; 4];
    let mut r = [0.0; 4];
    let here = RigidMotion { shift: way.shift * (1.0 / by), ..*way };
    for g in grains {
        let rest = at(to, middle + g.d + here.at(g.d)) - g.value;
        let piece = (-(rest / (noise * loose)).powi(2) / 2.0).exp();
        let w = g.weight * piece / (piece + g.scene + UNKNOWN);
        let j =
            [g.gradient.x, g.gradient.y, g.gradient.y * g.d.x - g.gradient.x * g.d.y, g.gradient.dot(g.d)];
        for (row, (ji, ri)) in n.iter_mut().zip(j.iter().zip(r.iter_mut())) {
            for (cell, jk) in row.iter_mut().zip(j) {
                *cell += w * ji * jk;
            }
            *ri -= w * ji * rest;
        }
    }
    (n[0][0] + n[1][1] > 0.0).then_some((n, r))
}

/// The value at a place in samples.
fn at(plane: &Plane, place: Point) -> f64 {
    bilinear(plane, place.x, place.y)
}

/// One step; turn and stretch are held back by a prior, shift by a whisper.
fn solve4(n: &[[f64; 4]; 4], r: &[f64; 4], reach: f64, way: &RigidMotion) -> Option<[f64; 4]> {
    let mut m = *n;
    let mut v = *r;
    let energy = (n[0][0] + n[1][1]) / 2.0;
    let tiny = 1e-3 * energy + 1e-6;
    m[0][0] += tiny;
    m[1][1] += tiny;
    // A prior as strong as a small share of the evidence: a turn moves the rim by reach × turn.
    let hold = [0.02 * energy * reach * reach, 0.2 * energy * reach * reach];
    m[2][2] += hold[0];
    m[3][3] += hold[1];
    v[2] -= hold[0] * way.turn;
    v[3] -= hold[1] * way.stretch;
    solve(m, v)
}

/// Log-likelihood of the two layers, and the answer.
fn judge(grains: &[Grain], to: &Plane, q: &Question, way: &RigidMotion) -> Option<(f64, Answer)> {
    let middle = Point::new(q.middle.x - 0.5, q.middle.y - 0.5);
    let (mut likelihood, mut marked, mut lost) = (0.0, 1e-9, 0.0);
    for g in grains {
        let rest = at(to, middle + g.d + way.at(g.d)) - g.value;
        let piece = (-(rest / (LOOSE * q.noise)).powi(2) / 2.0).exp();
        likelihood += g.weight * (piece + g.scene + UNKNOWN).ln();
        let energy = g.weight * g.gradient.dot(g.gradient);
        marked += energy;
        lost += energy * UNKNOWN / (piece + g.scene + UNKNOWN);
    }
    let (normal, _) = normal_equations(grains, to, middle, way, q.noise, LOOSE, 1.0)?;
    let tiny = 1e-6 * (normal[0][0] + normal[1][1]);
    let mut variance = [0.0; 4];
    for (i, v) in variance.iter_mut().enumerate() {
        let mut unit = [0.0; 4];
        unit[i] = 1.0;
        let mut held = normal;
        (0..4).for_each(|k| held[k][k] += tiny * if k > 1 { q.reach * q.reach } else { 1.0 });
        // Neighbouring pixels err alike: twice the noise.
        *v = solve(held, unit)?[i].abs() * (2.0 * q.noise).powi(2);
    }
    (likelihood.is_finite() && way.shift.is_finite())
        .then_some((likelihood, Answer { way: *way, variance, unexplained: lost / marked }))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A textured ground and on it a dark shoe, 40 × 14 px, its toe at (`x`, `y`), turned about it.
    fn picture(toe: Point, turn: f64) -> Plane {
        let mut plane = Plane::filled(160, 120, 0);
        let (sin, cos) = turn.sin_cos();
        for y in 0..120 {
            for x in 0..160 {
                // Four samples a pixel, so that edges lie between pixels.
                let mut sum = 0.0;
                for (du, dv) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
                    let (u, v) = (x as f64 + du, y as f64 + dv);
                    let ground =
                        150.0 + 18.0 * (0.35 * u).sin() * (0.3 * v).cos() + 10.0 * (0.9 * u + 0.4 * v).sin();
                    let (dx, dy) = (u - toe.x, v - toe.y);
                    let (along, across) = (-(cos * dx + sin * dy), -sin * dx + cos * dy);
                    let half = 5.0 + 3.0 * (along / 40.0).clamp(0.0, 1.0);
                    let inside = along > -5.0 && along < 40.0 && across.abs() < half;
                    sum += if inside { 45.0 + 6.0 * (0.5 * along).sin() } else { ground };
                }
                plane.row_mut(y)[x] = (sum / 4.0_f64).round() as u8;
            }
        }
        plane
    }

    fn ask(a: Plane, b: Plane, bones: &[(Point, Point)], starts: &[Point]) -> Answer {
        let (a, b) = (Pyramid::of(a, 4), Pyramid::of(b, 4));
        let middle =
            bones.iter().fold(Point::default(), |s, b| s + b.0.midpoint(b.1)) * (1.0 / bones.len() as f64);
        let question =
            Question { bones, reach: 8.0, middle, scene: &|p| p, scene_slack: 0.05, noise: 2.5, starts };
        follow_piece(&a, &b, &question).unwrap()
    }

    #[test]
    fn a_shoe_over_still_ground_moves_as_it_moves() {
        let toe = Point::new(100.0, 60.0);
        let bones = [(toe, toe - Point::new(38.0, 0.0))];
        for by in [Point::new(0.0, 0.0), Point::new(0.6, 1.1), Point::new(-3.3, 2.4), Point::new(7.5, -4.0)] {
            // The net is off by a pixel or two.
            let starts = [by + Point::new(1.4, -1.1), Point::default()];
            let answer = ask(picture(toe, 0.0), picture(toe + by, 0.0), &bones, &starts);
            // The fusion takes a fifth of the way for its error (see `repair::fuse`).
            assert!(answer.way.shift.distance(by) < 0.15 + 0.1 * by.length(), "{by:?}: {answer:?}");
            // Ground that the shoe uncovers is explained by neither; from 0.6 on an answer is none.
            assert!(answer.unexplained < 0.4, "{answer:?}");
        }
    }

    #[test]
    fn a_heel_that_falls_about_a_standing_toe_is_seen_to_fall() {
        let toe = Point::new(100.0, 60.0);
        let heel = toe - Point::new(38.0, 0.0);
        let turn = -0.04;
        let answer = ask(picture(toe, 0.0), picture(toe, turn), &[(toe, heel)], &[Point::default()]);
        let middle = toe.midpoint(heel);
        let falls = answer.way.at(heel - middle);
        let stands = answer.way.at(toe - middle);
        assert!((falls.y - 38.0 * 0.04).abs() < 0.3 && falls.x.abs() < 0.3, "{falls:?} {answer:?}");
        assert!(stands.length() < 0.3, "{stands:?}");
    }

    #[test]
    fn nothing_to_see_is_no_answer() {
        let flat = Pyramid::of(Plane::filled(80, 80, 90), 3);
        let bones = [(Point::new(30.0, 40.0), Point::new(50.0, 40.0))];
        for at in [Point::new(40.0, 40.0), Point::new(-500.0, 40.0)] {
            let question = Question {
                bones: &bones,
                reach: 6.0,
                middle: at,
                scene: &|p| p,
                scene_slack: 0.05,
                noise: 2.5,
                starts: &[Point::default()],
            };
            assert_eq!(follow_piece(&flat, &flat, &question), None);
        }
    }
}
