//! The plan of one swing: every driving quantity as a curve of time (0 = contact), for a right-handed
//! hitter; left-handed ones are mirrored at the end.

use super::curve::{Curve, ease, softened};
use super::dice::Dice;
use super::style::{Stride, Style, Timing};

/// Angles in rad, lengths in body heights, times in s from contact.
pub struct Plan {
    pub timing: Timing,
    pub style: Style,
    pub pelvis_x: Curve,
    pub pelvis_y: Curve,
    /// Height of the hip line before the front leg carries weight.
    pub pelvis_z: Curve,
    pub front_knee: Curve,
    pub pelvis_yaw: Curve,
    pub shoulder_yaw: Curve,
    pub shoulder_tilt: Curve,
    pub lean_x: Curve,
    pub lean_y: Curve,
    pub head_yaw: Curve,
    pub head_pitch: Curve,
    /// Hands' middle from the chest: to the front shoulder, out of the chest, up.
    pub hands: [Curve; 3],
    pub bat_heading: Curve,
    pub bat_slope: Curve,
    pub rear_yaw: Curve,
    pub rear_pitch: Curve,
    pub rear_lift: Curve,
    pub front_yaw: Curve,
    pub front_y: Curve,
    front_pitch: Curve,
    front_taps: Vec<Hop>,
    /// Rear and front toe on the line to the pitcher, at stance.
    pub rear_x: f64,
    front_x: f64,
    pub let_go: Option<(f64, f64)>,
    phase: [f64; 4],
}

/// The front foot in the air once.
struct Hop {
    off_s: f64,
    down_s: f64,
    from_x: f64,
    /// How far back it is drawn on the way.
    back: f64,
    to_x: f64,
    peak: f64,
}

impl Hop {
    fn x_by(&self, t: f64) -> f64 {
        let d = self.down_s - self.off_s;
        -self.back * ease(t, self.off_s, self.off_s + 0.5 * d)
            + (self.to_x - self.from_x + self.back) * ease(t, self.off_s + 0.2 * d, self.down_s + 0.006)
    }

    fn z(&self, t: f64) -> f64 {
        let top = self.off_s + 0.45 * (self.down_s - self.off_s);
        if t <= self.off_s || t >= self.down_s {
            0.0
        } else if t < top {
            self.peak * ease(t, self.off_s, top)
        } else {
            // Falls and lands with speed, as a foot does.
            let s = (t - top) / (self.down_s - top);
            self.peak * (1.0 - s * s * (1.6 - 0.6 * s))
        }
    }
}

