//! What the made clip shows, and the threads that render it.
//!
//! ```text
//! plan ─► beats (what each output picture shows) ─► wanted source pictures
//!   read today ──► scale ─┐
//!                         ├─► compose (panels, marks, words) ─► write
//!   read reference ► scale┘
//! ```

mod bars;
mod beats;
mod card;
mod carry;
mod edge;
mod film;
mod fit;
mod framing;
mod ghost;
mod layout;
mod lines;
mod marks;
mod numbers;
mod options;
mod page;
mod path;
mod plan;
mod plan_check;
mod plan_text;
mod plan_warnings;
mod ready;
mod render;
mod screen;
mod soundtrack;
mod stage;
mod stages;
mod supply;
mod voice;

use std::path::Path;

use crate::media;
use crate::messages;
use crate::types::{Cancel, Error, EventId, Knot, Pairing, Progress, Reading, Rect, Result, Sound, SyncOn};
use crate::types::{NoSwing, TimeMap, Warning};

pub use beats::{Beat, Shows, state_at};
pub use film::{Film, Footage, Pictures, Sink};
pub use ghost::{Ghost, GhostStyle};
pub use layout::{Arrangement, Layout};
pub use options::{ClipOptions, check_captions, usual_slow};
pub use plan::{Hold, Mark, Moment, Plan, Shot, SwingShot};
pub use ready::Ready;
pub use render::{Shown, TraceLine, render};
pub use screen::Screen;
pub use stage::{Board, FrameState, Prepared, SIDES, SecondAngle, Stage};
pub use stages::Stages;

/// One of the two swings.
#[derive(Clone, Copy)]
pub struct ClipSide<'a> {
    /// The footage.
    pub clip: &'a media::Clip,
    /// What was read from it.
    pub reading: &'a Reading,
    /// How it is named in the picture.
    pub label: &'a str,
    /// The same swing by a second camera: shown under the first where the two stand side by side.
    pub second: Option<Second<'a>>,
    /// The pictures are shown as mirror images; `reading` is the mirrored one.
    pub mirrored: bool,
}

impl<'a> ClipSide<'a> {
    /// Its pictures as they are shown.
    pub fn film(&self) -> Film<'a> {
        Film { clip: self.clip, mirrored: self.mirrored }
    }

    /// The part of its pictures that is no bar, px.
    pub fn inside(&self, cancel: &Cancel) -> Result<Rect> {
        bars::without_bars(&self.film(), self.reading, cancel)
    }
}

/// A second camera's clip of a swing.
#[derive(Clone, Copy)]
pub struct Second<'a> {
    /// The second camera's footage.
    pub clip: &'a media::Clip,
    /// What was read from it, and how far its clock is off.
    pub angle: SecondAngle<'a>,
}

/// A made clip.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// As read back from the file.
    pub written: media::Written,
    /// One line per output picture.
    pub trace: Vec<TraceLine>,
    /// What could not be made as asked, and why.
    pub warnings: Vec<Warning>,
    /// The layout of all shots that have none of their own.
    pub layout: Layout,
}

/// Sound is read and written at this rate, Hz.
pub const SOUND_HZ: u32 = 48_000;

/// Today's sound under what runs at full speed. A clip that is stored slowed has none worth hearing.
fn sound(
    clip: &media::Clip,
    beats: &[Beat],
    stages: &[Stage],
    rate_hz: u32,
    warnings: &mut Vec<Warning>,
) -> Option<Sound> {
    if (clip.facts().slow_factor - 1.0).abs() > 0.01 {
        return None;
    }
    match clip.sound(SOUND_HZ) {
        Ok(sound) => {
            // Today's sound under the reference alone would be a lie.
            let heard = |shot: usize| stages.get(shot).is_some_and(|stage| stage.shows(0));
            soundtrack::soundtrack(&sound?, beats, f64::from(rate_hz), heard)
        }
        Err(error) => {
            warnings.push(Warning::SoundUnreadable { in_video: true, error: error.into() });
            None
        }
    }
}

