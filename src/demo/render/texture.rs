//! Surfaces of the made-up world: dirt, grass, chalk, fence, trees, sky, net.

use super::solid::Colour;
use crate::demo::scenario::Place;

/// A repeatable number in 0…1 for a cell.
fn cell(x: i64, y: i64, salt: u64) -> f32 {
    let mut z = (x as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15)
        ^ (y as u64).wrapping_mul(0xc2b2_ae3d_27d4_eb4f)
        ^ salt.wrapping_mul(0x1656_67b1_9e37_79f9);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((z ^ (z >> 31)) >> 40) as f32 / (1u64 << 24) as f32
}

/// Smooth noise in 0…1 with lumps about 1 unit wide.
fn lumps(x: f64, y: f64, salt: u64) -> f32 {
    let (i, j) = (x.floor(), y.floor());
    let s = |t: f64| (t * t * (3.0 - 2.0 * t)) as f32;
    let (u, v) = (s(x - i), s(y - j));
    let at = |a: i64, b: i64| cell(i as i64 + a, j as i64 + b, salt);
    let top = at(0, 0) + (at(1, 0) - at(0, 0)) * u;
    let low = at(0, 1) + (at(1, 1) - at(0, 1)) * u;
    top + (low - top) * v
}

/// Several sizes of lumps, 0…1.
fn rough(x: f64, y: f64, salt: u64) -> f32 {
    0.45 * lumps(x, y, salt)
        + 0.28 * lumps(2.7 * x, 2.7 * y, salt + 1)
        + 0.17 * lumps(7.1 * x, 7.1 * y, salt + 2)
        + 0.10 * lumps(19.0 * x, 19.0 * y, salt + 3)
}

fn mix(a: Colour, b: Colour, t: f32) -> Colour {
    let t = t.clamp(0.0, 1.0);
    std::array::from_fn(|i| a[i] + (b[i] - a[i]) * t)
}

fn times(c: Colour, k: f32) -> Colour {
    c.map(|v| v * k)
}

/// 1 inside `half` of 0, falling to 0 over `soft`.
fn band(d: f64, half: f64, soft: f64) -> f32 {
    ((half + soft - d.abs()) / soft).clamp(0.0, 1.0) as f32
}

/// The ground at (x, y), m; the plate lies on the −y side of the hitter (mirrored for a left-hander).
pub fn ground(place: Place, x: f64, y: f64) -> Colour {
    // Official Baseball Rules: plate 17 in wide; batter's box 4 by 6 ft (as commonly marked), 6 in
    // from the plate. The toes stand at y = 0.
    let (inner, outer, half_length) = (-0.30, 0.92, 0.915);
    let plate_y = inner - 0.152 - 0.216;
    let chalk_wear = 0.55 + 0.45 * rough(3.0 * x, 3.0 * y, 31);
    let base = match place {
        Place::Field => {
            let grain = rough(1.3 * x, 1.3 * y, 11);
            let fine = cell((x * 160.0).floor() as i64, (y * 160.0).floor() as i64, 12);
            let dirt = times([170.0, 124.0, 92.0], 0.80 + 0.30 * grain + 0.07 * fine);
            let far =
                (x * x + (y - plate_y) * (y - plate_y)).sqrt() + 0.35 * f64::from(lumps(2.0 * x, 2.0 * y, 5));
            let stripe = if (0.45 * (x + 0.3 * y)).rem_euclid(2.0) < 1.0 { 1.0 } else { 0.92 };
            let blade = rough(9.0 * x, 9.0 * y, 21);
            let grass = times([96.0, 134.0, 70.0], stripe * (0.74 + 0.46 * blade));
            mix(dirt, grass, ((far - 4.0) / 0.25) as f32)
        }
        Place::Cage => {
            let blade = rough(14.0 * x, 14.0 * y, 41);
            let turf = times([70.0, 112.0, 74.0], 0.78 + 0.36 * blade);
            let seam = band((x + 0.4).rem_euclid(1.83) - 0.9, 0.006, 0.006);
            let turf = mix(turf, times(turf, 0.72), seam);
            let mat = (x.abs() < 1.15) && (inner - 0.05..outer + 0.25).contains(&y);
            if mat { times([62.0, 62.0, 64.0], 0.85 + 0.25 * rough(20.0 * x, 20.0 * y, 43)) } else { turf }
        }
    };
    let mut chalk: f32 = 0.0;
    for (near, sign) in [(inner, 1.0), (2.0 * plate_y - inner, -1.0)] {
        let far = near + sign * (outer - inner);
        let middle = (near + far) / 2.0;
        let half = (outer - inner) / 2.0;
        let (u, v) = (x.abs() - half_length, (y - middle).abs() - half);
        let edge = band(u.max(v), 0.03, 0.015);
        chalk = chalk.max(edge);
    }
    let line = if place == Place::Field { chalk * chalk_wear } else { 0.9 * chalk };
    let base = mix(base, [236.0, 232.0, 224.0], line);
    // Home plate: a square of 17 in with the two rear corners cut off.
    let (u, v) = (x, (y - plate_y).abs());
    let in_plate = v < 0.216 && u < 0.216 && u > -0.216 && (u > 0.0 || v < 0.216 + u);
    if in_plate { times([240.0, 238.0, 232.0], 0.93 + 0.07 * rough(12.0 * x, 12.0 * y, 3)) } else { base }
}

