//! What was measured, under the event it belongs to, and the cautions at the foot.

use super::Words;
use super::{INK, QUIET, RULE, SHEET_SIZE, SMALL, TEXT, badge};
use crate::draw::{Align, Canvas, Style};
use crate::messages::Captions;
use crate::types::{Difference, EventId, MeasureId, Pairing, Point, Rect, Result, Verdict, Which};

/// Where the cautions begin, px from the sheet's lower edge.
const FOOT: f64 = 70.0;

/// A name is set smaller by this to keep it on one line.
const SHRINK: f64 = 1.16;

/// The event that a measure is read at.
pub const fn event_of(measure: MeasureId) -> EventId {
    use MeasureId::*;
    match measure {
        BodyCentreBackAtLoad => EventId::Load,
        FootOffToPlant => EventId::FootOff,
        LoadToPlant
        | StrideLength
        | HandsToFrontFootAtPlant
        | HeadTravelStanceToPlant
        | BodyCentreForwardAtPlant
        | FrontKneeAtPlant => EventId::Plant,
        PlantToContact
        | HandsStartToContact
        | BodyCentreForwardAtContact
        | HeadTravelPlantToContact
        | FirstHandTravelDirection
        | FirstHandTravelDrop
        | FrontShoulderRise
        | FrontKneeAtContact
        | BackFootLiftAtContact
        | PeakHandSpeed
        | PeakHandSpeedToContact
        | BatSpeed => EventId::Contact,
        ExtensionDistance | ContactToExtension => EventId::Extension,
        HandsOverShouldersAtFinish => EventId::Finish,
    }
}

/// One measure as it is written under its event.
struct Note {
    measure: MeasureId,
    /// By side; `None` where it was not measured.
    values: [Option<String>; 2],
    verdict: Option<Verdict>,
}

/// Clear differences first, each kind in the order of the swing; what only one rep gives comes last.
fn notes(captions: &Captions, pairing: &Pairing, event: EventId) -> Vec<Note> {
    let here = |measure: MeasureId| event_of(measure) == event;
    let both = |d: &Difference| Note {
        measure: d.measure,
        values: [
            Some(captions.value(d.measure, &d.today)),
            Some(captions.range(d).unwrap_or_else(|| captions.value(d.measure, &d.reference))),
        ],
        verdict: Some(d.verdict),
    };
    let mut all: Vec<Note> = pairing.differences.iter().filter(|d| here(d.measure)).map(both).collect();
    all.sort_by_key(|n| n.verdict != Some(Verdict::Bigger));
    all.extend(pairing.one_sided.iter().filter(|o| here(o.measure)).map(|o| {
        let value = Some(captions.value(o.measure, &o.value));
        let values = if o.clip == Which::Today { [value, None] } else { [None, value] };
        Note { measure: o.measure, values, verdict: None }
    }));
    all
}

/// Under each column as many measures as its height holds; how many more there are is said.
pub(super) fn under_columns(
    (letters, captions): Words,
    canvas: &mut Canvas,
    pairing: &Pairing,
    order: [usize; 2],
    columns: &[EventId],
    column: &dyn Fn(usize) -> (f64, f64),
    top: f64,
) -> Result<()> {
    let bottom = SHEET_SIZE.1 as f64 - FOOT - 52.0;
    for (i, event) in columns.iter().enumerate() {
        let (x, width) = column(i);
        canvas.round_rect(Rect::new(x, top, width, 3.0), 0.0, RULE, 1.0);
        let all = notes(captions, pairing, *event);
        let mut y = top + 34.0;
        for (n, note) in all.iter().enumerate() {
            let quiet = Style::semibold(SMALL, QUIET);
            let room = width - 14.0;
            let (name, lines) = match letters.wrap(captions.measure(note.measure), quiet, room * SHRINK)? {
                one if one.len() == 1 => {
                    letters.fit(captions.measure(note.measure), quiet, room, 1, SMALL / SHRINK)?
                }
                two => (quiet, two),
            };
            let bigger = note.verdict == Some(Verdict::Bigger);
            let rows = 2.0 + if bigger { 1.0 } else { 0.0 };
            let height = lines.len() as f64 * name.leading_px() + rows * 29.0;
            let more = all.len() - n;
            if y + height - 10.0 > bottom {
                let text = captions.and_more(more);
                letters.draw(canvas, &text, Point::new(x, y), Style::semibold(SMALL, QUIET), Align::Left)?;
                break;
            }
            let begin = y;
            let indent = if bigger { 14.0 } else { 0.0 };
            y = letters.draw_lines(canvas, &lines, Point::new(x + indent, y), name, Align::Left)?;
            for side in order {
                let value = &note.values[side];
                badge(canvas, Point::new(x + indent + 9.0, y - TEXT / 2.0), 9.0, side);
                let ink = if value.is_some() { INK } else { QUIET };
                let text = value.as_deref().unwrap_or(captions.not_measured());
                let style = Style::bold(TEXT, ink);
                let (style, lines) = letters.fit(text, style, width - 26.0 - indent, 1, SMALL)?;
                letters.draw_lines(canvas, &lines, Point::new(x + indent + 26.0, y), style, Align::Left)?;
                y += 29.0;
            }
            if bigger {
                // Not by colour alone: a bar beside the whole note, and words.
                let style = Style::bold(SMALL, INK);
                let (style, lines) = letters.fit(captions.bigger(), style, width - indent, 1, SMALL - 2.0)?;
                letters.draw_lines(canvas, &lines, Point::new(x + indent, y), style, Align::Left)?;
                y += 29.0;
                canvas.round_rect(Rect::new(x, begin - SMALL - 2.0, 5.0, y - begin - 8.0), 2.0, INK, 1.0);
            }
            y += 12.0;
        }
    }
    Ok(())
}

/// What the drawings mean, and what the numbers are.
pub(super) fn foot(
    (letters, captions): Words,
    canvas: &mut Canvas,
    pairing: &Pairing,
    margin: f64,
) -> Result<()> {
    let quiet = Style::semibold(SMALL, QUIET);
    let width = SHEET_SIZE.0 as f64 - 2.0 * margin;
    let compared = pairing.good_reps.as_ref().filter(|g| g.counted > 0).map(|g| captions.ranged(g.counted));
    let limits = format!("{} {}", captions.limits().join(" "), captions.plus_minus());
    let last = format!("{}{limits}", compared.map_or_else(String::new, |c| format!("{c} ")));
    let y = SHEET_SIZE.1 as f64 - FOOT;
    for (i, text) in [captions.drawn(), last.as_str()].iter().enumerate() {
        let (style, lines) = letters.fit(text, quiet, width, 1, SMALL - 3.0)?;
        let at = Point::new(margin, y - 6.0 + i as f64 * quiet.leading_px());
        letters.draw_lines(canvas, &lines, at, style, Align::Left)?;
    }
    Ok(())
}
