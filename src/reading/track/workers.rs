//! Jobs from one thread to several, and their answers back to the one that asked. Whatever happens to a thread, the
//! others come to an end: nobody waits for one that is gone.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, mpsc};
use std::thread::{Builder, ScopedJoinHandle};

use crate::types::{Error, Result};

/// Where the first cause of a failure is kept: what fails after it only follows from it.
#[derive(Default)]
struct FirstCause(Mutex<Option<Error>>, AtomicBool);

impl FirstCause {
    fn note<T>(&self, result: Result<T>) -> Option<T> {
        let kept = result.map_err(|error| {
            if let Ok(mut first) = self.0.lock() {
                first.get_or_insert(error);
            }
            self.fail();
        });
        kept.ok()
    }

    fn fail(&self) {
        self.1.store(true, Ordering::SeqCst);
    }

    fn failed(&self) -> bool {
        self.1.load(Ordering::SeqCst)
    }
}

/// Tells the others when its thread breaks.
struct Watch<'a>(&'a FirstCause);

impl Drop for Watch<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            self.0.fail();
        }
    }
}

/// Where jobs are handed out.
pub struct Feed<'a, J> {
    jobs: mpsc::SyncSender<J>,
    first: &'a FirstCause,
}

impl<J> Feed<'_, J> {
    /// Waits until there is room. False: nobody takes jobs any more.
    pub fn give(&self, job: J) -> bool {
        !self.is_over() && self.jobs.send(job).is_ok()
    }

    /// Something failed; what comes now is not looked at.
    pub fn is_over(&self) -> bool {
        self.first.failed()
    }
}

/// Gives what `feed` hands out to `threads` workers, each made by `worker` in its own thread; `take` meets the answers
/// in this thread, in any order. The first error ends all, and so does a thread that breaks ([`Error::WorkerLost`]).
pub fn spread<J: Send, A: Send, W: FnMut(J) -> Result<A>>(
    threads: usize,
    feed: impl FnOnce(&Feed<J>) -> Result<()> + Send,
    worker: impl Fn() -> W + Sync,
    take: impl FnMut(A),
) -> Result<()> {
    let threads = threads.max(1);
    let first = FirstCause::default();
    let lost = std::thread::scope(|scope| {
        let (first, worker) = (&first, &worker);
        let (jobs, queue) = mpsc::sync_channel(threads * 2);
        let (to_us, answers) = mpsc::channel();
        let feeding = move || {
            let _watch = Watch(first);
            first.note(feed(&Feed { jobs, first }));
        };
        let mut running = vec![Builder::new().spawn_scoped(scope, feeding)];
        // The workers alone own it: when the last of them is gone, who feeds them is told so instead of waiting.
        let queue = Arc::new(Mutex::new(queue));
        for _ in 0..threads {
            let (queue, to_us) = (Arc::clone(&queue), to_us.clone());
            let working = move || {
                let _watch = Watch(first);
                let mut work = worker();
                while !first.failed() {
                    let Ok(Ok(job)) = queue.lock().map(|q| q.recv()) else { break };
                    let Some(answer) = first.note(work(job)) else { break };
                    if to_us.send(answer).is_err() {
                        break;
                    }
                }
            };
            running.push(Builder::new().spawn_scoped(scope, working));
        }
        drop((queue, to_us));
        answers.into_iter().for_each(take);
        // Each is waited for, so that none breaks the scope.
        let whole = |thread: std::io::Result<ScopedJoinHandle<()>>| thread.is_ok_and(|t| t.join().is_ok());
        running.into_iter().map(whole).filter(|whole| !whole).count()
    });
    let cause = first.0.into_inner().unwrap_or(Some(Error::WorkerLost));
    cause.or((lost > 0).then_some(Error::WorkerLost)).map_or(Ok(()), Err)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    /// What comes back within half a minute; a run that hangs fails the test instead of stopping all of them.
    fn in_time<T: Send + 'static>(run: impl FnOnce() -> T + Send + 'static) -> T {
        let (done, answer) = mpsc::channel();
        std::thread::spawn(move || done.send(run()));
        answer.recv_timeout(Duration::from_secs(30)).expect("it waits without end")
    }

    /// Many more jobs than the queue holds.
    fn thousand(feed: &Feed<usize>) -> Result<()> {
        (0..1000).all(|job| feed.give(job));
        Ok(())
    }

    #[test]
    fn every_job_is_answered_once() {
        for threads in [0, 1, 4] {
            let mut all = Vec::new();
            spread(threads, thousand, || |job: usize| Ok(job * 2), |a| all.push(a)).unwrap();
            all.sort_unstable();
            assert_eq!(all, (0..1000).map(|j| j * 2).collect::<Vec<_>>());
        }
    }

    #[test]
    fn nobody_waits_for_workers_that_all_broke() {
        let broken = || |job: usize| -> Result<usize> { panic!("on purpose, at job {job}") };
        let done = in_time(move || spread(3, thousand, broken, |_| ()));
        assert!(matches!(done, Err(Error::WorkerLost)), "{done:?}");
    }

    #[test]
    fn one_worker_that_breaks_is_not_passed_over() {
        let breaks = || {
            |job: usize| {
                assert!(job != 17, "on purpose");
                Ok(job)
            }
        };
        let done = in_time(move || spread(3, thousand, breaks, |_| ()));
        assert!(matches!(done, Err(Error::WorkerLost)), "{done:?}");
        let unmade = || -> fn(usize) -> Result<usize> { panic!("on purpose, before any job") };
        let done = in_time(move || spread(3, thousand, unmade, |_| ()));
        assert!(matches!(done, Err(Error::WorkerLost)), "{done:?}");
    }

    #[test]
    fn the_first_cause_is_told() {
        let refuses = || |job: usize| if job == 40 { Err(Error::Usage("no".into())) } else { Ok(job) };
        let done = in_time(move || spread(2, thousand, refuses, |_| ()));
        assert!(matches!(done, Err(Error::Usage(_))), "{done:?}");
        let unfed = |_: &Feed<usize>| Err(Error::Cancelled);
        let done = in_time(move || spread(2, unfed, || Ok, |_| ()));
        assert!(matches!(done, Err(Error::Cancelled)), "{done:?}");
    }
}