impl Plan {
    pub fn new(style: &Style, timing: &Timing, seed: u64) -> Self {
        let mut dice = Dice::stream(seed, 1);
        let s = *style;
        let mut t = *timing;
        t.touch_s = t.touch_s.max(t.plant_s + 0.02);
        t.foot_off_s = t.foot_off_s.max(t.touch_s + 0.12);
        t.load_s = t.load_s.max(t.foot_off_s - 0.01);
        t.move_s = t.move_s.max(t.load_s + 0.25);
        let (mv, load, off, touch, plant, hs) =
            (-t.move_s, -t.load_s, -t.foot_off_s, -t.touch_s, -t.plant_s, -t.hands_s);
        let (ext, fin) = (t.extension_s, t.finish_s);
        let deg = f64::to_radians;
        // Whoever holds the weight back still has to be forward in time.
        let hold = s.hold_s.min(touch - 0.2 - load).max(0.0);
        // The shoulders' turn does not begin long before they are fast, however early the hands start.
        let kick = hs.max(-0.19);
        // Nor are hands ever faster than hands are: what starts late is not early too.
        let early = s.early_s.min(t.hands_s - 0.125).max(0.0);
        let hands_by = 0.03 - early;
        let round = (s.follow_share + 0.25).min(1.0) * fin;

        let rear_x = -s.stance_width / 2.0;
        let front_x = s.stance_width / 2.0;
        let plant_x = rear_x + s.plant_width.max(s.stance_width);
        let (front_pitch, front_taps) = front_foot(&s, &t, front_x, plant_x, &mut dice);

        let stance_x = rear_x + 0.49 * s.stance_width;
        let width = plant_x - rear_x;
        let pelvis_x = Curve::rest(stance_x)
            .by(mv, load + 0.03 + 0.9 * hold, -s.load_back)
            .to(load - 0.05 + hold, plant + 0.03, (rear_x + 0.43 * width).max(stance_x - s.load_back + 0.03))
            .to(plant - 0.04, 0.06, rear_x + 0.56 * width)
            .to(0.0, fin, rear_x + 0.62 * width);
        let z0 = 0.489 - 0.14 * (s.stance_width - 0.25).max(0.0);
        let pelvis_z = Curve::rest(z0).by(mv, load, -0.012).to(off, plant, 0.49);
        let front_knee = Curve::rest(deg(s.knee_plant_deg))
            .to(touch, (hs + 0.035).max(touch + 0.06), deg(s.knee_deep_deg))
            .to(hs - 0.005, 0.03, deg(s.knee_contact_deg))
            .to(0.03, fin, deg((s.knee_contact_deg + 4.0).min(174.0)));
        let stance_turn = deg(dice.between(-4.0, 6.0));
        let pelvis_yaw = Curve::rest(stance_turn)
            .by(mv + 0.05, load + 0.08, -deg(s.coil_deg * 0.8))
            .by(touch - 0.18, plant + 0.03, deg(12.0))
            .through((plant - 0.035).min(-0.15), 0.03, 0.0, deg(s.pelvis_contact_deg))
            .by(-0.02, 0.8 * fin, deg(10.0 + 0.3 * s.follow_deg));
        let shoulder_yaw = Curve::rest(stance_turn * 0.7)
            .by(mv + 0.08, plant - 0.02, -deg(s.coil_deg))
            .through(kick - 0.008, 0.09 - early, 0.0, deg(s.shoulders_contact_deg))
            .by(0.0, s.follow_share * fin, deg(s.follow_deg));
        let shoulder_tilt = Curve::rest(deg(-3.0))
            .by(mv + 0.1, plant, deg(-4.0))
            .through(hs, 0.06, 0.0, deg(s.shoulder_rise_deg))
            .to(0.04, fin, 0.0);
        // The trunk stays back while the pelvis goes on: that is what keeps the head quiet.
        let quiet = 0.13 * width / 0.405;
        let lean_x = Curve::rest(0.0)
            .by(load, plant, -0.06)
            .through(
                plant - 0.01,
                0.05,
                0.0,
                -0.06 - quiet.max(deg(s.lean_back_deg) - 0.06) + s.head_drift / 0.405,
            )
            .to(0.05, fin, -0.03);
        let bend = deg(s.bend_deg).tan();
        let lean_y = Curve::rest(bend).by(mv, plant, 0.04).by(hs, 0.04, 0.03).to(0.03, fin, 0.10);
        let pelvis_y = Curve::rest(0.075 + 0.16 * bend).by(hs, 0.05, -0.02).to(0.05, fin, 0.075);
        let head_yaw = Curve::rest(deg(64.0)).by(-0.12, 0.02, deg(-18.0)).by(0.06, fin, deg(36.0));
        let head_pitch = Curve::rest(deg(6.0)).by(-0.2, -0.01, deg(20.0)).by(0.06, 0.9 * fin, deg(-22.0));

        // To the front shoulder / out of the chest / up.
        let start = [-0.082, 0.176, s.hands_height];
        let drop0 = hs + s.drop_delay_s;
        let hands = [
            Curve::rest(start[0])
                .by(mv + 0.12, plant - 0.03, -s.hands_back)
                .to(hs, hands_by, -0.08)
                .to(-0.04, ext + 0.05, -0.005)
                .to(ext - 0.012, round, s.finish_hands[0]),
            Curve::rest(start[1]).to(hs + 0.004, hands_by, 0.25).to(-0.03, ext + 0.045, 0.319).to(
                ext - 0.012,
                0.9 * round,
                s.finish_hands[1],
            ),
            Curve::rest(start[2])
                .by(mv + 0.1, plant - 0.05, 0.008)
                .by(load - 0.25, load + 0.05, -s.hands_drop)
                .by(load + 0.05, plant - 0.04, s.hands_drop)
                .by(hs, hs + 0.07, s.hitch)
                .to(drop0, hands_by, -0.20)
                .to(-0.01, ext + 0.09, -0.07)
                .to(ext - 0.02, 0.95 * round, s.finish_hands[2]),
        ];
        // The barrel lags: whoever starts the hands early still turns it late.
        let bat_start = -0.112 + 0.2 * (hs + 0.15);
        let bat_heading = Curve::rest(deg(-118.0 + dice.between(-20.0, 20.0)))
            .by(mv + 0.1, plant - 0.02, deg(-10.0))
            .through(bat_start, 0.092, 0.0, deg(s.bat_heading_deg))
            .to(-0.06, 0.8 * fin + 0.05, deg(292.0 + dice.between(-15.0, 12.0)));
        let bat_slope = Curve::rest(deg(s.bat_stance_deg))
            .by(mv + 0.1, plant - 0.02, deg(-6.0))
            .to(hs - 0.01, -0.02, deg(-s.bat_slope_deg))
            .to(0.0, 0.6 * fin, deg(dice.between(18.0, 34.0)))
            .to(0.5 * fin, fin + 0.02, deg(dice.between(-14.0, 14.0)));
        let rear_yaw = Curve::rest(deg(dice.between(-6.0, 4.0)))
            .by(plant - 0.02, 0.05, deg(dice.between(48.0, 66.0)))
            .by(-0.02, 0.8 * fin, deg(18.0));
        let rear_pitch = Curve::rest(0.0).by(plant - 0.01, 0.05, deg(dice.between(40.0, 54.0))).by(
            0.0,
            0.8 * fin,
            deg(12.0),
        );
        let rear_lift = Curve::rest(0.0).through(hs + 0.03, 0.05, 0.0, s.rear_lift).to(0.05, 0.7 * fin, 0.0);
        let front_yaw = Curve::rest(deg(dice.between(0.0, 14.0))).by(
            off + 0.3 * (touch - off),
            touch + 0.005,
            if s.stride == Stride::None { 0.0 } else { deg(dice.between(12.0, 30.0)) },
        );
        let front_y = Curve::rest(s.open_stance).to(
            off + 0.1 * (touch - off),
            touch + 0.005,
            match s.stride {
                Stride::None => s.open_stance,
                _ => 0.3 * s.open_stance,
            },
        );
        let let_go = s.one_hand.then_some((ext + s.let_go_s, ext + s.let_go_s + 0.22));
        let phase = std::array::from_fn(|_| dice.between(0.0, std::f64::consts::TAU));
        Self {
            timing: t,
            style: s,
            pelvis_x,
            pelvis_y,
            pelvis_z,
            front_knee,
            pelvis_yaw,
            shoulder_yaw,
            shoulder_tilt,
            lean_x,
            lean_y,
            head_yaw,
            head_pitch,
            hands,
            bat_heading,
            bat_slope,
            rear_yaw,
            rear_pitch,
            rear_lift,
            front_yaw,
            front_y,
            front_pitch,
            front_taps,
            rear_x,
            front_x,
            let_go,
            phase,
        }
    }

