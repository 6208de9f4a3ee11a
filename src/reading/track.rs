//! Looking at a clip: who swings, when, and where every body point is through the swing.
//!
//! First a coarse survey of the whole clip at a small size, then a closer look at the few moments that could be
//! a swing, then every picture of the one that is.

mod ball;
mod bat;
mod choose;
mod cutouts;
mod dense;
mod finder;
mod moved;
mod pick;
mod scene;
mod stream;
mod survey;
mod workers;

use std::sync::Mutex;

use crate::media::Clip;
use crate::tracking::{Moves, Nets, repair, repair_moving, steady};
use crate::types::{
    CameraMotion, Cancel, Error, Point, Progress, Result, SceneLuma, SpeedChange, Track, Warning,
};

pub use ball::ball;
pub use bat::{PictureBars, bars_before_swing, bat};
pub use cutouts::cutouts;
pub use finder::{RoughSwing, swings};
use stream::Pass;

/// How to look.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TrackingOptions {
    /// A place on the hitter in any picture, px of the upright picture. Default: the one who swings.
    pub hitter: Option<Point>,
    /// About when the swing to read is, real s, where that is known. Default: the fastest swing is read.
    pub about_s: Option<f64>,
    /// Which swing of several is meant, from 1 in time order. Default: the fastest.
    pub swing: Option<usize>,
    /// Threads that run the net; 0 = one for each processor. Default: 0.
    pub threads: usize,
}

/// What was seen of the hitter.
#[derive(Debug, Clone, PartialEq)]
pub struct TrackedHitter {
    /// The hitter through the swing: swaps, outliers and short gaps repaired; feet and hands where the net has
    /// them, moving as the pictures show; lightly smoothed without lag.
    pub track: Track,
    /// The same poses as the net gave them.
    pub raw: Track,
    /// How feet and hands move from each pose to the next, as the pictures show: one fewer than poses, each by
    /// [`crate::types::PARTS`] or empty.
    pub moves: Vec<Moves>,
    /// How the camera moved, one map for each pose of `track`; empty on a tripod.
    pub camera: CameraMotion,
    /// Middle of the fastest hand movement, real s.
    pub swing_s: f64,
    /// From where to where the clip was read picture by picture, real s.
    pub window_s: (f64, f64),
    /// One for each pose of `track`.
    pub detections: Vec<Detection>,
    /// Places in the clip's index of pictures that show no moment: unreadable, or a repeat of the one before.
    pub lost: Vec<usize>,
    pub(crate) repeated: Vec<usize>,
    /// When else the swing may be, should this not be one, the likeliest first, real s.
    pub others_s: Vec<f64>,
    /// The scene, of the first picture that could be read.
    pub scene: Option<SceneLuma>,
    /// What is to be known of the pictures.
    pub warnings: Vec<Warning>,
}

/// What is known of one picture beside the points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Detection {
    /// 0…1: the net's belief that the body is where it looked.
    pub present: f32,
    /// Centre and side of the square that the net was shown, px.
    pub looked_at: Point,
    pub(crate) looked_side_px: f64,
}

/// Finds the hitter and the swing in `clip` and follows every body point through it.
pub fn track_hitter(
    clip: &Clip,
    options: &TrackingOptions,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<TrackedHitter> {
    let nets = Nets::load()?;
    let threads = match options.threads {
        0 => std::thread::available_parallelism().map_or(2, usize::from),
        n => n,
    };
    let pass = Pass { clip, nets: &nets, threads, progress, cancel, warnings: Mutex::default() };
    let mut survey = survey::survey(&pass)?;
    if survey.repeats.speed_changes {
        let cause = SpeedChange::Repeats;
        return Err(Error::SpeedChanges { path: clip.facts().path.clone(), cause });
    }
    let chosen = match choose::choose(&pass, &survey, options) {
        // The hitter may be smaller than those seen at first sight.
        Err(Error::NoSwing { .. } | Error::NoPerson { .. }) if survey.search(&pass)? => {
            choose::choose(&pass, &survey, options)?
        }
        chosen => chosen?,
    };
    let repeated = std::mem::take(&mut survey.repeats.pictures);
    let seen = dense::follow(&pass, &chosen, &repeated)?;
    cancel.check()?;
    let raw = seen.track;
    let size = (clip.facts().width as f64, clip.facts().height as f64);
    let present: Vec<f32> = seen.detections.iter().map(|e| e.present).collect();
    let lost = (0..survey.readable.len()).filter(|i| survey.readable.get(*i) == Some(&false)).collect();
    let mut warnings = chosen.warnings;
    if !repeated.is_empty() {
        warnings.push(Warning::PicturesRepeat { pictures: repeated.len(), of: clip.facts().frames });
    }
    warnings.extend(pick::doubts(&raw.poses, &present, size));
    let mended = repair(&raw);
    let camera = steady(&seen.patchworks, &mended, size.0);
    let moves = moved::moved(&pass, &seen.glimpses, &mended, &camera)?;
    let track = repair_moving(&raw, &moves);
    warnings.splice(0..0, pass.warnings.into_inner().unwrap_or_default());
    Ok(TrackedHitter {
        track,
        raw,
        moves,
        camera,
        swing_s: chosen.burst.time_s,
        others_s: chosen.others_s,
        scene: survey.scene,
        window_s: chosen.window_s,
        detections: seen.detections,
        lost,
        repeated,
        warnings,
    })
}
