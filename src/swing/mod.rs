//! Events and measures from a track. Pure: no files, no clock, no threads, no pixels.

mod burst;
mod centre;
mod curves;
mod feet;
mod figure;
mod hand_path;
mod hands;
mod hitter;
mod holes;
mod measures;
mod onsets;
mod pace;
mod scale;
mod series;
mod settle;
mod unseen;

use std::collections::BTreeMap;

use crate::ground::{
    Absent, BallLook, Event, EventId, Events, Hitter, KnownLength, Measures, Onset, Part, Point, Scale,
    Similarity, Source, Track, View, Warning,
};
pub use curves::{CentrePoint, CurvePoint, Curves, centre_way, curves};
pub use hand_path::{HandPath, hand_path};
pub use hands::SoundDelay;
pub use holes::holes;
pub use onsets::onsets;
pub use scale::KnownBat;

use centre::Moment;

/// Moments a person set, real s from the first picture.
pub type Pins = BTreeMap<EventId, f64>;

/// All that is known of one swing before it is read.
pub struct Evidence<'a> {
    /// The hitter's points, picture px, real s.
    pub track: &'a Track,
    /// For each pose, picture px → steady px. Empty: the camera stood still.
    pub camera: &'a [Similarity],
    /// Sudden sounds, real s at the microphone.
    pub onsets: &'a [Onset],
    /// Real time of every picture of the clip, s from the first.
    pub frame_times_s: &'a [f64],
    /// The upright picture's longer side, px.
    pub long_side_px: f64,
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
    pub ball: Option<&'a BallLook>,
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
}

impl<'a> Evidence<'a> {
    /// Exact points seen by a camera that stood still, in a clip without sound and without holes; nothing else known.
    pub fn new(track: &'a Track, frame_times_s: &'a [f64], long_side_px: f64) -> Self {
        static NO_PINS: Pins = Pins::new();
        static NO_EVENTS: Events = Events::new();
        Self {
            track,
            camera: &[],
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
        }
    }
}

/// [`Evidence::point_wander`] of the own pose net: chosen after looking at its points on eight made-up films,
/// where standing feet stray by about this much; not tuned on real film.
pub const NET_WANDER: f64 = 0.010;

/// What one swing says.
#[derive(Debug, Clone)]
pub struct Swing {
    pub hitter: Hitter,
    pub scale: Scale,
    pub events: Events,
    pub measures: Measures,
    pub absent: Absent,
    pub warnings: Vec<Warning>,
}

/// Why a track holds no swing, in plain words.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{cause}")]
pub struct NoSwing {
    pub cause: String,
}

impl NoSwing {
    fn new(cause: impl Into<String>) -> Self {
        Self { cause: cause.into() }
    }
}

/// Stance is looked for this long before the swing at most, s.
const LOOK_BACK_S: f64 = 2.2;

/// Points that begin later than this before the hands are fastest miss the stride, s.
const LATEST_BEGIN_S: f64 = 0.45;

/// From behind and from the front the first move back is hardly seen, s: on the bench.
const ALONG_STANCE_PM_S: f64 = 0.65;

