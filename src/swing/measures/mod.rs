//! Numbers from events and points, each with its ±, or the reason why it is absent.
//!
//! Every ± is put together in the same way: what the ± of the events brings (the value is taken again at
//! both ends of it), the points' noise and slow wander, what is not known about this very measure (one row
//! in [`errors`]), and for lengths and speeds the error of the scale.

mod angles;
mod errors;
mod hands;
mod lengths;
mod times;

use super::figure::{Figure, shows_stride};
use super::params::LARGE_TURN;
use crate::types::{
    Absent, AbsentReason, Event, EventId, Events, Hitter, Measure, MeasureId, Measures, Scale, Unit, Warning,
};
use errors::error_model;

/// 95 % of a normal error lie within this many standard errors.
const Z95: f64 = 1.96;

pub struct Measured {
    pub measures: Measures,
    pub absent: Absent,
}

/// Measures that cannot stand, why, and what is said of it.
pub struct LeftOut {
    pub measures: Vec<MeasureId>,
    pub why: AbsentReason,
    pub warning: Warning,
}

impl Measured {
    pub fn leave_out(&mut self, away: Option<LeftOut>) -> Option<Warning> {
        let LeftOut { measures, why, warning } = away?;
        for id in measures {
            self.measures.remove(&id);
            self.absent.insert(id, why.clone());
        }
        Some(warning)
    }
}

struct MeasureContext<'a> {
    figure: &'a Figure,
    events: &'a Events,
    scale: &'a Scale,
    side_view: bool,
}

/// A measure, or why there is none.
type Found = Result<Measure, AbsentReason>;

const UNSEEN: AbsentReason = AbsentReason::PointsUnseen;

pub fn measure(figure: &Figure, hitter: &Hitter, scale: &Scale, events: &Events) -> Measured {
    let bench = MeasureContext { figure, events, scale, side_view: shows_stride(hitter.view) };
    let (mut measures, mut absent) = (Measures::new(), Absent::new());
    for id in MeasureId::ALL {
        match bench.one(id) {
            Ok(m) if m.value.is_finite() && m.plus_minus.is_finite() => {
                measures.insert(id, m);
            }
            Ok(_) => {
                absent.insert(id, UNSEEN);
            }
            Err(why) => {
                absent.insert(id, why);
            }
        }
    }
    Measured { measures, absent }
}

