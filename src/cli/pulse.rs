//! A job in which nothing moves any more is ended: a decoder can go round in itself on a broken file without end, and
//! nobody should have to guess whether to wait.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::{Duration, Instant};

/// Longer than any step takes, on a slow computer too: a step is at most some hundred pictures.
const LONGEST: Duration = Duration::from_secs(300);

/// When the job last moved on.
#[derive(Clone)]
pub struct Pulse(Arc<Beat>);

struct Beat {
    began: Instant,
    /// Since `began`, s.
    moved_s: AtomicU64,
    /// A stage is running; between stages there is nothing to wait for.
    working: AtomicBool,
}

impl Pulse {
    pub fn new() -> Self {
        Self(Arc::new(Beat {
            began: Instant::now(),
            moved_s: AtomicU64::new(0),
            working: AtomicBool::new(false),
        }))
    }

    pub fn moved(&self, working: bool) {
        self.0.moved_s.store(self.0.began.elapsed().as_secs(), Ordering::Relaxed);
        self.0.working.store(working, Ordering::Relaxed);
    }

    fn stands_still(&self, now: Duration) -> bool {
        let since_s = now.as_secs().saturating_sub(self.0.moved_s.load(Ordering::Relaxed));
        self.0.working.load(Ordering::Relaxed) && since_s > LONGEST.as_secs()
    }

    /// Look after the job from a thread of its own; `end` is called once when it stands still.
    pub fn watch(&self, end: impl FnOnce(u64) + Send + 'static) {
        let pulse = self.clone();
        std::thread::spawn(move || {
            while !pulse.stands_still(pulse.0.began.elapsed()) {
                std::thread::sleep(Duration::from_secs(1));
            }
            end(LONGEST.as_secs());
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_stage_that_stands_still_is_ended() {
        let pulse = Pulse::new();
        let later = LONGEST + Duration::from_secs(2);
        assert!(!pulse.stands_still(later), "nothing is running");
        pulse.moved(true);
        assert!(!pulse.stands_still(Duration::from_secs(10)));
        assert!(pulse.stands_still(later));
        pulse.moved(false);
        assert!(!pulse.stands_still(later), "the stage is over");
    }
}
