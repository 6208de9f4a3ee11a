//! Looks after the folder: new films appear by themselves, and what another run kept is seen. A page that was closed
//! stops the reading.

use std::sync::Arc;
use std::time::{Duration, Instant};

use super::{Shared, news};

const LOOK_UP: Duration = Duration::from_millis(500);
/// A page that is loaded anew is back sooner than this.
const GONE_AFTER: Duration = Duration::from_secs(5);

pub fn work(shared: &Arc<Shared>) {
    let mut before = None;
    let mut seen = Instant::now();
    while !shared.cancel.is_cancelled() {
        if shared.news.listeners() > 0 {
            seen = Instant::now();
        } else if seen.elapsed() > GONE_AFTER {
            shared.reader.stop_now();
        }
        let now: Option<Vec<String>> = shared
            .films
            .list()
            .ok()
            .map(|films| films.into_iter().map(|film| format!("{} {}", film.id, film.stamp)).collect());
        if before.as_ref() != Some(&now) {
            shared.news.tell(news::CLIPS, &shared.reader.status());
            before = Some(now);
        }
        std::thread::sleep(LOOK_UP);
    }
}
