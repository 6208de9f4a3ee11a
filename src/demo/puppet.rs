//! A body posed by where pelvis, trunk and hands are: for whoever does not swing.

use super::figure::{Figure, Head, two_bones};
use super::foot::Foot;
use super::hitter::Hitter;
use super::v3::{V3, v3};
use crate::types::{PARTS, Part};

/// How far an arm or a leg stretches, as a share of its length.
const STRETCHED: f64 = 0.97;

/// Body heights and rad. Places and directions are the body's own: to the front, to the left, up.
#[derive(Debug, Clone, Copy)]
pub struct Puppet {
    /// Which way it faces: see [`V3::heading`].
    pub yaw: f64,
    pub pelvis: V3,
    pub spine: V3,
    /// The chest turned to the left about the spine, and the hips.
    pub twist: f64,
    pub hips: f64,
    /// The left foot to the left of its place, and over the ground.
    pub step: f64,
    pub lift: f64,
    /// Both ankles behind the pelvis' place: on the knees.
    pub feet_back: f64,
    pub arms: Arms,
    /// The whole body tilted backward about the heels, and lifted, as onto a bed.
    pub tilt: f64,
    pub raised: f64,
}

/// Wrists from the shoulders, in the chest's terms: to the front, to the left, up.
#[derive(Debug, Clone, Copy)]
pub struct Arms {
    pub left: V3,
    pub right: V3,
}

impl Arms {
    pub fn hanging() -> Self {
        Self { left: v3(0.03, 0.04, -0.31), right: v3(0.03, -0.04, -0.31) }
    }

    pub fn moved(self, left: V3, right: V3) -> Self {
        Self { left: self.left + left, right: self.right + right }
    }

    /// A share of the way to other places.
    pub fn to(self, left: Option<V3>, right: Option<V3>, share: f64) -> Self {
        Self {
            left: self.left.lerp(left.unwrap_or(self.left), share),
            right: self.right.lerp(right.unwrap_or(self.right), share),
        }
    }
}

impl Puppet {
    pub fn standing(yaw: f64) -> Self {
        Self {
            yaw,
            pelvis: v3(0.0, 0.0, 0.51),
            spine: v3(0.03, 0.0, 1.0),
            twist: 0.0,
            hips: 0.0,
            step: 0.0,
            lift: 0.0,
            feet_back: 0.0,
            arms: Arms::hanging(),
            tilt: 0.0,
            raised: 0.0,
        }
    }

    pub fn figure(&self, hitter: &Hitter) -> Figure {
        use Part::*;
        let (h, l) = (hitter.height_cm / 100.0, &hitter.limbs);
        let (face, left) = axes(self.yaw);
        let world = |p: V3| (face * p.x + left * p.y + V3::UP * p.z) * h;
        let pelvis = world(self.pelvis);
        let spine = world(self.spine).unit();
        let chest = pelvis + spine * (l.trunk * h);
        let (pelvis_face, pelvis_left) = axes(self.yaw - self.hips);
        let turned = axes(self.yaw - self.twist).1.without(spine).unit();
        let chest_face = turned.cross(spine);
        let neck = (spine * 0.55 + V3::UP * 0.45).unit();
        let centre = chest + neck * (0.112 * h);
        let head = Head { centre, face, left, up: V3::UP };
        let mut parts = [V3::ZERO; PARTS.len()];
        for (side, arm) in [(1.0, self.arms.left), (-1.0, self.arms.right)] {
            let mut put = |p: Part, at: V3| {
                parts[if side > 0.0 { p } else { p.other_side() } as usize] = at;
            };
            let hip = pelvis + pelvis_left * (side * l.hips * h / 2.0);
            let (step, lift) = if side > 0.0 { (self.step, self.lift) } else { (0.0, 0.0) };
            let kneels = self.feet_back > 0.0;
            let foot = Foot::new(V3::ZERO, self.yaw, if kneels { 1.2 } else { 0.0 }, h, l);
            let stands = world(v3(-self.feet_back, side * 0.075 + step, l.ankle_height + lift));
            let foot = foot.shifted(stands - foot.ankle);
            let foot = foot.shifted(V3::UP * (0.01 - foot.toe.z).max(0.0));
            let to = foot.ankle - hip;
            let most = STRETCHED * (l.thigh + l.shank) * h;
            let foot = foot.shifted(to.unit() * (most.min(to.length()) - to.length()));
            let bend = if kneels { face - V3::UP * 0.4 } else { pelvis_face };
            let (knee, ankle) = two_bones(hip, foot.ankle, l.thigh * h, l.shank * h, bend);
            let shoulder = chest + turned * (side * l.shoulders * h / 2.0);
            let reach = (chest_face * arm.x + turned * arm.y + spine * arm.z) * h;
            let most = STRETCHED * (l.upper_arm + l.forearm) * h;
            let wrist = shoulder + reach.unit() * reach.length().clamp(0.3 * most, most);
            let out = turned * (0.6 * side) - chest_face * 0.4 - spine * 0.6;
            let (elbow, wrist) = two_bones(shoulder, wrist, l.upper_arm * h, l.forearm * h, out);
            put(LeftHip, hip);
            put(LeftKnee, knee);
            put(LeftAnkle, ankle);
            put(LeftHeel, foot.heel);
            put(LeftToe, foot.toe);
            put(LeftShoulder, shoulder);
            put(LeftElbow, elbow);
            put(LeftWrist, wrist);
            put(LeftHand, wrist + (wrist - elbow).unit() * (l.hand * h));
            put(LeftEye, centre + (face * 0.050 + left * (side * 0.019) + V3::UP * 0.008) * h);
            put(LeftEar, centre + left * (side * 0.043 * h));
        }
        parts[Nose as usize] = centre + (face * 0.062 - V3::UP * 0.010) * h;
        let figure =
            Figure { parts, pelvis, chest, chest_face, pelvis_face, head, bat: None, two_hands: false };
        if self.tilt == 0.0 { figure } else { self.laid(figure, h) }
    }

    fn laid(&self, f: Figure, h: f64) -> Figure {
        let (face, left) = axes(self.yaw);
        let (sin, cos) = self.tilt.sin_cos();
        // Backward: what was up lies behind, what was in front is up. The middle of the body stays in the picture.
        let turn = |d: V3| {
            let (x, y, z) = (d.dot(face), d.dot(left), d.z);
            face * (x * cos - z * sin) + left * y + V3::UP * (x * sin + z * cos)
        };
        let by = face * (0.5 * sin * h) + V3::UP * (self.raised * h);
        let place = |p: V3| turn(p) + by;
        Figure {
            parts: f.parts.map(place),
            pelvis: place(f.pelvis),
            chest: place(f.chest),
            chest_face: turn(f.chest_face),
            pelvis_face: turn(f.pelvis_face),
            head: Head {
                centre: place(f.head.centre),
                face: turn(f.head.face),
                left: turn(f.head.left),
                up: turn(f.head.up),
            },
            ..f
        }
    }
}

/// To the front and to the left.
fn axes(yaw: f64) -> (V3, V3) {
    let face = V3::heading(yaw);
    (face, V3::UP.cross(face))
}
