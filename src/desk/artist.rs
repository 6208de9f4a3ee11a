//! A thread that draws one pair: the very pictures that `compose` makes the video of, at any moment.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};

use serde::Serialize;
use tokio::sync::oneshot;

use super::news::News;
use super::pairs::PairData;
use super::pictures::{jpeg, part};
use super::reel::Reel;
use crate::compose::{self, Board, ClipOptions, Layout, Plan, Ready, Shot, Stage, Stages, usual_slow};
use crate::media::Cut;
use crate::pairing;
use crate::reading;
use crate::types::{Cancel, Error, Progress, Result};

/// What the pictures are drawn for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Canvas {
    /// The pictures alone, to fit about so many px.
    Page { width: usize, height: usize },
    /// All that the video shows, in the video's own size.
    Video,
}

/// How the two are shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Appearance {
    pub layout: Layout,
    /// 0…1.
    pub ghost_strength: f64,
    pub canvas: Canvas,
}

/// One picture that is wanted.
pub struct PictureRequest {
    pub data: Arc<PairData>,
    pub appearance: Appearance,
    /// Real times in both clips, s.
    pub at_s: [f64; 2],
    pub reply: oneshot::Sender<Result<Vec<u8>>>,
}

#[derive(Clone)]
pub struct Artist(Sender<PictureRequest>);

impl Artist {
    pub fn start(news: Arc<News>, cancel: Cancel) -> Result<Self> {
        let (asks, queue) = channel();
        let work = move || {
            let mut reels = [Reel::default(), Reel::default()];
            let mut next = queue.recv().ok();
            while let Some(ask) = next.take() {
                next = draw_alike(ask, &queue, &mut reels, &news, &cancel);
            }
        };
        std::thread::Builder::new().name("draw".into()).spawn(work).map_err(|_| Error::WorkerLost)?;
        Ok(Self(asks))
    }

    pub fn ask(&self, ask: PictureRequest) -> Result<()> {
        self.0.send(ask).map_err(|_| Error::WorkerLost)
    }
}

/// Draws `first` and all that follows of the same pair in the same look; gives the first that differs.
fn draw_alike(
    first: PictureRequest,
    queue: &Receiver<PictureRequest>,
    reels: &mut [Reel; 2],
    news: &Arc<News>,
    cancel: &Cancel,
) -> Option<PictureRequest> {
    let (data, appearance) = (first.data.clone(), first.appearance);
    let options = match options(&data, &appearance, news, cancel) {
        Ok(options) => options,
        Err(e) => return refuse(first, e, queue),
    };
    // What is said of the layout is in the pair's own answer.
    let (sides, mut warnings) = (data.sides(), Vec::new());
    let plan = Plan::ready(Ready::Teach, usual_slow());
    let stages =
        Stages::new([&sides[0], &sides[1]], data.inside(), &data.pairing, &plan, &options, &mut warnings);
    let stages = match stages {
        Ok(stages) => stages.stages,
        Err(e) => return refuse(first, e, queue),
    };
    let (number, slow) = slowest(&plan);
    let Some(stage) = stages.get(number) else { return refuse(first, Error::WorkerLost, queue) };
    let partners = [0, 1].map(|side| partners(&data, side));
    let mut scene =
        Scene { data: &data, stage, slow, appearance, board: Board::default(), reels, at: [0; 2], partners };
    let mut ask = Some(first);
    loop {
        match ask.take() {
            Some(ask) if ask.data.version == data.version && ask.appearance == appearance => scene.serve(ask),
            Some(other) => return Some(other),
            None => (),
        }
        ask = match queue.try_recv() {
            Ok(ask) => Some(ask),
            Err(TryRecvError::Disconnected) => return None,
            Err(TryRecvError::Empty) if scene.warm() => None,
            Err(TryRecvError::Empty) => Some(queue.recv().ok()?),
        };
    }
}

fn refuse(ask: PictureRequest, error: Error, queue: &Receiver<PictureRequest>) -> Option<PictureRequest> {
    // Whoever asked may have gone on.
    let _ = ask.reply.send(Err(error));
    queue.recv().ok()
}

/// The shot of the plan that is looked at most closely, and how slow it is.
fn slowest(plan: &Plan) -> (usize, f64) {
    let slow = |shot: &Shot| if let Shot::Swing(swing) = shot { swing.slow } else { 0.0 };
    let shots = plan.shots.iter().map(slow).enumerate();
    shots.max_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or((0, 1.0))
}

fn options(
    data: &PairData,
    appearance: &Appearance,
    news: &Arc<News>,
    cancel: &Cancel,
) -> Result<ClipOptions> {
    let size = match appearance.canvas {
        Canvas::Page { width, height } => Some(appearance.layout.canvas_around(width, height)),
        Canvas::Video => None,
    };
    let options = ClipOptions {
        layout: Some(appearance.layout),
        ghost_strength: appearance.ghost_strength,
        size,
        captions: Some(data.words.clone()),
        ..ClipOptions::default()
    };
    with_cutouts(options, data, &ProgressNews::new(news.clone(), super::news::GHOST), cancel)
}

