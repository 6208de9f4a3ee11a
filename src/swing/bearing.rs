//! How body and hands are held in every swing: what is not held so is something else (a wave, a dance, a throw, a swing
//! held back, somebody on a bed).

use super::burst::{hands_apart, middle_series};
use super::explain::Stretch;
use super::figure::{hands_series, part_series};
use super::params::{
    BEGINS_HIGHEST, BEGINS_HIGHEST_TOGETHER, BEGINS_LOWEST, BEGINS_WITHIN_S, HANDS_APART, HELD_BACK_RISE,
    HELD_BACK_WAY, HELD_BEFORE_S, LEAST_UPRIGHT, LOW_FINISH, LOWEST_KNEE, PASSES_HIGHEST,
    PASSES_HIGHEST_TOGETHER, RISES_SEEN_S, RISES_SEEN_SHARE, RISES_WITHIN_S,
};
use super::series::Series;
use crate::types::{Fault, Part, Point, Track};

/// What of this stretch is not so in a swing; `track` in steady px.
pub fn faults(track: &Track, stretch: &Stretch, height_px: f64, step_s: f64) -> Vec<Fault> {
    let seen = Seen::of(track, height_px);
    let near_s = (0.6 * step_s).max(0.03);
    let Stretch { from_s, fastest_s, to_s, .. } = *stretch;
    let mut faults = Vec::new();
    let mut fault = |is: bool, what: Fault| faults.extend(is.then_some(what));
    let before_s = from_s - HELD_BEFORE_S;
    let leans = seen.trunk.median(before_s, to_s + 0.1).is_some_and(|p| p.y < LEAST_UPRIGHT);
    fault(leans, Fault::Lies);
    let knee = seen.knee(before_s, to_s);
    fault(!leans && knee.is_some_and(|y| y < LOWEST_KNEE), Fault::Kneels);
    let over = |from: f64, to: f64| seen.over.median(from, to).map(|p| p.y);
    let begins = over(from_s - near_s - BEGINS_WITHIN_S, from_s + near_s);
    fault(begins.is_some_and(|y| y < BEGINS_LOWEST), Fault::BeginsLow);
    // A net takes hands behind the body for higher ones: only hands that are apart too, as in a throw, are judged closely.
    let apart = hands_apart(track, before_s, fastest_s + 0.03) / height_px > HANDS_APART;
    let highest = if apart { BEGINS_HIGHEST } else { BEGINS_HIGHEST_TOGETHER };
    fault(begins.is_some_and(|y| y > highest), Fault::BeginsHigh);
    let passes = over(fastest_s - near_s, fastest_s + near_s);
    let highest = if apart { PASSES_HIGHEST } else { PASSES_HIGHEST_TOGETHER };
    fault(passes.is_some_and(|y| y > highest), Fault::PassesHigh);
    fault(passes.is_some_and(|y| seen.held_back(stretch, y)), Fault::HeldBack);
    faults
}

/// Body heights, y up.
struct Seen {
    /// The hands from the shoulders, and from the hips.
    over: Series,
    past: Series,
    /// Of the trunk's direction the share that is height, as y.
    trunk: Series,
    /// Each knee from its ankle.
    knees: [Series; 2],
    times_s: Vec<f64>,
}

impl Seen {
    fn of(track: &Track, height_px: f64) -> Self {
        let (hands, shoulders, hips) = (
            hands_series(track),
            middle_series(track, Part::LeftShoulder),
            middle_series(track, Part::LeftHip),
        );
        let from = |a: &Series, b: &Series| between(a, b, |d| Point::new(d.x, -d.y) * (1.0 / height_px));
        let knee = |knee: Part, ankle: Part| from(&part_series(track, knee), &part_series(track, ankle));
        Self {
            over: from(&hands, &shoulders),
            past: from(&hands, &hips),
            trunk: between(&shoulders, &hips, |d| Point::new(d.x, -d.y) * (1.0 / d.length().max(1e-9))),
            knees: [knee(Part::LeftKnee, Part::LeftAnkle), knee(Part::RightKnee, Part::RightAnkle)],
            times_s: track.poses.iter().map(|p| p.time_s).collect(),
        }
    }

    /// How high the higher knee is over its ankle.
    fn knee(&self, from_s: f64, to_s: f64) -> Option<f64> {
        let each = self.knees.iter().filter_map(|k| Some(k.median(from_s, to_s)?.y));
        each.max_by(f64::total_cmp)
    }

    /// After the hands were fastest, `passes` over the shoulders, they neither come up nor go on.
    fn held_back(&self, stretch: &Stretch, passes: f64) -> bool {
        let (from_s, to_s) = (stretch.fastest_s, stretch.fastest_s + RISES_WITHIN_S);
        let inside = |t: &f64| (from_s..=to_s).contains(t);
        let pictures = self.times_s.iter().filter(|t| inside(t)).count();
        let after = |series: &Series| -> Vec<Point> {
            series.times_s.iter().zip(&series.points).filter(|(t, _)| inside(t)).map(|(_, p)| *p).collect()
        };
        let over = after(&self.over);
        let long = self.over.last_s().is_some_and(|t| t >= from_s + RISES_SEEN_S);
        // Hidden hands may be anywhere.
        if !long || (over.len() as f64) < RISES_SEEN_SHARE * pictures as f64 {
            return false;
        }
        let highest = over.iter().map(|p| p.y).fold(f64::MIN, f64::max);
        if highest < LOW_FINISH {
            return true;
        }
        let near = |s: f64| self.past.median(stretch.from_s - s, stretch.from_s + s);
        let Some(start) = near(0.02).or_else(|| near(0.06)) else { return false };
        let far = after(&self.past).iter().map(|p| p.distance(start)).fold(0.0, f64::max);
        highest < 0.0 && highest - passes < HELD_BACK_RISE && far < HELD_BACK_WAY
    }
}

