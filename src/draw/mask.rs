use crate::types::{Point, Rect};

/// Coverage of pixels by shapes, 0–255, over an even-aligned part of a canvas. Shapes added to one
/// mask merge (the larger coverage wins), so a line crossing itself does not darken twice.
#[derive(Debug, Clone)]
pub struct Mask {
    /// Left and top on the canvas, even.
    pub x: usize,
    /// Of its upper left corner, px.
    pub y: usize,
    /// Even.
    pub width: usize,
    /// Of `cover`, px.
    pub height: usize,
    /// How much of each px is covered, 0…255, row by row.
    pub cover: Vec<u8>,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// px.
    pub width: f64,
    /// Drawn and left out, px along the line; `None` for a whole line.
    pub dash: Option<(f64, f64)>,
}

impl Stroke {
    /// Undashed, `width` in px.
    pub const fn solid(width: f64) -> Self {
        Self { width, dash: None }
    }
}

/// A piece of line from `a` to `b`, px.
type Piece = (Point, Point);

impl Mask {
    /// An empty mask for `bounds`, cut to a canvas of `size`.
    pub fn new(bounds: Rect, size: (usize, usize)) -> Self {
        let low = |v: f64, max: usize| (v.max(0.0).min(max as f64) as usize) & !1;
        let high =
            |v: f64, max: usize| (v.ceil().max(0.0).min(max as f64) as usize).next_multiple_of(2).min(max);
        let (x, y) = (low(bounds.x, size.0), low(bounds.y, size.1));
        let (right, bottom) = (high(bounds.right(), size.0), high(bounds.bottom(), size.1));
        let (width, height) = (right.saturating_sub(x), bottom.saturating_sub(y));
        Self { x, y, width, height, cover: vec![0; width * height] }
    }

    /// Merge a shape given by its signed distance (px, negative inside) at pixel centres.
    /// Half a pixel on each side of the edge fades.
    pub fn add(&mut self, bounds: Rect, distance: impl Fn(f64, f64) -> f64) {
        self.add_soft(bounds, 1.0, distance);
    }

    /// The same with an edge that fades over `fade` px.
    pub fn add_soft(&mut self, bounds: Rect, fade: f64, distance: impl Fn(f64, f64) -> f64) {
        self.add_rows(bounds, fade, |_| Some((bounds.x, bounds.right())), distance);
    }

    /// The same where only a part of each row can be near the shape: `reach` gives its left and right for the row
    /// whose middle lies at y, `None` for nothing.
    fn add_rows(
        &mut self,
        bounds: Rect,
        fade: f64,
        reach: impl Fn(f64) -> Option<(f64, f64)>,
        distance: impl Fn(f64, f64) -> f64,
    ) {
        let grow = 0.5 + fade / 2.0;
        let clamp = |v: f64, low: usize, len: usize| ((v - low as f64).max(0.0) as usize).min(len);
        let (y0, y1) = (
            clamp(bounds.y - grow, self.y, self.height),
            clamp((bounds.bottom() + grow).ceil(), self.y, self.height),
        );
        for row in y0..y1 {
            let cy = (self.y + row) as f64 + 0.5;
            let Some((left, right)) = reach(cy) else { continue };
            let (x0, x1) =
                (clamp(left - grow, self.x, self.width), clamp((right + grow).ceil(), self.x, self.width));
            if x0 >= x1 {
                continue;
            }
            let line = &mut self.cover[row * self.width + x0..row * self.width + x1];
            for (i, cover) in line.iter_mut().enumerate() {
                let d = distance((self.x + x0 + i) as f64 + 0.5, cy);
                let c = ((0.5 - d / fade).clamp(0.0, 1.0) * 255.0 + 0.5) as u8;
                *cover = (*cover).max(c);
            }
        }
    }

    /// Take a disc out again, with a soft edge.
    pub fn keep_clear(&mut self, centre: Point, radius: f64) {
        let fade = (radius * 0.12).max(1.0);
        for (row, line) in self.cover.chunks_exact_mut(self.width.max(1)).enumerate() {
            let cy = (self.y + row) as f64 + 0.5 - centre.y;
            if cy.abs() > radius + fade {
                continue;
            }
            for (i, cover) in line.iter_mut().enumerate().filter(|(_, c)| **c > 0) {
                let d = ((self.x + i) as f64 + 0.5 - centre.x).hypot(cy) - radius;
                *cover = (f64::from(*cover) * (d / fade).clamp(0.0, 1.0)) as u8;
            }
        }
    }

