//! What happened, told to every open page as it happens (server-sent events, WHATWG HTML 9.2).

use serde::Serialize;
use tokio::sync::broadcast;

/// So many may wait for a slow page; one that misses some is told to look at everything anew.
const WAITING: usize = 256;

#[derive(Debug, Clone)]
pub struct Item {
    pub kind: &'static str,
    /// JSON.
    pub data: String,
}

/// The films or what is kept beside them changed.
pub const CLIPS: &str = "clips";
/// How far the reading in the background is.
pub const READING: &str = "reading";
/// How far the reference is cut out of its pictures, for a ghost.
pub const GHOST: &str = "ghost";
/// How far the search for the swings of a long film is.
pub const FINDING: &str = "finding";
/// How far the video is.
pub const MAKING: &str = "making";

pub struct News(broadcast::Sender<Item>);

impl Default for News {
    fn default() -> Self {
        Self(broadcast::channel(WAITING).0)
    }
}

impl News {
    pub fn tell(&self, kind: &'static str, what: &impl Serialize) {
        if let Ok(data) = serde_json::to_string(what) {
            // Nobody listens: nobody needs to know.
            let _ = self.0.send(Item { kind, data });
        }
    }

    pub fn listen(&self) -> broadcast::Receiver<Item> {
        self.0.subscribe()
    }

    /// How many pages are open.
    pub fn listeners(&self) -> usize {
        self.0.receiver_count()
    }
}
