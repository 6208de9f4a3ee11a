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
        self.word("measures", id.word())
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

pub(crate) fn event_short(id: EventId) -> &'static str {
    english().event_short(id)
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
    fn every_event_and_measure_has_its_name() {
        for id in MeasureId::ALL {
            assert!(!english().measure(id).is_empty(), "{id:?}");
        }
        for id in EventId::ALL {
            assert!(!english().event(id).is_empty() && !english().event_short(id).is_empty(), "{id:?}");
        }
    }
}
