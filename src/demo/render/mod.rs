//! Draws a scenario's pictures on the processor: world, people, light, blur, noise.

mod backdrop;
mod picture;
mod raster;
mod shadow;
mod solid;
mod texture;

use super::act;
use super::ball::{BALL_RADIUS_M, BallSource, Flight};
use super::bystander;
use super::camera::{Camera, Eye};
use super::scenario::{Aside, Place, Scenario};
use super::swing::Swing;
use super::v3::{V3, v3};
use crate::types::{Frame, Side};
use backdrop::Backdrop;
use picture::{Noise, to_frame};
use raster::{Canvas, Light};
use solid::{Body, Colour, Solid};

/// A fast thing is drawn at as many moments of the exposure as it moves px, divided by this.
const BLUR_STEP_PX: f64 = 2.5;
const MOST_MOMENTS: usize = 18;

/// A scenario ready to be filmed. Pictures may be asked for in any order and from many threads.
pub struct Studio<'a> {
    scenario: &'a Scenario,
    swing: Swing,
    flight: Flight,
    camera: Camera,
    backdrop: Backdrop,
    noise: Noise,
    light: Light,
}

impl<'a> Studio<'a> {
    /// Everything that stays the same from picture to picture is made here.
    pub fn new(scenario: &'a Scenario) -> Self {
        let s = scenario;
        let swing = Swing::of(s);
        let flight = Flight::new(&swing, s.ball);
        let camera = Camera::new(&s.camera, s.hitter.bats, s.hitter.height_cm, s.camera_seed);
        let steady = camera.steady();
        let backdrop =
            Backdrop::paint(s.scene.place, s.hitter.bats, &steady, s.camera.width, s.camera.height);
        // The sun stands behind the camera's left shoulder, in a hall the lamps hang overhead.
        let light = match s.scene.place {
            Place::Field => Light {
                sun: (steady.right * -0.55 - steady.ahead * 0.60 + V3::UP * 0.75).unit(),
                sun_share: 0.62,
                sky_share: 0.56,
                tint: [1.0, 0.99, 0.97],
            },
            Place::Cage => Light {
                sun: (steady.right * 0.2 - steady.ahead * 0.45 + V3::UP * 1.0).unit(),
                sun_share: 0.48,
                sky_share: 0.60,
                tint: [1.0, 0.98, 0.93],
            },
        };
        let noise = Noise::new(s.camera_seed, s.camera.noise / s.camera.light.clamp(0.2, 1.0).sqrt());
        Self { scenario, swing, flight, camera, backdrop, noise, light }
    }

    pub(crate) fn swing(&self) -> &Swing {
        &self.swing
    }

    /// The camera that films.
    pub fn camera(&self) -> &Camera {
        &self.camera
    }

    /// Picture `index`, upright.
    pub fn frame(&self, index: usize) -> Frame {
        let plan = &self.scenario.camera;
        let (w, h) = (plan.width, plan.height);
        let t = self.scenario.frame_time_s(index);
        let eye = self.camera.at(t);
        let mut rgb: Vec<Colour> = vec![[0.0; 3]; w * h];
        let view = self.backdrop.seen_by(&eye);
        for (y, row) in rgb.chunks_mut(w).enumerate() {
            view.row(y, row);
        }
        let open_s = plan.shutter / plan.rate_hz;
        let moments = self.moments(t, open_s, &eye);
        let times: Vec<f64> =
            (0..moments).map(|i| t + open_s * ((i as f64 + 0.5) / moments as f64 - 0.5)).collect();
        let scenes: Vec<Vec<Solid>> = times.iter().map(|&t| self.solids(t)).collect();
        if let Some((x0, y0, cw, ch)) = bounds(scenes.iter().flatten(), &eye, &self.light, w, h) {
            self.draw(&mut rgb, w, (x0, y0, cw, ch), &scenes, &eye);
        }
        if self.scenario.scene.net_in_front {
            net(&mut rgb, w, &eye);
        }
        to_frame(&rgb, w, h, &self.noise, index, plan.light as f32)
    }

    fn draw(
        &self,
        rgb: &mut [Colour],
        w: usize,
        part: (usize, usize, usize, usize),
        scenes: &[Vec<Solid>],
        eye: &Eye,
    ) {
        let (x0, y0, cw, ch) = part;
        let mut canvas = Canvas::new(x0, y0, cw, ch);
        let mut sum: Vec<Colour> = vec![[0.0; 3]; cw * ch];
        let share = 1.0 / scenes.len() as f32;
        // Shadows are soft: one for the middle of the exposure is enough.
        let mut ground: Vec<Colour> = Vec::with_capacity(cw * ch);
        for y in 0..ch {
            let from = (y + y0) * w + x0;
            ground.extend_from_slice(rgb.get(from..from + cw).unwrap_or(&[]));
        }
        if let Some(middle) = scenes.get(scenes.len() / 2) {
            shadow::cast(&mut ground, part, middle, eye, &self.light);
        }
        for solids in scenes {
            canvas.colour.copy_from_slice(&ground);
            canvas.clear_depth();
            canvas.draw(solids, eye, &self.light);
            for (s, c) in sum.iter_mut().zip(&canvas.colour) {
                for (s, c) in s.iter_mut().zip(c) {
                    *s += share * c;
                }
            }
        }
        for (y, row) in sum.chunks(cw).enumerate() {
            let from = (y + y0) * w + x0;
            if let Some(out) = rgb.get_mut(from..from + cw) {
                out.copy_from_slice(row);
            }
        }
    }

