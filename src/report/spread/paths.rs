//! Every rep's way of the hands, laid on one stance.

use super::{INK, NEAREST, ODD, QUIET, REP, RULE, Role, SMALL, TEXT, dot, role};
use crate::draw::{Align, Canvas, Letters, Rgb, Stroke, Style};
use crate::messages;
use crate::swing::{HandPath, hand_path};
use crate::types::{EventId, Point, Reading, Rect, RepSpread, Result};

const BODY: Rgb = Rgb(0xD9, 0xDE, 0xE3);
/// Body heights about the stance that are always shown: left, right, down, up.
const ROOM: [f64; 4] = [-0.37, 0.48, -0.12, 1.02];

pub fn draw(
    letters: &Letters,
    canvas: &mut Canvas,
    readings: &[&Reading],
    spread: &RepSpread,
    place: Rect,
) -> Result<()> {
    letters.draw(
        canvas,
        messages::lesson::HAND_PATHS,
        Point::new(place.x, place.y + 18.0),
        Style::bold(20.0, INK),
        Align::Left,
    )?;
    let picture = Rect::new(place.x, place.y + 40.0, place.width, place.height - 40.0);
    let counted = |i: &usize| spread.reps.get(*i).is_some_and(|r| r.left_out.is_none());
    let mut paths: Vec<(usize, HandPath)> =
        (0..readings.len()).filter(counted).filter_map(|i| Some((i, hand_path(readings.get(i)?)?))).collect();
    if paths.is_empty() {
        let style = Style::semibold(TEXT, QUIET);
        return letters.draw(canvas, messages::lesson::NO_PATHS, picture.centre(), style, Align::Middle);
    }
    // Those that matter over the others.
    paths.sort_by_key(|(i, _)| match role(spread, *i) {
        Role::One => 0,
        Role::Odd => 1,
        Role::Nearest => 2,
    });
    let mut room = ROOM;
    for p in paths.iter().flat_map(|(_, path)| &path.points) {
        room = [room[0].min(p.x), room[1].max(p.x), room[2].min(p.y), room[3].max(p.y)];
    }
    let scale = (picture.width / (room[1] - room[0])).min(picture.height / (room[3] - room[2]));
    let middle = (room[0] + room[1]) / 2.0;
    let ground = picture.bottom() - 20.0;
    let at =
        |p: Point| Point::new(picture.centre().x + (p.x - middle) * scale, ground + (room[2] - p.y) * scale);
    let soles = paths.iter().flat_map(|(_, p)| &p.stance).map(|(a, b)| a.y.min(b.y)).fold(-0.04, f64::min);
    let level = at(Point::new(0.0, soles - 0.01)).y;
    canvas.round_rect(Rect::new(picture.x, level, picture.width, 3.0), 0.0, RULE, 1.0);
    let body = spread.nearest.and_then(|n| paths.iter().find(|(i, _)| *i == n)).or(paths.first());
    if let Some((_, path)) = body {
        for (a, b) in &path.stance {
            canvas.line(&[at(*a), at(*b)], Stroke::solid(9.0), BODY, 1.0);
        }
        if let Some(head) = path.head {
            canvas.disc(at(head), 0.065 * scale, BODY, 1.0);
        }
    }
    for (i, path) in &paths {
        let (colour, width, alpha) = match role(spread, *i) {
            Role::Nearest => (NEAREST, 6.0, 1.0),
            Role::Odd => (ODD, 6.0, 1.0),
            Role::One => (REP, 2.6, 0.7),
        };
        let line: Vec<Point> = path.points.iter().map(|p| at(*p)).collect();
        canvas.line(&line, Stroke::solid(width), colour, alpha);
        for (event, p) in &path.at {
            match event {
                EventId::Contact => dot(canvas, at(*p), role(spread, *i)),
                EventId::HandsStart => canvas.disc(at(*p), 4.0, colour, 1.0),
                _ => (),
            }
        }
    }
    let style = Style::semibold(SMALL, QUIET);
    let side_on = readings.first().is_some_and(|r| {
        matches!(r.hitter.view, crate::types::View::OpenSide | crate::types::View::ClosedSide)
    });
    let toward = if side_on { messages::lesson::TO_PITCHER } else { messages::lesson::TO_PLATE };
    letters.draw(canvas, toward, Point::new(picture.right() - 30.0, level + 34.0), style, Align::Right)?;
    let (tip, tail) =
        (Point::new(picture.right(), level + 28.0), Point::new(picture.right() - 22.0, level + 28.0));
    let barb = |dy: f64| Point::new(tip.x - 8.0, tip.y + dy);
    canvas.line(&[tail, tip], Stroke::solid(2.5), QUIET, 1.0);
    canvas.line(&[barb(-7.0), tip, barb(7.0)], Stroke::solid(2.5), QUIET, 1.0);
    letters.draw(
        canvas,
        messages::lesson::PATH_DOTS,
        Point::new(picture.x, level + 34.0),
        style,
        Align::Left,
    )?;
    Ok(())
}