/// `a` from `b` where both are seen.
fn between(a: &Series, b: &Series, of: impl Fn(Point) -> Point) -> Series {
    let mut out = Series::default();
    for (t, p) in a.times_s.iter().zip(&a.points) {
        if let Ok(i) = b.times_s.binary_search_by(|x| x.total_cmp(t)) {
            out.push(*t, of(*p - b.points[i]));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::explain::HandDirection;
    use super::*;
    use crate::messages::fault;
    use crate::types::{Pose, Seen as SpotSeen, Spot};

    const HEIGHT_PX: f64 = 200.0;
    const STRETCH: Stretch = Stretch {
        toward: HandDirection::Right,
        from_s: 1.0,
        fastest_s: 1.15,
        to_s: 1.3,
        fastest: 3.0,
        way: 0.4,
    };

    /// Somebody whose hands are at `hands` (from the middle of the shoulders, body heights, y up), with the shoulders
    /// and the knees at these heights over hips and ankles.
    fn track(hands: impl Fn(f64) -> (f64, f64), shoulders: (f64, f64), knee: f64) -> Track {
        let pose = |i: usize| {
            let mut pose = Pose::empty(i, i as f64 / 60.0);
            let mut put = |part: Part, x: f64, y: f64| {
                let at = Point::new(600.0 + x * HEIGHT_PX, 500.0 - y * HEIGHT_PX);
                pose.set(part, Some(Spot { at, visibility: 1.0, seen: SpotSeen::Picture }));
            };
            let (x, y) = hands(i as f64 / 60.0);
            for (left, at) in [
                (Part::LeftHip, (0.0, 0.53)),
                (Part::LeftShoulder, (shoulders.0, 0.53 + shoulders.1)),
                (Part::LeftKnee, (0.1, 0.04 + knee)),
                (Part::LeftAnkle, (0.1, 0.04)),
                (Part::LeftWrist, (shoulders.0 + x, 0.53 + shoulders.1 + y)),
            ] {
                put(left, at.0 + 0.02, at.1);
                put(left.other_side(), at.0 - 0.02, at.1);
            }
            pose
        };
        Track { poses: (0..120).map(pose).collect() }
    }

    fn told(track: &Track) -> String {
        faults(track, &STRETCH, HEIGHT_PX, 1.0 / 60.0).into_iter().map(fault).collect::<Vec<_>>().join("; ")
    }

    /// Before the rear shoulder, down to the ball, up to the finish.
    fn swing(t: f64) -> (f64, f64) {
        let goes = ((t - 1.0) / 0.3).clamp(0.0, 1.0);
        (-0.15 + 0.45 * goes, -0.2 * (goes * 4.0).min(1.0) + 0.35 * ((t - 1.2) / 0.3).clamp(0.0, 1.0))
    }

    const UPRIGHT: (f64, f64) = (0.03, 0.29);

    #[test]
    fn a_swing_is_held_as_a_swing() {
        assert_eq!(told(&track(swing, UPRIGHT, 0.24)), "");
    }

    #[test]
    fn each_other_bearing_is_named() {
        assert!(told(&track(swing, (0.28, 0.05), 0.24)).contains("lie or bend over"));
        assert!(told(&track(swing, UPRIGHT, 0.02)).contains("kneel"));
        let lower = |by: f64| move |t: f64| (swing(t).0, swing(t).1 + by);
        assert!(told(&track(lower(-0.3), UPRIGHT, 0.24)).contains("far below the shoulders"));
        let high = told(&track(lower(0.5), UPRIGHT, 0.24));
        assert!(high.contains("over the head") && high.contains("fastest over the shoulders"), "{high}");
        let held = |t: f64| {
            let goes = ((t - 1.0) / 0.2).clamp(0.0, 1.0);
            (-0.15 + 0.18 * goes, -0.15 * goes)
        };
        assert!(told(&track(held, UPRIGHT, 0.24)).contains("checked swing"));
    }

    /// What is not seen is no fault: the clip ends, or the hands are hidden at the finish.
    #[test]
    fn hands_that_are_not_seen_to_the_end_were_not_held_back() {
        let held = |t: f64| (-0.15 + 0.18 * ((t - 1.0) / 0.2).clamp(0.0, 1.0), -0.15);
        let mut short = track(held, UPRIGHT, 0.24);
        short.poses.retain(|p| p.time_s < 1.5);
        assert_eq!(told(&short), "");
        let mut hidden = track(held, UPRIGHT, 0.24);
        for pose in hidden.poses.iter_mut().filter(|p| (1.3..1.7).contains(&p.time_s)) {
            pose.set(Part::LeftWrist, None);
            pose.set(Part::RightWrist, None);
        }
        assert_eq!(told(&hidden), "");
    }
}
