//! When things happen, worked out from the finished motion (not from the plan), in 3-D and without
//! noise. The definitions are those of the trade and of the papers named at [`EventId`]; where a
//! threshold is needed it is written here.

use std::collections::BTreeMap;

use super::figure::Figure;
use super::swing::Swing;
use super::v3::V3;
use crate::types::{EventId, Part};

/// Exact times, s; from contact in [`Swing::events`], from the first picture in a clip's truth.
/// An event that a swing does not have (no-stride hitters have no foot_off and no touch) is not in it.
pub type Moments = BTreeMap<EventId, f64>;

/// Time step of the search, s. Crossings and peaks are refined between steps.
const STEP_S: f64 = 0.001;
/// The body centre's speed away from the pitcher under which the hitter still stands, m/s.
const STILL_M_S: f64 = 0.02;
/// The front toe is off the ground when it is this high over its resting height, m.
const OFF_GROUND_M: f64 = 0.004;
/// The forefoot has touched when its vertical speed stays under this, m/s.
const TOUCH_M_S: f64 = 0.10;
/// The foot is planted when toe and heel are slower than this …
const PLANT_M_S: f64 = 0.15;
/// … and stay so for this long, s.
const PLANT_HOLD_S: f64 = 0.05;
/// Hand speed has begun to rise when it passed this share of the way from its last minimum to its peak.
const RISE_SHARE: f64 = 0.08;
/// A dip of hand speed that stays over this share of the peak is not the beginning of a new rise.
const LAST_RISE_FROM: f64 = 0.4;
/// Hands that come back to the rear shoulder by this have been extended, m.
const FALLS_BACK_M: f64 = 0.01;
/// Hand speed has died when it stays under this share of its peak.
const DEAD_SHARE: f64 = 0.08;

impl Swing {
    /// When each event happens, s from contact:
    ///
    /// - stance: the last time before load that the body centre (Winter's segment masses) is not yet
    ///   moving away from the pitcher faster than 0.02 m/s;
    /// - load: the body centre is farthest from the pitcher;
    /// - foot_off: the front toe rises past 4 mm over the ground for the last time before it lands;
    /// - touch: the front toe's vertical speed falls under 0.10 m/s at the end of the stride;
    /// - plant: front toe and heel are both slower than 0.15 m/s and stay so for 50 ms;
    /// - hands_start: the speed of the hands' middle past the trunk's middle has gone 8 % of the way from its last minimum to
    ///   its peak before contact (dips that stay over 40 % of the peak do not count);
    /// - contact: 0, the bat meets the ball;
    /// - extension: the hands' middle is farthest from the rear shoulder, within 0.2 s after contact and before a
    ///   hand lets go; the first time if they come nearer by 1 cm and go away again;
    /// - finish: the speed of the bottom hand has fallen under 8 % of its peak for good.
    ///
    /// Recorded motion: plant is the middle of what the force plate says, and what would lie before or after the
    /// recording is not in it.
    pub fn events(&self) -> Moments {
        let timing = self.timing();
        let (from, to) = (-timing.move_s - 0.8, timing.finish_s + 0.6);
        let n = ((to - from) / STEP_S).ceil() as usize;
        let time = |i: f64| from + i * STEP_S;
        let at = |s: f64| (-from + s) / STEP_S;
        let poses: Vec<Figure> = (0..n).map(|i| self.pose_at(time(i as f64))).collect();
        let (toe, heel) = (self.front(Part::LeftToe), self.front(Part::LeftHeel));
        let rear_shoulder = self.front(Part::LeftShoulder).other_side();
        let bottom_hand = self.front(Part::LeftHand);
        let contact = at(0.0).round() as usize;

        let centre: Vec<f64> = poses.iter().map(|p| p.body_centre().x).collect();
        let speeds = |f: &dyn Fn(&Figure) -> V3| speeds_of(&poses, f);
        let hands = speeds(&|p| p.hands());
        // What the body carries along is no start of the hands.
        let past = speeds(&|p| p.hands() - p.pelvis.lerp(p.chest, 0.5));
        let mut found = Moments::new();
        let mut put = |event, i: Option<f64>| {
            if let Some(i) = i {
                found.insert(event, time(i));
            }
        };

        let planned_touch = at(-timing.touch_s).round() as usize;
        let load = arg_min(&centre, 0, planned_touch);
        put(EventId::Load, load.map(|i| vertex(&centre, i)));
        put(
            EventId::Stance,
            load.and_then(|load| {
                let back = |i: usize| (centre[i - 1] - centre[i + 1]) / (2.0 * STEP_S);
                // From the fastest moment of the way back, down to the last still moment before it.
                let fastest = (1..load).max_by(|&a, &b| back(a).total_cmp(&back(b)))?;
                (1..fastest).rev().find(|&i| back(i) <= STILL_M_S).map(|i| i as f64)
            }),
        );

        let height: Vec<f64> = poses.iter().map(|p| p.at(toe).z).collect();
        let ground = height[0] + OFF_GROUND_M;
        let down = (1..contact).rev().find(|&i| height[i - 1] > ground && height[i] <= ground);
        if let Some(down) = down {
            put(
                EventId::FootOff,
                (1..down)
                    .rev()
                    .find(|&i| height[i - 1] <= ground && height[i] > ground)
                    .map(|i| (i - 1) as f64 + (ground - height[i - 1]) / (height[i] - height[i - 1])),
            );
            let vertical = |i: usize| (height[i + 1] - height[i - 1]).abs() / (2.0 * STEP_S);
            put(
                EventId::Touch,
                (down.saturating_sub(60)..contact.min(down + 60))
                    .rev()
                    .find(|&i| vertical(i) > TOUCH_M_S)
                    .map(|i| {
                        let (a, b) = (vertical(i), vertical(i + 1));
                        i as f64 + (a - TOUCH_M_S) / (a - b).max(1e-9)
                    }),
            );
        }
        let (toe_speed, heel_speed) = (speeds(&|p| p.at(toe)), speeds(&|p| p.at(heel)));
        let foot: Vec<f64> = toe_speed.iter().zip(&heel_speed).map(|(a, b)| a.max(*b)).collect();
        // The last moment before contact at which the foot was still quick: after it, it stays slow.
        let hold = (PLANT_HOLD_S / STEP_S) as usize;
        let last_quick = (1..contact.saturating_sub(hold)).rev().find(|&i| foot[i] > PLANT_M_S);
        put(
            EventId::Plant,
            last_quick.map(|i| i as f64 + (foot[i] - PLANT_M_S) / (foot[i] - foot[i + 1]).max(1e-9)),
        );

        let peak = arg_max(&hands, at(-timing.plant_s - 0.05) as usize, contact + 1);
        put(
            EventId::HandsStart,
            peak.and_then(|peak| {
                let slow = (1..peak).rev().find(|&i| past[i] < LAST_RISE_FROM * past[peak])?;
                let low = (1..slow).rev().find(|&i| past[i - 1] > past[i] && past[i] <= past[i + 1])?;
                let level = past[low] + RISE_SHARE * (past[peak] - past[low]);
                let up = (low..peak).find(|&i| past[i] <= level && past[i + 1] > level)?;
                Some(up as f64 + (level - past[up]) / (past[up + 1] - past[up]))
            }),
        );
        put(EventId::Contact, Some(at(0.0)));
        let reach: Vec<f64> = poses.iter().map(|p| p.hands().distance(p.at(rear_shoulder))).collect();
        // Once a hand has let go, the hands' middle is on no bat.
        let held =
            (contact..contact + 200).take_while(|&i| poses.get(i).is_some_and(|p| p.two_hands)).count();
        put(
            EventId::Extension,
            first_top(&reach, contact, contact + held, FALLS_BACK_M).map(|i| vertex(&reach, i)),
        );
        let bottom = speeds(&|p| p.at(bottom_hand));
        put(
            EventId::Finish,
            peak.and_then(|peak| {
                let dead = DEAD_SHARE * bottom[peak];
                (contact..n - 1)
                    .rev()
                    .find(|&i| bottom[i] > dead)
                    .map(|i| i as f64 + (bottom[i] - dead) / (bottom[i] - bottom[i + 1]).max(1e-9))
            }),
        );
        if let Some(replay) = self.replay() {
            replay.keep_to_what_is_recorded(&mut found);
        }
        found
    }

