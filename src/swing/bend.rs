//! Bends a track to the places that a person set.

use super::params::BEND_REACH_S;
use crate::types::{BodyPoint, Point, Pose, Seen, SetPoint, Spot, Track};

/// The track through every place that was set. Around it the points are moved along, less the farther away in time, and
/// without a kink; between two places near each other the move goes from the one to the other.
pub fn bend(track: &Track, set: &[SetPoint]) -> Track {
    let mut bent = track.clone();
    for point in BodyPoint::ALL {
        let mut moves: Vec<Move> =
            set.iter().filter(|s| s.point == point).filter_map(|s| Move::of(track, s)).collect();
        moves.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
        // Of two for one picture the one that was set last counts.
        moves.reverse();
        moves.dedup_by_key(|m| m.pose);
        moves.reverse();
        for pose in &mut bent.poses {
            let by = shift(&moves, pose.time_s);
            for part in point.moves() {
                if let Some(spot) = pose.spot(*part) {
                    pose.set(*part, Some(Spot { at: spot.at + by, ..spot }));
                }
            }
        }
        for m in &moves {
            let Some(pose) = bent.poses.get_mut(m.pose) else { continue };
            for part in point.middle_of() {
                let at = pose.at(*part).filter(|_| m.by.is_some());
                // Nobody had seen it: it is where the person says.
                let missing = m.by.is_none().then_some(m.at);
                if let Some(at) = at.or(missing) {
                    pose.set(*part, Some(Spot { at, visibility: 1.0, seen: Seen::Picture }));
                }
            }
        }
    }
    bent
}

/// One place that was set.
struct Move {
    pose: usize,
    time_s: f64,
    at: Point,
    /// How far that is from where the point was found; `None` where it was not.
    by: Option<Point>,
}

impl Move {
    /// `None` where the track has no picture at that time.
    fn of(track: &Track, set: &SetPoint) -> Option<Self> {
        let pose = track.nearest_index(set.time_s)?;
        let found = track.poses.get(pose).filter(|p| set.is_at(p.time_s))?;
        let by = place(found, set.point).map(|at| set.at - at);
        Some(Self { pose, time_s: found.time_s, at: set.at, by })
    }
}

/// Where a point of the body is: the middle of what is known of it.
pub fn place(pose: &Pose, point: BodyPoint) -> Option<Point> {
    let known: Vec<Point> = point.middle_of().iter().filter_map(|p| pose.at(*p)).collect();
    let sum = known.iter().fold(Point::new(0.0, 0.0), |all, p| all + *p);
    (!known.is_empty()).then(|| sum * (1.0 / known.len() as f64))
}

/// How far the points move at a time: each place's own move, faded out towards the next place and the end of its reach.
fn shift(moves: &[Move], time_s: f64) -> Point {
    let mut all = Point::new(0.0, 0.0);
    for (i, own) in moves.iter().enumerate() {
        let Some(by) = own.by else { continue };
        let other = if time_s < own.time_s { i.checked_sub(1) } else { i.checked_add(1) };
        let gap_s = other.and_then(|j| moves.get(j)).map_or(BEND_REACH_S, |o| (o.time_s - own.time_s).abs());
        all = all + by * fade((time_s - own.time_s).abs() / gap_s.min(BEND_REACH_S));
    }
    all
}

/// 1 at 0, 0 from 1 on, level at both ends; what it lacks to 1 is itself read from the other end.
fn fade(share: f64) -> f64 {
    let left = 1.0 - share.clamp(0.0, 1.0);
    left * left * (3.0 - 2.0 * left)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Part;

    const STEP_S: f64 = 1.0 / 60.0;

    /// Everything goes evenly to the right.
    fn track() -> Track {
        let pose = |i: usize| {
            let mut pose = Pose::empty(i, i as f64 * STEP_S);
            for (n, part) in crate::types::PARTS.into_iter().enumerate() {
                let at = Point::new(100.0 + 4.0 * i as f64, 10.0 * n as f64);
                pose.set(part, Some(Spot { at, visibility: 0.5, seen: Seen::Inferred }));
            }
            pose
        };
        Track { poses: (0..60).map(pose).collect() }
    }

    fn set(point: BodyPoint, pose: usize, by: (f64, f64)) -> SetPoint {
        let track = track();
        let at = place(&track.poses[pose], point).unwrap() + Point::new(by.0, by.1);
        SetPoint { point, time_s: track.poses[pose].time_s, at }
    }

    #[test]
    fn the_track_goes_through_the_place_and_stays_smooth_around_it() {
        let (found, set) = (track(), set(BodyPoint::Hands, 30, (12.0, -9.0)));
        let bent = bend(&found, &[set]);
        assert!(place(&bent.poses[30], BodyPoint::Hands).unwrap().distance(set.at) < 1e-9);
        // Both hands and both wrists alike; nothing else.
        for (part, moved) in [(Part::LeftHand, true), (Part::RightWrist, true), (Part::LeftToe, false)] {
            let by = bent.poses[30].at(part).unwrap() - found.poses[30].at(part).unwrap();
            assert_eq!(by.distance(Point::new(12.0, -9.0)) < 1e-9, moved, "{part:?}");
        }
        assert_eq!(bent.poses[30].spot(Part::LeftHand).unwrap().seen, Seen::Picture);
        // Beyond a tenth of a second all is as it was found.
        for i in (0..24).chain(37..60) {
            assert_eq!(bent.poses[i], found.poses[i], "{i}");
        }
        // No step is far from the ones beside it: 15 px spread over six pictures change by 4 px a picture and picture.
        let x = |i: usize| place(&bent.poses[i], BodyPoint::Hands).unwrap();
        for i in 1..59 {
            let bend = (x(i + 1) - x(i)) - (x(i) - x(i - 1));
            assert!(bend.distance(Point::new(0.0, 0.0)) < 4.0, "{i}: {bend:?}");
        }
    }

    #[test]
    fn places_near_each_other_are_all_kept() {
        let found = track();
        let all = [30, 32, 33].map(|i| set(BodyPoint::LeftToe, i, (f64::from(i as u32), 5.0)));
        let bent = bend(&found, &all);
        for set in all {
            let pose = bent.nearest(set.time_s).unwrap();
            assert!(pose.at(Part::LeftToe).unwrap().distance(set.at) < 1e-9);
        }
        // Between two places that were moved alike, so is what lies between.
        let alike = [30, 33].map(|i| set(BodyPoint::Head, i, (7.0, 0.0)));
        let bent = bend(&found, &alike);
        for i in 30..=33 {
            let by = bent.poses[i].at(Part::Nose).unwrap() - found.poses[i].at(Part::Nose).unwrap();
            assert!((by.x - 7.0).abs() < 1e-9 && by.y.abs() < 1e-9, "{i}: {by:?}");
        }
    }

    #[test]
    fn what_nobody_saw_is_where_the_person_says_and_the_last_word_counts() {
        let mut found = track();
        found.poses[30].set(Part::LeftHeel, None);
        let at = Point::new(321.0, 123.0);
        let time_s = found.poses[30].time_s;
        let place = |at| SetPoint { point: BodyPoint::LeftHeel, time_s, at };
        let bent = bend(&found, &[place(Point::new(1.0, 1.0)), place(at)]);
        assert_eq!(bent.poses[30].at(Part::LeftHeel), Some(at));
        assert_eq!(bent.poses[31], found.poses[31]);
        // A time without a picture changes nothing.
        let late = SetPoint { time_s: 9.0, ..place(at) };
        assert_eq!(bend(&found, &[late]), found);
        assert_eq!(bend(&Track::default(), &[late]), Track::default());
    }
}
