//! The closing card: what was measured, clear differences first, then what stayed the same.

use super::marks::badge;
use super::page::Page;
use crate::draw::{Align, Canvas, Rgb, Style, theme};
use crate::types::{Difference, MeasureId, OneSided, Point, Rect, Result, Verdict, Which};

/// Measures of both swings that get a row of their own.
const MOST_ROWS: usize = 5;
/// Where so many are real differences, the rest is named below only: a card is read in a few seconds.
const ENOUGH_ROWS: usize = 3;
/// Rows for what only one clip gives.
const MOST_ONE_SIDED: usize = 6;

/// Lines under a row's values.
const MOST_BELOW: usize = 2;

/// What the card of one swing alone tells, in this order.
const OF_ONE: [MeasureId; 7] = [
    MeasureId::PlantToContact,
    MeasureId::StrideLength,
    MeasureId::HeadTravelPlantToContact,
    MeasureId::FirstHandTravelDirection,
    MeasureId::FrontKneeAtContact,
    MeasureId::ExtensionDistance,
    MeasureId::PeakHandSpeed,
];

enum Row<'a> {
    /// Of the one swing that is shown.
    Alone(MeasureId),
    Both(&'a Difference),
    One(&'a OneSided),
}

impl Row<'_> {
    fn measure(&self) -> MeasureId {
        match self {
            Self::Alone(m) => *m,
            Self::Both(d) => d.measure,
            Self::One(o) => o.measure,
        }
    }
}

/// Of all differences in the order of their rank those that get a row, and how many of them are clear.
fn with_a_row(mut ranked: Vec<&Difference>) -> (Vec<&Difference>, usize) {
    let clear = ranked.iter().take_while(|d| d.verdict == Verdict::Bigger).count().min(MOST_ROWS);
    // What could not be told has no row, but for a card that would be empty.
    if ranked.iter().any(|d| d.verdict != Verdict::CantTell) {
        ranked.retain(|d| d.verdict != Verdict::CantTell);
    }
    ranked.truncate(clear.max(ENOUGH_ROWS));
    (ranked, clear)
}

/// A row and where it stands: column, px from the top, height.
type Placed<'a> = (Row<'a>, usize, f64, f64);

