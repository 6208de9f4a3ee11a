//! The words and the strip around the pictures.

use super::layout::Arrangement;
use super::marks::{self, Look, badge};
use crate::draw::{Align, Canvas, Letters, Stroke, Style, theme};
use crate::ground::words;
use crate::ground::{Difference, EventId, MeasureId, Pairing, Point, Reading, Rect, Result, SyncOn, Verdict};

/// Events that get a caption and a mark on the strip.
const SHOWN: [EventId; 7] = [
    EventId::Load,
    EventId::FootOff,
    EventId::Plant,
    EventId::HandsStart,
    EventId::Contact,
    EventId::Extension,
    EventId::Finish,
];

/// One side as the page needs it.
pub struct Side<'a> {
    pub reading: &'a Reading,
    pub label: &'a str,
    pub look: Look,
    /// Real time of the moment the two are lined up on, s.
    pub zero_s: f64,
}

pub struct Page<'a> {
    pub letters: &'a Letters,
    pub place: &'a Arrangement,
    pub sides: [Side<'a>; 2],
    pub pairing: &'a Pairing,
    /// The one side that is shown, where only one is.
    pub only: Option<usize>,
}

/// Own words of the plan for one picture.
#[derive(Debug, Clone, Copy, Default)]
pub struct Own<'a> {
    /// Instead of the event's name while resting on it.
    pub hold: Option<&'a str>,
    /// While no event is named.
    pub shot: Option<&'a str>,
}

