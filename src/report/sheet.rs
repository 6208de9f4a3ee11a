//! The sheet of stills: what a coach prints and pins up. Rows are reps, columns are events, both bodies at one
//! scale with the clip's own drawings, and what was measured at each event under it.

mod file;
mod notes;

use crate::compose::{ClipSide, Footage, Mark, Stage};
use crate::draw::{Align, Canvas, Letters, Rgb, Style};
use crate::messages::{self, Captions};
use crate::types::{Cancel, Error, EventId, Events, Frame, Pairing, Point, Rect, Result};

pub use file::{pdf_from_png, png_from_frame};
pub use notes::event_of;

/// A4 lying, 297 × 210 mm at 200 dots an inch, even, px.
pub const SHEET_SIZE: (usize, usize) = (2338, 1654);
/// px a mm of paper.
pub const DOTS_A_MM: f64 = 200.0 / 25.4;

/// Moments that tell the swing in one row. Touch and hands start lie too near their neighbours to look different.
const COLUMNS: [EventId; 7] = [
    EventId::Stance,
    EventId::Load,
    EventId::FootOff,
    EventId::Plant,
    EventId::Contact,
    EventId::Extension,
    EventId::Finish,
];

/// White ground: ink is dear. The two sides' colours are the clip's hues, dark enough for words on white.
pub(super) const PAPER: Rgb = Rgb(0xFF, 0xFF, 0xFF);
pub(super) const INK: Rgb = Rgb(0x14, 0x18, 0x1C);
pub(super) const QUIET: Rgb = Rgb(0x4A, 0x53, 0x5C);
pub(super) const RULE: Rgb = Rgb(0xC9, 0xCF, 0xD5);
const EMPTY: Rgb = Rgb(0xEE, 0xF0, 0xF2);
pub(super) const SIDES: [Rgb; 2] = [Rgb(0xA6, 0x5A, 0x00), Rgb(0x00, 0x66, 0xA3)];

const MARGIN: f64 = 80.0;
const GAP: f64 = 14.0;
const TITLE: f64 = 34.0;
const HEAD: f64 = 20.0;
pub(super) const TEXT: f64 = 17.0;
/// 6 pt print: about the smallest that is read from a wall at arm's length.
pub(super) const SMALL: f64 = 15.0;
const CELL_HEIGHT: usize = 404;

/// A column's left edge and width, px.
fn column(i: usize) -> (f64, f64) {
    let n = COLUMNS.len() as f64;
    let width = (SHEET_SIZE.0 as f64 - 2.0 * MARGIN - (n - 1.0) * GAP) / n;
    let width = (width / 2.0).floor() * 2.0;
    (MARGIN + i as f64 * (width + GAP), width)
}

/// The columns in order of time, from the moment the two are lined up on: of an event in both the middle counts; one
/// that is in neither keeps its place.
fn in_time(events: [&Events; 2], zeros_s: [f64; 2]) -> [EventId; COLUMNS.len()] {
    let time_s = |event: &EventId| {
        let known = events.iter().zip(zeros_s).filter_map(|(e, zero_s)| Some(e.get(event)?.time_s - zero_s));
        let known: Vec<f64> = known.collect();
        (!known.is_empty()).then(|| known.iter().sum::<f64>() / known.len() as f64)
    };
    let mut timed: Vec<(EventId, f64)> = COLUMNS.iter().filter_map(|e| Some((*e, time_s(e)?))).collect();
    timed.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut sorted = timed.into_iter();
    COLUMNS.map(|event| match time_s(&event) {
        Some(_) => sorted.next().map_or(event, |(event, _)| event),
        None => event,
    })
}

/// The two sides in the order in which they stand, today's 0.
fn order(reference_first: bool) -> [usize; 2] {
    if reference_first { [1, 0] } else { [0, 1] }
}

