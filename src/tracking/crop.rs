use crate::math::bilinear;
use crate::types::{Frame, Point};

/// A square part of a picture, perhaps turned: what a net is shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Region {
    pub(crate) centre: Point,
    /// Side of the square, px.
    pub side: f64,
    /// Turn of the square, rad, clockwise on screen.
    pub rotation_rad: f64,
}

impl Region {
    /// The upright square around the whole of a `width` × `height` picture.
    pub fn whole(width: usize, height: usize) -> Self {
        let centre = Point::new(width as f64 / 2.0, height as f64 / 2.0);
        Self { centre, side: width.max(height) as f64, rotation_rad: 0.0 }
    }

    /// The region that holds a body whose hips' middle is `hips` and whose full size and direction are
    /// given by `top`, a point straight above the body's centre on the circle around it.
    pub fn around_body(hips: Point, top: Point) -> Self {
        let d = top - hips;
        let side = 2.0 * d.length() * 1.25;
        let angle = std::f64::consts::FRAC_PI_2 - (-d.y).atan2(d.x);
        Self { centre: hips, side, rotation_rad: wrap(angle) }
    }

    /// Crop coordinates (0…1 in both directions) → picture px.
    pub fn to_picture(self, u: f64, v: f64) -> Point {
        let (sin, cos) = self.rotation_rad.sin_cos();
        let (dx, dy) = ((u - 0.5) * self.side, (v - 0.5) * self.side);
        Point::new(self.centre.x + cos * dx - sin * dy, self.centre.y + sin * dx + cos * dy)
    }

    /// The region a share `t` of the way to `other`; the turn takes the short way.
    pub fn lerp(self, other: Self, t: f64) -> Self {
        Self {
            centre: self.centre.lerp(other.centre, t),
            side: self.side + (other.side - self.side) * t,
            rotation_rad: wrap(self.rotation_rad + wrap(other.rotation_rad - self.rotation_rad) * t),
        }
    }

    /// The same region in a picture `k` times as large.
    pub fn scaled(self, k: f64) -> Self {
        Self { centre: self.centre * k, side: self.side * k, ..self }
    }
}

fn wrap(angle_rad: f64) -> f64 {
    use std::f64::consts::{PI, TAU};
    angle_rad - TAU * ((angle_rad + PI) / TAU).floor()
}

/// A picture that can be asked for its colour anywhere.
pub trait Pixels {
    /// Of the picture, px.
    fn width(&self) -> usize;
    /// Of the picture, px.
    fn height(&self) -> usize;
    /// R, G, B, 0…1, at a place (px, pixel centres at .5), bilinear, the border repeated.
    fn rgb(&self, at: Point) -> [f32; 3];
}

impl Pixels for Frame {
    fn width(&self) -> usize {
        self.y.width
    }

    fn height(&self) -> usize {
        self.y.height
    }

    fn rgb(&self, at: Point) -> [f32; 3] {
        // Chroma sits on the left luma column of its pair and between the two rows.
        let luma = (bilinear(&self.y, at.x - 0.5, at.y - 0.5) as f32 - 16.0) / 219.0;
        let (cx, cy) = ((at.x - 0.5) / 2.0, at.y / 2.0 - 0.5);
        let blue = (bilinear(&self.u, cx, cy) as f32 - 128.0) / 224.0;
        let red = (bilinear(&self.v, cx, cy) as f32 - 128.0) / 224.0;
        // ITU-R BT.709: Kr = 0.2126, Kb = 0.0722.
        [
            (luma + 1.5748 * red).clamp(0.0, 1.0),
            (luma - 0.187_324 * blue - 0.468_124 * red).clamp(0.0, 1.0),
            (luma + 1.8556 * blue).clamp(0.0, 1.0),
        ]
    }
}

/// What is shown outside the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Border {
    /// Black.
    Black,
    /// The nearest pixel of the edge.
    Repeat,
}

/// Samples `region` into `side` × `side` RGB, 0…1. Strong reductions average several samples a pixel,
/// so that a large picture does not flicker; below three times the plain bilinear sample is what the nets
/// were trained on.
pub fn sample(picture: &impl Pixels, region: Region, side: usize, border: Border) -> Vec<f32> {
    let (w, h) = (picture.width() as f64, picture.height() as f64);
    let mut out = Vec::with_capacity(side * side * 3);
    if w < 1.0 || h < 1.0 {
        out.resize(side * side * 3, 0.0);
        return out;
    }
    let step = 1.0 / side as f64;
    let reduction = region.side / side as f64;
    let taps = if reduction < 3.0 { 1 } else { (reduction / 2.0).round() as usize };
    let weight = 1.0 / (taps * taps) as f32;
    for row in 0..side {
        for column in 0..side {
            let mut sum = [0.0f32; 3];
            for tap in 0..taps * taps {
                let du = ((tap % taps) as f64 + 0.5) / taps as f64;
                let dv = ((tap / taps) as f64 + 0.5) / taps as f64;
                let at = region.to_picture((column as f64 + du) * step, (row as f64 + dv) * step);
                let outside = at.x < 0.0 || at.y < 0.0 || at.x >= w || at.y >= h;
                if border == Border::Repeat || !outside {
                    for (s, v) in sum.iter_mut().zip(picture.rgb(at)) {
                        *s += v;
                    }
                }
            }
            out.extend(sum.map(|s| s * weight));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn body_region_points_up_and_is_wide_enough() {
        let r = Region::around_body(Point::new(100.0, 200.0), Point::new(100.0, 100.0));
        assert!((r.side - 250.0).abs() < 1e-9 && r.rotation_rad.abs() < 1e-12);
        // A body leaning to the right is turned clockwise on screen.
        let r = Region::around_body(Point::new(0.0, 0.0), Point::new(10.0, -10.0));
        assert!((r.rotation_rad - std::f64::consts::FRAC_PI_4).abs() < 1e-12);
        let top = r.to_picture(0.5, 0.0);
        assert!(top.x > 0.0 && top.y < 0.0, "{top:?}");
    }

    #[test]
    fn colour_follows_bt709() {
        // Pure red in BT.709 limited range: Y 63, Cb 102, Cr 240.
        let mut f = Frame::black(8, 8);
        f.y.data.fill(63);
        f.u.data.fill(102);
        f.v.data.fill(240);
        let [r, g, b] = f.rgb(Point::new(4.0, 4.0));
        assert!((r - 1.0).abs() < 0.01 && g < 0.01 && b < 0.01, "{r} {g} {b}");
    }

    #[test]
    fn samples_have_the_right_phase() {
        // A ramp in x: the value at a pixel's centre is the pixel's own.
        let mut f = Frame::black(8, 4);
        for y in 0..4 {
            for x in 0..8 {
                f.y.row_mut(y)[x] = 16 + 10 * x as u8;
            }
        }
        let grey = |x: f64| f64::from(f.rgb(Point::new(x, 2.0))[1] * 219.0);
        assert!((grey(3.5) - 30.0).abs() < 1e-3);
        assert!((grey(4.0) - 35.0).abs() < 1e-3);
        let crop = sample(
            &f,
            Region { centre: Point::new(4.0, 2.0), side: 4.0, rotation_rad: 0.0 },
            4,
            Border::Repeat,
        );
        assert!((crop[0] * 219.0 - 20.0).abs() < 1e-3, "{}", crop[0] * 219.0);
    }
}
