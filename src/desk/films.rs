//! The films of the folder, and those in folders below it that its lesson names. A page names them by an id that this
//! listing gave; no path ever comes from a page.

use std::collections::{HashMap, HashSet};
use std::fs::{self, Metadata};
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::UNIX_EPOCH;

use crate::lesson::{Lesson, films_in};
use crate::messages::desk as messages;
use crate::reading::{self, ReadOptions};
use crate::store::{self, KeptRep, MadeFrom};
use crate::types::{Error, Limits, Result};

/// One film as it lies there now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Film {
    pub id: String,
    pub name: String,
    /// Where it lies below the desk's folder, with `/` between folders; empty: in the folder itself.
    pub folder: String,
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

/// How a lesson's file in the folder is called.
const LESSON: &str = "lesson.toml";

pub struct Films {
    folder: PathBuf,
    limits: Limits,
    kept: Mutex<HashMap<String, (String, Arc<Kept>)>>,
}

/// Size and last change of a file, which tell one state of it from another.
fn state(facts: Option<&Metadata>) -> (u64, u128) {
    let changed = facts.and_then(|f| f.modified().ok()).and_then(|t| t.duration_since(UNIX_EPOCH).ok());
    (facts.map_or(0, Metadata::len), changed.map_or(0, |t| t.as_nanos()))
}

impl Films {
    pub fn new(folder: &Path, limits: Limits) -> Result<Self> {
        let folder = folder.canonicalize().map_err(|e| Error::reading(folder, e))?;
        Ok(Self { folder, limits, kept: Mutex::default() })
    }

    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The lesson of the folder, if it holds one.
    pub fn lesson(&self) -> Result<Option<Lesson>> {
        let path = self.folder.join(LESSON);
        if path.is_file() { Lesson::from_file(&path, &self.limits).map(Some) } else { Ok(None) }
    }

    /// Every film: those of the folder by name, then those of the lesson's other folders in the lesson's order.
    pub fn list(&self) -> Result<Vec<Film>> {
        let mut all = self.own()?;
        all.extend(self.of_lesson());
        Ok(all)
    }

    pub fn find(&self, id: &str) -> Result<Film> {
        let gone = || Error::Usage(messages::NO_SUCH_CLIP.to_owned());
        let same = |film: &Film| film.id == id;
        // The lesson is looked up only where it has to be: pictures are asked for many times a second.
        let own = self.own()?.into_iter().find(same);
        own.or_else(|| self.of_lesson().into_iter().find(same)).ok_or_else(gone)
    }

    fn own(&self) -> Result<Vec<Film>> {
        if !self.folder.is_dir() {
            return Err(Error::Missing { path: self.folder.clone() });
        }
        Ok(films_in(&self.folder).iter().filter_map(|path| self.film(path)).collect())
    }

    fn of_lesson(&self) -> Vec<Film> {
        // What is wrong with the lesson's file is told where the lesson is shown.
        let Ok(Some(lesson)) = self.lesson() else { return Vec::new() };
        let mut seen = HashSet::new();
        let reps = lesson.hitters.iter().flat_map(|h| h.days.iter().flat_map(|d| &d.reps).chain(&h.good));
        reps.flat_map(|rep| std::iter::once(&rep.side).chain(&rep.behind))
            .filter_map(|path| self.film(path))
            .filter(|film| !film.folder.is_empty() && seen.insert(film.id.clone()))
            .collect()
    }

    /// The film at this place, if it lies inside the folder. Links, of a folder on the way too, are left out: they may lead
    /// anywhere.
    pub fn film(&self, path: &Path) -> Option<Film> {
        let mut place = self.folder.clone();
        let mut words = Vec::new();
        for part in path.strip_prefix(&self.folder).ok()?.components() {
            let Component::Normal(part) = part else { return None };
            place.push(part);
            words.push(part.to_string_lossy());
            if fs::symlink_metadata(&place).ok()?.is_symlink() {
                return None;
            }
        }
        let name = words.pop()?;
        film(place, words.join("/"), name.into_owned())
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

fn film(path: PathBuf, folder: String, name: String) -> Option<Film> {
    let facts = fs::symlink_metadata(&path).ok().filter(Metadata::is_file)?;
    let beside = fs::metadata(store::sidecar_path(&path)).ok();
    let (content, kept) = (state(Some(&facts)), state(beside.as_ref()));
    let content_stamp = store::short_hash(format!("{content:?}").as_bytes());
    let stamp = store::short_hash(format!("{content:?} {kept:?}").as_bytes());
    let modified_ms = (content.1 / 1_000_000) as u64;
    let place = if folder.is_empty() { name.clone() } else { format!("{folder}/{name}") };
    Some(Film {
        id: store::short_hash(place.as_bytes()),
        name,
        folder,
        path,
        content_stamp,
        stamp,
        modified_ms,
    })
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
        let films = Films::new(&folder, Limits::default()).unwrap();
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