    /// Which pixels of picture `index` show the hitter or the bat at the middle of the exposure, row by row, as if
    /// nothing stood in front.
    pub fn silhouette(&self, index: usize) -> Vec<bool> {
        let plan = &self.scenario.camera;
        let t = self.scenario.frame_time_s(index);
        let mut solids = Vec::new();
        self.hitter(t, &mut solids);
        let mut canvas = Canvas::new(0, 0, plan.width, plan.height);
        canvas.draw(&solids, &self.camera.at(t), &self.light);
        canvas.drawn().collect()
    }

    fn hitter(&self, t: f64, out: &mut Vec<Solid>) {
        let s = self.scenario;
        let body = Body {
            look: &s.look,
            height_m: s.hitter.height_cm / 100.0,
            build: s.hitter.build,
            bats: s.hitter.bats,
        };
        body.solids(&act::pose_at(s, &self.swing, t), out);
    }

    /// Everything that stands in the world at real time `t` from the first picture.
    fn solids(&self, t: f64) -> Vec<Solid> {
        let s = self.scenario;
        let at = t - s.contact_s;
        let mut out = Vec::with_capacity(80);
        self.hitter(t, &mut out);
        for person in &s.scene.bystanders {
            let figure = bystander::figure(person, t);
            let body = Body {
                look: &person.look,
                height_m: person.height_cm / 100.0,
                build: 1.0,
                bats: Side::Right,
            };
            body.solids(&figure, &mut out);
        }
        let dry = matches!(s.aside, Some(Aside::DrySwing | Aside::Pastime(_)));
        if let (Some(p), false) = (self.flight.at(at), dry) {
            out.push(Solid::ball(p, BALL_RADIUS_M, [244, 242, 234]));
        }
        if s.ball == BallSource::Tee {
            let met = self.flight.met();
            let top = v3(met.x, met.y, met.z - BALL_RADIUS_M - 0.02);
            let foot = v3(met.x, met.y, 0.03);
            let mut tee = Solid::ball(top, 0.016, [40, 40, 44]);
            tee.to = foot;
            tee.to_r = 0.02;
            out.push(tee);
            let mut plate = Solid::ball(foot - v3(0.12, 0.0, 0.01), 0.02, [40, 40, 44]);
            plate.to = foot + v3(0.12, 0.0, -0.01);
            out.push(plate);
        }
        out
    }

    /// How many moments of the exposure are needed for an unbroken blur.
    fn moments(&self, t: f64, open_s: f64, eye: &Eye) -> usize {
        let (a, b) = (self.solids(t - open_s / 2.0), self.solids(t + open_s / 2.0));
        let far = |p: V3, q: V3| match (eye.project(p), eye.project(q)) {
            (Some((_, p)), Some((_, q))) => p.distance(q),
            _ => 0.0,
        };
        // The ball may enter or leave between the two: count only what is in both.
        let most = a
            .iter()
            .zip(&b)
            .map(|(p, q)| far(p.from, q.from).max(far(p.to, q.to)))
            .filter(|d| *d < 400.0)
            .fold(0.0, f64::max);
        ((most / BLUR_STEP_PX).ceil() as usize).clamp(1, MOST_MOMENTS)
    }
}

/// The part of the picture that holds the solids and their shadows: corner and size, px.
fn bounds<'s>(
    solids: impl Iterator<Item = &'s Solid>,
    eye: &Eye,
    light: &Light,
    w: usize,
    h: usize,
) -> Option<(usize, usize, usize, usize)> {
    let (mut lo, mut hi) = ((f64::MAX, f64::MAX), (f64::MIN, f64::MIN));
    for s in solids {
        for (p, r) in [(s.from, s.from_r), (s.to, s.to_r)] {
            for (p, soft) in [(p, 2.0), (shadow::foot(p, light), 14.0)] {
                let Some((z, q)) = eye.project(p) else { continue };
                let r = r * eye.focal_px / z + soft;
                lo = (lo.0.min(q.x - r), lo.1.min(q.y - r));
                hi = (hi.0.max(q.x + r), hi.1.max(q.y + r));
            }
        }
    }
    let x0 = lo.0.clamp(0.0, w as f64) as usize;
    let y0 = lo.1.clamp(0.0, h as f64) as usize;
    let x1 = hi.0.ceil().clamp(0.0, w as f64) as usize;
    let y1 = hi.1.ceil().clamp(0.0, h as f64) as usize;
    (x1 > x0 && y1 > y0).then(|| (x0, y0, x1 - x0, y1 - y0))
}

/// A net close to the lens, out of focus: it swings with the camera.
fn net(rgb: &mut [Colour], w: usize, eye: &Eye) {
    let pitch = 58.0;
    let (ox, oy) = (eye.at.x * 900.0 + eye.ahead.x * 700.0, eye.at.z * 900.0 + eye.ahead.z * 700.0);
    for (y, row) in rgb.chunks_mut(w).enumerate() {
        for (x, c) in row.iter_mut().enumerate() {
            let (u, v) = (x as f64 + ox, y as f64 + oy);
            let line = |d: f64| {
                let m = (d / pitch).rem_euclid(1.0) - 0.5;
                (1.0 - m.abs() * pitch / 3.2).max(0.0) as f32
            };
            let k = 0.42
                * line((u + v) * std::f64::consts::FRAC_1_SQRT_2)
                    .max(line((u - v) * std::f64::consts::FRAC_1_SQRT_2));
            for (c, n) in c.iter_mut().zip([48.0, 50.0, 52.0]) {
                *c += (n - *c) * k;
            }
        }
    }
}