/// Make the clip that shows `today` and `reference` lined up by `pairing`, at `target`.
///
/// # Errors
///
/// [`Error::OutputIsInput`] when `target` is one of the clips, [`Error::Ending`] and [`Error::Unwritable`] when it cannot be
/// made there, [`Error::SizeUnmet`] when it cannot be as small as `options.max_bytes`, [`Error::Verify`] when what was
/// written does not read back as it should, [`Error::Cancelled`].
///
/// ```no_run
/// use swingpair::compose::{ClipOptions, ClipSide, make};
/// use swingpair::pairing;
/// use swingpair::reading::{ReadClip, ReadOptions, read};
/// use swingpair::types::{Cancel, NoProgress, SyncOn};
///
/// fn side<'a>(rep: &'a ReadClip, label: &'a str) -> ClipSide<'a> {
///     ClipSide { clip: &rep.clip, reading: &rep.reading, label, second: None, mirrored: false }
/// }
///
/// let cancel = Cancel::default();
/// let read = |clip: &str| read(clip.as_ref(), &ReadOptions::default(), &NoProgress, &cancel);
/// let (today, best) = (read("today.mp4")?, read("best.mp4")?);
/// let (pairing, _warnings) = pairing::pair(&today.reading, &best.reading, SyncOn::Phases)?;
/// let sides = [side(&today, "Today"), side(&best, "Best")];
/// let options = ClipOptions::default();
/// make(&sides[0], &sides[1], &pairing, &options, "pair.mp4".as_ref(), &NoProgress, &cancel)?;
/// # Ok::<(), swingpair::types::Error>(())
/// ```
pub fn make(
    today: &ClipSide,
    reference: &ClipSide,
    pairing: &Pairing,
    options: &ClipOptions,
    target: &Path,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<Made> {
    for side in [today, reference] {
        let second = side.second.map(|s| s.clip);
        if [Some(side.clip), second].into_iter().flatten().any(|c| media::same_file(&c.facts().path, target))
        {
            return Err(Error::OutputIsInput { path: target.to_owned() });
        }
    }
    options.check()?;
    let slow = options.slow.unwrap_or(usual_slow());
    let plan = options.plan.clone().unwrap_or_else(|| Plan::ready(Ready::Teach, slow));
    let readings = [today.reading, reference.reading];
    let clips = [today.clip, reference.clip];
    let mut warnings = plan.warnings(readings, pairing, options.layout);
    let inside = [today.inside(cancel)?, reference.inside(cancel)?];
    let Stages { stages, layout, size: (width, height) } =
        Stages::new([today, reference], inside, pairing, &plan, options, &mut warnings)?;
    let snap = |side: usize, real_s| {
        let clip = clips[side.min(1)];
        clip.real_s(clip.frame_at_real(real_s))
    };
    let mut beats = plan.beats(readings, pairing, f64::from(options.rate_hz), options.layout, snap)?;
    let rate_hz = f64::from(options.rate_hz);
    if let Some(note) = &options.voice {
        voice::last_until(&mut beats, voice::length_s(note), rate_hz);
    }
    let mut sound = sound(today.clip, &beats, &stages, options.rate_hz, &mut warnings);
    if let Some(note) = &options.voice {
        sound = Some(voice::over(sound.as_ref(), note, beats.len() as f64 / rate_hz));
    }
    let write = media::WriteOptions {
        width,
        height,
        rate: (options.rate_hz, 1),
        crf: options.crf,
        preset: options.preset,
        sound,
        ..Default::default()
    };
    let most = options.max_bytes.unwrap_or(u64::MAX);
    let fit = fit::within(most, options.crf, |crf| {
        let write = media::WriteOptions { crf, ..write.clone() };
        let writer = media::Writer::create(target, &write)?;
        progress.begin(messages::output::MAKING, beats.len() as u64);
        let films = [today, reference].map(ClipSide::film);
        let under = [today, reference].map(|side| side.second.map(|s| Film { clip: s.clip, ..side.film() }));
        let [left, right] = [0, 1].map(|i| under[i].as_ref().map(|film| film as &dyn Footage));
        let footage = [Some(&films[0] as &dyn Footage), Some(&films[1]), left, right];
        let made = render(&stages, footage, &beats, writer, progress, cancel);
        progress.end();
        let (writer, trace) = made?;
        cancel.check()?;
        Ok(match writer.finish_within(most)? {
            media::Finished::Kept(written) => {
                let bytes = written.bytes;
                fit::Try::Fits { made: (written, trace), bytes }
            }
            media::Finished::TooLarge { bytes } => fit::Try::TooLarge { bytes },
        })
    })?;
    match fit {
        fit::Fit::Made((written, trace)) => Ok(Made { written, trace, warnings, layout }),
        fit::Fit::Never { smallest } => Err(Error::SizeUnmet { path: target.to_owned(), smallest }),
    }
}

/// Make the clip of one swing alone. Default plan: [`Ready::OneRep`]; a layout that is not asked for is
/// [`Layout::TodayAlone`]. A reading without any event is [`Error::NoSwing`].
///
/// ```no_run
/// use swingpair::compose::{ClipOptions, ClipSide, make_one};
/// use swingpair::reading::{ReadOptions, read};
/// use swingpair::types::{Cancel, NoProgress};
///
/// let cancel = Cancel::default();
/// let rep = read("today.mp4".as_ref(), &ReadOptions::default(), &NoProgress, &cancel)?;
/// let side = ClipSide { clip: &rep.clip, reading: &rep.reading, label: "Today", second: None, mirrored: false };
/// make_one(&side, &ClipOptions::default(), "one.mp4".as_ref(), &NoProgress, &cancel)?;
/// # Ok::<(), swingpair::types::Error>(())
/// ```
pub fn make_one(
    rep: &ClipSide,
    options: &ClipOptions,
    target: &Path,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<Made> {
    let slow = options.slow.unwrap_or(usual_slow());
    let mut plan = options.plan.clone().unwrap_or_else(|| Plan::ready(Ready::OneRep, slow));
    for shot in &mut plan.shots {
        // There is no second swing, whatever a plan for two says.
        if let Shot::Swing(swing) = shot {
            swing.layout = None;
        }
    }
    let options = ClipOptions { plan: Some(plan), layout: Some(Layout::TodayAlone), ..options.clone() };
    make(rep, rep, &alone(rep.reading)?, &options, target, progress, cancel)
}

/// A swing lined up with itself.
fn alone(reading: &Reading) -> Result<Pairing> {
    const SUREST: [EventId; 2] = [EventId::Plant, EventId::Contact];
    let known = SUREST.iter().find_map(|e| reading.events.get_key_value(e));
    let Some((&event, at)) = known.or_else(|| reading.events.first_key_value()) else {
        let path = reading.clip.path.clone();
        return Err(Error::NoSwing { path, cause: NoSwing::NoEvent });
    };
    let knot = Knot { event, today_s: at.time_s, reference_s: at.time_s };
    Ok(Pairing {
        sync: SyncOn::Event(event),
        time_map: TimeMap { zero: event, knots: vec![knot] },
        registration: None,
        why_no_registration: None,
        differences: Vec::new(),
        one_sided: Vec::new(),
        good_reps: None,
        filmed: crate::pairing::filmed_alike(reading, reading),
    })
}

#[cfg(test)]
mod sample;
// The sample is shared with the golden pictures, which name these rooms from outside.
#[cfg(test)]
use crate::{draw, types};