impl Page<'_> {
    /// The sides that are shown, in order.
    pub(super) fn shown(&self) -> &[Side<'_>] {
        match self.only {
            Some(side) => self.sides.get(side..=side).unwrap_or(&self.sides),
            None => &self.sides,
        }
    }

    /// Name and clock of one side in the line above its panel.
    pub fn header(&self, canvas: &mut Canvas, rect: Rect, side: usize, real_s: f64, slow: f64) -> Result<()> {
        let s = &self.place.sizes;
        let Some(side) = self.sides.get(side) else { return Ok(()) };
        let baseline = rect.bottom() - 24.0 * s.unit;
        // At full speed thousandths would only flicker.
        let clock = if slow > 1.5 { words::elapsed } else { words::elapsed_tenths };
        let clock = clock(real_s - side.zero_s);
        let style = Style::bold(s.clock, theme::TEXT);
        let pad = 6.0 * s.unit;
        self.letters.draw(canvas, &clock, Point::new(rect.right() - pad, baseline), style, Align::Right)?;
        // Room for the longest clock, so that the name never jumps.
        let clock_room = self.letters.width("−000 ms", style)?.max(self.letters.width(&clock, style)?);
        let r = 15.0 * s.unit;
        badge(canvas, Point::new(rect.x + pad + r, baseline - s.small / 2.0), r, side.look);
        let x = rect.x + pad + 2.0 * r + 14.0 * s.unit;
        let room = rect.right() - pad - clock_room - 12.0 * s.unit - x;
        let style = Style::semibold(s.small, side.look.colour);
        let (style, lines) = self.letters.fit(side.label, style, room, 1, s.small)?;
        self.letters.draw_lines(canvas, &lines, Point::new(x, baseline), style, Align::Left)?;
        Ok(())
    }

    /// First and last moment of both swings, s from the moment they are lined up on.
    fn axis(&self) -> (f64, f64) {
        let times = self.shown().iter().flat_map(|side| {
            SHOWN.iter().filter_map(|e| side.reading.events.get(e)).map(|e| e.time_s - side.zero_s)
        });
        let (lo, hi) = times.fold((-0.3f64, 0.3f64), |(lo, hi), t| (lo.min(t), hi.max(t)));
        (lo - 0.08, hi + 0.08)
    }

    /// Speed, what 0 means, and both swings' events on one axis with the present moment on each.
    /// `real_s`: where each shown side is.
    pub fn strip(&self, canvas: &mut Canvas, slow: f64, real_s: &[f64]) -> Result<()> {
        let (s, rect) = (&self.place.sizes, self.place.strip);
        let u = s.unit;
        let baseline = rect.y + 64.0 * u;
        let quiet = Style::semibold(s.small, theme::QUIET);
        let tag = if slow > 1.01 { words::slowed(slow) } else { words::FULL_SPEED.to_owned() };
        let tag_style = Style { colour: theme::TEXT, ..quiet };
        self.letters.draw(canvas, &tag, Point::new(rect.x, baseline), tag_style, Align::Left)?;
        let (lo, hi) = self.axis();
        let inset = 14.0 * u;
        let x = |t: f64| rect.x + inset + (t - lo) / (hi - lo) * (rect.width - 2.0 * inset);
        let rails = [rect.y + 122.0 * u, rect.y + 166.0 * u];
        let lowest = rails[self.shown().len().clamp(1, 2) - 1];
        let tick = [Point::new(x(0.0), rails[0] - 34.0 * u), Point::new(x(0.0), lowest + 24.0 * u)];
        canvas.line(&tick, Stroke::solid(4.0 * u), theme::TEXT, 1.0);
        // What 0 means stands over its tick, as far as the words beside it allow.
        let zero = words::zero(self.pairing.time_map.zero);
        let half = self.letters.width(&zero, quiet)? / 2.0;
        let left = rect.x + self.letters.width(&tag, tag_style)? + 40.0 * u + half;
        let mut right = rect.right() - half;
        if self.stretches() {
            right -= self.stretched(canvas, Point::new(rect.right(), baseline), quiet, real_s)? + 30.0 * u;
            for knot in &self.pairing.time_map.knots {
                let [a, b] = [(knot.today_s, 0), (knot.reference_s, 1)]
                    .map(|(t, i)| Point::new(x(t - self.sides[i].zero_s), rails[i]));
                canvas.line(&[a, b], Stroke::solid(3.0 * u), theme::RULE, 1.0);
            }
        }
        let middle = x(0.0).max(left).min(right);
        self.letters.draw(canvas, &zero, Point::new(middle, baseline), quiet, Align::Middle)?;
        for ((side, y), &now_s) in self.shown().iter().zip(rails).zip(real_s) {
            let now = (now_s - side.zero_s).clamp(lo, hi);
            let at = |t: f64| Point::new(x(t), y);
            canvas.line(&[at(lo), at(hi)], Stroke::solid(4.0 * u), theme::RULE, 0.7);
            canvas.line(&[at(lo), at(now)], Stroke::solid(6.0 * u), side.look.colour, 1.0);
            // The tick itself is the mark of the event at 0.
            let others = SHOWN.iter().filter(|e| **e != self.pairing.time_map.zero);
            for event in others.filter_map(|e| side.reading.events.get(e)) {
                let t = event.time_s - side.zero_s;
                let passed = event.time_s <= now_s + half_picture_s(side.reading);
                canvas.disc(at(t), 13.0 * u, theme::GROUND, 1.0);
                let look = Look { colour: if passed { side.look.colour } else { theme::RULE }, ..side.look };
                badge(canvas, at(t), 10.0 * u, look);
            }
            let bar = Rect::new(x(now) - 4.0 * u, y - 19.0 * u, 8.0 * u, 38.0 * u);
            let edge = Rect::new(bar.x - 3.0 * u, bar.y - 3.0 * u, bar.width + 6.0 * u, bar.height + 6.0 * u);
            canvas.round_rect(edge, 7.0 * u, theme::GROUND, 1.0);
            canvas.round_rect(bar, 4.0 * u, theme::TEXT, 1.0);
        }
        Ok(())
    }

    /// Whether the reference runs at another speed than life between the shared events.
    fn stretches(&self) -> bool {
        self.only.is_none() && self.pairing.sync == SyncOn::Phases && self.pairing.time_map.knots.len() > 1
    }

    /// How much longer or shorter than in life the reference's present phase is shown, set to the left of `at`.
    /// Gives the room it takes: that of the longest, so that nothing beside it moves.
    fn stretched(&self, canvas: &mut Canvas, at: Point, quiet: Style, real_s: &[f64]) -> Result<f64> {
        let now_s = real_s.first().copied().unwrap_or(0.0);
        let text = words::stretched(self.pairing.time_map.stretch_at(now_s));
        self.letters.draw(canvas, &text, at, quiet, Align::Right)?;
        let r = 13.0 * self.place.sizes.unit;
        let x = at.x - self.letters.width(&text, quiet)? - 2.0 * r;
        badge(canvas, Point::new(x, at.y - quiet.cap_px / 2.0), r, self.sides[1].look);
        let longest = self.letters.width(&words::stretched(8.88), quiet)?;
        Ok(longest.max(at.x - x) + 3.0 * r)
    }

    /// The event that the caption is about: rested on, or passed last in today's swing (or the one that is shown);
    /// none at full speed, where nobody could read it.
    pub fn event_told(&self, slow: f64, hold: Option<EventId>, real_s: f64) -> Option<EventId> {
        let reading = self.shown().first().map_or(self.sides[0].reading, |s| s.reading);
        let passed = |e: &&EventId| {
            reading.events.get(e).is_some_and(|e| e.time_s <= real_s + half_picture_s(reading))
        };
        if slow > 1.5 { hold.or_else(|| SHOWN.iter().rev().find(passed).copied()) } else { None }
    }

    /// An event and one thing measured there.
    pub fn caption(&self, canvas: &mut Canvas, event: Option<EventId>, own: Own) -> Result<()> {
        let (s, rect) = (&self.place.sizes, self.place.caption);
        let u = s.unit;
        let title = Style::bold(s.title, theme::TEXT);
        let text = match event {
            Some(event) => own.hold.unwrap_or(words::event(event)).to_owned(),
            None => match own.shot {
                Some(text) => text.to_owned(),
                None if self.only.is_some() => String::new(),
                None if self.stretches() => words::LINED_UP_ON_ALL.to_owned(),
                None => words::lined_up(self.pairing.time_map.zero),
            },
        };
        let mut y = rect.y + 92.0 * u;
        let (style, lines) =
            self.letters.fit(&text, title, rect.width, if event.is_some() { 1 } else { 3 }, s.body)?;
        self.letters.draw_lines(canvas, &lines, Point::new(rect.x, y), style, Align::Left)?;
        let quiet = Style::semibold(s.body, theme::QUIET);
        if own.shot.is_none()
            && let (None, Some(good), Some(_)) = (event, &self.pairing.good_reps, self.counted_reps())
        {
            // Which of the reference's reps is seen here, while nothing else is said.
            let text = words::shown_rep(good.shown, good.reps.len());
            let (style, lines) = self.letters.fit(&text, quiet, rect.width, 2, s.small)?;
            self.letters.draw_lines(canvas, &lines, Point::new(rect.x, y + 92.0 * u), style, Align::Left)?;
        }
        let Some(measure) = event.and_then(|e| self.measure_at(e)) else { return Ok(()) };
        y += 92.0 * u;
        let swatch = self.swatch(canvas, measure, Point::new(rect.x, y));
        let room = rect.width - swatch;
        let (style, lines) = self.letters.fit(words::measure(measure), quiet, room, 2, s.small)?;
        y = self.letters.draw_lines(canvas, &lines, Point::new(rect.x + swatch, y), style, Align::Left)?;
        y += 8.0 * u;
        let lines = self.value_lines(measure, rect.width, None)?;
        self.values(canvas, lines, Point::new(rect.x, y), rect.width)?;
        Ok(())
    }

    /// The stretch of the hand path that a measure is taken from is drawn beside its name too.
    /// Gives the room it takes.
    pub(super) fn swatch(&self, canvas: &mut Canvas, measure: MeasureId, at: Point) -> f64 {
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
    pub(super) fn values(&self, canvas: &mut Canvas, lines: Lines, at: Point, width: f64) -> Result<f64> {
        let s = &self.place.sizes;
        let style = Style::bold(s.body, theme::TEXT);
        let Lines { texts, unit, column } = lines;
        let (r, indent) = (14.0 * s.unit, self.indent());
        let mut at = at;
        for (i, (side, text)) in self.shown().iter().zip(&texts).enumerate() {
            badge(canvas, Point::new(at.x + r, at.y - s.body / 2.0), r, side.look);
            let room = column.unwrap_or(width) - indent;
            let (style, lines) = self.letters.fit(text, style, room, 1, s.small)?;
            self.letters.draw_lines(canvas, &lines, Point::new(at.x + indent, at.y), style, Align::Left)?;
            match column {
                Some(column) if i + 1 < texts.len() => at.x += column,
                _ => at.y += style.leading_px(),
            }
        }
        if let (Some(unit), Some(column)) = (unit, column) {
            let place = Point::new(at.x + column, at.y - style.leading_px());
            self.letters.draw(canvas, unit, place, Style::semibold(s.small, theme::QUIET), Align::Left)?;
        }
        Ok(at.y)
    }

    pub(super) fn indent(&self) -> f64 {
        44.0 * self.place.sizes.unit
    }

    /// How many good reps today is compared with, where it is with their range.
    pub(super) fn counted_reps(&self) -> Option<usize> {
        self.pairing.good_reps.as_ref().map(|g| g.counted).filter(|n| *n > 0)
    }

    /// The two values of a measure; with `against` the reference's is the range of its good reps, if there is
    /// one.
    pub(super) fn value_lines(
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
            .iter()
            .find_map(|side| side.reading.measures.get(&measure))
            .and_then(|m| words::long_unit(m.unit));
        if let Some(unit) = unit.filter(|_| self.only.is_none()) {
            let mut texts: Vec<String> =
                self.shown().iter().map(|side| self.value_text(side, measure, false)).collect();
            if let (Some(range), Some(text)) = (against.and_then(words::range_number), texts.get_mut(1)) {
                *text = range;
            }
            let said = self.letters.width(unit, Style::semibold(s.small, theme::QUIET))?;
            let column = ((width - said) / 2.0).min(0.36 * width);
            if widest(&texts)? <= column {
                return Ok(Lines { texts, unit: Some(unit), column: Some(column) });
            }
        }
        let mut texts: Vec<String> =
            self.shown().iter().map(|side| self.value_text(side, measure, true)).collect();
        if let (Some(range), Some(text)) = (against.and_then(words::range), texts.get_mut(1)) {
            *text = range;
        }
        let column = (widest(&texts)? <= width / 2.0).then_some(width / 2.0);
        Ok(Lines { texts, unit: None, column })
    }

    fn value_text(&self, side: &Side, measure: MeasureId, whole: bool) -> String {
        match side.reading.measures.get(&measure) {
            Some(m) if whole => words::value(measure, m),
            Some(m) => words::number(measure, m),
            None => words::NOT_MEASURED.to_owned(),
        }
    }

    /// The measure that says most at this event: the largest real difference, else the first that both have,
    /// else that one has.
    pub(super) fn measure_at(&self, event: EventId) -> Option<MeasureId> {
        use MeasureId::*;
        let candidates: &[MeasureId] = match event {
            EventId::Load => &[BodyCentreBackAtLoad],
            EventId::Plant => &[
                StrideLength,
                HandsToFrontFootAtPlant,
                FrontKneeAtPlant,
                HeadTravelStanceToPlant,
                BodyCentreForwardAtPlant,
                LoadToPlant,
                FootOffToPlant,
            ],
            EventId::HandsStart => &[FirstHandTravelDirection],
            EventId::Contact => &[
                HeadTravelPlantToContact,
                PlantToContact,
                HandsStartToContact,
                FrontKneeAtContact,
                BackFootLiftAtContact,
                FrontShoulderRise,
                BodyCentreForwardAtContact,
                PeakHandSpeed,
                PeakHandSpeedToContact,
            ],
            EventId::Extension => &[ExtensionDistance, ContactToExtension],
            EventId::Finish => &[HandsOverShouldersAtFinish],
            _ => &[],
        };
        let real = |d: &&Difference| d.verdict == Verdict::Bigger && candidates.contains(&d.measure);
        let known =
            |m: &MeasureId| self.shown().iter().filter(|s| s.reading.measures.contains_key(m)).count();
        let by_all = candidates.iter().find(|m| known(m) == self.shown().len());
        let ranked = self.ranked();
        let real = ranked.into_iter().filter(|_| self.only.is_none()).find(real).map(|d| d.measure);
        real.or_else(|| by_all.or_else(|| candidates.iter().find(|m| known(m) > 0)).copied())
    }

    /// Measures that both have: clear differences first, the largest against what is needed first.
    pub(super) fn ranked(&self) -> Vec<&Difference> {
        let mut all: Vec<_> = self.pairing.differences.iter().collect();
        let rank = |v: Verdict| match v {
            Verdict::Bigger => 0,
            Verdict::CantTell => 1,
            Verdict::Within => 2,
        };
        let size = |d: &&Difference| d.difference.abs() / d.needed.unwrap_or(d.plus_minus).max(1e-9);
        all.sort_by(|a, b| rank(a.verdict).cmp(&rank(b.verdict)).then(size(b).total_cmp(&size(a))));
        all
    }
}

/// The picture nearest to an event shows it, though it may have been taken a little before.
fn half_picture_s(reading: &Reading) -> f64 {
    0.5 / reading.clip.capture_rate_hz.max(1.0) + 1e-6
}

/// How one measure's two values are set.
pub(super) struct Lines {
    /// One for each side that is shown.
    pub texts: Vec<String>,
    /// Said once at the end of the line.
    pub unit: Option<&'static str>,
    /// Width of one value's column; `None` where they stand one under the other.
    pub column: Option<f64>,
}

/// The looks of the two sides, in order.
pub const LOOKS: [Look; 2] = [marks::TODAY, marks::REFERENCE];
