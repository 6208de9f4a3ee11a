use super::v3::{V3, v3};
use crate::types::{PARTS, Part};

/// Which way the head looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Head {
    /// Middle of the skull, between the ears.
    pub centre: V3,
    /// Unit vectors: out of the face, to the person's left, out of the crown.
    pub face: V3,
    pub(crate) left: V3,
    pub(crate) up: V3,
}

/// Both ends of the bat, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bat {
    pub(crate) knob: V3,
    /// The far end of the barrel.
    pub tip: V3,
}

impl Bat {
    /// The place `d_m` from the knob.
    pub fn at(&self, d_m: f64) -> V3 {
        self.knob + (self.tip - self.knob).unit() * d_m
    }
}

/// One person at one moment, m.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// By [`PARTS`].
    pub parts: [V3; PARTS.len()],
    /// Middle of the hip joints, and of the shoulder joints.
    pub pelvis: V3,
    pub(crate) chest: V3,
    /// Out of the chest, unit.
    pub chest_face: V3,
    pub(crate) pelvis_face: V3,
    pub(crate) head: Head,
    /// `None` where none is held.
    pub bat: Option<Bat>,
    /// Both hands are on the bat.
    pub two_hands: bool,
}

impl Figure {
    /// Where a part is, m.
    pub fn at(&self, part: Part) -> V3 {
        self.parts[part as usize]
    }

    /// Middle of the two knuckle points.
    pub fn hands(&self) -> V3 {
        self.at(Part::LeftHand).lerp(self.at(Part::RightHand), 0.5)
    }

    /// The same person seen in a mirror (in the plane y = 0): left and right change names.
    pub fn mirrored(&self) -> Self {
        let mut parts = self.parts;
        for part in PARTS {
            parts[part.other_side() as usize] = self.at(part).mirrored();
        }
        Self {
            parts,
            pelvis: self.pelvis.mirrored(),
            chest: self.chest.mirrored(),
            chest_face: self.chest_face.mirrored(),
            pelvis_face: self.pelvis_face.mirrored(),
            head: Head {
                centre: self.head.centre.mirrored(),
                face: self.head.face.mirrored(),
                left: -self.head.left.mirrored(),
                up: self.head.up.mirrored(),
            },
            bat: self.bat.map(|b| Bat { knob: b.knob.mirrored(), tip: b.tip.mirrored() }),
            two_hands: self.two_hands,
        }
    }

    /// The body's centre of mass by segment masses (share of the whole, centre from the proximal end):
    /// Winter, Biomechanics and Motor Control of Human Movement. The bat is not part of it.
    pub fn body_centre(&self) -> V3 {
        use Part::*;
        let mut sum = self.head.centre * 0.081 + self.chest.lerp(self.pelvis, 0.50) * 0.497;
        for [shoulder, elbow, wrist, hand, hip, knee, ankle, heel, toe] in [
            [LeftShoulder, LeftElbow, LeftWrist, LeftHand, LeftHip, LeftKnee, LeftAnkle, LeftHeel, LeftToe],
            [
                RightShoulder,
                RightElbow,
                RightWrist,
                RightHand,
                RightHip,
                RightKnee,
                RightAnkle,
                RightHeel,
                RightToe,
            ],
        ] {
            for (mass, from, to, share) in [
                (0.028, shoulder, elbow, 0.436),
                (0.016, elbow, wrist, 0.430),
                (0.006, wrist, hand, 0.506),
                (0.100, hip, knee, 0.433),
                (0.0465, knee, ankle, 0.433),
                (0.0145, heel, toe, 0.50),
            ] {
                sum = sum + self.at(from).lerp(self.at(to), share) * mass;
            }
        }
        // The table's shares add up to exactly 1: .081 + .497 + 2 · (.028 + .016 + .006 + .1 + .0465 + .0145) = 1.
        sum
    }
}

/// The middle joint of two bones from `root` toward `goal`, bent toward `pole`; and where the end comes
/// to lie (the goal itself while it is in reach).
pub fn two_bones(root: V3, goal: V3, upper: f64, lower: f64, pole: V3) -> (V3, V3) {
    let to = goal - root;
    let reach = upper + lower;
    let d = to.length().clamp((upper - lower).abs() + 1e-6, reach - 1e-9);
    let axis = to.unit();
    let along = (upper * upper - lower * lower + d * d) / (2.0 * d);
    let out = (upper * upper - along * along).max(0.0).sqrt();
    let side = pole.without(axis);
    let side = if side.length() > 1e-9 { side.unit() } else { v3(0.0, 0.0, -1.0).without(axis).unit() };
    (root + axis * along + side * out, root + axis * d)
}

/// Angle at `b` between `a` and `c`, deg.
pub fn angle_deg(a: V3, b: V3, c: V3) -> f64 {
    let (u, v) = ((a - b).unit(), (c - b).unit());
    u.dot(v).clamp(-1.0, 1.0).acos().to_degrees()
}
