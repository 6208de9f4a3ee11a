//! The reps of a long film as a table for a terminal.

use super::worded;
use crate::messages::{self, WordedWarning};
use crate::types::FoundReps;

/// The reps of a long clip, as `reps --json` prints them.
pub fn found_json(found: &FoundReps) -> FoundReps<WordedWarning> {
    found.with_warnings(|all| worded::warnings(all))
}

/// The same in words.
pub fn found_text(found: &FoundReps) -> String {
    let mut lines = vec![messages::session::reported(found.reps.len(), found.duration_s)];
    for (i, rep) in found.reps.iter().enumerate() {
        let (side, view) = (messages::side(rep.bats), messages::view_short(rep.view));
        let contact = messages::session::contact(rep.contact_s, rep.contact_plus_minus_s);
        let met = if rep.met { messages::session::MET } else { messages::session::NOT_MET };
        let clip = rep.clip.as_deref().unwrap_or_default();
        lines.push(format!("  {:>3}  {contact:<22} bats {side:<5}  {view:<14} {met:<22} {clip}", i + 1));
    }
    if !found.dropped_s.is_empty() {
        lines.push(messages::session::dropped(&found.dropped_s));
    }
    lines.join("\n")
}
