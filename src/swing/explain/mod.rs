//! Explanations of a track: this stretch is the swing, the hitter bats from this side, the pitcher is there. Each is
//! scored on the whole swing; the best wins, and its lead over the next is how sure it is.

mod candidate;
mod stands;
mod traits;

use super::burst::hands_apart;
use super::params::*;
use crate::types::{Hitter, NoSwing, Onset, Track};
use candidate::stretches;
pub use candidate::{HandDirection, Stretch};
use stands::Stance;
use traits::Body;
pub use traits::{TRAITS, Traits};

/// One explanation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Explanation {
    /// When the hands move.
    pub stretch: Stretch,
    /// Who faces where.
    pub hitter: Hitter,
    /// What it was scored by.
    pub traits: Traits,
    /// Log odds from the stretch's traits and the sound.
    pub swings: f64,
    /// Log odds from how the hitter stands to the camera.
    pub stands: f64,
}

impl Explanation {
    pub(crate) fn score(&self) -> f64 {
        self.swings + self.stands
    }
}

/// Every explanation of a track in steady px, the best first; why there is none.
pub fn explanations(
    track: &Track,
    body_height_px: f64,
    step_s: f64,
    onsets: &[Onset],
) -> Result<Vec<Explanation>, NoSwing> {
    let body = Body::of(track, body_height_px, step_s);
    let mut all = Vec::new();
    let first_s = track.poses.first().map_or(0.0, |p| p.time_s);
    for toward in [HandDirection::Right, HandDirection::Left, HandDirection::Any] {
        let found = stretches(&body.hands, toward);
        let longest = found.iter().map(|s| s.way).fold(0.0, f64::max);
        for stretch in found {
            // Nothing of a swing is seen before it: whatever it was, it cannot be told.
            if stretch.from_s - first_s < SEEN_BEFORE_S {
                continue;
            }
            let top_s = stretch.fastest_s;
            let stance = Stance::before(track, body_height_px, top_s);
            let along = toward == HandDirection::Any;
            let wide = WEIGH_WIDE * stance.wide();
            let wide = if along { ALONG_OFFSET - wide } else { wide };
            let traits = body.traits(&stretch, longest);
            let swings = traits::score(&traits) + WEIGH_HEARD * heard(onsets, top_s);
            let apart = hands_apart(track, top_s - 0.12, top_s + 0.05) / body_height_px;
            let swings = swings + WEIGH_TOGETHER * (1.0 - apart / HANDS_APART).clamp(-1.0, 0.0);
            let stands: Vec<(Hitter, f64)> = match toward {
                HandDirection::Any => stance.along_the_pitch(&body.hands, &stretch).to_vec(),
                _ => stance.seen_from_the_side(toward).to_vec(),
            };
            // How clearly he stands one way or another says nothing of whether he swings.
            let clearest = stands.iter().map(|s| s.1).fold(f64::MIN, f64::max);
            all.extend(stands.into_iter().map(|(hitter, stands)| Explanation {
                stretch,
                hitter,
                traits,
                swings,
                stands: stands - clearest + wide,
            }));
        }
    }
    all.sort_by(|a, b| b.score().total_cmp(&a.score()));
    if all.is_empty() { Err(none(&body)) } else { Ok(all) }
}

fn none(body: &Body) -> NoSwing {
    let fastest = body.hands.fastest();
    if fastest == 0.0 { NoSwing::HandsNeverSeen } else { NoSwing::NeverLikeASwing { fastest } }
}

