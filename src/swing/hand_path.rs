//! The way of the hands in the hitter's own terms, so that those of several reps can be laid over each other.

use super::curves::figure;
use super::figure::{Figure, Half};
use crate::swing::series::moments;
use crate::types::{EventId, Point, Reading};

/// Places are body heights: x toward the pitcher (filmed along the line of the pitch, toward the plate), y up, from
/// the middle of both ankles at stance.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct HandPath {
    /// From load (else stance) to extension (else finish), in order.
    pub points: Vec<Point>,
    /// Where the hands are at hands start, plant, contact and extension, as far as these are known.
    pub at: Vec<(EventId, Point)>,
    /// The body at stance, as lines from joint to joint.
    pub stance: Vec<(Point, Point)>,
    /// The head's middle then.
    pub head: Option<Point>,
}

/// Of a reading that keeps its track; `None` where the clip does not give it.
pub fn hand_path(reading: &Reading) -> Option<HandPath> {
    let event = |ids: &[EventId]| ids.iter().find_map(|id| reading.events.get(id)).map(|e| e.time_s);
    let from_s = event(&[EventId::Load, EventId::Stance, EventId::FootOff, EventId::Plant])?;
    let to_s = event(&[EventId::Extension, EventId::Finish, EventId::Contact])?;
    let stance_s = event(&[EventId::Stance, EventId::Load, EventId::FootOff, EventId::Plant])?;
    let (_, figure) = figure(reading)?;
    let (fast, slow) = (figure.fast_half_s(), figure.slow_half_s());
    let ankles = [&figure.front.ankle, &figure.back.ankle].map(|s| s.at(stance_s, slow));
    let [Some(front), Some(back)] = ankles else { return None };
    let origin = front.midpoint(back);
    let hands = |t: f64| figure.hands.at(t, fast).filter(|p| p.is_finite()).map(|p| p - origin);
    let points: Vec<Point> =
        moments(from_s, to_s, figure.step_s.clamp(1.0 / 240.0, 0.02)).filter_map(hands).collect();
    let marks = [EventId::Plant, EventId::HandsStart, EventId::Contact, EventId::Extension];
    let at = marks.iter().filter_map(|id| Some((*id, hands(reading.events.get(id)?.time_s)?))).collect();
    let stance = bones(&figure, stance_s, slow).into_iter().map(|(a, b)| (a - origin, b - origin)).collect();
    let head = figure.head.at(stance_s, slow).map(|p| p - origin);
    (points.len() > 2).then_some(HandPath { points, at, stance, head })
}

fn bones(figure: &Figure, at_s: f64, half_s: f64) -> Vec<(Point, Point)> {
    let limb = |half: &Half| {
        let chain = [
            &half.toe,
            &half.heel,
            &half.ankle,
            &half.knee,
            &half.hip,
            &half.shoulder,
            &half.elbow,
            &half.wrist,
        ];
        chain.map(|s| s.at(at_s, half_s))
    };
    let (front, back) = (limb(&figure.front), limb(&figure.back));
    let mut lines = Vec::new();
    let mut join = |a: Option<Point>, b: Option<Point>| lines.extend(a.zip(b));
    for side in [&front, &back] {
        let [toe, heel, ankle, knee, hip, shoulder, elbow, wrist] = *side;
        for (a, b) in [
            (toe, heel),
            (heel, ankle),
            (ankle, knee),
            (knee, hip),
            (hip, shoulder),
            (shoulder, elbow),
            (elbow, wrist),
        ] {
            join(a, b);
        }
    }
    join(front[4], back[4]);
    join(front[5], back[5]);
    lines
}
