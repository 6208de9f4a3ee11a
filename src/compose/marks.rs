//! What is drawn on the body: the head box, the hands and their path, the body centre's way. Worked out once
//! per reading.

use super::path::{Step, centre_path, hand_path};
use super::plan::Mark;
use crate::draw::theme::{self, Sizes};
use crate::draw::{Canvas, Mask, Rgb, Stroke};
use crate::types::{EventId, Part, Point, Pose, Reading, Rect, Seen, Similarity};

/// How a side's marks look: never by colour alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MarkStyle {
    pub colour: Rgb,
    /// Hollow marks and a double line, not filled marks and a single one.
    pub hollow: bool,
}

pub const TODAY: MarkStyle = MarkStyle { colour: theme::TODAY, hollow: false };
pub const REFERENCE: MarkStyle = MarkStyle { colour: theme::REFERENCE, hollow: true };

/// Head box, body heights.
const HEAD_WIDTH: f64 = 0.19;
const HEAD_HEIGHT: f64 = 0.22;
/// Ring around the hands, body heights.
const HANDS_RING: f64 = 0.05;
/// Half the room around the head's middle that no line but its own crosses, body heights.
const HEAD_CLEAR: f64 = 0.078;

/// One reading's marks, in steady px.
#[derive(Debug, Clone)]
pub struct Marks {
    head_at_stance: Option<Point>,
    steps: Vec<Step>,
    centre: Vec<Step>,
}

/// How one source picture lies on its panel, panel px.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelTransform {
    pub from_picture: Similarity,
    /// From steady px; `None` when nobody knows where the camera pointed in this picture.
    pub from_steady: Option<Similarity>,
    /// Standing height, px.
    pub body_height_px: f64,
}

/// The head's middle: the mean of what is seen of nose, eyes and ears.
pub fn head(pose: &Pose) -> Option<Point> {
    mean(
        [Part::LeftEar, Part::RightEar, Part::Nose, Part::LeftEye, Part::RightEye]
            .iter()
            .filter_map(|p| pose.at(*p)),
    )
}

/// The hands' middle, and whether it was seen in the picture.
pub fn hands(pose: &Pose) -> Option<(Point, bool)> {
    let of = |parts: [Part; 2]| {
        let spots: Vec<_> = parts.iter().filter_map(|p| pose.spot(*p)).collect();
        let seen = spots.iter().all(|s| s.seen == Seen::Picture);
        mean(spots.iter().map(|s| s.at)).map(|at| (at, seen))
    };
    of([Part::LeftHand, Part::RightHand]).or_else(|| of([Part::LeftWrist, Part::RightWrist]))
}

pub fn mean(points: impl Iterator<Item = Point>) -> Option<Point> {
    let (mut sum, mut n) = (Point::default(), 0.0);
    for p in points.filter(|p| p.is_finite()) {
        sum = sum + p;
        n += 1.0;
    }
    (n > 0.0).then(|| sum * (1.0 / n))
}

impl Marks {
    pub fn new(reading: &Reading) -> Self {
        let stance = [EventId::Stance, EventId::Load].iter().find_map(|e| reading.events.get(e));
        let head_at_stance = stance.and_then(|e| {
            let i = reading.track.nearest_index(e.time_s)?;
            let at = reading.track.poses.get(i).and_then(head)?;
            Some(reading.camera.to_steady(i).apply(at))
        });
        Self { head_at_stance, steps: hand_path(reading), centre: centre_path(reading) }
    }

    /// Draw on a panel's own picture what is known at `pose`.
    pub fn draw(
        &self,
        canvas: &mut Canvas,
        panel_transform: &PanelTransform,
        pose: Option<&Pose>,
        look: MarkStyle,
        sizes: &Sizes,
        what: &[Mark],
    ) {
        let body = panel_transform.body_height_px;
        let line = (sizes.line * (body / (430.0 * sizes.unit)).clamp(0.8, 1.3)).max(1.5);
        if what.contains(&Mark::Head) {
            let now = pose.and_then(head).map(|at| panel_transform.from_picture.apply(at));
            if let (Some(at), Some(steady)) = (self.head_at_stance, panel_transform.from_steady) {
                stance_box(canvas, steady.apply(at), now, body, line * 0.5);
            }
            if let Some(at) = now {
                brackets(canvas, at, body, line * 0.9, look.colour);
            }
        }
        if let (true, Some(pose)) = (what.contains(&Mark::BodyCentre), pose) {
            self.body_centre(canvas, panel_transform, pose, look, line);
        }
        if let (true, Some(pose)) = (what.contains(&Mark::HandPath), pose) {
            self.hands(canvas, panel_transform, pose, look, line);
        }
    }

