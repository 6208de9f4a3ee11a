//! What is wrong with a clip's frames or timestamps, and what follows.

pub(crate) const HOLE: &str = "frames are missing there";
pub(crate) const TOO_SLOW: &str = "the swing is in slow motion; give --recorded-at";

/// `holes`: from when to when, real s.
pub fn in_a_hole(holes: &[(f64, f64)]) -> String {
    let first =
        holes.iter().take(3).map(|(a, b)| format!("{a:.2} to {b:.2} s")).collect::<Vec<_>>().join(", ");
    let more = if holes.len() > 3 { format!(" and {} more times", holes.len() - 3) } else { String::new() };
    format!("No frame could be read from {first}{more}; what happens there is not measured.")
}

pub(crate) const TOO_SLOW_LONG: &str = "The swing is slower than a real swing can be: the clip is in slow motion or was slowed down. \
    Times and speeds are left out. Give the camera's frame rate with --recorded-at, such as 240; if only part of the clip is \
    slow, give the phone's original file.";

pub(crate) fn repeats(pictures: usize, of: usize) -> String {
    format!(
        "{pictures} of {of} frames only repeat the one before, as after a frame rate conversion; they are not measured, and \
         events are less certain. Give the camera's original file if you have it."
    )
}

pub(crate) fn speed_change(quick_hz: f64, slow_hz: f64) -> String {
    format!(
        "part of it was slowed down ({slow_hz:.0} fps where the rest has {quick_hz:.0}), so its timestamps can't be trusted; \
         give --recorded-at {quick_hz:.0}, or the phone's original file"
    )
}

pub(crate) const SPEED_CHANGE_REPEATS: &str = "part of it was slowed down by repeating frames, so its timestamps can't be trusted; give the phone's original file";

pub(crate) const SPEED_CHANGE_MARKED: &str = "the phone marked part of it as super slow motion, so its timestamps can't be trusted; film with \
    regular slow motion, or give --recorded-at if all of it was recorded at one rate";
