//! Making a video: its options, and what had to be left out of it.

use std::ops::RangeInclusive;

use crate::types::PlanFault;

pub(crate) const MAKING: &str = "making the video";
pub(crate) const NO_REGISTRATION: &str = "the two bodies could not be aligned";
pub(crate) const NO_EVENT: &str = "no event was found in it";
pub(crate) const FONT_DAMAGED: &str = "the built-in font is damaged";

/// Why there is no ghost, and the layout that is used instead.
pub fn ghost_impossible(why: &str, instead: &str) -> String {
    format!("no ghost can be drawn ({why}); the layout is {instead} instead")
}

/// Why the video is silent.
pub fn without_sound(why: Option<&str>) -> String {
    format!("the video has no sound{}", super::files::in_brackets(why))
}

pub(crate) fn note_rate(rate_hz: u32, wanted_hz: u32) -> String {
    format!("the note is at {rate_hz} Hz instead of {wanted_hz}")
}

pub(crate) fn slow_out_of_range(slow: f64) -> String {
    format!("--slow {slow} must be between 0.25 and 100")
}

pub(crate) fn rate_out_of_range(rate_hz: u32) -> String {
    format!("the frame rate must be between 1 and 120 fps, not {rate_hz}")
}

pub(crate) fn plan_unusable(why: &PlanFault) -> String {
    format!("the plan cannot be used: {why}")
}

pub(crate) fn size_out_of_range(width: usize, height: usize, sides: &RangeInclusive<usize>) -> String {
    let (low, high) = (sides.start(), sides.end());
    format!("--size {width}x{height}: width and height must be even and between {low} and {high}")
}

pub(crate) fn size_too_narrow(width: usize, height: usize, most: f64) -> String {
    format!("--size {width}x{height} is too narrow; the longer side can be at most {most} times the shorter")
}

/// `size`: as given; `most`: what still plays.
pub fn beyond_screen(size: (usize, usize), rate_hz: u32, screen: &str, most: (usize, usize)) -> String {
    format!(
        "{}x{} at {rate_hz} fps is more than every {screen} can play; leave out --size or give at most {}x{}",
        size.0, size.1, most.0, most.1
    )
}

pub(crate) fn frame_missing(frame: usize) -> String {
    format!("frame {frame} is missing")
}

pub(crate) fn png_failed(cause: &dyn std::fmt::Display) -> String {
    format!("the sheet cannot be encoded as PNG ({cause})")
}

pub(crate) const PDF_FAILED: &str = "the sheet cannot be put on a PDF page";