impl Page<'_> {
    pub fn card(&self, canvas: &mut Canvas) -> Result<()> {
        let s = &self.place.sizes;
        let u = s.unit;
        let (w, h) = (self.place.width as f64, self.place.height as f64);
        let columns = if w > h { 2 } else { 1 };
        let gap = 18.0 * u;
        let inside = w - 2.0 * s.margin;
        let width = (inside - gap * (columns as f64 - 1.0)) / columns as f64;
        let quiet = Style::semibold(s.small, theme::QUIET);
        let foot = h - 48.0 * u;

        let mut limits = Vec::new();
        let mirrored = self.order().iter().filter(|side| self.mirrored[**side]);
        let mirrored = mirrored.map(|side| self.captions.shown_mirrored(self.sides[*side].label));
        for sentence in mirrored.chain(self.captions.limits().map(str::to_owned)) {
            let sentence = sentence.as_str();
            limits.extend(self.letters.wrap(sentence, quiet, inside)?);
        }
        let limits_y = foot - (limits.len() as f64 - 1.0) * quiet.leading_px();
        self.letters.draw_lines(canvas, &limits, Point::new(s.margin, limits_y), quiet, Align::Left)?;

        let top = 150.0 * u;
        let bottom = limits_y - s.small - 30.0 * u;
        // What finds no room in a row is named below them; naming takes room from the rows.
        let mut placed = self.placed(bottom - top, width, columns)?;
        let mut named = self.named(&placed, inside)?;
        if !named.is_empty() {
            let room = bottom - top - (named.len() as f64 + 0.6) * quiet.leading_px();
            placed = self.placed(room, width, columns)?;
            named = self.named(&placed, inside)?;
        }
        let deepest = placed.iter().map(|p| p.2 + p.3).fold(0.0, f64::max);
        let spare = bottom - top - deepest - (named.len() as f64 + 0.6) * quiet.leading_px();
        let down = (spare / 2.0).clamp(0.0, 200.0 * u);
        self.card_title(canvas, Point::new(s.margin, 92.0 * u + down), inside)?;
        if placed.is_empty() {
            let style = Style::semibold(s.body, theme::TEXT);
            let text = self.captions.nothing(self.only.is_some());
            let (style, lines) = self.letters.fit(text, style, inside, 3, s.small)?;
            let at = Point::new(s.margin, top + down + 90.0 * u);
            self.letters.draw_lines(canvas, &lines, at, style, Align::Left)?;
        }
        for (row, column, y, height) in &placed {
            let x = s.margin + *column as f64 * (width + gap);
            self.row(canvas, row, Rect::new(x, top + down + y, width, *height))?;
        }
        let y = top + down + deepest + 1.5 * quiet.leading_px();
        self.letters.draw_lines(canvas, &named, Point::new(s.margin, y), quiet, Align::Left)?;
        Ok(())
    }

    /// Every row there could be, in order.
    fn rows(&self) -> Vec<Row<'_>> {
        if let (Some(_), Some(side)) = (self.only, self.shown().next()) {
            let known = OF_ONE.iter().filter(|m| side.reading.measures.contains_key(m));
            return known.map(|m| Row::Alone(*m)).collect();
        }
        let [a, b] = &self.sides;
        let angles = a.reading.hitter.view != b.reading.hitter.view;
        let (both, clear) = with_a_row(self.ranked());
        let one = self.pairing.one_sided.iter().take(MOST_ONE_SIDED).map(Row::One);
        let mut rows: Vec<Row> = both.into_iter().map(Row::Both).collect();
        if angles {
            // Two angles of one swing: what one of them alone can see is the point of having both.
            rows.splice(clear..clear, one);
        } else {
            rows.extend(one);
        }
        rows
    }

    /// As many rows as fit; a column is filled before the next is begun.
    fn placed(&self, room: f64, width: f64, columns: usize) -> Result<Vec<Placed<'_>>> {
        let s = &self.place.sizes;
        let (gap, pad) = (18.0 * s.unit, self.pad());
        let leading = Style::semibold(s.body, theme::TEXT).leading_px();
        let mut placed: Vec<Placed> = Vec::new();
        let (mut column, mut used) = (0, 0.0);
        for row in self.rows() {
            let inner = width - 2.0 * pad;
            let values = match &row {
                Row::Both(d) => self.value_lines(d.measure, inner, Some(d))?.rows(),
                Row::One(_) | Row::Alone(_) => 1,
            };
            let below = self.below(&row).map_or(Ok(0), |(text, colour)| {
                let quiet = Style::semibold(s.small, colour);
                Ok(self.letters.fit(&text, quiet, inner, MOST_BELOW, s.small)?.1.len())
            })?;
            let more = below.saturating_sub(1) as f64 * Style::semibold(s.small, theme::QUIET).leading_px();
            let height = pad * 1.6 + s.body + (values + below.min(1)) as f64 * leading + more;
            if used > 0.0 && used + height > room {
                column += 1;
                used = 0.0;
            }
            if column >= columns || height > room {
                break;
            }
            placed.push((row, column, used, height));
            used += height + gap;
        }
        Ok(placed)
    }

    /// What has no row of its own, by name: clear differences first, then what stayed the same.
    fn named(&self, placed: &[Placed], width: f64) -> Result<Vec<String>> {
        let s = &self.place.sizes;
        let quiet = Style::semibold(s.small, theme::QUIET);
        let mut lines = Vec::new();
        if self.only.is_some() {
            return Ok(lines);
        }
        for verdict in [Verdict::Bigger, Verdict::Within] {
            let without_row =
                |d: &&Difference| d.verdict == verdict && !placed.iter().any(|p| p.0.measure() == d.measure);
            let rest: Vec<&str> = self
                .ranked()
                .into_iter()
                .filter(without_row)
                .map(|d| self.captions.measure(d.measure))
                .collect();
            if !rest.is_empty() {
                let most = if placed.len() <= ENOUGH_ROWS { 4 } else { 2 };
                lines.extend(self.names(
                    self.captions.verdict_of_several(verdict),
                    &rest,
                    quiet,
                    width,
                    most,
                )?);
            }
        }
        let without_row = |d: &&Difference| !placed.iter().any(|p| p.0.measure() == d.measure);
        if let Some(rest) = self.captions.rest(self.pairing.differences.iter().filter(without_row)) {
            lines.extend(self.letters.wrap(&rest, quiet, width)?);
        }
        Ok(lines)
    }

    /// As many whole names as `most` lines hold, and how many more there are.
    fn names(
        &self,
        verdict: &str,
        names: &[&str],
        style: Style,
        width: f64,
        most: usize,
    ) -> Result<Vec<String>> {
        for kept in (1..=names.len()).rev() {
            let (shown, left) = names.split_at(kept);
            let text = self.captions.also(verdict, shown, left.len());
            let lines = self.letters.wrap(&text, style, width)?;
            if lines.len() <= most {
                return Ok(lines);
            }
        }
        let text = self.captions.also(verdict, names, 0);
        Ok(self.letters.fit(&text, style, width, most, style.cap_px)?.1)
    }

    /// The slower camera's rate, Hz.
    fn rate_hz(&self) -> f64 {
        if self.counted_reps().is_some() {
            // The good reps' own spread holds whatever their cameras add.
            return self.sides[0].reading.clip.capture_rate_hz;
        }
        self.sides.iter().map(|s| s.reading.clip.capture_rate_hz).fold(f64::INFINITY, f64::min)
    }

    fn pad(&self) -> f64 {
        30.0 * self.place.sizes.unit
    }

    fn row(&self, canvas: &mut Canvas, row: &Row, rect: Rect) -> Result<()> {
        let s = &self.place.sizes;
        let pad = self.pad();
        canvas.round_rect(rect, s.radius, theme::RAISED, 1.0);
        let (x, inner) = (rect.x + pad, rect.width - 2.0 * pad);
        let mut y = rect.y + pad * 0.8 + s.body;
        let name = Style::semibold(s.body, theme::TEXT);
        let swatch = self.swatch(canvas, row.measure(), Point::new(x, y));
        let (style, lines) =
            self.letters.fit(self.captions.measure(row.measure()), name, inner - swatch, 1, s.small)?;
        self.letters.draw_lines(canvas, &lines, Point::new(x + swatch, y), style, Align::Left)?;
        y += name.leading_px();
        match row {
            Row::Alone(measure) => {
                let lines = self.value_lines(*measure, inner, None)?;
                self.values(canvas, lines, Point::new(x, y), inner)?;
            }
            Row::Both(d) => {
                let lines = self.value_lines(d.measure, inner, Some(d))?;
                y = self.values(canvas, lines, Point::new(x, y), inner)?;
            }
            Row::One(o) => {
                let side = &self.sides[usize::from(o.clip == Which::Reference)];
                let r = 14.0 * s.unit;
                badge(canvas, Point::new(x + r, y - s.body / 2.0), r, side.look);
                let bold = Style::bold(s.body, theme::TEXT);
                let value = self.captions.value(o.measure, &o.value);
                let indent = self.indent();
                let (style, lines) = self.letters.fit(&value, bold, inner - indent, 1, s.small)?;
                self.letters.draw_lines(canvas, &lines, Point::new(x + indent, y), style, Align::Left)?;
                y += bold.leading_px();
            }
        }
        if let Some((text, colour)) = self.below(row) {
            let quiet = Style::semibold(s.small, colour);
            let (style, lines) = self.letters.fit(&text, quiet, inner, MOST_BELOW, s.small)?;
            self.letters.draw_lines(canvas, &lines, Point::new(x, y), style, Align::Left)?;
        }
        Ok(())
    }

    /// What is said under a row's values: what they amount to, or whose they are.
    fn below(&self, row: &Row) -> Option<(String, Rgb)> {
        match row {
            Row::Alone(_) => None,
            Row::Both(d) => {
                let colour = if d.verdict == Verdict::Bigger { theme::APART } else { theme::QUIET };
                Some((self.captions.verdict(d, self.rate_hz()), colour))
            }
            Row::One(o) => {
                let side = &self.sides[usize::from(o.clip == Which::Reference)];
                Some((self.captions.only_from(side.label), theme::QUIET))
            }
        }
    }

    /// Which mark is which, as the card's heading.
    fn card_title(&self, canvas: &mut Canvas, at: Point, width: f64) -> Result<()> {
        let s = &self.place.sizes;
        let r = 19.0 * s.unit;
        let half = width / 2.0;
        for (side, x) in self.shown().zip([at.x, at.x + half]) {
            badge(canvas, Point::new(x + r, at.y - s.title * 0.45), r, side.look);
            let indent = 2.0 * r + 18.0 * s.unit;
            let style = Style::bold(s.title, side.look.colour);
            let reps = self.counted_reps().filter(|_| std::ptr::eq(side, &self.sides[1]));
            let label = reps.map_or_else(|| side.label.to_owned(), |n| self.captions.good_reps(n));
            let (style, lines) =
                self.letters.fit(&label, style, half - indent - 16.0 * s.unit, 1, s.small)?;
            self.letters.draw_lines(canvas, &lines, Point::new(x + indent, at.y), style, Align::Left)?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;

    #[test]
    fn what_could_not_be_told_has_no_row_while_anything_was() {
        use Verdict::{Bigger, CantTell, Within};
        let (_, _, pairing) = sample::pair();
        let first = &pairing.differences[0];
        let rows = |verdicts: &[Verdict]| {
            let all: Vec<Difference> =
                verdicts.iter().map(|v| Difference { verdict: *v, ..first.clone() }).collect();
            let (shown, clear) = with_a_row(all.iter().collect());
            (shown.iter().map(|d| d.verdict).collect::<Vec<_>>(), clear)
        };
        assert_eq!(rows(&[CantTell, Within, CantTell, CantTell]), (vec![Within], 0));
        assert_eq!(rows(&[Bigger, CantTell, CantTell, Within]), (vec![Bigger, Within], 1));
        assert_eq!(rows(&[CantTell; 4]), (vec![CantTell; 3], 0));
        assert_eq!(rows(&[Bigger; 7]), (vec![Bigger; 5], 5));
        assert_eq!(rows(&[]), (vec![], 0));
    }
}
