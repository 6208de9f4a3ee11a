//! Second stage: the ball about contact and the bat at rest, looked for where a draft of the swing says.

use super::find::{Found, Looking};
use super::input::reading_from;
use super::track;
use crate::store::Observation;
use crate::swing::Pins;
use crate::types::{BallUnseen, Reading, Result};

/// A reading from the points alone (and what of ball and bat is known so far). It is never given to anybody: it says
/// whether a swing can be read, about when contact is and how large the hitter is, so where to look.
pub(super) struct Draft(Reading);

impl Draft {
    /// `None` where no swing is read, which is said elsewhere.
    pub fn of(seen: &Observation, looking: &Looking) -> Option<Self> {
        reading_from(looking, seen, looking.pins).ok().map(Self)
    }

    /// The same without what a person pinned: the ball is kept for whatever is pinned later.
    fn unpinned(seen: &Observation, looking: &Looking) -> Option<Self> {
        reading_from(looking, seen, &Pins::new()).ok().map(Self)
    }
}

/// All that is seen and heard; nothing is left but to read it.
pub(super) struct Closer(Observation);

impl Found {
    /// Looks for the ball, then, where its length was given, for the bat; what was looked for before is not again.
    pub fn look_closer(self, looking: &Looking) -> Result<Closer> {
        let Self(mut seen) = self;
        let Looking { clip, options, progress, cancel, .. } = *looking;
        if options.keypoints.is_none()
            && seen.ball.is_none()
            && let Some(Draft(draft)) = Draft::unpinned(&seen, looking)
        {
            let ball = track::ball(clip, &draft, &seen.repeated, progress, cancel)?;
            seen.ball = Some(ball.ok_or(BallUnseen::NoFlight));
        }
        // Quiet pictures from stance to just after the hands start: a draft with the ball knows them better.
        if options.bat_cm.is_some()
            && seen.bat.is_none()
            && let Some(Draft(draft)) = Draft::of(&seen, looking)
        {
            seen.bat = Some(track::bat(clip, &draft, progress, cancel)?);
        }
        Ok(Closer(seen))
    }
}

impl Closer {
    /// Third stage.
    pub fn read(&self, looking: &Looking) -> Result<Reading> {
        reading_from(looking, &self.0, looking.pins)
    }

    /// What is worth keeping, also where no swing is read from it.
    pub fn seen(self) -> Observation {
        self.0
    }
}
