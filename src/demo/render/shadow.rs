//! Soft shadows on the ground.

use super::raster::Light;
use super::solid::{Colour, Solid};
use crate::demo::camera::Eye;
use crate::demo::v3::{V3, v3};

/// Where the shadow of `p` falls.
pub fn foot(p: V3, light: &Light) -> V3 {
    let down = p.z / light.sun.z.max(0.2);
    v3(p.x - light.sun.x * down, p.y - light.sun.y * down, 0.0)
}

/// Darkens the ground under the solids. `ground` is the part `(x0, y0, width, height)` of the picture.
pub fn cast(
    ground: &mut [Colour],
    (x0, y0, w, h): (usize, usize, usize, usize),
    solids: &[Solid],
    eye: &Eye,
    light: &Light,
) {
    let mut dark = vec![0.0f32; w * h];
    for s in solids {
        let (a, b) = (foot(s.from, light), foot(s.to, light));
        let (Some((za, a)), Some((zb, b))) = (eye.project(a), eye.project(b)) else { continue };
        // The ground is seen at a slant: shadows are flat. Height over the ground blurs.
        let lie = (eye.at.z / (eye.at - foot(s.from, light)).length()).clamp(0.08, 1.0) as f32;
        let (ra, rb) = ((s.from_r * eye.focal_px / za) as f32, (s.to_r * eye.focal_px / zb) as f32);
        let soft_of = |z: f64, depth: f64| ((0.012 + 0.035 * z) * eye.focal_px / depth) as f32;
        let (sa, sb) = (soft_of(s.from.z, za), soft_of(s.to.z, zb));
        let r = f64::from(ra.max(rb) + sa.max(sb));
        let x_lo = (a.x.min(b.x) - r - x0 as f64).max(0.0) as usize;
        let x_hi = (a.x.max(b.x) + r - x0 as f64).clamp(0.0, w as f64) as usize;
        let y_lo = (a.y.min(b.y) - r * f64::from(lie) - y0 as f64).max(0.0) as usize;
        let y_hi = (a.y.max(b.y) + r * f64::from(lie) - y0 as f64).clamp(0.0, h as f64) as usize;
        // In coordinates stretched so that the flat shadow is round again.
        let (bx, by) = ((b.x - a.x) as f32, (b.y - a.y) as f32 / lie);
        let inv = 1.0 / (bx * bx + by * by).max(1e-6);
        for y in y_lo..y_hi {
            let py = ((y + y0) as f32 + 0.5 - a.y as f32) / lie;
            for x in x_lo..x_hi {
                let px = (x + x0) as f32 + 0.5 - a.x as f32;
                let t = ((px * bx + py * by) * inv).clamp(0.0, 1.0);
                let (ox, oy) = (px - bx * t, py - by * t);
                let d = (ox * ox + oy * oy).sqrt();
                let (r, soft) = (ra + (rb - ra) * t, sa + (sb - sa) * t);
                let k = ((r + soft * 0.5 - d) / soft.max(0.5)).clamp(0.0, 1.0);
                let k = k * k * (3.0 - 2.0 * k) * (r / (r + 0.3 * soft));
                if let Some(v) = dark.get_mut(y * w + x) {
                    *v = v.max(k);
                }
            }
        }
    }
    let depth = light.sun_share / (light.sun_share + light.sky_share) * 0.85;
    for (c, k) in ground.iter_mut().zip(&dark) {
        for v in c.iter_mut() {
            *v *= 1.0 - depth * k;
        }
    }
}
