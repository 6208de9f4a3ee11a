use super::params::{MOTION_CELLS, MOTION_FINE, MOTION_NOISE};
use crate::types::{Frame, Point, Rect};

use super::pan::PanMeter;

/// How much changed since the picture before beside the camera's own shift, on a coarse grid over the picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Motion {
    pub(crate) frame: usize,
    /// Real s.
    pub time_s: f64,
    /// Where the scene lies: its shift since the first picture, shares of the picture's width and height.
    pub scene: Point,
    columns: usize,
    rows: usize,
    cells: Vec<u8>,
}

/// Makes [`Motion`] from successive pictures. Cheap: a few hundred microseconds a picture.
#[derive(Debug, Default)]
pub struct MotionMeter {
    previous: Option<(Small, Point)>,
    pan: PanMeter,
}

#[derive(Debug, Clone)]
pub(super) struct Small {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) luma: Vec<u8>,
}

impl MotionMeter {
    /// `None` for the first picture.
    pub fn next(&mut self, frame: usize, time_s: f64, picture: &Frame) -> Option<Motion> {
        let now = shrink(picture);
        let scene = self.pan.next(&now);
        let before = self.previous.as_ref().filter(|(p, _)| (p.width, p.height) == (now.width, now.height));
        let motion = before.map(|(before, was)| {
            let shift = scene - *was;
            let still = changes(&now, before, (0, 0));
            // A shift of the camera explains more than it spoils; of what moves alone in the picture it does not.
            let cells = match (shift.x.round() as i32, shift.y.round() as i32) {
                (0, 0) => still,
                moved => [still, changes(&now, before, moved)]
                    .into_iter()
                    .min_by_key(|c| sum(c))
                    .unwrap_or_default(),
            };
            let (columns, rows) = (now.width / MOTION_FINE, now.height / MOTION_FINE);
            let share = Point::new(scene.x / now.width as f64, scene.y / now.height as f64);
            Motion { frame, time_s, scene: share, columns, rows, cells }
        });
        self.previous = Some((now, scene));
        motion
    }
}

fn sum(cells: &[u8]) -> u32 {
    cells.iter().map(|c| u32::from(*c)).sum()
}

/// How much each cell changed, if the camera shifted by so many samples meanwhile.
fn changes(now: &Small, before: &Small, (dx, dy): (i32, i32)) -> Vec<u8> {
    let (columns, rows) = (now.width / MOTION_FINE, now.height / MOTION_FINE);
    let cell = |cell: usize| {
        let (x, y) = (cell % columns * MOTION_FINE, cell / columns * MOTION_FINE);
        let mut sum = 0;
        for row in y..y + MOTION_FINE {
            // What has come in at the border was not to be seen before: nothing is said of it.
            let there = usize::try_from(row as i32 - dy).ok().filter(|r| *r < now.height);
            let from = usize::try_from(x as i32 - dx).ok().filter(|c| c + MOTION_FINE <= now.width);
            let (Some(there), Some(from)) = (there, from) else { continue };
            let own = row * now.width + x..row * now.width + x + MOTION_FINE;
            let old = there * now.width + from..there * now.width + from + MOTION_FINE;
            for (a, b) in now.luma[own].iter().zip(&before.luma[old]) {
                sum += ((i32::from(*a) - i32::from(*b)).abs() - MOTION_NOISE).max(0);
            }
        }
        (sum / (MOTION_FINE * MOTION_FINE) as i32).min(255) as u8
    };
    (0..columns * rows).map(cell).collect()
}

/// Mean luma on a grid of [`MOTION_CELLS`] × [`MOTION_FINE`] along the longer side.
fn shrink(picture: &Frame) -> Small {
    let (w, h) = (picture.width(), picture.height());
    let long = w.max(h).max(1);
    let fit = |n: usize| (n * MOTION_CELLS / long).max(1) * MOTION_FINE;
    let (width, height) = (fit(w), fit(h));
    let mut luma = Vec::with_capacity(width * height);
    for row in 0..height {
        let (top, bottom) = (row * h / height, ((row + 1) * h / height).max(row * h / height + 1).min(h));
        for column in 0..width {
            let (left, right) =
                (column * w / width, ((column + 1) * w / width).max(column * w / width + 1).min(w));
            let (mut sum, mut n) = (0u32, 0u32);
            for y in top..bottom {
                for v in picture.y.row(y).get(left..right).unwrap_or_default() {
                    sum += u32::from(*v);
                    n += 1;
                }
            }
            luma.push((sum / n.max(1)) as u8);
        }
    }
    Small { width, height, luma }
}

impl Motion {
    /// Mean change over the whole picture, luma levels.
    pub fn overall(&self) -> f64 {
        self.cells.iter().map(|v| f64::from(*v)).sum::<f64>() / self.cells.len().max(1) as f64
    }

    /// Mean change inside `area` (shares of the picture's width and height, 0…1) over the change usual in
    /// the whole picture (a shaking camera moves everything), luma levels, ≥ 0.
    pub fn inside(&self, area: Rect) -> f64 {
        let column = |share: f64| ((share * self.columns as f64).max(0.0) as usize).min(self.columns);
        let row = |share: f64| ((share * self.rows as f64).max(0.0) as usize).min(self.rows);
        let (left, right) = (column(area.x), column(area.right()));
        let (top, bottom) = (row(area.y), row(area.bottom()));
        let (mut sum, mut n) = (0.0, 0.0);
        for y in top..bottom {
            for v in self.cells.get(y * self.columns + left..y * self.columns + right).unwrap_or_default() {
                sum += f64::from(*v);
                n += 1.0;
            }
        }
        let mut all = self.cells.clone();
        all.sort_unstable();
        let usual = all.get(all.len() / 2).copied().map_or(0.0, f64::from);
        if n > 0.0 { (sum / n - usual).max(0.0) } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn motion_is_felt_where_it_is_and_nowhere_else() {
        let mut meter = MotionMeter::default();
        let mut f = Frame::black(960, 540);
        assert!(meter.next(0, 0.0, &f).is_none());
        for y in 300..400 {
            f.y.row_mut(y)[100..200].fill(200);
        }
        let m = meter.next(1, 0.03, &f).unwrap();
        assert!(m.inside(Rect::new(0.0, 0.5, 0.25, 0.3)) > 10.0);
        assert_eq!(m.inside(Rect::new(0.5, 0.0, 0.5, 1.0)), 0.0);
        assert_eq!(m.inside(Rect::new(-3.0, 2.0, 0.5, 1.0)), 0.0);
    }

    #[test]
    fn odd_little_pictures_are_fine() {
        let mut meter = MotionMeter::default();
        for (w, h) in [(2, 2), (2, 300), (64, 2)] {
            meter.next(0, 0.0, &Frame::black(w, h));
            assert!(meter.next(1, 0.1, &Frame::black(w, h)).is_some());
        }
    }
}
