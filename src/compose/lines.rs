//! Lines a plan may add to the bodies: front leg, hands to front foot, plumb lines, shoulders, ground marks.
//! No line crosses the head or the hands.

use super::marks::{MarkStyle, PanelTransform, hands, head};
use super::numbers::{HANDS_CLEAR, HEAD_CLEAR, Number};
use super::plan::Mark;
use crate::draw::theme::{self, Sizes};
use crate::draw::{Canvas, Letters, Mask, Rgb, Stroke};
use crate::messages::{self, Captions};
use crate::types::{EventId, Part, Point, Pose, Reading, Rect, Result, Seen, Side};

/// Numbers drawn at one moment are rounded to this: what a single picture can show (see the ± of the measures).
const ROUNDED_TO: f64 = 5.0;

/// One side's picture, on which is drawn.
pub struct Scene<'a> {
    pub reading: &'a Reading,
    pub pose: &'a Pose,
    pub panel_transform: &'a PanelTransform,
    pub look: MarkStyle,
    pub sizes: &'a Sizes,
}

impl Scene<'_> {
    /// Draw what is asked for and known.
    pub fn draw(
        &self,
        canvas: &mut Canvas,
        letters: &Letters,
        captions: &Captions,
        what: &[Mark],
    ) -> Result<()> {
        let mut numbers = Vec::new();
        for mark in what {
            match mark {
                Mark::Head | Mark::HandPath | Mark::BodyCentre => {}
                Mark::FrontLeg => numbers.extend(self.front_leg(canvas, captions)),
                Mark::HandsToFoot => numbers.extend(self.hands_to_foot(canvas, captions)),
                Mark::PlumbLine => self.plumb_line(canvas, &[self.back(Part::LeftAnkle)]),
                Mark::PlumbFrontFoot => self.plumb_line(canvas, &[self.front(Part::LeftAnkle)]),
                Mark::PlumbHead => self.plumb_line(canvas, &[Part::LeftEar, Part::RightEar]),
                Mark::PlumbHips => self.plumb_line(canvas, &[Part::LeftHip, Part::RightHip]),
                Mark::Shoulders => self.shoulders(canvas),
                Mark::Feet => self.feet(canvas),
            }
        }
        self.numbers(canvas, letters, &numbers)
    }

    fn body(&self) -> f64 {
        self.panel_transform.body_height_px
    }

    /// Thinner than the hand path: these lines are read second.
    fn width(&self) -> f64 {
        (self.sizes.line * 0.75 * (self.body() / (430.0 * self.sizes.unit)).clamp(0.8, 1.3)).max(1.4)
    }

    fn front(&self, left: Part) -> Part {
        if self.reading.hitter.bats == Side::Right { left } else { left.other_side() }
    }

    /// Where a part is on the panel, and whether it was guessed.
    fn at(&self, part: Part) -> Option<(Point, bool)> {
        let spot = self.pose.spot(part).filter(|s| s.at.is_finite())?;
        Some((self.panel_transform.from_picture.apply(spot.at), spot.seen == Seen::Inferred))
    }

    fn back(&self, left: Part) -> Part {
        self.front(left).other_side()
    }

    fn line(
        &self,
        canvas: &mut Canvas,
        points: &[Point],
        width: f64,
        guessed: bool,
        colour: Rgb,
        alpha: f64,
    ) {
        let Some(bounds) = Rect::around(points.iter().copied()) else { return };
        let g = width * 2.0 + 2.0;
        let bounds = Rect::new(bounds.x - g, bounds.y - g, bounds.width + 2.0 * g, bounds.height + 2.0 * g);
        for (wide, colour, alpha) in [(width * 1.9, theme::CASING, 0.75 * alpha), (width, colour, alpha)] {
            let dash = guessed.then_some((width * 2.2, width * 3.0));
            let mut mask = canvas.mask(bounds);
            mask.polyline(points, Stroke { width: wide, dash });
            self.fill(canvas, mask, colour, alpha);
        }
    }

    /// Head and hands stay free.
    fn fill(&self, canvas: &mut Canvas, mut mask: Mask, colour: Rgb, alpha: f64) {
        let body = self.body();
        if let Some(at) = head(self.pose) {
            mask.keep_clear(self.panel_transform.from_picture.apply(at), HEAD_CLEAR * body);
        }
        if let Some((at, _)) = hands(self.pose) {
            mask.keep_clear(self.panel_transform.from_picture.apply(at), HANDS_CLEAR * body);
        }
        canvas.fill(&mask, colour, alpha);
    }

    fn joint(&self, canvas: &mut Canvas, at: Point, radius: f64) {
        let inner = self.look.hollow.then_some((radius * 0.5, theme::CASING, 1.0));
        for (r, colour, alpha) in
            [(radius * 1.45, theme::CASING, 0.8), (radius, self.look.colour, 1.0)].into_iter().chain(inner)
        {
            let g = r + 2.0;
            let mut mask = canvas.mask(Rect::new(at.x - g, at.y - g, 2.0 * g, 2.0 * g));
            mask.disc(at, r);
            self.fill(canvas, mask, colour, alpha);
        }
    }

    /// Hip, knee and ankle of the front leg, and the knee's angle as the picture shows it.
    fn front_leg<'c>(&self, canvas: &mut Canvas, captions: &'c Captions) -> Option<Number<'c>> {
        let [hip, knee, ankle] =
            [Part::LeftHip, Part::LeftKnee, Part::LeftAnkle].map(|p| self.at(self.front(p)));
        let (hip, knee, ankle) = (hip?, knee?, ankle?);
        let width = self.width();
        for (a, b) in [(hip, knee), (knee, ankle)] {
            self.line(canvas, &[a.0, b.0], width, a.1 || b.1, self.look.colour, 1.0);
        }
        for (at, _) in [hip, knee, ankle] {
            self.joint(canvas, at, width * 1.3);
        }
        let (up, down) = (hip.0 - knee.0, ankle.0 - knee.0);
        let lengths = up.length() * down.length();
        let deg = (up.dot(down) / lengths.max(1e-9)).clamp(-1.0, 1.0).acos().to_degrees();
        let value = messages::about_deg(rounded(deg));
        (lengths > 1.0).then_some(Number { name: captions.knee(), value, widest: messages::WIDEST_DEG })
    }

    /// Straight from the hands to the front ankle, and how far that is.
    fn hands_to_foot<'c>(&self, canvas: &mut Canvas, captions: &'c Captions) -> Option<Number<'c>> {
        let (at, seen) = hands(self.pose)?;
        let from = self.panel_transform.from_picture.apply(at);
        let (to, guessed) = self.at(self.front(Part::LeftAnkle))?;
        self.line(canvas, &[from, to], self.width() * 0.75, guessed || !seen, theme::TEXT, 0.9);
        self.joint(canvas, to, self.width() * 1.1);
        let scale = self.reading.scale;
        let picture_px = from.distance(to) / self.panel_transform.from_picture.scale().max(1e-9);
        let value = match scale.px_per_cm {
            Some(px_per_cm) => captions.about_length(rounded(picture_px / px_per_cm.max(1e-9))),
            None => messages::about_height(rounded(100.0 * picture_px / scale.body_height_px.max(1.0))),
        };
        Some(Number { name: captions.hands_to_foot(), value, widest: captions.widest_length() })
    }

    /// Upright through the middle of `parts` as they were at stance, from the ground under the back foot up to
    /// the standing height: what moves away from it has moved since then.
    fn plumb_line(&self, canvas: &mut Canvas, parts: &[Part]) {
        let Some(steady) = self.panel_transform.from_steady else { return };
        let events = &self.reading.events;
        let stance = [EventId::Stance, EventId::Load].iter().find_map(|e| events.get(e));
        let back = self.back(Part::LeftAnkle);
        let at_stance = stance.and_then(|e| {
            let i = self.reading.track.nearest_index(e.time_s)?;
            let pose = self.reading.track.poses.get(i)?;
            let place = |part| Some(steady.apply(self.reading.camera.to_steady(i).apply(pose.at(part)?)));
            let x = parts.iter().map(|part| place(*part).map(|at| at.x)).sum::<Option<f64>>()?;
            Some(Point::new(x / parts.len().max(1) as f64, place(back)?.y))
        });
        let Some(foot) = at_stance else { return };
        let top = Point::new(foot.x, foot.y - 0.98 * self.body());
        let low = Point::new(foot.x, foot.y + 0.05 * self.body());
        self.line(canvas, &[low, top], self.width() * 0.6, false, theme::TEXT, 0.9);
        // The bob, so that it is taken for nothing else.
        let w = self.width() * 1.2;
        self.line(canvas, &[low, low + Point::new(0.0, w)], w * 1.6, false, theme::TEXT, 0.9);
    }

    /// Through both shoulders, a little beyond.
    fn shoulders(&self, canvas: &mut Canvas) {
        let (Some((a, ga)), Some((b, gb))) = (self.at(Part::LeftShoulder), self.at(Part::RightShoulder))
        else {
            return;
        };
        let ends = [a.lerp(b, -0.35), a.lerp(b, 1.35)];
        self.line(canvas, &ends, self.width(), ga || gb, self.look.colour, 1.0);
        for at in [a, b] {
            self.joint(canvas, at, self.width() * 1.1);
        }
    }

    /// Under the front foot: a broken bar where it stood before it lifted, a short bar under the toe at
    /// touch, a long bar under the whole foot at plant. Each appears when its moment has come.
    fn feet(&self, canvas: &mut Canvas) {
        let Some(steady) = self.panel_transform.from_steady else { return };
        let (toe, heel) = (self.front(Part::LeftToe), self.front(Part::LeftHeel));
        let place = |event: EventId, part: Part| {
            let e = self.reading.events.get(&event).filter(|e| e.time_s <= self.pose.time_s + 1e-6)?;
            let i = self.reading.track.nearest_index(e.time_s)?;
            let at = self.reading.track.poses.get(i)?.at(part)?;
            Some(steady.apply(self.reading.camera.to_steady(i).apply(at)))
        };
        let under = Point::new(0.0, 0.035 * self.body());
        let mut bar = |event, width: f64, guessed, colour| {
            let (Some(t), Some(h)) = (place(event, toe), place(event, heel)) else { return };
            let low = t.y.max(h.y);
            let (t, h) = (Point::new(t.x, low) + under, Point::new(h.x, low) + under);
            let (from, to) = if event == EventId::Touch { (h.lerp(t, 0.7), t) } else { (h, t) };
            self.line(canvas, &[from, to], width, guessed, colour, 1.0);
        };
        let w = self.width();
        bar(EventId::FootOff, w * 0.8, true, theme::TEXT);
        if self.reading.events.get(&EventId::Plant).is_none_or(|p| p.time_s > self.pose.time_s + 1e-6) {
            bar(EventId::Touch, w, false, self.look.colour);
        }
        bar(EventId::Plant, w * 1.5, false, self.look.colour);
    }
}