/// Read one swing. Pinned events win over found ones, and later events are found from the pinned ones.
pub fn read_swing(evidence: &Evidence) -> Result<Swing, NoSwing> {
    let steady = steady_track(evidence);
    let step_s = step_s(&steady).ok_or_else(|| NoSwing::new("too few pictures show the hitter"))?;
    let (scale, mut warnings) = scale::scale(&steady, &scale::Given::of(evidence))
        .ok_or_else(|| NoSwing::new("the body is not seen well enough to judge its size"))?;
    let height_px = scale.body_height_px;
    let burst = burst::find_swing(&steady, height_px, step_s)?;
    let hands_peak = burst.peak;
    let hitter = hitter::find_hitter(&steady, &burst, height_px);
    let figure = figure::Figure::new(&steady, &hitter, height_px, step_s, evidence.point_wander).with_aim(
        evidence.track,
        evidence.camera,
        hips_place(evidence.track),
        height_px,
    );
    let side_view = figure::shows_stride(hitter.view);
    let delay =
        SoundDelay::new(evidence.mic_distance_m, height_px, evidence.height_cm, evidence.long_side_px);
    let mut events = Log { evidence, events: Events::new() };

    let (contact, source, confidence) =
        hands::contact(&figure, &burst, evidence.onsets, delay, evidence.ball, side_view);
    let burst = match source {
        Source::MotionAndSound | Source::MotionAndBall
            if !side_view || !hands::agrees(&burst, contact.time_s) =>
        {
            hands::burst_before(&burst, contact.time_s)
        }
        _ => burst,
    };
    let contact_s = events.put(EventId::Contact, contact, source, confidence);
    if let Some(start) = hands::hands_start(&figure, &burst) {
        events.put(EventId::HandsStart, start, Source::Motion, 0.7);
    }
    events.pinned(EventId::HandsStart);
    if let Some(extension) = hands::extension(&figure, contact_s, side_view) {
        events.put(EventId::Extension, extension, Source::Motion, 0.7);
    }
    if let Some(extension_s) = events.pinned(EventId::Extension)
        && let Some(finish) = hands::finish(&figure, &burst, extension_s)
    {
        events.put(EventId::Finish, finish, Source::Motion, 0.6);
    }
    events.pinned(EventId::Finish);

    let from_s = steady.poses.first().map_or(0.0, |p| p.time_s).max(burst.peak_s - LOOK_BACK_S);
    let (mut foot, by_ankle) = unseen::by_ankle(feet::landed_foot(&figure, from_s, burst.peak_s), &figure);
    warnings.extend(by_ankle);
    let begins_in_stride = unseen::begins_in_stride(&foot, from_s, step_s);
    if begins_in_stride {
        foot.foot_off = None;
    }
    for (id, found, confidence) in [
        (EventId::Plant, foot.plant, 0.75),
        (EventId::Touch, foot.touch, 0.6),
        (EventId::FootOff, foot.foot_off, 0.6),
    ] {
        if let Some(moment) = found {
            events.put(id, moment, Source::Motion, confidence);
        }
        events.pinned(id);
    }
    if foot.taps > 0 {
        let times = if foot.taps == 1 { "once".to_owned() } else { format!("{} times", foot.taps) };
        warnings.push(Warning::new("toe_tap", format!("The front foot taps {times} before the stride.")));
    }
    if !foot.strode && foot.plant.is_some() {
        warnings.push(Warning::new(
            "no_stride",
            "The front foot does not leave its place before the swing: foot off and touch are not given.",
        ));
    }
    if side_view {
        let before_s = events.time(EventId::Plant).unwrap_or(burst.peak_s - 0.1);
        let centre = centre::body_centre(&figure, from_s, before_s);
        if let Some(load) = centre::load(&centre, from_s, before_s, figure.noise, step_s) {
            events.put(EventId::Load, load, Source::Motion, 0.6);
        }
        if let Some(load_s) = events.pinned(EventId::Load)
            && let Some(stance) = centre::stance(&centre, &figure.hands, from_s, load_s, step_s)
        {
            events.put(EventId::Stance, stance, Source::Motion, 0.5);
        }
    }
    if events.pinned(EventId::Stance).is_none() && !begins_in_stride {
        // Not seen from here, or the clip begins too late: the earliest quiet moment there is stands in.
        let until = events.time(EventId::FootOff).unwrap_or(burst.peak_s - 0.5);
        if let Some(time_s) = quietest(&figure, from_s, until) {
            events.put(EventId::Stance, Moment { time_s, plus_minus_s: 0.15 }, Source::Motion, 0.3);
        }
    }

    let mut events = events.events;
    warnings.extend(unseen::widen(&mut events, &figure, burst.peak_s));
    if !side_view {
        // Along the line of the pitch every moment read from motion is unsure.
        for (id, event) in events.iter_mut().filter(|(_, e)| e.source == Source::Motion) {
            let stance = *id == EventId::Stance;
            event.plus_minus_s =
                event.plus_minus_s.max(if stance { ALONG_STANCE_PM_S } else { hands::ALONG_PM_S });
            event.confidence = event.confidence.min(0.3);
        }
    }
    let late = begins_in_stride || from_s > burst.peak_s - LATEST_BEGIN_S;
    if late || events.get(&EventId::Stance).is_some_and(|s| s.time_s - from_s < 2.0 * step_s) {
        warnings.push(Warning::new(
            "starts_late",
            "The clip begins when the hitter already moves; film from a second before the swing.",
        ));
    }
    if hitter.view == View::FromBehind || hitter.view == View::FromFront {
        warnings.push(Warning::new(
            "view",
            "Filmed along the line of the pitch: travel toward the pitcher and knee angles are not seen, and moments are far less sure.",
        ));
    }
    let seen = |id: EventId| events.get(&id).map(|e| e.time_s);
    if let (Some(first_s), Some(last_s)) =
        (seen(EventId::Stance), seen(EventId::Finish).or(seen(EventId::Contact)))
        && figure.turned(first_s, last_s) > measures::LARGE_TURN
    {
        warnings.push(Warning::new(
            "panning",
            "The camera turns with the hitter: how far head, feet and body go is not measured. Put the phone on a tripod.",
        ));
    }
    holes::widen(&mut events, evidence.holes, evidence.time_doubt_s);
    for (id, event) in evidence.borrowed {
        let frame = nearest_frame(evidence.frame_times_s, event.time_s);
        events.insert(*id, Event { frame, ..*event });
    }
    let mut measured = measures::measure(&figure, &hitter, &scale, &events);
    warnings.extend(measured.leave_out(holes::touched(&events, evidence.holes)));
    if side_view && !evidence.rate_told {
        let slow = pace::too_slow(&events, hands_peak);
        warnings.extend(measured.leave_out(slow));
    }
    Ok(Swing { hitter, scale, events, measures: measured.measures, absent: measured.absent, warnings })
}

