//! Lengths: how far parts of the body go, or are apart.

use super::super::params::{ALONG_HEIGHTS, ALONG_SHOULDER, ARMS_UNSEEN, STANCE_STILL_S};
use super::{Found, MeasureContext, UNSEEN};
use crate::swing::centre::centre_at;
use crate::swing::series::moments;
use crate::types::{AbsentReason, EventId, MeasureId, Point};

impl MeasureContext<'_> {
    pub(super) fn stride(&self, id: MeasureId) -> Found {
        self.in_side_view()?;
        let toe = &self.figure.front.toe;
        let events = [self.event(EventId::Stance)?, self.event(EventId::Plant)?];
        self.holds_still(events[0], events[1])?;
        let (value, drift) = self.at_events(events, |[stance_s, plant_s]| {
            let from = toe.median(stance_s - STANCE_STILL_S, stance_s + STANCE_STILL_S)?;
            let to = toe.median(plant_s, plant_s + 0.05).or_else(|| toe.at(plant_s, 0.04))?;
            Some((to.x - from.x).abs())
        })?;
        Ok(self.length(id, value, drift))
    }

    pub(super) fn hands_to_front_foot(&self, id: MeasureId) -> Found {
        self.in_side_view()?;
        let f = self.figure;
        let (value, drift) = self.at_events([self.event(EventId::Plant)?], |[t]| {
            Some(f.hands.at(t, f.fast_half_s())?.distance(f.front.ankle.at(t, f.slow_half_s())?))
        })?;
        Ok(self.length(id, value, drift))
    }

    pub(super) fn head_travel(&self, id: MeasureId, from: EventId, to: EventId) -> Found {
        // Along the line of the pitch the larger part of the head's way would not be seen.
        self.in_side_view()?;
        let f = self.figure;
        let (a, b) = (self.event(from)?, self.event(to)?);
        if b.time_s <= a.time_s {
            return Err(AbsentReason::EventsOutOfOrder);
        }
        self.holds_still(a, b)?;
        let (value, drift) = self.at_events([a, b], |[from_s, to_s]| {
            let home = f.head.at(from_s, f.slow_half_s())?;
            let path = moments(from_s, to_s, f.step_s.min(1.0 / 120.0)).chain([to_s]);
            let far = path.filter_map(|t| Some(f.head.at(t, f.slow_half_s())?.distance(home)));
            Some(far.fold(0.0, f64::max))
        })?;
        Ok(self.length(id, value, drift))
    }

    /// How far the body centre goes from one event to another, `way` times toward the pitcher.
    pub(super) fn body_centre(&self, id: MeasureId, from: EventId, to: EventId, way: f64) -> Found {
        self.in_side_view()?;
        let events = [self.event(from)?, self.event(to)?];
        self.holds_still(events[0], events[1])?;
        let between = |arms: bool| {
            let at = |t: f64| centre_at(self.figure, t, arms);
            self.at_events(events, |[from_s, to_s]| Some(way * (at(to_s)?.x - at(from_s)?.x)))
        };
        let (value, drift) = match between(true) {
            Ok(found) => found,
            Err(_) => {
                let (value, drift) = between(false)?;
                (value, drift.hypot(ARMS_UNSEEN))
            }
        };
        Ok(self.length(id, value, drift))
    }

    pub(super) fn front_shoulder_rise(&self, id: MeasureId) -> Found {
        let f = self.figure;
        let events = [self.event(EventId::Plant)?, self.event(EventId::Contact)?];
        self.holds_still(events[0], events[1])?;
        let at = |t: f64| f.front.shoulder.at(t, f.slow_half_s());
        let (value, drift) = self.at_events(events, |[plant_s, contact_s]| {
            let (from, to): (Point, Point) = (at(plant_s)?, at(contact_s)?);
            Some(to.y - from.y)
        })?;
        let drift = if self.side_view { drift } else { drift.hypot(ALONG_SHOULDER) };
        Ok(self.length(id, value, self.along(drift)))
    }

    pub(super) fn back_foot_lift(&self, id: MeasureId) -> Found {
        let (stance, contact) = (self.event(EventId::Stance)?, self.event(EventId::Contact)?);
        self.holds_still(stance, contact)?;
        let f = self.figure;
        let home = f
            .back
            .toe
            .median(stance.time_s - STANCE_STILL_S, stance.time_s + STANCE_STILL_S)
            .ok_or(UNSEEN)?;
        let at = |[t]: [f64; 1]| Some(f.back.toe.at(t, f.slow_half_s())?.y - home.y);
        let (value, drift) = self.at_events([contact], at)?;
        Ok(self.length(id, value, self.along(drift)))
    }

    pub(super) fn extension_distance(&self, id: MeasureId) -> Found {
        self.in_side_view()?;
        let f = self.figure;
        let (value, drift) = self.at_events([self.event(EventId::Extension)?], |[t]| {
            Some(f.hands.at(t, f.fast_half_s())?.distance(f.back.shoulder.at(t, f.slow_half_s())?))
        })?;
        Ok(self.length(id, value, drift))
    }

    pub(super) fn hands_over_shoulders(&self, id: MeasureId) -> Found {
        let (f, half_s) = (self.figure, self.figure.slow_half_s());
        let (value, drift) = self.at_events([self.event(EventId::Finish)?], |[t]| {
            let shoulders = f.front.shoulder.at(t, half_s)?.midpoint(f.back.shoulder.at(t, half_s)?);
            Some(f.hands.at(t, half_s)?.y - shoulders.y)
        })?;
        Ok(self.length(id, value, self.along(drift)))
    }

    /// What a height seen along the line of the pitch is worth less.
    fn along(&self, drift: f64) -> f64 {
        if self.side_view { drift } else { drift.hypot(ALONG_HEIGHTS) }
    }
}
