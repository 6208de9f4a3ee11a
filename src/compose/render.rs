//! Threads: one reader per side with a short queue; the caller's composes and hands each picture to the encoder, which
//! has threads of its own. No clip is ever held whole: a reader that is ahead waits.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, sync_channel};

use serde::Serialize;

use super::beats::{Beat, Shows};
use super::film::{Footage, Sink};
use super::stage::{Board, FrameState, Prepared, SIDES, Stage};
use super::supply::{Wanted, read_side, wanted};
use crate::types::{Cancel, Error, Progress, Result};

/// Made ready and waiting, per side. A prepared panel is some 2 MB.
const PREPARED_QUEUE: usize = 4;

/// What was shown of one side.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Shown {
    /// Place in the source's index of pictures.
    pub frame: usize,
    /// Its playback time in the source, s.
    pub pts_s: f64,
}

/// One output picture: when it is shown and what it shows.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TraceLine {
    /// Of the output picture, s from the video's beginning.
    pub output_time_s: f64,
    /// Place in the plan.
    pub shot: usize,
    /// `None` on a card, and where the other swing is shown alone.
    pub today: Option<Shown>,
    /// The same of the reference.
    pub reference: Option<Shown>,
    /// Their second angles, where there are any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub today_second: Option<Shown>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) reference_second: Option<Shown>,
}

/// One side's present picture and the queue of those to come.
struct Feed {
    queue: Receiver<Arc<Prepared>>,
    now: Option<Arc<Prepared>>,
    wanted: Option<Wanted>,
}

impl Feed {
    fn new(queue: Receiver<Arc<Prepared>>) -> Self {
        Self { queue, now: None, wanted: None }
    }

    /// Move on to this one if it is not the present one.
    fn step_to(&mut self, wanted: Wanted) -> Result<&Prepared> {
        if self.wanted != Some(wanted) {
            self.now = Some(self.queue.recv().map_err(|_| Error::WorkerLost)?);
            self.wanted = Some(wanted);
        }
        self.now.as_deref().ok_or(Error::WorkerLost)
    }
}