    /// The sum of coverage, in whole pixels.
    pub fn area_px(&self) -> f64 {
        self.cover.iter().map(|&c| f64::from(c)).sum::<f64>() / 255.0
    }

    pub(crate) fn disc(&mut self, centre: Point, radius: f64) {
        let bounds = around(centre, radius);
        self.add(bounds, |x, y| length(x - centre.x, y - centre.y) - radius);
    }

    pub(crate) fn ring(&mut self, centre: Point, radius: f64, width: f64) {
        let bounds = around(centre, radius + width / 2.0);
        self.add(bounds, |x, y| (length(x - centre.x, y - centre.y) - radius).abs() - width / 2.0);
    }

    pub(crate) fn round_rect(&mut self, rect: Rect, radius: f64) {
        self.add(rect, round_rect_distance(rect, radius));
    }

    /// The outline of a rounded rectangle, its line centred on the edge.
    pub fn round_frame(&mut self, rect: Rect, radius: f64, width: f64) {
        let distance = round_rect_distance(rect, radius);
        let h = width / 2.0;
        let (x, y, wide, tall) = (rect.x - h, rect.y - h, rect.width + width, rect.height + width);
        // The four sides alone: inside there is nothing.
        let edge = (radius + width).min(wide / 2.0).min(tall / 2.0);
        for side in [
            Rect::new(x, y, wide, edge),
            Rect::new(x, rect.bottom() + h - edge, wide, edge),
            Rect::new(x, y + edge, edge, tall - 2.0 * edge),
            Rect::new(rect.right() + h - edge, y + edge, edge, tall - 2.0 * edge),
        ] {
            self.add(side, |x, y| distance(x, y).abs() - h);
        }
    }

    /// A line with round ends.
    pub fn capsule(&mut self, a: Point, b: Point, radius: f64) {
        self.capsule_soft(a, b, radius, 1.0);
    }

    /// A line with round ends whose edge fades over `fade` px.
    pub fn capsule_soft(&mut self, a: Point, b: Point, radius: f64, fade: f64) {
        let Some(box_) = Rect::around([a, b]) else { return };
        let bounds = Rect::new(
            box_.x - radius,
            box_.y - radius,
            box_.width + 2.0 * radius,
            box_.height + 2.0 * radius,
        );
        let ab = b - a;
        let len2 = ab.dot(ab).max(1e-12);
        let reach = |cy: f64| {
            // The piece of the line that comes this near to the row, and as much to each side.
            let near = radius + 0.5 + fade / 2.0;
            let (low, high) = (cy - near - a.y, cy + near - a.y);
            let (t0, t1) = match ab.y {
                dy if dy.abs() < 1e-9 => (0.0, 1.0),
                dy => ((low / dy).min(high / dy).max(0.0), (low / dy).max(high / dy).min(1.0)),
            };
            let (x0, x1) = (a.x + ab.x * t0, a.x + ab.x * t1);
            (t0 <= t1).then(|| (x0.min(x1) - radius, x0.max(x1) + radius))
        };
        self.add_rows(bounds, fade, reach, |x, y| {
            let ap = Point::new(x - a.x, y - a.y);
            let t = (ap.dot(ab) / len2).clamp(0.0, 1.0);
            let off = ap - ab * t;
            length(off.x, off.y) - radius
        });
    }

    /// A line through `points`.
    pub fn polyline(&mut self, points: &[Point], stroke: Stroke) {
        for (a, b) in pieces(points, stroke.dash) {
            self.capsule(a, b, stroke.width / 2.0);
        }
    }
}

/// Not `hypot`, which guards against overflow at several times the cost.
fn length(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}

/// The square around a circle.
pub(super) fn around(centre: Point, radius: f64) -> Rect {
    Rect::new(centre.x - radius, centre.y - radius, 2.0 * radius, 2.0 * radius)
}

fn round_rect_distance(rect: Rect, radius: f64) -> impl Fn(f64, f64) -> f64 {
    let centre = rect.centre();
    let radius = radius.min(rect.width / 2.0).min(rect.height / 2.0);
    let (hw, hh) = (rect.width / 2.0 - radius, rect.height / 2.0 - radius);
    move |x, y| {
        let (dx, dy) = ((x - centre.x).abs() - hw, (y - centre.y).abs() - hh);
        length(dx.max(0.0), dy.max(0.0)) + dx.max(dy).min(0.0) - radius
    }
}

