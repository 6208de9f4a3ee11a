//! A file with other words for what is drawn.

use std::path::Path;

use super::{from_toml, nearest};
use crate::messages::{self, Captions, CaptionsFault, english};
use crate::types::{Bound, Error, Limits, Result, Units};

/// The words of a TOML file, said in `units`; what it leaves out and may leave out is English.
pub fn captions(path: &Path, units: Units, limits: &Limits) -> Result<Captions> {
    let wrong = |cause: String| Error::Captions { path: path.to_owned(), cause: cause.into() };
    let text = String::from_utf8(limits.read(Bound::PlanKb, path)?)
        .map_err(|_| wrong(messages::files::NOT_UTF8.to_owned()))?;
    captions_from_text(&text, units).map_err(wrong)
}

/// The same from text; the error is the cause in plain words.
pub fn captions_from_text(text: &str, units: Units) -> std::result::Result<Captions, String> {
    let tables = from_toml(text.trim_start_matches('\u{feff}'))?;
    Captions::translated(tables, units).map_err(|fault| match fault {
        CaptionsFault::Unknown { key } => {
            let keys = english().keys();
            let known: Vec<&str> = keys.iter().map(String::as_str).collect();
            messages::files::unknown_key(&key, nearest(&key, &known))
        }
        CaptionsFault::Missing { key } => messages::files::missing_key(&key),
        CaptionsFault::Empty { key } => messages::files::empty_text(&key),
        CaptionsFault::Braces { key, english } => messages::files::other_braces(&key, &english),
    })
}
