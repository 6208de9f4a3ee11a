//! Plays recorded joint centres as a whole figure: head, heels and toes are hung on them.

use super::curve::{below, ease};
use super::events::Moments;
use super::figure::{Bat, Figure, Head};
use super::foot::{Foot, TOE_Z_M};
use super::hitter::{Hitter, Limbs};
use super::recorded::{Capture, Joints, Recorded};
use super::style::Timing;
use super::truth::RecordedPart;
use super::v3::{V3, v3};
use crate::types::{EventId, PARTS, Part};
use std::sync::Arc;

/// Motion comes out of stillness and goes back into it over twice this, s: half of it at the recording's cost.
const IN_S: f64 = 0.10;
const OUT_S: f64 = 0.05;
/// From the handle between the fists to the knob, and from the sweet spot to the tip, m (common practice: 15 cm).
const KNOB_M: f64 = 0.12;
const TIP_M: f64 = 0.15;
/// A hand this far from the handle's middle has let go, m.
const LET_GO_M: f64 = 0.10;
/// The front heel comes up this far before the toe leaves the ground, deg (from memory of side views).
const PUSH_OFF_DEG: f64 = 24.0;
/// Half-width of the mean that takes the flicker out of the knee's direction, samples.
const YAW_MEAN: usize = 12;

/// Recorded motion on the swing's clock: 0 = contact.
pub struct Replay {
    capture: Arc<Capture>,
    tempo: f64,
    scale: f64,
    timing: Timing,
}

impl Replay {
    pub(super) fn new(recorded: &Recorded, hitter: &Hitter) -> Self {
        let capture = Arc::clone(recorded.capture());
        let tempo = recorded.tempo().clamp(0.2, 5.0);
        let before = |s: f64| (capture.contact_s - s) / tempo;
        let plant_s = before(0.5 * (capture.plant_s[0] + capture.plant_s[1]));
        // Only where the events are looked for.
        let timing = Timing {
            move_s: before(0.0),
            plant_s,
            touch_s: before(capture.plant_s[0]),
            finish_s: -before(capture.last_s()),
            ..Timing::default()
        };
        let scale = hitter.height_cm / 100.0 / capture.height_m;
        Self { capture, tempo, scale, timing }
    }

    /// When its moments come.
    pub fn timing(&self) -> &Timing {
        &self.timing
    }

    /// From … to, s from contact, where the motion is as recorded.
    fn recorded_s(&self) -> [f64; 2] {
        let c = &self.capture;
        [(IN_S - c.contact_s) / self.tempo, (c.last_s() - OUT_S - c.contact_s) / self.tempo]
    }

    pub(crate) fn part(&self, contact_s: f64) -> RecordedPart {
        let c = &self.capture;
        let [from, to] = self.recorded_s();
        let plant_s = c.plant_s.map(|s| contact_s + (s - c.contact_s) / self.tempo);
        RecordedPart { from_s: contact_s + from, to_s: contact_s + to, plant_s }
    }

    /// Plant as measured; nothing that lies where the hitter was made to stand still.
    pub fn keep_to_what_is_recorded(&self, moments: &mut Moments) {
        let [from, to] = self.recorded_s();
        moments.insert(EventId::Plant, -self.timing.plant_s);
        // When a toe that was never recorded leaves the ground is anyone's guess.
        moments.remove(&EventId::FootOff);
        // The reach keeps growing slowly on the way round the body, where the hands are one hand's: its first top may
        // lie anywhere from 0.03 to 0.2 s after contact.
        moments.remove(&EventId::Extension);
        moments.retain(|_, t| (from..to).contains(t));
    }

    /// The right-handed hitter `t_s` from contact.
    pub fn pose_at(&self, t_s: f64) -> Figure {
        let c = &self.capture;
        let at = c.contact_s + t_s * self.tempo;
        let s = slowed(at, c.last_s()) * c.rate_hz;
        let i = (s.floor().max(0.0) as usize).min(c.figures.len().saturating_sub(2));
        let f = s - i as f64;
        let near = |k: usize| &c.figures[k.min(c.figures.len() - 1)];
        let (a, b, d, e) = (near(i.saturating_sub(1)), near(i), near(i + 1), near(i + 2));
        let on = |get: &dyn Fn(&Figure) -> V3| cubic([get(a), get(b), get(d), get(e)], f);
        let place = |get: &dyn Fn(&Figure) -> V3| on(get) * self.scale;
        let turn = |get: &dyn Fn(&Figure) -> V3| on(get).unit();
        let mut parts = b.parts;
        for part in PARTS {
            parts[part as usize] = place(&|f| f.at(part));
        }
        let end = |get: fn(Bat) -> V3| place(&|f| f.bat.map_or(V3::ZERO, get));
        Figure {
            parts,
            pelvis: place(&|f| f.pelvis),
            chest: place(&|f| f.chest),
            chest_face: turn(&|f| f.chest_face),
            pelvis_face: turn(&|f| f.pelvis_face),
            head: Head {
                centre: place(&|f| f.head.centre),
                face: turn(&|f| f.head.face),
                left: turn(&|f| f.head.left),
                up: turn(&|f| f.head.up),
            },
            bat: Some(Bat { knob: end(|b| b.knob), tip: end(|b| b.tip) }),
            two_hands: b.two_hands,
        }
    }
}

