use super::params::{
    ABOUT_BURST_S, FARTHEST_DRIFT, FINISH_FROM_S, FINISH_TO_S, LOWEST_FINISH, MOST_LEANING, SLOWEST_SWING,
    TRAVEL_STRETCH_S, WIDEST_GRIP,
};
use crate::types::{Part, Point, Pose};

use super::people::hips;

/// A short time in which the hands move fast about the body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Burst {
    /// Middle of the fastest stretch, real s.
    pub time_s: f64,
    /// Mean speed of the hands about the hips over that stretch, body heights a second.
    pub speed: f64,
    /// Usual distance of the two wrists just before and in it, body heights.
    pub wrists_apart: f64,
    /// How far the hips get from where they were, over `ABOUT_BURST_S` on each side, body heights.
    pub drift: f64,
    /// How upright the trunk is about it: the share of its length that is height.
    pub upright: f64,
    /// How high the hands come over the shoulders in the time after it, body heights; `None`: not seen.
    pub finish: Option<f64>,
}

impl Burst {
    /// How much it looks like a swing, ≥ 0: speed, reduced when the wrists are apart.
    pub fn score(&self) -> f64 {
        let grip = ((WIDEST_GRIP * 1.5 - self.wrists_apart) / WIDEST_GRIP).clamp(0.1, 1.0);
        self.speed * grip
    }

    pub(crate) fn is_swing(&self) -> bool {
        self.why_not().is_none()
    }

    /// Why it is no swing; `None`: it may be one.
    pub fn why_not(&self) -> Option<NoSwing> {
        let reasons = [
            (self.speed < SLOWEST_SWING, NoSwing::Slow),
            (self.wrists_apart > WIDEST_GRIP, NoSwing::Apart),
            (self.upright < MOST_LEANING, NoSwing::NotStanding),
            (self.drift > FARTHEST_DRIFT, NoSwing::OnTheWay),
            (self.finish.is_some_and(|f| f < LOWEST_FINISH), NoSwing::StaysLow),
        ];
        reasons.into_iter().find(|r| r.0).map(|r| r.1)
    }
}

/// Why a burst is no swing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoSwing {
    /// The hands are too slow.
    Slow,
    /// The hands are apart.
    Apart,
    /// Lying, falling, bent over.
    NotStanding,
    /// Walking, running.
    OnTheWay,
    /// The hands stay low: a bunt, a checked swing.
    StaysLow,
}

/// Bursts of hand speed in time order, at least 0.6 s apart, the stronger kept. `height_px`: the person's
/// standing height.
pub fn bursts(poses: &[Pose], height_px: f64) -> Vec<Burst> {
    let hands: Vec<(f64, Point, f64)> = poses
        .iter()
        .filter_map(|pose| {
            let (l, r) = (pose.at(Part::LeftWrist)?, pose.at(Part::RightWrist)?);
            let hands = (l.midpoint(r) - hips(pose)?) * (1.0 / height_px);
            Some((pose.time_s, hands, l.distance(r) / height_px))
        })
        .collect();
    let mut all: Vec<Burst> = Vec::new();
    for (i, &(start_s, from, _)) in hands.iter().enumerate() {
        // The first picture at least a stretch later; a coarse survey's next one.
        let Some(&(end_s, to, _)) =
            hands.iter().skip(i + 1).find(|h| h.0 - start_s >= TRAVEL_STRETCH_S * 0.9)
        else {
            break;
        };
        if end_s - start_s > 4.0 * TRAVEL_STRETCH_S {
            continue;
        }
        let time_s = (start_s + end_s) / 2.0;
        let mut apart: Vec<f64> =
            hands.iter().filter(|h| h.0 >= time_s - 0.35 && h.0 <= time_s + 0.1).map(|h| h.2).collect();
        apart.sort_by(f64::total_cmp);
        let wrists_apart = apart.get(apart.len() / 2).copied().unwrap_or(1.0);
        let (drift, upright, finish) = (0.0, 1.0, None);
        let speed = from.distance(to) / (end_s - start_s);
        all.push(Burst { time_s, speed, wrists_apart, drift, upright, finish });
    }
    let mut kept = strongest_apart(all, 0.6);
    for burst in &mut kept {
        burst.drift = drift(poses, burst.time_s, height_px);
        burst.upright = upright(poses, burst.time_s);
        burst.finish = finish(poses, burst.time_s, height_px);
    }
    kept
}

