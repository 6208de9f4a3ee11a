use std::path::PathBuf;

use super::limits::Bound;
use super::{NoSwing, SpeedChange, Spoilt};

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
        cause: NoSwing,
    },
    Damaged {
        path: PathBuf,
        damage: Spoilt,
        cause: NoSwing,
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
        cause: NoSwing,
    },
    SpeedChanges {
        path: PathBuf,
        cause: SpeedChange,
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
    Captions {
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
