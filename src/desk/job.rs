//! Something that is done in the background, one at a time, and can be stopped.

use std::sync::{Arc, Mutex};
use std::thread::JoinHandle;

use crate::types::{Cancel, Error, Result};

struct State<T> {
    /// What it is about.
    now: Option<(T, Cancel)>,
    thread: Option<JoinHandle<()>>,
}

/// At most one runs; `T` says what it is about.
pub struct Job<T>(Arc<Mutex<State<T>>>);

impl<T> Default for Job<T> {
    fn default() -> Self {
        Self(Arc::new(Mutex::new(State { now: None, thread: None })))
    }
}

impl<T: Clone + Send + 'static> Job<T> {
    /// What the one that runs is about.
    pub fn now(&self) -> Option<T> {
        self.0.lock().ok().and_then(|s| s.now.as_ref().map(|(about, _)| about.clone()))
    }

    pub fn stop(&self) {
        if let Ok(state) = self.0.lock()
            && let Some((_, cancel)) = &state.now
        {
            cancel.cancel();
        }
    }

    /// Until what was begun has ended.
    pub fn wait(&self) {
        let thread = self.0.lock().ok().and_then(|mut s| s.thread.take());
        if let Some(thread) = thread {
            // What went wrong in it was told to the pages.
            let _ = thread.join();
        }
    }

    /// Begin `work`; `tell` gets what came of it once another may begin. While one runs: [`Error::Usage`] with `busy`.
    pub fn begin<R>(
        &self,
        about: T,
        busy: &str,
        work: impl FnOnce(&Cancel) -> R + Send + 'static,
        tell: impl FnOnce(R) + Send + 'static,
    ) -> Result<()> {
        let mut state = self.0.lock().map_err(|_| Error::WorkerLost)?;
        if state.now.is_some() {
            return Err(Error::Usage(busy.to_owned()));
        }
        let cancel = Cancel::default();
        let (own, stop) = (self.0.clone(), cancel.clone());
        let run = move || {
            let came = work(&stop);
            if let Ok(mut state) = own.lock() {
                state.now = None;
            }
            tell(came);
        };
        state.thread = Some(
            std::thread::Builder::new().name("desk job".into()).spawn(run).map_err(|_| Error::WorkerLost)?,
        );
        state.now = Some((about, cancel));
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc::channel;

    #[test]
    fn one_runs_at_a_time_and_ends_when_it_is_stopped() {
        let job = Job::default();
        let (told, ends) = channel();
        let until_stopped = |cancel: &Cancel| {
            while cancel.check().is_ok() {
                std::thread::yield_now();
            }
            "stopped"
        };
        job.begin("a", "busy", until_stopped, move |r| told.send(r).unwrap()).unwrap();
        assert_eq!(job.now(), Some("a"));
        assert!(matches!(job.begin("b", "busy", |_| (), |()| ()), Err(Error::Usage(why)) if why == "busy"));
        job.stop();
        job.wait();
        assert_eq!((ends.recv().unwrap(), job.now()), ("stopped", None));
        // And the next one may begin.
        job.begin("c", "busy", |_| (), |()| ()).unwrap();
        job.wait();
        assert_eq!(job.now(), None);
    }
}
