//! What really happened in a made-up clip, for judging what was read from it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::camera::{Camera, CameraPlan};
use super::events::Moments;
use super::exact::{exact_measures, measures_in_picture};
use super::scenario::Scenario;
use super::sound::heard;
use super::swing::Swing;
use super::{Flight, Hitter};
use crate::types::{
    EventId, MeasureId, Onset, PARTS, Part, PitcherSide, Point, Pose, Seen, Side, Similarity, Spot, Track,
    View,
};

/// Kept beside the clip as `NAME.truth.json`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Truth {
    /// [`Truth::SCHEMA`].
    pub schema: String,
    /// The scenario's.
    pub name: String,
    /// Who swings, with the exact lengths.
    pub hitter: Hitter,
    /// The side of the plate the hitter bats from.
    pub bats: Side,
    /// Where the pitcher is in the picture.
    pub pitcher_side: PitcherSide,
    /// From where the hitter is filmed.
    pub view: View,
    /// As it was set up.
    pub camera: CameraPlan,
    /// Real (capture) time of each picture from the first, s.
    pub times_s: Vec<f64>,
    /// Playback is this many times slower.
    pub slow_factor: f64,
    /// Real time, s from the first picture; by [`Swing::events`]' definitions.
    pub events: Moments,
    /// In 3-D: ms, cm, deg.
    pub measures: BTreeMap<MeasureId, f64>,
    /// The same as a perfect eye reads them from the picture of an unshaken camera with the scale
    /// `px_per_cm`: foreshortened, in perspective.
    pub measures_in_picture: BTreeMap<MeasureId, f64>,
    /// In the hitter's middle plane.
    pub px_per_cm: f64,
    /// The standing height at that scale, px.
    pub body_height_px: f64,
    /// By part, one place a picture, px; also where hidden or outside the picture.
    pub keypoints: BTreeMap<Part, Vec<[f64; 2]>>,
    /// Knob and tip a picture, px.
    pub bat: Vec<[[f64; 2]; 2]>,
    /// The ball's middle, px, while it flies.
    pub ball: Vec<Option<[f64; 2]>>,
    /// Picture px → px of the unshaken camera, at the hitter's distance.
    pub to_steady: Vec<Similarity>,
    /// Sudden sounds at the microphone, real time on the sound track (with its offset), loudest first.
    pub onsets: Vec<Onset>,
    /// What of it was recorded; absent where all is made up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recorded: Option<RecordedPart>,
}

/// What is known of recorded motion. Contact and the interval of plant were measured; every other event is
/// computed from the recorded motion by [`Swing::events`]' definitions, toes and heels being hung on the ankles.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RecordedPart {
    /// Recorded from … to, real time from the first picture, s; before and after it the hitter stands still.
    pub from_s: f64,
    /// Until when, real s.
    pub to_s: f64,
    /// Plant is anywhere in this interval: 10 % to 100 % of body weight on the front foot.
    pub plant_s: [f64; 2],
}

/// How far outside `from` to `to` it lies: after it positive, before it negative.
fn beyond(value: f64, from: f64, to: f64) -> f64 {
    (value - to).max(0.0) + (value - from).min(0.0)
}

impl Truth {
    /// The form of the file.
    pub const SCHEMA: &'static str = "swingpair.truth/1";

    /// Without drawing a single picture.
    pub fn of(scenario: &Scenario) -> Self {
        let s = scenario;
        let swing = Swing::of(s);
        let camera = Camera::new(&s.camera, s.hitter.bats, s.hitter.height_cm, s.camera_seed);
        let flight = Flight::new(&swing, s.ball);
        let moments = swing.events();
        let times_s: Vec<f64> = (0..s.frames()).map(|i| s.frame_time_s(i)).collect();
        let mut keypoints: BTreeMap<Part, Vec<[f64; 2]>> =
            PARTS.into_iter().map(|p| (p, Vec::with_capacity(times_s.len()))).collect();
        let (mut bat, mut ball) = (Vec::new(), Vec::new());
        for &t in &times_s {
            let (eye, figure) = (camera.at(t), super::act::pose_at(s, &swing, t));
            let see = |p| eye.project(p).map_or([f64::NAN; 2], |(_, q)| [q.x, q.y]);
            for (part, places) in &mut keypoints {
                places.push(see(figure.at(*part)));
            }
            bat.push(figure.bat.map_or([[f64::NAN; 2]; 2], |b| [see(b.knob), see(b.tip)]));
            ball.push(flight.at(t - s.contact_s).and_then(|p| eye.project(p)).map(|(_, q)| [q.x, q.y]));
        }
        let px_per_cm = camera.px_per_cm();
        Self {
            schema: Self::SCHEMA.to_owned(),
            name: s.name.clone(),
            hitter: s.hitter.clone(),
            bats: s.hitter.bats,
            pitcher_side: camera.pitcher_side(),
            view: s.camera.view,
            camera: s.camera,
            slow_factor: s.stored_slower,
            measures: exact_measures(&swing, &moments),
            measures_in_picture: measures_in_picture(&swing, &moments, &camera),
            events: moments.iter().map(|(&id, t)| (id, t + s.contact_s)).collect(),
            px_per_cm,
            body_height_px: px_per_cm * s.hitter.height_cm,
            keypoints,
            bat,
            ball,
            to_steady: times_s.iter().map(|&t| camera.to_steady(t)).collect(),
            onsets: heard(s, &swing, &camera),
            recorded: swing.replay().map(|r| r.part(s.contact_s)),
            times_s,
        }
    }

