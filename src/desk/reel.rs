//! Pictures of a film by index, a bounded window of them kept warm around the present one.

use std::collections::BTreeMap;

use crate::media::{Clip, Cut, Frames};
use crate::messages;
use crate::types::{Error, Result, TimedFrame};

/// Kept pictures may take so much memory, bytes.
const KEPT_BYTES: usize = 64_000_000;
/// So many pictures before and after the present one are made ready while nobody asks.
const WARM: usize = 40;
/// Farther ahead than this it is quicker to begin at a key picture than to read on.
const READ_ON: usize = 30;

struct Open {
    frames: Frames,
    /// The next picture that comes.
    next: usize,
}

/// The pictures of one part of one film.
#[derive(Default)]
pub struct Reel {
    /// Whose pictures these are: the film's state, and the part of its pictures.
    of: Option<(String, Cut)>,
    kept: BTreeMap<usize, TimedFrame>,
    bytes: usize,
    /// Reads on from what was asked for last.
    ahead: Option<Open>,
    /// Fills in what lies before it.
    behind: Option<Open>,
}

impl Reel {
    /// The picture; where it does not decode, the next one that does.
    pub fn at(&mut self, stamp: &str, clip: &Clip, cut: Cut, index: usize) -> Result<TimedFrame> {
        if self.of.as_ref().is_none_or(|(s, c)| s != stamp || *c != cut) {
            *self = Self { of: Some((stamp.to_owned(), cut)), ..Self::default() };
        }
        if let Some(kept) = self.kept.get(&index) {
            return Ok(kept.clone());
        }
        let goes_on = |open: &Open| (open.next..=open.next + READ_ON).contains(&index);
        let mut open = match self.ahead.take().filter(goes_on) {
            Some(open) => open,
            None => Open { frames: clip.cuts(index, cut)?, next: index },
        };
        while open.next < index {
            let next = open.next;
            if !self.step(&mut open, index)? || open.next <= next {
                break;
            }
        }
        let found = open.frames.frame_from(index)?;
        let found = found.ok_or_else(|| Error::Decode {
            path: clip.facts().path.clone(),
            cause: messages::output::frame_missing(index).into(),
        })?;
        open.next = found.index + 1;
        self.ahead = Some(open);
        // Under the number that was asked for: it is not looked for again.
        self.keep(index, found.clone(), index);
        Ok(found)
    }

    /// One picture further; `false` at the film's end.
    fn step(&mut self, open: &mut Open, around: usize) -> Result<bool> {
        let Some(found) = open.frames.frame_from(open.next)? else { return Ok(false) };
        let index = open.next;
        open.next = found.index + 1;
        self.keep(index, found, around);
        Ok(true)
    }

    fn keep(&mut self, index: usize, frame: TimedFrame, around: usize) {
        self.bytes += frame.frame.bytes();
        if let Some(before) = self.kept.insert(index, frame) {
            self.bytes -= before.frame.bytes();
        }
        while self.bytes > KEPT_BYTES && self.kept.len() > 1 {
            let ends = [self.kept.keys().next(), self.kept.keys().next_back()];
            let farthest = ends.into_iter().flatten().copied().max_by_key(|i| i.abs_diff(around));
            let Some(gone) = farthest.and_then(|i| self.kept.remove(&i)) else { break };
            self.bytes -= gone.frame.bytes();
        }
    }

    /// Make one more picture around `index` ready; `false` when all are.
    pub fn warm(&mut self, clip: &Clip, index: usize) -> Result<bool> {
        let Some((_, cut)) = self.of.clone() else { return Ok(false) };
        let last = clip.facts().frames.saturating_sub(1);
        let each = self.kept.values().next().map_or(1, |f| f.frame.bytes()).max(1);
        let reach = WARM.min(KEPT_BYTES / each / 3);
        let missing = |mut range: std::ops::RangeInclusive<usize>| range.find(|i| !self.kept.contains_key(i));
        if let Some(next) = missing(index..=(index + reach).min(last)) {
            let mut open = match self.ahead.take().filter(|o| o.next == next) {
                Some(open) => open,
                None => Open { frames: clip.cuts(next, cut)?, next },
            };
            let more = self.step(&mut open, index)?;
            self.ahead = Some(open);
            return Ok(more);
        }
        let Some(next) = missing(index.saturating_sub(reach)..=index) else {
            self.behind = None;
            return Ok(false);
        };
        let mut open = match self.behind.take().filter(|o| o.next == next) {
            Some(open) => open,
            None => Open { frames: clip.cuts(next, cut)?, next },
        };
        let more = self.step(&mut open, index)?;
        self.behind = Some(open);
        Ok(more)
    }
}
