//! A made-up phone: where it stands, how it shakes, what it sees where.

use serde::{Deserialize, Serialize};

use super::dice::Dice;
use super::v3::{V3, v3};
use crate::types::{PitcherSide, Point, Side, Similarity, View};

/// Hand-held or not.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hold {
    /// Does not move.
    Tripod,
    /// Two hands, elbows in.
    Light,
    /// One hand, stretched out.
    Loose,
}

/// A camera and how it films. Everything a bench may want to vary; see [`CameraPlan::default`].
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CameraPlan {
    /// From where the hitter is filmed.
    pub view: View,
    /// From straight on in that view, turned about the hitter toward the pitcher's side (from the side
    /// views) or toward the open side (from behind and from the front), deg.
    pub oblique_deg: f64,
    /// From the hitter, along the ground, m.
    pub distance_m: f64,
    /// Of the lens over the ground, m.
    pub height_m: f64,
    /// The upright picture, px.
    pub width: usize,
    /// Height of the pictures, px.
    pub height: usize,
    /// Standing height of the hitter as a share of the picture's height.
    pub body_share: f64,
    /// Where the hitter's middle lies in the picture, 0…1 from the left and from the top.
    pub place: [f64; 2],
    /// Pictures a second that the camera takes.
    pub rate_hz: f64,
    /// Share of a frame's time that the shutter is open.
    pub shutter: f64,
    /// How steady it is held.
    pub hold: Hold,
    /// Standard deviation of the sensor's noise in mid grey, 8-bit steps.
    pub noise: f64,
    /// 1 = daylight; less is darker (and noisier).
    pub light: f64,
    /// Clockwise turn that a player must make, deg: the file holds the picture turned the other way.
    pub rotation_deg: i32,
}

impl Default for CameraPlan {
    fn default() -> Self {
        Self {
            view: View::OpenSide,
            oblique_deg: 0.0,
            distance_m: 6.5,
            height_m: 1.2,
            width: 1280,
            height: 720,
            body_share: 0.56,
            place: [0.47, 0.56],
            rate_hz: 60.0,
            shutter: 0.35,
            hold: Hold::Tripod,
            noise: 1.6,
            light: 1.0,
            rotation_deg: 0,
        }
    }
}

/// The camera at work on one hitter.
#[derive(Debug, Clone)]
pub struct Camera {
    pub(crate) plan: CameraPlan,
    bats: Side,
    body_m: f64,
    /// Phase, rate and strength of each wobble, per axis.
    wobbles: Vec<Wobble>,
}

#[derive(Debug, Clone)]
struct Wobble {
    axis: usize,
    rate_hz: f64,
    phase: f64,
    by: f64,
}

/// The camera at one moment: a pinhole.
#[derive(Debug, Clone, Copy)]
pub struct Eye {
    /// Where the lens is, m.
    pub at: V3,
    pub(crate) right: V3,
    pub(crate) down: V3,
    pub(crate) ahead: V3,
    pub(crate) focal_px: f64,
    pub(crate) centre: Point,
}

impl Eye {
    /// Depth along the line of sight, m, and the place in the picture, px. `None` behind the lens.
    pub fn project(&self, p: V3) -> Option<(f64, Point)> {
        let d = p - self.at;
        let z = d.dot(self.ahead);
        (z > 0.05).then(|| {
            let k = self.focal_px / z;
            (z, Point::new(self.centre.x + d.dot(self.right) * k, self.centre.y + d.dot(self.down) * k))
        })
    }

    /// Direction (not unit) of the ray through a place in the picture.
    pub fn ray(&self, x: f64, y: f64) -> V3 {
        self.ahead
            + self.right * ((x - self.centre.x) / self.focal_px)
            + self.down * ((y - self.centre.y) / self.focal_px)
    }
}

