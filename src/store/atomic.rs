//! Everything that is written goes first beside its place, under a name of its own, and into it when it is good: so
//! the place holds the whole new file or what it held before, whenever a run ends. What a killed run left is cleared
//! by the next one in that folder.

use std::fs::{self, File};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use crate::messages::files as messages;
use crate::types::{Error, Result};

/// Names begin so, followed by the number of the process.
const MARK: &str = ".swingpair-";
/// Where locks are not known, a leftover is one that is this old, s.
const OLD_S: u64 = 24 * 3600;

/// The folder that `path` lies in.
pub fn folder(path: &Path) -> &Path {
    match path.parent() {
        Some(p) if !p.as_os_str().is_empty() => p,
        _ => Path::new("."),
    }
}

/// A file being made beside its place; gone when dropped before [`AtomicFile::keep`].
#[derive(Debug)]
pub struct AtomicFile {
    place: PathBuf,
    /// Where the place's name leads when it is a link: the link stays one.
    target: PathBuf,
    temporary: PathBuf,
    /// Holds the lock that shows other runs that someone still writes; it ends with the process, however that ends.
    file: File,
    kept: bool,
}

impl AtomicFile {
    /// Begin a file that shall get the name `place`. Refused when its folder is missing or closed, when something
    /// else than an ordinary file has the name or the name cannot be given, and when a file there is write-protected.
    pub fn beside(place: &Path) -> Result<Self> {
        let target = place_to_write(place)?;
        let folder = folder(&target);
        clear(folder);
        // Not made of the target's name, so that a long name does not grow past what a disk takes.
        let ending = target.extension().and_then(|e| e.to_str()).unwrap_or("part");
        for attempt in 0..1000 {
            let name = format!("{MARK}{}-{attempt}.tmp.{ending}", std::process::id());
            let temporary = folder.join(name);
            match File::options().read(true).write(true).create_new(true).open(&temporary) {
                Ok(file) if hold(&file, &temporary) => {
                    return Ok(Self { place: place.to_owned(), target, temporary, file, kept: false });
                }
                // Cleared by another run before it was held.
                Ok(_) => (),
                Err(e) if e.kind() == ErrorKind::AlreadyExists => (),
                Err(e) => return Err(Error::writing(place, e)),
            }
        }
        Err(refused(place, messages::FOLDER_FULL))
    }

    /// Where it is written for now.
    pub fn temporary(&self) -> &Path {
        &self.temporary
    }

    /// Where it shall go, as it was asked for.
    pub fn place(&self) -> &Path {
        &self.place
    }

    /// Another one that was made at [`AtomicFile::temporary`] took its name: hold that from now on.
    pub fn replaced(&mut self) -> Result<()> {
        let failed = |e: std::io::Error| Error::writing(&self.place, e);
        let file = File::options().read(true).write(true).open(&self.temporary).map_err(failed)?;
        if !hold(&file, &self.temporary) {
            return Err(refused(&self.place, messages::TAKEN_AWAY));
        }
        self.file = file;
        Ok(())
    }

    /// The file is good: make sure it is on disk, then give it its name.
    pub fn keep(mut self) -> Result<()> {
        let failed = |e: std::io::Error| Error::writing(&self.place, e);
        if let Ok(before) = fs::metadata(&self.target) {
            // A file that only its owner may see stays one.
            self.file.set_permissions(before.permissions()).map_err(failed)?;
        }
        self.file.sync_all().map_err(failed)?;
        fs::rename(&self.temporary, &self.target).map_err(failed)?;
        self.kept = true;
        // The new name too should outlive a power cut. Not every system lets a folder be opened for
        // that; the file itself is whole either way.
        let _ = File::open(folder(&self.target)).and_then(|f| f.sync_all());
        Ok(())
    }
}

impl Drop for AtomicFile {
    fn drop(&mut self) {
        if !self.kept {
            // Nothing can be done about a leftover that cannot be removed.
            let _ = fs::remove_file(&self.temporary);
        }
    }
}

/// Write a whole small file: first beside its place, read back and compared, then given its name.
pub fn write_file(place: &Path, bytes: &[u8]) -> Result<()> {
    let mut made = AtomicFile::beside(place)?;
    let failed = |e: std::io::Error| Error::writing(place, e);
    made.file.write_all(bytes).map_err(failed)?;
    if fs::read(made.temporary()).map_err(failed)? != bytes {
        return Err(Error::Verify { path: place.to_owned(), cause: messages::READS_BACK_CHANGED.into() });
    }
    made.keep()
}

fn refused(place: &Path, cause: &str) -> Error {
    Error::Unwritable { path: place.to_owned(), cause: cause.into() }
}

/// Where `place` leads, when a file can be written there.
fn place_to_write(place: &Path) -> Result<PathBuf> {
    if place.file_name().is_none() {
        return Err(refused(place, messages::NOT_A_NAME));
    }
    match fs::metadata(place) {
        Ok(facts) if facts.is_dir() => return Err(refused(place, messages::IS_A_FOLDER)),
        Ok(facts) if !facts.is_file() => return Err(refused(place, messages::NOT_A_REGULAR_FILE)),
        Ok(facts) if facts.permissions().readonly() => {
            return Err(refused(place, messages::WRITE_PROTECTED));
        }
        Ok(_) if place.is_symlink() => {
            return fs::canonicalize(place).map_err(|e| Error::writing(place, e));
        }
        Ok(_) => (),
        Err(e) if e.kind() == ErrorKind::NotFound && place.is_symlink() => {
            return Err(refused(place, messages::BROKEN_LINK));
        }
        Err(e) if e.kind() == ErrorKind::NotFound => (),
        // A name too long, a folder that may not be looked into, a file in a folder's place.
        Err(e) => return Err(Error::writing(place, e)),
    }
    if !folder(place).is_dir() {
        return Err(refused(place, messages::NO_FOLDER));
    }
    Ok(place.to_owned())
}

