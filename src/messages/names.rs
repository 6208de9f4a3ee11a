//! What events, measures, sides, views and units are called.

use crate::types::{EventId, MeasureId, PitcherSide, Side, Unit, View};

/// How the event is named in a sentence of its own.
pub const fn event(id: EventId) -> &'static str {
    match id {
        EventId::Stance => "Stance",
        EventId::Load => "Load",
        EventId::FootOff => "Front foot lifts",
        EventId::Touch => "Front foot touches",
        EventId::Plant => "Front foot plants",
        EventId::HandsStart => "Hands start",
        EventId::Contact => "Contact",
        EventId::Extension => "Extension",
        EventId::Finish => "Finish",
    }
}

/// The event in one short word, for tables and marks.
pub const fn event_short(id: EventId) -> &'static str {
    match id {
        EventId::Stance => "stance",
        EventId::Load => "load",
        EventId::FootOff => "foot off",
        EventId::Touch => "touch",
        EventId::Plant => "plant",
        EventId::HandsStart => "hands start",
        EventId::Contact => "contact",
        EventId::Extension => "extension",
        EventId::Finish => "finish",
    }
}

pub const fn measure(id: MeasureId) -> &'static str {
    match id {
        MeasureId::LoadToPlant => "Load to plant",
        MeasureId::FootOffToPlant => "Foot off to plant",
        MeasureId::PlantToContact => "Plant to contact",
        MeasureId::HandsStartToContact => "Hands start to contact",
        MeasureId::BodyCentreBackAtLoad => "Body center back at load",
        MeasureId::BodyCentreForwardAtPlant => "Body center forward at plant",
        MeasureId::BodyCentreForwardAtContact => "Body center forward at contact",
        MeasureId::StrideLength => "Stride",
        MeasureId::HandsToFrontFootAtPlant => "Hands to front foot at plant",
        MeasureId::HeadTravelStanceToPlant => "Head travel, stance to plant",
        MeasureId::HeadTravelPlantToContact => "Head travel, plant to contact",
        MeasureId::FirstHandTravelDirection => "Hands’ first 10 cm",
        MeasureId::FirstHandTravelDrop => "Hands’ drop in first 10 cm",
        MeasureId::FrontShoulderRise => "Front shoulder rise to contact",
        MeasureId::FrontKneeAtPlant => "Front knee at plant",
        MeasureId::FrontKneeAtContact => "Front knee at contact",
        MeasureId::BackFootLiftAtContact => "Back foot lift at contact",
        MeasureId::PeakHandSpeed => "Peak hand speed",
        MeasureId::PeakHandSpeedToContact => "Peak hand speed to contact",
        MeasureId::BatSpeed => "Bat speed at contact",
        MeasureId::ExtensionDistance => "Reach at extension",
        MeasureId::ContactToExtension => "Contact to extension",
        MeasureId::HandsOverShouldersAtFinish => "Hands over shoulders at finish",
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

/// What a unit is called after a number.
pub const fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Ms => " ms",
        Unit::Deg => "°",
        Unit::Cm => " cm",
        Unit::BodyHeights => " % of height",
        Unit::MetresPerS => " m/s",
        Unit::BodyHeightsPerS => " heights/s",
    }
}

/// A unit long enough to be said once for two numbers.
pub const fn long_unit(unit: Unit) -> Option<&'static str> {
    match unit {
        Unit::BodyHeights => Some("% of height"),
        Unit::BodyHeightsPerS => Some("heights/s"),
        Unit::Ms | Unit::Deg | Unit::Cm | Unit::MetresPerS => None,
    }
}
