//! What is wrong with a clip's pictures or times, and what follows.

pub const HOLE: &str = "pictures are missing there";
pub const TOO_SLOW: &str = "the swing plays slower than life; say --recorded-at";

/// `holes`: from when to when, real s.
pub fn in_a_hole(holes: &[(f64, f64)]) -> String {
    let first =
        holes.iter().take(3).map(|(a, b)| format!("{a:.2} to {b:.2} s")).collect::<Vec<_>>().join(", ");
    let more = if holes.len() > 3 { format!(" and {} more times", holes.len() - 3) } else { String::new() };
    format!("No picture could be read from {first}{more}: what falls there is not measured.")
}

pub const TOO_SLOW_LONG: &str = "The swing plays slower than a swing is in life: the clip is in slow motion, or was shown slowly. \
    Times and speeds are not given. Say --recorded-at with the camera's rate, such as 240; if only a part of it is slow, \
    give the phone's own file.";

pub fn repeats(pictures: usize, of: usize) -> String {
    format!(
        "{pictures} of {of} pictures only repeat the one before, as in a file converted from another rate: they are \
         not measured, and moments are less sure. Give the camera's own file if you have it."
    )
}

pub fn speed_change(quick_hz: f64, slow_hz: f64) -> String {
    format!(
        "a part of it was made slow motion ({slow_hz:.0} pictures a second where the rest has {quick_hz:.0}), so its \
         clock is no measure; say --recorded-at {quick_hz:.0}, or give the phone's own file"
    )
}

pub const SPEED_CHANGE_REPEATS: &str = "a part of it was slowed down by repeating pictures, so its clock is no measure; give the phone's own file";

pub const SPEED_CHANGE_MARKED: &str = "the phone marked a part of it as super slow motion, so its clock is no measure; film with \
    the phone's usual slow motion, or say --recorded-at where all of it was filmed at one rate";
