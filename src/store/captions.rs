//! A file with other words for what is drawn.

use std::path::Path;

use super::{from_toml, nearest};
use crate::messages::{Captions, english};
use crate::types::{Bound, CaptionsFault, Error, Limits, Result, TextFault, Units};

/// The words of a TOML file, said in `units`; what it leaves out and may leave out is English.
pub fn captions(path: &Path, units: Units, limits: &Limits) -> Result<Captions> {
    let wrong = |cause: CaptionsFault| Error::Captions { path: path.to_owned(), cause };
    let text = String::from_utf8(limits.read(Bound::PlanKb, path)?);
    captions_from_text(&text.map_err(|_| wrong(TextFault::NotUtf8.into()))?, units).map_err(wrong)
}

/// The same from text.
pub fn captions_from_text(text: &str, units: Units) -> std::result::Result<Captions, CaptionsFault> {
    let tables = from_toml(text.trim_start_matches('\u{feff}'))?;
    Captions::translated(tables, units).map_err(|fault| match fault {
        CaptionsFault::Unknown { key, .. } => {
            let keys = english().keys();
            let known: Vec<&str> = keys.iter().map(String::as_str).collect();
            let nearest = nearest(&key, &known).map(str::to_owned);
            CaptionsFault::Unknown { key, nearest }
        }
        other => other,
    })
}