impl Camera {
    /// Placed for a hitter of this side and height; `seed` sets how the hand shakes.
    pub fn new(plan: &CameraPlan, bats: Side, height_cm: f64, seed: u64) -> Self {
        let mut dice = Dice::stream(seed, 3);
        let strength = match plan.hold {
            Hold::Tripod => 0.0,
            Hold::Light => 1.0,
            Hold::Loose => 2.2,
        };
        let mut wobbles = Vec::new();
        if strength > 0.0 {
            // Axes 0–2: turn about right, down, ahead (rad). 3–5: shift along them (m). Slow sway and
            // the hand's tremor of 5–10 Hz (sizes from memory of hand-held footage).
            for axis in 0..6 {
                let (sway, tremor) = match axis {
                    0 | 1 => (0.0030, 0.00030),
                    2 => (0.0022, 0.00015),
                    _ => (0.004, 0.0003),
                };
                for (lo, hi, by) in [(0.15, 0.4, sway), (0.5, 1.1, 0.5 * sway), (5.0, 9.5, tremor)] {
                    wobbles.push(Wobble {
                        axis,
                        rate_hz: dice.between(lo, hi),
                        phase: dice.between(0.0, std::f64::consts::TAU),
                        by: strength * by * dice.between(0.6, 1.3),
                    });
                }
            }
        }
        Self { plan: *plan, bats, body_m: height_cm / 100.0, wobbles }
    }

    /// Where the camera would look without shake.
    pub fn steady(&self) -> Eye {
        self.eye([0.0; 6])
    }

    /// The camera at `t_s` from the first picture.
    pub fn at(&self, t_s: f64) -> Eye {
        let mut off = [0.0; 6];
        for w in &self.wobbles {
            off[w.axis] += w.by * (std::f64::consts::TAU * w.rate_hz * t_s + w.phase).sin();
        }
        self.eye(off)
    }

    fn eye(&self, off: [f64; 6]) -> Eye {
        let p = &self.plan;
        // A right-handed hitter's chest faces −y.
        let chest = if self.bats == Side::Right { v3(0.0, -1.0, 0.0) } else { v3(0.0, 1.0, 0.0) };
        let pitcher = v3(1.0, 0.0, 0.0);
        let (straight, aside) = match p.view {
            View::OpenSide => (chest, pitcher),
            View::ClosedSide => (-chest, pitcher),
            View::FromBehind => (-pitcher, chest),
            View::FromFront => (pitcher, chest),
        };
        let turn = p.oblique_deg.to_radians();
        let toward = straight * turn.cos() + aside * turn.sin();
        let at = toward * p.distance_m + V3::UP * p.height_m;
        let focal_px = p.body_share * p.height as f64 * p.distance_m / self.body_m;
        // Level sight with the optical axis through the picture's middle: the hitter's middle is put in
        // its place by turning the camera.
        let middle = V3::UP * (0.5 * self.body_m);
        let dx = (p.place[0] - 0.5) * p.width as f64;
        let dy = (p.place[1] - 0.5) * p.height as f64;
        let to = (middle - at).unit();
        let (right, down, ahead) = frame(to);
        // Turn away by the wanted offset (small angles, exact enough: truth uses the result).
        let ahead = (ahead * focal_px - right * dx - down * dy).unit();
        let (right, down, ahead) = frame(ahead);
        let (a, b, c) = (off[0], off[1], off[2]);
        let ahead2 = (ahead + right * b - down * a).unit();
        let right2 = (right + down * c).without(ahead2).unit();
        let down2 = ahead2.cross(right2);
        let at = at + right * off[3] + down * off[4] + ahead * off[5];
        let centre = Point::new(p.width as f64 / 2.0, p.height as f64 / 2.0);
        Eye { at, right: right2, down: down2, ahead: ahead2, focal_px, centre }
    }

    /// Where the pitcher is in the picture.
    pub fn pitcher_side(&self) -> PitcherSide {
        match (self.plan.view, self.bats) {
            (View::FromBehind, _) => PitcherSide::Away,
            (View::FromFront, _) => PitcherSide::Toward,
            (View::OpenSide, Side::Right) | (View::ClosedSide, Side::Left) => PitcherSide::Right,
            (View::OpenSide, Side::Left) | (View::ClosedSide, Side::Right) => PitcherSide::Left,
        }
    }

