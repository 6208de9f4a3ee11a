//! Small things that are in one picture and not in its neighbours.

use super::super::params::{BALL_LEAST_AREA, BALL_WIDEST, LEAST_CHANGE, MOST_MOVERS, OVER_NOISE};
use crate::math::bilinear_inside;
use crate::types::{Plane, Point, Similarity};

/// One picture, made small.
#[derive(Debug, Clone)]
pub struct BallPicture {
    /// Real s.
    pub time_s: f64,
    /// Small luma.
    pub luma: Plane,
    /// Small px → steady full-picture px.
    pub to_steady: Similarity,
}

/// A small thing that moves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mover {
    /// Real s.
    pub time_s: f64,
    /// Middle, steady px of the full picture.
    pub at: Point,
    /// Length of its streak (or its width), steady px.
    pub length_px: f64,
    /// Mean change of luma, 8-bit steps; darker than what is behind it is negative.
    pub change: f64,
}

/// What `picture` holds that neither `before` nor `after` holds, and that could be a ball `ball_px` wide (steady px)
/// that goes at most `reach_px` during an exposure.
pub fn movers(
    before: &BallPicture,
    picture: &BallPicture,
    after: &BallPicture,
    ball_px: f64,
    reach_px: f64,
) -> Vec<Mover> {
    let (a, b) = (difference(picture, before), difference(picture, after));
    // In both the same way: a thing that came and went.
    let both: Vec<f32> = a
        .iter()
        .zip(&b)
        .map(|(a, b)| if a * b > 0.0 { a.abs().min(b.abs()) * a.signum() } else { 0.0 })
        .collect();
    let floor = noise(&a).max(noise(&b));
    small_things(&both, picture, floor, ball_px, reach_px)
}

/// What `picture` holds that `other` does not: a ball that lay still and is gone later.
pub fn changed(picture: &BallPicture, other: &BallPicture, ball_px: f64) -> Vec<Mover> {
    let d = difference(picture, other);
    let floor = noise(&d);
    small_things(&d, picture, floor, ball_px, 0.0)
}

/// `picture − other`, with the camera's motion between them taken out; 0 where the other does not reach.
fn difference(picture: &BallPicture, other: &BallPicture) -> Vec<f32> {
    let map = other.to_steady.inverse().after(&picture.to_steady);
    let (w, h) = (picture.luma.width, picture.luma.height);
    let mut out = vec![0.0; w * h];
    let still = (map.apply(Point::new(w as f64, h as f64)) - Point::new(w as f64, h as f64)).length() < 0.05
        && map.apply(Point::default()).length() < 0.05;
    if still && other.luma.data.len() == picture.luma.data.len() {
        for (o, (a, b)) in out.iter_mut().zip(picture.luma.data.iter().zip(&other.luma.data)) {
            *o = f32::from(*a) - f32::from(*b);
        }
        return out;
    }
    let (step_x, origin) = (map.apply(Point::new(1.0, 0.0)), map.apply(Point::default()));
    let (dx, dy) = ((step_x - origin).x, (step_x - origin).y);
    for (y, row) in out.chunks_mut(w.max(1)).enumerate() {
        let start = map.apply(Point::new(0.0, y as f64));
        for (x, o) in row.iter_mut().enumerate() {
            let (u, v) = (start.x + dx * x as f64, start.y + dy * x as f64);
            if let Some(there) = bilinear_inside(&other.luma, u, v).map(|v| v as f32) {
                *o = f32::from(picture.luma.data.get(y * w + x).copied().unwrap_or(0)) - there;
            }
        }
    }
    // Edges wander by parts of a pixel: what a shift of half a pixel explains is no thing of its own.
    quieten_edges(&mut out, &picture.luma);
    out
}

/// Lessens each difference by half the steepest step of luma around it.
fn quieten_edges(difference: &mut [f32], luma: &Plane) {
    let (w, h) = (luma.width, luma.height);
    for y in 0..h {
        for x in 0..w {
            let i = y * w + x;
            let at = |x: usize, y: usize| f32::from(luma.data.get(y * w + x).copied().unwrap_or(0));
            let dx = at((x + 1).min(w - 1), y) - at(x.saturating_sub(1), y);
            let dy = at(x, (y + 1).min(h - 1)) - at(x, y.saturating_sub(1));
            let slack = 0.25 * (dx.abs() + dy.abs()) * 0.5;
            if let Some(d) = difference.get_mut(i) {
                *d = d.signum() * (d.abs() - slack).max(0.0);
            }
        }
    }
}

/// Standard deviation of what is only noise: from the median size.
fn noise(difference: &[f32]) -> f32 {
    let mut sizes: Vec<f32> = difference.iter().step_by(7).map(|d| d.abs()).collect();
    let middle = sizes.len() / 2;
    if sizes.is_empty() {
        return 0.0;
    }
    *sizes.select_nth_unstable_by(middle, f32::total_cmp).1 / 0.6745
}

