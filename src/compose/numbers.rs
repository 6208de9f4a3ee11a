//! The numbers of the lines, named, in one box of the panel that stays where it is over the whole swing: a
//! number that runs beside its limb jumps, hides, and cannot be compared.

use super::lines::Scene;
use super::marks::{hands, head};
use crate::draw::{Align, Canvas, Letters, Style, theme};
use crate::types::{EventId, Part, Point, Pose, Rect, Result};

/// What is kept free around the head's middle and the hands, body heights.
pub(super) const HEAD_CLEAR: f64 = 0.09;
pub(super) const HANDS_CLEAR: f64 = 0.06;
/// Half a limb's width with clothes, body heights.
const LIMB: f64 = 0.05;
/// The same for the frame around the head.
const HEAD_FRAME: f64 = 0.14;
/// The body is looked at so often for a free place, s.
const EVERY_S: f64 = 0.03;

/// How much of the picture the box covers, 0…1.
const PLATE: f64 = 0.8;

/// One number of a moment.
pub(super) struct Number<'a> {
    pub name: &'a str,
    pub value: String,
    /// The widest value that can come, so that the box keeps its size.
    pub widest: &'static str,
}

impl Scene<'_> {
    pub(super) fn numbers(&self, canvas: &mut Canvas, letters: &Letters, numbers: &[Number]) -> Result<()> {
        let style = Style::bold(self.sizes.small, theme::TEXT);
        let (cw, ch) = canvas.size();
        let panel = (cw as f64, ch as f64);
        let Some((rect, named)) = self.numbers_place(letters, numbers, panel)? else { return Ok(()) };
        let (cap, pad) = (style.cap_px, pad(style));
        canvas.round_rect(rect, 0.5 * pad, theme::CASING, PLATE);
        for (row, number) in numbers.iter().enumerate() {
            let y = rect.y + pad + cap + row as f64 * pitch(style);
            if named {
                let name = Style::semibold(cap, self.look.colour);
                letters.draw(canvas, number.name, Point::new(rect.x + pad, y), name, Align::Left)?;
            }
            let right = Point::new(rect.right() - pad, y);
            letters.draw(canvas, &number.value, right, style, Align::Right)?;
        }
        Ok(())
    }

    /// Where the box stands, and whether there is room for the names: low in the panel, else high, where the
    /// body is in the way in the fewest pictures of the swing. Today's is left and the reference's right, so
    /// that the two of a ghost stand apart.
    pub(super) fn numbers_place(
        &self,
        letters: &Letters,
        numbers: &[Number],
        (panel_width, panel_height): (f64, f64),
    ) -> Result<Option<(Rect, bool)>> {
        let style = Style::bold(self.sizes.small, theme::TEXT);
        let (pad, edge) = (pad(style), 14.0 * self.sizes.unit);
        let (mut names, mut values) = (0.0f64, 0.0f64);
        for number in numbers {
            names = names.max(letters.width(number.name, Style::semibold(style.cap_px, style.colour))?);
            values =
                values.max(letters.width(number.widest, style)?.max(letters.width(&number.value, style)?));
        }
        let whole = names + style.cap_px * 0.5 + values + 2.0 * pad;
        let height = 2.0 * pad + style.cap_px + (numbers.len() as f64 - 1.0) * pitch(style);
        if numbers.is_empty() || height > panel_height {
            return Ok(None);
        }
        let in_the_way = |rect: &Rect| self.poses().filter(|pose| !self.clear_of_body(rect, pose)).count();
        // With names where they fit and cover nothing; else the smaller box without.
        let widths = [(whole, true), (values + 2.0 * pad, false)].into_iter();
        let places =
            widths.filter(|(width, _)| *width <= panel_width - 2.0 * edge).flat_map(|(width, named)| {
                let x = if self.look.hollow { panel_width - edge - width } else { edge };
                [panel_height - edge - height, edge].map(|y| (Rect::new(x, y, width, height), named))
            });
        let best = places.map(|place| (in_the_way(&place.0), place)).min_by_key(|(n, _)| *n);
        Ok(best.map(|(_, place)| place))
    }

    /// The swing's poses, a few dozen.
    fn poses(&self) -> impl Iterator<Item = &Pose> {
        let time =
            |events: &[EventId]| events.iter().find_map(|e| self.reading.events.get(e)).map(|e| e.time_s);
        let from_s = time(&[EventId::Stance, EventId::Load]).unwrap_or(f64::NEG_INFINITY);
        let to_s = time(&[EventId::Finish, EventId::Extension]).unwrap_or(f64::INFINITY);
        let mut last_s = f64::NEG_INFINITY;
        self.reading.track.poses.iter().filter(move |pose| {
            let due = (from_s..=to_s).contains(&pose.time_s) && pose.time_s - last_s >= EVERY_S;
            if due {
                last_s = pose.time_s;
            }
            due
        })
    }

    fn clear_of_body(&self, rect: &Rect, pose: &Pose) -> bool {
        use Part::*;
        const LIMBS: [(Part, Part); 12] = [
            (LeftShoulder, RightHip),
            (RightShoulder, LeftHip),
            (LeftShoulder, LeftElbow),
            (RightShoulder, RightElbow),
            (LeftElbow, LeftWrist),
            (RightElbow, RightWrist),
            (LeftHip, LeftKnee),
            (RightHip, RightKnee),
            (LeftKnee, LeftAnkle),
            (RightKnee, RightAnkle),
            (LeftHeel, LeftToe),
            (RightHeel, RightToe),
        ];
        let near = |at: Point, room: f64| {
            let at = self.panel_transform.from_picture.apply(at);
            let dx = (rect.x - at.x).max(at.x - rect.right()).max(0.0);
            let dy = (rect.y - at.y).max(at.y - rect.bottom()).max(0.0);
            dx.hypot(dy) < room * self.panel_transform.body_height_px
        };
        let on_limb = LIMBS.iter().any(|(a, b)| match (pose.at(*a), pose.at(*b)) {
            (Some(a), Some(b)) => (0..=8).any(|k| near(a.lerp(b, f64::from(k) / 8.0), LIMB)),
            _ => false,
        });
        let on = |at: Option<Point>, room| at.is_some_and(|p| near(p, room));
        !on_limb && !on(head(pose), HEAD_FRAME) && !on(hands(pose).map(|h| h.0), HANDS_CLEAR)
    }
}

