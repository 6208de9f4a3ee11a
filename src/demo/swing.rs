use super::curve::{below, ease};
use super::figure::{Bat, Figure, Head, two_bones};
use super::foot::{Foot, TOE_Z_M};
use super::hitter::Hitter;
use super::motion::Plan;
use super::replay::Replay;
use super::scenario::Scenario;
use super::style::{Style, Timing};
use super::v3::{V3, v3};
use crate::types::{PARTS, Part, Side};

/// From the knob to the two fists' middles, m: bottom hand and top hand.
const BOTTOM_HAND_M: f64 = 0.065;
const TOP_HAND_M: f64 = 0.155;
const HALF_GRIP_M: f64 = (TOP_HAND_M - BOTTOM_HAND_M) / 2.0;
/// From the tip to where the ball is met, m (common practice: some 15 cm).
const SWEET_SPOT_M: f64 = 0.15;

/// One hitter's one swing, as a function of time. Time 0 is contact.
pub struct Swing {
    /// Who swings.
    pub hitter: Hitter,
    plan: Plan,
    /// The front foot after plant.
    landed: Foot,
    /// Plays recorded motion instead of the plan.
    replay: Option<Replay>,
}

impl Swing {
    /// `seed` draws what style and timing leave open.
    pub fn new(hitter: &Hitter, style: &Style, timing: &Timing, seed: u64) -> Self {
        let plan = Plan::new(style, timing, seed);
        let (h, plant) = (hitter.height_cm / 100.0, -plan.timing.plant_s);
        let (x, _) = plan.front_toe(plant + 0.05);
        let toe = v3(x * h, plan.front_y.at(plant) * h, TOE_Z_M);
        let landed = Foot::new(toe, plan.front_yaw.at(plant), 0.0, h, &hitter.limbs);
        Self { hitter: hitter.clone(), plan, landed, replay: None }
    }

    /// The swing of a scenario: recorded where it says so, else made up.
    pub fn of(s: &Scenario) -> Self {
        let Some(recorded) = &s.recorded else {
            return Self::new(&s.hitter, &s.style, &s.timing, s.swing_seed);
        };
        let replay = Replay::new(recorded, &s.hitter);
        let mut swing = Self::new(&s.hitter, &s.style, replay.timing(), s.swing_seed);
        // As recorded: the plan would move what does not fit it.
        swing.plan.timing = *replay.timing();
        Self { replay: Some(replay), ..swing }
    }

    /// What of it is recorded; `None` = made up.
    pub fn replay(&self) -> Option<&Replay> {
        self.replay.as_ref()
    }

    /// What was meant: see [`Swing::events`] for what happens.
    pub fn timing(&self) -> &Timing {
        &self.plan.timing
    }

    /// How the swing looks.
    pub fn style(&self) -> &Style {
        &self.plan.style
    }

    /// Names the front and rear parts of this hitter: `front(LeftToe)` is the front toe of either side.
    pub fn front(&self, left: Part) -> Part {
        match self.hitter.bats {
            Side::Right => left,
            Side::Left => left.other_side(),
        }
    }

    /// The hitter `t_s` from contact (negative = before).
    pub fn pose_at(&self, t_s: f64) -> Figure {
        let figure = match &self.replay {
            Some(replay) => replay.pose_at(t_s),
            None => self.right_handed(t_s),
        };
        match self.hitter.bats {
            Side::Right => figure,
            Side::Left => figure.mirrored(),
        }
    }

    /// Where the ball is met.
    pub fn contact_point(&self) -> V3 {
        self.pose_at(0.0).bat.map_or(V3::ZERO, |b| b.tip.lerp(b.knob, SWEET_SPOT_M / b.tip.distance(b.knob)))
    }

    /// Velocity of that place on the bat at contact, m/s.
    pub fn bat_velocity(&self) -> V3 {
        let d = self.hitter.bat_cm / 100.0 - SWEET_SPOT_M;
        let at = |t: f64| self.pose_at(t).bat.map_or(V3::ZERO, |b| b.at(d));
        (at(0.001) - at(-0.001)) * 500.0
    }

