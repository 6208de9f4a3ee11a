use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc;

use crate::media::Clip;
use crate::tracking::{Eye, Nets};
use crate::types::{Cancel, Error, Progress, Result, TimedFrame, Warning};

/// What every pass over a clip shares.
pub struct Pass<'a> {
    pub clip: &'a Clip,
    pub nets: &'a Nets,
    pub threads: usize,
    pub progress: &'a dyn Progress,
    pub cancel: &'a Cancel,
    /// What reading the pictures brought to light, each kind once, as the first pass told it.
    pub warnings: Mutex<Vec<Warning>>,
}

/// Where the first cause of a failure is kept: what fails after it only follows from it.
struct First(Mutex<Option<Error>>, AtomicBool);

impl First {
    fn note<T>(&self, result: Result<T>) -> Option<T> {
        result
            .map_err(|error| {
                if let Ok(mut first) = self.0.lock() {
                    first.get_or_insert(error);
                }
                self.1.store(true, Ordering::SeqCst);
            })
            .ok()
    }

    fn failed(&self) -> bool {
        self.1.load(Ordering::SeqCst)
    }
}

impl Pass<'_> {
    /// Shows each picture of `wanted` (indices, rising) to `see`, on several threads, scaled down to
    /// fit inside `fit`; `every` meets each decoded picture between the first and the last wanted, in
    /// order. Answers come back in the order of the indices; pictures that do not decode have none.
    pub fn run<T: Send>(
        &self,
        what: &str,
        wanted: &[usize],
        fit: Option<(usize, usize)>,
        mut every: impl FnMut(&TimedFrame) + Send,
        see: impl Fn(&Eye, &TimedFrame) -> Result<T> + Sync,
    ) -> Result<Vec<T>> {
        let (Some(&from), Some(&last)) = (wanted.first(), wanted.last()) else { return Ok(Vec::new()) };
        self.progress.begin(what, wanted.len() as u64);
        let first = First(Mutex::new(None), AtomicBool::new(false));
        let (to_workers, queue) = mpsc::sync_channel::<TimedFrame>(self.threads * 2);
        let queue = Mutex::new(queue);
        let (to_us, answers) = mpsc::channel::<(usize, T)>();
        let mut seen = Vec::with_capacity(wanted.len());

        std::thread::scope(|scope| {
            let (first, queue, see) = (&first, &queue, &see);
            scope.spawn(move || {
                let mut decode = || -> Result<()> {
                    let mut frames = self.clip.frames(from, fit)?;
                    let mut wanted = wanted.iter().peekable();
                    while let Some(picture) = frames.next_frame()? {
                        self.cancel.check()?;
                        if first.failed() || picture.index > last {
                            break;
                        }
                        every(&picture);
                        while wanted.next_if(|w| **w < picture.index).is_some() {}
                        if wanted.next_if(|w| **w == picture.index).is_some()
                            && to_workers.send(picture).is_err()
                        {
                            break;
                        }
                    }
                    self.note(frames.warnings());
                    Ok(())
                };
                first.note(decode());
            });
            for _ in 0..self.threads {
                let to_us = to_us.clone();
                scope.spawn(move || {
                    let eye = self.nets.eye();
                    loop {
                        let Ok(picture) = queue.lock().map(|q| q.recv()) else { break };
                        let Ok(picture) = picture else { break };
                        if first.failed() {
                            // Keep taking, so that the decoding thread is not left waiting.
                            continue;
                        }
                        let answer = first.note(self.cancel.check().and_then(|()| see(&eye, &picture)));
                        if let Some(answer) = answer
                            && to_us.send((picture.index, answer)).is_err()
                        {
                            break;
                        }
                    }
                });
            }
            drop(to_us);
            for answer in answers {
                seen.push(answer);
                self.progress.advance(1);
            }
        });
        self.progress.end();
        if let Some(error) = first.0.into_inner().unwrap_or(Some(Error::WorkerLost)) {
            return Err(error);
        }
        seen.sort_by_key(|(index, _)| *index);
        Ok(seen.into_iter().map(|(_, answer)| answer).collect())
    }

    fn note(&self, warnings: Vec<Warning>) {
        let Ok(mut all) = self.warnings.lock() else { return };
        for warning in warnings {
            if all.iter().all(|t| t.code() != warning.code()) {
                all.push(warning);
            }
        }
    }

    /// Picture px of a `fit` picture → px of the clip's full picture, by width and height.
    pub fn scale_to_full(&self, fit: Option<(usize, usize)>) -> (f64, f64) {
        let (w, h) = self.clip.frame_size(fit);
        let facts = self.clip.facts();
        (facts.width as f64 / w.max(1) as f64, facts.height as f64 / h.max(1) as f64)
    }
}
