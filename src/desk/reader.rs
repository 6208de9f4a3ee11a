//! Films are read in the background, one after another, while a page is open.

use std::collections::HashMap;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use serde::Serialize;

use super::Shared;
use super::answer::plain;
use super::artist::ProgressNews;
use super::films::Film;
use super::news;
use crate::reading::{self, ReadOptions};
use crate::types::{Cancel, Error};

/// How often it is looked up whether there is something to read.
const LOOK_UP: Duration = Duration::from_millis(250);

/// The film that is read.
#[derive(Clone)]
struct Now {
    id: String,
    cancel: Cancel,
}

#[derive(Default)]
struct State {
    /// A person stopped it.
    stopped: bool,
    now: Option<Now>,
    /// What could not be read, and why, for the state of the film and what is kept of it.
    failed: HashMap<String, (String, String)>,
}

#[derive(Default)]
pub struct Reader(Mutex<State>);

/// What the pages are told.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReadingStatus {
    pub stopped: bool,
    /// The id of the film that is read.
    pub now: Option<String>,
}

impl Reader {
    pub fn status(&self) -> ReadingStatus {
        let state = self.0.lock();
        state.map_or(ReadingStatus { stopped: true, now: None }, |s| ReadingStatus {
            stopped: s.stopped,
            now: s.now.as_ref().map(|n| n.id.clone()),
        })
    }

    /// Stop what is read now, and read no more, or go on.
    pub fn set_stopped(&self, stopped: bool) {
        if let Ok(mut state) = self.0.lock() {
            state.stopped = stopped;
        }
        if stopped {
            self.stop_now();
        }
    }

    pub fn stop_now(&self) {
        if let Ok(state) = self.0.lock()
            && let Some(now) = &state.now
        {
            now.cancel.cancel();
        }
    }

    /// Why the film could not be read, if so.
    pub fn failed(&self, film: &Film) -> Option<String> {
        let state = self.0.lock().ok()?;
        state.failed.get(&film.id).filter(|(stamp, _)| *stamp == film.stamp).map(|(_, why)| why.clone())
    }

    fn begin(&self, film: &Film) -> Option<Cancel> {
        let mut state = self.0.lock().ok()?;
        if state.stopped {
            return None;
        }
        let cancel = Cancel::default();
        state.now = Some(Now { id: film.id.clone(), cancel: cancel.clone() });
        Some(cancel)
    }

    fn end(&self, id: &str, failed: Option<(String, String)>) {
        if let Ok(mut state) = self.0.lock() {
            state.now = None;
            match failed {
                Some(failed) => drop(state.failed.insert(id.to_owned(), failed)),
                None => drop(state.failed.remove(id)),
            }
        }
    }
}

/// A film that was changed just now, or what is kept of it, may be changed on: it is still being copied, or set right at
/// the desk, which reads it at once.
const SETTLED: Duration = Duration::from_secs(1);

/// Since when each film is as it is.
type Since = HashMap<String, (String, Instant)>;

/// The thread that reads, until the desk ends.
pub fn work(shared: &Arc<Shared>) {
    let mut since = Since::new();
    while !shared.cancel.is_cancelled() {
        let next = if shared.news.listeners() > 0 && !shared.reader.status().stopped {
            next(shared, &mut since)
        } else {
            None
        };
        match next {
            Some(film) => read(shared, &film),
            None => std::thread::sleep(LOOK_UP),
        }
    }
}

/// The first film that is not read, did not fail and is left alone.
fn next(shared: &Shared, since: &mut Since) -> Option<Film> {
    let films = shared.films.list().ok()?;
    for film in &films {
        let known = since.entry(film.id.clone()).or_insert_with(|| (film.stamp.clone(), Instant::now()));
        if known.0 != film.stamp {
            *known = (film.stamp.clone(), Instant::now());
        }
    }
    let settled = |film: &Film| since.get(&film.id).is_some_and(|(_, at)| at.elapsed() > SETTLED);
    films.into_iter().find(|film| {
        settled(film) && !shared.films.kept(film).current && shared.reader.failed(film).is_none()
    })
}

fn read(shared: &Arc<Shared>, film: &Film) {
    let Some(cancel) = shared.reader.begin(film) else { return };
    shared.news.tell(news::CLIPS, &shared.reader.status());
    let options = ReadOptions { limits: shared.limits, ..ReadOptions::default() };
    let progress = ProgressNews::new(shared.news.clone(), news::READING);
    let failed = match reading::read(&film.path, &options, &progress, &cancel) {
        Ok(_) | Err(Error::Cancelled) => None,
        Err(e) => {
            // What was seen is kept even so: the state that failed is the one after.
            let stamp = shared.films.find(&film.id).map_or_else(|_| film.stamp.clone(), |f| f.stamp);
            Some((stamp, plain(shared, &e)))
        }
    };
    shared.reader.end(&film.id, failed);
    shared.news.tell(news::CLIPS, &shared.reader.status());
}