/// The drawn pieces of a line: all of it, or the dashes, whose rhythm runs on through the corners.
fn pieces(points: &[Point], dash: Option<(f64, f64)>) -> Vec<Piece> {
    let whole = points.windows(2).filter_map(|w| match w {
        [a, b] => Some((*a, *b)),
        _ => None,
    });
    let Some((on, off)) = dash.filter(|(on, off)| *on > 0.0 && *off > 0.0) else { return whole.collect() };
    let mut out = Vec::new();
    let mut phase = 0.0;
    for (a, b) in whole {
        let length = a.distance(b);
        let mut at = 0.0;
        while at < length {
            let (drawn, left) = if phase < on { (true, on - phase) } else { (false, on + off - phase) };
            // What rounding leaves over of a dash must still move on.
            let end = (at + left.max(1e-6)).min(length);
            if drawn {
                out.push((a.lerp(b, at / length), a.lerp(b, end / length)));
            }
            phase = (phase + end - at) % (on + off);
            at = end;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    #[test]
    fn dashes_of_any_length_come_to_an_end() {
        for k in 1..4000 {
            let on = 0.37 + f64::from(k) * 0.00137;
            let to = Point::new(f64::from(k) * 0.071, 93.7);
            let drawn: f64 = pieces(&[Point::default(), to], Some((on, on * 1.364)))
                .iter()
                .map(|(a, b)| a.distance(*b))
                .sum();
            let share = drawn / to.length();
            assert!((0.3..0.6).contains(&share), "{on}: {share}");
        }
    }

    fn mask() -> Mask {
        Mask::new(Rect::new(0.0, 0.0, 100.0, 100.0), (100, 100))
    }

    #[test]
    fn coverage_sums_to_the_area() {
        let mut m = mask();
        m.disc(Point::new(50.3, 49.8), 20.0);
        assert!((m.area_px() - PI * 400.0).abs() < 3.0, "{}", m.area_px());

        let mut m = mask();
        m.round_rect(Rect::new(10.25, 20.5, 40.0, 30.0), 8.0);
        let area = 40.0 * 30.0 - (4.0 - PI) * 64.0;
        assert!((m.area_px() - area).abs() < 3.0, "{} {area}", m.area_px());

        let mut m = mask();
        m.capsule(Point::new(20.0, 20.0), Point::new(50.0, 60.0), 4.0);
        let area = 50.0 * 8.0 + PI * 16.0;
        assert!((m.area_px() - area).abs() < 3.0, "{} {area}", m.area_px());

        let mut m = mask();
        m.ring(Point::new(50.0, 50.0), 20.0, 4.0);
        assert!((m.area_px() - 2.0 * PI * 20.0 * 4.0).abs() < 4.0, "{}", m.area_px());
    }

    #[test]
    fn what_is_kept_clear_is_empty_and_the_rest_stays() {
        let mut m = mask();
        m.round_rect(Rect::new(10.0, 10.0, 80.0, 80.0), 0.0);
        let before = m.area_px();
        m.keep_clear(Point::new(50.0, 50.0), 10.0);
        assert_eq!(m.cover[50 * 100 + 50], 0);
        let gone = before - m.area_px();
        assert!(gone > PI * 100.0 && gone < PI * 12.0 * 12.0, "{gone}");
    }

    #[test]
    fn a_dash_keeps_its_rhythm_round_a_corner() {
        let corner = [Point::new(0.0, 0.0), Point::new(15.0, 0.0), Point::new(15.0, 15.0)];
        let drawn: f64 = pieces(&corner, Some((10.0, 10.0))).iter().map(|(a, b)| a.distance(*b)).sum();
        // 0–10 drawn, 10–20 left out, 20–30 drawn.
        assert!((drawn - 20.0).abs() < 1e-6);
    }

    #[test]
    fn shapes_outside_the_canvas_are_cut_not_fatal() {
        let mut m = Mask::new(Rect::new(-50.0, -50.0, 30.0, 30.0), (100, 100));
        m.disc(Point::new(-40.0, -40.0), 5.0);
        assert_eq!(m.area_px(), 0.0);
        let mut m = Mask::new(Rect::new(90.0, 90.0, 300.0, 300.0), (100, 100));
        m.disc(Point::new(100.0, 100.0), 10.0);
        assert!((m.area_px() - PI * 25.0).abs() < 2.0);
    }

    #[test]
    fn a_line_without_length_does_no_harm() {
        let p = Point::new(5.0, 5.0);
        let mut m = mask();
        m.polyline(&[p, p], Stroke { width: 4.0, dash: Some((4.8, 9.6)) });
        m.polyline(&[p], Stroke::solid(4.0));
        m.polyline(&[], Stroke::solid(4.0));
        assert_eq!(m.area_px(), 0.0);
    }
}
