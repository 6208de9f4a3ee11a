//! The two values of a measure beside each other.

use super::{Page, Side};
use crate::compose::marks::badge;
use crate::draw::{Align, Canvas, Stroke, Style, theme};
use crate::types::{Difference, MeasureId, Point, Result};

/// A value that is so much wider than its line would be set smaller than words are: its unit goes below.
const CROWDED: f64 = 1.1;

/// How one measure's two values are set.
pub(in crate::compose) struct Lines {
    /// One for each side that is shown.
    pub texts: Vec<String>,
    /// Said once at the end of the line.
    pub unit: Option<String>,
    /// Width of one value's column; `None` where they stand one under the other.
    pub column: Option<f64>,
}

impl Lines {
    /// How many lines they take.
    pub fn rows(&self) -> usize {
        match self.column {
            Some(_) => 1,
            None => self.texts.len() + usize::from(self.unit.is_some()),
        }
    }
}

impl Page<'_> {
    /// The stretch of the hand path that a measure is taken from is drawn beside its name too.
    /// Gives the room it takes.
    pub(in crate::compose) fn swatch(&self, canvas: &mut Canvas, measure: MeasureId, at: Point) -> f64 {
        if measure != MeasureId::FirstHandTravelDirection {
            return 0.0;
        }
        let s = &self.place.sizes;
        let y = at.y - s.body / 2.0;
        let length = 44.0 * s.unit;
        let points = [Point::new(at.x + s.line, y), Point::new(at.x + length, y)];
        canvas.line(&points, Stroke::solid(s.line * 1.9), theme::APART, 1.0);
        length + 24.0 * s.unit
    }

    /// Both sides' values, on one line where they fit, else one under the other; a long unit is said
    /// once, at the end of the line. Gives the next baseline.
    pub(in crate::compose) fn values(
        &self,
        canvas: &mut Canvas,
        lines: Lines,
        at: Point,
        width: f64,
    ) -> Result<f64> {
        let s = &self.place.sizes;
        let style = Style::bold(s.body, theme::TEXT);
        let Lines { texts, unit, column } = lines;
        let (r, indent) = (14.0 * s.unit, self.indent());
        let mut at = at;
        for (i, (side, text)) in self.shown().zip(&texts).enumerate() {
            badge(canvas, Point::new(at.x + r, at.y - s.body / 2.0), r, side.look);
            let room = column.unwrap_or(width) - indent;
            let (style, lines) = self.letters.fit(text, style, room, 1, s.small)?;
            self.letters.draw_lines(canvas, &lines, Point::new(at.x + indent, at.y), style, Align::Left)?;
            match column {
                Some(column) if i + 1 < texts.len() => at.x += column,
                _ => at.y += style.leading_px(),
            }
        }
        if let (Some(unit), Some(column)) = (&unit, column) {
            let place = Point::new(at.x + column, at.y - style.leading_px());
            self.letters.draw(canvas, unit, place, Style::semibold(s.small, theme::QUIET), Align::Left)?;
        } else if let Some(unit) = unit {
            let place = Point::new(at.x + indent, at.y);
            self.letters.draw(canvas, &unit, place, Style::semibold(s.small, theme::QUIET), Align::Left)?;
            at.y += style.leading_px();
        }
        Ok(at.y)
    }

    pub(in crate::compose) fn indent(&self) -> f64 {
        44.0 * self.place.sizes.unit
    }

    /// How many good reps today is compared with, where it is with their range.
    pub(in crate::compose) fn counted_reps(&self) -> Option<usize> {
        self.pairing.good_reps.as_ref().map(|g| g.counted).filter(|n| *n > 0)
    }

    /// The two values of a measure; with `against` the reference's is the range of its good reps, if there is
    /// one.
    pub(in crate::compose) fn value_lines(
        &self,
        measure: MeasureId,
        width: f64,
        against: Option<&Difference>,
    ) -> Result<Lines> {
        let s = &self.place.sizes;
        let style = Style::bold(s.body, theme::TEXT);
        let widest = |texts: &[String]| -> Result<f64> {
            let mut most = 0.0f64;
            for text in texts {
                most = most.max(self.letters.width(text, style)?);
            }
            Ok(most + self.indent() + 20.0 * s.unit)
        };
        let unit = self
            .shown()
            .find_map(|side| side.reading.measures.get(&measure))
            .and_then(|m| self.captions.long_unit(m.unit));
        if let Some(unit) = unit.filter(|_| self.only.is_none()) {
            let mut texts: Vec<String> =
                self.shown().map(|side| self.value_text(side, measure, false)).collect();
            if let (Some(range), Some(text)) =
                (against.and_then(|d| self.captions.range_number(d)), texts.get_mut(self.place_of(1)))
            {
                *text = range;
            }
            let said = self.letters.width(unit, Style::semibold(s.small, theme::QUIET))?;
            let column = ((width - said) / 2.0).min(0.36 * width);
            if widest(&texts)? <= column {
                return Ok(Lines { texts, unit: Some(unit.to_owned()), column: Some(column) });
            }
        }
        let mut texts: Vec<String> = self.shown().map(|side| self.value_text(side, measure, true)).collect();
        if let (Some(range), Some(text)) =
            (against.and_then(|d| self.captions.range(d)), texts.get_mut(self.place_of(1)))
        {
            *text = range;
        }
        let column = (widest(&texts)? <= width / 2.0).then_some(width / 2.0);
        if let (Some(unit), true) = (unit, widest(&texts)? - 20.0 * s.unit > width * CROWDED) {
            // One under the other and still too long: the unit is said once, under both.
            let mut texts: Vec<String> =
                self.shown().map(|side| self.value_text(side, measure, false)).collect();
            if let (Some(range), Some(text)) =
                (against.and_then(|d| self.captions.range_number(d)), texts.get_mut(self.place_of(1)))
            {
                *text = range;
            }
            return Ok(Lines { texts, unit: Some(unit.to_owned()), column: None });
        }
        Ok(Lines { texts, unit: None, column })
    }

    fn value_text(&self, side: &Side, measure: MeasureId, whole: bool) -> String {
        match side.reading.measures.get(&measure) {
            Some(m) if whole => self.captions.value(measure, m),
            Some(m) => self.captions.number(measure, m),
            None => self.captions.not_measured().to_owned(),
        }
    }
}
