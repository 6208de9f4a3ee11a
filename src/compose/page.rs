//! The words and the strip around the pictures.

mod values;

use super::layout::Arrangement;
use super::marks::{self, MarkStyle, badge};
use crate::draw::{Align, Canvas, Letters, Stroke, Style, theme};
use crate::messages::{self, Captions};
use crate::types::{Difference, EventId, MeasureId, Pairing, Point, Reading, Rect, Result, SyncOn, Verdict};

/// What an event is called, or what the two are lined up on. Beside the pictures of a wide canvas an event's name has room
/// for a second line.
fn heading(letters: &Letters, text: &str, place: &Arrangement, event: bool) -> Result<(Style, Vec<String>)> {
    let wide = place.width > place.height;
    let most = match event {
        true if wide => 2,
        true => 1,
        false => 3,
    };
    letters.fit(
        text,
        Style::bold(place.sizes.title, theme::TEXT),
        place.caption.width,
        most,
        place.sizes.body,
    )
}

/// Events that get a caption and a mark on the strip.
pub const NAMED: [EventId; 7] = [
    EventId::Load,
    EventId::FootOff,
    EventId::Plant,
    EventId::HandsStart,
    EventId::Contact,
    EventId::Extension,
    EventId::Finish,
];

/// How far the speed is raised where what 0 means leaves no room beside it, px of a 1080-px-wide canvas.
const RAISED: f64 = 62.0;

/// One side as the page needs it.
pub struct Side<'a> {
    pub reading: &'a Reading,
    pub label: &'a str,
    pub look: MarkStyle,
    /// Real time of the moment the two are lined up on, s.
    pub zero_s: f64,
}

pub struct Page<'a> {
    pub letters: &'a Letters,
    /// The words that are drawn.
    pub captions: &'a Captions,
    pub place: &'a Arrangement,
    pub sides: [Side<'a>; 2],
    pub pairing: &'a Pairing,
    /// The one side that is shown, where only one is.
    pub only: Option<usize>,
    /// The reference before today.
    pub reference_first: bool,
    /// Which of the two is shown as its mirror image.
    pub mirrored: [bool; 2],
}

/// Own words of the plan for one picture.
#[derive(Debug, Clone, Copy, Default)]
pub struct ShotCaptions<'a> {
    /// Instead of the event's name while resting on it.
    pub hold: Option<&'a str>,
    /// All through the shot, instead of the events' names.
    pub shot: Option<&'a str>,
}

