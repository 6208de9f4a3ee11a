//! One side's source pictures in the order they are shown, each decoded and made ready as seldom as can be: what a
//! later shot shows again, or what is passed on the way to another picture and wanted later, is kept within limits.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;
use std::sync::mpsc::SyncSender;

use super::beats::{Beat, Shows};
use super::film::{Footage, Pictures};
use super::stage::{Prepared, Stage};
use crate::media::Cut;
use crate::messages;
use crate::types::{Cancel, Error, Result, TimedFrame};

/// Farther ahead than this many pictures a reader is opened anew rather than read on.
const READ_ON: usize = 90;
/// Pictures kept for later may take this much memory a side, bytes.
const KEPT_BYTES: usize = 60_000_000;

/// A source picture and the shot it is made ready for.
pub type Wanted = (usize, usize);

/// The source pictures that are wanted from one side, in order, neighbours never alike.
pub fn wanted(stages: &[Stage], side: usize, beats: &[Beat], nearest: impl Fn(f64) -> usize) -> Vec<Wanted> {
    let mut out: Vec<Wanted> = Vec::new();
    for beat in beats {
        if let Shows::Swing { today_s, reference_s, .. } = beat.shows
            && let Some(real_s) = stages.get(beat.shot).and_then(|s| s.side_s(side, today_s, reference_s))
        {
            let one = (beat.shot, nearest(real_s));
            if out.last() != Some(&one) {
                out.push(one);
            }
        }
    }
    out
}

/// A picture made ready in one of the ways there are: the number of the first shot that makes it ready so.
type Key = (usize, usize);

/// Which shots make pictures ready alike: for each the first one that does.
fn alike(stages: &[Stage], side: usize) -> Vec<usize> {
    let first = |stage: &Stage| stages.iter().position(|other| other.prepares_like(stage, side));
    stages.iter().enumerate().map(|(i, stage)| first(stage).unwrap_or(i)).collect()
}

/// What is worth keeping: pictures that an earlier shot passes or shows. Shots that show few of the pictures they pass
/// come first: of those each one kept saves the most.
fn worth_keeping(
    stages: &[Stage],
    side: usize,
    ways: &[usize],
    list: &[Wanted],
    most_bytes: usize,
) -> HashSet<Key> {
    struct Span {
        way: usize,
        shot: usize,
        first: usize,
        last: usize,
        shown: Vec<usize>,
    }
    let mut spans: Vec<Span> = Vec::new();
    for &(shot, index) in list {
        let way = ways.get(shot).copied().unwrap_or(shot);
        match spans.last_mut().filter(|s| s.shot == shot) {
            Some(span) => {
                (span.first, span.last) = (span.first.min(index), span.last.max(index));
                span.shown.push(index);
            }
            None => spans.push(Span { way, shot, first: index, last: index, shown: vec![index] }),
        }
    }
    let passed = |place: usize, way: usize, index: usize| {
        spans.iter().take(place).any(|s| s.way == way && (s.first..=s.last).contains(&index))
    };
    let mut order: Vec<usize> = (1..spans.len()).collect();
    let stride = |s: &Span| (s.last - s.first) as f64 / s.shown.len().max(1) as f64;
    order.sort_by(|a, b| spans.get(*b).map_or(0.0, stride).total_cmp(&spans.get(*a).map_or(0.0, stride)));
    let (mut keep, mut bytes) = (HashSet::new(), 0);
    for place in order {
        let Some(span) = spans.get(place) else { continue };
        let each = stages.get(span.shot).map_or(0, |stage| stage.prepared_bytes(side));
        for &index in &span.shown {
            let key = (span.way, index);
            if bytes + each <= most_bytes && passed(place, span.way, index) && keep.insert(key) {
                bytes += each;
            }
        }
    }
    keep
}

/// The open file: what it gives next, and cut how.
struct Open<'a> {
    pictures: Box<dyn Pictures + 'a>,
    cut: Option<Cut>,
    ahead: usize,
}

/// What was made ready last, and which picture was asked for then.
struct Last {
    way: usize,
    asked: usize,
    prepared: Arc<Prepared>,
}

struct Supply<'a> {
    stages: &'a [Stage<'a>],
    side: usize,
    footage: &'a dyn Footage,
    cancel: &'a Cancel,
    keep: HashSet<Key>,
    kept: HashMap<Key, Arc<Prepared>>,
    /// How often each picture is still wanted.
    uses: HashMap<Key, usize>,
    open: Option<Open<'a>>,
    last: Option<Last>,
}

