//! Times between events.

use super::errors::error_model;
use super::{Found, MeasureContext, Z95};
use crate::types::{AbsentReason, EventId, Measure, MeasureId, Unit};

impl MeasureContext<'_> {
    pub(super) fn interval(&self, id: MeasureId, from: EventId, to: EventId) -> Found {
        let (a, b) = (self.event(from)?, self.event(to)?);
        let events_ms = a.plus_minus_s.hypot(b.plus_minus_s) * 1000.0;
        let value = (b.time_s - a.time_s) * 1000.0;
        let plus_minus = events_ms.hypot(Z95 * error_model(id).fixed);
        if !self.side_view && plus_minus > value.abs() {
            return Err(AbsentReason::TimesUnsure);
        }
        Ok(Measure { value, plus_minus, unit: Unit::Ms })
    }
}
