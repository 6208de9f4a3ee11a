use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// What is measured from one swing. Each variant's text is its definition. Lengths, angles and speeds are
/// what the picture shows: what goes toward or away from the camera does not count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MeasureId {
    /// Time from load to plant.
    LoadToPlant,
    /// Time from foot off to plant: how long the front foot is in the air, or only touches.
    FootOffToPlant,
    /// Time from plant to contact.
    PlantToContact,
    /// Time from hands start to contact (swing time).
    HandsStartToContact,
    /// How far the body centre (centre of mass by Winter's segments, see `swing::measures`) lies at load
    /// behind its place at stance, along the ground; toward the back foot is positive.
    BodyCentreBackAtLoad,
    /// How far the body centre has come forward at plant from its place at load, along the ground; toward
    /// the pitcher is positive.
    BodyCentreForwardAtPlant,
    /// The same at contact, also from load.
    BodyCentreForwardAtContact,
    /// Front toe from its place at stance to its place at plant, along the ground.
    StrideLength,
    /// Hands' middle to front ankle, straight line, at plant.
    HandsToFrontFootAtPlant,
    /// The farthest the head's middle gets, between stance and plant, from where it was at stance.
    HeadTravelStanceToPlant,
    /// The farthest the head's middle gets, between plant and contact, from where it was at plant.
    HeadTravelPlantToContact,
    /// Direction of the first 100 mm of hand travel after hands start: angle to the level,
    /// down is positive, up is negative. Where no scale is given the 100 mm are 0.057 body heights.
    FirstHandTravelDirection,
    /// How much lower the hands' middle is at the end of that first travel than at its beginning; down is
    /// positive, up is negative.
    FirstHandTravelDrop,
    /// Front shoulder's height at contact over its height at plant; negative when it sinks.
    FrontShoulderRise,
    /// Hip–knee–ankle angle of the front leg at plant as seen in the picture; straight is 180.
    FrontKneeAtPlant,
    /// The same at contact.
    FrontKneeAtContact,
    /// Back toe's height at contact over its height at stance.
    BackFootLiftAtContact,
    /// The fastest the hands' middle gets between hands start and contact.
    PeakHandSpeed,
    /// Time from that fastest moment to contact. Only where contact was heard, seen or pinned: a contact
    /// judged from the hands' own peak says nothing about it.
    PeakHandSpeedToContact,
    /// Speed of the bat's tip at contact.
    BatSpeed,
    /// Hands' middle to rear shoulder at extension.
    ExtensionDistance,
    /// Time from contact to extension.
    ContactToExtension,
    /// Hands' middle at finish over the middle of both shoulders; negative when it is lower.
    HandsOverShouldersAtFinish,
}

impl MeasureId {
    /// All of them, in the order in which they are told.
    pub const ALL: [Self; 23] = [
        Self::LoadToPlant,
        Self::FootOffToPlant,
        Self::PlantToContact,
        Self::HandsStartToContact,
        Self::BodyCentreBackAtLoad,
        Self::BodyCentreForwardAtPlant,
        Self::BodyCentreForwardAtContact,
        Self::StrideLength,
        Self::HandsToFrontFootAtPlant,
        Self::HeadTravelStanceToPlant,
        Self::HeadTravelPlantToContact,
        Self::FirstHandTravelDirection,
        Self::FirstHandTravelDrop,
        Self::FrontShoulderRise,
        Self::FrontKneeAtPlant,
        Self::FrontKneeAtContact,
        Self::BackFootLiftAtContact,
        Self::PeakHandSpeed,
        Self::PeakHandSpeedToContact,
        Self::BatSpeed,
        Self::ExtensionDistance,
        Self::ContactToExtension,
        Self::HandsOverShouldersAtFinish,
    ];
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