    /// Exact points at the pictures' times, all of them seen: what a perfect pose net would give.
    pub fn track(&self) -> Track {
        let poses = self
            .times_s
            .iter()
            .enumerate()
            .map(|(frame, &time_s)| {
                let mut pose = Pose::empty(frame, time_s);
                for (&part, places) in &self.keypoints {
                    if let Some(&[x, y]) = places.get(frame) {
                        let at = Point::new(x, y);
                        let spot = Spot { at, visibility: 1.0, seen: Seen::Picture };
                        pose.set(part, at.is_finite().then_some(spot));
                    }
                }
                pose
            })
            .collect();
        Track { poses }
    }

    /// What a perfect ear would hear.
    pub fn onsets(&self) -> &[Onset] {
        &self.onsets
    }

    /// Real time of an event from the first picture, s.
    pub fn at(&self, event: EventId) -> Option<f64> {
        self.events.get(&event).copied()
    }

    /// How much later than the truth a moment is, s; 0 anywhere in an interval that plant is known to lie in.
    pub fn off_s(&self, event: EventId, time_s: f64) -> Option<f64> {
        let [from, to] = match (event, &self.recorded) {
            (EventId::Plant, Some(part)) => part.plant_s,
            _ => [self.at(event)?; 2],
        };
        Some(beyond(time_s, from, to))
    }

    /// How much more than the truth a measure's value is, in its own unit; 0 anywhere in what it may be where plant is only
    /// known to lie in an interval.
    pub fn off(&self, measure: MeasureId, value: f64) -> Option<f64> {
        let truth = self.measures_in_picture.get(&measure)?;
        let [early, late] = match (&self.recorded, self.at(EventId::Plant)) {
            (Some(part), Some(plant_s)) => part.plant_s.map(|s| 1e3 * (s - plant_s)),
            _ => [0.0; 2],
        };
        let (from, to) = match measure {
            MeasureId::LoadToPlant | MeasureId::FootOffToPlant => (truth + early, truth + late),
            MeasureId::PlantToContact => (truth - late, truth - early),
            _ => (*truth, *truth),
        };
        Some(beyond(value, from, to))
    }

    /// Measured on a force plate or made so, not computed from recorded motion.
    pub fn known(&self, event: EventId) -> bool {
        self.recorded.is_none() || matches!(event, EventId::Plant | EventId::Contact)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Rect;

    #[test]
    fn truth_lies_in_the_picture_and_survives_json() {
        let hitter = Hitter::new("Invented", Side::Left, 172.0, 82.0);
        let truth = Truth::of(&Scenario::new("t", hitter));
        let picture = Rect::new(0.0, 0.0, 1280.0, 720.0);
        for pose in &truth.track().poses {
            for part in PARTS {
                assert!(picture.contains(pose.at(part).unwrap()), "{part:?} {pose:?}");
            }
        }
        let text = serde_json::to_string(&truth).unwrap();
        let back: Truth = serde_json::from_str(&text).unwrap();
        assert_eq!(back.events.len(), truth.events.len());
        assert_eq!(back.track().poses.len(), truth.times_s.len());
        assert!((truth.at(EventId::Contact).unwrap() - 2.1).abs() < 1e-9);
        let first = truth.onsets().first().unwrap();
        let late = first.time_s - 2.1;
        assert!((0.01..0.03).contains(&late), "contact is heard {late} s late");
    }

    #[test]
    fn the_same_seed_gives_the_same_truth() {
        let s = Scenario::new("t", Hitter::new("Invented", Side::Right, 180.0, 84.0));
        assert_eq!(Truth::of(&s), Truth::of(&s));
        let other = Scenario { swing_seed: 2, ..s.clone() };
        assert_ne!(Truth::of(&s).bat, Truth::of(&other).bat);
    }
}
