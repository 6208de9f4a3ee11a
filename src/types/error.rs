use std::path::PathBuf;

use super::limits::Bound;

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
    Unreadable { path: PathBuf, cause: String },
    /// It is empty.
    Empty { path: PathBuf },
    /// It is no video that can be read.
    NotVideo { path: PathBuf, cause: String },
    /// It has too few pictures; `frames`: how many.
    TooShort { path: PathBuf, frames: usize },
    /// Nobody is seen in it.
    NoPerson { path: PathBuf },
    /// No swing is seen in it.
    NoSwing { path: PathBuf, cause: String },
    /// Damage is why nothing is read; `damage`: what of the file.
    Damaged { path: PathBuf, damage: String, cause: String },
    /// Its end is missing.
    CutShort { path: PathBuf },
    /// Nobody is at the place given, px of the upright picture, which is `width` × `height`.
    NobodyThere { path: PathBuf, x: f64, y: f64, width: usize, height: usize, cause: String },
    /// Its clock is no measure: a part plays slower than the rest.
    SpeedChanges { path: PathBuf, cause: String },
    /// A picture or its sound cannot be decoded.
    Decode { path: PathBuf, cause: String },
    /// It cannot be written.
    Unwritable { path: PathBuf, cause: String },
    /// A file of the ending `has` is not made, but `made` are.
    Ending { path: PathBuf, has: String, made: String },
    /// A picture cannot be coded.
    Encode { path: PathBuf, cause: String },
    /// What was written does not read back as it should.
    Verify { path: PathBuf, cause: String },
    /// What shall be written is what is read.
    OutputIsInput { path: PathBuf },
    /// It has no sound that can be read.
    NoSound { path: PathBuf, cause: String },
    /// It cannot be as small as asked; `smallest`: as it was made smallest, bytes.
    SizeUnmet { path: PathBuf, smallest: u64 },
    /// More than is taken on: `has`, of at most `most`, in the unit of `bound`.
    OverLimit { path: PathBuf, bound: Bound, has: f64, most: f64 },
    /// A keypoint file that cannot be understood.
    Keypoints { path: PathBuf, cause: String },
    /// A plan that cannot be understood.
    Plan { path: PathBuf, cause: String },
    /// A lesson that cannot be understood.
    Lesson { path: PathBuf, cause: String },
    /// A file of captions that cannot be understood.
    Captions { path: PathBuf, cause: String },
    /// A known length that cannot be one.
    KnownLength { path: PathBuf, cause: String },
    /// What is kept beside a clip cannot be used or changed.
    Sidecar { path: PathBuf, cause: String },
    /// Two clips are not lined up.
    NotLinedUp { cause: String },
    /// Two readings share no event.
    Unpairable { cause: String },
    /// A letter that the fonts lack.
    Glyph { character: char, text: String },
    /// A net cannot be run.
    Net { cause: String },
    /// Something a person typed.
    Usage(String),
    /// Nobody's fault but the program's.
    Internal(String),
    /// A thread broke.
    WorkerLost,
    /// The work was stopped from outside.
    Cancelled,
}

impl std::error::Error for Error {}
