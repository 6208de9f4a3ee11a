//! Two runs on one clip: what one keeps must not undo what the other kept meanwhile.

use std::fs::{File, TryLockError};
use std::path::Path;
use std::thread::sleep;
use std::time::Duration;

/// The right to look at what is kept in a folder and replace it; given back when dropped. A lock on the folder itself,
/// so that no file of its own lies about; it ends with the process, however that ends.
#[derive(Debug)]
pub(super) struct Turn {
    _folder: Option<File>,
}

/// How often and how long it is waited for another run, which needs its turn for some ms: 3 s in all.
const TRIES: usize = 150;
const PAUSE: Duration = Duration::from_millis(20);

impl Turn {
    /// Wait for it. Where folders cannot be locked, or somebody holds one for long, the work goes on without: each
    /// file is replaced in one step all the same, only the last of two runs wins.
    pub(super) fn take(folder: &Path) -> Self {
        let without = Self { _folder: None };
        let Ok(file) = File::open(folder) else { return without };
        for _ in 0..TRIES {
            match file.try_lock() {
                Ok(()) => return Self { _folder: Some(file) },
                Err(TryLockError::WouldBlock) => sleep(PAUSE),
                Err(TryLockError::Error(_)) => break,
            }
        }
        without
    }
}
