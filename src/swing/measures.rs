//! Numbers from events and points, each with its ±, or the reason why it is absent.

use super::figure::{Figure, shows_stride};
use super::series::moments;
use crate::ground::{
    Absent, Event, EventId, Events, Hitter, Measure, MeasureId, Measures, Point, Scale, Unit,
};

/// 95 % of a normal error lie within this many standard errors.
const Z95: f64 = 1.96;
/// Standard error of where a joint is taken to be, body heights: the net's bias, the same through a clip.
/// It cancels in travel of one point, not in a distance between two.
const JOINT_ERROR: f64 = 0.012;
/// The first stretch of hand travel, cm, and what it is of an adult of 175 cm (common practice, no source).
const FIRST_TRAVEL_CM: f64 = 10.0;
const FIRST_TRAVEL: f64 = FIRST_TRAVEL_CM / 175.0;

pub struct Measured {
    pub measures: Measures,
    pub absent: Absent,
}

struct Bench<'a> {
    figure: &'a Figure,
    events: &'a Events,
    scale: &'a Scale,
    side_view: bool,
}

type Found = Result<Measure, String>;

pub fn measure(figure: &Figure, hitter: &Hitter, scale: &Scale, events: &Events) -> Measured {
    let bench = Bench { figure, events, scale, side_view: shows_stride(hitter.view) };
    let (mut measures, mut absent) = (Measures::new(), Absent::new());
    for id in MeasureId::ALL {
        match bench.one(id) {
            Ok(m) if m.value.is_finite() && m.plus_minus.is_finite() => {
                measures.insert(id, m);
            }
            Ok(_) => {
                absent.insert(id, "the points it needs are not seen".to_owned());
            }
            Err(why) => {
                absent.insert(id, why);
            }
        }
    }
    Measured { measures, absent }
}

