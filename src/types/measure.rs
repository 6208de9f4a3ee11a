use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::words::words;

words! {
    /// What is measured from one swing. Each variant's text is its definition. Lengths, angles and speeds are
    /// what the picture shows: what goes toward or away from the camera does not count.
    #[derive(Hash, PartialOrd, Ord)]
    pub enum MeasureId {
        /// Time from load to plant.
        "load_to_plant" LoadToPlant,
        /// Time from foot off to plant: how long the front foot is in the air, or only touches.
        "foot_off_to_plant" FootOffToPlant,
        /// Time from plant to contact.
        "plant_to_contact" PlantToContact,
        /// Time from hands start to contact (swing time).
        "hands_start_to_contact" HandsStartToContact,
        /// How far the body centre (centre of mass by Winter's segments, see `swing::measures`) lies at load
        /// behind its place at stance, along the ground; toward the back foot is positive.
        "body_centre_back_at_load" BodyCentreBackAtLoad,
        /// How far the body centre has come forward at plant from its place at load, along the ground; toward
        /// the pitcher is positive.
        "body_centre_forward_at_plant" BodyCentreForwardAtPlant,
        /// The same at contact, also from load.
        "body_centre_forward_at_contact" BodyCentreForwardAtContact,
        /// Front toe from its place at stance to its place at plant, along the ground.
        "stride_length" StrideLength,
        /// Hands' middle to front ankle, straight line, at plant.
        "hands_to_front_foot_at_plant" HandsToFrontFootAtPlant,
        /// The farthest the head's middle gets, between stance and plant, from where it was at stance.
        "head_travel_stance_to_plant" HeadTravelStanceToPlant,
        /// The farthest the head's middle gets, between plant and contact, from where it was at plant.
        "head_travel_plant_to_contact" HeadTravelPlantToContact,
        /// Direction of the first 100 mm of hand travel after hands start: angle to the level,
        /// down is positive, up is negative. Where no scale is given the 100 mm are 0.057 body heights.
        "first_hand_travel_direction" FirstHandTravelDirection,
        /// How much lower the hands' middle is at the end of that first travel than at its beginning; down is
        /// positive, up is negative.
        "first_hand_travel_drop" FirstHandTravelDrop,
        /// Front shoulder's height at contact over its height at plant; negative when it sinks.
        "front_shoulder_rise" FrontShoulderRise,
        /// Hip–knee–ankle angle of the front leg at plant as seen in the picture; straight is 180.
        "front_knee_at_plant" FrontKneeAtPlant,
        /// The same at contact.
        "front_knee_at_contact" FrontKneeAtContact,
        /// Back toe's height at contact over its height at stance.
        "back_foot_lift_at_contact" BackFootLiftAtContact,
        /// The fastest the hands' middle gets between hands start and contact.
        "peak_hand_speed" PeakHandSpeed,
        /// Time from that fastest moment to contact. Only where contact was heard, seen or pinned: a contact
        /// judged from the hands' own peak says nothing about it.
        "peak_hand_speed_to_contact" PeakHandSpeedToContact,
        /// Speed of the bat's tip at contact.
        "bat_speed" BatSpeed,
        /// Hands' middle to rear shoulder at extension.
        "extension_distance" ExtensionDistance,
        /// Time from contact to extension.
        "contact_to_extension" ContactToExtension,
        /// Hands' middle at finish over the middle of both shoulders; negative when it is lower.
        "hands_over_shoulders_at_finish" HandsOverShouldersAtFinish,
    }
}

/// Lengths are body heights (share of the hitter's own standing height, estimated from limb
/// lengths in the picture) until a scale in cm is given; speeds likewise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// Milliseconds.
    Ms,
    /// Degrees.
    Deg,
    /// Centimeters.
    Cm,
    /// Standing heights of the hitter.
    BodyHeights,
    /// Meters per second.
    MetresPerS,
    /// Standing heights per second.
    BodyHeightsPerS,
}

/// A number with its error.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Measure {
    /// In `unit`.
    pub value: f64,
    /// The truth is meant to lie within this of `value` in 95 of 100 cases.
    pub plus_minus: f64,
    /// Of both numbers.
    pub unit: Unit,
}

/// What a clip gives, by measure.
pub type Measures = BTreeMap<MeasureId, Measure>;
