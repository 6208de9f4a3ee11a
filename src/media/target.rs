//! Where a made file goes: first beside its place under another name, and into it when it is good.

use std::fs::{self, File};
use std::path::{Path, PathBuf};

use crate::ground::{Error, Result};

/// A file being made beside `target`; gone when dropped before [`Target::keep`].
#[derive(Debug)]
pub(super) struct Target {
    target: PathBuf,
    temporary: PathBuf,
    kept: bool,
}

impl Target {
    /// Reserve a temporary name beside `target`. Fails when the folder is missing or closed.
    pub(super) fn beside(target: &Path) -> Result<Self> {
        let refused = |cause: &str| Error::Unwritable { path: target.to_owned(), cause: cause.into() };
        let name = target.file_name().ok_or_else(|| refused("it is not a file name"))?;
        if target.is_dir() {
            return Err(refused("it is a folder"));
        }
        let folder = match target.parent() {
            Some(p) if !p.as_os_str().is_empty() => p,
            _ => Path::new("."),
        };
        if !folder.is_dir() {
            return Err(refused("its folder does not exist"));
        }
        for attempt in 0..1000 {
            let mut hidden = std::ffi::OsString::from(".");
            hidden.push(name);
            hidden.push(format!(".swingpair-{}-{attempt}.tmp.mp4", std::process::id()));
            let temporary = folder.join(hidden);
            match File::create_new(&temporary) {
                Ok(_) => return Ok(Self { target: target.to_owned(), temporary, kept: false }),
                Err(e) if e.kind() == std::io::ErrorKind::AlreadyExists => (),
                Err(e) => return Err(Error::writing(target, &e)),
            }
        }
        Err(refused("the folder is full of unfinished files of this program"))
    }

    pub(super) fn temporary(&self) -> &Path {
        &self.temporary
    }

    pub(super) fn path(&self) -> &Path {
        &self.target
    }

    /// The file is good: make sure it is on disk, then give it its name.
    pub(super) fn keep(mut self) -> Result<()> {
        let failed = |e: std::io::Error| Error::writing(&self.target, &e);
        File::open(&self.temporary).and_then(|f| f.sync_all()).map_err(failed)?;
        fs::rename(&self.temporary, &self.target).map_err(failed)?;
        self.kept = true;
        Ok(())
    }
}

impl Drop for Target {
    fn drop(&mut self) {
        if !self.kept {
            // Nothing can be done about a leftover that cannot be removed.
            let _ = fs::remove_file(&self.temporary);
        }
    }
}

/// Whether two paths lead to one file, by name, by link or by hard link. False when either is missing.
pub fn same_file(a: &Path, b: &Path) -> bool {
    #[cfg(unix)]
    if let (Ok(a), Ok(b)) = (fs::metadata(a), fs::metadata(b)) {
        use std::os::unix::fs::MetadataExt;
        return a.dev() == b.dev() && a.ino() == b.ino();
    }
    matches!((fs::canonicalize(a), fs::canonicalize(b)), (Ok(a), Ok(b)) if a == b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unfinished_files_go_away() {
        let folder = tempfile::tempdir().unwrap();
        let target = folder.path().join("clip.mp4");
        let made = Target::beside(&target).unwrap();
        assert!(made.temporary().exists());
        drop(made);
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
        Target::beside(&target).unwrap().keep().unwrap();
        assert!(target.exists());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn bad_places_are_refused() {
        let folder = tempfile::tempdir().unwrap();
        for bad in [folder.path().to_owned(), folder.path().join("no/clip.mp4"), PathBuf::from("/")] {
            assert!(matches!(Target::beside(&bad), Err(Error::Unwritable { .. })), "{bad:?}");
        }
    }

    #[test]
    fn one_file_under_two_names() {
        let folder = tempfile::tempdir().unwrap();
        let (a, b) = (folder.path().join("a"), folder.path().join("b"));
        fs::write(&a, "x").unwrap();
        assert!(!same_file(&a, &b));
        fs::hard_link(&a, &b).unwrap();
        assert!(same_file(&a, &b));
        assert!(same_file(&a, &folder.path().join(".").join("a")));
        fs::remove_file(&b).unwrap();
        fs::write(&b, "x").unwrap();
        assert!(!same_file(&a, &b));
    }
}
