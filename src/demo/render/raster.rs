//! Solids to pixels: depth, smooth joints, light, soft edges.

use super::solid::{Colour, Solid};
use crate::demo::camera::Eye;
use crate::demo::v3::{V3, v3};

/// A part of the picture being drawn: colour, depth and surface direction for each pixel.
pub struct Canvas {
    /// The part's corner in the picture, px.
    pub x0: usize,
    pub y0: usize,
    pub width: usize,
    pub height: usize,
    pub colour: Vec<Colour>,
    depth: Vec<f32>,
    normal: Vec<[f32; 3]>,
    cloth: Vec<u8>,
}

/// Where the light comes from and how much of it.
#[derive(Debug, Clone, Copy)]
pub struct Light {
    /// To the sun, unit, world.
    pub sun: V3,
    pub sun_share: f32,
    pub sky_share: f32,
    /// Colour of what comes from all sides.
    pub tint: Colour,
}

/// Depth over which two pieces of one cloth flow into each other, m.
const FLOW_M: f32 = 0.022;

impl Canvas {
    pub fn new(x0: usize, y0: usize, width: usize, height: usize) -> Self {
        let n = width * height;
        Self {
            x0,
            y0,
            width,
            height,
            colour: vec![[0.0; 3]; n],
            depth: vec![f32::MAX; n],
            normal: vec![[0.0; 3]; n],
            cloth: vec![0; n],
        }
    }

    /// Forgets depths, so that the next moment can be drawn over a fresh ground.
    pub fn clear_depth(&mut self) {
        self.depth.fill(f32::MAX);
        self.cloth.fill(0);
    }

    /// Which pixels something was drawn on.
    pub fn drawn(&self) -> impl Iterator<Item = bool> {
        self.depth.iter().map(|d| *d < f32::MAX)
    }

    /// Draws the solids, far ones first so that soft edges lie over what is behind.
    pub fn draw(&mut self, solids: &[Solid], eye: &Eye, light: &Light) {
        let mut order: Vec<(f64, &Solid)> =
            solids.iter().map(|s| ((s.from.lerp(s.to, 0.5) - eye.at).dot(eye.ahead), s)).collect();
        order.sort_by(|a, b| b.0.total_cmp(&a.0));
        let lit = Lit::new(eye, light);
        for (_, solid) in order {
            self.cone(solid, eye, &lit);
        }
    }

    fn cone(&mut self, s: &Solid, eye: &Eye, lit: &Lit) {
        let (Some((za, a)), Some((zb, b))) = (eye.project(s.from), eye.project(s.to)) else { return };
        let (ra, rb) = (s.from_r * eye.focal_px / za, s.to_r * eye.focal_px / zb);
        let r = ra.max(rb) + 1.0;
        let lo = |a: f64, b: f64, o: usize| (a.min(b) - r - o as f64).floor().max(0.0) as usize;
        let hi = |a: f64, b: f64, o: usize, n: usize| {
            (a.max(b) + r - o as f64).ceil().clamp(0.0, n as f64) as usize
        };
        let (x_lo, x_hi) = (lo(a.x, b.x, self.x0), hi(a.x, b.x, self.x0, self.width));
        let (y_lo, y_hi) = (lo(a.y, b.y, self.y0), hi(a.y, b.y, self.y0, self.height));
        let (ax, ay) = (a.x as f32, a.y as f32);
        let (bx, by) = ((b.x - a.x) as f32, (b.y - a.y) as f32);
        let (ra, dr) = (ra as f32, (rb - ra) as f32);
        let (za, dz) = (za as f32, (zb - za) as f32);
        let (ma, dm) = (s.from_r as f32, (s.to_r - s.from_r) as f32);
        let inv = 1.0 / (bx * bx + by * by).max(1e-6);
        let length = (bx * bx + by * by).sqrt();
        let inv_length = 1.0 / length.max(1e-3);
        let cone = Cone::new(ra, dr, bx, by, dz * eye.focal_px as f32 / (za + 0.5 * dz));
        // How much the solid lies across the line of sight: its ends are seen only then as ends.
        let across = length / (bx * bx + by * by + cone.deep * cone.deep).sqrt().max(1e-3);
        let flat_ends = s.cloth != 0 && length > 2.0;
        for y in y_lo..y_hi {
            let py = (y + self.y0) as f32 + 0.5 - ay;
            let row = y * self.width;
            for x in x_lo..x_hi {
                let px = (x + self.x0) as f32 + 0.5 - ax;
                let t = ((px * bx + py * by) * inv).clamp(0.0, 1.0);
                let r = ra + dr * t;
                let (ox, oy) = (px - bx * t, py - by * t);
                let d2 = ox * ox + oy * oy;
                if d2 > (r + 0.5) * (r + 0.5) {
                    continue;
                }
                let d = d2.sqrt();
                // A thing thinner than a pixel covers only its share.
                let cover = (r - d + 0.5).clamp(0.0, 1.0) * (2.0 * r).min(1.0);
                let past_end = ((px * bx + py * by) * inv - t) * length;
                let (t, nx, ny, nz) = cone.seen(px, py).unwrap_or_else(|| {
                    // The soft rim, just outside the skin.
                    let k = 1.0 / r.max(d).max(1e-4);
                    let (nx, ny) = (ox * k, oy * k);
                    (t, nx, ny, (1.0 - nx * nx - ny * ny).max(0.0).sqrt())
                });
                let m = ma + dm * t;
                let z = za + dz * t - m * nz;
                let mut n = [nx, ny, -nz];
                if flat_ends {
                    // The ends of a sleeve or a calf run on into the next piece: no rounding there.
                    if past_end != 0.0 {
                        let k = 0.75 * across * across * past_end * inv_length / r;
                        n = [nx - k * bx, ny - k * by, -nz];
                        let l = (n[0] * n[0] + n[1] * n[1]).min(1.0);
                        n[2] = -(1.0 - l).sqrt();
                    }
                }
                if s.cut.is_some() {
                    let centre = s.from.lerp(s.to, f64::from(t));
                    let skin = centre
                        + (eye.right * f64::from(nx) + eye.down * f64::from(ny) - eye.ahead * f64::from(nz))
                            * f64::from(m);
                    if [s.cut, s.also].iter().flatten().any(|c| (skin - c.at).dot(c.normal) < 0.0) {
                        continue;
                    }
                }
                let i = row + x;
                let (Some(depth), Some(normal), Some(cloth), Some(colour)) = (
                    self.depth.get_mut(i),
                    self.normal.get_mut(i),
                    self.cloth.get_mut(i),
                    self.colour.get_mut(i),
                ) else {
                    continue;
                };
                let same = s.cloth != 0 && *cloth == s.cloth;
                let nearer = *depth - z;
                if nearer <= if same { -FLOW_M } else { 0.0 } {
                    continue;
                }
                if same && nearer < FLOW_M {
                    // Flow the surfaces together.
                    let w = 0.5 + 0.5 * nearer / FLOW_M;
                    let w = w * w * (3.0 - 2.0 * w) * cover;
                    for (a, b) in n.iter_mut().zip(*normal) {
                        *a = *a * w + b * (1.0 - w);
                    }
                    let l = (n[0] * n[0] + n[1] * n[1] + n[2] * n[2]).sqrt().max(1e-4);
                    n = n.map(|v| v / l);
                    let c = lit.shade(s, n);
                    for (a, b) in colour.iter_mut().zip(c) {
                        *a += (b - *a) * cover.max(w);
                    }
                    *depth = depth.min(z);
                    *normal = n;
                    continue;
                }
                let c = lit.shade(s, n);
                for (a, b) in colour.iter_mut().zip(c) {
                    *a += (b - *a) * cover;
                }
                if cover > 0.5 {
                    *depth = z;
                    *normal = n;
                    *cloth = s.cloth;
                }
            }
        }
    }
}