/// The moment of the recording that is shown at `s`: still before and after it, with a smooth start and stop.
fn slowed(s: f64, last_s: f64) -> f64 {
    let (start, stop) = (s + IN_S, last_s + OUT_S - s);
    if start <= 0.0 {
        0.0
    } else if start < 2.0 * IN_S {
        start * start / (4.0 * IN_S)
    } else if stop <= 0.0 {
        last_s
    } else if stop < 2.0 * OUT_S {
        last_s - stop * stop / (4.0 * OUT_S)
    } else {
        s
    }
}

/// Between the second and the third of four (Catmull & Rom 1974).
fn cubic([a, b, c, d]: [V3; 4], t: f64) -> V3 {
    let (m, n) = ((c - a) * 0.5, (d - b) * 0.5);
    let (t2, t3) = (t * t, t * t * t);
    b * (2.0 * t3 - 3.0 * t2 + 1.0) + m * (t3 - 2.0 * t2 + t) + c * (3.0 * t2 - 2.0 * t3) + n * (t3 - t2)
}

/// A whole figure at every sample.
pub fn figures(joints: &Joints) -> Vec<Figure> {
    let height_m = joints.height_m();
    let contact = (joints.contact_s * joints.rate_hz).round() as usize;
    let (front, rear) = (front_feet(joints, height_m), rear_feet(joints, height_m));
    (0..joints.samples)
        .zip(front.iter().zip(&rear))
        .map(|(i, (front, rear))| figure(joints, i, contact, height_m, front, rear))
        .collect()
}

fn figure(j: &Joints, i: usize, contact: usize, h: f64, front: &Foot, rear: &Foot) -> Figure {
    use Part::*;
    let mut parts = PARTS.map(|p| j.at(p, i));
    let (pelvis, chest) = (j.between(LeftHip, i), j.between(LeftShoulder, i));
    let spine = (chest - pelvis).unit();
    let left = (j.at(LeftShoulder, i) - j.at(RightShoulder, i)).unit();
    let chest_face = left.cross(spine.without(left).unit());
    let pelvis_face = (j.at(LeftHip, i) - j.at(RightHip, i)).cross(V3::UP).unit();

    let centre = chest + (spine * 0.55 + V3::UP * 0.45).unit() * (0.112 * h);
    let face = look(j, i, contact, centre);
    let head_left = V3::UP.cross(face).unit();
    let head = Head { centre, face, left: head_left, up: face.cross(head_left) };
    let on_head = |f: f64, l: f64, u: f64| centre + (head.face * f + head.left * l + head.up * u) * h;

    let (handle, sweet_spot) = (j.handle(i), j.sweet_spot(i));
    let along = (sweet_spot - handle).unit();
    let bat = Bat { knob: handle - along * KNOB_M, tip: sweet_spot + along * TIP_M };
    for (part, at) in [
        (Nose, on_head(0.062, 0.0, -0.010)),
        (LeftEye, on_head(0.050, 0.019, 0.008)),
        (RightEye, on_head(0.050, -0.019, 0.008)),
        (LeftEar, on_head(0.0, 0.043, 0.0)),
        (RightEar, on_head(0.0, -0.043, 0.0)),
        (LeftHeel, front.heel),
        (RightHeel, rear.heel),
        (LeftToe, front.toe),
        (RightToe, rear.toe),
    ] {
        parts[part as usize] = at;
    }
    let two_hands = j.at(RightHand, i).distance(handle) < LET_GO_M;
    Figure { parts, pelvis, chest, chest_face, pelvis_face, head, bat: Some(bat), two_hands }
}

