//! Measures of a made-up swing without error.

use std::collections::BTreeMap;

use super::camera::Camera;
use super::events::Moments;
use super::figure::{Figure, angle_deg};
use super::swing::Swing;
use super::v3::V3;
use crate::ground::{EventId, MeasureId, Part, Point};

/// Hand travel whose direction is told, m: the trade's first 4 in.
const FIRST_TRAVEL_M: f64 = 0.100;

/// In 3-D: ms, cm, deg.
pub fn exact_measures(swing: &Swing, moments: &Moments) -> BTreeMap<MeasureId, f64> {
    let mut out = times(moments);
    let at = |event: EventId| moments.get(&event).copied();
    let pose = |event| at(event).map(|t| (t, swing.pose_at(t)));
    let [hip, knee, ankle, toe] =
        [Part::LeftHip, Part::LeftKnee, Part::LeftAnkle, Part::LeftToe].map(|p| swing.front(p));
    let (rear_toe, rear_shoulder) = (toe.other_side(), swing.front(Part::LeftShoulder).other_side());
    let bend = |f: &Figure| angle_deg(f.at(hip), f.at(knee), f.at(ankle));
    if let (Some((_, stance)), Some((plant_s, plant)), Some((_, contact))) =
        (pose(EventId::Stance), pose(EventId::Plant), pose(EventId::Contact))
    {
        let stride = (plant.at(toe) - stance.at(toe)).without(V3::UP).length();
        out.insert(MeasureId::StrideLength, 100.0 * stride);
        out.insert(MeasureId::HandsToFrontFootAtPlant, 100.0 * plant.hands().distance(plant.at(ankle)));
        let steps = 100;
        let head = (0..=steps)
            .map(|i| swing.pose_at(plant_s * (1.0 - f64::from(i) / f64::from(steps))))
            .map(|f| f.head.centre.distance(plant.head.centre))
            .fold(0.0, f64::max);
        out.insert(MeasureId::HeadTravelPlantToContact, 100.0 * head);
        out.insert(MeasureId::FrontKneeAtPlant, bend(&plant));
        out.insert(MeasureId::FrontKneeAtContact, bend(&contact));
        out.insert(
            MeasureId::BackFootLiftAtContact,
            100.0 * (contact.at(rear_toe).z - stance.at(rear_toe).z),
        );
    }
    if let Some(start_s) = at(EventId::HandsStart) {
        let from = swing.pose_at(start_s).hands();
        if let Some(way) = first_travel(|t| swing.pose_at(t).hands() - from, start_s) {
            out.insert(
                MeasureId::FirstHandTravelDirection,
                (-way.z).atan2(way.without(V3::UP).length()).to_degrees(),
            );
        }
    }
    if let Some((_, f)) = pose(EventId::Extension) {
        out.insert(MeasureId::ExtensionDistance, 100.0 * f.hands().distance(f.at(rear_shoulder)));
    }
    out
}

/// As seen by the unshaken camera at the scale of the hitter's middle plane.
pub fn measures_in_picture(swing: &Swing, moments: &Moments, camera: &Camera) -> BTreeMap<MeasureId, f64> {
    let mut out = times(moments);
    let eye = camera.steady();
    let scale = camera.px_per_cm();
    let see = |p: V3| eye.project(p).map_or(eye.centre, |(_, q)| q);
    let at = |event: EventId| moments.get(&event).copied();
    let pose = |event| at(event).map(|t| (t, swing.pose_at(t)));
    let [hip, knee, ankle, toe] =
        [Part::LeftHip, Part::LeftKnee, Part::LeftAnkle, Part::LeftToe].map(|p| swing.front(p));
    let (rear_toe, rear_shoulder) = (toe.other_side(), swing.front(Part::LeftShoulder).other_side());
    let hands = |f: &Figure| see(f.at(Part::LeftHand)).midpoint(see(f.at(Part::RightHand)));
    let bend = |f: &Figure| {
        let [a, b, c] = [hip, knee, ankle].map(|p| see(f.at(p)));
        let (u, v) = (a - b, c - b);
        (u.dot(v) / (u.length() * v.length()).max(1e-9)).clamp(-1.0, 1.0).acos().to_degrees()
    };
    if let (Some((_, stance)), Some((plant_s, plant)), Some((_, contact))) =
        (pose(EventId::Stance), pose(EventId::Plant), pose(EventId::Contact))
    {
        let stride = (see(plant.at(toe)) - see(stance.at(toe))).x.abs();
        out.insert(MeasureId::StrideLength, stride / scale);
        out.insert(MeasureId::HandsToFrontFootAtPlant, hands(&plant).distance(see(plant.at(ankle))) / scale);
        let head = (0..=100)
            .map(|i| swing.pose_at(plant_s * (1.0 - f64::from(i) / 100.0)))
            .map(|f| see(f.head.centre).distance(see(plant.head.centre)))
            .fold(0.0, f64::max);
        out.insert(MeasureId::HeadTravelPlantToContact, head / scale);
        out.insert(MeasureId::FrontKneeAtPlant, bend(&plant));
        out.insert(MeasureId::FrontKneeAtContact, bend(&contact));
        let lift = see(stance.at(rear_toe)).y - see(contact.at(rear_toe)).y;
        out.insert(MeasureId::BackFootLiftAtContact, lift / scale);
    }
    if let Some(start_s) = at(EventId::HandsStart) {
        let from = hands(&swing.pose_at(start_s));
        let off = |t: f64| (hands(&swing.pose_at(t)) - from) * (1.0 / (100.0 * scale));
        if let Some(way) = first_travel(
            |t| {
                let Point { x, y } = off(t);
                V3::new(x, 0.0, -y)
            },
            start_s,
        ) {
            out.insert(MeasureId::FirstHandTravelDirection, (-way.z).atan2(way.x.abs()).to_degrees());
        }
    }
    if let Some((_, f)) = pose(EventId::Extension) {
        out.insert(MeasureId::ExtensionDistance, hands(&f).distance(see(f.at(rear_shoulder))) / scale);
    }
    out
}

fn times(moments: &Moments) -> BTreeMap<MeasureId, f64> {
    [
        (MeasureId::PlantToContact, EventId::Plant, EventId::Contact),
        (MeasureId::HandsStartToContact, EventId::HandsStart, EventId::Contact),
        (MeasureId::ContactToExtension, EventId::Contact, EventId::Extension),
    ]
    .into_iter()
    .filter_map(|(id, a, b)| Some((id, 1000.0 * (moments.get(&b)? - moments.get(&a)?))))
    .collect()
}

/// The first offset that is as long as the first travel; `None` when contact comes before it.
fn first_travel(offset: impl Fn(f64) -> V3, start_s: f64) -> Option<V3> {
    let steps = 400;
    (0..=steps)
        .map(|i| offset(start_s * (1.0 - f64::from(i) / f64::from(steps))))
        .find(|o| o.length() >= FIRST_TRAVEL_M)
}
