use crate::ground::{Part, Point, Seen, Track};

use super::super::hitter::WIDEST_GRIP;
use super::series::median;

/// Middles of the knuckles of two hands on one bat lie at most so far apart, body heights: a hand's width and a
/// little, which the picture only shortens (a hand is about 0.05 of the height wide without the thumb; set on seven
/// made-up films, where 0.04 to 0.07 hardly differ).
const GRIP: f64 = 0.055;
/// What the net believes of a hand is taken over so much on each side, s: in a blurred picture it may be sure of an
/// elbow.
const ASK_S: f64 = 0.03;
/// A belief of less than this is none, 0…1.
const NO_BELIEF: f64 = 0.02;
/// The hands are taken to hold one bat while most pictures within this of one show them together, s.
const HOLD_S: f64 = 0.2;
/// What is moved farther than this is worked out and not seen, body heights.
const MOVED: f64 = 0.02;

/// One of the hands is often hidden by the other, by arm or by trunk, and the net then has it anywhere, for a tenth of a
/// second and longer: too long to be an outlier. Both hold one bat: the hand that the net believes less in is
/// drawn to within a hand's width of the other, its wrist with it; the more, the less of it is seen. Where
/// both are seen alike, nothing is changed. `seen`: the net's own points, of the same pictures.
pub fn draw_to_the_seen_hand(track: &mut Track, seen: &Track, height_px: f64) {
    let apart: Vec<(f64, f64)> = track
        .poses
        .iter()
        .filter_map(|p| Some((p.time_s, p.at(Part::LeftWrist)?.distance(p.at(Part::RightWrist)?))))
        .collect();
    let held = |time_s: f64| {
        let near = || apart.iter().filter(|a| (a.0 - time_s).abs() <= HOLD_S);
        let together = near().filter(|a| a.1 < WIDEST_GRIP * height_px).count();
        together >= 2 && together * 2 >= near().count()
    };
    let belief = |part: Part, time_s: f64| {
        let near = seen.poses.iter().filter(|p| (p.time_s - time_s).abs() <= ASK_S);
        let mut all: Vec<f64> = near.filter_map(|p| Some(f64::from(p.spot(part)?.visibility))).collect();
        median(&mut all).unwrap_or(0.0) + NO_BELIEF
    };
    for i in 0..track.poses.len() {
        let Some(pose) = track.poses.get_mut(i) else { continue };
        let (Some(left), Some(right)) = (pose.at(Part::LeftHand), pose.at(Part::RightHand)) else { continue };
        let excess = left.distance(right) - GRIP * height_px;
        if excess <= 0.0 || !held(pose.time_s) {
            continue;
        }
        let (of_left, of_right) = (belief(Part::LeftHand, pose.time_s), belief(Part::RightHand, pose.time_s));
        let (hand, wrist, way) = if of_left > of_right {
            (Part::RightHand, Part::RightWrist, left - right)
        } else {
            (Part::LeftHand, Part::LeftWrist, right - left)
        };
        let (more, less) = (of_left.max(of_right).powi(2), of_left.min(of_right).powi(2));
        let by = way * (excess / way.length() * (more - less) / (more + less));
        shift(pose, hand, by, height_px);
        shift(pose, wrist, by, height_px);
    }
}

fn shift(pose: &mut crate::ground::Pose, part: Part, by: Point, height_px: f64) {
    if let Some(mut spot) = pose.spot(part) {
        spot.at = spot.at + by;
        if by.length() > MOVED * height_px {
            spot.seen = Seen::Inferred;
        }
        pose.set(part, Some(spot));
    }
}