fn about(poses: &[Pose], time_s: f64, (before_s, after_s): (f64, f64)) -> impl Iterator<Item = &Pose> {
    poses.iter().filter(move |p| (time_s + before_s..=time_s + after_s).contains(&p.time_s))
}

fn drift(poses: &[Pose], time_s: f64, height_px: f64) -> f64 {
    let places: Vec<Point> = about(poses, time_s, (-ABOUT_BURST_S, ABOUT_BURST_S)).filter_map(hips).collect();
    let (Some(first), Some(last)) = (places.first(), places.last()) else { return 0.0 };
    first.distance(*last) / height_px
}

fn shoulders(pose: &Pose) -> Option<Point> {
    Some(pose.at(Part::LeftShoulder)?.midpoint(pose.at(Part::RightShoulder)?))
}

fn upright(poses: &[Pose], time_s: f64) -> f64 {
    let lean = |p: &Pose| {
        let trunk = shoulders(p)? - hips(p)?;
        Some(-trunk.y / trunk.length().max(1e-9))
    };
    let mut all: Vec<f64> = about(poses, time_s, (-ABOUT_BURST_S, ABOUT_BURST_S)).filter_map(lean).collect();
    all.sort_by(f64::total_cmp);
    all.get(all.len() / 2).copied().unwrap_or(1.0)
}

/// `None` where it is not seen to its end.
fn finish(poses: &[Pose], time_s: f64, height_px: f64) -> Option<f64> {
    let high = |p: &Pose| {
        let hands = p.at(Part::LeftWrist)?.midpoint(p.at(Part::RightWrist)?);
        Some((p.time_s, (shoulders(p)?.y - hands.y) / height_px))
    };
    let after: Vec<(f64, f64)> =
        about(poses, time_s, (FINISH_FROM_S, FINISH_TO_S)).filter_map(high).collect();
    let seen = after.last().is_some_and(|p| p.0 - time_s >= FINISH_TO_S - 0.1);
    after.into_iter().map(|p| p.1).filter(|_| seen).max_by(f64::total_cmp)
}

fn strongest_apart(mut all: Vec<Burst>, apart_s: f64) -> Vec<Burst> {
    all.sort_by(|a, b| b.score().total_cmp(&a.score()));
    let mut kept: Vec<Burst> = Vec::new();
    for burst in all {
        if kept.iter().all(|k| (k.time_s - burst.time_s).abs() >= apart_s) {
            kept.push(burst);
        }
    }
    kept.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Seen, Spot};

    /// Hips at the origin, height 100 px, wrists `apart` px from each other.
    fn pose(time_s: f64, hands: Point, apart: f64) -> Pose {
        let mut p = Pose::empty(0, time_s);
        let mut set = |part, at| p.set(part, Some(Spot { at, visibility: 1.0, seen: Seen::Picture }));
        set(Part::LeftHip, Point::new(-5.0, 0.0));
        set(Part::RightHip, Point::new(5.0, 0.0));
        set(Part::LeftWrist, hands - Point::new(apart / 2.0, 0.0));
        set(Part::RightWrist, hands + Point::new(apart / 2.0, 0.0));
        p
    }

    fn swing(apart: f64) -> Vec<Pose> {
        (0..60)
            .map(|i| {
                let t = f64::from(i) / 30.0;
                let share = ((t - 1.0) / 0.25).clamp(0.0, 1.0);
                pose(t, Point::new(-30.0 + 90.0 * share, -30.0), apart)
            })
            .collect()
    }

    #[test]
    fn a_swing_is_found_where_it_is() {
        let best =
            bursts(&swing(8.0), 100.0).into_iter().max_by(|a, b| a.score().total_cmp(&b.score())).unwrap();
        assert!(best.is_swing() && (best.time_s - 1.12).abs() < 0.1, "{best:?}");
        assert!((best.speed - 3.6).abs() < 0.2, "{best:?}");
    }

    #[test]
    fn hands_apart_or_slow_are_no_swing() {
        assert!(bursts(&swing(45.0), 100.0).iter().all(|b| !b.is_swing()));
        let walk: Vec<Pose> = (0..60)
            .map(|i| {
                let t = f64::from(i) / 30.0;
                pose(t, Point::new(12.0 * (6.0 * t).sin(), 0.0), 10.0)
            })
            .collect();
        assert!(bursts(&walk, 100.0).iter().all(|b| !b.is_swing()));
        assert!(bursts(&[], 100.0).is_empty());
    }
}
