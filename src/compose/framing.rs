//! Which part of each source is shown: fixed over the clip, both bodies the same size, feet on one line.

use super::layout::{Arrangement, Layout};
use crate::draw::theme::Sizes;
use crate::media::Cut;
use crate::types::{EventId, PARTS, Part, Point, Pose, Reading, Rect, Registration, Similarity};

/// How one side's source lies on the canvas.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// Even-aligned, canvas px.
    pub panel: Rect,
    pub canvas_from_source: Similarity,
    /// Standing height on the canvas, px.
    pub body_height_px: f64,
    /// What is taken of the source, and where its top left corner lies in the panel, px (even); `None` where the
    /// source is turned or mirrored, so that all of it is needed.
    pub cut: Option<(Cut, (usize, usize))>,
}

/// One side's film: its reading, and the part of its pictures that is shown (what lies between bars), px.
#[derive(Clone, Copy)]
pub struct Source<'a> {
    pub reading: &'a Reading,
    pub inside: Rect,
}

impl<'a> Source<'a> {
    pub fn whole(reading: &'a Reading) -> Self {
        let inside = Rect::new(0.0, 0.0, reading.clip.width as f64, reading.clip.height as f64);
        Self { reading, inside }
    }
}

/// Where a source lies along one axis of a panel: whole even px of both, and the map between them.
struct Axis {
    /// First px and length in the source.
    from: usize,
    length: usize,
    /// The same in the panel.
    at: usize,
    size: usize,
}

impl Axis {
    /// `shift`: where the source's first px lies from the panel's; `source`: the first of its px that may be shown and
    /// how many there are.
    fn new(panel: f64, (start, source): (f64, f64), scale: f64, shift: f64) -> Self {
        let even =
            |v: f64, low: usize, high: usize| (((v / 2.0).round() * 2.0).max(0.0) as usize).clamp(low, high);
        let panel = (panel as usize & !1).max(2);
        let (start, source) = ((start as usize).next_multiple_of(2), source as usize & !1);
        let shift = shift + start as f64 * scale;
        // Inward, so that no edge of nothing is shown.
        let first = (shift / 2.0).ceil() * 2.0;
        let end = ((shift + source as f64 * scale) / 2.0).floor() * 2.0;
        let at = even(first, 0, panel - 2);
        let size = even(end.min(panel as f64) - at as f64, 2, panel - at);
        let length = even(size as f64 / scale, 2, source.max(2));
        let from = start + even((at as f64 - shift) / scale, 0, source.max(2) - length);
        Self { from, length, at, size }
    }

    fn scale(&self) -> f64 {
        self.size as f64 / self.length as f64
    }

    /// The same middle at `scale`: where the source's first px lies from the panel's.
    fn shift(&self, scale: f64) -> f64 {
        self.at as f64 + self.size as f64 / 2.0 - scale * (self.from as f64 + self.length as f64 / 2.0)
    }
}

impl View {
    /// A source that is scaled and shifted only, of which `inside` may be shown: moved by less than a source px and scaled by less than
    /// two px of its length, so that whole px of it fill whole px of the panel.
    fn upright(panel: Rect, scale: f64, corner: Point, inside: Rect, body_height_px: f64) -> Self {
        let across = Axis::new(panel.width, (inside.x, inside.width), scale, corner.x - panel.x);
        let down = Axis::new(panel.height, (inside.y, inside.height), scale, corner.y - panel.y);
        let scale = (across.scale() * down.scale()).sqrt();
        let (tx, ty) = (panel.x + across.shift(scale), panel.y + down.shift(scale));
        let cut = Cut {
            x: across.from,
            y: down.from,
            width: across.length,
            height: down.length,
            size: (across.size, down.size),
        };
        Self {
            panel,
            canvas_from_source: Similarity { a: scale, tx, ty, ..Similarity::IDENTITY },
            body_height_px,
            cut: Some((cut, (across.at, down.at))),
        }
    }

