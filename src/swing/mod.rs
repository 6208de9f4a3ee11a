//! Events and measures from a track. Pure: no files, no clock, no threads, no pixels.

mod bearing;
mod bend;
mod burst;
mod centre;
mod curves;
mod doubt;
mod explain;
mod feet;
mod figure;
mod hand_path;
mod hands;
mod holes;
mod landing;
mod measures;
mod onsets;
mod pace;
mod params;
mod possible;
mod read;
mod scale;
mod series;
mod settle;
mod unseen;
mod weigh;

use std::collections::BTreeMap;

use crate::types::{
    Absent, BallFlight, EventId, Events, Hitter, KnownHitter, KnownLength, Measures, Onset, Scale,
    Similarity, Track, Warning,
};
pub use bend::{bend, place};
pub use curves::{CentrePoint, CurvePoint, Curves, centre_way, curves};
pub use explain::{Explanation, HandDirection, Stretch, TRAITS};
pub use hand_path::{HandPath, hand_path};
pub use hands::SoundDelay;
pub use holes::holes;
pub use onsets::onsets;
pub use params::{NET_WANDER, TABLES as PARAMS};
pub use read::{Why, read_swing, why};
pub use scale::KnownBat;

/// Moments a person set, real s from the first picture.
pub type Pins = BTreeMap<EventId, f64>;

/// All that is known of one swing before it is read.
pub struct SwingInput<'a> {
    /// The hitter's points, picture px, real s.
    pub track: &'a Track,
    /// For each pose, picture px → steady px. Empty: the camera stood still.
    pub camera: &'a [Similarity],
    /// Poses, from 0, during which nothing told how the camera moved.
    pub camera_lost: &'a [usize],
    /// Sudden sounds, real s at the microphone.
    pub onsets: &'a [Onset],
    /// Real time of every picture of the clip, s from the first.
    pub frame_times_s: &'a [f64],
    /// The upright picture's longer side, px.
    pub long_side_px: f64,
    /// Events that a person set; they win.
    pub pins: &'a Pins,
    /// Moments that another camera sees better, on this clip's clock; they replace what is found here.
    pub borrowed: &'a Events,
    /// Standing height of the hitter, cm.
    pub height_cm: Option<f64>,
    /// The bat, if its length is known and it was seen.
    pub bat: Option<KnownBat>,
    /// A length marked in the first picture.
    pub known_length: Option<KnownLength>,
    /// The ball's flight about contact, if it was seen.
    pub ball: Option<&'a BallFlight>,
    /// Microphone to plate, m.
    pub mic_distance_m: Option<f64>,
    /// How far a point may stray slowly from its joint, body heights (standard error); see [`NET_WANDER`].
    pub point_wander: f64,
    /// From when to when no picture could be read, real s.
    pub holes: &'a [(f64, f64)],
    /// Pictures may be shown by so much off the moment they were taken at, s.
    pub time_doubt_s: f64,
    /// A person said at what rate it was filmed, so its pace is believed.
    pub rate_told: bool,
    /// What a person said of the hitter.
    pub known_hitter: KnownHitter,
}

impl<'a> SwingInput<'a> {
    /// Exact points seen by a camera that stood still, in a clip without sound and without holes; nothing else known.
    pub fn new(track: &'a Track, frame_times_s: &'a [f64], long_side_px: f64) -> Self {
        static NO_PINS: Pins = Pins::new();
        static NO_EVENTS: Events = Events::new();
        Self {
            track,
            camera: &[],
            camera_lost: &[],
            onsets: &[],
            frame_times_s,
            long_side_px,
            pins: &NO_PINS,
            borrowed: &NO_EVENTS,
            height_cm: None,
            bat: None,
            known_length: None,
            ball: None,
            mic_distance_m: None,
            point_wander: 0.0,
            holes: &[],
            time_doubt_s: 0.0,
            rate_told: false,
            known_hitter: KnownHitter::default(),
        }
    }
}

/// What one swing says.
#[derive(Debug, Clone)]
pub struct Swing {
    /// Side, view and where the pitcher is.
    pub hitter: Hitter,
    /// px to body heights and cm.
    pub scale: Scale,
    /// Real s, each with its ±.
    pub events: Events,
    /// Each with unit and ±.
    pub measures: Measures,
    /// The other measures, each with why it is missing.
    pub absent: Absent,
    /// What to know of the whole.
    pub warnings: Vec<Warning>,
}

/// The picture nearest to a real time.
pub fn nearest_frame(frame_times_s: &[f64], time_s: f64) -> usize {
    let i = frame_times_s.partition_point(|t| *t < time_s);
    match (i.checked_sub(1).and_then(|j| frame_times_s.get(j)), frame_times_s.get(i)) {
        (Some(before), Some(after)) if time_s - before <= after - time_s => i - 1,
        (_, Some(_)) => i,
        (_, None) => frame_times_s.len().saturating_sub(1),
    }
}

fn half_step_s(frame_times_s: &[f64], frame: usize) -> f64 {
    let next = (frame + 1).min(frame_times_s.len().saturating_sub(1));
    let (a, b) = (next.saturating_sub(1), next);
    match (frame_times_s.get(a), frame_times_s.get(b)) {
        (Some(a), Some(b)) if b > a => (b - a) / 2.0,
        _ => 0.02,
    }
}