fn pad(style: Style) -> f64 {
    0.45 * style.cap_px
}

/// Distance of two rows.
fn pitch(style: Style) -> f64 {
    1.6 * style.cap_px
}

#[cfg(test)]
mod tests {
    use super::super::marks::{PanelTransform, REFERENCE, TODAY};
    use super::*;
    use crate::compose::sample;
    use crate::draw::theme::Sizes;
    use crate::draw::{Rgb, contrast};
    use crate::types::Similarity;

    /// Over the lightest picture there can be.
    #[test]
    fn numbers_and_their_names_are_read_on_any_picture() {
        let through = |c: u8| (f64::from(c) * PLATE + 255.0 * (1.0 - PLATE)).round() as u8;
        let Rgb(r, g, b) = theme::CASING;
        let box_colour = Rgb(through(r), through(g), through(b));
        for ink in [theme::TEXT, theme::TODAY, theme::REFERENCE] {
            assert!(contrast(ink, box_colour) >= 4.5, "{ink:?}: {}", contrast(ink, box_colour));
        }
    }

    /// In every picture of both swings the numbers have their place, it is the same one, and the body is not
    /// under it; the two of a ghost stand apart.
    #[test]
    fn numbers_always_have_the_same_free_place() {
        let (today, ..) = sample::pair();
        let sizes = Sizes::new(1080, 1920);
        let letters = Letters::new().unwrap();
        let numbers = [
            Number { name: "Knee", value: "175°".to_owned(), widest: "180°" },
            Number { name: "Hands–foot", value: "90 cm".to_owned(), widest: "200 cm" },
        ];
        // A narrow panel, whose body fills the breadth, and a broad one.
        for (panel, scale) in [((510.0, 1094.0), 0.8), ((1040.0, 500.0), 0.5)] {
            let panel_transform = PanelTransform {
                from_picture: Similarity { a: scale, ..Similarity::IDENTITY },
                from_steady: Some(Similarity { a: scale, ..Similarity::IDENTITY }),
                body_height_px: scale * today.scale.body_height_px,
            };
            let mut found = Vec::new();
            for look in [TODAY, REFERENCE] {
                let mut places: Vec<(Rect, bool)> = Vec::new();
                for pose in &today.track.poses {
                    let scene = Scene {
                        reading: &today,
                        pose,
                        panel_transform: &panel_transform,
                        look,
                        sizes: &sizes,
                    };
                    places.push(scene.numbers_place(&letters, &numbers, panel).unwrap().unwrap());
                }
                assert!(places.iter().all(|p| *p == places[0]));
                assert!(places[0].1, "no room for the names in {panel:?}");
                let rect = places[0].0;
                assert!(rect.x >= 0.0 && rect.right() <= panel.0 && rect.bottom() <= panel.1, "{rect:?}");
                let pose = &today.track.poses[0];
                let scene =
                    Scene { reading: &today, pose, panel_transform: &panel_transform, look, sizes: &sizes };
                assert!(scene.poses().count() > 20);
                assert!(scene.poses().all(|p| scene.clear_of_body(&rect, p)), "{panel:?} {rect:?}");
                found.push(rect);
            }
            assert!(panel.0 < 1000.0 || found[0].right() < found[1].x, "{found:?}");
        }
    }
}
