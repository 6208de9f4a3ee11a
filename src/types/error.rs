use std::path::PathBuf;

use super::limits::Bound;
use super::{CaptionsFault, Cause, KeypointsFault, LessonFault, NoSwing, PlanFault, SpeedChange, Spoilt};

/// What the library's calls give.
pub type Result<T> = std::result::Result<T, Error>;

/// Everything that can go wrong. Its sentence stands in `messages/errors.rs`. Of all variants: `path` is the file, `cause`
/// why, in plain words.
#[expect(missing_docs, reason = "fields that all variants share are told above")]
#[derive(Debug)]
pub enum Error {
    /// There is no such file.
    Missing { path: PathBuf },
    /// It cannot be read.
    Unreadable { path: PathBuf, cause: Cause },
    /// It is empty.
    Empty { path: PathBuf },
    /// It is no video that can be read.
    NotVideo { path: PathBuf, cause: Cause },
    /// It has too few pictures; `frames`: how many.
    TooShort { path: PathBuf, frames: usize },
    /// Nobody is seen in it.
    NoPerson { path: PathBuf },
    /// No swing is seen in it.
    NoSwing { path: PathBuf, cause: NoSwing },
    /// Damage is why nothing is read; `damage`: what of the file.
    Damaged { path: PathBuf, damage: Spoilt, cause: NoSwing },
    /// Its end is missing.
    CutShort { path: PathBuf },
    /// Nobody is at the place given, px of the upright picture, which is `width` × `height`.
    NobodyThere { path: PathBuf, x: f64, y: f64, width: usize, height: usize, cause: NoSwing },
    /// Its clock is no measure: a part plays slower than the rest.
    SpeedChanges { path: PathBuf, cause: SpeedChange },
    /// A picture or its sound cannot be decoded.
    Decode { path: PathBuf, cause: Cause },
    /// It cannot be written.
    Unwritable { path: PathBuf, cause: Cause },
    /// A file of the ending `has` is not made, but `made` are.
    Ending { path: PathBuf, has: String, made: String },
    /// A picture cannot be coded.
    Encode { path: PathBuf, cause: Cause },
    /// What was written does not read back as it should.
    Verify { path: PathBuf, cause: Cause },
    /// What shall be written is what is read.
    OutputIsInput { path: PathBuf },
    /// It has no sound that can be read.
    NoSound { path: PathBuf, cause: Cause },
    /// It cannot be as small as asked; `smallest`: as it was made smallest, bytes.
    SizeUnmet { path: PathBuf, smallest: u64 },
    /// More than is taken on: `has`, of at most `most`, in the unit of `bound`.
    OverLimit { path: PathBuf, bound: Bound, has: f64, most: f64 },
    /// A keypoint file that cannot be understood.
    Keypoints { path: PathBuf, cause: KeypointsFault },
    /// A plan that cannot be understood.
    Plan { path: PathBuf, cause: PlanFault },
    /// A lesson that cannot be understood.
    Lesson { path: PathBuf, cause: LessonFault },
    /// A file of captions that cannot be understood.
    Captions { path: PathBuf, cause: CaptionsFault },
    /// A known length that cannot be one.
    KnownLength { path: PathBuf, cause: Cause },
    /// What is kept beside a clip cannot be used or changed.
    Sidecar { path: PathBuf, cause: Cause },
    /// Two clips are not lined up.
    NotLinedUp { cause: Cause },
    /// Two readings share no event.
    Unpairable { cause: Cause },
    /// A letter that the fonts lack.
    Glyph { character: char, text: String },
    /// A net cannot be run.
    Net { cause: Cause },
    /// Something a person typed.
    Usage(String),
    /// Nobody's fault but the program's.
    Internal(String),
    /// A thread broke.
    WorkerLost,
    /// The work was stopped from outside.
    Cancelled,
}

impl std::error::Error for Error {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::NoSwing { cause, .. } | Self::Damaged { cause, .. } | Self::NobodyThere { cause, .. } => {
                Some(cause)
            }
            Self::Keypoints { cause, .. } => Some(cause),
            Self::Plan { cause, .. } => Some(cause),
            Self::Lesson { cause, .. } => Some(cause),
            Self::Captions { cause, .. } => Some(cause),
            Self::Unreadable { cause, .. }
            | Self::NotVideo { cause, .. }
            | Self::Decode { cause, .. }
            | Self::Unwritable { cause, .. }
            | Self::Encode { cause, .. }
            | Self::Verify { cause, .. }
            | Self::NoSound { cause, .. }
            | Self::KnownLength { cause, .. }
            | Self::Sidecar { cause, .. }
            | Self::NotLinedUp { cause }
            | Self::Unpairable { cause }
            | Self::Net { cause } => cause.source(),
            Self::Missing { .. }
            | Self::Empty { .. }
            | Self::TooShort { .. }
            | Self::NoPerson { .. }
            | Self::CutShort { .. }
            | Self::SpeedChanges { .. }
            | Self::Ending { .. }
            | Self::OutputIsInput { .. }
            | Self::SizeUnmet { .. }
            | Self::OverLimit { .. }
            | Self::Glyph { .. }
            | Self::Usage(_)
            | Self::Internal(_)
            | Self::WorkerLost
            | Self::Cancelled => None,
        }
    }
}
