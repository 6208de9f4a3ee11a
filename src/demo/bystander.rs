//! Someone who is in the picture but does not bat: stands, or walks along.

use super::figure::{Figure, Head, two_bones};
use super::hitter::Limbs;
use super::scenario::Bystander;
use super::v3::{V3, v3};
use crate::types::{PARTS, Part};

/// A throw lasts so long, s.
const THROW_S: f64 = 0.9;

/// Where the wrist is while a ball is thrown: back, over the head, and down in front, fastest in the middle.
fn thrown(b: &Bystander, t_s: f64, shoulder: V3, face: V3, arm_m: f64) -> Option<V3> {
    if b.throws_every_s <= 0.0 {
        return None;
    }
    let t = t_s.rem_euclid(b.throws_every_s) / THROW_S;
    if t >= 1.0 {
        return None;
    }
    let share = super::curve::ease(t, 0.2, 0.75);
    let angle = std::f64::consts::PI * (1.15 - 1.25 * share);
    Some(shoulder + (face * angle.cos() + V3::UP * angle.sin()) * (0.93 * arm_m))
}

/// `t_s` from the first picture.
pub fn figure(b: &Bystander, t_s: f64) -> Figure {
    use Part::*;
    let h = b.height_cm / 100.0;
    let l = Limbs::default();
    let walks = b.walk_m_s.abs() > 0.05;
    // Who walks faces the way; who stands faces the plate (y = 0).
    let face = if walks {
        v3(b.walk_m_s.signum(), 0.0, 0.0)
    } else {
        v3(0.0, if b.at_m[1] > 0.0 { -1.0 } else { 1.0 }, 0.0)
    };
    let left = V3::UP.cross(face);
    let step_hz = 0.55 * b.walk_m_s.abs() / h.max(0.5) * 1.75;
    let phase = std::f64::consts::TAU * step_hz * t_s;
    let swing = if walks { 0.16 * h } else { 0.0 };
    let bob = if walks { 0.008 * h * (2.0 * phase).cos() } else { 0.0 };
    let sway = if walks { 0.0 } else { 0.006 * h * (1.7 * t_s).sin() };
    let pelvis = v3(b.at_m[0] + b.walk_m_s * t_s, b.at_m[1], 0.515 * h + bob) + left * sway;
    let chest = pelvis + (V3::UP + face * 0.03).unit() * (l.trunk * h);
    let head_centre = chest + V3::UP * (0.112 * h);
    let mut parts = [V3::ZERO; PARTS.len()];
    let mut put = |part: Part, at: V3| parts[part as usize] = at;
    for (s, flip) in [(1.0, false), (-1.0, true)] {
        let name = |p: Part| if flip { p.other_side() } else { p };
        let go = s * phase.sin();
        let lift = (s * phase.cos()).max(0.0) * 0.05 * h * f64::from(u8::from(walks));
        let hip = pelvis + left * (s * l.hips * h / 2.0);
        let ankle = v3(pelvis.x, pelvis.y, 0.0)
            + left * (s * 0.06 * h)
            + face * (go * swing)
            + V3::UP * (l.ankle_height * h + lift);
        let (knee, ankle) = two_bones(hip, ankle, l.thigh * h, l.shank * h, face);
        let shoulder = chest + left * (s * l.shoulders * h / 2.0);
        let hang =
            (v3(0.0, 0.0, -1.0) + left * (s * 0.14) - face * (go * 0.35 * f64::from(u8::from(walks)))).unit();
        let wrist = shoulder + hang * (0.93 * (l.upper_arm + l.forearm) * h) + face * (0.05 * h);
        // The left name is the right arm of who is flipped: one arm throws.
        let wrist = if flip {
            thrown(b, t_s, shoulder, face, (l.upper_arm + l.forearm) * h).unwrap_or(wrist)
        } else {
            wrist
        };
        let (elbow, wrist) = two_bones(shoulder, wrist, l.upper_arm * h, l.forearm * h, -face);
        put(name(LeftHip), hip);
        put(name(LeftKnee), knee);
        put(name(LeftAnkle), ankle);
        put(name(LeftHeel), ankle - face * (0.036 * h) - V3::UP * (0.024 * h));
        put(name(LeftToe), ankle + face * (0.114 * h) - V3::UP * (0.026 * h));
        put(name(LeftShoulder), shoulder);
        put(name(LeftElbow), elbow);
        put(name(LeftWrist), wrist);
        put(name(LeftHand), wrist + (wrist - elbow).unit() * (l.hand * h));
        put(name(LeftEye), head_centre + (face * 0.050 + left * (s * 0.019) + V3::UP * 0.008) * h);
        put(name(LeftEar), head_centre + left * (s * 0.043 * h));
    }
    put(Nose, head_centre + (face * 0.062 - V3::UP * 0.010) * h);
    Figure {
        parts,
        pelvis,
        chest,
        chest_face: face,
        pelvis_face: face,
        head: Head { centre: head_centre, face, left, up: V3::UP },
        bat: None,
        two_hands: false,
    }
}
