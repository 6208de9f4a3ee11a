//! Clips read and put together. What was read is used again while neither film nor sidecar changed.

use std::collections::HashMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use super::Shared;
use super::artist::Artist;
use super::films::Film;
use crate::compose::ClipSide;
use crate::messages::{self, Captions, desk as words};
use crate::pairing;
use crate::reading::{self, ReadOptions};
use crate::store;
use crate::types::{ByHand, Cancel, Error, NoProgress, Pairing, Reading, Rect, Result, SyncOn, Warning};

/// One clip as it was read.
pub struct Side {
    pub film: Film,
    pub clip: crate::media::Clip,
    pub reading: Reading,
    /// The part of its pictures that is no bar, px.
    pub inside: Rect,
    /// What a person showed in its pictures.
    pub by_hand: ByHand,
    /// Whether a person set anything of it.
    pub set: bool,
}

impl Side {
    /// As its mirror image would be read.
    fn mirrored(&self) -> Self {
        let width = (self.clip.facts().width & !1) as f64;
        Self {
            film: self.film.clone(),
            clip: self.clip.clone(),
            reading: pairing::mirrored(&self.reading),
            inside: Rect { x: width - self.inside.right(), ..self.inside },
            by_hand: self.by_hand.clone(),
            set: self.set,
        }
    }
}

/// Today's clip and the references, lined up.
pub struct PairData {
    pub today: Arc<Side>,
    /// Of several the one that is shown, as it is shown.
    pub reference: Arc<Side>,
    /// The same as it was filmed.
    pub filmed: Arc<Side>,
    /// The references are shown, and laid over today's, as their mirror images.
    pub mirrored: bool,
    /// Every reference bats from the other side, so that a mirror image would help.
    pub can_mirror: bool,
    pub pairing: Pairing,
    pub warnings: Vec<Warning>,
    /// Names of the two, as in the video.
    pub labels: [String; 2],
    /// English, in the units to be read.
    pub words: &'static Captions,
    /// Changes when anything of it does.
    pub version: String,
}

impl PairData {
    /// As the video takes them.
    pub fn sides(&self) -> [ClipSide<'_>; 2] {
        let of = |side: usize| {
            let (read, label) = (self.side(side), &self.labels[side.min(1)]);
            let mirrored = side == 1 && self.mirrored;
            ClipSide { clip: &read.clip, reading: &read.reading, label, second: None, mirrored }
        };
        [of(0), of(1)]
    }

    /// 0 = today, 1 = the reference that is shown.
    pub fn side(&self, side: usize) -> &Side {
        if side == 0 { &self.today } else { &self.reference }
    }

    pub fn inside(&self) -> [Rect; 2] {
        [self.today.inside, self.reference.inside]
    }

    /// Real times of both at picture `index` of the one that leads (0 = today), s.
    pub fn moment(&self, lead: usize, index: usize) -> Result<[f64; 2]> {
        let clip = &self.side(lead).clip;
        let frames = clip.facts().frames;
        if index >= frames {
            return Err(Error::Usage(words::no_such_frame(index, frames)));
        }
        let (at_s, map) = (clip.real_s(index), &self.pairing.time_map);
        Ok(match lead {
            0 => [at_s, map.reference_from_today(at_s)],
            _ => [map.today_from_reference(at_s), at_s],
        })
    }
}

/// Which clips, and what they are lined up on.
#[derive(Debug, Clone, PartialEq)]
pub struct PairRequest {
    pub today: String,
    pub references: Vec<String>,
    pub sync: SyncOn,
    /// The references as their mirror images.
    pub mirror: bool,
}

/// So many pairs are drawn at once, each by a thread with its own pictures.
const MOST_ARTISTS: usize = 2;
/// So many pairings are kept.
const MOST_PAIRED: usize = 8;
/// Somebody may change what is kept just while it is read: then it is read again, so often at most.
const TRIES: usize = 3;

#[derive(Default)]
pub struct Pairs {
    sides: Mutex<HashMap<String, Arc<Side>>>,
    /// One reading at a time: two would do the same work.
    turn: Mutex<()>,
    paired: Mutex<Vec<Arc<PairData>>>,
    artists: Mutex<Vec<(String, Artist)>>,
    closed: AtomicBool,
}

impl Pairs {
    /// No picture is drawn any more; the threads that draw end.
    pub fn close(&self) {
        self.closed.store(true, Ordering::SeqCst);
        if let Ok(mut artists) = self.artists.lock() {
            artists.clear();
        }
    }