impl MeasureContext<'_> {
    fn one(&self, id: MeasureId) -> Found {
        use EventId::{Contact, Extension, FootOff, HandsStart, Load, Plant, Stance};
        match id {
            MeasureId::LoadToPlant => self.in_side_view().and_then(|()| self.interval(id, Load, Plant)),
            MeasureId::FootOffToPlant => self.in_side_view().and_then(|()| self.interval(id, FootOff, Plant)),
            MeasureId::PlantToContact => self.interval(id, Plant, Contact),
            MeasureId::HandsStartToContact => self.interval(id, HandsStart, Contact),
            MeasureId::ContactToExtension => self.interval(id, Contact, Extension),
            MeasureId::PeakHandSpeedToContact => self.peak_to_contact(id),
            MeasureId::BodyCentreBackAtLoad => self.body_centre(id, Stance, Load, -1.0),
            MeasureId::BodyCentreForwardAtPlant => self.body_centre(id, Load, Plant, 1.0),
            MeasureId::BodyCentreForwardAtContact => self.body_centre(id, Load, Contact, 1.0),
            MeasureId::StrideLength => self.stride(id),
            MeasureId::HandsToFrontFootAtPlant => self.hands_to_front_foot(id),
            MeasureId::HeadTravelStanceToPlant => self.head_travel(id, Stance, Plant),
            MeasureId::HeadTravelPlantToContact => self.head_travel(id, Plant, Contact),
            MeasureId::FrontShoulderRise => self.front_shoulder_rise(id),
            MeasureId::BackFootLiftAtContact => self.back_foot_lift(id),
            MeasureId::ExtensionDistance => self.extension_distance(id),
            MeasureId::HandsOverShouldersAtFinish => self.hands_over_shoulders(id),
            MeasureId::FirstHandTravelDirection => self.first_travel_direction(id),
            MeasureId::FirstHandTravelDrop => self.first_travel_drop(id),
            MeasureId::FrontKneeAtPlant => self.front_knee(id, Plant),
            MeasureId::FrontKneeAtContact => self.front_knee(id, Contact),
            MeasureId::PeakHandSpeed => self.peak_hand_speed(id),
            MeasureId::BatSpeed => self.bat_speed(),
        }
    }

    fn event(&self, id: EventId) -> Result<Event, AbsentReason> {
        self.events.get(&id).copied().ok_or(AbsentReason::EventNotFound { event: id })
    }

    /// For what goes from one place to another: the camera must not go along.
    fn holds_still(&self, from: Event, to: Event) -> Result<(), AbsentReason> {
        if self.figure.turned(from.time_s, to.time_s) > LARGE_TURN {
            Err(AbsentReason::CameraTurns)
        } else {
            Ok(())
        }
    }

    fn in_side_view(&self) -> Result<(), AbsentReason> {
        if self.side_view { Ok(()) } else { Err(AbsentReason::AlongThePitch) }
    }

    /// `value` at its events, and the standard error that their own ± brings: each is moved to both ends of
    /// its ± in turn (half as far where the points end before), the larger change counts.
    fn at_events<const N: usize>(
        &self,
        events: [Event; N],
        value: impl Fn([f64; N]) -> Option<f64>,
    ) -> Result<(f64, f64), AbsentReason> {
        let times = events.map(|e| e.time_s);
        let v = value(times).ok_or(UNSEEN)?;
        let mut drift = 0.0f64;
        for (i, event) in events.iter().enumerate() {
            let changed = |part: f64| {
                let moved = [-part, part].map(|s| {
                    let mut times = times;
                    times[i] += s * event.plus_minus_s;
                    value(times)
                });
                let seen = moved.into_iter().flatten().map(|x| (x - v).abs() / part);
                seen.fold(None, |most: Option<f64>, x| Some(most.map_or(x, |m| m.max(x))))
            };
            drift = drift.hypot(changed(1.0).or_else(|| changed(0.5)).ok_or(UNSEEN)? / Z95);
        }
        Ok((v, drift))
    }

    /// What the points' noise and wander bring to a length, and a camera that was lost, body heights (standard error).
    fn strays(&self, id: MeasureId) -> f64 {
        let error_model = error_model(id);
        // Only what goes from one moment to another wanders, and is moved by a camera that does.
        let camera = if error_model.wander > 0.0 { self.camera_error(id) } else { 0.0 };
        (error_model.noise * self.figure.noise).hypot(error_model.wander * self.figure.wander).hypot(camera)
    }

    fn camera_error(&self, id: MeasureId) -> f64 {
        let first = match id {
            MeasureId::FirstHandTravelDirection | MeasureId::FirstHandTravelDrop => EventId::HandsStart,
            _ => EventId::Stance,
        };
        let first = self.events.get(&first).or(self.events.get(&EventId::Load));
        let swing = first.zip(self.events.get(&EventId::Contact));
        swing.map_or(0.0, |(first, contact)| self.figure.aim_error(first.time_s, contact.time_s))
    }

    /// A length in body heights with the standard error its events bring; in cm where a scale is known.
    fn length(&self, id: MeasureId, value: f64, drift: f64) -> Measure {
        let error_model = error_model(id);
        let sd = drift.hypot(self.strays(id)).hypot(error_model.fixed).hypot(error_model.share * value);
        self.scaled(value, sd, 1.0, [Unit::Cm, Unit::BodyHeights])
    }

    /// A value in body heights (per s) with its standard error; times `k` in cm (per s) where a scale is
    /// known. `units` with and without scale.
    fn scaled(&self, value: f64, sd: f64, k: f64, units: [Unit; 2]) -> Measure {
        let (k, share, unit) = match self.scale.px_per_cm {
            Some(px_per_cm) => {
                (k * self.scale.body_height_px / px_per_cm, self.scale.px_per_cm_error, units[0])
            }
            None => (1.0, self.scale.body_height_error, units[1]),
        };
        Measure { value: value * k, plus_minus: Z95 * k * sd.hypot(value * share), unit }
    }
}
