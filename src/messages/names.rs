//! What events, measures, sides, views and units are called.

use super::{Captions, english};
use crate::types::{EventId, MeasureId, PitcherSide, Side, Unit, Units, View};

impl Captions {
    /// The event as a title.
    pub fn event(&self, id: EventId) -> &str {
        self.word("events", id.word())
    }

    /// The event in one short word, for tables and marks.
    pub fn event_short(&self, id: EventId) -> &str {
        self.word("events_short", id.word())
    }

    pub fn measure(&self, id: MeasureId) -> &str {
        self.word("measures", measure_key(id))
    }

    /// What a unit is called after a number.
    pub fn unit(&self, unit: Unit) -> String {
        match unit {
            Unit::Deg => "°".to_owned(),
            _ => format!(" {}", self.bare_unit(unit)),
        }
    }

    /// A unit by itself: "cm", "mph", "% of height".
    pub fn bare_unit(&self, unit: Unit) -> &str {
        match (unit, self.units) {
            (Unit::Ms, _) => "ms",
            (Unit::Deg, _) => "°",
            (Unit::Cm, Units::Metric) => "cm",
            (Unit::Cm, Units::Us) => "in",
            (Unit::MetresPerS, Units::Metric) => "m/s",
            (Unit::MetresPerS, Units::Us) => "mph",
            (Unit::BodyHeights, _) => self.word("units", "height"),
            (Unit::BodyHeightsPerS, _) => self.word("units", "heights_per_s"),
        }
    }

    /// A unit long enough to be written once for two numbers.
    pub fn long_unit(&self, unit: Unit) -> Option<&str> {
        match unit {
            Unit::BodyHeights | Unit::BodyHeightsPerS => Some(self.bare_unit(unit)),
            Unit::Ms | Unit::Deg | Unit::Cm | Unit::MetresPerS => None,
        }
    }
}

pub fn event(id: EventId) -> &'static str {
    english().event(id)
}

pub fn event_short(id: EventId) -> &'static str {
    english().event_short(id)
}

/// The measure's key in a captions file; the same as in JSON.
const fn measure_key(id: MeasureId) -> &'static str {
    match id {
        MeasureId::LoadToPlant => "load_to_plant",
        MeasureId::FootOffToPlant => "foot_off_to_plant",
        MeasureId::PlantToContact => "plant_to_contact",
        MeasureId::HandsStartToContact => "hands_start_to_contact",
        MeasureId::BodyCentreBackAtLoad => "body_centre_back_at_load",
        MeasureId::BodyCentreForwardAtPlant => "body_centre_forward_at_plant",
        MeasureId::BodyCentreForwardAtContact => "body_centre_forward_at_contact",
        MeasureId::StrideLength => "stride_length",
        MeasureId::HandsToFrontFootAtPlant => "hands_to_front_foot_at_plant",
        MeasureId::HeadTravelStanceToPlant => "head_travel_stance_to_plant",
        MeasureId::HeadTravelPlantToContact => "head_travel_plant_to_contact",
        MeasureId::FirstHandTravelDirection => "first_hand_travel_direction",
        MeasureId::FirstHandTravelDrop => "first_hand_travel_drop",
        MeasureId::FrontShoulderRise => "front_shoulder_rise",
        MeasureId::FrontKneeAtPlant => "front_knee_at_plant",
        MeasureId::FrontKneeAtContact => "front_knee_at_contact",
        MeasureId::BackFootLiftAtContact => "back_foot_lift_at_contact",
        MeasureId::PeakHandSpeed => "peak_hand_speed",
        MeasureId::PeakHandSpeedToContact => "peak_hand_speed_to_contact",
        MeasureId::BatSpeed => "bat_speed",
        MeasureId::ExtensionDistance => "extension_distance",
        MeasureId::ContactToExtension => "contact_to_extension",
        MeasureId::HandsOverShouldersAtFinish => "hands_over_shoulders_at_finish",
    }
}

/// "left", "right".
pub const fn side(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
    }
}

/// Where the pitcher is, as it is said on the command line.
pub const fn pitcher(place: PitcherSide) -> &'static str {
    match place {
        PitcherSide::Left => "left",
        PitcherSide::Right => "right",
        PitcherSide::Toward => "toward",
        PitcherSide::Away => "away",
    }
}

/// From where the hitter is seen: "the open side", "behind".
pub const fn view(view: View) -> &'static str {
    match view {
        View::OpenSide => "the open side",
        View::ClosedSide => "the closed side",
        View::FromBehind => "behind",
        View::FromFront => "the front",
    }
}

/// The same beside a name: "open side", "from behind".
pub const fn view_short(view: View) -> &'static str {
    match view {
        View::OpenSide => "open side",
        View::ClosedSide => "closed side",
        View::FromBehind => "from behind",
        View::FromFront => "from the front",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_of_measures_are_the_serde_names() {
        for id in MeasureId::ALL {
            assert_eq!(serde_json::to_value(id).unwrap(), measure_key(id));
        }
    }
}
