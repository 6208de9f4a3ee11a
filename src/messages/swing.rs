//! The swing itself: why it is not read, what is left out of it, and why a measure is missing.

use crate::types::{Side, View};

// Why it is not read.

pub(crate) const FEW_FRAMES: &str = "too few frames show the hitter";
pub(crate) const SIZE_UNKNOWN: &str = "the body is not visible enough to estimate its size";
pub(crate) const NOT_AS_GIVEN: &str = "no movement matches --bats and --pitcher";
pub(crate) const NO_SWING: &str = "no swing is visible";
pub(crate) const BODY_STILL: &str = "the hands move fast together, but the body does not move as in a swing";
pub(crate) const NO_HANDS: &str = "the hands are never visible";

pub(crate) fn impossible(fault: &str) -> String {
    format!("read as a swing, {fault}")
}

pub(crate) fn points_missing_no_swing(from_s: f64, to_s: f64) -> String {
    format!("points are missing from {from_s:.2} to {to_s:.2} s, and the rest does not look like a swing")
}

/// `fastest`: body heights a second.
pub fn no_swing_like(fastest: f64) -> String {
    format!("the hands reach {fastest:.1} body heights per second but never move as in a swing")
}

// What cannot be in a swing.

pub(crate) const FOOT_UNDER_GROUND: &str = "the back foot would be below the ground at contact";
pub(crate) const STRIDE_AWAY: &str = "the front foot would stride away from the pitcher";
pub(crate) const WALKS: &str = "the hitter would walk through the swing";

// Two readings of one swing.

pub(crate) const TWO_READINGS: &str = "two readings of this swing fit about equally well";

/// `way_out`: how to tell which.
pub fn two_readings(way_out: &str) -> String {
    format!("{TWO_READINGS}; {way_out}")
}

pub(crate) const GIVE_BATS: &str = "give --bats right or --bats left";
pub(crate) const GIVE_PITCHER: &str = "give --pitcher";
pub(crate) const MARK_CONTACT: &str = "mark contact";
pub(crate) const PITCHER_UNKNOWN: &str = "The pitcher's side cannot be determined, so only what is the same either way is given. Give it \
    with --pitcher.";
pub(crate) const TWO_MOMENTS: &str =
    "Two moments could be the swing, so only what they share is given. Mark contact to choose one.";

pub(crate) fn bats_unknown(a: Side, b: Side) -> String {
    let [a, b] = [a, b].map(super::side);
    format!(
        "The hitter may bat {a} or {b}, so only what is the same either way is given. Choose with --bats."
    )
}

pub(crate) fn against_picture(bats: Side, view: View) -> String {
    format!(
        "In the picture this hitter bats {}, seen from {}; read as you specified.",
        super::side(bats),
        super::view(view)
    )
}

// What is left out, and what to know.

pub(crate) const WALKS_UP: &str =
    "The hitter walks before the stride, or the camera turns, so stance and load are left out.";
pub(crate) const STANCE_LEFT_OUT: &str = "From stance to plant the front foot seems to move away from the pitcher, as when the camera \
    turns or the foot was already up, so stance is left out.";
pub(crate) const NO_STRIDE: &str =
    "The front foot does not move before the swing, so foot off and touch are left out.";
pub(crate) const STARTS_LATE: &str =
    "The hitter is already moving when the clip begins; start filming a second before the swing.";
pub(crate) const ALONG_THE_PITCH: &str = "Filmed along the line of the pitch: movement toward the pitcher and knee angles cannot be \
    seen, and events are much less certain.";
pub(crate) const PANNING: &str = "The camera turns with the hitter, so the travel of head, feet and body is not measured. Put the \
    phone on a tripod.";
pub(crate) const CAMERA_LOST: &str = "Too little of the background is seen to tell how the camera moved during the swing, so travel and \
    stride are less certain. Film with more of the background in view.";
pub(crate) const NO_FEET: &str =
    "There are no foot points, so plant is estimated from the ankle, and foot off and touch are left out.";

pub(crate) fn left_out(events: &[&str]) -> String {
    let (are, their, time) =
        if events.len() == 1 { ("is", "its", "time is") } else { ("are", "their", "times are") };
    format!(
        "{} {are} left out because {their} {time} impossible; check the clip, or set them with mark.",
        events.join(" and ")
    )
}

pub(crate) fn toe_taps(taps: usize) -> String {
    let times = if taps == 1 { "once".to_owned() } else { format!("{taps} times") };
    format!("The front foot taps {times} before the stride.")
}

pub(crate) fn points_missing(from_s: f64, to_s: f64) -> String {
    format!(
        "Points are missing from {from_s:.2} to {to_s:.2} s, in the middle of the swing; events there are uncertain by as \
         much."
    )
}

// The scale.

pub(crate) const HEIGHT: &str = "height";
pub(crate) const BAT: &str = "bat";
pub(crate) const MARKED_LENGTH: &str = "marked length";

/// `share`: how much longer something 0.3 m nearer looks.
pub fn mark_depth(share: f64, distance_m: f64) -> String {
    format!(
        "A mark 0.3 m nearer to the camera than the hitter looks {:.0} % too long (the camera seems to be {distance_m:.0} m \
         away), and a line that is not square to the camera looks too short: mark a length right next to the hitter.",
        100.0 * share
    )
}

/// `by` and `of`: what was given, with its flag. `share`: of the length.
pub fn scales_disagree(by: [&str; 2], of: [&str; 2], share: f64, too_long: bool) -> String {
    format!(
        "Judging by the given {}, the {} looks {:.0} % too {}: check {} and {}. Lengths use an average of both.",
        by[0],
        of[0],
        100.0 * share,
        if too_long { "long" } else { "short" },
        by[1],
        of[1]
    )
}

// Why a measure is missing.

pub(crate) const CAMERA_TURNS: &str = "the camera turns with the hitter; film from one place";
pub(crate) const POINTS_UNSEEN: &str = "the points it needs are not visible at that moment";
pub(crate) const ALONG: &str = "not visible from behind or from the front; film from the open side";
pub(crate) const TIMES_UNSURE: &str = "its events are too uncertain from behind or from the front; film from the open side or set them with mark";
pub(crate) const OUT_OF_ORDER: &str = "its two events are out of order";
pub(crate) const NO_BODY_GIVES: &str = "the points give a value that is impossible for a body";
pub(crate) const HANDS_UNSEEN: &str = "the hands are not seen well enough as they start";
pub(crate) const CONTACT_FROM_PEAK: &str =
    "contact was estimated from this peak; it was neither heard nor set by hand";
pub(crate) const BAT_TOO_FAST: &str =
    "the bat moves half a meter or more between frames; film at 120 fps or faster";
pub(crate) const BAT_NOT_TRACKED: &str = "the bat itself is not tracked through the swing";

pub(crate) fn not_found(event: &str) -> String {
    format!("{event} was not found")
}

// Why a movement is no swing, after "read as a swing,".
pub(crate) const LIES: &str = "the hitter would lie or bend over";
pub(crate) const KNEELS: &str = "the hitter would kneel or lie";
pub(crate) const BEGINS_LOW: &str = "the hands would begin far below the shoulders";
pub(crate) const BEGINS_HIGH: &str = "the hands would begin over the head";
pub(crate) const PASSES_HIGH: &str = "the hands would be fastest over the shoulders";
pub(crate) const HELD_BACK: &str = "the hands would stop halfway, as in a bunt or a checked swing";