/// The options with what a ghost is cut out by, where one is shown.
pub fn with_cutouts(
    mut options: ClipOptions,
    data: &PairData,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<ClipOptions> {
    if data.pairing.registration.is_some() && options.shows_ghost() {
        let (clip, reading) = (&data.filmed.clip, &data.filmed.reading);
        let cutouts = reading::kept_cutouts(clip, reading, progress, cancel)?.0;
        let width = reading.clip.width;
        options.cutouts =
            Some(if data.mirrored { pairing::mirrored_cutouts(&cutouts, width) } else { cutouts });
    }
    Ok(options)
}

/// The pictures of a side that are shown beside those of the other, in order.
fn partners(data: &PairData, side: usize) -> Vec<usize> {
    let (own, other) = (&data.side(side).clip, &data.side(1 - side).clip);
    let moments = (0..other.facts().frames).filter_map(|i| data.moment(1 - side, i).ok());
    let mut all: Vec<usize> = moments.map(|at_s| own.frame_at_real(at_s[side])).collect();
    all.dedup();
    all
}

struct Scene<'a> {
    data: &'a PairData,
    stage: &'a Stage<'a>,
    slow: f64,
    appearance: Appearance,
    board: Board,
    reels: &'a mut [Reel; 2],
    /// The pictures shown last.
    at: [usize; 2],
    /// Of each side, the pictures that are shown beside those of the other.
    partners: [Vec<usize>; 2],
}

impl Scene<'_> {
    fn serve(&mut self, ask: PictureRequest) {
        // A page that scrubs on asks for many pictures it no longer waits for.
        if !ask.reply.is_closed() {
            let drawn = self.draw(ask.at_s);
            let _ = ask.reply.send(drawn);
        }
    }

    /// What is wanted of a side's pictures.
    fn cut(&self, side: usize) -> Cut {
        let facts = self.data.side(side).clip.facts();
        let native = (facts.width & !1, facts.height & !1);
        self.stage.cut(side).unwrap_or(Cut::whole(native, native))
    }

    fn draw(&mut self, at_s: [f64; 2]) -> Result<Vec<u8>> {
        let at = [0, 1].map(|side| self.data.side(side).clip.frame_at_real(at_s[side]));
        self.at = at;
        let data = self.data;
        let films = data.sides().map(|side| side.film());
        let cuts = [0, 1].map(|side| films[side].filmed_cut(self.cut(side)));
        let [left, right] = &mut *self.reels;
        let picture = |reel: &mut Reel, side: usize| {
            let side_data = data.side(side);
            reel.at(&side_data.film.content_stamp, &side_data.clip, cuts[side], at[side])
        };
        // Not in the pool of threads that reading in the background keeps busy.
        let (today, reference) = std::thread::scope(|scope| {
            let reference = scope.spawn(|| picture(right, 1));
            (picture(left, 0), reference.join().unwrap_or(Err(Error::WorkerLost)))
        });
        let ready = |side: usize, picture: crate::types::TimedFrame| {
            let real_s = data.side(side).clip.real_s(picture.index);
            self.stage.prepare(side, films[side].shown(picture), real_s)
        };
        let (today, reference) = (ready(0, today?), ready(1, reference?));
        let clip = &data.today.clip;
        let snap = |real_s: f64| clip.real_s(clip.frame_at_real(real_s));
        let state = compose::state_at(today.real_s, self.slow, &data.today.reading, &data.pairing, snap);
        self.stage.compose(&mut self.board, state, [Some(&today), Some(&reference), None, None])?;
        let frame = self.board.frame().ok_or(Error::WorkerLost)?;
        match self.appearance.canvas {
            Canvas::Page { .. } => jpeg(&part(frame, self.stage.panels_bounds())),
            Canvas::Video => jpeg(frame),
        }
    }

    /// Make one more picture near the present ones ready; `false` when there is nothing left to do.
    fn warm(&mut self) -> bool {
        let mut more = false;
        for ((side, reel), at) in self.reels.iter_mut().enumerate().zip(self.at) {
            // What does not decode is told when it is asked for.
            more |= reel.warm(&self.data.side(side).clip, at, &self.partners[side]).unwrap_or(false);
        }
        more
    }
}

/// How far a stage of work is, told to the pages.
#[derive(Debug, Clone, Serialize)]
struct StageProgress<'a> {
    stage: &'a str,
    done: u64,
    of: u64,
}

/// Tells the pages how far work is.
pub struct ProgressNews {
    news: Arc<News>,
    kind: &'static str,
    now: std::sync::Mutex<(String, u64, u64)>,
}

impl ProgressNews {
    pub fn new(news: Arc<News>, kind: &'static str) -> Self {
        Self { news, kind, now: Default::default() }
    }

    fn tell(&self, change: impl FnOnce(&mut (String, u64, u64)) -> bool) {
        let Ok(mut now) = self.now.lock() else { return };
        if change(&mut now) {
            let (stage, done, of) = &*now;
            self.news.tell(self.kind, &StageProgress { stage, done: *done, of: *of });
        }
    }
}

impl Progress for ProgressNews {
    fn begin(&self, what: &str, steps: u64) {
        self.tell(|now| {
            *now = (what.to_owned(), 0, steps);
            true
        });
    }

    fn advance(&self, steps: u64) {
        // Each hundredth at most.
        self.tell(|(_, done, of)| {
            let before = *done * 100 / (*of).max(1);
            *done += steps;
            *done * 100 / (*of).max(1) != before
        });
    }

    fn end(&self) {}
}
