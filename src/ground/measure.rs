use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// What is measured from one swing. Each variant's text is its definition.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MeasureId {
    /// Time from plant to contact.
    PlantToContact,
    /// Time from hands start to contact (swing time).
    HandsStartToContact,
    /// Front toe from its place at stance to its place at plant, along the ground.
    StrideLength,
    /// Hands' middle to front ankle, straight line, at plant.
    HandsToFrontFootAtPlant,
    /// The farthest the head's middle gets, between plant and contact, from where it was at plant.
    HeadTravelPlantToContact,
    /// Direction of the first 100 mm of hand travel after hands start: angle to the level,
    /// down is positive, up is negative. Where no scale is given the 100 mm are 0.057 body heights.
    FirstHandTravelDirection,
    /// Hip–knee–ankle angle of the front leg at plant as seen in the picture; straight is 180.
    FrontKneeAtPlant,
    /// The same at contact.
    FrontKneeAtContact,
    /// Back toe's height at contact over its height at stance.
    BackFootLiftAtContact,
    /// Hands' middle to rear shoulder at extension.
    ExtensionDistance,
    /// Time from contact to extension.
    ContactToExtension,
}

impl MeasureId {
    pub const ALL: [Self; 11] = [
        Self::PlantToContact,
        Self::HandsStartToContact,
        Self::StrideLength,
        Self::HandsToFrontFootAtPlant,
        Self::HeadTravelPlantToContact,
        Self::FirstHandTravelDirection,
        Self::FrontKneeAtPlant,
        Self::FrontKneeAtContact,
        Self::BackFootLiftAtContact,
        Self::ExtensionDistance,
        Self::ContactToExtension,
    ];
}

/// Lengths are body heights (share of the hitter's own standing height, estimated from limb
/// lengths in the picture) until a scale in cm is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    Ms,
    Deg,
    Cm,
    BodyHeights,
}

/// A number with its error.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Measure {
    pub value: f64,
    /// The truth is meant to lie within this of `value` in 95 of 100 cases.
    pub plus_minus: f64,
    pub unit: Unit,
}

pub type Measures = BTreeMap<MeasureId, Measure>;

/// Measures this clip cannot give, each with the reason in plain words.
pub type Absent = BTreeMap<MeasureId, String>;