impl Page<'_> {
    /// The places in `sides` of those that are shown, in the order they are shown in.
    pub(super) const fn order(&self) -> &'static [usize] {
        match (self.only, self.reference_first) {
            (Some(0), _) => &[0],
            (Some(_), _) => &[1],
            (None, true) => &[1, 0],
            (None, false) => &[0, 1],
        }
    }

    /// The sides that are shown, in order.
    pub(super) fn shown(&self) -> impl Iterator<Item = &Side<'_>> {
        self.order().iter().filter_map(|side| self.sides.get(*side))
    }

    /// Where `side` comes in the order.
    fn place_of(&self, side: usize) -> usize {
        self.order().iter().position(|s| *s == side).unwrap_or(0)
    }

    /// Name and clock of one side in the line above its panel.
    pub fn header(&self, canvas: &mut Canvas, rect: Rect, side: usize, real_s: f64, slow: f64) -> Result<()> {
        let s = &self.place.sizes;
        let Some(side) = self.sides.get(side) else { return Ok(()) };
        let baseline = rect.bottom() - 24.0 * s.unit;
        // At full speed thousandths would only flicker.
        let clock = if slow > 1.5 { messages::elapsed } else { messages::elapsed_tenths };
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
        let times = self.shown().flat_map(|side| {
            NAMED.iter().filter_map(|e| side.reading.events.get(e)).map(|e| e.time_s - side.zero_s)
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
        let tag =
            if slow > 1.01 { self.captions.slowed(slow) } else { self.captions.full_speed().to_owned() };
        let tag_style = Style { colour: theme::TEXT, ..quiet };
        let (lo, hi) = self.axis();
        let inset = 14.0 * u;
        let x = |t: f64| rect.x + inset + (t - lo) / (hi - lo) * (rect.width - 2.0 * inset);
        let rails = [rect.y + 122.0 * u, rect.y + 166.0 * u];
        let lowest = rails[self.order().len().clamp(1, 2) - 1];
        let tick = [Point::new(x(0.0), rails[0] - 34.0 * u), Point::new(x(0.0), lowest + 24.0 * u)];
        canvas.line(&tick, Stroke::solid(4.0 * u), theme::TEXT, 1.0);
        // What 0 means stands over its tick, as far as the words beside it allow.
        let zero = self.captions.zero(self.pairing.time_map.zero);
        let half = self.letters.width(&zero, quiet)? / 2.0;
        // In a narrow column the speed stands a line higher.
        let tag_width = self.letters.width(&tag, tag_style)? + 40.0 * u;
        let above = tag_width + 2.0 * half > rect.width;
        let tag_y = if above { baseline - RAISED * u } else { baseline };
        self.letters.draw(canvas, &tag, Point::new(rect.x, tag_y), tag_style, Align::Left)?;
        let left = rect.x + half + if above { 0.0 } else { tag_width };
        let mut right = rect.right() - half;
        if self.stretches() {
            right -= self.stretched(canvas, Point::new(rect.right(), baseline), quiet, real_s)? + 30.0 * u;
            for knot in &self.pairing.time_map.knots {
                let [a, b] = [(knot.today_s, 0), (knot.reference_s, 1)]
                    .map(|(t, i)| Point::new(x(t - self.sides[i].zero_s), rails[self.place_of(i)]));
                canvas.line(&[a, b], Stroke::solid(3.0 * u), theme::RULE, 1.0);
            }
        }
        let middle = x(0.0).min(right).max(left);
        self.letters.draw(canvas, &zero, Point::new(middle, baseline), quiet, Align::Middle)?;
        for ((side, y), &now_s) in self.shown().zip(rails).zip(real_s) {
            let now = (now_s - side.zero_s).clamp(lo, hi);
            let at = |t: f64| Point::new(x(t), y);
            canvas.line(&[at(lo), at(hi)], Stroke::solid(4.0 * u), theme::RULE, 0.7);
            canvas.line(&[at(lo), at(now)], Stroke::solid(6.0 * u), side.look.colour, 1.0);
            // The tick itself is the mark of the event at 0.
            let others = NAMED.iter().filter(|e| **e != self.pairing.time_map.zero);
            for event in others.filter_map(|e| side.reading.events.get(e)) {
                let t = event.time_s - side.zero_s;
                let passed = event.time_s <= now_s + half_picture_s(side.reading);
                canvas.disc(at(t), 13.0 * u, theme::GROUND, 1.0);
                let look =
                    MarkStyle { colour: if passed { side.look.colour } else { theme::RULE }, ..side.look };
                badge(canvas, at(t), 10.0 * u, look);
            }
            let bar = Rect::new(x(now) - 4.0 * u, y - 19.0 * u, 8.0 * u, 38.0 * u);
            let edge = Rect::new(bar.x - 3.0 * u, bar.y - 3.0 * u, bar.width + 6.0 * u, bar.height + 6.0 * u);
            canvas.round_rect(edge, 7.0 * u, theme::GROUND, 1.0);
            canvas.round_rect(bar, 4.0 * u, theme::TEXT, 1.0);
        }
        Ok(())
    }

    /// All that the strip may cover.
    pub fn strip_bounds(&self) -> Rect {
        let (rect, up) = (self.place.strip, RAISED * self.place.sizes.unit);
        if self.place.width > self.place.height {
            return Rect::new(rect.x, rect.y - up, rect.width, rect.height + up);
        }
        rect
    }

    /// Where the words of an event may be: nothing is below them, and the longest go a little beyond their room.
    pub fn caption_bounds(&self) -> Rect {
        let rect = self.place.caption;
        Rect { height: self.place.height as f64 - rect.y, ..rect }
    }

    /// Whether the reference runs at another speed than life between the shared events.
    fn stretches(&self) -> bool {
        self.only.is_none() && self.pairing.sync == SyncOn::Phases && self.pairing.time_map.knots.len() > 1
    }

    /// How much longer or shorter than in life the reference's present phase is shown, set to the left of `at`.
    /// Gives the room it takes: that of the longest, so that nothing beside it moves.
    fn stretched(&self, canvas: &mut Canvas, at: Point, quiet: Style, real_s: &[f64]) -> Result<f64> {
        let now_s = real_s.get(self.place_of(0)).copied().unwrap_or(0.0);
        let text = self.captions.stretched(self.pairing.time_map.stretch_at(now_s));
        self.letters.draw(canvas, &text, at, quiet, Align::Right)?;
        let r = 13.0 * self.place.sizes.unit;
        let x = at.x - self.letters.width(&text, quiet)? - 2.0 * r;
        badge(canvas, Point::new(x, at.y - quiet.cap_px / 2.0), r, self.sides[1].look);
        let longest = self.letters.width(&self.captions.stretched(8.88), quiet)?;
        Ok(longest.max(at.x - x) + 3.0 * r)
    }

    /// An event, or the plan's own words, and one thing measured there.
    pub fn caption(
        &self,
        canvas: &mut Canvas,
        event: Option<EventId>,
        resting: bool,
        own: ShotCaptions,
    ) -> Result<()> {
        let (s, rect) = (&self.place.sizes, self.place.caption);
        let u = s.unit;
        let own_words = own.hold.or(own.shot);
        let text = match (own_words, event) {
            (Some(text), _) => text.to_owned(),
            (None, Some(event)) => self.captions.event(event).to_owned(),
            (None, None) if self.only.is_some() => String::new(),
            (None, None) if self.stretches() => self.captions.lined_up_on_all().to_owned(),
            (None, None) => self.captions.lined_up(self.pairing.time_map.zero),
        };
        let mut y = rect.y + 92.0 * u;
        let (style, lines) = match own_words {
            Some(_) => self.own_words(&text, rect.width)?,
            None => heading(self.letters, &text, self.place, event.is_some())?,
        };
        self.letters.draw_lines(canvas, &lines, Point::new(rect.x, y), style, Align::Left)?;
        let quiet = Style::semibold(s.body, theme::QUIET);
        if own_words.is_none()
            && let (None, Some(good), Some(_)) = (event, &self.pairing.good_reps, self.counted_reps())
        {
            // Which of the reference's reps is seen here, while nothing else is said.
            let text = self.captions.shown_rep(good.shown, good.reps.len());
            let (style, lines) = self.letters.fit(&text, quiet, rect.width, 2, s.small)?;
            self.letters.draw_lines(canvas, &lines, Point::new(rect.x, y + 92.0 * u), style, Align::Left)?;
        }
        if own_words.is_some() && lines.len() > 2 {
            return Ok(());
        }
        y += lines.len().saturating_sub(1) as f64 * style.leading_px();
        if let (Some(event), Some(_), false) = (event, own.shot, resting) {
            // The moment is still named, but quietly: between two rests the shot's words are what is looked at.
            let at = Point::new(rect.x, y + 92.0 * u);
            return self.letters.draw(canvas, self.captions.event(event), at, quiet, Align::Left);
        }
        let Some(measure) = event.and_then(|e| self.measure_at(e)) else { return Ok(()) };
        y += 92.0 * u;
        let swatch = self.swatch(canvas, measure, Point::new(rect.x, y));
        let room = rect.width - swatch;
        let most = if self.place.width > self.place.height { 3 } else { 2 };
        let (style, lines) = self.letters.fit(self.captions.measure(measure), quiet, room, most, s.small)?;
        y = self.letters.draw_lines(canvas, &lines, Point::new(rect.x + swatch, y), style, Align::Left)?;
        y += 8.0 * u;
        let lines = self.value_lines(measure, rect.width, None)?;
        self.values(canvas, lines, Point::new(rect.x, y), rect.width)?;
        Ok(())
    }

    /// A plan's own words, as large as their room allows.
    fn own_words(&self, text: &str, width: f64) -> Result<(Style, Vec<String>)> {
        let s = &self.place.sizes;
        let title = Style::bold(s.title, theme::TEXT);
        for (most, least) in [(2, s.body), (3, s.body)] {
            let (style, lines) = self.letters.fit(text, title, width, most, least)?;
            if !lines.last().is_some_and(|l| l.ends_with('…')) {
                return Ok((style, lines));
            }
        }
        self.letters.fit(text, title, width, 4, s.small)
    }

    /// The measure that says most at this event: the largest real difference, else the first that both have,
    /// else that one has.
    pub(super) fn measure_at(&self, event: EventId) -> Option<MeasureId> {
        let here = |m: &MeasureId| event_and_rank(*m).filter(|(at, _)| *at == event);
        let mut candidates: Vec<MeasureId> =
            MeasureId::ALL.into_iter().filter(|m| here(m).is_some()).collect();
        candidates.sort_by_key(|m| here(m).map(|(_, rank)| rank));
        let real = |d: &&Difference| d.verdict == Verdict::Bigger && candidates.contains(&d.measure);
        let known = |m: &MeasureId| self.shown().filter(|s| s.reading.measures.contains_key(m)).count();
        let by_all = candidates.iter().find(|m| known(m) == self.order().len());
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
        all.sort_by(|a, b| {
            rank(a.verdict).cmp(&rank(b.verdict)).then(b.clearness().total_cmp(&a.clearness()))
        });
        all
    }
}

/// The event under which a measure is shown, and which of its measures come before it; `None` where the video's words
/// never name it.
const fn event_and_rank(measure: MeasureId) -> Option<(EventId, u8)> {
    use MeasureId::*;
    Some(match measure {
        BodyCentreBackAtLoad => (EventId::Load, 0),
        StrideLength => (EventId::Plant, 0),
        HandsToFrontFootAtPlant => (EventId::Plant, 1),
        FrontKneeAtPlant => (EventId::Plant, 2),
        HeadTravelStanceToPlant => (EventId::Plant, 3),
        BodyCentreForwardAtPlant => (EventId::Plant, 4),
        LoadToPlant => (EventId::Plant, 5),
        FootOffToPlant => (EventId::Plant, 6),
        FirstHandTravelDirection => (EventId::HandsStart, 0),
        HeadTravelPlantToContact => (EventId::Contact, 0),
        PlantToContact => (EventId::Contact, 1),
        HandsStartToContact => (EventId::Contact, 2),
        FrontKneeAtContact => (EventId::Contact, 3),
        BackFootLiftAtContact => (EventId::Contact, 4),
        FrontShoulderRise => (EventId::Contact, 5),
        BodyCentreForwardAtContact => (EventId::Contact, 6),
        PeakHandSpeed => (EventId::Contact, 7),
        PeakHandSpeedToContact => (EventId::Contact, 8),
        ExtensionDistance => (EventId::Extension, 0),
        ContactToExtension => (EventId::Extension, 1),
        HandsOverShouldersAtFinish => (EventId::Finish, 0),
        FirstHandTravelDrop | BatSpeed => return None,
    })
}

/// The picture nearest to an event shows it, though it may have been taken a little before.
fn half_picture_s(reading: &Reading) -> f64 {
    0.5 / reading.clip.capture_rate_hz.max(1.0) + 1e-6
}

/// The looks of the two sides, in order.
pub const LOOKS: [MarkStyle; 2] = [marks::TODAY, marks::REFERENCE];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compose::layout::Layout;

    /// The name of an event is never cut off, and what stands below it still has its room.
    #[test]
    fn every_events_name_fits_every_screen() {
        let letters = Letters::new().unwrap();
        for (width, height) in [(1080, 1920), (1920, 1080), (1248, 1664), (1664, 1248), (1280, 720)] {
            for layout in Layout::ALL {
                let place = Arrangement::new(layout, width, height, None);
                for event in EventId::ALL {
                    let text = messages::english().event(event);
                    let (style, lines) = heading(&letters, text, &place, true).unwrap();
                    assert_eq!(lines.join(" "), text, "{layout:?} {width}×{height}");
                    let all_px = lines.len() as f64 * style.leading_px();
                    assert!(all_px < 0.5 * place.caption.height, "{layout:?} {width}×{height}: {all_px}");
                }
            }
        }
    }
}
