//! The body centre (centre of mass) from limb masses, and what its way back and forward says: load and stance.

use super::figure::{Figure, Half};
use super::params::{LONGEST_LOAD_S, QUIET_HANDS, STANCE_MOVED_SHARE, STANCE_UNDER_WAY_S};
use super::series::{Series, moments};
use crate::types::Point;

/// (share of body mass, place of the segment's centre from its near end): Winter, Biomechanics and Motor
/// Control of Human Movement, table of anthropometric data. The head's segment is taken at the head's
/// middle; a hand hangs on its forearm (one segment, elbow to wrist, in the same table; its .682 from memory).
const HEAD: f64 = 0.081;
const TRUNK: (f64, f64) = (0.497, 0.50);
const UPPER_ARM: (f64, f64) = (0.028, 0.436);
const FOREARM_AND_HAND: (f64, f64) = (0.016 + 0.006, 0.682);
const THIGH: (f64, f64) = (0.100, 0.433);
const SHANK: (f64, f64) = (0.0465, 0.433);
const FOOT: (f64, f64) = (0.0145, 0.50);

/// The body centre over time, body heights. Arms join in only where they are seen throughout, so that the
/// centre does not jump when a hand hides; without a head or a leg there is no centre.
pub fn body_centre(figure: &Figure, from_s: f64, to_s: f64) -> Series {
    let half_s = figure.slow_half_s();
    let times: Vec<f64> = moments(from_s, to_s, figure.step_s.min(1.0 / 120.0)).collect();
    let with_arms = times.iter().all(|t| arms(figure, *t, half_s).is_some());
    let mut series = Series::default();
    for t in times {
        let Some((mut mass, mut sum)) = trunk_and_legs(figure, t, half_s) else { continue };
        if with_arms && let Some((m, s)) = arms(figure, t, half_s) {
            mass += m;
            sum = sum + s;
        }
        series.push(t, sum * (1.0 / mass));
    }
    series
}

/// The body centre at one moment, body heights; with both arms or without any.
pub fn centre_at(figure: &Figure, t: f64, with_arms: bool) -> Option<Point> {
    let half_s = figure.slow_half_s();
    let mut sum = trunk_and_legs(figure, t, half_s)?;
    if with_arms {
        sum = add(sum, arms(figure, t, half_s)?);
    }
    Some(sum.1 * (1.0 / sum.0))
}

fn segment(
    near: &Series,
    far: &Series,
    t: f64,
    half_s: f64,
    (mass, place): (f64, f64),
) -> Option<(f64, Point)> {
    let at = near.at(t, half_s)?.lerp(far.at(t, half_s)?, place);
    Some((mass, at * mass))
}

fn add(a: (f64, Point), b: (f64, Point)) -> (f64, Point) {
    (a.0 + b.0, a.1 + b.1)
}

fn trunk_and_legs(f: &Figure, t: f64, half_s: f64) -> Option<(f64, Point)> {
    let shoulders = f.front.shoulder.at(t, half_s)?.midpoint(f.back.shoulder.at(t, half_s)?);
    let hips = f.front.hip.at(t, half_s)?.midpoint(f.back.hip.at(t, half_s)?);
    let mut sum = (TRUNK.0, shoulders.lerp(hips, TRUNK.1) * TRUNK.0);
    let head = f.head.at(t, half_s)?;
    sum = add(sum, (HEAD, head * HEAD));
    for leg in [&f.front, &f.back] {
        sum = add(sum, segment(&leg.hip, &leg.knee, t, half_s, THIGH)?);
        sum = add(sum, segment(&leg.knee, &leg.ankle, t, half_s, SHANK)?);
        if let Some(foot) = segment(&leg.heel, &leg.toe, t, half_s, FOOT) {
            sum = add(sum, foot);
        }
    }
    Some(sum)
}

fn arms(f: &Figure, t: f64, half_s: f64) -> Option<(f64, Point)> {
    let arm = |h: &Half| {
        let upper = segment(&h.shoulder, &h.elbow, t, half_s, UPPER_ARM)?;
        Some(add(upper, segment(&h.elbow, &h.wrist, t, half_s, FOREARM_AND_HAND)?))
    };
    Some(add(arm(&f.front)?, arm(&f.back)?))
}

