//! The reps of a long film as a table for a terminal.

use crate::ground::{FoundReps, words};

pub fn found_text(found: &FoundReps) -> String {
    let mut lines = vec![words::session::told(found.reps.len(), found.duration_s)];
    for (i, rep) in found.reps.iter().enumerate() {
        let (side, view) = (words::side(rep.bats), words::view_short(rep.view));
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
