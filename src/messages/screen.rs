//! Words drawn on videos, cards and sheets, besides names and numbers.

use super::event_short;
use crate::types::EventId;

pub const TODAY: &str = "Today";
pub const REFERENCE: &str = "Best rep";
pub const FULL_SPEED: &str = "Full speed";

/// In the panel of a rep that was filmed by one phone only.
pub const NO_SECOND_ANGLE: &str = "no second angle";
pub const NOT_MEASURED: &str = "not measured";

/// At the foot of the closing card.
pub const LIMITS: [&str; 2] = ["Each value comes from one camera view.", "Estimates, not a diagnosis."];
pub const NOTHING_MEASURED: &str = "No measure could be taken from this swing.";
pub const NOTHING_SHARED: &str = "No measure could be taken from both swings.";

/// Names of the numbers on a picture, and the widest that can come.
pub const KNEE: &str = "Knee";
pub const HANDS_TO_FOOT: &str = "Hands–foot";
pub const WIDEST_DEG: &str = "180°";
pub const WIDEST_CM: &str = "200 cm";

/// Numbers drawn beside the body, from one picture.
pub fn about_deg(deg: f64) -> String {
    format!("{deg:.0}°")
}

pub fn about_cm(cm: f64) -> String {
    format!("{cm:.0} cm")
}

/// In % of the standing height.
pub fn about_height(percent: f64) -> String {
    format!("{percent:.0} %")
}

/// "8× slower", "6.5× slower".
pub fn slowed(times: f64) -> String {
    let times = (times * 10.0).round() / 10.0;
    format!("{times}× slower")
}

/// How long a phase is shown, beside how long it took.
pub fn stretched(times: f64) -> String {
    match times {
        t if (0.995..1.005).contains(&t) => "true speed".to_owned(),
        t if t > 1.0 => format!("stretched ×{t:.2}"),
        t => format!("squeezed ×{t:.2}"),
    }
}

/// The caption while nothing else is said.
pub fn lined_up(id: EventId) -> String {
    format!("Lined up on {}", event_short(id))
}

/// The same where every shared event is lined up.
pub const LINED_UP_ON_ALL: &str = "Lined up on every event";

/// What the time 0 means: "0 = plant".
pub fn zero(id: EventId) -> String {
    format!("0 = {}", event_short(id))
}

/// On a picture that is shown mirrored: "Mirror image", "Best rep: mirror image".
pub fn mirror_image(label: Option<&str>) -> String {
    label.map_or_else(|| "Mirror image".to_owned(), |label| format!("{label}: mirror image"))
}

/// On the card.
pub fn shown_mirrored(label: &str) -> String {
    format!("{label} bats from the other side and is shown as a mirror image.")
}

/// Beside a name on the sheet.
pub const MIRRORED: &str = "mirror image";

/// The reference side where several good reps are compared with.
pub fn good_reps(counted: usize) -> String {
    format!("{counted} good reps")
}

/// The shown one's name in the clip.
pub const GOOD_REP: &str = "Good rep";

/// "Good rep 2 of 5".
pub fn good_rep(place: usize, of: usize) -> String {
    format!("{GOOD_REP} {} of {of}", place + 1)
}

/// Which one is shown and why: "Good rep 2 of 5, nearest their middle".
pub fn shown_rep(place: usize, of: usize) -> String {
    format!("{}, the most typical", good_rep(place, of))
}

/// Measures named under one verdict: "no clear difference: Stride; Front knee at contact; 3 more".
pub fn also(verdict: &str, measures: &[&str], more: usize) -> String {
    let more = if more > 0 { format!("; {more} more") } else { String::new() };
    format!("{verdict}: {}{more}", measures.join("; "))
}

/// Beside a value that only one of the two clips gives.
pub fn only_from(label: &str) -> String {
    format!("only in {label}")
}
