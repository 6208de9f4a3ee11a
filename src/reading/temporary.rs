//! A folder for a run's own use, held by a lock, so that one which a killed run left is known and cleared by the next.

use std::fs::{self, File, TryLockError};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use crate::messages::swing_search as messages;
use crate::types::{Error, Result};

const PREFIX: &str = "swingpair-reps-";

/// Gone when dropped.
pub struct Temporary {
    place: PathBuf,
    _held: File,
}

impl Temporary {
    /// A new one inside `base`; what killed runs left there is cleared first.
    pub fn folder(base: &Path) -> Result<Self> {
        for left in fs::read_dir(base).into_iter().flatten().flatten() {
            if left.file_name().to_str().is_some_and(|name| name.starts_with(PREFIX)) {
                clear(&left.path());
            }
        }
        for n in 0..1000 {
            let place = base.join(format!("{PREFIX}{}-{n}", std::process::id()));
            match fs::create_dir(&place) {
                Ok(()) => {
                    if let Some(held) = hold(&place) {
                        return Ok(Self { place, _held: held });
                    }
                    // Cleared by another run before it was held.
                }
                Err(e) if e.kind() == ErrorKind::AlreadyExists => (),
                Err(e) => return Err(Error::writing(&place, e)),
            }
        }
        Err(Error::Unwritable { path: base.to_owned(), cause: messages::FOLDER_FULL.into() })
    }

    pub fn place(&self) -> &Path {
        &self.place
    }
}

impl Drop for Temporary {
    fn drop(&mut self) {
        // What cannot be removed is tried again by the next run.
        let _ = fs::remove_dir_all(&self.place);
    }
}

/// Removes a folder that nobody holds. The lock is kept until it is gone: who made it a moment ago and waits for the
/// lock is told, instead of working in a folder that is being removed.
fn clear(left: &Path) {
    let Ok(held) = File::open(left) else { return };
    if held.try_lock().is_ok() {
        // Somebody else's stays: it is not ours to take away.
        let _ = fs::remove_dir_all(left);
    }
}

/// Locks a folder just made; `None`: another run took it for a leftover.
fn hold(place: &Path) -> Option<File> {
    let held = File::open(place).ok()?;
    match held.try_lock() {
        Err(TryLockError::WouldBlock) => None,
        // A file system without locks leaves it to be cleared by hand after a kill.
        Ok(()) | Err(TryLockError::Error(_)) => is_still(&held, place).then_some(held),
    }
}

/// Whether the name still leads to what was opened by it.
fn is_still(held: &File, place: &Path) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        matches!((held.metadata(), fs::metadata(place)), (Ok(a), Ok(b)) if (a.dev(), a.ino()) == (b.dev(), b.ino()))
    }
    #[cfg(not(unix))]
    {
        let _ = held;
        place.is_dir()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_killed_run_left_is_cleared_and_what_runs_is_not() {
        let base = tempfile::tempdir().unwrap();
        let left = base.path().join(format!("{PREFIX}left"));
        let foreign = base.path().join("another");
        fs::create_dir_all(left.join("inside")).unwrap();
        fs::create_dir(&foreign).unwrap();
        let running = Temporary::folder(base.path()).unwrap();
        assert!(!left.exists() && running.place().is_dir() && foreign.is_dir());
        let other = Temporary::folder(base.path()).unwrap();
        assert!(running.place().is_dir() && other.place().is_dir() && running.place() != other.place());
        let place = running.place().to_owned();
        drop(running);
        assert!(!place.exists());
    }

    #[test]
    fn a_folder_that_another_run_cleared_is_not_held() {
        let base = tempfile::tempdir().unwrap();
        let place = base.path().join("one");
        fs::create_dir(&place).unwrap();
        // The other run has it and is about to remove it.
        let other = File::open(&place).unwrap();
        other.try_lock().unwrap();
        assert!(hold(&place).is_none());
        // It was opened, then removed and made again by somebody else.
        let held = File::open(&place).unwrap();
        assert!(is_still(&held, &place));
        fs::rename(&place, base.path().join("gone")).unwrap();
        assert!(!is_still(&held, &place));
        fs::create_dir(&place).unwrap();
        assert!(!is_still(&held, &place));
    }

    /// Runs that begin at once clear leftovers while the others make theirs.
    #[test]
    fn runs_that_begin_at_once_keep_their_folders() {
        let base = tempfile::tempdir().unwrap();
        std::thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| {
                    for _ in 0..60 {
                        let own = Temporary::folder(base.path()).unwrap();
                        let film = own.place().join("film");
                        fs::write(&film, "x").unwrap();
                        assert!(film.is_file());
                    }
                });
            }
        });
        assert_eq!(fs::read_dir(base.path()).unwrap().count(), 0);
    }
}