    /// The way the body centre has gone since stance, a bar across it where it began and where it was rearmost, and
    /// where it is now. The hands pass before it.
    fn body_centre(
        &self,
        canvas: &mut Canvas,
        panel_transform: &PanelTransform,
        pose: &Pose,
        look: MarkStyle,
        line: f64,
    ) {
        let passed = self.centre.partition_point(|s| s.time_s <= pose.time_s + 1e-6);
        let Some(steady) = panel_transform.from_steady else { return };
        let steps = self.centre.get(..passed).unwrap_or_default();
        let runs = runs(steps, |p| steady.apply(p));
        let places: Vec<Point> = steps.iter().map(|s| steady.apply(s.at)).collect();
        let (Some(first), Some(last)) = (places.first().copied(), places.last().copied()) else { return };
        let Some(bounds) = Rect::around(places.iter().copied()) else { return };
        let body = panel_transform.body_height_px;
        let (arm, r) = (0.035 * body, 0.017 * body);
        let g = arm + 3.0 * line;
        let bounds = Rect::new(bounds.x - g, bounds.y - g, bounds.width + 2.0 * g, bounds.height + 2.0 * g);
        // Back is away from where it ends.
        let forward = (self.centre.last().map_or(last, |s| steady.apply(s.at)) - first).x.signum();
        let rearmost = places.iter().copied().min_by(|a, b| (a.x * forward).total_cmp(&(b.x * forward)));
        let bar = |at: Point| [at - Point::new(0.0, arm), at + Point::new(0.0, arm)];
        let hands = hands(pose).map(|(at, _)| panel_transform.from_picture.apply(at));
        let mut pass = |colour: Rgb, alpha: f64, draw: &dyn Fn(&mut Mask)| {
            let mut mask = canvas.mask(bounds);
            draw(&mut mask);
            if let Some(at) = hands {
                mask.keep_clear(at, HANDS_RING * body);
            }
            canvas.fill(&mask, colour, alpha);
        };
        let way = |mask: &mut Mask, width: f64| {
            for run in &runs {
                let dash = run.inferred.then_some((line * 1.6, line * 2.6));
                mask.polyline(&run.points, Stroke { width, dash });
            }
        };
        let bars = |mask: &mut Mask, width: f64| {
            for at in [Some(first), rearmost].into_iter().flatten() {
                mask.polyline(&bar(at), Stroke::solid(width));
            }
        };
        pass(theme::CASING, 0.75, &|mask| {
            way(mask, line * 1.7);
            bars(mask, line * 1.4);
            mask.disc(last, r * 1.5);
        });
        pass(look.colour, 1.0, &|mask| way(mask, line * 0.9));
        pass(theme::TEXT, 1.0, &|mask| bars(mask, line * 0.6));
        pass(look.colour, 1.0, &|mask| mask.disc(last, r * 1.1));
        if look.hollow {
            pass(theme::CASING, 1.0, &|mask| mask.disc(last, r * 0.5));
        }
    }

    /// The path the hands have gone, and a ring that stays empty around where they are.
    fn hands(
        &self,
        canvas: &mut Canvas,
        panel_transform: &PanelTransform,
        pose: &Pose,
        look: MarkStyle,
        line: f64,
    ) {
        let body = panel_transform.body_height_px;
        let now = hands(pose).map(|(at, _)| panel_transform.from_picture.apply(at));
        if let Some(steady) = panel_transform.from_steady {
            let passed = self.steps.partition_point(|s| s.time_s <= pose.time_s + 1e-6);
            let steps = self.steps.get(..passed).unwrap_or_default();
            self.path(canvas, steps, |p| steady.apply(p), now, HANDS_RING * body, look, line);
        }
        if let Some(at) = now {
            let r = HANDS_RING * body;
            canvas.ring(at, r, line * 1.5, theme::CASING, 0.8);
            canvas.ring(at, r, line * 0.75, look.colour, 1.0);
        }
    }

