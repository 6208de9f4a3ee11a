//! Measures of a made-up swing without error, by the definitions at [`MeasureId`].

use std::collections::BTreeMap;

use super::camera::Camera;
use super::events::Moments;
use super::figure::{Figure, angle_deg};
use super::swing::Swing;
use super::v3::{V3, v3};
use crate::types::{EventId, MeasureId, Part, PitcherSide};

/// Hand travel whose direction is told, m: the trade's first 4 in.
const FIRST_TRAVEL_M: f64 = 0.100;
/// Ways and peaks between two events are looked at in this many steps.
const STEPS: u32 = 200;
/// Speeds are taken over this, s.
const SPEED_S: f64 = 0.001;

/// In 3-D: ms, cm, deg, m/s.
pub fn exact_measures(swing: &Swing, moments: &Moments) -> BTreeMap<MeasureId, f64> {
    measures(swing, moments, &|p| p)
}

/// As seen by the unshaken camera at the scale of the hitter's middle plane: what is one distance from
/// the camera is flat, x toward the pitcher (from behind and from the front, to the picture's right), z up.
pub fn measures_in_picture(swing: &Swing, moments: &Moments, camera: &Camera) -> BTreeMap<MeasureId, f64> {
    let eye = camera.steady();
    let px_per_m = 100.0 * camera.px_per_cm();
    let forward = if camera.pitcher_side() == PitcherSide::Left { -1.0 } else { 1.0 };
    measures(swing, moments, &|p| {
        let q = eye.project(p).map_or(eye.centre, |(_, q)| q);
        v3(forward * q.x / px_per_m, 0.0, -q.y / px_per_m)
    })
}

/// A swing as it is seen: `see` turns a place of the made-up world into one of the same axes, m.
struct Seen<'a> {
    swing: &'a Swing,
    see: &'a dyn Fn(V3) -> V3,
}

impl Seen<'_> {
    fn part(&self, f: &Figure, part: Part) -> V3 {
        (self.see)(f.at(part))
    }

    /// Middle of both hands as seen.
    fn hands(&self, f: &Figure) -> V3 {
        self.part(f, Part::LeftHand).lerp(self.part(f, Part::RightHand), 0.5)
    }

    fn hands_at(&self, t_s: f64) -> V3 {
        self.hands(&self.swing.pose_at(t_s))
    }

    fn centre(&self, f: &Figure) -> V3 {
        (self.see)(f.body_centre())
    }

    /// The farthest the head's middle gets from its first place between two times, m.
    fn head_travel(&self, from_s: f64, to_s: f64) -> f64 {
        let head = |t: f64| (self.see)(self.swing.pose_at(t).head.centre);
        let home = head(from_s);
        between(from_s, to_s).map(|t| head(t).distance(home)).fold(0.0, f64::max)
    }

    /// Speed of a point, m/s.
    fn speed(&self, t_s: f64, point: impl Fn(&Figure) -> V3) -> f64 {
        let at = |t: f64| point(&self.swing.pose_at(t));
        at(t_s + SPEED_S / 2.0).distance(at(t_s - SPEED_S / 2.0)) / SPEED_S
    }

    /// The first way of the hands that is as long as the first travel; `None` when contact comes before it.
    fn first_travel(&self, start_s: f64) -> Option<V3> {
        let home = self.hands_at(start_s);
        between(start_s, 0.0).map(|t| self.hands_at(t) - home).find(|way| way.length() >= FIRST_TRAVEL_M)
    }
}

fn between(from_s: f64, to_s: f64) -> impl Iterator<Item = f64> {
    (0..=STEPS).map(move |i| from_s + (to_s - from_s) * f64::from(i) / f64::from(STEPS))
}

