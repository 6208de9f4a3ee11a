//! Why a clip was read as it was: for whoever works on the reading.

use std::fmt::Write;

use crate::messages::{fault, reading as messages};
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
            "{}; {}",
            messages::explanation(i, why.score, hitter),
            messages::hands(stretch.from_s, stretch.to_s, stretch.fastest_s, stretch.fastest, stretch.way)
        );
        let traits: Vec<String> = TRAITS
            .iter()
            .zip(explanation.traits)
            .map(|((name, weight), value)| format!("{name} {:+.2}", weight * value))
            .collect();
        let _ = writeln!(out, "   {}", messages::swing_score(explanation.swings, &traits.join(", ")));
        let _ = writeln!(out, "   {}", messages::stance_score(explanation.stands));
        for what in &why.faults {
            let _ = writeln!(out, "   {}", messages::impossible(fault(*what)));
        }
        let moments: Vec<String> = EventId::ALL
            .iter()
            .filter_map(|id| Some(format!("{} {:.3}", id.word(), why.swing.events.get(id)?.time_s)))
            .collect();
        let _ = writeln!(out, "   {}", moments.join(", "));
    }
    out.trim_end().to_owned()
}
