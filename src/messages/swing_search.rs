//! Looking for the swing in a clip: what is being done, and why none was found or one with care.

// Stages, for the progress display.

pub(crate) const FINDING_HITTER: &str = "finding the hitter";
pub(crate) const FINDING_SWING: &str = "finding the swing";
pub(crate) const FOLLOWING_HITTER: &str = "tracking the hitter";
pub(crate) const FOLLOWING_MOVES: &str = "tracking feet and hands";
pub(crate) const FINDING_BALL: &str = "finding the ball";
pub(crate) const FINDING_BAT: &str = "finding the bat";
pub(crate) const CUTTING_OUT: &str = "cutting out the ghost";

// Why no swing was found.

pub(crate) const NOBODY: &str = "nobody was found";
pub(crate) const NOT_FOLLOWED: &str = "nobody was tracked";
pub(crate) const NOBODY_LONG: &str = "nobody stays in the frame long enough";
pub(crate) const NOBODY_LEFT: &str = "nobody is left";
pub(crate) const HANDS_APART: &str = "the hands move fast, but not together on one bat";
pub(crate) const NOT_STANDING: &str = "the person whose hands move fast is not standing upright";
pub(crate) const WALKING: &str = "the person whose hands move fast is walking or running";
pub(crate) const HANDS_LOW: &str = "the hands move fast but stay low, as in a bunt or a checked swing";

pub(crate) fn nobody_at(x: f64, y: f64) -> String {
    format!("nobody was found at {x:.0},{y:.0}")
}

/// Both in body heights a second.
pub fn hands_slow(fastest: f64, least: f64) -> String {
    format!(
        "the hands reach only {fastest:.1} body heights per second, less than the {least:.1} of a swing; if the clip is in \
         slow motion, give --recorded-at HZ"
    )
}

// Warnings.

pub(crate) const CUTS: &str = "The clip is edited from several shots; only the one with the swing is read.";
pub(crate) const NO_PICTURES: &str = "there are no frames to look for it in";

pub(crate) fn hard_to_see(percent: f64) -> String {
    format!("The hitter was hard to see in {percent:.0} % of the frames of the swing.")
}

pub(crate) fn cut_off(percent: f64) -> String {
    format!("Part of the hitter is out of the frame during {percent:.0} % of the swing.")
}

pub(crate) fn bat_not_measured(why: &str) -> String {
    format!("The bat cannot be used as a scale: {why}. Give --height instead.")
}

// What a person gave.

pub(crate) fn pin_outside(event: &str, time_s: f64, end_s: f64) -> String {
    format!("{event}={time_s} is outside the clip, which runs from 0 to {end_s:.3} s")
}

pub(crate) fn no_height(cm: f64) -> String {
    format!("{cm:.0} cm is not a standing height; give one between 60 and 250 cm (24 and 98 in)")
}

pub(crate) fn no_length(cm: f64) -> String {
    format!("{cm} cm is not a length")
}

pub(crate) fn point_outside(x: f64, y: f64, width: f64, height: f64) -> String {
    format!("{x},{y} is outside the {width}×{height} px frame")
}

pub(crate) const POINTS_TOO_CLOSE: &str = "its two points are less than a pixel apart";

// Reps cut out of a long recording.

pub(crate) const NOT_CUT_HERE: &str = "a video with that name exists and was not cut from this recording";
pub(crate) const FOLDER_FULL: &str = "it is full of folders from earlier runs";

// Several swings.

fn moments(times_s: &[f64]) -> String {
    times_s.iter().map(|t| format!("{t:.1}")).collect::<Vec<_>>().join(", ")
}

/// `times_s` in order.
pub fn several_swings(times_s: &[f64], read_s: f64) -> String {
    format!(
        "The clip shows {} movements that may be swings (at {} s); the one at {read_s:.1} s is read. Choose one with --swing 1 to {}.",
        times_s.len(),
        moments(times_s),
        times_s.len()
    )
}

/// `times_s` in any order.
pub fn no_such_swing(nth: usize, times_s: &[f64]) -> String {
    let mut sorted = times_s.to_vec();
    sorted.sort_by(f64::total_cmp);
    format!("there is no swing {nth}; {} were found (at {} s)", sorted.len(), moments(&sorted))
}
