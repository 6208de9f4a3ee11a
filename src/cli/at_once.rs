//! Clips read two at a time: while one is decoded, the other is in the net.

use std::sync::atomic::{AtomicBool, Ordering};

use swingpair::types::{Cancel, Error, Progress, Result};

use super::progress::Talk;

/// What is done beside something else: it is shown once that has ended.
struct Beside<'a> {
    talk: &'a Talk,
    shown: &'a AtomicBool,
}

impl Beside<'_> {
    fn is_shown(&self) -> bool {
        self.talk.pulse().moved(true);
        self.shown.load(Ordering::Relaxed)
    }
}

impl Progress for Beside<'_> {
    fn begin(&self, what: &str, steps: u64) {
        if self.is_shown() {
            self.talk.begin(what, steps);
        }
    }

    fn advance(&self, steps: u64) {
        if self.is_shown() {
            self.talk.advance(steps);
        }
    }

    fn end(&self) {
        if self.is_shown() {
            self.talk.end();
        }
    }
}

/// What `read` gives for each place from 0 to `count`, in order. The first that fails ends all.
pub fn two_at_a_time<T: Send>(
    count: usize,
    talk: &Talk,
    cancel: &Cancel,
    read: impl Fn(usize, &dyn Progress, &Cancel) -> Result<T> + Sync,
) -> Result<Vec<T>> {
    let mut all = Vec::new();
    for place in (0..count).step_by(2) {
        let (stop, shown) = (cancel.below(), AtomicBool::new(false));
        let or_stop = |result: Result<T>| result.inspect_err(|_| stop.cancel());
        let (first, second) = std::thread::scope(|scope| {
            let (read, or_stop, shown, stop) = (&read, &or_stop, &shown, &stop);
            let second = (place + 1 < count)
                .then(|| scope.spawn(move || or_stop(read(place + 1, &Beside { talk, shown }, stop))));
            let first = or_stop(read(place, talk, stop));
            shown.store(true, Ordering::Relaxed);
            (first, second.map(|thread| thread.join().unwrap_or(Err(Error::WorkerLost))))
        });
        // What was stopped for the other's sake is not what went wrong.
        let (first, second) = match (first, second) {
            (Err(Error::Cancelled), Some(Err(e))) => return Err(e),
            (first, second) => (first?, second),
        };
        all.push(first);
        all.extend(second.transpose()?);
    }
    Ok(all)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn talk() -> Talk {
        Talk::new(true)
    }

    #[test]
    fn all_come_in_order() {
        let all = two_at_a_time(5, &talk(), &Cancel::default(), |i, _, _| Ok(i * i)).unwrap();
        assert_eq!(all, [0, 1, 4, 9, 16]);
    }

    #[test]
    fn one_that_fails_stops_the_other_and_is_told() {
        for bad in [0, 1] {
            let read = |i: usize, _: &dyn Progress, cancel: &Cancel| {
                if i == bad {
                    return Err(Error::Usage("bad".into()));
                }
                while cancel.check().is_ok() {
                    std::thread::yield_now();
                }
                Err::<(), _>(Error::Cancelled)
            };
            let cancel = Cancel::default();
            let told = two_at_a_time(4, &talk(), &cancel, read);
            assert!(matches!(&told, Err(Error::Usage(why)) if why == "bad"), "{told:?}");
            assert!(!cancel.is_cancelled());
        }
    }

    #[test]
    fn who_stops_the_job_stops_both() {
        let cancel = Cancel::default();
        cancel.cancel();
        let told = two_at_a_time(2, &talk(), &cancel, |_, _, cancel| cancel.check());
        assert!(matches!(told, Err(Error::Cancelled)));
    }
}