    #[expect(clippy::too_many_arguments, reason = "one line's whole look")]
    fn path(
        &self,
        canvas: &mut Canvas,
        steps: &[Step],
        local: impl Fn(Point) -> Point,
        now: Option<Point>,
        keep_off: f64,
        look: MarkStyle,
        line: f64,
    ) {
        // The ring stays empty: the last steps inside it are left out.
        let inside = |s: &&Step| now.is_some_and(|n| local(s.at).distance(n) < keep_off);
        let drawn = steps.len() - steps.iter().rev().take_while(inside).count();
        let runs = runs(&steps[..drawn], &local);
        let Some(bounds) = Rect::around(runs.iter().flat_map(|r| r.points.iter().copied())) else { return };
        let g = line * 3.0;
        let bounds = Rect::new(bounds.x - g, bounds.y - g, bounds.width + 2.0 * g, bounds.height + 2.0 * g);
        let mut pass = |colour: Rgb, alpha: f64, pick: &dyn Fn(&Run) -> Option<f64>| {
            let mut mask = canvas.mask(bounds);
            for run in &runs {
                let Some(width) = pick(run) else { continue };
                let stroke = if run.inferred {
                    Stroke { width, dash: Some((line * 1.6, line * 2.6)) }
                } else {
                    Stroke::solid(width)
                };
                mask.polyline(&run.points, stroke);
            }
            canvas.fill(&mask, colour, alpha);
        };
        let width = |run: &Run| {
            line * if run.first {
                1.7
            } else if look.hollow {
                1.5
            } else {
                1.1
            }
        };
        pass(theme::CASING, 0.75, &|run| Some(width(run) + line * 0.9));
        pass(look.colour, 1.0, &|run| (!run.first).then(|| width(run)));
        pass(theme::APART, 1.0, &|run| run.first.then(|| width(run)));
        if look.hollow {
            pass(theme::CASING, 1.0, &|run| Some(width(run) * 0.36));
        }
    }
}

/// Steps that are drawn alike.
struct Run {
    points: Vec<Point>,
    inferred: bool,
    first: bool,
}

fn runs(steps: &[Step], local: impl Fn(Point) -> Point) -> Vec<Run> {
    let mut out: Vec<Run> = Vec::new();
    let mut last: Option<&Step> = None;
    for step in steps {
        let at = local(step.at);
        match out.last_mut() {
            Some(run) if !step.after_gap && run.inferred == step.inferred && run.first == step.first => {
                run.points.push(at);
            }
            _ => {
                // A new look begins where the old one ended, unless nothing was seen between.
                let from = last.filter(|_| !step.after_gap).map(|l| local(l.at));
                let points = from.into_iter().chain([at]).collect();
                out.push(Run { points, inferred: step.inferred, first: step.first });
            }
        }
        last = Some(step);
    }
    out
}

fn head_rect(at: Point, body: f64) -> Rect {
    let (w, h) = (HEAD_WIDTH * body, HEAD_HEIGHT * body);
    Rect::new(at.x - w / 2.0, at.y - h * 0.56, w, h)
}

/// Where the head was at stance: a thin whole frame that stays, and passes behind the head.
fn stance_box(canvas: &mut Canvas, at: Point, head_now: Option<Point>, body: f64, line: f64) {
    let rect = head_rect(at, body);
    let g = line * 2.0;
    let bounds = Rect::new(rect.x - g, rect.y - g, rect.width + 2.0 * g, rect.height + 2.0 * g);
    for (width, colour, alpha) in [(line * 2.2, theme::CASING, 0.6), (line, theme::TEXT, 0.95)] {
        let mut mask = canvas.mask(bounds);
        mask.round_frame(rect, 0.02 * body, width);
        if let Some(head) = head_now {
            mask.keep_clear(head - Point::new(0.0, 0.012 * body), HEAD_CLEAR * body);
        }
        canvas.fill(&mask, colour, alpha);
    }
}

/// Where the head is now: four corners that move with it.
fn brackets(canvas: &mut Canvas, at: Point, body: f64, line: f64, colour: Rgb) {
    let r = head_rect(at, body);
    let arm = 0.055 * body;
    let corners = [
        (r.x, r.y, 1.0, 1.0),
        (r.right(), r.y, -1.0, 1.0),
        (r.x, r.bottom(), 1.0, -1.0),
        (r.right(), r.bottom(), -1.0, -1.0),
    ];
    for (width, colour, alpha) in [(line * 1.9, theme::CASING, 0.75), (line, colour, 1.0)] {
        for (x, y, sx, sy) in corners {
            let l = [Point::new(x + sx * arm, y), Point::new(x, y), Point::new(x, y + sy * arm)];
            canvas.line(&l, Stroke::solid(width), colour, alpha);
        }
    }
}

/// A side's mark beside words: filled for today, hollow for the reference.
pub fn badge(canvas: &mut Canvas, at: Point, radius: f64, look: MarkStyle) {
    if look.hollow {
        canvas.ring(at, radius * 0.78, radius * 0.44, look.colour, 1.0);
    } else {
        canvas.disc(at, radius, look.colour, 1.0);
    }
}