impl Bench<'_> {
    fn one(&self, id: MeasureId) -> Found {
        use EventId::{Contact, Extension, HandsStart, Plant};
        match id {
            MeasureId::PlantToContact => self.interval(Plant, Contact),
            MeasureId::HandsStartToContact => self.interval(HandsStart, Contact),
            MeasureId::ContactToExtension => self.interval(Contact, Extension),
            MeasureId::StrideLength => self.stride(),
            MeasureId::HandsToFrontFootAtPlant => self.hands_to_front_foot(),
            MeasureId::HeadTravelPlantToContact => self.head_travel(),
            MeasureId::FirstHandTravelDirection => self.first_hand_travel(),
            MeasureId::FrontKneeAtPlant => self.front_knee(Plant),
            MeasureId::FrontKneeAtContact => self.front_knee(Contact),
            MeasureId::BackFootLiftAtContact => self.back_foot_lift(),
            MeasureId::ExtensionDistance => self.extension_distance(),
        }
    }

    fn event(&self, id: EventId) -> Result<Event, String> {
        self.events.get(&id).copied().ok_or_else(|| format!("{} was not found", id.word()))
    }

    fn in_side_view(&self) -> Result<(), String> {
        if self.side_view {
            Ok(())
        } else {
            Err("not seen from behind or from the front; film from the open side".to_owned())
        }
    }

    fn interval(&self, from: EventId, to: EventId) -> Found {
        let (a, b) = (self.event(from)?, self.event(to)?);
        Ok(Measure {
            value: (b.time_s - a.time_s) * 1000.0,
            plus_minus: a.plus_minus_s.hypot(b.plus_minus_s) * 1000.0,
            unit: Unit::Ms,
        })
    }

    /// A length in body heights with its standard error, in cm where a scale is known.
    fn length(&self, value: f64, sd: f64) -> Measure {
        let share = self.scale.body_height_error;
        match self.scale.px_per_cm {
            Some(px_per_cm) => {
                let k = self.scale.body_height_px / px_per_cm;
                let sd = (sd * k).hypot(value * k * self.scale.px_per_cm_error);
                Measure { value: value * k, plus_minus: Z95 * sd, unit: Unit::Cm }
            }
            None => Measure { value, plus_minus: Z95 * sd.hypot(value * share), unit: Unit::BodyHeights },
        }
    }

    /// `value` at an event, and the standard error that the event's own ± brings.
    fn at_event(&self, event: Event, value: impl Fn(f64) -> Option<f64>) -> Option<(f64, f64)> {
        let v = value(event.time_s)?;
        let shifted = [-1.0, 1.0].map(|s| value(event.time_s + s * event.plus_minus_s));
        let swing = shifted.iter().flatten().map(|x| (x - v).abs()).fold(0.0, f64::max);
        Some((v, swing / Z95))
    }

    /// Standard error of one point's travel between two events, body heights.
    fn strayed(&self) -> f64 {
        self.figure.noise.hypot(1.3 * self.figure.wander)
    }

    fn stride(&self) -> Found {
        self.in_side_view()?;
        let (stance, plant) = (self.event(EventId::Stance)?, self.event(EventId::Plant)?);
        let toe = &self.figure.front.toe;
        let from = toe.median(stance.time_s - 0.1, stance.time_s + 0.1).ok_or(UNSEEN)?;
        let to = toe
            .median(plant.time_s, plant.time_s + 0.05)
            .or_else(|| toe.at(plant.time_s, 0.04))
            .ok_or(UNSEEN)?;
        Ok(self.length((to.x - from.x).abs(), self.strayed() * 1.5))
    }

    fn hands_to_front_foot(&self) -> Found {
        self.in_side_view()?;
        let plant = self.event(EventId::Plant)?;
        let f = self.figure;
        let at = |t| Some(f.hands.at(t, f.fast_half_s())?.distance(f.front.ankle.at(t, f.slow_half_s())?));
        let (value, drift) = self.at_event(plant, at).ok_or(UNSEEN)?;
        Ok(self.length(value, drift.hypot(JOINT_ERROR * std::f64::consts::SQRT_2)))
    }

    fn head_travel(&self) -> Found {
        let (plant, contact) = (self.event(EventId::Plant)?, self.event(EventId::Contact)?);
        if contact.time_s <= plant.time_s {
            return Err("contact is not after plant".to_owned());
        }
        let f = self.figure;
        let home = f.head.at(plant.time_s, f.slow_half_s()).ok_or(UNSEEN)?;
        let path: Vec<f64> = moments(plant.time_s, contact.time_s, f.step_s.min(1.0 / 120.0))
            .filter_map(|t| Some(f.head.at(t, f.slow_half_s())?.distance(home)))
            .collect();
        let travel = path.iter().copied().fold(0.0, f64::max);
        // Between the ears the net strays less than at a foot.
        Ok(self.length(travel, f.noise.hypot(0.9 * f.wander)))
    }

    fn first_hand_travel(&self) -> Found {
        self.in_side_view()?;
        let start = self.event(EventId::HandsStart)?;
        let f = self.figure;
        let reach = match self.scale.px_per_cm {
            Some(px) => FIRST_TRAVEL_CM * px / self.scale.body_height_px,
            None => FIRST_TRAVEL,
        };
        let half_s = f.fast_half_s();
        let direction = |from_s: f64| -> Option<Point> {
            let home = f.hands.at(from_s, half_s)?;
            moments(from_s, from_s + 0.3, f.step_s.min(1.0 / 240.0))
                .map_while(|t| f.hands.at(t, half_s))
                .map(|p| p - home)
                .find(|d| d.length() >= reach)
        };
        let down_deg = |d: Point| (-d.y).atan2(d.x.abs().max(1e-9)).to_degrees();
        let at = |t: f64| direction(t).map(down_deg);
        let (value, drift) =
            self.at_event(start, at).ok_or("the hands are not seen over their first travel")?;
        // Over so short a way and time a point strays half as much as between two events.
        let strays = f.noise.hypot(0.5 * f.wander);
        let noise = (strays * std::f64::consts::SQRT_2 / reach).atan().to_degrees();
        Ok(Measure { value, plus_minus: Z95 * drift.hypot(noise), unit: Unit::Deg })
    }

    fn front_knee(&self, event: EventId) -> Found {
        self.in_side_view()?;
        let event = self.event(event)?;
        let (leg, half_s) = (&self.figure.front, self.figure.slow_half_s());
        let at = |t: f64| {
            Some(angle_deg(leg.hip.at(t, half_s)?, leg.knee.at(t, half_s)?, leg.ankle.at(t, half_s)?))
        };
        let (value, drift) = self.at_event(event, at).ok_or(UNSEEN)?;
        // Pose nets on fast legs after clean-up: 3.9–7.0° RMSE (arXiv 2505.04713).
        const NET_DEG: f64 = 5.0;
        Ok(Measure { value, plus_minus: Z95 * drift.hypot(NET_DEG), unit: Unit::Deg })
    }

    fn back_foot_lift(&self) -> Found {
        let (stance, contact) = (self.event(EventId::Stance)?, self.event(EventId::Contact)?);
        let f = self.figure;
        let home = f.back.toe.median(stance.time_s - 0.1, stance.time_s + 0.1).ok_or(UNSEEN)?;
        let at = |t: f64| Some(f.back.toe.at(t, f.slow_half_s())?.y - home.y);
        let (value, drift) = self.at_event(contact, at).ok_or(UNSEEN)?;
        Ok(self.length(value, drift.hypot(self.strayed() * 1.5)))
    }

    fn extension_distance(&self) -> Found {
        self.in_side_view()?;
        let extension = self.event(EventId::Extension)?;
        let f = self.figure;
        let at =
            |t: f64| Some(f.hands.at(t, f.fast_half_s())?.distance(f.back.shoulder.at(t, f.slow_half_s())?));
        let (value, drift) = self.at_event(extension, at).ok_or(UNSEEN)?;
        Ok(self.length(value, drift.hypot(JOINT_ERROR * std::f64::consts::SQRT_2)))
    }
}

const UNSEEN: &str = "the points it needs are not seen at that moment";

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