/// Draw the sheet in the words of `captions`, with `draw` on the bodies, today's row over the reference's or under it.
/// Reads one picture for each event of each clip.
/// A4 lying, [`SHEET_SIZE`] px.
///
/// # Errors
///
/// [`Error::Decode`](crate::types::Error::Decode) where a picture of an event cannot be read,
/// [`Error::Glyph`](crate::types::Error::Glyph) where a label has a letter that the fonts lack.
///
/// ```no_run
/// use swingpair::compose::{ClipSide, Mark};
/// use swingpair::reading::{ReadOptions, read};
/// use swingpair::types::{Cancel, NoProgress, SyncOn};
/// use swingpair::{messages, pairing, report};
///
/// let cancel = Cancel::default();
/// let read = |clip: &str| read(clip.as_ref(), &ReadOptions::default(), &NoProgress, &cancel);
/// let reps = [read("today.mp4")?, read("best.mp4")?];
/// let (pairing, _warnings) = pairing::pair(&reps[0].reading, &reps[1].reading, SyncOn::Phases)?;
/// let side = |i: usize, label| ClipSide {
///     clip: &reps[i].clip,
///     reading: &reps[i].reading,
///     label,
///     second: None,
///     mirrored: false,
/// };
/// let (today, best) = (side(0, "Today"), side(1, "Best"));
/// let words = (false, messages::english());
/// let sheet = report::sheet(&today, &best, &pairing, &Mark::usual(), words, &cancel)?;
/// swingpair::store::write_file("sheet.png".as_ref(), &report::png_from_frame(&sheet)?)?;
/// # Ok::<(), swingpair::types::Error>(())
/// ```
pub fn sheet(
    today: &ClipSide,
    reference: &ClipSide,
    pairing: &Pairing,
    draw: &[Mark],
    (reference_first, captions): (bool, &Captions),
    cancel: &Cancel,
) -> Result<Frame> {
    let letters = Letters::new()?;
    let mut canvas = Canvas::new(SHEET_SIZE.0, SHEET_SIZE.1, PAPER);
    let sides = [today, reference];
    let zeros = [pairing.time_map.zero_today_s(), pairing.time_map.zero_reference_s()];
    let order = order(reference_first);
    let words = (&letters, captions);
    title(words, &mut canvas, sides, order, pairing)?;
    let columns = in_time(sides.map(|s| &s.reading.events), zeros);
    let mut y = MARGIN + 112.0;
    for (i, event) in columns.iter().enumerate() {
        let (x, width) = column(i);
        let style = Style::bold(HEAD, INK);
        let (style, lines) = letters.fit(captions.event(*event), style, width, 1, SMALL)?;
        letters.draw_lines(&mut canvas, &lines, Point::new(x, y), style, Align::Left)?;
    }
    y += 18.0;
    let cell = (column(0).1 as usize, CELL_HEIGHT);
    let readings = sides.map(|s| s.reading);
    let inside = [today.inside(cancel)?, reference.inside(cancel)?];
    let stage = Stage::of_stills(cell, readings, inside, sides.map(|s| s.label), pairing)?;
    let stage = stage.with_marks(draw).with_captions(captions);
    for side in order {
        let zero_s = zeros[side];
        for (i, event) in columns.iter().enumerate() {
            cancel.check()?;
            let place = Rect::new(column(i).0, y, cell.0 as f64, cell.1 as f64);
            still(words, &mut canvas, &stage, sides, side, *event, zero_s, place)?;
        }
        y += CELL_HEIGHT as f64 + 52.0;
    }
    notes::under_columns(words, &mut canvas, pairing, order, &columns, &column, y - 2.0)?;
    notes::foot(words, &mut canvas, pairing, MARGIN)?;
    Ok(canvas.into_frame())
}

/// The font and what is written in it.
type Words<'a> = (&'a Letters, &'a Captions);

/// Which mark is which, and what the two are lined up on.
fn title(
    (letters, captions): Words,
    canvas: &mut Canvas,
    sides: [&ClipSide; 2],
    order: [usize; 2],
    pairing: &Pairing,
) -> Result<()> {
    let baseline = MARGIN + 46.0;
    let mut x = MARGIN;
    let room = SHEET_SIZE.0 as f64 * 0.3;
    for side in order {
        let of = sides[side];
        badge(canvas, Point::new(x + 15.0, baseline - TITLE / 2.0), 15.0, side);
        let style = Style::bold(TITLE, SIDES[side]);
        let (style, lines) = letters.fit(of.label, style, room, 1, TEXT)?;
        letters.draw_lines(canvas, &lines, Point::new(x + 44.0, baseline), style, Align::Left)?;
        let mut wide = 0.0f64;
        for line in &lines {
            wide = wide.max(letters.width(line, style)?);
        }
        let mut rate = captions.recorded_at(of.reading.clip.capture_rate_hz);
        if of.mirrored {
            rate = format!("{rate}, {}", captions.mirrored());
        }
        let quiet = Style::semibold(TEXT, QUIET);
        letters.draw(canvas, &rate, Point::new(x + 60.0 + wide, baseline), quiet, Align::Left)?;
        x += 60.0 + wide + letters.width(&rate, quiet)? + 90.0;
    }
    let zero = captions.times_from(pairing.time_map.zero);
    let right = Point::new(SHEET_SIZE.0 as f64 - MARGIN, baseline);
    letters.draw(canvas, &zero, right, Style::semibold(TEXT, QUIET), Align::Right)?;
    let line = Rect::new(MARGIN, baseline + 24.0, SHEET_SIZE.0 as f64 - 2.0 * MARGIN, 3.0);
    canvas.round_rect(line, 0.0, RULE, 1.0);
    Ok(())
}