    /// Front toe: along the line to the pitcher, and over the ground.
    pub fn front_toe(&self, t: f64) -> (f64, f64) {
        let x = self.front_taps.iter().map(|h| h.x_by(t)).sum::<f64>();
        let z = softened(t, 0.008, |t| self.front_taps.iter().map(|h| h.z(t)).sum());
        (self.front_x + x, z)
    }

    /// Front heel raised about the toe, rad; flat from plant on.
    pub fn front_pitch(&self, t: f64) -> f64 {
        let (touch, plant) = (-self.timing.touch_s, -self.timing.plant_s);
        softened(t, 0.008, |t| {
            let s = ((t - touch) / (plant - 0.006 - touch)).clamp(0.0, 1.0);
            self.front_pitch.at(t) * (1.0 - s.powf(1.5))
        })
    }

    /// Breathing and play before the swing: (body sway, hands, bat heading, bat slope). Dies away as the
    /// weight begins to move.
    pub fn idle(&self, t: f64) -> [f64; 4] {
        let fade = 1.0 - ease(t, -self.timing.move_s - 0.5, -self.timing.move_s + 0.1);
        let after = ease(t, self.timing.finish_s, self.timing.finish_s + 0.8);
        let w = self.style.waggle * fade;
        let wave = |hz: f64, i: usize| (std::f64::consts::TAU * hz * t + self.phase[i]).sin();
        [
            0.0012 * wave(0.31, 0) * (fade + 0.6 * after),
            0.0025 * wave(0.9, 1) * w,
            0.05 * wave(1.1, 2) * w,
            0.04 * wave(0.8, 3) * w,
        ]
    }
}

fn front_foot(s: &Style, t: &Timing, front_x: f64, plant_x: f64, dice: &mut Dice) -> (Curve, Vec<Hop>) {
    let (off, touch) = (-t.foot_off_s, -t.touch_s);
    let deg = f64::to_radians;
    let landing = deg(dice.between(9.0, 17.0));
    let mut hops = Vec::new();
    let mut from_x = front_x;
    let mut pitch = Curve::rest(0.0);
    match s.stride {
        Stride::None => {
            return (Curve::rest(0.0).by(off - 0.05, off + 0.2, deg(dice.between(16.0, 30.0))), hops);
        }
        Stride::ToeTap(taps) => {
            // Before the load: each tap sets the foot a little back and rests on it for a moment.
            let each = 0.16;
            let rest = dice.between(0.05, 0.09);
            let n = usize::from(taps.clamp(1, 3));
            for i in 0..n {
                let down_s = off - rest - (n - 1 - i) as f64 * (each + 0.06);
                let off_s = down_s - each;
                let to_x = from_x - dice.between(0.025, 0.05);
                hops.push(Hop { off_s, down_s, from_x, back: 0.0, to_x, peak: dice.between(0.018, 0.035) });
                from_x = to_x;
                if i == 0 {
                    pitch = pitch.by(off_s - 0.06, off_s + 0.08, deg(12.0));
                }
            }
        }
        Stride::Low | Stride::Kick => {}
    }
    let back = if s.stride == Stride::Kick { 0.3 * s.foot_peak } else { 0.015 };
    hops.push(Hop { off_s: off, down_s: touch, from_x, back, to_x: plant_x, peak: s.foot_peak });
    let pitch = pitch.to(off - 0.07, off + 0.1, deg(26.0)).to(off + 0.1, touch, landing);
    (pitch, hops)
}
