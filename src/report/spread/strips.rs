//! A strip of dots for each measure: one dot a rep, with mean and spread.

use super::{INK, QUIET, REP, RULE, Role, SMALL, TEXT, dot, mean_error, role};
use crate::draw::{Align, Canvas, Letters, Style};
use crate::messages::{self, Captions};
use crate::types::{Measure, MeasureSpread, Point, Rect, RepSpread, Result};

/// A row is at most so high, px.
const ROW: f64 = 70.0;
/// Widths of the columns behind the strip, px: mean, what is real, their unit said once.
const MEAN: f64 = 160.0;
const REAL: f64 = 120.0;
const UNIT: f64 = 130.0;

/// A row's numbers, without their unit.
struct Numbers {
    mean: String,
    real: String,
    unit: String,
}

fn numbers(words: &Captions, m: &MeasureSpread) -> Numbers {
    let mean = Measure { value: m.mean, plus_minus: mean_error(m), unit: m.unit };
    let unit = words.bare_unit(m.unit);
    // Which way the hands go is said with the unit: "° down".
    let way = words.way(m.measure, &mean);
    Numbers {
        mean: words.number(m.measure, &mean),
        real: m.real_change.map_or_else(|| "–".to_owned(), |r| words.bare_amount(m.unit, r[1])),
        unit: format!("{unit}{way}"),
    }
}

pub fn draw(
    (letters, words): (&Letters, &Captions),
    canvas: &mut Canvas,
    spread: &RepSpread,
    place: Rect,
) -> Result<()> {
    let head = Style::bold(20.0, INK);
    letters.draw(
        canvas,
        messages::lesson::MEASURES,
        Point::new(place.x, place.y + 18.0),
        head,
        Align::Left,
    )?;
    let row = (place.height - 50.0) / spread.measures.len().max(1) as f64;
    let row = row.min(ROW);
    let strip = Rect::new(place.x + 370.0, 0.0, place.width - 370.0 - MEAN - REAL - UNIT, 0.0);
    let quiet = Style::semibold(SMALL, QUIET);
    let (mean, real) = (strip.right() + MEAN, strip.right() + MEAN + REAL);
    let heads = [(messages::lesson::MEAN, mean), (messages::lesson::REAL_FROM, real)];
    for (head, right) in heads {
        letters.draw(canvas, head, Point::new(right, place.y + 18.0), quiet, Align::Right)?;
    }
    for (k, m) in spread.measures.iter().enumerate() {
        let middle = place.y + 50.0 + (k as f64 + 0.5) * row;
        let name = Style::bold(TEXT, INK);
        let (name, lines) = letters.fit(words.measure(m.measure), name, 350.0, 1, SMALL - 2.0)?;
        let base = Point::new(place.x, middle + TEXT / 2.0);
        letters.draw_lines(canvas, &lines, base, name, Align::Left)?;
        one(canvas, spread, m, Rect::new(strip.x, middle, strip.width, 0.0));
        let row = numbers(words, m);
        let y = middle + TEXT / 2.0;
        for (text, right, style) in [(&row.mean, mean, Style::bold(TEXT, INK)), (&row.real, real, quiet)] {
            letters.draw(canvas, text, Point::new(right, y), style, Align::Right)?;
        }
        letters.draw(canvas, &row.unit, Point::new(real + 14.0, y), quiet, Align::Left)?;
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{MeasureId, Unit, Units};

    /// Every column holds its widest number, so that none runs into the next.
    #[test]
    fn numbers_of_every_unit_stay_in_their_column() {
        let letters = Letters::new().unwrap();
        for unit in
            [Unit::Ms, Unit::Deg, Unit::Cm, Unit::BodyHeights, Unit::MetresPerS, Unit::BodyHeightsPerS]
        {
            let value = if unit == Unit::BodyHeights { -1.127 } else { -112.7 };
            for measure in [MeasureId::StrideLength, MeasureId::FirstHandTravelDirection] {
                let m = MeasureSpread {
                    measure,
                    unit,
                    values: vec![Some((value, 0.004))],
                    reps: 4,
                    mean: value,
                    mean_plus_minus: Some(value.abs() * 0.3),
                    sd: None,
                    sd_between: None,
                    real_change: Some([value.abs() * 0.3; 3]),
                };
                for units in Units::ALL {
                    let row = numbers(messages::english_in(units), &m);
                    let wide = |text: &str, style| letters.width(text, style).unwrap();
                    assert!(wide(&row.mean, Style::bold(TEXT, INK)) < MEAN - 14.0, "{}", row.mean);
                    assert!(wide(&row.real, Style::semibold(SMALL, QUIET)) < REAL - 14.0, "{}", row.real);
                    assert!(wide(&row.unit, Style::semibold(SMALL, QUIET)) < UNIT - 14.0, "{}", row.unit);
                    assert!(!row.mean.contains('%') && !row.real.contains('%'), "the unit is said once");
                }
            }
        }
    }
}
