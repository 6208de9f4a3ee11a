//! Files and folders: what cannot be read, written or kept, and words that a file may not hold.

use std::fmt::{Display, Formatter, Result};

use crate::types::{CaptionsFault, Error, TextFault};

pub(crate) const IS_A_FOLDER: &str = "it is a folder";
pub(crate) const NOT_A_REGULAR_FILE: &str = "it is not a regular file";
pub(crate) const NAME_NOT_TEXT: &str = "its name is not valid UTF-8";
pub(crate) const NOT_A_NAME: &str = "it is not a file name";
pub(crate) const WRITE_PROTECTED: &str = "a file with that name is write-protected";
pub(crate) const BROKEN_LINK: &str = "it is a link to a missing file";
pub(crate) const NO_FOLDER: &str = "its folder does not exist";
pub(crate) const FOLDER_FULL: &str = "its folder is full of unfinished files from earlier runs";
pub(crate) const TAKEN_AWAY: &str = "it was removed while it was being written";
pub(crate) const READS_BACK_CHANGED: &str = "it does not read back as written";
pub(crate) const OTHER_CLIP: &str = "it belongs to another clip or an earlier version of this one";
pub(crate) const TOO_MANY_ASIDE: &str = "too many were set aside before";

/// A sidecar that can neither be used nor moved out of the way.
pub fn not_set_aside(cause: &str, why: &str) -> String {
    format!("the file that is there cannot be used ({cause}) or set aside ({why})")
}

pub(crate) fn set_aside(name: &str, cause: &str, aside: &str) -> String {
    format!("{name} could not be used ({cause}); it was set aside as {aside}.")
}

/// Of a sidecar that another version of the program wrote.
pub fn other_form(schema: &str) -> String {
    format!("unknown schema {schema}")
}

impl Display for CaptionsFault {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            CaptionsFault::Text(fault) => write!(f, "{fault}"),
            CaptionsFault::Unknown { key, nearest: None } => write!(f, "unknown key {key}"),
            CaptionsFault::Unknown { key, nearest: Some(near) } => {
                write!(f, "unknown key {key}; did you mean {near}?")
            }
            CaptionsFault::Missing { key } => write!(f, "{key} is missing"),
            CaptionsFault::Empty { key } => write!(f, "{key} is empty or has a line break"),
            CaptionsFault::Braces { key, english } => {
                write!(f, "{key} must contain the same braces as “{english}”")
            }
        }
    }
}

impl Display for TextFault {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        if let TextFault::Syntax { line: Some(line), .. } | TextFault::UnknownWord { line: Some(line), .. } =
            self
        {
            write!(f, "line {line}: ")?;
        }
        match self {
            TextFault::NotUtf8 => write!(f, "it is not UTF-8 text"),
            TextFault::Syntax { cause, .. } => write!(f, "{cause}"),
            TextFault::UnknownWord { word, nearest: Some(near), .. } => {
                write!(f, "unknown word “{word}”; did you mean “{near}”?")
            }
            TextFault::UnknownWord { word, nearest: None, known, .. } => {
                write!(f, "unknown word “{word}”; choose from {}", known.join(", "))
            }
        }
    }
}

/// When a video was made of a clip for the first time.
pub const ASK_BEFORE_SHARING: &str = "Each time before you share it, ask the athlete, and for a minor a parent or \
    guardian too. (Shown once per clip.)";

/// The next run reads the clip again.
pub fn reading_not_kept(why: Option<&str>) -> String {
    format!(
        "The reading could not be saved next to the clip, so it is computed again each time{}.",
        in_brackets(why)
    )
}

/// The ghost's cutouts are computed again each time.
pub fn cutouts_not_kept(why: Option<&str>) -> String {
    format!("The ghost's cutouts could not be saved{}.", in_brackets(why))
}

/// A cause after what it led to; nothing where it is not known any more.
pub(super) fn in_brackets(why: Option<&str>) -> String {
    why.map(|why| format!(" ({why})")).unwrap_or_default()
}

/// What went wrong without the place, which nobody chose or others need not know.
pub fn cause(why: &Error) -> String {
    match why {
        Error::Unwritable { cause, .. }
        | Error::Unreadable { cause, .. }
        | Error::Decode { cause, .. }
        | Error::Encode { cause, .. }
        | Error::NoSound { cause, .. }
        | Error::NotVideo { cause, .. }
        | Error::Verify { cause, .. } => cause.to_string(),
        Error::Missing { .. } => "the file no longer exists".to_owned(),
        other => other.to_string(),
    }
}