impl Supply<'_> {
    fn prepare(&self, stage: &Stage, picture: TimedFrame) -> Arc<Prepared> {
        let real_s = self.footage.real_s(picture.index);
        Arc::new(stage.prepare(self.side, picture, real_s))
    }

    /// The first picture from `index` on.
    fn read(&mut self, index: usize, cut: Option<Cut>) -> Result<Option<TimedFrame>> {
        self.cancel.check()?;
        let goes_on = |o: &Open| o.cut == cut && index >= o.ahead && index <= o.ahead + READ_ON;
        let mut open = match self.open.take().filter(goes_on) {
            Some(open) => open,
            None => Open { pictures: self.footage.read_from(index, cut)?, cut, ahead: index },
        };
        let picture = open.pictures.picture_from(index)?;
        if let Some(picture) = &picture {
            open.ahead = picture.index + 1;
            self.open = Some(open);
        }
        Ok(picture)
    }

    /// The next picture worth keeping on the way to `index`, else that one.
    fn next_stop(&self, way: usize, cut: Option<Cut>, index: usize) -> usize {
        let from = match &self.open {
            Some(o) if o.cut == cut && index >= o.ahead && index <= o.ahead + READ_ON => o.ahead,
            _ => return index,
        };
        let worth = |i: &usize| {
            let key = (way, *i);
            self.keep.contains(&key) && !self.kept.contains_key(&key) && self.uses.contains_key(&key)
        };
        (from..index).find(worth).unwrap_or(index)
    }

    /// The picture `index` as `stage` wants it; where it is lost, the next one; where the file ends early, its last.
    fn get(&mut self, way: usize, stage: &Stage, index: usize) -> Result<Arc<Prepared>> {
        if let Some(kept) = self.kept.get(&(way, index)) {
            return Ok(kept.clone());
        }
        // A damaged place is jumped over: the picture after it stands in for all that are lost.
        let stands_in = |l: &&Last| l.way == way && (l.asked..=l.prepared.index).contains(&index);
        if let Some(last) = self.last.as_ref().filter(stands_in) {
            return Ok(last.prepared.clone());
        }
        let cut = stage.cut(self.side);
        loop {
            let stop = self.next_stop(way, cut, index);
            let Some(picture) = self.read(stop, cut)? else { return self.end(way, stage, index) };
            let reached = picture.index;
            let prepared = self.prepare(stage, picture);
            if self.keep.contains(&(way, reached)) && reached == stop {
                self.kept.insert((way, reached), prepared.clone());
            }
            if reached >= index {
                self.last = Some(Last { way, asked: index, prepared: prepared.clone() });
                return Ok(prepared);
            }
        }
    }

    /// Nothing comes from `index` on: the last picture there is.
    fn end(&mut self, way: usize, stage: &Stage, index: usize) -> Result<Arc<Prepared>> {
        let mut last = None;
        let mut pictures = self.footage.read_from(index.saturating_sub(READ_ON), stage.cut(self.side))?;
        while let Some(picture) = pictures.picture_from(0)? {
            self.cancel.check()?;
            last = Some(picture);
        }
        let Some(picture) = last else {
            let cause = messages::output::frame_missing(index).into();
            return Err(Error::Decode { path: self.footage.path().to_owned(), cause });
        };
        let prepared = self.prepare(stage, picture);
        // It stands in for all that would follow, too.
        self.kept.insert((way, index), prepared.clone());
        Ok(prepared)
    }

    fn used(&mut self, key: Key) {
        let left = self.uses.get(&key).map_or(0, |n| n.saturating_sub(1));
        if left > 0 {
            self.uses.insert(key, left);
        } else {
            self.uses.remove(&key);
            self.kept.remove(&key);
        }
    }
}

/// Read, scale and hand on every wanted picture. Ends quietly when nobody listens any more.
pub fn read_side(
    stages: &[Stage],
    side: usize,
    footage: &dyn Footage,
    list: &[Wanted],
    out: &SyncSender<Arc<Prepared>>,
    cancel: &Cancel,
) -> Result<()> {
    let ways = alike(stages, side);
    let way_of = |shot: usize| ways.get(shot).copied().unwrap_or(shot);
    let mut uses = HashMap::new();
    for &(shot, index) in list {
        *uses.entry((way_of(shot), index)).or_insert(0) += 1;
    }
    let keep = worth_keeping(stages, side, &ways, list, KEPT_BYTES);
    let (kept, open, last) = (HashMap::new(), None, None);
    let mut supply = Supply { stages, side, footage, cancel, keep, kept, uses, open, last };
    for &(shot, index) in list {
        let Some(stage) = supply.stages.get(shot) else { return Err(Error::WorkerLost) };
        let way = way_of(shot);
        let prepared = supply.get(way, stage, index)?;
        supply.used((way, index));
        if out.send(prepared).is_err() {
            return Ok(());
        }
    }
    Ok(())
}