    fn right_handed(&self, t: f64) -> Figure {
        use Part::*;
        let p = &self.plan;
        let h = self.hitter.height_cm / 100.0;
        let l = &self.hitter.limbs;
        let idle = p.idle(t);
        let mut parts = [V3::ZERO; PARTS.len()];

        // Feet. The foot is rigid and turns about its toe.
        let (front_x, front_z) = p.front_toe(t);
        let front_toe = v3(front_x * h, p.front_y.at(t) * h, front_z * h + TOE_Z_M);
        let front = Foot::new(front_toe, p.front_yaw.at(t), p.front_pitch(t), h, l);
        let rear_toe = v3(p.rear_x * h, 0.0, p.rear_lift.at(t) * h + TOE_Z_M);
        let mut rear = Foot::new(rear_toe, p.rear_yaw.at(t), p.rear_pitch.at(t), h, l);

        // Pelvis: planned until the front leg bears, then carried by the front knee's angle.
        let yaw = p.pelvis_yaw.at(t);
        let pelvis_face = V3::heading(yaw);
        let pelvis_left = V3::UP.cross(pelvis_face);
        let half_hips = pelvis_left * (l.hips * h / 2.0);
        let mut pelvis = v3(p.pelvis_x.at(t) * h + idle[0] * h, p.pelvis_y.at(t) * h, 0.0);
        let (thigh, shank) = (l.thigh * h, l.shank * h);
        let over = |hip: V3, ankle: V3, reach: f64| {
            let level = (hip - ankle).without(V3::UP).length();
            ankle.z + (reach * reach - level * level).max(0.01 * reach * reach).sqrt()
        };
        let knee = p.front_knee.at(t);
        let knee_reach = (thigh * thigh + shank * shank - 2.0 * thigh * shank * knee.cos()).sqrt();
        let bears = ease(t, -p.timing.foot_off_s + 0.08, -p.timing.plant_s);
        let planned = p.pelvis_z.at(t) * h;
        let full = 0.985 * (thigh + shank);
        let limit_front = over(pelvis + half_hips, front.ankle, full);
        let limit_rear = over(pelvis - half_hips, Foot::new(rear_toe, 0.0, 0.0, h, l).ankle, full);
        let free = below(below(planned, limit_front, 0.006 * h), limit_rear, 0.006 * h);
        // Carried by the foot where it will stand, so that the body sinks into the stride smoothly.
        let carried = over(pelvis + half_hips, self.landed.ankle, knee_reach);
        pelvis.z = free + (carried - free) * bears;
        // The rear foot stands still until the front one does.
        let stands = 1.0 - ease(t, -p.timing.plant_s, -p.timing.plant_s + 0.12);
        pelvis.z = pelvis.z + (below(pelvis.z, limit_rear, 0.006 * h) - pelvis.z) * stands;
        let (front_hip, rear_hip) = (pelvis + half_hips, pelvis - half_hips);

        // A rear leg at its full length draws its foot along the ground after it.
        let to_ankle = (rear.ankle - rear_hip).without(V3::UP);
        let drop = rear_hip.z - rear.ankle.z;
        let allowed = (full * full - drop * drop).max(0.01 * full * full).sqrt();
        let d = to_ankle.length();
        rear = rear.shifted(to_ankle.unit() * (below(d, allowed, 0.004 * h) - d));

        let knee_pole = |foot: &Foot| (pelvis_face + foot.forward * 1.2).unit();
        let (front_knee, _) = two_bones(front_hip, front.ankle, thigh, shank, knee_pole(&front));
        let (rear_knee, _) = two_bones(rear_hip, rear.ankle, thigh, shank, knee_pole(&rear));

        // Trunk.
        let spine = v3(p.lean_x.at(t), -p.lean_y.at(t), 1.0).unit();
        let chest = pelvis + spine * (l.trunk * h);
        let shoulder_yaw = p.shoulder_yaw.at(t);
        let level_left = V3::UP.cross(V3::heading(shoulder_yaw)).without(spine).unit();
        let tilt = p.shoulder_tilt.at(t);
        let left = (level_left * tilt.cos() + spine * tilt.sin()).unit();
        let up = spine.without(left).unit();
        let face = left.cross(up);
        let half_shoulders = left * (l.shoulders * h / 2.0);
        let (front_shoulder, rear_shoulder) = (chest + half_shoulders, chest - half_shoulders);

        // Head: the neck bends back to the upright, the eyes follow the ball.
        let neck = (spine * 0.55 + V3::UP * 0.45).unit();
        let head_centre = chest + neck * (0.112 * h);
        let look = V3::heading(p.head_yaw.at(t));
        let pitch = p.head_pitch.at(t);
        let head_face = (look * pitch.cos() - V3::UP * pitch.sin()).unit();
        let head_left = V3::UP.cross(look);
        let head_up = head_face.cross(head_left);
        let on_head =
            |f: f64, l: f64, u: f64| head_centre + (head_face * f + head_left * l + head_up * u) * h;

        // Hands and bat.
        let [a, b, c] = [&p.hands[0], &p.hands[1], &p.hands[2]].map(|curve| curve.at(t) * h);
        let wanted = chest + left * a + face * b + up * (c + idle[1] * h);
        let (heading, slope) = (p.bat_heading.at(t) + idle[2], p.bat_slope.at(t) + idle[3]);
        let along = V3::heading(heading) * slope.cos() + V3::UP * slope.sin();
        let arm = Arm { upper: l.upper_arm * h, lower: l.forearm * h, hand: l.hand * h };
        let free_hand = p.let_go.map_or(0.0, |(t0, t1)| ease(t, t0, t1));
        // A hand that has let go holds the other one back no more.
        let middle = arm
            .reachable(wanted, along, &[(front_shoulder, -HALF_GRIP_M), (rear_shoulder, HALF_GRIP_M)])
            .lerp(arm.reachable(wanted, along, &[(front_shoulder, -HALF_GRIP_M)]), free_hand);
        let knob = middle - along * ((BOTTOM_HAND_M + TOP_HAND_M) / 2.0);
        let bat = Bat { knob, tip: knob + along * (self.hitter.bat_cm / 100.0) };
        let front_hand = bat.at(BOTTOM_HAND_M);
        let relaxed = rear_shoulder + (face * 0.20 - left * 0.01 - up * 0.17) * h;
        let rear_hand = bat.at(TOP_HAND_M).lerp(relaxed, free_hand);
        // Off the bat it is no farther away than its arm is long.
        let in_reach = arm.reachable(rear_hand, along, &[(rear_shoulder, 0.0)]);
        let rear_hand = rear_hand.lerp(in_reach, (10.0 * free_hand).min(1.0));

        let swung = ease(t, -p.timing.hands_s, 0.02);
        let wrapped = ease(t, 0.5 * p.timing.extension_s, p.timing.finish_s);
        // Arms that go far across are bent down: a bend along the arm itself would flip over.
        let across = wrapped * ((p.style.finish_hands[0] - 0.17) / 0.05).clamp(0.0, 1.0);
        let (out, down) = (1.0 - across, 0.85 - 0.75 * wrapped + 0.65 * across);
        let front_pole = face * (0.35 - 0.5 * swung) + left * ((0.25 + 0.35 * swung) * out) - up * down;
        let rear_pole = -left * ((0.75 - 0.35 * swung) * out) - up * (0.7 + 0.2 * swung) - face * 0.25;
        let (front_elbow, front_wrist) = arm.solve(front_shoulder, front_hand, along, front_pole);
        let (rear_elbow, rear_wrist) = arm.solve(rear_shoulder, rear_hand, along, rear_pole);

        for (part, at) in [
            (Nose, on_head(0.062, 0.0, -0.010)),
            (LeftEye, on_head(0.050, 0.019, 0.008)),
            (RightEye, on_head(0.050, -0.019, 0.008)),
            (LeftEar, on_head(0.0, 0.043, 0.0)),
            (RightEar, on_head(0.0, -0.043, 0.0)),
            (LeftShoulder, front_shoulder),
            (RightShoulder, rear_shoulder),
            (LeftElbow, front_elbow),
            (RightElbow, rear_elbow),
            (LeftWrist, front_wrist),
            (RightWrist, rear_wrist),
            (LeftHand, front_hand),
            (RightHand, rear_hand),
            (LeftHip, front_hip),
            (RightHip, rear_hip),
            (LeftKnee, front_knee),
            (RightKnee, rear_knee),
            (LeftAnkle, front.ankle),
            (RightAnkle, rear.ankle),
            (LeftHeel, front.heel),
            (RightHeel, rear.heel),
            (LeftToe, front.toe),
            (RightToe, rear.toe),
        ] {
            parts[part as usize] = at;
        }
        Figure {
            parts,
            pelvis,
            chest,
            chest_face: face,
            pelvis_face,
            head: Head { centre: head_centre, face: head_face, left: head_left, up: head_up },
            bat: Some(bat),
            two_hands: free_hand == 0.0,
        }
    }
}

