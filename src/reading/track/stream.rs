use std::sync::Mutex;

use super::workers::{self, Feed};
use crate::media::Clip;
use crate::tracking::{Eye, Nets};
use crate::types::{Cancel, Progress, Result, TimedFrame, Warning};

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

impl Pass<'_> {
    /// Shows each picture of `wanted` (indices, rising) to `see`, on several threads, scaled down to
    /// fit inside `fit`. Answers come back in the order of the indices; pictures that do not decode have none.
    pub fn run<T: Send>(
        &self,
        what: &str,
        wanted: &[usize],
        fit: Option<(usize, usize)>,
        see: impl Fn(&Eye, &TimedFrame) -> Result<T> + Sync,
    ) -> Result<Vec<T>> {
        if wanted.is_empty() {
            return Ok(Vec::new());
        }
        let decode = |feed: &Feed<TimedFrame>| -> Result<()> {
            let mut frames = self.clip.picked(wanted, fit)?;
            while let Some(picture) = frames.next_frame()? {
                self.cancel.check()?;
                if !feed.give(picture) {
                    break;
                }
            }
            self.note(frames.warnings());
            Ok(())
        };
        self.shown(what, wanted.len(), decode, see)
    }

    /// The same, and `every` meets each decoded picture between the first and the last wanted, in order.
    pub fn run_through<T: Send>(
        &self,
        what: &str,
        wanted: &[usize],
        fit: Option<(usize, usize)>,
        mut every: impl FnMut(&TimedFrame) + Send,
        see: impl Fn(&Eye, &TimedFrame) -> Result<T> + Sync,
    ) -> Result<Vec<T>> {
        let (Some(&from), Some(&last)) = (wanted.first(), wanted.last()) else { return Ok(Vec::new()) };
        let decode = |feed: &Feed<TimedFrame>| -> Result<()> {
            let mut frames = self.clip.frames(from, fit)?;
            let mut wanted = wanted.iter().peekable();
            while let Some(picture) = frames.next_frame()? {
                self.cancel.check()?;
                if feed.is_over() || picture.index > last {
                    break;
                }
                every(&picture);
                while wanted.next_if(|w| **w < picture.index).is_some() {}
                if wanted.next_if(|w| **w == picture.index).is_some() && !feed.give(picture) {
                    break;
                }
            }
            self.note(frames.warnings());
            Ok(())
        };
        self.shown(what, wanted.len(), decode, see)
    }

    /// What `decode` hands out, seen on several threads.
    fn shown<T: Send>(
        &self,
        what: &str,
        count: usize,
        decode: impl FnOnce(&Feed<TimedFrame>) -> Result<()> + Send,
        see: impl Fn(&Eye, &TimedFrame) -> Result<T> + Sync,
    ) -> Result<Vec<T>> {
        self.progress.begin(what, count as u64);
        let see = &see;
        let worker = || {
            let eye = self.nets.eye();
            move |picture: TimedFrame| {
                self.cancel.check()?;
                Ok((picture.index, see(&eye, &picture)?))
            }
        };
        let mut seen = Vec::with_capacity(count);
        let done = workers::spread(self.threads, decode, worker, |answer| {
            seen.push(answer);
            self.progress.advance(1);
        });
        self.progress.end();
        done?;
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
