//! One sentence for each error: the file, the cause and the way out.

use std::fmt::{Display, Formatter, Result};
use std::io::ErrorKind;
use std::path::Path;

use super::playable;
use crate::types::{Bound, Cause, Error};

impl Display for Error {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            Error::Missing { path } => {
                write!(f, "{}: no such file; check the name and the folder", path.display())
            }
            Error::Unreadable { path, cause } => write!(
                f,
                "{}: cannot be read ({cause}); check that it is a file you can open",
                path.display()
            ),
            Error::Empty { path } => {
                write!(f, "{}: the file is empty; copy it from the phone again", path.display())
            }
            Error::NotVideo { path, cause } => {
                write!(f, "{}: is not a playable video ({cause}); give a video file", path.display())
            }
            Error::TooShort { path, frames } => write!(
                f,
                "{}: has only {frames} frame(s), too few to show a swing; film the whole swing",
                path.display()
            ),
            Error::NoPerson { path } => write!(
                f,
                "{}: nobody was found; film the whole body, head to feet, in good light",
                path.display()
            ),
            Error::NoSwing { path, cause } => write!(
                f,
                "{}: no swing was found ({cause}); check that the clip shows a whole swing, or point to the hitter with --hitter X,Y",
                path.display()
            ),
            Error::Damaged { path, damage, cause } => write!(
                f,
                "{}: {}, and no swing was found in what is left ({cause}); copy it from the phone again",
                path.display(),
                super::spoilt(*damage)
            ),
            Error::CutShort { path } => {
                write!(f, "{}: the file is incomplete; copy it from the phone again", path.display())
            }
            Error::NobodyThere { path, x, y, width, height, cause } => write!(
                f,
                "{}: no swing was found at {x:.0},{y:.0} ({cause}); point to the hitter's body at stance, in px from the upper left corner of the {width}×{height} frame, or leave out --hitter",
                path.display()
            ),
            Error::SpeedChanges { path, cause } => {
                write!(f, "{}: {}", path.display(), super::speed_change_of(*cause))
            }
            Error::Decode { path, cause } => write!(
                f,
                "{}: decoding failed ({cause}); copy the file again or cut out the damaged part",
                path.display()
            ),
            Error::Unwritable { path, cause } => {
                write!(f, "{}: cannot be written ({cause}); choose another place", path.display())
            }
            Error::Ending { path, has, made } => {
                write!(f, "{}: its name {has}; use {made}", path.display())
            }
            Error::Encode { path, cause } => write!(f, "{}: encoding failed ({cause})", path.display()),
            Error::Verify { path, cause } => write!(
                f,
                "{}: the new file failed its check ({cause}) and was deleted; try again or choose another --size",
                path.display()
            ),
            Error::OutputIsInput { path } => {
                write!(f, "{}: is one of the inputs; choose another name with -o", path.display())
            }
            Error::NoSound { path, cause } => write!(
                f,
                "{}: has no usable audio ({cause}); record the note again and give an audio or video file",
                path.display()
            ),
            Error::SizeUnmet { path, smallest } => write!(
                f,
                "{}: cannot be that small; at this resolution and length it takes {}: raise --max-size or choose a smaller --size",
                path.display(),
                playable::bytes_up(*smallest)
            ),
            Error::OverLimit { path, bound, has, most } => write!(
                f,
                "{}: has {} {}, over the limit of {}; if that is intended, allow it with --limit {}={}",
                path.display(),
                shown(*has),
                counts(*bound),
                shown(*most),
                bound.word(),
                has.ceil()
            ),
            Error::Keypoints { path, cause } => write!(
                f,
                "{}: is not a usable keypoint file ({cause}); give COCO keypoint JSON",
                path.display()
            ),
            Error::Plan { path, cause } => write!(
                f,
                "{}: is not a usable shot plan ({cause}); `swingpair plan` prints one to start from",
                path.display()
            ),
            Error::Lesson { path, cause } => write!(
                f,
                "{}: is not a usable lesson file ({cause}); `swingpair lesson --new FOLDER` drafts one",
                path.display()
            ),
            Error::Captions { path, cause } => write!(
                f,
                "{}: is not a usable captions file ({cause}); `swingpair captions` prints the English one to start from",
                path.display()
            ),
            Error::KnownLength { path, cause } => write!(
                f,
                "{}: the known length cannot be used ({cause}); mark two points in the first frame, in px from its upper left corner",
                path.display()
            ),
            Error::Sidecar { path, cause } => write!(
                f,
                "{}: is not a usable sidecar ({cause}); delete it and read the clip again",
                path.display()
            ),
            Error::NotLinedUp { cause } => write!(f, "the two clips cannot be lined up: {cause}"),
            Error::Unpairable { cause } => write!(f, "the two readings cannot be paired: {cause}"),
            Error::Glyph { character, text } => write!(
                f,
                "“{text}” contains the character {character} (U+{:04X}), which the built-in font cannot draw; use other characters",
                u32::from(*character)
            ),
            Error::Net { cause } => write!(f, "the pose model failed: {cause}"),
            Error::Internal(text) => {
                write!(f, "this is a bug in swingpair ({text}); please report it with the command you ran")
            }
            Error::Usage(text) => write!(f, "{text}"),
            Error::WorkerLost => write!(f, "a worker thread stopped unexpectedly"),
            Error::Cancelled => write!(f, "interrupted"),
        }
    }
}

impl Error {
    /// The error for an I/O failure while opening `path` for reading.
    pub fn reading(path: &Path, cause: std::io::Error) -> Self {
        let path = path.to_owned();
        match cause.kind() {
            ErrorKind::NotFound => Self::Missing { path },
            _ => Self::Unreadable { path, cause: Cause::of(cause) },
        }
    }

    /// The error for an I/O failure while writing `path`.
    pub fn writing(path: &Path, cause: std::io::Error) -> Self {
        use ErrorKind::{
            FileTooLarge, NotFound, PermissionDenied, QuotaExceeded, ReadOnlyFilesystem, StorageFull,
        };
        let words = match cause.kind() {
            StorageFull | QuotaExceeded => "the disk is full".to_owned(),
            FileTooLarge => "the file is too large for this disk".to_owned(),
            ReadOnlyFilesystem => "the disk is read-only".to_owned(),
            PermissionDenied => "you do not have permission to write there".to_owned(),
            NotFound => "its folder no longer exists".to_owned(),
            _ => cause.to_string(),
        };
        Self::Unwritable { path: path.to_owned(), cause: Cause::told(words, cause) }
    }
}

/// What a number of it counts, as in “holds 50 tracks”.
const fn counts(bound: Bound) -> &'static str {
    match bound {
        Bound::Pixels => "pixels per frame",
        Bound::Pictures => "frames",
        Bound::Minutes => "minutes",
        Bound::Tracks => "tracks",
        Bound::KeypointsMb => "MB",
        Bound::PlanKb => "KB",
    }
}

/// A number to one place, the last half of it never against the limit: rounded up.
fn shown(number: f64) -> f64 {
    (number * 10.0).ceil() / 10.0
}
