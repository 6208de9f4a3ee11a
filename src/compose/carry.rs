//! A body's pictures carried from one moment to another by how its bones moved between.

use super::marks::{head, mean};
use crate::types::{Part, Point, Pose};

/// A bone shorter than this is hardly seen from the side: where it points says nothing, body heights.
const SHORT: f64 = 0.06;
/// How far a place off a bone still goes with it, body heights.
const WITH: f64 = 0.012;
/// How much a bone's length may change from look to look.
const LONGER: std::ops::RangeInclusive<f64> = 0.85..=1.18;

pub const BONES: usize = 20;

/// The two ends and half the width, body heights: own figures, wide enough for clothes.
const LIMBS: [(Part, Part, f64); BONES - 1] = {
    use Part::*;
    [
        (LeftShoulder, RightShoulder, 0.065),
        (LeftHip, RightHip, 0.085),
        (LeftShoulder, LeftHip, 0.075),
        (RightShoulder, RightHip, 0.075),
        (LeftShoulder, RightHip, 0.075),
        (LeftShoulder, LeftElbow, 0.05),
        (RightShoulder, RightElbow, 0.05),
        (LeftElbow, LeftWrist, 0.042),
        (RightElbow, RightWrist, 0.042),
        (LeftWrist, LeftHand, 0.042),
        (RightWrist, RightHand, 0.042),
        (LeftHip, LeftKnee, 0.066),
        (RightHip, RightKnee, 0.066),
        (LeftKnee, LeftAnkle, 0.048),
        (RightKnee, RightAnkle, 0.048),
        (LeftAnkle, LeftToe, 0.034),
        (RightAnkle, RightToe, 0.034),
        (LeftAnkle, LeftHeel, 0.034),
        (RightAnkle, RightHeel, 0.034),
    ]
};

/// A bone in one picture, px.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bone {
    pub a: Point,
    pub b: Point,
    /// Half its width, body heights.
    pub radius: f64,
}

/// The limbs, then the head on its neck; `None` where an end is not known.
pub type Bones = [Option<Bone>; BONES];

pub fn bones(pose: &Pose) -> Bones {
    let mut out = [None; BONES];
    for (slot, (a, b, radius)) in out.iter_mut().zip(LIMBS) {
        *slot = pose.at(a).zip(pose.at(b)).map(|(a, b)| Bone { a, b, radius });
    }
    let shoulders = mean([Part::LeftShoulder, Part::RightShoulder].iter().filter_map(|p| pose.at(*p)));
    if let (Some(slot), Some(at), Some(neck)) = (out.last_mut(), head(pose), shoulders) {
        *slot = Some(Bone { a: at, b: at.lerp(neck, 0.5), radius: 0.088 });
    }
    out
}

impl Bone {
    /// From its line to `p`, px.
    pub fn distance(&self, p: Point) -> f64 {
        let (ab, ap) = (self.b - self.a, p - self.a);
        let t = (ap.dot(ab) / ab.dot(ab).max(1e-12)).clamp(0.0, 1.0);
        let off = ap - ab * t;
        off.dot(off).sqrt()
    }
}

/// How a bone gets from one picture to another: turned and stretched (as a complex number) about its middle.
#[derive(Clone, Copy)]
struct Step {
    from: Point,
    to: Point,
    turn: (f64, f64),
}

impl Step {
    fn new(from: &Bone, to: &Bone, body_px: f64) -> Self {
        let (f, t) = (from.b - from.a, to.b - to.a);
        let (lf, lt) = (f.length(), t.length());
        let turn = if lf.min(lt) < SHORT * body_px {
            (1.0, 0.0)
        } else {
            let k = (lt / lf).clamp(*LONGER.start(), *LONGER.end()) / (lf * lt);
            (k * f.dot(t), k * (f.x * t.y - f.y * t.x))
        };
        Self { from: from.a.midpoint(from.b), to: to.a.midpoint(to.b), turn }
    }

    fn apply(&self, p: Point) -> Point {
        let (d, (c, s)) = (p - self.from, self.turn);
        self.to + Point::new(c * d.x - s * d.y, s * d.x + c * d.y)
    }
}

/// From the picture of one pose into that of another.
pub struct Carry([Option<Step>; BONES]);

impl Carry {
    pub fn new(from: &Bones, to: &Bones, body_px: f64) -> Self {
        let mut steps = [None; BONES];
        for (step, (from, to)) in steps.iter_mut().zip(from.iter().zip(to)) {
            *step = from.zip(*to).map(|(from, to)| Step::new(&from, &to, body_px));
        }
        Self(steps)
    }

    /// Where `p`, which goes with each bone by so much, is in the other picture.
    pub fn apply(&self, p: Point, weights: &[f64; BONES]) -> Point {
        let (mut sum, mut all) = (Point::default(), 0.0);
        for (step, w) in self.0.iter().zip(weights) {
            if let Some(step) = step.filter(|_| *w > 0.0) {
                sum = sum + step.apply(p) * *w;
                all += w;
            }
        }
        if all > 0.0 { sum * (1.0 / all) } else { p }
    }
}

/// By how much `p` goes with each bone, and how far it is off the nearest one's surface, body heights.
pub fn weights(bones: &Bones, p: Point, body_px: f64) -> ([f64; BONES], f64) {
    let (mut out, mut off) = ([0.0; BONES], f64::INFINITY);
    for (w, bone) in out.iter_mut().zip(bones) {
        if let Some(bone) = bone {
            let d = bone.distance(p) / body_px - bone.radius;
            off = off.min(d);
            let near = WITH / (d.max(0.0) + WITH);
            *w = near * near * near;
        }
    }
    (out, off)
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;

    #[test]
    fn a_limb_takes_along_what_lies_on_it() {
        let hit = sample::today();
        let (a, b) = (hit.pose(330), hit.pose(345));
        let (from, to) = (bones(&a), bones(&b));
        let carry = Carry::new(&from, &to, hit.body_px);
        for (part, other) in [
            (Part::LeftElbow, Part::LeftWrist),
            (Part::LeftKnee, Part::LeftAnkle),
            (Part::RightHip, Part::RightKnee),
        ] {
            let middle = |pose: &Pose| pose.at(part).unwrap().midpoint(pose.at(other).unwrap());
            let (weights, off) = weights(&from, middle(&a), hit.body_px);
            let got = carry.apply(middle(&a), &weights);
            assert!(off < 0.0 && got.distance(middle(&b)) < 0.02 * hit.body_px, "{part:?}");
        }
    }

    #[test]
    fn the_same_pose_leaves_everything_in_place() {
        let bones = bones(&sample::reference().pose(200));
        let carry = Carry::new(&bones, &bones, 640.0);
        let p = Point::new(871.0, 512.0);
        assert!(carry.apply(p, &weights(&bones, p, 640.0).0).distance(p) < 1e-9);
        assert_eq!(carry.apply(p, &[0.0; BONES]), p);
    }
}
