//! One output picture: both sides' panels, what is drawn on them, and the words around.

mod board;
mod panel;
mod second;
mod title;

use std::sync::Arc;

use super::framing::{Source, View, arrange, cells};
use super::ghost::{Ghost, GhostStyle, Shape};
use super::layout::{Arrangement, Layout};
use super::marks::Marks;
use super::page::{LOOKS, Page, ShotCaptions, Side};
use super::plan::{Hold, Mark, Plan, Shot};
use crate::draw::{Canvas, Letters, theme};
use crate::media::Cut;
use crate::messages::{Captions, english};
use crate::types::{EventId, Frame, Pairing, Reading, Rect, Result};

pub use board::Board;
pub use second::SecondAngle;

use board::CaptionState;

/// A source picture made ready for its panel. Kept while the same source picture is shown again.
#[derive(Debug, Clone)]
pub struct Prepared {
    pub(crate) index: usize,
    pub(crate) pts_s: f64,
    /// Real (capture) time, s.
    pub real_s: f64,
    /// The panel's; of a ghost what lies in its mask's bounds.
    picture: Frame,
    body: Option<Shape>,
}

/// What one output picture of a swing says beside its two source pictures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrameState {
    /// How many times slower than life.
    pub slow: f64,
    /// Resting on this event.
    pub hold: Option<EventId>,
    /// The event that was passed last.
    pub passed: Option<EventId>,
}

/// Today and the reference, then the second angles of the two.
pub const SIDES: usize = 4;