/// Events as they are found; pins win.
struct Log<'a> {
    evidence: &'a Evidence<'a>,
    events: Events,
}

impl Log<'_> {
    /// Keep a found moment unless the event is pinned; gives the time that counts.
    fn put(&mut self, id: EventId, found: Moment, source: Source, confidence: f64) -> f64 {
        if let Some(time_s) = self.pinned(id) {
            return time_s;
        }
        let frame = nearest_frame(self.evidence.frame_times_s, found.time_s);
        let event =
            Event { time_s: found.time_s, plus_minus_s: found.plus_minus_s, frame, source, confidence };
        self.events.insert(id, event);
        found.time_s
    }

    /// The time that counts so far: the pin if there is one, else what was found.
    fn pinned(&mut self, id: EventId) -> Option<f64> {
        if let Some(time_s) = self.evidence.pins.get(&id).copied() {
            let frame = nearest_frame(self.evidence.frame_times_s, time_s);
            // A person pins a picture: half a picture to either side.
            let plus_minus_s = half_step_s(self.evidence.frame_times_s, frame);
            let event = Event { time_s, plus_minus_s, frame, source: Source::Pinned, confidence: 1.0 };
            self.events.insert(id, event);
        }
        self.time(id)
    }

    fn time(&self, id: EventId) -> Option<f64> {
        self.events.get(&id).map(|e| e.time_s)
    }
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

fn steady_track(evidence: &Evidence) -> Track {
    let poses = evidence
        .track
        .poses
        .iter()
        .enumerate()
        .map(|(i, pose)| figure::steady(pose, evidence.camera.get(i)))
        .collect();
    Track { poses }
}

/// Where the hips are in the middle of the track, picture px.
fn hips_place(track: &Track) -> Point {
    let pose = track.poses.get(track.poses.len() / 2);
    let at = |part: Part| pose.and_then(|p| p.at(part));
    at(Part::LeftHip).zip(at(Part::RightHip)).map_or_else(Point::default, |(l, r)| l.midpoint(r))
}

/// Typical time between two poses in the densest part of the track, s.
fn step_s(track: &Track) -> Option<f64> {
    let steps: Vec<f64> = track.poses.windows(2).map(|w| w[1].time_s - w[0].time_s).collect();
    series::quantile(steps, 0.25).filter(|s| *s > 0.0)
}

/// The moment at which the feet, the head and the hands together move least.
fn quietest(figure: &figure::Figure, from_s: f64, until_s: f64) -> Option<f64> {
    let speed = |t: f64| {
        let of = |s: &series::Series| s.fit(t, 0.08).map(|f| f.velocity.length());
        Some(of(&figure.hands)? + of(&figure.head)? + of(&figure.front.toe).unwrap_or(0.0))
    };
    series::moments(from_s, until_s, 1.0 / 60.0)
        .filter_map(|t| Some((t, speed(t)?)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|m| m.0)
}
