//! The swings of a long film: found and cut out in the background, one film at a time, then taken among the clips or
//! struck out.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::Shared;
use super::answer::plain;
use super::artist::ProgressNews;
use super::films::Film;
use super::job::Job;
use super::news;
use crate::media::{Clip, OpenOptions};
use crate::messages::desk as messages;
use crate::reading::{self, ReadOptions};
use crate::store;
use crate::types::{Cancel, Cause, Error, FoundReps, Result};

/// Where cut films lie, in the folder of the clips; not among them until they are taken.
const FOLDER: &str = "swings";

/// The search that runs; it is about a film's id.
#[derive(Default)]
pub struct Swings(Job<String>);

/// How a search ended.
#[derive(Debug, Serialize)]
#[serde(tag = "end", rename_all = "snake_case")]
enum End {
    Found { clip: String },
    Failed { clip: String, why: String },
}

/// What is known of a long film.
#[derive(Debug, Serialize)]
pub struct SwingsJson {
    searching: bool,
    /// Nobody has looked yet where this is `None`.
    swings: Option<Vec<SwingJson>>,
}

#[derive(Debug, Serialize)]
struct SwingJson {
    /// The cut film's name.
    name: String,
    /// Contact, or the middle of the cut: s from the film's first picture, and its picture.
    at_s: f64,
    picture: usize,
    choice: Choice,
}

/// What a person said of a swing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Choice {
    /// Nothing yet.
    Open,
    /// It is among the clips.
    Taken,
    StruckOut,
}

/// Names of cut films that were struck out, kept beside them.
#[derive(Debug, Default, Serialize, Deserialize)]
struct StruckOut {
    names: BTreeSet<String>,
}

fn folder(shared: &Shared) -> PathBuf {
    shared.films.folder().join(FOLDER)
}

fn beside(shared: &Shared, film: &Film, ending: &str) -> PathBuf {
    let stem = film.path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    folder(shared).join(format!("{stem}.{ending}"))
}

/// What is kept as JSON; `None` where nothing that can be used is.
fn kept<T: for<'a> Deserialize<'a>>(path: &Path) -> Option<T> {
    fs::read(path).ok().and_then(|bytes| serde_json::from_slice(&bytes).ok())
}

impl Swings {
    pub fn stop(&self) {
        self.0.stop();
    }

    pub fn wait(&self) {
        self.0.wait();
    }

    /// Look for the swings of a film; the pages are told how far it is and how it ends.
    pub fn begin(&self, shared: &Arc<Shared>, film: Film) -> Result<()> {
        let (own, news, clip) = (shared.clone(), shared.news.clone(), film.id.clone());
        let work = move |stop: &Cancel| {
            let progress = ProgressNews::new(own.news.clone(), news::FINDING);
            let options = ReadOptions { limits: own.limits, ..ReadOptions::default() };
            let found = reading::reps_of(&film.path, Some(&folder(&own)), &options, &progress, stop);
            match found {
                Ok(_) => End::Found { clip: film.id.clone() },
                Err(e) => End::Failed { clip: film.id.clone(), why: plain(&own, &e) },
            }
        };
        self.0.begin(clip, messages::BUSY_FINDING, work, move |end| news.tell(news::FINDING, &end))
    }

    pub fn list(&self, shared: &Shared, film: &Film) -> Result<SwingsJson> {
        let searching = self.0.now().as_ref() == Some(&film.id);
        let found: Option<FoundReps> = kept(&beside(shared, film, "reps.json"));
        let content = store::content_hash(&film.path)?;
        // Of another film that lay under this name before.
        let found = found.filter(|f| f.finished && f.key.starts_with(&content));
        let Some(found) = found else { return Ok(SwingsJson { searching, swings: None }) };
        let clip = Clip::open(&film.path, &OpenOptions { recorded_at_hz: None, limits: shared.limits })?;
        let struck: StruckOut = kept(&beside(shared, film, "struck.json")).unwrap_or_default();
        let swings = found.reps.iter().filter_map(|rep| {
            let name = rep.clip.clone()?;
            let at_s = rep.contact_s.unwrap_or((rep.from_s + rep.to_s) / 2.0);
            let choice = if shared.films.folder().join(&name).exists() {
                Choice::Taken
            } else if struck.names.contains(&name) {
                Choice::StruckOut
            } else {
                Choice::Open
            };
            Some(SwingJson { name, at_s, picture: clip.frame_at_real(at_s), choice })
        });
        Ok(SwingsJson { searching, swings: Some(swings.collect()) })
    }

    /// Take a swing among the clips, strike it out, or leave it open again. One that was taken stays where it is: what lies
    /// among the clips is hers.
    pub fn choose(&self, shared: &Shared, film: &Film, name: &str, choice: Choice) -> Result<()> {
        let gone = || Error::Usage(messages::NO_SUCH_SWING.to_owned());
        let found: FoundReps = kept(&beside(shared, film, "reps.json")).ok_or_else(gone)?;
        let known = |n: &&String| n.as_str() == name;
        let name = found.reps.iter().filter_map(|rep| rep.clip.as_ref()).find(known).ok_or_else(gone)?;
        let target = shared.films.folder().join(name);
        if target.exists() {
            return match choice {
                Choice::Taken => Ok(()),
                Choice::Open | Choice::StruckOut => Err(Error::Usage(messages::TAKEN_ALREADY.to_owned())),
            };
        }
        let list = beside(shared, film, "struck.json");
        let mut struck: StruckOut = kept(&list).unwrap_or_default();
        let changed = match choice {
            Choice::StruckOut => struck.names.insert(name.clone()),
            Choice::Open | Choice::Taken => struck.names.remove(name),
        };
        if changed {
            let text = serde_json::to_vec(&struck)
                .map_err(|e| Error::Unwritable { path: list.clone(), cause: Cause::of(e) })?;
            store::write_file(&list, &text)?;
        }
        if choice == Choice::Taken {
            take(&folder(shared).join(name), &target)?;
        }
        Ok(())
    }
}

/// The cut film and what was read of it, among the clips. What was read comes first, so that the film is not read anew.
fn take(cut: &Path, target: &Path) -> Result<()> {
    let pairs =
        [(store::sidecar_path(cut), store::sidecar_path(target)), (cut.to_owned(), target.to_owned())];
    for (from, to) in pairs {
        // A film without a reading is read in the background.
        if !from.is_file() || to.exists() {
            continue;
        }
        // Not a second name of one file: what is set of the clip is the clip's own.
        let bytes = fs::read(&from).map_err(|e| Error::reading(&from, e))?;
        store::write_file(&to, &bytes)?;
    }
    Ok(())
}