fn compose(
    stages: &[Stage],
    footage: [Option<&dyn Footage>; SIDES],
    beats: &[Beat],
    feeds: Vec<Receiver<Arc<Prepared>>>,
    sink: &mut impl Sink,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<Vec<TraceLine>> {
    let mut trace = Vec::with_capacity(beats.len());
    let mut feeds: Vec<Feed> = feeds.into_iter().map(Feed::new).collect();
    let mut board = Board::default();
    // A shot that stands still is drawn once.
    let mut still = None;
    for beat in beats {
        cancel.check()?;
        let Some(stage) = stages.get(beat.shot) else { return Err(Error::WorkerLost) };
        let line = TraceLine {
            output_time_s: beat.output_time_s,
            shot: beat.shot,
            today: None,
            reference: None,
            today_second: None,
            reference_second: None,
        };
        let line = match beat.shows {
            Shows::Card | Shows::Title => {
                if still != Some(beat.shot) {
                    board.show(if beat.shows == Shows::Card { stage.card()? } else { stage.title()? });
                    still = Some(beat.shot);
                }
                line
            }
            Shows::Swing { today_s, reference_s, slow, hold, passed } => {
                still = None;
                let mut at = [None; SIDES];
                for (side, (feed, footage)) in feeds.iter_mut().zip(footage).enumerate() {
                    let real_s = stage.side_s(side, today_s, reference_s);
                    if let (Some(footage), Some(real_s)) = (footage, real_s) {
                        at[side] = Some(feed.step_to((beat.shot, footage.nearest(real_s)))?);
                    }
                }
                let shown = |p: Option<&Prepared>| p.map(|p| Shown { frame: p.index, pts_s: p.pts_s });
                stage.compose(&mut board, FrameState { slow, hold, passed }, at)?;
                let [today, reference, today_second, reference_second] = at.map(shown);
                TraceLine { today, reference, today_second, reference_second, ..line }
            }
        };
        trace.push(line);
        sink.take(board.frame().ok_or(Error::WorkerLost)?)?;
        progress.advance(1);
    }
    Ok(trace)
}

/// Make every picture of `beats` and give it to `sink`, which is handed back at the end. `stages`: one for
/// each shot of the plan; `footage`: today's and the reference's, then their second angles.
pub fn render<S: Sink>(
    stages: &[Stage],
    footage: [Option<&dyn Footage>; SIDES],
    beats: &[Beat],
    mut sink: S,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<(S, Vec<TraceLine>)> {
    let list =
        |side: usize, footage: &dyn Footage| wanted(stages, side, beats, |real_s| footage.nearest(real_s));
    let lists: Vec<Vec<Wanted>> =
        footage.iter().enumerate().map(|(side, f)| f.map_or_else(Vec::new, |f| list(side, f))).collect();
    let (readers, composed) = std::thread::scope(|scope| {
        let (mut readers, mut feeds) = (Vec::new(), Vec::new());
        for (side, (footage, list)) in footage.into_iter().zip(&lists).enumerate() {
            let (out, queue) = sync_channel(PREPARED_QUEUE);
            feeds.push(queue);
            let Some(footage) = footage.filter(|_| !list.is_empty()) else { continue };
            let work = move || read_side(stages, side, footage, list, &out, cancel);
            let name = ["read today", "read reference", "read today 2", "read reference 2"][side];
            readers.push(std::thread::Builder::new().name(name.into()).spawn_scoped(scope, work));
        }
        let composed = compose(stages, footage, beats, feeds, &mut sink, progress, cancel);
        (readers.into_iter().map(joined).collect::<Vec<_>>(), composed)
    });
    let mut causes = Vec::new();
    let mut keep = |failed: Option<Error>| causes.extend(failed);
    readers.into_iter().for_each(|read| keep(read.err()));
    let trace = composed.map_err(|e| keep(Some(e))).ok();
    // The first cause counts, not the silence of those who waited for it.
    let first = causes.iter().position(|e| !matches!(e, Error::WorkerLost)).unwrap_or(0);
    match trace {
        _ if !causes.is_empty() => Err(causes.swap_remove(first)),
        Some(trace) => Ok((sink, trace)),
        None => Err(Error::WorkerLost),
    }
}

/// What a thread gave; one that could not start or broke is a lost worker.
fn joined<T>(thread: std::io::Result<std::thread::ScopedJoinHandle<'_, Result<T>>>) -> Result<T> {
    thread.map_err(|_| Error::WorkerLost)?.join().unwrap_or(Err(Error::WorkerLost))
}

#[cfg(test)]
mod tests {
    use std::path::Path;
    use std::sync::Mutex;

    use super::super::film::Pictures;
    use super::super::layout::Layout;
    use super::super::plan::Plan;
    use super::super::ready::Ready;
    use super::super::sample::{self, Hit};
    use super::*;
    use crate::media::Cut;
    use crate::types::{EventId, Frame, NoProgress, TimedFrame};

    /// A made-up hitter as footage that can lose pictures and counts its readers.
    struct Filmed {
        hit: Hit,
        picture: Frame,
        lost: std::ops::Range<usize>,
        opened: Mutex<Vec<usize>>,
        breaks_at: Option<usize>,
    }

    struct Reel<'a>(&'a Filmed, Frame, usize);

    impl Footage for Filmed {
        fn path(&self) -> &Path {
            Path::new("made-up.mp4")
        }
        fn read_from(&self, from: usize, cut: Option<Cut>) -> Result<Box<dyn Pictures + '_>> {
            self.opened.lock().unwrap().push(from);
            let picture = cut.map_or(self.picture.clone(), |cut| sample::cut_out(&self.picture, cut));
            Ok(Box::new(Reel(self, picture, from)))
        }
        fn nearest(&self, real_s: f64) -> usize {
            ((real_s * self.hit.rate_hz).round().max(0.0) as usize).min(self.hit.frames() - 1)
        }
        fn real_s(&self, index: usize) -> f64 {
            index as f64 / self.hit.rate_hz
        }
    }

    impl Pictures for Reel<'_> {
        fn picture_from(&mut self, from: usize) -> Result<Option<TimedFrame>> {
            self.2 = self.2.max(from);
            while self.0.lost.contains(&self.2) {
                self.2 += 1;
            }
            if self.0.breaks_at.is_some_and(|b| self.2 >= b) {
                return Err(Error::Decode { path: self.0.path().to_owned(), cause: "broken".into() });
            }
            if self.2 >= self.0.hit.frames() {
                return Ok(None);
            }
            let index = self.2;
            self.2 += 1;
            let (pts_s, frame) = (index as f64 / self.0.hit.rate_hz, self.1.clone());
            Ok(Some(TimedFrame { index, pts_s, frame }))
        }
    }

    struct Counter(usize, Option<usize>);

    impl Sink for Counter {
        fn take(&mut self, _: &Frame) -> Result<()> {
            self.0 += 1;
            match self.1 {
                Some(full) if self.0 > full => {
                    Err(Error::Unwritable { path: "out.mp4".into(), cause: "disk full".into() })
                }
                _ => Ok(()),
            }
        }
    }

    fn film(hit: Hit) -> Filmed {
        Filmed { picture: hit.picture(0), hit, lost: 0..0, opened: Mutex::default(), breaks_at: None }
    }

    fn run(
        today: &Filmed,
        reference: &Filmed,
        full: Option<usize>,
        cancel: &Cancel,
    ) -> Result<(usize, Vec<TraceLine>)> {
        let (t, r, pairing) = sample::pair();
        let plan = Plan::ready(Ready::Teach, 4.0);
        let stage = || Stage::new(Layout::SideBySide, (270, 480), [&t, &r], ["A", "B"], &pairing, 0.5);
        let stages = plan.shots.iter().map(|_| stage()).collect::<Result<Vec<_>>>()?;
        let beats = plan.beats([&t, &r], &pairing, 30.0, None, |_, s| today.real_s(today.nearest(s)))?;
        let (sink, trace) = render(
            &stages,
            [Some(today), Some(reference), None, None],
            &beats,
            Counter(0, full),
            &NoProgress,
            cancel,
        )?;
        Ok((sink.0, trace))
    }

    #[test]
    fn every_picture_shown_is_the_nearest_in_time() {
        let (today, reference) = (film(sample::today()), film(sample::reference()));
        let (made, trace) = run(&today, &reference, None, &Cancel::default()).unwrap();
        assert_eq!(made, trace.len());
        let (_, _, pairing) = sample::pair();
        let map = &pairing.time_map;
        let swing: Vec<_> = trace.iter().filter_map(|l| Some((l.today?, l.reference?))).collect();
        assert!(swing.len() > 150);
        for (t, r) in swing {
            let apart = map.reference_from_today(t.pts_s) - r.pts_s;
            // Half a picture of each clip.
            assert!(apart.abs() <= 0.5 / 240.0 + 0.5 / 120.0 + 1e-9, "{apart}");
        }
        // Three shots that go back in time: what the first one passed was kept for the others.
        assert_eq!(today.opened.lock().unwrap().len(), 1);
        assert_eq!(reference.opened.lock().unwrap().len(), 1);
    }

    #[test]
    fn across_rates_and_maps_each_side_shows_the_nearest_picture() {
        for (today_hz, reference_hz) in [(60.0, 240.0), (240.0, 60.0), (30.0, 120.0), (120.0, 29.97)] {
            let (mut t, mut r) = (film(sample::today()), film(sample::reference()));
            (t.hit.rate_hz, r.hit.rate_hz) = (today_hz, reference_hz);
            let (today, reference) = (t.hit.reading(Default::default()), r.hit.reading(Default::default()));
            let phases = [EventId::FootOff, EventId::Plant, EventId::Contact, EventId::Extension];
            for (events, slow) in [(&phases[1..2], 8.0), (&phases[..], 8.0), (&phases[..], 3.7)] {
                let (_, _, mut pairing) = sample::pair();
                let knot = |event: &EventId| crate::types::Knot {
                    event: *event,
                    today_s: today.events[event].time_s,
                    reference_s: reference.events[event].time_s,
                };
                pairing.time_map.knots = events.iter().map(knot).collect();
                let labels = ["A", "B"];
                let readings = [&today, &reference];
                let plan = Plan::ready(Ready::Teach, slow);
                let stage =
                    |_| Stage::new(Layout::SideBySide, (240, 426), readings, labels, &pairing, 0.5).unwrap();
                let stages: Vec<Stage> = plan.shots.iter().map(stage).collect();
                let beats =
                    plan.beats(readings, &pairing, 30.0, None, |_, s| t.real_s(t.nearest(s))).unwrap();
                let sink = Counter(0, None);
                let made = render(
                    &stages,
                    [Some(&t), Some(&r), None, None],
                    &beats,
                    sink,
                    &NoProgress,
                    &Cancel::default(),
                )
                .unwrap();
                for (beat, line) in beats.iter().zip(&made.1) {
                    let Shows::Swing { today_s, reference_s, .. } = beat.shows else { continue };
                    for (film, wanted_s, shown) in
                        [(&t, today_s, line.today), (&r, reference_s, line.reference)]
                    {
                        let off = |i: usize| (film.real_s(i) - wanted_s).abs();
                        let least = (0..film.hit.frames()).map(off).fold(f64::INFINITY, f64::min);
                        let shown = off(shown.unwrap().frame);
                        assert!(shown <= least + 1e-9, "{today_hz} {reference_hz}: {shown} {least}");
                    }
                }
            }
        }
    }

    #[test]
    fn lost_pictures_are_stood_in_for_and_the_trace_says_so() {
        let (mut today, reference) = (film(sample::today()), film(sample::reference()));
        today.lost = 300..330;
        let (_, trace) = run(&today, &reference, None, &Cancel::default()).unwrap();
        assert!(trace.iter().filter_map(|l| l.today).all(|t| !(300..330).contains(&t.frame)));
        assert!(trace.iter().filter_map(|l| l.today).any(|t| t.frame == 330));
        // What is not there cannot be kept: the slow shot looks for it again.
        assert_eq!(today.opened.lock().unwrap().len(), 2);
    }

    #[test]
    fn the_first_cause_is_told() {
        let (mut today, reference) = (film(sample::today()), film(sample::reference()));
        today.breaks_at = Some(320);
        let error = run(&today, &reference, None, &Cancel::default()).unwrap_err();
        assert!(matches!(error, Error::Decode { .. }), "{error}");
        let today = film(sample::today());
        let error = run(&today, &reference, Some(20), &Cancel::default()).unwrap_err();
        assert!(matches!(error, Error::Unwritable { .. }), "{error}");
    }

    #[test]
    fn a_cancelled_render_ends() {
        let cancel = Cancel::default();
        cancel.cancel();
        let error = run(&film(sample::today()), &film(sample::reference()), None, &cancel).unwrap_err();
        assert!(matches!(error, Error::Cancelled), "{error}");
    }
}
