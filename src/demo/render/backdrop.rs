//! The world behind the hitter, painted once for the unshaken camera and looked at again by the
//! shaken one: exact for the two flat things there are, the ground and the wall behind.

use rayon::prelude::*;

use super::solid::Colour;
use super::texture;
use crate::demo::camera::Eye;
use crate::demo::scenario::Place;
use crate::demo::v3::V3;
use crate::types::Side;

/// Painted beyond each edge of the picture, px, so that a shaken camera does not look past it.
const MARGIN_PX: usize = 72;
/// From the hitter to the wall, m.
const WALL_M: f64 = 7.0;

pub struct Backdrop {
    width: usize,
    height: usize,
    painted: Vec<Colour>,
    steady: Eye,
    wall: Wall,
}

/// A plane, and a point and direction on it.
#[derive(Debug, Clone, Copy)]
struct Wall {
    at: V3,
    out: V3,
    along: V3,
}

impl Backdrop {
    pub fn paint(place: Place, bats: Side, steady: &Eye, width: usize, height: usize) -> Self {
        let out = (steady.at - V3::UP * steady.at.z).unit();
        let wall = Wall { at: out * -WALL_M, out, along: V3::UP.cross(out) };
        let (w, h) = (width + 2 * MARGIN_PX, height + 2 * MARGIN_PX);
        let mirror = if bats == Side::Right { 1.0 } else { -1.0 };
        let look = |x: f64, y: f64| {
            let ray = steady.ray(x, y);
            match hit(steady, ray, &wall) {
                (p, true) => texture::ground(place, p.x, mirror * p.y),
                (p, false) => texture::backdrop(place, (p - wall.at).dot(wall.along), p.z),
            }
        };
        let mut painted = vec![[0.0; 3]; w * h];
        painted.par_chunks_mut(w).enumerate().for_each(|(j, row)| {
            for (i, pixel) in row.iter_mut().enumerate() {
                let (x, y) = (i as f64 - MARGIN_PX as f64, j as f64 - MARGIN_PX as f64);
                let mut sum = [0.0; 3];
                // A rotated grid of four looks.
                for (dx, dy) in [(0.375, 0.125), (0.875, 0.375), (0.125, 0.625), (0.625, 0.875)] {
                    let c = look(x + dx, y + dy);
                    for (s, c) in sum.iter_mut().zip(c) {
                        *s += 0.25 * c;
                    }
                }
                *pixel = sum;
            }
        });
        Self { width: w, height: h, painted, steady: *steady, wall }
    }

    /// How `eye` sees what was painted; good for one picture.
    pub fn seen_by<'b>(&'b self, eye: &Eye) -> View<'b> {
        let (first, down) = (eye.ray(0.5, 0.5), eye.down * (1.0 / eye.focal_px));
        let right = eye.right * (1.0 / eye.focal_px);
        let off = eye.at - self.steady.at;
        // A ray v from the eye meets a plane at eye + v · k / q(v), k and q the plane's own; there the
        // unshaken camera sees q(v) · off + k · v, whose three coordinates are linear in the pixel.
        let plane = |k: f64, q: &dyn Fn(V3) -> f64| {
            let see = |v: V3| {
                let p = off * q(v) + v * k;
                let s = &self.steady;
                let (x, y, z) = (p.dot(s.right), p.dot(s.down), p.dot(s.ahead));
                let (cx, cy) = (s.centre.x + MARGIN_PX as f64 - 0.5, s.centre.y + MARGIN_PX as f64 - 0.5);
                [x * s.focal_px + cx * z, y * s.focal_px + cy * z, z].map(|v| v as f32)
            };
            [see(first), see(right), see(down)]
        };
        let wall_k = (self.wall.at - eye.at).dot(self.wall.out);
        let out = self.wall.out;
        // Both k are negative; so are both q where the ray meets the plane: signs cancel.
        let ground = plane(-eye.at.z, &|v: V3| v.z);
        let wall = plane(wall_k, &|v: V3| v.dot(out));
        // The ground is nearer where −z / v.z < k / v·out, both divisors negative: linear as well.
        let nearer = |v: V3| -(eye.at.z * v.dot(out) + wall_k * v.z) as f32;
        View { of: self, ground, wall, nearer: [nearer(first), nearer(right), nearer(down)] }
    }

    fn sample(&self, x: f32, y: f32) -> Colour {
        let x = x.clamp(0.0, (self.width - 2) as f32);
        let y = y.clamp(0.0, (self.height - 2) as f32);
        let (i, j) = (x as usize, y as usize);
        let (u, v) = (x - i as f32, y - j as f32);
        let at = |o: usize| self.painted.get(j * self.width + i + o).copied().unwrap_or_default();
        let (a, b, c, d) = (at(0), at(1), at(self.width), at(self.width + 1));
        std::array::from_fn(|k| {
            let top = a[k] + (b[k] - a[k]) * u;
            let low = c[k] + (d[k] - c[k]) * u;
            top + (low - top) * v
        })
    }
}

