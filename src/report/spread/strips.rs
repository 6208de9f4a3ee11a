//! A strip of dots for each measure: one dot a rep, with mean and spread.

use super::{INK, QUIET, REP, RULE, Role, SMALL, TEXT, cells, dot, role};
use crate::draw::{Align, Canvas, Letters, Style};
use crate::ground::{MeasureSpread, Point, Rect, RepSpread, Result, words};

/// A row is at most so high, px.
const ROW: f64 = 70.0;

pub fn draw(letters: &Letters, canvas: &mut Canvas, spread: &RepSpread, place: Rect) -> Result<()> {
    let head = Style::bold(20.0, INK);
    letters.draw(canvas, words::lesson::MEASURES, Point::new(place.x, place.y + 18.0), head, Align::Left)?;
    let row = (place.height - 50.0) / spread.measures.len().max(1) as f64;
    let row = row.min(ROW);
    let strip = Rect::new(place.x + 400.0, 0.0, place.width - 400.0 - 330.0, 0.0);
    let quiet = Style::semibold(SMALL, QUIET);
    let right = place.right();
    let mean = Point::new(strip.right() + 24.0, place.y + 18.0);
    letters.draw(canvas, words::lesson::MEAN, mean, quiet, Align::Left)?;
    letters.draw(canvas, words::lesson::REAL_FROM, Point::new(right, place.y + 18.0), quiet, Align::Right)?;
    for (k, m) in spread.measures.iter().enumerate() {
        let middle = place.y + 50.0 + (k as f64 + 0.5) * row;
        let name = Style::bold(TEXT, INK);
        let (name, lines) = letters.fit(words::measure(m.measure), name, 360.0, 1, SMALL - 2.0)?;
        let base = Point::new(place.x, middle + TEXT / 2.0);
        letters.draw_lines(canvas, &lines, base, name, Align::Left)?;
        one(canvas, spread, m, Rect::new(strip.x, middle, strip.width, 0.0));
        let [_, _, mean, _, _, real, _] = cells(m);
        let style = Style::bold(TEXT, INK);
        let (style, lines) = letters.fit(&mean, style, 200.0, 1, SMALL - 2.0)?;
        let at = Point::new(strip.right() + 24.0, middle + TEXT / 2.0);
        letters.draw_lines(canvas, &lines, at, style, Align::Left)?;
        letters.draw(canvas, &real, Point::new(right, middle + SMALL / 2.0), quiet, Align::Right)?;
    }
    Ok(())
}

fn one(canvas: &mut Canvas, spread: &RepSpread, m: &MeasureSpread, place: Rect) {
    let farthest = m.values.iter().flatten().map(|v| (v.0 - m.mean).abs()).fold(0.0, f64::max);
    let reach = (3.0 * m.sd.unwrap_or(0.0)).max(1.1 * farthest).max(1e-9);
    let x = |v: f64| place.centre().x + (v - m.mean) / reach * (place.width / 2.0 - 12.0);
    let y = place.y;
    canvas.round_rect(Rect::new(place.x, y - 1.0, place.width, 2.0), 0.0, RULE, 1.0);
    if let Some(sd) = m.sd {
        let (a, b) = (x(m.mean - sd), x(m.mean + sd));
        canvas.round_rect(Rect::new(a, y - 13.0, b - a, 26.0), 4.0, REP, 0.2);
    }
    canvas.round_rect(Rect::new(x(m.mean) - 1.5, y - 15.0, 3.0, 30.0), 0.0, INK, 1.0);
    for wanted in [Role::One, Role::Odd, Role::Nearest] {
        for (i, value) in m.values.iter().enumerate() {
            if let (Some((value, _)), true) = (value, role(spread, i) == wanted) {
                dot(canvas, Point::new(x(*value), y), wanted);
            }
        }
    }
}
