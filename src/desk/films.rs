//! The films of the folder. A page names them by an id that this listing gave; no path ever comes from a page.

use std::collections::HashMap;
use std::fs::{self, Metadata};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::UNIX_EPOCH;

use crate::messages::desk as messages;
use crate::reading::{self, ReadOptions};
use crate::store::{self, KeptRep, MadeFrom};
use crate::types::{Error, Result};

/// One film as it lies there now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Film {
    pub id: String,
    pub name: String,
    pub path: PathBuf,
    /// Changes when the film does.
    pub content_stamp: String,
    /// Changes when the film or what is kept beside it does.
    pub stamp: String,
    /// ms from 1970.
    pub modified_ms: u64,
}

/// What is kept beside a film, looked up once for each state of it.
#[derive(Debug)]
pub struct Kept {
    pub rep: Option<KeptRep>,
    /// Whether its reading is good without another look.
    pub current: bool,
}

pub struct Films {
    folder: PathBuf,
    kept: Mutex<HashMap<String, (String, Arc<Kept>)>>,
}

/// Size and last change of a file, which tell one state of it from another.
fn state(facts: Option<&Metadata>) -> (u64, u128) {
    let changed = facts.and_then(|f| f.modified().ok()).and_then(|t| t.duration_since(UNIX_EPOCH).ok());
    (facts.map_or(0, Metadata::len), changed.map_or(0, |t| t.as_nanos()))
}

impl Films {
    pub fn new(folder: &Path) -> Result<Self> {
        let folder = folder.canonicalize().map_err(|e| Error::reading(folder, e))?;
        Ok(Self { folder, kept: Mutex::default() })
    }

    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Every film, by name. Links are left out: they may lead anywhere.
    pub fn list(&self) -> Result<Vec<Film>> {
        if !self.folder.is_dir() {
            return Err(Error::Missing { path: self.folder.clone() });
        }
        Ok(crate::lesson::films_in(&self.folder).into_iter().filter_map(film).collect())
    }

    pub fn find(&self, id: &str) -> Result<Film> {
        let gone = || Error::Usage(messages::NO_SUCH_CLIP.to_owned());
        self.list()?.into_iter().find(|film| film.id == id).ok_or_else(gone)
    }

    pub fn kept(&self, film: &Film) -> Arc<Kept> {
        let known = self.kept.lock().ok().and_then(|kept| kept.get(&film.id).cloned());
        if let Some((_, kept)) = known.filter(|(stamp, _)| *stamp == film.stamp) {
            return kept;
        }
        // A film that was put in another's place is to be read; one that was only copied is the same.
        let rep = store::kept(&film.path).map(|rep| match is_of_another(&rep) {
            true => KeptRep { reading: None, made_from: None, ..rep },
            false => rep,
        });
        let current =
            rep.as_ref().is_some_and(|rep| reading::kept_reading(rep, &ReadOptions::default()).is_some());
        let kept = Arc::new(Kept { rep, current });
        if let Ok(mut all) = self.kept.lock() {
            all.insert(film.id.clone(), (film.stamp.clone(), kept.clone()));
        }
        kept
    }
}

/// Whether what is kept was read from another film that lay under this name.
fn is_of_another(rep: &KeptRep) -> bool {
    let same = |m: &MadeFrom| MadeFrom::of(&rep.clip, m.settings.clone()).as_ref() == Some(m);
    if rep.made_from.as_ref().is_none_or(same) {
        return false;
    }
    let content = store::content_hash(&rep.clip);
    content.is_ok_and(|content| store::load(&rep.clip).is_ok_and(|kept| kept.is_foreign(&content)))
}

fn film(path: PathBuf) -> Option<Film> {
    let facts = fs::symlink_metadata(&path).ok().filter(Metadata::is_file)?;
    let beside = fs::metadata(store::sidecar_path(&path)).ok();
    let name = crate::types::file_name(&path);
    let (content, kept) = (state(Some(&facts)), state(beside.as_ref()));
    let content_stamp = store::short_hash(format!("{content:?}").as_bytes());
    let stamp = store::short_hash(format!("{content:?} {kept:?}").as_bytes());
    let modified_ms = (content.1 / 1_000_000) as u64;
    Some(Film { id: store::short_hash(name.as_bytes()), name, path, content_stamp, stamp, modified_ms })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn films_are_found_by_id_and_links_are_not() {
        let dir = tempfile::tempdir().unwrap();
        let folder = dir.path().join("reps");
        fs::create_dir(&folder).unwrap();
        fs::write(dir.path().join("secret.mp4"), "x").unwrap();
        fs::write(folder.join("a.mp4"), "x").unwrap();
        fs::write(folder.join("notes.txt"), "x").unwrap();
        #[cfg(unix)]
        std::os::unix::fs::symlink(dir.path().join("secret.mp4"), folder.join("b.mp4")).unwrap();
        let films = Films::new(&folder).unwrap();
        let all = films.list().unwrap();
        assert_eq!(all.iter().map(|f| f.name.as_str()).collect::<Vec<_>>(), ["a.mp4"]);
        assert_eq!(films.find(&all[0].id).unwrap(), all[0]);
        for id in ["a.mp4", "../secret.mp4", "", &store::short_hash(b"b.mp4")] {
            assert!(films.find(id).is_err(), "{id}");
        }
        fs::write(folder.join("a.mp4"), "longer").unwrap();
        assert_ne!(films.list().unwrap()[0].content_stamp, all[0].content_stamp);
        fs::remove_dir_all(&folder).unwrap();
        assert!(matches!(films.list(), Err(Error::Missing { .. })));
    }
}