/// How well a sudden sound fits contact after this moment, 0…1.
fn heard(onsets: &[Onset], fastest_s: f64) -> f64 {
    let near = |o: &&Onset| (o.time_s - fastest_s - HEARD_AFTER_S).abs() < HEARD_WITHIN_S;
    onsets.iter().filter(near).map(|o| (o.rise_db / 30.0).clamp(0.0, 1.0)).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{PARTS, Part, PitcherSide, Point, Pose, Seen, Side, Spot, View};

    const HEIGHT_PX: f64 = 200.0;
    const RATE_HZ: f64 = 60.0;
    /// When the hands are fastest to the ball, and on their way round the body, s.
    const SWING_S: f64 = 1.555;
    const ROUND_S: f64 = 1.83;

    /// From 0 to 1 between two times.
    fn goes(t: f64, from_s: f64, to_s: f64) -> f64 {
        let u = ((t - from_s) / (to_s - from_s)).clamp(0.0, 1.0);
        u * u * (3.0 - 2.0 * u)
    }

    /// A right-handed hitter from the open side, body heights, y up: a stride, the hands to the ball, then faster and
    /// farther round the body.
    fn place(part: Part, t: f64) -> Point {
        let weight = 0.1 * goes(t, 1.0, 1.5);
        let left = (part as usize) % 2 == 1;
        let side = if left { 1.0 } else { -1.0 };
        let stride = if left { 0.15 * goes(t, 1.0, 1.35) } else { 0.0 };
        let lift =
            if left { 0.06 * (goes(t, 1.0, 1.15) - goes(t, 1.2, 1.35)) } else { 0.05 * goes(t, 1.45, 1.6) };
        match part {
            Part::Nose => Point::new(weight + 0.06, 0.93),
            Part::LeftEye | Part::RightEye => Point::new(weight + 0.05 + 0.01 * side, 0.95),
            Part::LeftEar | Part::RightEar => Point::new(weight + 0.01 * side, 0.94),
            Part::LeftShoulder | Part::RightShoulder => Point::new(weight + 0.11 * side, 0.82),
            Part::LeftElbow | Part::RightElbow => Point::new(weight + 0.14 * side, 0.70),
            Part::LeftWrist | Part::RightWrist | Part::LeftHand | Part::RightHand => {
                let x = -0.15 + 0.5 * goes(t, 1.4, 1.71) - 0.75 * goes(t, 1.72, 1.94);
                let y = 0.80 - 0.2 * goes(t, 1.4, 1.58) + 0.35 * goes(t, 1.65, 1.9);
                Point::new(weight + x + 0.01 * side, y)
            }
            Part::LeftHip | Part::RightHip => Point::new(weight + 0.07 * side, 0.53),
            Part::LeftKnee | Part::RightKnee => Point::new(0.15 * side + 0.7 * weight + stride, 0.28 + lift),
            Part::LeftAnkle | Part::RightAnkle => Point::new(0.17 * side + stride, 0.04 + lift),
            Part::LeftHeel | Part::RightHeel => Point::new(0.17 * side + stride, 0.03 + lift),
            Part::LeftToe | Part::RightToe => Point::new(0.18 * side + stride, -0.01 + lift),
        }
    }

    fn swing() -> Track {
        let pose = |frame: usize| {
            let mut pose = Pose::empty(frame, frame as f64 / RATE_HZ);
            for part in PARTS {
                let p = place(part, pose.time_s);
                let at = Point::new(640.0 + p.x * HEIGHT_PX, 500.0 - p.y * HEIGHT_PX);
                pose.set(part, Some(Spot { at, visibility: 1.0, seen: Seen::Picture }));
            }
            pose
        };
        Track { poses: (0..150).map(pose).collect() }
    }

    fn explained(track: &Track, onsets: &[Onset]) -> Vec<Explanation> {
        explanations(track, HEIGHT_PX, 1.0 / RATE_HZ, onsets).unwrap()
    }

    /// The picture turned over, the names of left and right too.
    fn mirrored(track: &Track) -> Track {
        let mut out = track.clone();
        for (to, from) in out.poses.iter_mut().zip(&track.poses) {
            for part in PARTS {
                let turned = |s: Spot| Spot { at: Point::new(1280.0 - s.at.x, s.at.y), ..s };
                to.set(part, from.spot(part.other_side()).map(turned));
            }
        }
        out
    }

    #[test]
    fn the_way_to_the_ball_is_the_swing_and_not_the_faster_way_round_the_body() {
        let all = explained(&swing(), &[]);
        let best = all[0];
        assert_eq!(
            best.hitter,
            Hitter { bats: Side::Right, pitcher_side: PitcherSide::Right, view: View::OpenSide }
        );
        assert_eq!(best.stretch.toward, HandDirection::Right);
        assert!((best.stretch.fastest_s - SWING_S).abs() < 0.03, "{best:?}");
        let round = all.iter().find(|e| e.stretch.toward == HandDirection::Left).unwrap();
        assert!((round.stretch.fastest_s - ROUND_S).abs() < 0.03, "{round:?}");
        assert!(round.stretch.fastest > 1.5 * best.stretch.fastest && round.stretch.way > best.stretch.way);
        assert!(best.score() > round.score() + DOUBT_LEAD, "{} {}", best.score(), round.score());
        assert!(all.windows(2).all(|w| w[0].score() >= w[1].score()), "the best is first");
        assert!(all.iter().all(|e| e.traits.iter().all(|t| (-1.0..=1.0).contains(t))));
    }

    #[test]
    fn in_a_mirror_the_other_side_has_the_same_score() {
        let (all, turned) = (explained(&swing(), &[]), explained(&mirrored(&swing()), &[]));
        let best = turned[0];
        assert_eq!(
            best.hitter,
            Hitter { bats: Side::Left, pitcher_side: PitcherSide::Left, view: View::OpenSide }
        );
        assert_eq!(all.len(), turned.len());
        for (a, b) in all.iter().zip(&turned) {
            assert!((a.score() - b.score()).abs() < 1e-6, "{a:?} {b:?}");
            assert!((a.stretch.fastest_s - b.stretch.fastest_s).abs() < 1e-6, "{a:?} {b:?}");
        }
    }

    #[test]
    fn a_shift_in_time_shifts_the_stretch_alone() {
        let mut later = swing();
        later.poses.iter_mut().for_each(|p| p.time_s += 7.3);
        let (all, later) = (explained(&swing(), &[]), explained(&later, &[]));
        assert_eq!(all.len(), later.len());
        for (a, b) in all.iter().zip(&later) {
            assert_eq!(a.hitter, b.hitter);
            assert!((a.score() - b.score()).abs() < 0.02, "{} {}", a.score(), b.score());
            assert!((b.stretch.fastest_s - a.stretch.fastest_s - 7.3).abs() < 0.005, "{a:?} {b:?}");
        }
    }

    #[test]
    fn a_sound_speaks_for_the_stretch_that_it_fits() {
        let silent = explained(&swing(), &[])[0];
        let heard = |time_s| explained(&swing(), &[Onset { time_s, rise_db: 30.0 }])[0];
        let fits = heard(silent.stretch.fastest_s + HEARD_AFTER_S);
        assert!((fits.score() - silent.score() - WEIGH_HEARD).abs() < 1e-9, "{fits:?}");
        assert_eq!(heard(0.4).score(), silent.score());
    }

    #[test]
    fn hands_that_hold_still_or_are_not_seen_have_no_explanation() {
        let said =
            |track: &Track| explanations(track, HEIGHT_PX, 1.0 / RATE_HZ, &[]).unwrap_err().to_string();
        let mut still = swing();
        let first = still.poses[0].spots.clone();
        still.poses.iter_mut().for_each(|p| p.spots = first.clone());
        assert!(
            said(&still).contains("never move as in a swing") || said(&still).contains("never"),
            "{}",
            said(&still)
        );
        let mut handless = swing();
        for pose in &mut handless.poses {
            for part in [Part::LeftWrist, Part::RightWrist, Part::LeftHand, Part::RightHand] {
                pose.set(part, None);
            }
        }
        assert_eq!(said(&handless), NoSwing::HandsNeverSeen.to_string());
        assert!(explanations(&Track::default(), HEIGHT_PX, 1.0 / RATE_HZ, &[]).is_err());
    }
}
