//! Angles in the picture.

use super::super::params::UNKNOWN_DIRECTION_DEG;
use super::errors::error_model;
use super::{Found, MeasureContext, Z95};
use crate::types::{AbsentReason, EventId, Measure, MeasureId, Point, Unit};

impl MeasureContext<'_> {
    pub(super) fn front_knee(&self, id: MeasureId, event: EventId) -> Found {
        self.in_side_view()?;
        let (leg, half_s) = (&self.figure.front, self.figure.slow_half_s());
        let (value, drift) = self.at_events([self.event(event)?], |[t]| {
            Some(angle_deg(leg.hip.at(t, half_s)?, leg.knee.at(t, half_s)?, leg.ankle.at(t, half_s)?))
        })?;
        Ok(Measure { value, plus_minus: Z95 * drift.hypot(error_model(id).fixed), unit: Unit::Deg })
    }

    pub(super) fn first_travel_direction(&self, id: MeasureId) -> Found {
        self.in_side_view()?;
        let (value, drift) = self.first_travel(|way| (-way.y).atan2(way.x.abs().max(1e-9)).to_degrees())?;
        let strays = (self.strays(id) / self.first_travel_reach()).atan().to_degrees();
        let plus_minus = Z95 * drift.hypot(strays).hypot(error_model(id).fixed);
        // Up or down, and nearly anything between, tells nothing.
        if plus_minus > UNKNOWN_DIRECTION_DEG {
            return Err(AbsentReason::HandsUnseen);
        }
        Ok(Measure { value, plus_minus, unit: Unit::Deg })
    }
}

/// Angle at `b` between `a` and `c`, 0–180°.
fn angle_deg(a: Point, b: Point, c: Point) -> f64 {
    let (u, v) = (a - b, c - b);
    (u.dot(v) / (u.length() * v.length()).max(1e-12)).clamp(-1.0, 1.0).acos().to_degrees()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_straight_leg_is_180_and_a_square_one_90() {
        let p = Point::new;
        assert!((angle_deg(p(0.0, 1.0), p(0.0, 0.5), p(0.0, 0.0)) - 180.0).abs() < 1e-6);
        assert!((angle_deg(p(0.0, 1.0), p(0.0, 0.5), p(0.5, 0.5)) - 90.0).abs() < 1e-6);
    }
}
