//! What can be wrong in a lesson's file.

pub const NO_HITTER: &str = "it names no hitter; add [[hitter]] with a name and a [[hitter.day]]";
pub const NO_RATE: &str = "recorded_at_hz must be more than 0";
pub const NAME_LENGTH: &str = "a name has 1 to 60 letters and no line break";

pub fn no_date(text: &str) -> String {
    format!("“{text}” is not a date; write year, month and day, as in date = 2026-03-07")
}

pub fn other_form(form: impl std::fmt::Display, known: impl std::fmt::Display) -> String {
    format!("it is version {form} of the format; this program reads version {known}")
}

pub fn same_hitter(name: &str) -> String {
    format!("two hitters are named “{name}”; give each a different name")
}

pub fn same_day(name: &str) -> String {
    format!("two days are named “{name}”; combine their reps into one")
}

pub fn out_of_range(key: &str, low: f64, high: f64) -> String {
    format!("{key} must be between {low} and {high}")
}

pub fn no_clip(word: &str, nearest: Option<&str>, known: &[&str]) -> String {
    match nearest {
        Some(near) => format!("there is no clip “{word}”; did you mean “{near}”?"),
        None => format!("there is no clip “{word}”; give {}, a plan file, or none", known.join(", ")),
    }
}