/// The upright backdrop behind the hitter: `u` along it, `z` up, m.
pub fn backdrop(place: Place, u: f64, z: f64) -> Colour {
    match place {
        Place::Field => field_backdrop(u, z),
        Place::Cage => cage_backdrop(u, z),
    }
}

fn field_backdrop(u: f64, z: f64) -> Colour {
    let top = 2.25;
    if z < top {
        let panel = (u / 1.9).floor() as i64;
        let shade = 0.94 + 0.10 * cell(panel, 0, 51) + 0.06 * (rough(1.2 * u, 1.8 * z, 52) - 0.5);
        let streak = 1.0 - 0.10 * lumps(9.0 * u, 0.7 * z, 53);
        let mut c = times([58.0, 98.0, 82.0], shade * streak);
        let seam = (u / 1.9).rem_euclid(1.0) * 1.9;
        c = mix(c, times(c, 0.62), band(seam, 0.012, 0.02));
        c = mix(c, times(c, 1.18), band(seam - 0.05, 0.01, 0.02));
        // Kick board, cap rail, a row of bolts.
        c = mix(c, [92.0, 78.0, 64.0], ((0.24 - z) / 0.02) as f32);
        c = mix(c, [196.0, 178.0, 92.0], ((z - top + 0.09) / 0.015) as f32);
        let bolt = ((u / 0.38).rem_euclid(1.0) * 0.38 - 0.19).hypot(z - 1.95);
        return mix(c, [150.0, 160.0, 152.0], band(bolt, 0.012, 0.012));
    }
    // Trees with sky behind.
    let crown =
        3.0 + 1.7 * f64::from(lumps(0.33 * u, 7.3, 61)) + 0.7 * f64::from(rough(1.1 * u, 1.1 * z, 62));
    let haze = ((z - 2.0) / 9.0) as f32;
    let cloud = (rough(0.22 * u, 0.5 * z, 71) - 0.46) * 3.2;
    let sky =
        mix(mix([196.0, 216.0, 232.0], [128.0, 172.0, 216.0], haze), [240.0, 242.0, 244.0], cloud.min(0.75));
    let leaf = rough(2.3 * u, 2.3 * z, 63);
    let sunny = lumps(0.9 * u + 0.5, 0.9 * z, 64);
    let tree = times([66.0, 92.0, 52.0], 0.50 + 0.62 * leaf + 0.30 * sunny);
    let edge = ((crown - z) / 0.12 + f64::from(leaf) * 2.0 - 1.0) as f32;
    mix(sky, tree, edge)
}

fn cage_backdrop(u: f64, z: f64) -> Colour {
    // A block wall in a hall, lamps above, a net hung before it.
    let course = (z / 0.2).floor();
    let shift = if (course as i64) % 2 == 0 { 0.0 } else { 0.2 };
    let block = ((u + shift) / 0.4).floor() as i64;
    let shade = 0.90 + 0.12 * cell(block, course as i64, 81) + 0.10 * (rough(2.0 * u, 2.0 * z, 82) - 0.5);
    let mut c = times([148.0, 150.0, 156.0], shade);
    let joint_z = (z / 0.2).rem_euclid(1.0) * 0.2;
    let joint_u = ((u + shift) / 0.4).rem_euclid(1.0) * 0.4;
    c = mix(c, times(c, 0.80), band(joint_z, 0.006, 0.01).max(band(joint_u, 0.006, 0.01)));
    c = mix(c, [70.0, 84.0, 104.0], ((1.15 - z) / 0.02) as f32);
    c = mix(c, [60.0, 62.0, 66.0], ((z - 3.2) / 0.5) as f32);
    let lamp = ((u / 2.6).rem_euclid(1.0) * 2.6 - 1.3).abs();
    if z > 3.75 && z < 3.87 && lamp < 0.62 {
        c = [250.0, 248.0, 238.0];
    }
    // The net: diagonal mesh, then posts.
    let mesh = |d: f64| band((d / 0.13).rem_euclid(1.0) * 0.13 - 0.065, 0.004, 0.006);
    let net = mesh((u + z) / std::f64::consts::SQRT_2).max(mesh((u - z) / std::f64::consts::SQRT_2));
    c = mix(c, [34.0, 36.0, 40.0], 0.55 * net);
    let post = (u / 2.9).rem_euclid(1.0) * 2.9 - 1.45;
    let round = 1.0 - (post.abs() / 0.05).min(1.0);
    mix(c, times([92.0, 96.0, 104.0], 0.7 + 0.5 * round as f32), band(post, 0.045, 0.01))
}