/// A moment with how far to either side it could as well lie, s.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    pub time_s: f64,
    pub plus_minus_s: f64,
}

/// Rearmost moment of the body centre between two times. The ± is the time it stays within the noise of
/// its rearmost place.
pub fn load(centre: &Series, from_s: f64, to_s: f64, noise: f64, step_s: f64) -> Option<Moment> {
    // The centre is a mean over many points: a third of one point's noise (own estimate).
    let flat = noise / 3.0;
    let half_s = 0.06f64.max(1.7 * step_s);
    let path: Vec<(f64, f64)> = moments(from_s, to_s, step_s.min(1.0 / 120.0))
        .filter_map(|t| Some((t, centre.at(t, half_s)?.x)))
        .collect();
    let (i, (time_s, rearmost)) = path.iter().copied().enumerate().min_by(|a, b| a.1.1.total_cmp(&b.1.1))?;
    // Never moved back: no load is seen.
    let before = path.iter().take(i + 1).map(|p| p.1).fold(f64::MIN, f64::max);
    if before - rearmost < 2.0 * flat {
        return None;
    }
    let near = |p: &&(f64, f64)| p.1 <= rearmost + flat;
    let left = path.iter().take(i + 1).rev().take_while(near).last().map_or(time_s, |p| p.0);
    let right = path.iter().skip(i).take_while(near).last().map_or(time_s, |p| p.0);
    Some(Moment { time_s, plus_minus_s: ((right - left) / 2.0).max(step_s) })
}

/// Last still posture before the weight first moves back: going back from load along the body centre's way
/// back, the first moment from which it had moved less than a small share of that way.
pub fn stance(centre: &Series, hands: &Series, from_s: f64, load_s: f64, step_s: f64) -> Option<Moment> {
    let half_s = 0.06f64.max(1.7 * step_s);
    let from_s = from_s.max(load_s - LONGEST_LOAD_S);
    let path: Vec<(f64, f64)> = moments(from_s, load_s, step_s.min(1.0 / 120.0))
        .filter_map(|t| Some((t, centre.at(t, half_s)?.x)))
        .collect();
    let rearmost = path.last()?.1;
    let foremost = path.iter().map(|p| p.1).fold(f64::MIN, f64::max);
    let level = foremost - (foremost - rearmost) * STANCE_MOVED_SHARE;
    let i = path.iter().rposition(|p| p.1 >= level)?;
    let mut time_s = (path[i].0 - STANCE_UNDER_WAY_S).max(from_s);
    // The hands may still waggle: go back until they too are quiet, but not for long.
    for t in moments(from_s.max(time_s - 0.2), time_s, step_s.min(1.0 / 120.0)).rev() {
        if hands.fit(t, half_s).is_some_and(|f| f.velocity.length() < QUIET_HANDS) {
            time_s = t;
            break;
        }
    }
    Some(Moment { time_s, plus_minus_s: 0.20f64.max(2.0 * step_s) })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Winter's table gives mass and place of the parts alone: forearm .016 at .430, hand .006 at .506 of its length.
    /// Lengths: forearm .146, hand .108 of stature (Drillis & Contini 1966, in Winter fig. 4.1).
    #[test]
    fn the_table_is_winters() {
        let limb = UPPER_ARM.0 + FOREARM_AND_HAND.0 + THIGH.0 + SHANK.0 + FOOT.0;
        assert!((HEAD + TRUNK.0 + 2.0 * limb - 1.0).abs() < 1e-9, "the body weighs what its parts weigh");
        assert_eq!(
            [HEAD, TRUNK.0, UPPER_ARM.0, THIGH.0, SHANK.0, FOOT.0],
            [0.081, 0.497, 0.028, 0.1, 0.0465, 0.0145]
        );
        assert_eq!([TRUNK.1, UPPER_ARM.1, THIGH.1, SHANK.1, FOOT.1], [0.5, 0.436, 0.433, 0.433, 0.5]);
        let hand = 1.0 + 0.506 * 0.108 / 0.146;
        let together = (0.016 * 0.430 + 0.006 * hand) / 0.022;
        assert!((FOREARM_AND_HAND.1 - together).abs() < 0.01, "{together}");
    }
}