/// One camera's look at the backdrop: each plane's way from picture pixel to painted pixel
/// (homogeneous: value at the first pixel, step right, step down).
pub struct View<'b> {
    of: &'b Backdrop,
    ground: [[f32; 3]; 3],
    wall: [[f32; 3]; 3],
    nearer: [f32; 3],
}

impl View<'_> {
    /// Fills `row` with the picture's row `y`.
    pub fn row(&self, y: usize, row: &mut [Colour]) {
        let fy = y as f32;
        let at = |m: &[[f32; 3]; 3]| -> [f32; 3] { std::array::from_fn(|i| m[0][i] + m[2][i] * fy) };
        let (ground, wall) = (at(&self.ground), at(&self.wall));
        let nearer = self.nearer[0] + self.nearer[2] * fy;
        for (x, pixel) in row.iter_mut().enumerate() {
            let fx = x as f32;
            let (start, step) = if nearer + self.nearer[1] * fx < 0.0 {
                (&ground, &self.ground[1])
            } else {
                (&wall, &self.wall[1])
            };
            let w = 1.0 / (start[2] + step[2] * fx);
            *pixel = self.of.sample((start[0] + step[0] * fx) * w, (start[1] + step[1] * fx) * w);
        }
    }
}

/// Where a ray from the eye ends, and whether that is on the ground.
fn hit(eye: &Eye, ray: V3, wall: &Wall) -> (V3, bool) {
    let to_wall = (wall.at - eye.at).dot(wall.out) / ray.dot(wall.out).min(-1e-6);
    let to_ground = if ray.z < -1e-9 { -eye.at.z / ray.z } else { f64::INFINITY };
    if to_ground < to_wall { (eye.at + ray * to_ground, true) } else { (eye.at + ray * to_wall, false) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo::camera::{Camera, CameraPlan, Hold};

    #[test]
    fn a_shaken_look_finds_the_same_world() {
        let plan = CameraPlan { hold: Hold::Loose, width: 320, height: 180, ..CameraPlan::default() };
        let camera = Camera::new(&plan, Side::Right, 180.0, 3);
        let steady = camera.steady();
        let backdrop = Backdrop::paint(Place::Field, Side::Right, &steady, 320, 180);
        let (mut off, mut all) = (0, 0);
        for t in [0.0, 0.7, 1.9] {
            let eye = camera.at(t);
            let view = backdrop.seen_by(&eye);
            let mut row = vec![[0.0; 3]; 320];
            for y in [10, 60, 100, 130, 170] {
                view.row(y, &mut row);
                for (x, got) in row.iter().enumerate() {
                    let (p, _) = hit(&eye, eye.ray(x as f64 + 0.5, y as f64 + 0.5), &backdrop.wall);
                    let (_, q) = steady.project(p).unwrap();
                    let m = MARGIN_PX as f64 - 0.5;
                    let want = backdrop.sample((q.x + m) as f32, (q.y + m) as f32);
                    all += 1;
                    off += usize::from(got.iter().zip(want).any(|(a, b)| (a - b).abs() > 3.0));
                }
            }
        }
        // Single precision may fall on the other side of the line where ground and wall meet.
        assert!(off * 200 < all, "{off} of {all} pixels differ");
    }
}