/// A round cone as seen along the line of sight, in px, its first ball's middle at the origin: all balls
/// of radius `r + dr·t` about `(bx, by, deep)·t`, 0 ≤ t ≤ 1. What is seen at a pixel p is the ball whose
/// skin is nearest there: the least of `deep·t − √q(t)` with
/// `q(t) = (r + dr·t)² − |p − b·t|² = a·t² + b(p)·t + c(p)`, which has a closed form.
struct Cone {
    r: f32,
    dr: f32,
    bx: f32,
    by: f32,
    deep: f32,
    a: f32,
    /// 1 / (4 · (deep² − a)).
    share: f32,
}

impl Cone {
    fn new(r: f32, dr: f32, bx: f32, by: f32, deep: f32) -> Self {
        let a = dr * dr - bx * bx - by * by;
        Self { r, dr, bx, by, deep, a, share: 0.25 / (deep * deep - a).max(1e-6) }
    }

    /// Which ball, and the direction of its skin (right, down, to the eye); `None` beside the cone.
    fn seen(&self, px: f32, py: f32) -> Option<(f32, f32, f32, f32)> {
        let b = 2.0 * (self.r * self.dr + px * self.bx + py * self.by);
        let c = self.r * self.r - px * px - py * py;
        let q = |t: f32| (self.a * t + b) * t + c;
        let middle = if self.a < -1e-3 {
            let d = b * b - 4.0 * self.a * c;
            if d < 0.0 {
                return None;
            }
            (2.0 * self.deep * (d * self.share).sqrt() - b) / (2.0 * self.a)
        } else if self.deep < 0.0 {
            // One ball hides the other.
            1.0
        } else {
            0.0
        };
        let mut t = middle.clamp(0.0, 1.0);
        if q(t) <= 0.0 {
            // Beyond the end that is nearest to the eye: the other may still show.
            t = 1.0 - t.round();
        }
        let q = q(t);
        if q <= 0.0 {
            return None;
        }
        let k = 1.0 / (self.r + self.dr * t).max(1e-4);
        Some((t, (px - self.bx * t) * k, (py - self.by * t) * k, q.sqrt() * k))
    }
}

/// The light in the camera's axes.
struct Lit {
    sun: [f32; 3],
    up: [f32; 3],
    half: [f32; 3],
    light: Light,
}

impl Lit {
    fn new(eye: &Eye, light: &Light) -> Self {
        let turn = |v: V3| [v.dot(eye.right) as f32, v.dot(eye.down) as f32, v.dot(eye.ahead) as f32];
        let half = (light.sun - eye.ahead).unit();
        Self { sun: turn(light.sun), up: turn(v3(0.0, 0.0, 1.0)), half: turn(half), light: *light }
    }

    fn shade(&self, s: &Solid, n: [f32; 3]) -> Colour {
        let dot = |a: [f32; 3]| a[0] * n[0] + a[1] * n[1] + a[2] * n[2];
        let sun = (0.8 * dot(self.sun) + 0.2).max(0.0) * self.light.sun_share;
        let sky = (0.62 + 0.38 * dot(self.up)) * self.light.sky_share;
        // Cloth darkens a little where it turns away.
        let turn = 0.86 + 0.14 * (-n[2]);
        let k = (sun + sky) * turn;
        let shine = if s.gloss > 0.0 { s.gloss * 90.0 * dot(self.half).max(0.0).powi(24) } else { 0.0 };
        let mut c = s.colour;
        for (v, tint) in c.iter_mut().zip(self.light.tint) {
            *v = *v * k * tint + shine * self.light.sun_share;
        }
        c
    }
}