/// Connected things of one sign, of a ball's size and shape, clearest first.
fn small_things(
    difference: &[f32],
    picture: &BallPicture,
    noise: f32,
    ball_px: f64,
    reach_px: f64,
) -> Vec<Mover> {
    let (w, h) = (picture.luma.width, picture.luma.height);
    let level = LEAST_CHANGE.max(OVER_NOISE * noise);
    let scale = picture.to_steady.scale().max(1e-9);
    let ball = ball_px / scale;
    let disc = std::f64::consts::PI * ball * ball / 4.0;
    let most = disc + 2.0 * ball * reach_px / scale + 8.0;
    let mut seen = vec![false; w * h];
    let mut found: Vec<(f64, Mover)> = Vec::new();
    let mut stack = Vec::new();
    for start in 0..w * h {
        if seen.get(start).copied().unwrap_or(true) || difference.get(start).is_none_or(|d| d.abs() < level) {
            continue;
        }
        let sign = difference[start].signum();
        let mut sum = Sums::default();
        stack.push(start);
        seen[start] = true;
        while let Some(i) = stack.pop() {
            let (x, y) = (i % w, i / w);
            sum.add(x as f64, y as f64, f64::from(difference[i].abs()));
            let near = [
                (x > 0).then(|| i - 1),
                (x + 1 < w).then(|| i + 1),
                (y > 0).then(|| i - w),
                (y + 1 < h).then(|| i + w),
            ];
            for j in near.into_iter().flatten() {
                // Down to half the level: the rim belongs to the thing.
                if !seen[j] && difference[j] * sign >= 0.5 * level {
                    seen[j] = true;
                    stack.push(j);
                }
            }
        }
        let Some(shape) = sum.shape() else { continue };
        let fits = sum.n >= (BALL_LEAST_AREA * disc).max(3.0)
            && sum.n <= most
            && shape.width <= BALL_WIDEST * ball + 1.0
            && shape.length <= 2.0 * ball + 1.5 * reach_px / scale + 1.0;
        if fits {
            let change = sum.weight / sum.n * f64::from(sign);
            let at = picture.to_steady.apply(Point::new(shape.x, shape.y));
            let mover = Mover { time_s: picture.time_s, at, length_px: shape.length * scale, change };
            found.push((sum.weight, mover));
        }
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.truncate(MOST_MOVERS);
    found.into_iter().map(|f| f.1).collect()
}

#[derive(Default)]
struct Sums {
    n: f64,
    weight: f64,
    x: f64,
    y: f64,
    xx: f64,
    xy: f64,
    yy: f64,
}

struct Shape {
    x: f64,
    y: f64,
    /// Along and across, px: of an even disc its diameter.
    length: f64,
    width: f64,
}

impl Sums {
    fn add(&mut self, x: f64, y: f64, weight: f64) {
        self.n += 1.0;
        self.weight += weight;
        self.x += weight * x;
        self.y += weight * y;
        self.xx += weight * x * x;
        self.xy += weight * x * y;
        self.yy += weight * y * y;
    }

    fn shape(&self) -> Option<Shape> {
        if self.weight <= 0.0 {
            return None;
        }
        let (x, y) = (self.x / self.weight, self.y / self.weight);
        let (xx, yy) = (self.xx / self.weight - x * x, self.yy / self.weight - y * y);
        let xy = self.xy / self.weight - x * y;
        let middle = (xx + yy) / 2.0;
        let apart = ((xx - yy) / 2.0).hypot(xy);
        // A disc of diameter d has variance d²/16 along each axis.
        let across = |v: f64| 4.0 * v.max(0.0).sqrt();
        Some(Shape { x, y, length: across(middle + apart), width: across(middle - apart) })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture(time_s: f64, ball: Option<(f64, f64)>, shift: f64) -> BallPicture {
        let (w, h) = (160, 90);
        let mut luma = Plane::filled(w, h, 0);
        for y in 0..h {
            for x in 0..w {
                // A ground with edges, moved by the camera.
                let ground = if ((x as f64 + shift) / 16.0).floor() as i64 % 2 == 0 { 90 } else { 60 };
                let white = ball.is_some_and(|(bx, by)| (x as f64 + shift - bx).hypot(y as f64 - by) <= 3.5);
                luma.data[y * w + x] = if white { 210 } else { ground };
            }
        }
        let to_steady = Similarity { tx: shift, ..Similarity::IDENTITY };
        BallPicture { time_s, luma, to_steady }
    }

    #[test]
    fn a_ball_that_flies_is_seen_and_a_shaking_camera_is_not() {
        for shift in [0.0, 3.0] {
            let a = picture(0.0, Some((40.0, 40.0)), 0.0);
            let b = picture(0.1, Some((70.0, 42.0)), shift);
            let c = picture(0.2, Some((100.0, 44.0)), 0.0);
            let found = movers(&a, &b, &c, 7.0, 10.0);
            assert_eq!(found.len(), 1, "{found:?}");
            assert!(found[0].at.distance(Point::new(70.0, 42.0)) < 0.7, "{found:?}");
            assert!(found[0].change > 50.0);
        }
        let still = [0.0, 0.1, 0.2].map(|t| picture(t, None, 0.0));
        assert!(movers(&still[0], &still[1], &still[2], 7.0, 10.0).is_empty());
    }

    #[test]
    fn a_ball_that_is_gone_later_is_seen_where_it_lay() {
        let found = changed(&picture(0.0, Some((50.0, 30.0)), 0.0), &picture(1.0, None, 0.0), 7.0);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].at.distance(Point::new(50.0, 30.0)) < 0.5);
    }
}
