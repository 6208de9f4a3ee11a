//! Whether a file can be made where it is asked for, before long work is begun.

use std::fs;
use std::path::Path;

use crate::messages::media as messages;
use crate::store::AtomicFile;
use crate::types::{Error, Result};

/// Names of the one container that is written.
const CLIPS: [&str; 3] = ["mp4", "m4v", "mov"];

/// Whether [`super::Writer`] could write `target`, asked before long work is begun: its folder is there
/// and takes a file, it is not a folder itself, and its name ends in `.mp4`, `.m4v` or `.mov` (in
/// whatever case). Tries by making an empty file beside it, which is gone again on return.
pub fn check_target(target: &Path) -> Result<()> {
    check_target_of(target, &CLIPS)
}

/// The same for another kind of file, whose name ends in one of `endings` (without the dot).
pub fn check_target_of(target: &Path, endings: &[&str]) -> Result<()> {
    let ending = target.extension().and_then(|e| e.to_str()).unwrap_or_default();
    if !target.is_dir() && !endings.iter().any(|e| e.eq_ignore_ascii_case(ending)) {
        let has = if ending.is_empty() { messages::NO_ENDING.into() } else { messages::ends_in(ending) };
        let made = messages::endings(endings);
        return Err(Error::Ending { path: target.to_owned(), has, made });
    }
    AtomicFile::beside(target).map(drop)
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
    fn a_target_is_tried_before_the_work() {
        let folder = tempfile::tempdir().unwrap();
        for good in ["clip.mp4", "clip.MOV", "a.b.m4v"] {
            check_target(&folder.path().join(good)).unwrap();
        }
        fs::create_dir(folder.path().join("folder.mp4")).unwrap();
        fs::write(folder.path().join("file"), "x").unwrap();
        let long = format!("{}.mp4", "x".repeat(300));
        for (bad, word) in [
            ("clip.avi", "ends in .avi; use .mp4"),
            ("clip", "has no extension; use .mp4"),
            ("folder.mp4", "it is a folder"),
            ("no/clip.mp4", "its folder does not exist"),
            ("file/clip.mp4", "cannot be written"),
            (long.as_str(), "cannot be written"),
        ] {
            let got = check_target(&folder.path().join(bad)).unwrap_err();
            let kind = matches!(got, Error::Unwritable { .. }) || word.contains("use .mp4");
            assert!(kind && got.to_string().contains(word), "{bad}: {got}");
        }
        check_target(&folder.path().join(format!("{}.mp4", "x".repeat(250)))).unwrap();
        fs::remove_dir(folder.path().join("folder.mp4")).unwrap();
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn other_kinds_have_endings_of_their_own() {
        let folder = tempfile::tempdir().unwrap();
        let wrong = check_target_of(&folder.path().join("sheet.jpg"), &["png", "pdf"]).unwrap_err();
        let said = "its name ends in .jpg; use .png or .pdf";
        assert!(wrong.to_string().ends_with(said), "{wrong}");
        check_target_of(&folder.path().join("sheet.png"), &["png", "pdf"]).unwrap();
    }

    #[cfg(unix)]
    #[test]
    fn a_closed_folder_is_refused() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o500)).unwrap();
        // The administrator may write anywhere, so only others can be refused by a folder of theirs.
        let open_anyway = fs::write(folder.path().join("probe"), "").is_ok();
        let closed =
            if open_anyway { Path::new("/proc/clip.mp4").to_owned() } else { folder.path().join("clip.mp4") };
        let got = check_target(&closed);
        fs::set_permissions(folder.path(), fs::Permissions::from_mode(0o700)).unwrap();
        assert!(matches!(got, Err(Error::Unwritable { .. })), "{got:?}");
        assert!(matches!(check_target(Path::new("/dev/null")), Err(Error::Ending { .. })));
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