    /// Speed of the hands' middle, m/s.
    pub fn hand_speed(&self, t_s: f64) -> f64 {
        self.pose_at(t_s + 0.0005).hands().distance(self.pose_at(t_s - 0.0005).hands()) / 0.001
    }
}

fn speeds_of(poses: &[Figure], f: &dyn Fn(&Figure) -> V3) -> Vec<f64> {
    let points: Vec<V3> = poses.iter().map(f).collect();
    let last = points.len().saturating_sub(1);
    (0..points.len())
        .map(|i| {
            let (a, b) = (i.saturating_sub(1), (i + 1).min(last));
            points[a].distance(points[b]) / ((b - a).max(1) as f64 * STEP_S)
        })
        .collect()
}

fn arg_max(values: &[f64], from: usize, to: usize) -> Option<usize> {
    (from..to.min(values.len())).max_by(|&a, &b| values[a].total_cmp(&values[b]))
}

/// The greatest value up to where they first fall back from it by `by`.
fn first_top(values: &[f64], from: usize, to: usize, by: f64) -> Option<usize> {
    let mut top = from;
    for i in from..to.min(values.len()) {
        if values[i] > values[top] {
            top = i;
        } else if values[i] < values[top] - by {
            break;
        }
    }
    (top < values.len()).then_some(top)
}

fn arg_min(values: &[f64], from: usize, to: usize) -> Option<usize> {
    (from..to.min(values.len())).min_by(|&a, &b| values[a].total_cmp(&values[b]))
}

/// The extreme between samples, from a parabola through three.
fn vertex(values: &[f64], i: usize) -> f64 {
    let (Some(a), Some(b), Some(c)) =
        (i.checked_sub(1).and_then(|j| values.get(j)), values.get(i), values.get(i + 1))
    else {
        return i as f64;
    };
    let bend = a - 2.0 * b + c;
    if bend.abs() < 1e-15 { i as f64 } else { i as f64 + (0.5 * (a - c) / bend).clamp(-0.5, 0.5) }
}
