//! Why a clip was read as it was: for whoever works on the reading.

use std::fmt::Write;

use crate::messages;
use crate::swing::{TRAITS, Why};
use crate::types::EventId;

/// Every explanation with its score, what spoke for it, what cannot be in it, and its moments.
pub fn why_text(all: &[Why]) -> String {
    let mut out = String::new();
    for (i, why) in all.iter().enumerate() {
        let (explanation, hitter) = (&why.explanation, &why.explanation.hitter);
        let stretch = &explanation.stretch;
        let _ = writeln!(
            out,
            "{}. score {:+.2}: bats {}, seen from {}, pitcher {}; hands {:.3} to {:.3} s, fastest at {:.3} s ({:.1} body heights/s, {:.2} of the height far)",
            i + 1,
            why.score,
            messages::side(hitter.bats),
            messages::view(hitter.view),
            messages::pitcher(hitter.pitcher_side),
            stretch.from_s,
            stretch.to_s,
            stretch.fastest_s,
            stretch.fastest,
            stretch.way,
        );
        let traits: Vec<String> = TRAITS
            .iter()
            .zip(explanation.traits)
            .map(|((name, weight), value)| format!("{name} {:+.2}", weight * value))
            .collect();
        let _ = writeln!(out, "   moves as a swing {:+.2} ({})", explanation.swings, traits.join(", "));
        let _ = writeln!(out, "   stands so {:+.2}", explanation.stands);
        for fault in &why.faults {
            let _ = writeln!(out, "   cannot be: {fault}");
        }
        let moments: Vec<String> = EventId::ALL
            .iter()
            .filter_map(|id| Some(format!("{} {:.3}", id.word(), why.swing.events.get(id)?.time_s)))
            .collect();
        let _ = writeln!(out, "   {}", moments.join(", "));
    }
    out.trim_end().to_owned()
}