/// Out of the face: to the pitcher, at the ball when it is met, then out to where it went.
fn look(j: &Joints, i: usize, contact: usize, eyes: V3) -> V3 {
    let t = (i as f64 - contact as f64) / j.rate_hz;
    let level = |yaw_deg: f64, down_deg: f64| {
        let (yaw, down) = (yaw_deg.to_radians(), down_deg.to_radians());
        V3::heading(yaw) * down.cos() - V3::UP * down.sin()
    };
    let to_ball = (j.sweet_spot(contact) - eyes).unit();
    let before = level(66.0, 6.0).lerp(to_ball, ease(t, -0.22, -0.01));
    before.lerp(level(82.0, 4.0), ease(t, 0.06, 0.40)).unit()
}

/// The length of a foot and what the ankle stands over the toe.
fn foot_of(j: &Joints, ankle: Part, h: f64) -> (Limbs, f64) {
    let mut limbs = Limbs::default();
    let stands = (j.rest_z(ankle) - TOE_Z_M).max(0.02);
    limbs.ankle_height = stands / h;
    (limbs, stands)
}

/// How far a foot on its toe is pitched when its ankle is `over_m` over the toe, rad.
fn pitch_on_toe(l: &Limbs, h: f64, over_m: f64) -> f64 {
    let (reach, up) = (0.76 * l.foot * h, l.ankle_height * h);
    let (r, flat) = (reach.hypot(up), up.atan2(reach));
    ((over_m / r).clamp(-1.0, 1.0).asin() - flat).max(0.0)
}

/// The foot with its ankle in place.
fn hung(ankle: V3, yaw: f64, pitch: f64, h: f64, l: &Limbs) -> Foot {
    let foot = Foot::new(V3::ZERO, yaw, pitch, h, l);
    let mut foot = foot.shifted(ankle - foot.ankle);
    // Noise of the ankle does not press a sole into the ground.
    for p in [&mut foot.toe, &mut foot.heel] {
        p.z = p.z.max(0.75 * TOE_Z_M);
    }
    foot
}

/// The way a knee bends, level, as a heading, rad: feet point where knees do.
fn knee_yaw(j: &Joints, [hip, knee, ankle]: [Part; 3], i: usize) -> V3 {
    let (from, to) = (i.saturating_sub(YAW_MEAN), (i + YAW_MEAN).min(j.samples - 1));
    (from..=to)
        .map(|i| {
            let (a, b, c) = (j.at(hip, i), j.at(knee, i), j.at(ankle, i));
            (b - a).without((c - a).unit()).without(V3::UP)
        })
        .fold(V3::ZERO, |sum, v| sum + v)
}

fn heading_of(v: V3) -> f64 {
    v.x.atan2(-v.y)
}

/// The striding foot: its toe stays down until the heel is well up, in the air it points where the knee does, and
/// from plant on it keeps its direction.
fn front_feet(j: &Joints, h: f64) -> Vec<Foot> {
    use Part::{LeftAnkle, LeftHip, LeftKnee};
    let (limbs, _) = foot_of(j, LeftAnkle, h);
    let most = PUSH_OFF_DEG.to_radians();
    let planted = (j.plant_s[0] * j.rate_hz) as usize;
    (0..j.samples)
        .map(|i| {
            let ankle = j.at(LeftAnkle, i);
            let yaw = heading_of(knee_yaw(j, [LeftHip, LeftKnee, LeftAnkle], i.min(planted)));
            let pitch = pitch_on_toe(&limbs, h, ankle.z - TOE_Z_M);
            hung(ankle, yaw, below(pitch, most, 0.05).max(0.0), h, &limbs)
        })
        .collect()
}

/// The back foot turns on its toe: the toe stays where it is as far as a stiff foot lets it, and is drawn along the
/// ground beyond that.
fn rear_feet(j: &Joints, h: f64) -> Vec<Foot> {
    use Part::{RightAnkle, RightHip, RightKnee};
    let (limbs, _) = foot_of(j, RightAnkle, h);
    let first = j.at(RightAnkle, 0);
    let start = knee_yaw(j, [RightHip, RightKnee, RightAnkle], 0).unit();
    let mut toe = first + start * (0.76 * limbs.foot * h);
    (0..j.samples)
        .map(|i| {
            let ankle = j.at(RightAnkle, i);
            let pitch = pitch_on_toe(&limbs, h, ankle.z - TOE_Z_M);
            let yaw = heading_of(toe - ankle);
            let foot = hung(ankle, yaw, pitch, h, &limbs);
            toe = v3(foot.toe.x, foot.toe.y, 0.0);
            foot
        })
        .collect()
}
