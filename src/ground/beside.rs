//! Unfinished files: written beside their place under a name of their own, and cleared away when a run could not.

use std::fs::{self, File};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Names begin so, followed by the number of the process.
const MARK: &str = ".swingpair-";
/// Where it cannot be asked whether a process still runs, a leftover is one that is this old, s.
const OLD_S: u64 = 24 * 3600;

/// The folder that `path` lies in.
pub fn folder(path: &Path) -> &Path {
    match path.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    }
}

/// A new empty file beside `target`; `ending` without a dot. Not made of the target's name, so that a long name does
/// not grow past what a disk takes. What runs that were killed left in this folder is removed first.
pub fn create_beside(target: &Path, ending: &str) -> std::io::Result<(File, PathBuf)> {
    let folder = folder(target);
    clear(folder);
    for attempt in 0..1000 {
        let path = folder.join(format!("{MARK}{}-{attempt}.tmp.{ending}", std::process::id()));
        match File::create_new(&path) {
            Ok(file) => return Ok((file, path)),
            Err(e) if e.kind() == ErrorKind::AlreadyExists => (),
            Err(e) => return Err(e),
        }
    }
    Err(std::io::Error::other("the folder is full of unfinished files of this program"))
}

/// Remove unfinished files of processes that no longer run. What cannot be looked at or removed is left.
fn clear(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let Some(process) = name.to_str().and_then(process_of) else { continue };
        let file = entry.file_type().is_ok_and(|t| t.is_file());
        if file && process != std::process::id() && ended(process, &entry.path()) {
            // Someone else may have cleared it meanwhile.
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// The process that an unfinished file belongs to.
fn process_of(name: &str) -> Option<u32> {
    let (process, rest) = name.strip_prefix(MARK)?.split_once('-')?;
    rest.contains(".tmp.").then(|| process.parse().ok())?
}

fn ended(process: u32, path: &Path) -> bool {
    let processes = Path::new("/proc");
    if processes.join("self").exists() {
        // A folder shared between computers: another one's number says nothing here, its age does.
        return !processes.join(process.to_string()).exists() && age_s(path).is_some_and(|s| s > 60);
    }
    age_s(path).is_some_and(|s| s > OLD_S)
}

fn age_s(path: &Path) -> Option<u64> {
    let changed = fs::metadata(path).and_then(|m| m.modified()).ok()?;
    changed.elapsed().ok().map(|age| age.as_secs())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_killed_run_left_is_cleared_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        // Above the largest number that Linux gives to a process.
        let dead = folder.path().join(".swingpair-4194305-0.tmp.mp4");
        let fresh = folder.path().join(".swingpair-4194305-1.tmp.mp4");
        let running = folder.path().join(format!(".swingpair-{}-7.tmp.json", std::process::id()));
        let other = folder.path().join(".swingpair-notes-0.tmp.mp4");
        for path in [&dead, &fresh, &running, &other] {
            fs::write(path, "x").unwrap();
        }
        let long_ago = std::time::SystemTime::now() - std::time::Duration::from_secs(2 * OLD_S);
        for path in [&dead, &running, &other] {
            File::options().write(true).open(path).unwrap().set_modified(long_ago).unwrap();
        }
        let (_, path) = create_beside(&folder.path().join("clip.mp4"), "mp4").unwrap();
        assert!(path.exists() && !dead.exists());
        for kept in [&fresh, &running, &other] {
            assert!(kept.exists(), "{}", kept.display());
        }
    }

    #[test]
    fn two_at_once_get_names_of_their_own() {
        let folder = tempfile::tempdir().unwrap();
        let target = folder.path().join("clip.mp4");
        let (_, a) = create_beside(&target, "mp4").unwrap();
        let (_, b) = create_beside(&target, "mp4").unwrap();
        assert_ne!(a, b);
    }
}
