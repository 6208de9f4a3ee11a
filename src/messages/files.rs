//! Words about what is kept on the disk.

use crate::types::Error;

pub const IS_A_FOLDER: &str = "it is a folder";
pub const NOT_A_REGULAR_FILE: &str = "it is not a regular file";
pub const NAME_NOT_TEXT: &str = "its name is not valid UTF-8";

/// When a clip was made of footage for the first time.
pub const ASK_BEFORE_SHARING: &str = "Before you share it, and each time: ask the athlete, and for a minor a parent \
    or guardian too. (Said once for each clip of today.)";

/// The next run looks at the clip anew.
pub fn reading_not_kept(why: &Error) -> String {
    format!(
        "The reading could not be kept beside the clip and is worked out anew each time ({}).",
        cause(why)
    )
}

/// The ghost's cut-outs are found anew each time.
pub fn cutouts_not_kept(why: &Error) -> String {
    format!("What was cut out for the ghost could not be kept ({}).", cause(why))
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
        | Error::Verify { cause, .. } => cause.clone(),
        Error::Missing { .. } => "the file is not there any more".to_owned(),
        other => other.to_string(),
    }
}