    /// px per cm in the hitter's middle plane, square to the line of sight.
    pub fn px_per_cm(&self) -> f64 {
        let eye = self.steady();
        let z = (V3::UP * (0.5 * self.body_m) - eye.at).dot(eye.ahead);
        eye.focal_px / z / 100.0
    }

    /// Picture px at `t_s` → px of the steady camera, at the hitter's distance.
    pub fn to_steady(&self, t_s: f64) -> Similarity {
        let (eye, steady) = (self.at(t_s), self.steady());
        let see = |e: &Eye, z: f64| e.project(V3::UP * z).map_or(e.centre, |p| p.1);
        let (a, b) = (see(&eye, 0.1), see(&eye, 1.9));
        let (c, d) = (see(&steady, 0.1), see(&steady, 1.9));
        let (u, v) = (b - a, d - c);
        let n = u.dot(u).max(1e-9);
        let (k, s) = (u.dot(v) / n, (u.x * v.y - u.y * v.x) / n);
        Similarity {
            a: k,
            b: s,
            tx: c.x - (k * a.x - s * a.y),
            ty: c.y - (s * a.x + k * a.y),
            mirrored: false,
        }
    }
}

/// Right, down and ahead of a level camera that looks along `ahead`.
fn frame(ahead: V3) -> (V3, V3, V3) {
    let right = ahead.cross(V3::UP).unit();
    (right, ahead.cross(right), ahead)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hitter_is_where_and_as_big_as_planned() {
        for view in [View::OpenSide, View::ClosedSide, View::FromBehind, View::FromFront] {
            for bats in [Side::Left, Side::Right] {
                let plan = CameraPlan { view, ..CameraPlan::default() };
                let camera = Camera::new(&plan, bats, 180.0, 1);
                let eye = camera.steady();
                let (_, m) = eye.project(v3(0.0, 0.0, 0.9)).unwrap();
                assert!(m.distance(Point::new(0.47 * 1280.0, 0.56 * 720.0)) < 3.0, "{m:?}");
                let (_, top) = eye.project(v3(0.0, 0.0, 1.8)).unwrap();
                let (_, foot) = eye.project(V3::ZERO).unwrap();
                assert!((foot.y - top.y - 0.56 * 720.0).abs() < 6.0, "{foot:?} {top:?}");
                let (_, ahead) = eye.project(v3(0.5, 0.0, 0.9)).unwrap();
                match camera.pitcher_side() {
                    PitcherSide::Right => assert!(ahead.x > m.x + 50.0),
                    PitcherSide::Left => assert!(ahead.x < m.x - 50.0),
                    _ => assert!((ahead.x - m.x).abs() < 10.0),
                }
            }
        }
    }

    #[test]
    fn a_ray_goes_back_to_its_place() {
        let plan = CameraPlan { hold: Hold::Loose, ..CameraPlan::default() };
        let eye = Camera::new(&plan, Side::Right, 180.0, 9).at(1.3);
        let p = eye.at + eye.ray(200.0, 500.0) * 7.0;
        let (_, back) = eye.project(p).unwrap();
        assert!(back.distance(Point::new(200.0, 500.0)) < 1e-6);
    }

    #[test]
    fn shake_is_undone_at_the_hitter() {
        let plan = CameraPlan { hold: Hold::Light, ..CameraPlan::default() };
        let camera = Camera::new(&plan, Side::Right, 180.0, 4);
        let mut most: f64 = 0.0;
        for i in 0..100 {
            let t = f64::from(i) / 25.0;
            let p = v3(0.2, 0.0, 1.0);
            let (shaken, steady) =
                (camera.at(t).project(p).unwrap().1, camera.steady().project(p).unwrap().1);
            most = most.max(shaken.distance(steady));
            assert!(camera.to_steady(t).apply(shaken).distance(steady) < 0.6);
        }
        assert!((2.0..40.0).contains(&most), "shake of {most} px");
    }
}