    /// From the canvas's corner to a panel of the same size.
    fn moved_to(self, panel: Rect) -> Self {
        let from = self.canvas_from_source;
        let canvas_from_source = Similarity { tx: from.tx + panel.x, ty: from.ty + panel.y, ..from };
        Self { panel, canvas_from_source, ..self }
    }

    /// To another panel of the same size.
    pub fn shift_to(&mut self, panel: Rect) {
        self.canvas_from_source.tx += panel.x - self.panel.x;
        self.canvas_from_source.ty += panel.y - self.panel.y;
        self.panel = panel;
    }

    #[cfg(test)]
    pub fn at(&self, p: Point) -> Point {
        self.canvas_from_source.apply(p)
    }
}

/// Room over the highest point for the bat, under the feet, and at each side; body heights.
const OVER: f64 = 0.22;
const UNDER: f64 = 0.10;
/// Never less than this over the ground, so that a bat held high stays in the picture.
const LEAST_TOP: f64 = 1.22;

/// What a body reaches during the swing, in its own heights: x from its middle, y up from the ground.
#[derive(Debug, Clone, Copy)]
struct Reach {
    middle_px: f64,
    ground_px: f64,
    body_height_px: f64,
    half_width: f64,
    top: f64,
}

fn reach(reading: &Reading) -> Reach {
    let body_height_px = reading.scale.body_height_px.max(1.0);
    let span = |pose: &&Pose| {
        let first =
            [EventId::Load, EventId::Stance, EventId::FootOff].iter().find_map(|e| reading.events.get(e));
        let last = [EventId::Finish, EventId::Extension].iter().find_map(|e| reading.events.get(e));
        first.is_none_or(|e| pose.time_s >= e.time_s - 0.1)
            && last.is_none_or(|e| pose.time_s <= e.time_s + 0.05)
    };
    let points = || reading.track.poses.iter().filter(span).flat_map(seen_parts);
    let Some(around) = robust_box(points()) else {
        let (w, h) = (reading.clip.width as f64, reading.clip.height as f64);
        return Reach {
            middle_px: w / 2.0,
            ground_px: h * 0.9,
            body_height_px,
            half_width: 0.6,
            top: LEAST_TOP,
        };
    };
    let ground_px = ground(reading, &around);
    Reach {
        middle_px: around.centre().x,
        ground_px,
        body_height_px,
        half_width: around.width / 2.0 / body_height_px,
        top: ((ground_px - around.y) / body_height_px + OVER).clamp(LEAST_TOP, 1.6),
    }
}

/// The points of a pose.
pub fn seen_parts(pose: &Pose) -> impl Iterator<Item = Point> + '_ {
    PARTS.iter().filter_map(|part| pose.at(*part)).filter(|p| p.is_finite())
}

/// The box around all but the outermost half per cent of points on each side: one wrong point must not
/// make everyone small.
pub fn robust_box(points: impl Iterator<Item = Point>) -> Option<Rect> {
    let (mut xs, mut ys): (Vec<f64>, Vec<f64>) = points.map(|p| (p.x, p.y)).unzip();
    let cut = xs.len() / 200;
    xs.sort_by(f64::total_cmp);
    ys.sort_by(f64::total_cmp);
    let ends = |v: &[f64]| Some((*v.get(cut)?, *v.get(v.len().checked_sub(1 + cut)?)?));
    let ((left, right), (top, bottom)) = (ends(&xs)?, ends(&ys)?);
    Some(Rect::new(left, top, right - left, bottom - top))
}

/// Where the feet stand at plant, or else the lowest they come.
fn ground(reading: &Reading, around: &Rect) -> f64 {
    const FEET: [Part; 4] = [Part::LeftHeel, Part::RightHeel, Part::LeftToe, Part::RightToe];
    let pose = reading.events.get(&EventId::Plant).and_then(|e| reading.track.nearest(e.time_s));
    let lowest = pose.and_then(|p| FEET.iter().filter_map(|f| p.at(*f)).map(|p| p.y).max_by(f64::total_cmp));
    lowest.filter(|y| y.is_finite()).unwrap_or(around.bottom())
}

