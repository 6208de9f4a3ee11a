//! Pictures of a film by index, a bounded window of them kept warm around the present one.

use std::collections::BTreeMap;

use crate::media::{Clip, Cut, Frames};
use crate::messages;
use crate::types::{Error, Result, TimedFrame};

/// Kept pictures may take so much memory, bytes.
const KEPT_BYTES: usize = 128_000_000;
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
    /// Fills in the rest.
    fill: Option<Open>,
    /// No picture decodes from here on.
    ends_at: Option<usize>,
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
            None => Open { frames: clip.cuts_soon(index, cut)?, next: index },
        };
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

    /// Make one more picture ready: those around `index` first, then those of `others` (in order), then all of a film, as far
    /// as they fit. `false` when nothing is left.
    pub fn warm(&mut self, clip: &Clip, index: usize, others: &[usize]) -> Result<bool> {
        let Some((_, cut)) = self.of.clone() else { return Ok(false) };
        let frames = clip.facts().frames;
        let each = self.kept.values().next().map_or(1, |f| f.frame.bytes()).max(1);
        let Some((next, ahead)) = self.next_missing(index, others, frames, each) else {
            self.fill = None;
            return Ok(false);
        };
        let place = if ahead { &mut self.ahead } else { &mut self.fill };
        let goes_on = |open: &Open| (open.next..=open.next + READ_ON).contains(&next);
        let mut open = match place.take().filter(goes_on) {
            Some(open) => Open { next, ..open },
            None => Open { frames: clip.cuts_soon(next, cut)?, next },
        };
        let more = self.step(&mut open, index)?;
        if !more {
            // Nothing decodes from here to the end: it is not asked for again.
            self.ends_at = Some(next);
        }
        *if ahead { &mut self.ahead } else { &mut self.fill } = Some(open);
        Ok(true)
    }

    /// The next picture to make ready, and whether it is one of those soon ahead.
    fn next_missing(
        &self,
        index: usize,
        others: &[usize],
        frames: usize,
        each: usize,
    ) -> Option<(usize, bool)> {
        let end = self.ends_at.unwrap_or(frames).min(frames);
        let reach = WARM.min(KEPT_BYTES / each / 3);
        let missing = |mut range: std::ops::Range<usize>| range.find(|i| !self.kept.contains_key(i));
        let ahead = missing(index..(index + reach + 1).min(end)).map(|i| (i, true));
        let behind = || missing(index.saturating_sub(reach)..index.min(end)).map(|i| (i, false));
        // With room for those around.
        let fits = (others.len() + 2 * reach) * each <= KEPT_BYTES;
        let lacks = |i: &usize| *i < end && !self.kept.contains_key(i);
        let others = || others.iter().copied().filter(|_| fits).find(lacks).map(|i| (i, false));
        let rest = || (end * each <= KEPT_BYTES).then(|| missing(0..end)).flatten().map(|i| (i, false));
        ahead.or_else(behind).or_else(others).or_else(rest)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Frame;

    fn reel(kept: impl IntoIterator<Item = usize>) -> Reel {
        let picture = |index| TimedFrame { index, pts_s: 0.0, frame: Frame::black(16, 16) };
        let mut reel = Reel::default();
        kept.into_iter().for_each(|i| reel.keep(i, picture(i), i));
        reel
    }

    #[test]
    fn what_is_near_is_made_ready_first_then_all_that_fits() {
        let each = KEPT_BYTES / 400;
        assert_eq!(reel([]).next_missing(100, &[], 300, each), Some((100, true)));
        assert_eq!(reel(100..=140).next_missing(100, &[], 300, each), Some((60, false)));
        assert_eq!(reel(60..=140).next_missing(100, &[], 300, each), Some((0, false)));
        assert_eq!(reel(0..=140).next_missing(100, &[], 300, each), Some((141, false)));
        assert_eq!(reel(0..300).next_missing(100, &[], 300, each), None);
        // Too long to be kept whole.
        assert_eq!(reel(60..=140).next_missing(100, &[], 500, each), None);
        // But what belongs to the other film's pictures is.
        assert_eq!(reel(60..=140).next_missing(100, &[8, 80, 160], 500, each), Some((8, false)));
        assert_eq!(
            reel((60..=140).chain([8])).next_missing(100, &[8, 80, 160], 500, each),
            Some((160, false))
        );
        let cut_short = Reel { ends_at: Some(200), ..reel(0..200) };
        assert_eq!(cut_short.next_missing(190, &[], 300, each), None);
    }
}
