//! What can be wrong in a lesson's file.

use std::fmt::{Display, Formatter, Result};

use crate::types::LessonFault;

impl Display for LessonFault {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            LessonFault::Text(fault) => write!(f, "{fault}"),
            LessonFault::OtherForm { form, known } => {
                write!(f, "it is version {form} of the format; this program reads version {known}")
            }
            LessonFault::NoHitter => {
                write!(f, "it names no hitter; add [[hitter]] with a name and a [[hitter.day]]")
            }
            LessonFault::SameHitter { name } => {
                write!(f, "two hitters are named “{name}”; give each a different name")
            }
            LessonFault::Hitter { name, fault } => write!(f, "hitter “{name}”: {fault}"),
            LessonFault::Day { day, fault } => write!(f, "day {}: {fault}", day + 1),
            LessonFault::OutOfRange { key, low, high } => write!(f, "{key} must be between {low} and {high}"),
            LessonFault::NoRate => write!(f, "recorded_at_hz must be more than 0"),
            LessonFault::NameLength => write!(f, "a name has 1 to 60 letters and no line break"),
            LessonFault::NoDate { text } => {
                write!(f, "“{text}” is not a date; write year, month and day, as in date = 2026-03-07")
            }
            LessonFault::SameDay { name } => {
                write!(f, "two days are named “{name}”; combine their reps into one")
            }
            LessonFault::NoClip { word, nearest: Some(near), .. } => {
                write!(f, "there is no clip “{word}”; did you mean “{near}”?")
            }
            LessonFault::NoClip { word, nearest: None, known } => {
                write!(f, "there is no clip “{word}”; give {}, a plan file, or none", known.join(", "))
            }
        }
    }
}
