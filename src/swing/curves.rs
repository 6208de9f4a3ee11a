//! A swing as curves over time, by the same fits that its measures rest on.

use super::centre::body_centre;
use super::figure::{Figure, Frame2d, shows_stride, steady};
use super::params::{CENTRE_HALF_S, CURVES_MARGIN_S};
use super::read::step_s;
use super::series::{Series, moments};
use crate::types::{EventId, Part, Point, Pose, Reading, Seen, Track};

/// One point of a curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurvePoint {
    /// Real s from the clip's first picture.
    pub time_s: f64,
    /// Body heights, or body heights per s.
    pub value: f64,
    /// It rests on points that were worked out, not seen.
    pub guessed: bool,
}

/// Curves from shortly before stance (else load) to shortly after finish; empty where the clip does not give
/// one. A hole between two points longer than 0.1 s is a gap.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Curves {
    /// The hands' middle over the lower toe at plant.
    pub hand_height: Vec<CurvePoint>,
    /// How fast the hands' middle goes.
    pub hand_speed: Vec<CurvePoint>,
    /// The body centre toward the pitcher from its place at load (else stance). From the side only.
    pub centre_forward: Vec<CurvePoint>,
    /// How far the head's middle is from its place at stance (else load).
    pub head_travel: Vec<CurvePoint>,
}

/// Where the body centre was at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CentrePoint {
    pub(crate) time_s: f64,
    /// Steady px.
    pub at: Point,
    pub(crate) guessed: bool,
}

/// The body centre's way from stance (else load) to extension (else finish), in the scene's own places; from
/// the side only. Empty where the clip does not give it.
pub fn centre_way(reading: &Reading) -> Vec<CentrePoint> {
    let event = |ids: &[EventId]| ids.iter().find_map(|id| reading.events.get(id)).map(|e| e.time_s);
    let from_s = event(&[EventId::Stance, EventId::Load, EventId::FootOff]);
    let to_s = event(&[EventId::Extension, EventId::Finish, EventId::Contact]);
    let (Some(from_s), Some(to_s), true) = (from_s, to_s, shows_stride(reading.hitter.view)) else {
        return Vec::new();
    };
    let Some((track, figure)) = figure(reading) else { return Vec::new() };
    let own = Frame2d::of(&reading.hitter, reading.scale.body_height_px);
    let centre = body_centre(&figure, from_s, to_s);
    // A body's mass does not tremble; the points do.
    let half_s = CENTRE_HALF_S.max(1.7 * figure.step_s);
    let smooth = centre.times_s.iter().filter_map(|t| Some((*t, centre.at(*t, half_s)?)));
    smooth
        .map(|(time_s, at)| {
            let hips = [Part::LeftHip, Part::RightHip];
            let guessed = track.nearest(time_s).is_none_or(|pose| guessed(pose, &hips));
            CentrePoint { time_s, at: own.picture_point(at), guessed }
        })
        .collect()
}

/// The track with the camera's motion taken out, and the figure in it.
pub(super) fn figure(reading: &Reading) -> Option<(Track, Figure)> {
    let camera = &reading.camera.to_steady;
    let poses = reading.track.poses.iter().enumerate();
    let track = Track { poses: poses.map(|(i, p)| steady(p, camera.get(i))).collect() };
    let step_s = step_s(&track)?;
    let figure = Figure::new(&track, &reading.hitter, reading.scale.body_height_px, step_s, 0.0);
    Some((track, figure))
}

/// The curves of a reading that keeps its track.
pub fn curves(reading: &Reading) -> Curves {
    let Some((track, figure)) = figure(reading) else { return Curves::default() };
    let event = |ids: &[EventId]| ids.iter().find_map(|id| reading.events.get(id)).map(|e| e.time_s);
    let first = event(&[EventId::Stance, EventId::Load, EventId::FootOff, EventId::Plant]);
    let last = event(&[EventId::Finish, EventId::Extension, EventId::Contact]);
    let (Some(from_s), Some(to_s)) = (first, last) else { return Curves::default() };
    let (from_s, to_s) = (from_s - CURVES_MARGIN_S, to_s + CURVES_MARGIN_S);
    let times = || moments(from_s, to_s, figure.step_s.clamp(1.0 / 240.0, 0.05));
    let (fast, slow) = (figure.fast_half_s(), figure.slow_half_s());
    let curve = |parts: &[Part], value: &dyn Fn(f64) -> Option<f64>| -> Vec<CurvePoint> {
        let point = |t: f64| {
            let guessed = track.nearest(t).is_none_or(|pose| guessed(pose, parts));
            Some(CurvePoint { time_s: t, value: value(t).filter(|v| v.is_finite())?, guessed })
        };
        times().filter_map(point).collect()
    };
    const HANDS: [Part; 2] = [Part::LeftHand, Part::RightHand];
    let ground = ground(&figure, event(&[EventId::Plant, EventId::Contact]), slow);
    let height = |t: f64| Some(figure.hands.at(t, fast)?.y - ground?);
    let speed = |t: f64| Some(figure.hands.fit(t, fast)?.velocity.length());
    let head_from = event(&[EventId::Stance, EventId::Load]).and_then(|t| figure.head.at(t, slow));
    let head = |t: f64| Some(figure.head.at(t, slow)?.distance(head_from?));
    let centre = if shows_stride(reading.hitter.view) {
        body_centre(&figure, from_s, to_s)
    } else {
        Series::default()
    };
    let centre_from = event(&[EventId::Load, EventId::Stance]).and_then(|t| centre.at(t, slow));
    let forward = |t: f64| Some(centre.at(t, slow)?.x - centre_from?.x);
    Curves {
        hand_height: curve(&HANDS, &height),
        hand_speed: curve(&HANDS, &speed),
        centre_forward: curve(&[Part::LeftHip, Part::RightHip], &forward),
        head_travel: curve(&[Part::LeftEar, Part::RightEar], &head),
    }
}

/// The lower toe's height, body heights.
fn ground(figure: &Figure, plant_s: Option<f64>, half_s: f64) -> Option<f64> {
    let toe = |toe: &Series| toe.at(plant_s?, half_s).map(|p| p.y);
    [toe(&figure.front.toe), toe(&figure.back.toe)].into_iter().flatten().min_by(f64::total_cmp)
}

/// Whether any of these was worked out or is not there.
fn guessed(pose: &Pose, parts: &[Part]) -> bool {
    parts.iter().any(|p| pose.spot(*p).is_none_or(|s| s.seen == Seen::Inferred))
}
