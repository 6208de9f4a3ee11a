//! What a difference amounts to, and what a comparison should be read with.

use super::{Captions, english};
use crate::types::{Difference, Limit, Side, Verdict};

/// Heads the verdicts of a table.
pub const AGAINST_USUAL: &str = "against the usual rep-to-rep change";

/// What a difference amounts to, as a word under [`AGAINST_USUAL`]. `rate_hz` is the slower camera's.
///
/// "Bigger": of 100 swings that did not change, 95 differ by less. "Within it": such a difference comes about
/// between any two reps. "Can't tell": the ± or the number of reps allows neither.
pub fn verdict(d: &Difference, rate_hz: f64) -> String {
    match d.verdict {
        Verdict::Within => "within it".to_owned(),
        _ => english().verdict(d, rate_hz),
    }
}

impl Captions {
    /// The same where it stands alone.
    pub fn verdict(&self, d: &Difference, rate_hz: f64) -> String {
        let word = |key: &str| self.word("verdicts", key).to_owned();
        match (d.verdict, d.limit) {
            (Verdict::Bigger, _) => word("bigger"),
            (Verdict::Within, _) => word("within"),
            (Verdict::CantTell, Some(Limit::FrameRate)) => {
                self.filled("verdicts", "cant_tell_fps", &[("fps", &rate_hz.round().to_string())])
            }
            (Verdict::CantTell, Some(Limit::FewReps)) => {
                let reps = d.spread.map_or(0, |s| s.reps);
                let key = if reps == 1 { "cant_tell_rep" } else { "cant_tell_reps" };
                self.filled("verdicts", key, &[("reps", &reps.to_string())])
            }
            (Verdict::CantTell, _) => word("cant_tell"),
        }
    }

    /// Several measures under one verdict.
    pub fn verdict_of_several(&self, verdict: Verdict) -> &str {
        match verdict {
            Verdict::Bigger => self.word("verdicts", "all_bigger"),
            Verdict::Within => self.word("verdicts", "all_within"),
            Verdict::CantTell => self.word("verdicts", "all_cant_tell"),
        }
    }
}

/// Comparing with the best of many flatters the past: the next is likely nearer the middle.
pub const SINGLE_REFERENCE: &str = "Compared with a single best rep, so today tends to look worse than it is, and \
    the spread of this hitter’s reps is assumed; give three or more good reps to measure it.";

pub(crate) const SIDES_DIFFER: &str = "The hitter bats left in one clip and right in the other: they are two hitters, or \
    one clip is mirrored.";

pub fn nothing_to_mirror(side: Side) -> String {
    format!("--mirror: both swings are read as batting {}; leave it out", super::side(side))
}

pub(crate) const SAME_CLIP: &str =
    "Today's clip and the reference are the same recording, so nothing can differ.";

pub(crate) fn given_twice(clip: &str) -> String {
    format!("{clip}: is given twice and counts once.")
}

/// Two reps say nothing about how much reps differ.
pub fn few_reps(reps: usize, needed: usize) -> String {
    let have = match reps {
        0 => "No good rep is comparable, too few".to_owned(),
        1 => "One comparable good rep is too few".to_owned(),
        n => format!("{n} comparable good reps are too few"),
    };
    format!(
        "{have} to know the usual rep-to-rep change (it takes {needed}), so today is compared with the one shown."
    )
}

pub(crate) fn rep_left_out(clip: &str, why: &str) -> String {
    format!("{clip}: is not in the range of the good reps because {why}.")
}

/// Of many measures some look bigger by chance alone: 1 in 20.
pub fn some_by_chance(bigger: usize, judged: usize) -> String {
    let expected = (judged as f64 / 2.0).round() / 10.0;
    format!(
        "{bigger} of {judged} measures changed more than usual; about 1 in 20 would by chance alone ({expected} of \
         {judged}), so look for changes that go together."
    )
}
