//! The reps of a long film as a table for a terminal.

use crate::ground::{Side, View, words};
use crate::reading::FoundReps;

pub fn found_text(found: &FoundReps) -> String {
    let mut lines = vec![words::session::told(found.reps.len(), found.duration_s)];
    for (i, rep) in found.reps.iter().enumerate() {
        let side = if rep.bats == Side::Left { "left" } else { "right" };
        let view = match rep.view {
            View::OpenSide => "open side",
            View::ClosedSide => "closed side",
            View::FromBehind => "from behind",
            View::FromFront => "from the front",
        };
        let contact = words::session::contact(rep.contact_s, rep.contact_plus_minus_s);
        let met = if rep.met { words::session::MET } else { words::session::NOT_MET };
        let clip = rep.clip.as_deref().unwrap_or_default();
        lines.push(format!("  {:>3}  {contact:<22} bats {side:<5}  {view:<14} {met:<22} {clip}", i + 1));
    }
    if !found.dropped_s.is_empty() {
        lines.push(words::session::dropped(&found.dropped_s));
    }
    lines.join("\n")
}