/// The canvas and how both sources lie on it.
pub fn arrange(
    layout: Layout,
    size: (usize, usize),
    [today, reference]: [Source; 2],
    registration: Option<&Registration>,
) -> (Arrangement, [View; 2]) {
    let (t, r) = (reach(today.reading), reach(reference.reading));
    let widest = Arrangement::new(layout, size.0, size.1, None);
    let panel = widest.panels[0];
    let (half, top) = match layout.alone() {
        Some(side) => [(t.half_width, t.top), (r.half_width, r.top)][side],
        None if layout.overlaid() => (t.half_width, t.top.max(r.top)),
        _ => (t.half_width.max(r.half_width), t.top.max(r.top)),
    };
    let half = half + layout.bat_reach();
    // Canvas px per body height.
    let body = (panel.width / (2.0 * half)).min(panel.height / (top + UNDER));
    let body = body.min(panel.height / 1.25);
    let today_scale = body / t.body_height_px;
    let reference_scale = match registration {
        Some(reg) => today_scale * reg.reference_to_today.scale(),
        None => body / r.body_height_px,
    };

    // How far up and down both sources can fill the panel, canvas px from the ground line.
    let sides = [(&t, today_scale, today), (&r, reference_scale, reference)];
    let shown = match layout.alone() {
        Some(side) => &sides[side..=side],
        None if layout.overlaid() => &sides[..1],
        _ => &sides[..],
    };
    let least = |v: &mut dyn Iterator<Item = f64>| v.fold(f64::INFINITY, f64::min);
    let up = least(&mut shown.iter().map(|(s, k, of)| (s.ground_px - of.inside.y) * k)).max(top * body);
    let down = least(&mut shown.iter().map(|(s, k, of)| (of.inside.bottom() - s.ground_px) * k));
    let down = down.max(UNDER * body);
    let arrangement = Arrangement::new(layout, size.0, size.1, Some(up + down));
    let panel = arrangement.panels[0];
    // Room left over goes two parts above, one below, as far as the pictures reach.
    let spare = (panel.height - (top + UNDER) * body).max(0.0);
    let below = (UNDER * body + spare * 0.36).min(down).max(panel.height - up);

    let view = |panel: Rect, side: &Reach, scale: f64, inside: Rect| {
        let ground = panel.bottom() - below;
        let mut x = panel.centre().x - side.middle_px * scale;
        // Keep the picture's edge out of the panel where the body allows it.
        let (left, right) = (panel.x - inside.x * scale, panel.right() - inside.right() * scale);
        let slack = (panel.width / 2.0 - side.half_width * body - 0.04 * body).max(0.0);
        if right <= left {
            x = x.clamp(right, left).clamp(x - slack, x + slack);
        }
        let y = ground - side.ground_px * scale;
        View::upright(panel, scale, Point::new(x, y), inside, body)
    };
    let today_view = view(panel, &t, today_scale, today.inside);
    let reference_view = match registration.filter(|_| layout.overlaid()) {
        Some(reg) => {
            let outer = today_view.canvas_from_source;
            let through = reg.reference_to_today.scaled_shifted(outer.a, Point::new(outer.tx, outer.ty));
            View { panel, canvas_from_source: through, body_height_px: body, cut: None }
        }
        None => {
            view(arrangement.panels.get(1).copied().unwrap_or(panel), &r, reference_scale, reference.inside)
        }
    };
    (arrangement, [today_view, reference_view])
}

