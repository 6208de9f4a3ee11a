//! Values of a picture between its pixels.
//!
//! One rule: places count samples, so (0, 0) is the middle of the first pixel. A place in px, where 0 is the picture's
//! edge, is 0.5 more: take that off first.

use crate::types::Plane;

/// Bilinear at (`x`, `y`) in samples; outside, the edge's value. 0 of a plane without pixels.
pub fn bilinear(plane: &Plane, x: f64, y: f64) -> f64 {
    let x = x.clamp(0.0, plane.width.saturating_sub(1) as f64);
    let y = y.clamp(0.0, plane.height.saturating_sub(1) as f64);
    let (x0, y0) = (x as usize, y as usize);
    let (fx, fy) = (x - x0 as f64, y - y0 as f64);
    let row = |y: usize| {
        let from = y.min(plane.height.saturating_sub(1)) * plane.width + x0;
        let a = plane.data.get(from).copied().unwrap_or(0);
        let b = if x0 + 1 < plane.width { plane.data.get(from + 1).copied().unwrap_or(a) } else { a };
        f64::from(a) + (f64::from(b) - f64::from(a)) * fx
    };
    let top = row(y0);
    top + (row(y0 + 1) - top) * fy
}

/// The same where all four neighbors are in the picture.
pub fn bilinear_inside(plane: &Plane, x: f64, y: f64) -> Option<f64> {
    let inside =
        x >= 0.0 && y >= 0.0 && x.floor() + 1.0 < plane.width as f64 && y.floor() + 1.0 < plane.height as f64;
    inside.then(|| bilinear(plane, x, y))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn between_pixels_and_outside() {
        let plane = Plane { width: 2, height: 2, data: vec![0, 100, 50, 150] };
        assert_eq!(bilinear(&plane, 0.5, 0.5), 75.0);
        assert_eq!(bilinear(&plane, -3.0, 9.0), 50.0);
        assert_eq!(bilinear_inside(&plane, 0.25, 0.0), Some(25.0));
        assert_eq!((bilinear_inside(&plane, 1.0, 0.0), bilinear_inside(&plane, -0.1, 0.0)), (None, None));
        assert_eq!(bilinear(&Plane { width: 0, height: 0, data: vec![] }, 0.0, 0.0), 0.0);
    }
}