    /// A clip that was read before, as it is now.
    pub fn side(&self, shared: &Shared, id: &str) -> Result<Arc<Side>> {
        let _turn = self.turn.lock().map_err(|_| Error::WorkerLost)?;
        let mut film = shared.films.find(id)?;
        let known = self.sides.lock().map_err(|_| Error::WorkerLost)?.get(id).cloned();
        if let Some(known) = known.clone().filter(|k| k.film == film) {
            return Ok(known);
        }
        if shared.films.kept(&film).rep.as_ref().is_none_or(|rep| rep.reading.is_none()) {
            return Err(Error::Usage(words::not_read_yet(&film.name)));
        }
        let options = ReadOptions { limits: shared.limits, ..ReadOptions::default() };
        let mut read = reading::read(&film.path, &options, &NoProgress, &shared.cancel)?;
        for _ in 1..TRIES {
            film = shared.films.find(id)?;
            // What was kept meanwhile by another run is not in this reading.
            if store::kept(&film.path).is_none_or(|kept| kept.made_from.is_some()) {
                break;
            }
            read = reading::read(&film.path, &options, &NoProgress, &shared.cancel)?;
        }
        // Bars are the same in every picture: they are looked for once for each state of the film.
        let same_film = known.filter(|k| k.film.content_stamp == film.content_stamp);
        let inside = match same_film {
            Some(known) => known.inside,
            None => {
                let (clip, reading) = (&read.clip, &read.reading);
                let side = ClipSide { clip, reading, label: "", second: None, mirrored: false };
                side.inside(&Cancel::default())?
            }
        };
        let kept = store::load(&film.path)?;
        let set = !(kept.pins.is_empty() && kept.by_hand.is_empty() && kept.hitter.bats.is_none());
        let by_hand = kept.by_hand;
        let side = Arc::new(Side { film, clip: read.clip, reading: read.reading, inside, by_hand, set });
        self.sides.lock().map_err(|_| Error::WorkerLost)?.insert(id.to_owned(), side.clone());
        Ok(side)
    }

    pub fn pair(&self, shared: &Shared, asked: &PairRequest) -> Result<Arc<PairData>> {
        if asked.references.is_empty() || asked.references.contains(&asked.today) {
            return Err(Error::Usage(words::TWO_NEEDED.to_owned()));
        }
        let today = self.side(shared, &asked.today)?;
        let references: Vec<Arc<Side>> =
            asked.references.iter().map(|id| self.side(shared, id)).collect::<Result<_>>()?;
        let stamps: Vec<String> = std::iter::once(&today)
            .chain(&references)
            .map(|side| format!("{} {}", side.film.id, side.film.stamp))
            .collect();
        let version = store::short_hash(format!("{stamps:?} {:?} {}", asked.sync, asked.mirror).as_bytes());
        let mut paired = self.paired.lock().map_err(|_| Error::WorkerLost)?;
        if let Some(known) = paired.iter().find(|p| p.version == version) {
            return Ok(known.clone());
        }
        let bats = today.reading.hitter.bats;
        let can_mirror = references.iter().all(|r| r.reading.hitter.bats != bats);
        if asked.mirror && !can_mirror {
            return Err(Error::Usage(words::nothing_to_mirror(bats)));
        }
        let filmed = references;
        let references: Vec<Arc<Side>> = match asked.mirror {
            true => filmed.iter().map(|side| Arc::new(side.mirrored())).collect(),
            false => filmed.clone(),
        };
        let readings: Vec<&Reading> = references.iter().map(|side| &side.reading).collect();
        let (pairing, warnings) = pairing::pair_with_reps(&today.reading, &readings, asked.sync)?;
        let place = pairing.good_reps.as_ref().map_or(0, |good| good.shown);
        let none = || Error::Usage(words::NO_REFERENCE.to_owned());
        let reference = references.get(place).cloned().ok_or_else(none)?;
        let filmed = filmed.get(place).cloned().ok_or_else(none)?;
        let captions = messages::english_in(shared.units);
        let several = pairing.good_reps.is_some();
        let reference_label = if several { captions.one_good_rep() } else { captions.reference() };
        let labels = [captions.today().to_owned(), reference_label.to_owned()];
        let data = Arc::new(PairData {
            today,
            reference,
            filmed,
            mirrored: asked.mirror,
            can_mirror,
            pairing,
            warnings,
            labels,
            words: captions,
            version,
        });
        paired.push(data.clone());
        if paired.len() > MOST_PAIRED {
            paired.remove(0);
        }
        Ok(data)
    }

    /// The thread that draws this pair.
    pub fn artist(&self, shared: &Shared, data: &PairData) -> Result<Artist> {
        let key = format!("{} {}", data.today.film.id, data.reference.film.id);
        let mut artists = self.artists.lock().map_err(|_| Error::WorkerLost)?;
        if self.closed.load(Ordering::SeqCst) {
            return Err(Error::Cancelled);
        }
        if let Some(at) = artists.iter().position(|(k, _)| *k == key) {
            let found = artists.remove(at);
            artists.push(found.clone());
            return Ok(found.1);
        }
        if artists.len() >= MOST_ARTISTS {
            artists.remove(0);
        }
        let new = Artist::start(shared.news.clone(), shared.cancel.clone())?;
        artists.push((key, new.clone()));
        Ok(new)
    }
}