/// Lock a new file for as long as it is open. False when another run took it for a leftover before that.
fn hold(file: &File, path: &Path) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        // Where locks are not known the age decides; see `abandoned`.
        let _ = file.lock();
        matches!((file.metadata(), fs::metadata(path)), (Ok(a), Ok(b)) if a.ino() == b.ino())
    }
    #[cfg(not(unix))]
    {
        // Elsewhere a lock would keep the encoder from writing through a handle of its own.
        let _ = (file, path);
        true
    }
}

/// Remove unfinished files that nobody writes any more. What cannot be looked at or removed is left.
fn clear(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let ours = entry.file_name().to_str().is_some_and(is_unfinished);
        if ours && entry.file_type().is_ok_and(|t| t.is_file()) {
            remove_if_abandoned(&entry.path());
        }
    }
}

fn is_unfinished(name: &str) -> bool {
    let parts = name.strip_prefix(MARK).and_then(|rest| rest.split_once('-'));
    parts.is_some_and(|(process, rest)| process.parse::<u32>().is_ok() && rest.contains(".tmp."))
}

fn remove_if_abandoned(path: &Path) {
    #[cfg(unix)]
    {
        let Ok(file) = File::open(path) else { return };
        match file.try_lock() {
            // Removed while the lock is held, so that nobody begins to write it meanwhile.
            Ok(()) => {
                // Someone else may have cleared it.
                let _ = fs::remove_file(path);
                return;
            }
            Err(fs::TryLockError::WouldBlock) => return,
            Err(fs::TryLockError::Error(_)) => (),
        }
    }
    let changed = fs::metadata(path).and_then(|m| m.modified()).ok();
    if changed.and_then(|c| c.elapsed().ok()).is_some_and(|age| age.as_secs() > OLD_S) {
        // Someone else may have cleared it.
        let _ = fs::remove_file(path);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> =
            fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }

    #[test]
    fn unfinished_files_go_away() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("clip.mp4");
        let made = AtomicFile::beside(&place).unwrap();
        assert!(made.temporary().exists());
        drop(made);
        assert_eq!(names(folder.path()), [""; 0]);
        AtomicFile::beside(&place).unwrap().keep().unwrap();
        assert_eq!(names(folder.path()), ["clip.mp4"]);
    }

    #[test]
    fn bad_places_are_refused() {
        let folder = tempfile::tempdir().unwrap();
        for bad in [folder.path().to_owned(), folder.path().join("no/clip.mp4"), PathBuf::from("/")] {
            assert!(matches!(AtomicFile::beside(&bad), Err(Error::Unwritable { .. })), "{bad:?}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn what_nobody_writes_any_more_is_cleared_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let running = AtomicFile::beside(&at("other.mp4")).unwrap();
        let others = [".swingpair-notes-0.tmp.mp4", ".swingpair-7-0.mp4", "swingpair-7-0.tmp.mp4"];
        for name in others.into_iter().chain([".swingpair-7-0.tmp.mp4", ".swingpair-8-trace.tmp.jsonl"]) {
            fs::write(at(name), "x").unwrap();
        }
        fs::create_dir(at(".swingpair-9-0.tmp.mp4")).unwrap();
        let made = AtomicFile::beside(&at("clip.mp4")).unwrap();
        assert!(running.temporary().exists() && made.temporary().exists());
        assert_ne!(running.temporary(), made.temporary());
        drop((running, made));
        let mut left = others.to_vec();
        left.push(".swingpair-9-0.tmp.mp4");
        left.sort_unstable();
        assert_eq!(names(folder.path()), left);
    }

    #[test]
    fn a_small_file_is_written_whole() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("sheet.png");
        write_file(&place, b"first").unwrap();
        write_file(&place, b"second").unwrap();
        assert_eq!(fs::read(&place).unwrap(), b"second");
        assert_eq!(names(folder.path()), ["sheet.png"]);
    }

    #[test]
    fn a_protected_file_stays() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("clip.mp4");
        fs::write(&place, "dear").unwrap();
        let mut rights = fs::metadata(&place).unwrap().permissions();
        rights.set_readonly(true);
        fs::set_permissions(&place, rights).unwrap();
        let reported = write_file(&place, b"new").unwrap_err().to_string();
        assert!(reported.contains("write-protected"), "{reported}");
        assert_eq!((fs::read(&place).unwrap(), names(folder.path()).len()), (b"dear".to_vec(), 1));
    }

    #[cfg(unix)]
    #[test]
    fn who_may_see_a_file_is_kept() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("clip.mp4");
        fs::write(&place, "old").unwrap();
        fs::set_permissions(&place, fs::Permissions::from_mode(0o600)).unwrap();
        write_file(&place, b"new").unwrap();
        assert_eq!(fs::metadata(&place).unwrap().permissions().mode() & 0o777, 0o600);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_a_link() {
        use std::os::unix::fs::symlink;
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        fs::create_dir(at("disk")).unwrap();
        fs::write(at("disk/clip.mp4"), "old").unwrap();
        symlink(at("disk/clip.mp4"), at("clip.mp4")).unwrap();
        write_file(&at("clip.mp4"), b"new").unwrap();
        assert!(at("clip.mp4").is_symlink());
        assert_eq!(fs::read(at("disk/clip.mp4")).unwrap(), b"new");
        symlink(at("disk/none.mp4"), at("lost.mp4")).unwrap();
        let reported = write_file(&at("lost.mp4"), b"new").unwrap_err().to_string();
        assert!(reported.contains("a link to a missing file"), "{reported}");
        assert!(at("lost.mp4").is_symlink());
    }
}