fn measures(swing: &Swing, moments: &Moments, see: &dyn Fn(V3) -> V3) -> BTreeMap<MeasureId, f64> {
    let s = Seen { swing, see };
    let mut out = times(moments);
    let at = |event: EventId| moments.get(&event).copied();
    let pose = |event| at(event).map(|t| swing.pose_at(t));
    let [hip, knee, ankle, toe, shoulder] =
        [Part::LeftHip, Part::LeftKnee, Part::LeftAnkle, Part::LeftToe, Part::LeftShoulder]
            .map(|p| swing.front(p));
    let (rear_toe, rear_shoulder) = (toe.other_side(), shoulder.other_side());
    let bend = |f: &Figure| angle_deg(s.part(f, hip), s.part(f, knee), s.part(f, ankle));
    let mut cm = |id, m: f64| out.insert(id, 100.0 * m);
    let (stance, plant, contact) = (pose(EventId::Stance), pose(EventId::Plant), pose(EventId::Contact));
    if let Some(load) = pose(EventId::Load) {
        let forward = |f: &Figure| s.centre(f).x - s.centre(&load).x;
        stance.iter().for_each(|f| _ = cm(MeasureId::BodyCentreBackAtLoad, forward(f)));
        plant.iter().for_each(|f| _ = cm(MeasureId::BodyCentreForwardAtPlant, forward(f)));
        contact.iter().for_each(|f| _ = cm(MeasureId::BodyCentreForwardAtContact, forward(f)));
    }
    if let (Some(stance), Some(plant)) = (&stance, &plant) {
        cm(MeasureId::StrideLength, (s.part(plant, toe) - s.part(stance, toe)).without(V3::UP).length());
    }
    if let (Some(stance_s), Some(plant_s)) = (at(EventId::Stance), at(EventId::Plant)) {
        cm(MeasureId::HeadTravelStanceToPlant, s.head_travel(stance_s, plant_s));
    }
    if let Some(plant_s) = at(EventId::Plant) {
        cm(MeasureId::HeadTravelPlantToContact, s.head_travel(plant_s, 0.0));
    }
    if let Some(plant) = &plant {
        cm(MeasureId::HandsToFrontFootAtPlant, s.hands(plant).distance(s.part(plant, ankle)));
    }
    if let (Some(plant), Some(contact)) = (&plant, &contact) {
        cm(MeasureId::FrontShoulderRise, s.part(contact, shoulder).z - s.part(plant, shoulder).z);
    }
    if let (Some(stance), Some(contact)) = (&stance, &contact) {
        cm(MeasureId::BackFootLiftAtContact, s.part(contact, rear_toe).z - s.part(stance, rear_toe).z);
    }
    if let Some(f) = pose(EventId::Extension) {
        cm(MeasureId::ExtensionDistance, s.hands(&f).distance(s.part(&f, rear_shoulder)));
    }
    if let Some(f) = pose(EventId::Finish) {
        let shoulders = s.part(&f, shoulder).lerp(s.part(&f, rear_shoulder), 0.5);
        cm(MeasureId::HandsOverShouldersAtFinish, s.hands(&f).z - shoulders.z);
    }
    if let Some(start_s) = at(EventId::HandsStart) {
        if let Some(way) = s.first_travel(start_s) {
            cm(MeasureId::FirstHandTravelDrop, -way.z * FIRST_TRAVEL_M / way.length());
            let level = way.without(V3::UP).length();
            out.insert(MeasureId::FirstHandTravelDirection, (-way.z).atan2(level).to_degrees());
        }
        let speeds = between(start_s, 0.0).map(|t| (t, s.speed(t, |f| s.hands(f))));
        if let Some((peak_s, peak)) = speeds.max_by(|a, b| a.1.total_cmp(&b.1)) {
            out.insert(MeasureId::PeakHandSpeed, peak);
            out.insert(MeasureId::PeakHandSpeedToContact, -1000.0 * peak_s);
        }
    }
    plant.iter().for_each(|f| _ = out.insert(MeasureId::FrontKneeAtPlant, bend(f)));
    contact.iter().for_each(|f| _ = out.insert(MeasureId::FrontKneeAtContact, bend(f)));
    if swing.pose_at(0.0).bat.is_some() {
        out.insert(MeasureId::BatSpeed, s.speed(0.0, |f| f.bat.map_or(V3::ZERO, |b| see(b.tip))));
    }
    out
}

fn times(moments: &Moments) -> BTreeMap<MeasureId, f64> {
    [
        (MeasureId::LoadToPlant, EventId::Load, EventId::Plant),
        (MeasureId::FootOffToPlant, EventId::FootOff, EventId::Plant),
        (MeasureId::PlantToContact, EventId::Plant, EventId::Contact),
        (MeasureId::HandsStartToContact, EventId::HandsStart, EventId::Contact),
        (MeasureId::ContactToExtension, EventId::Contact, EventId::Extension),
    ]
    .into_iter()
    .filter_map(|(id, a, b)| Some((id, 1000.0 * (moments.get(&b)? - moments.get(&a)?))))
    .collect()
}
