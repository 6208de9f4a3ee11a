//! A rep of two angles is named by its two clips, as SIDE+BEHIND.

use std::path::{Path, PathBuf};

use crate::messages;
use crate::types::{Error, Result};

/// The two clips that a word means, seen from the folder `base`; a name that is there as it is stays what it is.
pub fn parted(word: &Path, base: &Path) -> Result<(PathBuf, Option<PathBuf>)> {
    let whole = base.join(word);
    let Some(text) = word.to_str().filter(|t| t.contains('+') && !whole.exists()) else {
        return Ok((whole, None));
    };
    let halves = |i: usize| Some((text.get(..i)?.trim(), text.get(i + 1..)?.trim()));
    let all: Vec<(PathBuf, PathBuf)> = text
        .match_indices('+')
        .filter_map(|(i, _)| halves(i))
        .filter(|(a, b)| !a.is_empty() && !b.is_empty())
        .map(|(a, b)| (base.join(a), base.join(b)))
        .collect();
    let there: Vec<_> = all.iter().filter(|(a, b)| a.exists() && b.exists()).cloned().collect();
    match (there.as_slice(), all.as_slice()) {
        ([_, _, ..], _) => Err(Error::Usage(messages::angles::several_splits(text))),
        // What is missing of the two is said when it is read.
        ([(a, b)], _) | ([], [(a, b)]) => Ok((a.clone(), Some(b.clone()))),
        ([], _) => Err(Error::Missing { path: whole }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parted_here(word: &Path) -> Result<(PathBuf, Option<PathBuf>)> {
        parted(word, Path::new(""))
    }

    #[test]
    fn a_plus_parts_two_files_unless_one_of_that_name_is_there() {
        let dir = tempfile::tempdir().unwrap();
        let path = |name: &str| dir.path().join(name);
        for name in ["a.mp4", "b.mp4", "c+d.mp4", "c", "d.mp4"] {
            std::fs::write(path(name), "x").unwrap();
        }
        let both = PathBuf::from(format!("{}+{}", path("a.mp4").display(), path("b.mp4").display()));
        assert_eq!(parted_here(&both).unwrap(), (path("a.mp4"), Some(path("b.mp4"))));
        assert_eq!(parted_here(&path("c+d.mp4")).unwrap(), (path("c+d.mp4"), None));
        assert_eq!(parted_here(&path("a.mp4")).unwrap(), (path("a.mp4"), None));
        let of_three = PathBuf::from(format!("{}+{}", path("a.mp4").display(), path("c+d.mp4").display()));
        assert_eq!(parted_here(&of_three).unwrap(), (path("a.mp4"), Some(path("c+d.mp4"))));
        let gone = PathBuf::from(format!("{}+{}", path("a.mp4").display(), path("none.mp4").display()));
        assert_eq!(parted_here(&gone).unwrap().1, Some(path("none.mp4")));
    }

    #[test]
    fn both_halves_are_seen_from_one_folder() {
        let dir = tempfile::tempdir().unwrap();
        for name in ["a.mp4", "b.mp4"] {
            std::fs::write(dir.path().join(name), "x").unwrap();
        }
        let both = parted(Path::new("a.mp4+b.mp4"), dir.path()).unwrap();
        assert_eq!(both, (dir.path().join("a.mp4"), Some(dir.path().join("b.mp4"))));
    }
}