/// Lengths of an arm, m.
struct Arm {
    upper: f64,
    lower: f64,
    hand: f64,
}

impl Arm {
    /// The wrist of a fist at `hand` on a bat that points `along`: the hand lies in line with the arm,
    /// turned somewhat square to the handle.
    fn wrist(&self, shoulder: V3, hand: V3, along: V3) -> V3 {
        let reach = (hand - shoulder).unit();
        hand - (reach - along * (0.5 * reach.dot(along))).unit() * self.hand
    }

    fn solve(&self, shoulder: V3, hand: V3, along: V3, pole: V3) -> (V3, V3) {
        let wrist = self.wrist(shoulder, hand, along);
        (two_bones(shoulder, wrist, self.upper, self.lower, pole).0, wrist)
    }

    /// The hands' middle nearest to `wanted` at which every arm reaches its place on the handle: (shoulder, m from the
    /// middle).
    fn reachable(&self, wanted: V3, along: V3, arms: &[(V3, f64)]) -> V3 {
        let limit = 0.985 * (self.upper + self.lower);
        let folded = 0.30 * (self.upper + self.lower);
        let mut middle = wanted;
        for _ in 0..6 {
            for &(shoulder, at) in arms {
                let wrist = self.wrist(shoulder, middle + along * at, along);
                let to = wrist - shoulder;
                let d = to.length();
                // Nor does an elbow fold on itself.
                let apart = (folded - d).max(0.0).powi(2) / folded;
                middle = middle + to.unit() * (below(d, limit, 0.02 * limit) - d + apart);
            }
        }
        middle
    }
}
