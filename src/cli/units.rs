//! Which units a person reads: what is typed, else what the lesson says, else the environment, else the locale.

use std::env::var;

use swingpair::messages;
use swingpair::types::{Error, Result, Units};

const VARIABLE: &str = "SWINGPAIR_UNITS";
/// The first that is set says how things are measured here (POSIX.1-2017 §8.2; LC_MEASUREMENT is glibc's).
const LOCALES: [&str; 3] = ["LC_ALL", "LC_MEASUREMENT", "LANG"];

pub fn chosen(typed: Option<Units>, lesson: Option<Units>) -> Result<Units> {
    if let Some(units) = typed.or(lesson) {
        return Ok(units);
    }
    let set = |name: &str| var(name).ok().filter(|v| !v.is_empty());
    if let Some(word) = set(VARIABLE) {
        return Units::from_word(&word)
            .ok_or_else(|| Error::Usage(messages::command::no_units(VARIABLE, &word)));
    }
    let locale = LOCALES.into_iter().find_map(set).or_else(sys_locale::get_locale);
    Ok(locale.map_or_else(Units::default, |name| Units::of_locale(&name)))
}
