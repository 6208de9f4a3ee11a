use std::path::{Path, PathBuf};

use super::limits::Bound;

pub type Result<T> = std::result::Result<T, Error>;

/// Everything that can go wrong. Its sentence stands in `messages/errors.rs`.
#[derive(Debug)]
pub enum Error {
    Missing {
        path: PathBuf,
    },
    Unreadable {
        path: PathBuf,
        cause: String,
    },
    Empty {
        path: PathBuf,
    },
    NotVideo {
        path: PathBuf,
        cause: String,
    },
    TooShort {
        path: PathBuf,
        frames: usize,
    },
    NoPerson {
        path: PathBuf,
    },
    NoSwing {
        path: PathBuf,
        cause: String,
    },
    Damaged {
        path: PathBuf,
        damage: String,
        cause: String,
    },
    CutShort {
        path: PathBuf,
    },
    NobodyThere {
        path: PathBuf,
        x: f64,
        y: f64,
        width: usize,
        height: usize,
        cause: String,
    },
    SpeedChanges {
        path: PathBuf,
        cause: String,
    },
    Decode {
        path: PathBuf,
        cause: String,
    },
    Unwritable {
        path: PathBuf,
        cause: String,
    },
    Ending {
        path: PathBuf,
        has: String,
        made: String,
    },
    Encode {
        path: PathBuf,
        cause: String,
    },
    Verify {
        path: PathBuf,
        cause: String,
    },
    OutputIsInput {
        path: PathBuf,
    },
    NoSound {
        path: PathBuf,
        cause: String,
    },
    SizeUnmet {
        path: PathBuf,
        smallest: u64,
    },
    OverLimit {
        path: PathBuf,
        bound: Bound,
        has: f64,
        most: f64,
    },
    Keypoints {
        path: PathBuf,
        cause: String,
    },
    Plan {
        path: PathBuf,
        cause: String,
    },
    Lesson {
        path: PathBuf,
        cause: String,
    },
    KnownLength {
        path: PathBuf,
        cause: String,
    },
    Sidecar {
        path: PathBuf,
        cause: String,
    },
    NotLinedUp {
        cause: String,
    },
    Unpairable {
        cause: String,
    },
    Glyph {
        character: char,
        text: String,
    },
    Net {
        cause: String,
    },
    /// Something a person typed.
    Usage(String),
    /// Nobody's fault but the program's.
    Internal(String),
    WorkerLost,
    Cancelled,
}

impl std::error::Error for Error {}

impl Error {
    /// The fitting error for an I/O failure while opening `path` for reading.
    pub fn reading(path: &Path, cause: &std::io::Error) -> Self {
        let path = path.to_owned();
        match cause.kind() {
            std::io::ErrorKind::NotFound => Self::Missing { path },
            _ => Self::Unreadable { path, cause: cause.to_string() },
        }
    }

    /// The fitting error for an I/O failure while writing `path`.
    pub fn writing(path: &Path, cause: &std::io::Error) -> Self {
        use std::io::ErrorKind::{
            FileTooLarge, NotFound, PermissionDenied, QuotaExceeded, ReadOnlyFilesystem, StorageFull,
        };
        let cause = match cause.kind() {
            StorageFull | QuotaExceeded => "the disk is full".to_owned(),
            FileTooLarge => "this disk takes no file as large as that".to_owned(),
            ReadOnlyFilesystem => "the disk may only be read".to_owned(),
            PermissionDenied => "you may not write there".to_owned(),
            NotFound => "its folder is not there any more".to_owned(),
            _ => cause.to_string(),
        };
        Self::Unwritable { path: path.to_owned(), cause }
    }
}