/// Everything that stays the same over one shot.
pub struct Stage<'a> {
    letters: Letters,
    captions: &'a Captions,
    layout: Layout,
    place: Arrangement,
    /// For each side; four where second angles are shown.
    views: Vec<View>,
    marks: Vec<Marks>,
    readings: Vec<&'a Reading>,
    /// The parts of their pictures that are no bars, px.
    inside: Vec<Rect>,
    /// Which of the two is shown as its mirror image.
    mirrored: [bool; 2],
    second: [Option<SecondAngle<'a>>; 2],
    labels: [&'a str; 2],
    pairing: &'a Pairing,
    ghost_strength: f64,
    ghost: Arc<Ghost>,
    draw: Vec<Mark>,
    reference_first: bool,
    caption: Option<String>,
    holds: Vec<Hold>,
    title: Vec<String>,
    /// Which shot of the plan it is.
    number: usize,
}

impl<'a> Stage<'a> {
    /// `size` in px; `ghost_strength` 0…1. A label with a character that cannot be drawn is an error.
    pub fn new(
        layout: Layout,
        size: (usize, usize),
        readings: [&'a Reading; 2],
        labels: [&'a str; 2],
        pairing: &'a Pairing,
        ghost_strength: f64,
    ) -> Result<Self> {
        let letters = Letters::new()?;
        for label in labels {
            letters.check(label)?;
        }
        let inside = readings.map(|r| Source::whole(r).inside);
        let (place, views) =
            arrange(layout, size, readings.map(Source::whole), pairing.registration.as_ref());
        let marks = readings.map(Marks::new).into();
        Ok(Self {
            letters,
            captions: english(),
            layout,
            place,
            views: views.into(),
            marks,
            readings: readings.into(),
            inside: inside.into(),
            mirrored: [false; 2],
            second: [None, None],
            labels,
            pairing,
            ghost_strength,
            ghost: Arc::new(Ghost::new(readings[1], None, GhostStyle::default())),
            draw: Mark::usual(),
            reference_first: false,
            caption: None,
            holds: Vec::new(),
            title: Vec::new(),
            number: 0,
        })
    }

    /// Other words than the English ones.
    pub const fn with_captions(mut self, captions: &'a Captions) -> Self {
        self.captions = captions;
        self
    }

    fn side(&self, side: usize) -> usize {
        side.min(self.views.len().saturating_sub(1))
    }

    /// What the plan says of its shot number `number` beside its layout: what is drawn, and its own words.
    pub fn for_shot(mut self, plan: &Plan, number: usize) -> Self {
        self.number = number;
        let Some(shot) = plan.shots.get(number) else { return self };
        self.draw = plan.draw(shot).to_vec();
        if plan.reference_first && !self.reference_first {
            self.turn();
        }
        match shot {
            Shot::Swing(swing) => {
                self.caption = swing.caption.clone();
                self.holds = swing.holds.clone();
            }
            Shot::Title { lines, .. } => self.title = lines.clone(),
            Shot::Card { .. } => {}
        }
        self
    }

    /// The reference first: its panels change places with today's, which are as large.
    fn turn(&mut self) {
        self.reference_first = true;
        if self.layout.overlaid() || self.layout.alone().is_some() {
            return;
        }
        for pair in self.views.chunks_mut(2) {
            if let [today, reference] = pair {
                let [a, b] = [today.panel, reference.panel];
                today.shift_to(b);
                reference.shift_to(a);
            }
        }
    }

    /// Only these parts of the two's pictures may be shown, px. Default: all of them. Before [`Stage::with_second`].
    pub fn with_inside(mut self, inside: [Rect; 2]) -> Self {
        self.inside = inside.into();
        let (size, sources) = ((self.place.width, self.place.height), self.sources());
        let (place, views) = arrange(self.layout, size, sources, self.pairing.registration.as_ref());
        (self.place, self.views) = (place, views.into());
        self
    }

    fn sources(&self) -> [Source<'a>; 2] {
        [0, 1].map(|i| Source { reading: self.readings[i], inside: self.inside[i] })
    }

    /// Which of the two is shown as its mirror image: it is said on its picture. Default: neither.
    pub fn with_mirrored(mut self, mirrored: [bool; 2]) -> Self {
        self.mirrored = mirrored;
        self
    }

    /// Where a ghost is and how it is shown. Default: roughly along the pose, tinted.
    pub fn with_ghost(mut self, ghost: &Arc<Ghost>) -> Self {
        self.ghost = ghost.clone();
        self
    }

    /// What is drawn on the bodies. Default: [`Mark::usual`].
    pub fn with_marks(mut self, marks: &[Mark]) -> Self {
        self.draw = marks.to_vec();
        self
    }

    /// Whether `side` (0 = today, 1 = reference, 2 and 3 = their second angles) is shown.
    pub fn shows(&self, side: usize) -> bool {
        if side >= 2 {
            return self.second.get(side - 2).is_some_and(Option::is_some);
        }
        self.layout.alone().is_none_or(|only| only == side)
    }

    /// What [`Stage::prepare`] wants of `side`'s source pictures; `None` = all of each, at its own size.
    pub fn cut(&self, side: usize) -> Option<Cut> {
        let turned = self.layout.overlaid() && (side == 1 || self.moved(side));
        self.views[self.side(side)].cut.filter(|_| !turned).map(|(cut, _)| cut)
    }

    /// Width and height of `side`'s panel, px.
    pub fn panel_size(&self, side: usize) -> (usize, usize) {
        let panel = self.views[self.side(side)].panel;
        (panel.width as usize, panel.height as usize)
    }

    /// The part of the output picture that its panels span, px.
    pub fn panels_bounds(&self) -> Rect {
        let (mut left, mut top, mut right, mut bottom) = (f64::MAX, f64::MAX, 0.0f64, 0.0f64);
        for rect in &self.place.panels {
            (left, top) = (left.min(rect.x), top.min(rect.y));
            (right, bottom) = (right.max(rect.right()), bottom.max(rect.bottom()));
        }
        Rect::new(left.min(right), top.min(bottom), (right - left).max(0.0), (bottom - top).max(0.0))
    }

    /// Whether pictures of `side` made ready for `other` can be used here.
    pub fn prepares_like(&self, other: &Self, side: usize) -> bool {
        let side = self.side(side);
        self.layout == other.layout && self.views.get(side) == other.views.get(side)
    }

    /// About what one [`Prepared`] of `side` takes, bytes.
    pub fn prepared_bytes(&self, side: usize) -> usize {
        let panel = self.views[self.side(side)].panel;
        let masks = if self.layout.overlaid() && side == 1 { 2.0 } else { 0.0 };
        (panel.width * panel.height * (1.5 + masks)) as usize
    }

    /// For stills of both swings, each in a picture of `cell` px (even) of its own, without words; see
    /// [`Stage::still`].
    pub fn of_stills(
        cell: (usize, usize),
        readings: [&'a Reading; 2],
        inside: [Rect; 2],
        labels: [&'a str; 2],
        pairing: &'a Pairing,
    ) -> Result<Self> {
        let mut stage = Self::new(Layout::SideBySide, (1080, 1920), readings, labels, pairing, 0.0)?;
        stage.inside = inside.into();
        let (place, views) = cells(cell, stage.sources(), pairing.registration.as_ref());
        (stage.place, stage.views) = (place, views.into());
        Ok(stage)
    }

    /// One side's picture alone, with what the clip draws on it.
    pub fn still(&self, side: usize, at: &Prepared) -> Result<Frame> {
        let mut canvas = Canvas::over(at.picture.clone());
        self.marked(&mut canvas, self.side(side), at)?;
        Ok(canvas.into_frame())
    }

    fn page(&self) -> Page<'_> {
        let zeros = [self.pairing.time_map.zero_today_s(), self.pairing.time_map.zero_reference_s()];
        let side = |i: usize| Side {
            reading: self.readings[i],
            label: self.labels[i],
            look: LOOKS[i],
            zero_s: zeros[i],
        };
        let sides = [side(0), side(1)];
        let only = self.layout.alone();
        let reference_first = self.reference_first;
        Page {
            letters: &self.letters,
            captions: self.captions,
            place: &self.place,
            sides,
            pairing: self.pairing,
            only,
            reference_first,
            mirrored: self.mirrored,
        }
    }

    /// The output picture of a moment of the two swings.
    pub fn swing(&self, state: FrameState, today: &Prepared, reference: &Prepared) -> Result<Frame> {
        let mut board = Board::default();
        self.compose(&mut board, state, [Some(today), Some(reference), None, None])?;
        Ok(board.into_frame())
    }

    /// Draw the sides that are there; [`Stage::shows`] tells which are needed. What the board shows already is left.
    pub fn compose(
        &self,
        board: &mut Board,
        state: FrameState,
        at: [Option<&Prepared>; SIDES],
    ) -> Result<()> {
        let shown: Vec<(usize, &Prepared)> = at
            .into_iter()
            .enumerate()
            .filter(|(side, _)| self.shows(*side))
            .filter_map(|(side, at)| Some((side, at?)))
            .collect();
        let page = self.page();
        // At full speed nobody could read it.
        let event = state.hold.or(state.passed).filter(|_| state.slow > 1.5);
        let caption = CaptionState { event, hold: state.hold, number: self.number };
        let pictures = (at.map(|side| side.map(|p| p.index)), state.slow);
        if board.caption == Some(caption) && board.pictures == Some(pictures) {
            return Ok(());
        }
        board.pictures = None;
        let canvas = match &mut board.canvas {
            Some(canvas) if board.caption.is_some_and(|t| t.number == self.number) => canvas,
            canvas => {
                board.caption = None;
                canvas.insert(Canvas::new(self.place.width, self.place.height, theme::GROUND))
            }
        };
        let held = state.hold.is_some();
        if let (true, [(_, today), (_, reference)]) = (self.layout.overlaid(), shown.as_slice()) {
            let mut picture = today.picture.clone();
            if let Some(body) = &reference.body {
                self.ghost.lay(&mut picture, &reference.picture, body, self.ghost_strength, LOOKS[1].colour);
            }
            self.panel(canvas, self.views[0].panel, &picture, held, |canvas| {
                shown.iter().rev().try_for_each(|(side, at)| self.marked(canvas, *side, at))?;
                (0..2).try_for_each(|side| self.mirror_told(canvas, side, self.views[0].panel))
            })?;
        } else {
            for &(side, at) in &shown {
                let panel = self.views[side].panel;
                let draw = |canvas: &mut Canvas| {
                    self.marked(canvas, side, at)?;
                    self.mirror_told(canvas, side, panel)
                };
                self.panel(canvas, panel, &at.picture, held, draw)?;
            }
        }
        self.without_second(canvas)?;
        // The second angles stand under the names of the first.
        let shown: Vec<_> = shown.into_iter().filter(|(side, _)| *side < 2).collect();
        for &(side, at) in &shown {
            let rect = self.header(side);
            canvas.fill_block(rect, theme::GROUND);
            page.header(canvas, rect, side, at.real_s, state.slow)?;
        }
        let time = |side: &usize| shown.iter().find(|(s, _)| s == side).map(|(_, at)| at.real_s);
        let times: Vec<f64> = page.order().iter().filter_map(time).collect();
        canvas.fill_block(page.strip_bounds(), theme::GROUND);
        page.strip(canvas, state.slow, &times)?;
        if board.caption != Some(caption) {
            let hold = self.holds.iter().find(|h| Some(h.event) == state.hold);
            let own =
                ShotCaptions { hold: hold.and_then(|h| h.caption.as_deref()), shot: self.caption.as_deref() };
            canvas.fill_block(page.caption_bounds(), theme::GROUND);
            page.caption(canvas, caption.event, state.hold.is_some(), own)?;
            board.caption = Some(caption);
        }
        board.pictures = Some(pictures);
        Ok(())
    }

    /// A picture in its panel and what is drawn on it.
    fn panel(
        &self,
        canvas: &mut Canvas,
        rect: Rect,
        picture: &Frame,
        held: bool,
        draw: impl FnOnce(&mut Canvas) -> Result<()>,
    ) -> Result<()> {
        let s = &self.place.sizes;
        canvas.place(picture, rect.x as usize, rect.y as usize);
        canvas.within(rect, draw)?;
        canvas.round_corners(rect, s.radius, theme::GROUND);
        if held {
            // The moment that is being looked at: a still frame around a still picture.
            let w = 7.0 * s.unit;
            let inner = Rect::new(rect.x + w / 2.0, rect.y + w / 2.0, rect.width - w, rect.height - w);
            canvas.round_frame(inner, s.radius - w / 2.0, w, theme::TEXT, 1.0);
        }
        Ok(())
    }

    /// The closing card.
    pub fn card(&self) -> Result<Frame> {
        let mut canvas = Canvas::new(self.place.width, self.place.height, theme::GROUND);
        self.page().card(&mut canvas)?;
        Ok(canvas.into_frame())
    }
}

#[cfg(test)]
mod stage_tests;
