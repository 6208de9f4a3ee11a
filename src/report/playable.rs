//! What `check` prints.

use crate::media::{Playable, Weight};
use crate::messages::playable as messages;

/// The verdict, what stands in the way, what is worth knowing, and what to do.
pub fn playable_text(file: &Playable) -> String {
    let f = &file.facts;
    let level = if f.level > 0 { format!(" level {:.1}", f64::from(f.level) / 10.0) } else { String::new() };
    let rate = f.rate_hz.map_or_else(String::new, |hz| format!(", {} fps", round(hz)));
    let verdict = match (file.plays, file.plays_everywhere) {
        (_, true) => messages::PLAYS,
        (true, _) => messages::PLAYS_MOST,
        (false, _) => messages::PLAYS_NOT,
    };
    let mut lines = vec![verdict.to_owned()];
    let of = |weight: Weight| file.findings.iter().filter(move |f| f.weight == weight);
    lines.extend(of(Weight::Refused).map(|f| format!("  no     {}", f.text)));
    lines.extend(of(Weight::Doubt).map(|f| format!("  maybe  {}", f.text)));
    lines.push(format!(
        "  {} {}{level}, {}×{}, {}{rate}, {:.2} s",
        f.codec, f.profile, f.width, f.height, f.pixels, f.duration_s
    ));
    lines.extend(of(Weight::Note).map(|f| format!("  {}", f.text)));
    if !file.plays_everywhere {
        lines.push(format!("hint: {}", messages::WAY_OUT));
    }
    lines.join("\n")
}

fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}
