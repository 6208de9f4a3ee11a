//! What stands on the sheet of stills and on the page.

use super::elapsed;

/// Between the two names: "Today against Best rep".
pub const AGAINST: &str = "against";
/// The same where the earlier one stands first: "Before, then After".
pub const THEN: &str = "then";
pub(crate) const NEWS: &str = "What changed";
pub(crate) const NO_NEWS: &str =
    "No measure differs by more than this hitter’s reps usually do, as far as these clips can tell.";
pub(crate) const MEASURES: &str = "Measures";
pub(crate) const DIFFERENCE: &str = "difference";
pub(crate) const EVENTS: &str = "Events";
pub(crate) const CURVES: &str = "Over time";
pub(crate) const CURVES_TOLD: &str = "Horizontal: ms from the moment both are lined up on (the vertical line). Today: single line, filled \
    dots at load, foot off, plant, contact and extension; the other: double line, hollow dots. Wide band: based on points \
    that were estimated, not seen.";
pub(crate) const HAND_HEIGHT: &str = "Hand height above the ground";
pub(crate) const HAND_SPEED: &str = "Hand speed";
pub(crate) const CENTRE_FORWARD: &str = "Body center toward the pitcher, from its place at load";
pub(crate) const HEAD_TRAVEL: &str = "Head travel from its place at stance";
pub(crate) const STILLS: &str = "Stills";
pub(crate) const CAUTIONS: &str = "Read with care";
pub(crate) const CARE: &str = "If it hurts, stop, tell an adult, and see a licensed medical professional.";

/// "−482 ± 12 ms".
pub fn moment(seconds: f64, plus_minus_s: f64) -> String {
    let time = elapsed(seconds);
    format!("{} ± {} ms", time.trim_end_matches(" ms"), (plus_minus_s * 1000.0).round().max(1.0))
}
