//! Single pictures of single films.

use std::sync::{Arc, Mutex};

use super::films::Film;
use super::pictures::jpeg;
use super::reel::Reel;
use crate::media::{Clip, Cut, OpenOptions};
use crate::messages::desk as messages;
use crate::types::{Error, Limits, Result};

/// So many films are held open at once.
const MOST_OPEN: usize = 6;
/// Widths that are made, px.
const WIDTHS: std::ops::RangeInclusive<usize> = 32..=1920;

struct Opened {
    stamp: String,
    clip: Clip,
    reel: Mutex<Reel>,
}

#[derive(Default)]
pub struct Stills(Mutex<Vec<Arc<Opened>>>);

impl Stills {
    fn opened(&self, film: &Film, limits: Limits) -> Result<Arc<Opened>> {
        let same = |o: &Arc<Opened>| o.stamp == film.content_stamp && o.clip.facts().path == film.path;
        {
            let mut open = self.0.lock().map_err(|_| Error::WorkerLost)?;
            if let Some(at) = open.iter().position(same) {
                let found = open.remove(at);
                open.push(found.clone());
                return Ok(found);
            }
        }
        let clip = Clip::open(&film.path, &OpenOptions { recorded_at_hz: None, limits })?;
        let new = Arc::new(Opened { stamp: film.content_stamp.clone(), clip, reel: Mutex::default() });
        let mut open = self.0.lock().map_err(|_| Error::WorkerLost)?;
        open.push(new.clone());
        if open.len() > MOST_OPEN {
            open.remove(0);
        }
        Ok(new)
    }

    /// Picture `index` of the film as JPEG, `width` px wide or as wide as it is.
    pub fn jpeg(&self, film: &Film, index: usize, width: Option<usize>, limits: Limits) -> Result<Vec<u8>> {
        let opened = self.opened(film, limits)?;
        let facts = opened.clip.facts();
        if index >= facts.frames {
            return Err(Error::Usage(messages::no_such_frame(index, facts.frames)));
        }
        let native = (facts.width & !1, facts.height & !1);
        let width = width.unwrap_or(native.0).clamp(*WIDTHS.start(), *WIDTHS.end()).min(native.0.max(2)) & !1;
        let height = ((width * native.1 / native.0.max(1)) & !1).max(2);
        let cut = Cut::whole(native, (width.max(2), height));
        let mut reel = opened.reel.lock().map_err(|_| Error::WorkerLost)?;
        jpeg(&reel.at(&opened.stamp, &opened.clip, cut, index)?.frame)
    }
}
