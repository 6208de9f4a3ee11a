//! How much one hitter's reps differ: a picture (hand paths on one stance, a strip of dots for each measure), a table,
//! JSON.

mod paths;
mod strips;
mod text;

use serde::Serialize;

use super::sheet::{INK, PAPER, QUIET, RULE, SHEET_SIZE};
use super::worded::{self, RepJson};
use crate::draw::{Align, Canvas, Letters, Rgb, Style};
use crate::messages::{self, Captions, WordedWarning};
use crate::types::{
    Frame, Hitter, Measure, MeasureSpread, OddRep, Point, Reading, Rect, RepSpread, Result, Warning,
};

pub use text::spread_text;

const MARGIN: f64 = 80.0;
const TITLE: f64 = 34.0;
const TEXT: f64 = 17.0;
const SMALL: f64 = 15.0;
/// The rep nearest the middle and the odd one out, as the reference and today are on the sheet.
const NEAREST: Rgb = super::sheet::SIDES[1];
const ODD: Rgb = super::sheet::SIDES[0];
/// Every other rep.
const REP: Rgb = Rgb(0x6B, 0x76, 0x82);

/// How a rep is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Role {
    Nearest,
    Odd,
    One,
}

fn role(spread: &RepSpread, rep: usize) -> Role {
    match (spread.nearest, &spread.odd) {
        (_, Some(odd)) if odd.rep == rep => Role::Odd,
        (Some(nearest), _) if nearest == rep => Role::Nearest,
        _ => Role::One,
    }
}

/// Draw it, A4 lying. `readings` in the order of the reps; hand paths are drawn of those that keep their track.
pub fn spread_picture(
    words: &Captions,
    title: &str,
    readings: &[&Reading],
    spread: &RepSpread,
) -> Result<Frame> {
    let letters = Letters::new()?;
    let (width, height) = (SHEET_SIZE.0 as f64, SHEET_SIZE.1 as f64);
    let mut canvas = Canvas::new(SHEET_SIZE.0, SHEET_SIZE.1, PAPER);
    let baseline = MARGIN + 46.0;
    let (style, lines) = letters.fit(title, Style::bold(TITLE, INK), width * 0.55, 1, TEXT)?;
    letters.draw_lines(&mut canvas, &lines, Point::new(MARGIN, baseline), style, Align::Left)?;
    let right = Point::new(width - MARGIN, baseline);
    let counted = messages::lesson::counted(spread.counted, spread.reps.len());
    letters.draw(&mut canvas, &counted, right, Style::semibold(TEXT, QUIET), Align::Right)?;
    canvas.round_rect(Rect::new(MARGIN, baseline + 24.0, width - 2.0 * MARGIN, 3.0), 0.0, RULE, 1.0);
    let top = baseline + 54.0;
    let bottom = height - MARGIN - 92.0;
    let panel = Rect::new(MARGIN, top, 830.0, bottom - top);
    paths::draw(&letters, &mut canvas, readings, spread, panel)?;
    let left = panel.right() + 70.0;
    strips::draw(
        (&letters, words),
        &mut canvas,
        spread,
        Rect::new(left, top, width - MARGIN - left, bottom - top),
    )?;
    foot(&letters, &mut canvas, spread, bottom + 44.0)?;
    Ok(canvas.into_frame())
}

/// Of the mean; of the values' own ± where their spread is not known.
fn mean_error(m: &MeasureSpread) -> f64 {
    let own = || m.values.iter().flatten().map(|v| v.1).sum::<f64>() / m.reps.max(1) as f64;
    m.mean_plus_minus.unwrap_or_else(own)
}

/// A measure in words: name, reps, mean ±, SD with its limits, smallest real change of means of 1, 3 and 5 reps.
pub(super) fn cells(words: &Captions, m: &MeasureSpread) -> [String; 7] {
    let plus_minus = mean_error(m);
    let mean = words.value(m.measure, &Measure { value: m.mean, plus_minus, unit: m.unit });
    let sd = match (m.sd, m.sd_between) {
        (Some(sd), Some((low, high))) => messages::lesson::between(words, m.unit, sd, low, high),
        _ => messages::lesson::TOO_FEW.to_owned(),
    };
    let real = |i: usize| m.real_change.map_or_else(|| "–".to_owned(), |r| words.amount(m.unit, r[i]));
    [words.measure(m.measure).to_owned(), m.reps.to_string(), mean, sd, real(0), real(1), real(2)]
}

