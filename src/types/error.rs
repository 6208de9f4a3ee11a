use std::path::PathBuf;

use super::limits::Bound;
use super::{Cause, NoSwing, SpeedChange, Spoilt};

pub type Result<T> = std::result::Result<T, Error>;

/// Everything that can go wrong. Its sentence stands in `messages/errors.rs`.
#[derive(Debug)]
pub enum Error {
    Missing {
        path: PathBuf,
    },
    Unreadable {
        path: PathBuf,
        cause: Cause,
    },
    Empty {
        path: PathBuf,
    },
    NotVideo {
        path: PathBuf,
        cause: Cause,
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
        cause: Cause,
    },
    Unwritable {
        path: PathBuf,
        cause: Cause,
    },
    Ending {
        path: PathBuf,
        has: String,
        made: String,
    },
    Encode {
        path: PathBuf,
        cause: Cause,
    },
    Verify {
        path: PathBuf,
        cause: Cause,
    },
    OutputIsInput {
        path: PathBuf,
    },
    NoSound {
        path: PathBuf,
        cause: Cause,
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
        cause: Cause,
    },
    Plan {
        path: PathBuf,
        cause: Cause,
    },
    Lesson {
        path: PathBuf,
        cause: Cause,
    },
    Captions {
        path: PathBuf,
        cause: Cause,
    },
    KnownLength {
        path: PathBuf,
        cause: Cause,
    },
    Sidecar {
        path: PathBuf,
        cause: Cause,
    },
    NotLinedUp {
        cause: Cause,
    },
    Unpairable {
        cause: Cause,
    },
    Glyph {
        character: char,
        text: String,
    },
    Net {
        cause: Cause,
    },
    /// Something a person typed.
    Usage(String),
    /// Nobody's fault but the program's.
    Internal(String),
    WorkerLost,
    Cancelled,
}

impl std::error::Error for Error {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::NoSwing { cause, .. } | Self::Damaged { cause, .. } | Self::NobodyThere { cause, .. } => {
                Some(cause)
            }
            Self::Unreadable { cause, .. }
            | Self::NotVideo { cause, .. }
            | Self::Decode { cause, .. }
            | Self::Unwritable { cause, .. }
            | Self::Encode { cause, .. }
            | Self::Verify { cause, .. }
            | Self::NoSound { cause, .. }
            | Self::Keypoints { cause, .. }
            | Self::Plan { cause, .. }
            | Self::Lesson { cause, .. }
            | Self::Captions { cause, .. }
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
