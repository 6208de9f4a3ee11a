//! What the hands do: their first travel, how fast they get and when; and the bat.

use super::super::params::{BAT_RATE_HZ, FIRST_TRAVEL_S, PEAK_AFTER_CONTACT_S};
use super::errors::{error_model, flattened_share};
use super::{Found, MeasureContext, UNSEEN, Z95};
use crate::swing::hands::speeds;
use crate::swing::series::moments;
use crate::types::{AbsentReason, EventId, Measure, MeasureId, Point, Source, Unit};

/// The first stretch of hand travel, cm, and what it is of an adult of 175 cm (common practice, no source).
const FIRST_TRAVEL_CM: f64 = 10.0;
const FIRST_TRAVEL: f64 = FIRST_TRAVEL_CM / 175.0;

/// The hands at their fastest.
struct Peak {
    time_s: f64,
    /// Body heights per s, and its standard error from the points' noise.
    speed: f64,
    noise: f64,
    /// How far to either side it could as well lie, s.
    flat_s: f64,
}

impl MeasureContext<'_> {
    /// Body heights.
    pub(super) fn first_travel_reach(&self) -> f64 {
        match self.scale.px_per_cm {
            Some(px) => FIRST_TRAVEL_CM * px / self.scale.body_height_px,
            None => FIRST_TRAVEL,
        }
    }

    /// `number` of the way from hands start to where the first travel ends, body heights; and the standard
    /// error that the event's ± brings.
    pub(super) fn first_travel(&self, number: impl Fn(Point) -> f64) -> Result<(f64, f64), AbsentReason> {
        let (f, reach) = (self.figure, self.first_travel_reach());
        let half_s = f.fast_half_s();
        let way = |from_s: f64| -> Option<Point> {
            let home = f.hands.at(from_s, half_s)?;
            moments(from_s, from_s + FIRST_TRAVEL_S, f.step_s.min(1.0 / 240.0))
                .map_while(|t| f.hands.at(t, half_s))
                .map(|p| p - home)
                .find(|d| d.length() >= reach)
        };
        self.at_events([self.event(EventId::HandsStart)?], |[t]| way(t).map(&number))
            .map_err(|_| AbsentReason::HandsUnseen)
    }

    pub(super) fn first_travel_drop(&self, id: MeasureId) -> Found {
        self.in_side_view()?;
        let reach = self.first_travel_reach();
        // The step that ends the travel goes a little beyond it.
        let (value, drift) = self.first_travel(|way| -way.y * reach / way.length())?;
        Ok(self.length(id, value, drift))
    }

    fn peak(&self) -> Result<Peak, AbsentReason> {
        self.in_side_view()?;
        let (start, contact) = (self.event(EventId::HandsStart)?, self.event(EventId::Contact)?);
        let f = self.figure;
        let half_s = f.fast_half_s();
        let to_s = contact.time_s + contact.plus_minus_s.min(PEAK_AFTER_CONTACT_S);
        let path = speeds(&f.hands, start.time_s, to_s, half_s, f.step_s);
        let (i, (time_s, speed)) =
            path.iter().copied().enumerate().max_by(|a, b| a.1.1.total_cmp(&b.1.1)).ok_or(UNSEEN)?;
        // The slope of a line through n even samples over ±h has the standard error σ·√3/(h·√n).
        let samples = (2.0 * half_s / f.step_s).max(3.0);
        let noise = f.noise * 3.0f64.sqrt() / (half_s * samples.sqrt());
        let near = |p: &&(f64, f64)| p.1 >= speed - noise;
        let left = path.iter().take(i + 1).rev().take_while(near).last().map_or(time_s, |p| p.0);
        let right = path.iter().skip(i).take_while(near).last().map_or(time_s, |p| p.0);
        Ok(Peak { time_s, speed, noise, flat_s: ((right - left) / 2.0).max(f.step_s / 2.0) })
    }

    pub(super) fn peak_hand_speed(&self, id: MeasureId) -> Found {
        let peak = self.peak()?;
        let share = error_model(id).share.hypot(flattened_share(self.figure.fast_half_s()));
        let sd = peak.noise.hypot(error_model(id).fixed).hypot(share * peak.speed);
        Ok(self.scaled(peak.speed, sd, 0.01, [Unit::MetresPerS, Unit::BodyHeightsPerS]))
    }

    pub(super) fn peak_to_contact(&self, id: MeasureId) -> Found {
        let peak = self.peak()?;
        let contact = self.event(EventId::Contact)?;
        if contact.source == Source::Motion {
            return Err(AbsentReason::ContactFromPeak);
        }
        let events_ms = 1000.0 * contact.plus_minus_s.hypot(peak.flat_s);
        Ok(Measure {
            value: (contact.time_s - peak.time_s) * 1000.0,
            plus_minus: events_ms.hypot(Z95 * error_model(id).fixed),
            unit: Unit::Ms,
        })
    }

    pub(super) fn bat_speed(&self) -> Found {
        let rate_hz = 1.0 / self.figure.step_s;
        Err(if rate_hz < BAT_RATE_HZ { AbsentReason::BatTooFast } else { AbsentReason::BatNotTracked })
    }
}