fn rounded(value: f64) -> f64 {
    (value / ROUNDED_TO).round() * ROUNDED_TO
}

#[cfg(test)]
mod tests {
    use super::super::marks::{REFERENCE, TODAY};
    use super::*;
    use crate::compose::sample;
    use crate::types::Similarity;

    /// Over the whole swing no line or number touches the head or the hands.
    #[test]
    fn head_and_hands_stay_free() {
        let (today, ..) = sample::pair();
        let sizes = Sizes::new(1080, 1920);
        let letters = Letters::new().unwrap();
        let scale = 0.5;
        let panel_transform = PanelTransform {
            from_picture: Similarity { a: scale, ..Similarity::IDENTITY },
            from_steady: Some(Similarity { a: scale, ..Similarity::IDENTITY }),
            body_height_px: scale * today.scale.body_height_px,
        };
        let mut marked = 0usize;
        for pose in today.track.poses.iter().step_by(20) {
            for look in [TODAY, REFERENCE] {
                let mut canvas = Canvas::new(540, 960, Rgb(128, 128, 128));
                let before = canvas.frame().clone();
                let scene =
                    Scene { reading: &today, pose, panel_transform: &panel_transform, look, sizes: &sizes };
                scene.draw(&mut canvas, &letters, messages::english(), &Mark::ALL).unwrap();
                let changed = |at: Point, r: f64| {
                    let mut n = 0;
                    for y in (at.y - r) as usize..(at.y + r) as usize {
                        for x in (at.x - r) as usize..(at.x + r) as usize {
                            let inside = Point::new(x as f64 + 0.5, y as f64 + 0.5).distance(at) < r;
                            n += usize::from(inside && canvas.frame().y.row(y)[x] != before.y.row(y)[x]);
                        }
                    }
                    n
                };
                let at = |p: Point| panel_transform.from_picture.apply(p);
                let body = panel_transform.body_height_px;
                assert_eq!(changed(at(head(pose).unwrap()), 0.075 * body), 0, "head at {}", pose.time_s);
                assert_eq!(changed(at(hands(pose).unwrap().0), 0.045 * body), 0, "hands at {}", pose.time_s);
                marked += changed(at(pose.at(Part::LeftKnee).unwrap()), 0.02 * body);
            }
        }
        assert!(marked > 100, "{marked}");
    }

    #[test]
    fn what_is_not_known_is_not_drawn() {
        let (today, ..) = sample::pair();
        let sizes = Sizes::new(1080, 1920);
        let panel_transform =
            PanelTransform { from_picture: Similarity::IDENTITY, from_steady: None, body_height_px: 700.0 };
        let pose = Pose::empty(0, 0.0);
        let mut canvas = Canvas::new(540, 960, Rgb(128, 128, 128));
        let before = canvas.frame().clone();
        let scene = Scene {
            reading: &today,
            pose: &pose,
            panel_transform: &panel_transform,
            look: TODAY,
            sizes: &sizes,
        };
        scene.draw(&mut canvas, &Letters::new().unwrap(), messages::english(), &Mark::ALL).unwrap();
        assert_eq!(canvas.frame().y.data, before.y.data);
    }
}