/// How both sources lie in a cell of `size` px of their own: one scale for both, feet on one line, no words
/// around.
pub fn cells(
    size: (usize, usize),
    [today, reference]: [Source; 2],
    registration: Option<&Registration>,
) -> (Arrangement, [View; 2]) {
    let (width, height) = (size.0 as f64, size.1 as f64);
    let reaches = [reach(today.reading), reach(reference.reading)];
    let most = |pick: fn(&Reach) -> f64| reaches.iter().map(pick).fold(0.0, f64::max);
    let (half, top) = (most(|r| r.half_width) + Layout::SideBySide.bat_reach(), most(|r| r.top));
    let body = (width / (2.0 * half)).min(height / (top + UNDER));
    let today_scale = body / reaches[0].body_height_px;
    let reference_scale = registration
        .map_or(body / reaches[1].body_height_px, |reg| today_scale * reg.reference_to_today.scale());
    let spare = (height - (top + UNDER) * body).max(0.0);
    let ground = height - UNDER * body - spare * 0.36;
    let panel = Rect::new(0.0, 0.0, width, height);
    let view = |side: &Reach, scale: f64, inside: Rect| {
        let corner = Point::new(width / 2.0 - side.middle_px * scale, ground - side.ground_px * scale);
        View::upright(panel, scale, corner, inside, body)
    };
    let views =
        [view(&reaches[0], today_scale, today.inside), view(&reaches[1], reference_scale, reference.inside)];
    let mut place = Arrangement::new(Layout::SideBySide, size.0, size.1, None);
    // Lines of a weight that is still seen on a small picture.
    let unit = width.min(height) * 1.7;
    (place.sizes, place.panels) = (Sizes::new(unit as usize, unit as usize), vec![panel, panel]);
    (place, views)
}

/// Two angles of each rep: both first angles of one size, both second ones of one size; a rep without a second angle
/// has an empty panel.
pub fn four(
    size: (usize, usize),
    first: [Source; 2],
    second: [Option<Source>; 2],
    registration: Option<&Registration>,
) -> (Arrangement, Vec<View>) {
    let place = Arrangement::four(size.0, size.1);
    let panel = place.panels[0];
    let cell = (panel.width as usize, panel.height as usize);
    let (_, over) = cells(cell, first, registration);
    // One alone stands for both, so that there is always a panel to leave empty.
    let [left, right] = [second[0].or(second[1]), second[1].or(second[0])];
    let (_, under) = cells(cell, [left.unwrap_or(first[0]), right.unwrap_or(first[1])], None);
    let views = over.into_iter().chain(under).zip(&place.panels).map(|(view, panel)| view.moved_to(*panel));
    let views = views.collect();
    (place, views)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compose::sample;

    #[test]
    fn both_bodies_stand_on_one_line_at_one_size() {
        let (today, reference, pairing) = sample::pair();
        for layout in Layout::ALL {
            let (_, [t, r]) = arrange(
                layout,
                (1080, 1920),
                [&today, &reference].map(Source::whole),
                pairing.registration.as_ref(),
            );
            let feet = |reading: &Reading, view: &View| {
                let plant = reading.events[&EventId::Plant].time_s;
                let pose = reading.track.nearest(plant).unwrap();
                let toe = pose.at(Part::LeftToe).unwrap().y.max(pose.at(Part::RightToe).unwrap().y);
                view.panel.bottom() - view.at(Point::new(0.0, toe)).y
            };
            if !layout.overlaid() {
                assert!((feet(&today, &t) - feet(&reference, &r)).abs() < 12.0);
            }
            let tall = |reading: &Reading, view: &View| {
                reading.scale.body_height_px * view.canvas_from_source.scale()
            };
            let ratio = tall(&today, &t) / tall(&reference, &r);
            assert!((ratio - 1.0).abs() < 0.05, "{ratio}");
        }
    }

    #[test]
    fn the_whole_body_stays_in_its_panel() {
        let (today, reference, pairing) = sample::pair();
        for layout in Layout::ALL {
            for size in [(1080, 1920), (1920, 1080), (540, 960)] {
                let (_, views) = arrange(
                    layout,
                    size,
                    [&today, &reference].map(Source::whole),
                    pairing.registration.as_ref(),
                );
                for (side, (reading, view)) in [&today, &reference].into_iter().zip(&views).enumerate() {
                    if layout.alone().is_some_and(|only| only != side) {
                        continue;
                    }
                    for pose in &reading.track.poses {
                        for p in PARTS.iter().filter_map(|part| pose.at(*part)) {
                            let at = view.at(p);
                            assert!(view.panel.contains(at), "{layout:?} {size:?} {at:?} {:?}", view.panel);
                        }
                    }
                }
            }
        }
    }
}