/// Which mark is which, and how to read it.
fn foot(letters: &Letters, canvas: &mut Canvas, spread: &RepSpread, y: f64) -> Result<()> {
    let mut x = MARGIN;
    let mut entry = |canvas: &mut Canvas, role: Role, name: String| -> Result<()> {
        dot(canvas, Point::new(x + 9.0, y - TEXT / 2.0), role);
        let style = Style::bold(TEXT, ink(role));
        let (style, lines) = letters.fit(&name, style, 560.0, 1, SMALL)?;
        letters.draw_lines(canvas, &lines, Point::new(x + 28.0, y), style, Align::Left)?;
        x += 28.0 + letters.width(lines.first().map_or("", |l| l.as_str()), style)? + 50.0;
        Ok(())
    };
    let name = messages::lesson::rep;
    if let Some(nearest) = spread.nearest.filter(|i| role(spread, *i) == Role::Nearest) {
        entry(canvas, Role::Nearest, messages::lesson::nearest_named(&name(nearest)))?;
    }
    if let Some(odd) = &spread.odd {
        entry(canvas, Role::Odd, messages::lesson::odd_named(&name(odd.rep)))?;
    }
    entry(canvas, Role::One, messages::lesson::OTHER_REPS.to_owned())?;
    let style = Style::semibold(SMALL, QUIET);
    let (style, lines) = letters.fit(
        messages::lesson::PICTURE_TOLD,
        style,
        SHEET_SIZE.0 as f64 - 2.0 * MARGIN,
        2,
        SMALL - 3.0,
    )?;
    letters.draw_lines(canvas, &lines, Point::new(MARGIN, y + 40.0), style, Align::Left)?;
    Ok(())
}

fn ink(role: Role) -> Rgb {
    match role {
        Role::Nearest => NEAREST,
        Role::Odd => ODD,
        Role::One => QUIET,
    }
}

/// Told apart by shape as well as by colour: a ring, a square, a small disc.
fn dot(canvas: &mut Canvas, at: Point, role: Role) {
    match role {
        Role::Nearest => {
            canvas.disc(at, 9.0, PAPER, 1.0);
            canvas.ring(at, 7.0, 4.0, NEAREST, 1.0);
        }
        Role::Odd => canvas.round_rect(Rect::new(at.x - 8.0, at.y - 8.0, 16.0, 16.0), 2.0, ODD, 1.0),
        Role::One => canvas.disc(at, 5.0, REP, 0.75),
    }
}

/// What `spread --json` prints.
#[derive(Debug, Clone, Serialize)]
pub struct SpreadJson<'a> {
    /// `swingpair.spread/1`.
    pub schema: &'static str,
    /// Side and view of the counted reps.
    pub hitter: Option<&'a Hitter>,
    /// In the order given.
    pub reps: Vec<RepJson>,
    pub(crate) counted: usize,
    pub(crate) nearest: Option<usize>,
    pub(crate) odd: Option<&'a OddRep>,
    /// One row each, in the order of `MeasureId::ALL`.
    pub measures: &'a [MeasureSpread],
    /// Each as code and sentence.
    pub warnings: Vec<WordedWarning>,
}

/// How much reps differ, as `spread --json` prints it.
pub fn spread_json<'a>(
    readings: &[&'a Reading],
    spread: &'a RepSpread,
    warnings: &[Warning],
) -> SpreadJson<'a> {
    let counted = spread.reps.iter().position(|r| r.left_out.is_none());
    let hitter = counted.and_then(|i| readings.get(i)).map(|r| &r.hitter);
    SpreadJson {
        schema: "swingpair.spread/1",
        hitter,
        reps: spread.reps.iter().map(RepJson::from).collect(),
        counted: spread.counted,
        nearest: spread.nearest,
        odd: spread.odd.as_ref(),
        measures: &spread.measures,
        warnings: worded::warnings(warnings),
    }
}