/// A side's mark: filled for today, hollow for the reference.
pub(super) fn badge(canvas: &mut Canvas, at: Point, radius: f64, side: usize) {
    if side == 0 {
        canvas.disc(at, radius, SIDES[0], 1.0);
    } else {
        canvas.ring(at, radius * 0.78, radius * 0.44, SIDES[1], 1.0);
    }
}

/// One event of one rep: the picture and its time.
#[expect(clippy::too_many_arguments, reason = "one cell's whole place and content")]
fn still(
    (letters, captions): Words,
    canvas: &mut Canvas,
    stage: &Stage,
    sides: [&ClipSide; 2],
    side: usize,
    event: EventId,
    zero_s: f64,
    place: Rect,
) -> Result<()> {
    let Some(of) = sides.get(side) else { return Ok(()) };
    let baseline = place.bottom() + 30.0;
    badge(canvas, Point::new(place.x + 9.0, baseline - TEXT / 2.0), 9.0, side);
    let Some(found) = of.reading.events.get(&event) else {
        canvas.round_rect(place, 10.0, EMPTY, 1.0);
        let style = Style::semibold(TEXT, QUIET);
        let middle = place.centre();
        letters.draw(canvas, captions.not_found(), middle, style, Align::Middle)?;
        return Ok(());
    };
    let film = of.film();
    let clip: &dyn Footage = &film;
    let picture = clip.read_from(found.frame, stage.cut(side))?.picture_from(found.frame)?;
    let picture = picture.ok_or_else(|| Error::Decode {
        path: clip.path().to_owned(),
        cause: messages::output::frame_missing(found.frame).into(),
    })?;
    let real_s = clip.real_s(picture.index);
    let prepared = stage.prepare(side, picture, real_s);
    canvas.place(&stage.still(side, &prepared)?, place.x as usize, place.y as usize);
    canvas.round_corners(place, 10.0, PAPER);
    let time = messages::page::moment(found.time_s - zero_s, found.plus_minus_s);
    let style = Style::bold(TEXT, INK);
    let (style, lines) = letters.fit(&time, style, place.width - 28.0, 1, SMALL)?;
    letters.draw_lines(canvas, &lines, Point::new(place.x + 26.0, baseline), style, Align::Left)?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::contrast;
    use crate::types::{Event, Source};

    #[test]
    fn columns_follow_the_time() {
        use EventId::*;
        let events = |times: &[(EventId, f64)]| -> Events {
            let event = |time_s| Event {
                time_s,
                plus_minus_s: 0.01,
                frame: 0,
                source: Source::Motion,
                confidence: 1.0,
            };
            times.iter().map(|(id, t)| (*id, event(*t))).collect()
        };
        // The load comes after the foot lifts in today's rep, and a little in the mean of both.
        let today = events(&[(Load, 1.30), (FootOff, 1.10), (Plant, 1.5), (Contact, 1.7), (Finish, 2.1)]);
        let best = events(&[(Load, 3.00), (FootOff, 3.05), (Plant, 3.5), (Contact, 3.7), (Finish, 4.1)]);
        let want = [Stance, FootOff, Load, Plant, Contact, Extension, Finish];
        assert_eq!(in_time([&today, &best], [1.5, 3.5]), want);
        assert_eq!(in_time([&best, &best], [3.5, 3.5]), COLUMNS);
        assert_eq!(in_time([&Events::new(), &Events::new()], [0.0, 0.0]), COLUMNS);
    }

    #[test]
    fn words_are_read_on_paper_and_columns_fill_it() {
        for ink in [INK, QUIET, SIDES[0], SIDES[1]] {
            assert!(contrast(ink, PAPER) >= 4.5, "{ink:?}: {}", contrast(ink, PAPER));
        }
        let (x, width) = column(COLUMNS.len() - 1);
        let right = SHEET_SIZE.0 as f64 - MARGIN;
        assert!(x + width <= right && x + width > right - 20.0 && width % 2.0 == 0.0);
        let (w, h) = (SHEET_SIZE.0 as f64 / DOTS_A_MM, SHEET_SIZE.1 as f64 / DOTS_A_MM);
        assert!((w - 297.0).abs() < 0.2 && (h - 210.0).abs() < 0.2, "{w} {h}");
    }
}
