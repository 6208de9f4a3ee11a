//! How a made-up hitter swings, and when.

use serde::{Deserialize, Serialize};

use super::dice::Dice;

/// What the front foot does.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stride {
    /// Low and short in the air.
    Low,
    /// Knee lifted high first.
    Kick,
    /// The foot is set back and touches this many times before the stride.
    ToeTap(u8),
    /// The toe stays on the ground, only the heel rises: no foot_off and no touch.
    None,
}

/// How someone swings. Lengths in body heights, angles in degrees. See [`Style::default`] for a plain
/// swing and [`Style::varied`] for the spread.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Style {
    pub(crate) stride: Stride,
    /// Toe to toe along the line to the pitcher, at stance.
    pub stance_width: f64,
    /// Toe to toe at plant. Welch's stride of about 85 cm (3.8 hip widths) is this distance.
    pub plant_width: f64,
    /// Highest point of the front toe.
    pub foot_peak: f64,
    /// Front foot farther from the plate than the rear one at stance (an open stance), taken back by the stride.
    pub open_stance: f64,
    /// Pelvis travel away from the pitcher in the load.
    pub load_back: f64,
    /// Hands over the shoulder line at stance.
    pub hands_height: f64,
    /// Hands' travel back in the load.
    pub hands_back: f64,
    /// How long after the hands' start they begin to go down, s; negative = before. Later is a flatter
    /// or rising start of the path.
    pub drop_delay_s: f64,
    /// Rise of the hands at the start of the swing.
    pub hitch: f64,
    /// How far both hands drop while the weight goes back; they are up again at plant.
    pub hands_drop: f64,
    /// Front knee at plant, at its deepest after plant, and at contact; straight is 180.
    pub knee_plant_deg: f64,
    pub(crate) knee_deep_deg: f64,
    /// Hip–knee–ankle angle of the front leg at contact; straight is 180.
    pub knee_contact_deg: f64,
    /// Height of the rear toe at contact.
    pub rear_lift: f64,
    /// Extra head travel to the pitcher between plant and contact.
    pub head_drift: f64,
    /// Trunk's bend to the plate at stance.
    pub bend_deg: f64,
    /// Trunk's lean away from the pitcher at contact.
    pub lean_back_deg: f64,
    /// Turn of pelvis and shoulders back in the load.
    pub coil_deg: f64,
    /// Pelvis and shoulders at contact; 0 = side on, 90 = belly to the pitcher.
    pub pelvis_contact_deg: f64,
    pub(crate) shoulders_contact_deg: f64,
    /// Front shoulder over the rear one at contact.
    pub shoulder_rise_deg: f64,
    /// Bat's direction at contact; 0 = square to the pitcher, + = pulled.
    pub bat_heading_deg: f64,
    /// Barrel below the hands at contact.
    pub bat_slope_deg: f64,
    /// Bat's angle to the level at stance.
    pub bat_stance_deg: f64,
    /// The rear hand lets go after extension.
    pub one_hand: bool,
    /// It does so this long after extension, s.
    pub let_go_s: f64,
    /// How long the weight stays back before it goes forward, s.
    pub hold_s: f64,
    /// Shoulders and hands are at their fastest so much sooner, s; the barrel is not: it comes late.
    pub early_s: f64,
    /// Shoulders' turn after contact, and the share of the time to the finish that it takes.
    pub follow_deg: f64,
    pub(crate) follow_share: f64,
    /// The hands at the finish from the chest: to the front shoulder, out of the chest, up.
    pub finish_hands: [f64; 3],
    /// Small play of bat and hands at stance; 1 = usual, 0 = frozen.
    pub waggle: f64,
}

impl Default for Style {
    fn default() -> Self {
        Self {
            stride: Stride::Low,
            stance_width: 0.30,
            plant_width: 0.47,
            foot_peak: 0.06,
            open_stance: 0.02,
            load_back: 0.035,
            hands_height: 0.015,
            hands_back: 0.045,
            drop_delay_s: 0.0,
            hitch: 0.0,
            hands_drop: 0.0,
            knee_plant_deg: 152.0,
            knee_deep_deg: 138.0,
            knee_contact_deg: 163.0,
            rear_lift: 0.012,
            head_drift: 0.0,
            bend_deg: 20.0,
            lean_back_deg: 14.0,
            coil_deg: 14.0,
            pelvis_contact_deg: 76.0,
            shoulders_contact_deg: 62.0,
            shoulder_rise_deg: 10.0,
            bat_heading_deg: 4.0,
            bat_slope_deg: 24.0,
            bat_stance_deg: 58.0,
            one_hand: false,
            let_go_s: 0.06,
            hold_s: 0.0,
            early_s: 0.0,
            follow_deg: 20.0,
            follow_share: 0.9,
            finish_hands: [0.162, 0.104, 0.088],
            waggle: 1.0,
        }
    }
}

impl Style {
    /// Someone else's swing: every trait drawn anew over the range seen among hitters (common practice).
    pub fn varied(dice: &mut Dice) -> Self {
        let stride = match (dice.unit() * 10.0) as u8 {
            0..4 => Stride::Low,
            4..7 => Stride::Kick,
            7..9 => Stride::ToeTap(1 + u8::from(dice.unit() > 0.5)),
            _ => Stride::None,
        };
        let mut s = Self::default().with_stride(stride, dice);
        s.open_stance = dice.between(-0.02, 0.07);
        s.load_back = dice.between(0.02, 0.05);
        s.hands_height = dice.between(-0.03, 0.06);
        s.hands_back = dice.between(0.02, 0.055);
        s.drop_delay_s = dice.between(-0.015, 0.035);
        s.hitch = if dice.unit() < 0.25 { dice.between(0.01, 0.03) } else { 0.0 };
        s.knee_plant_deg = dice.between(145.0, 160.0);
        s.knee_deep_deg = s.knee_plant_deg - dice.between(4.0, 22.0);
        s.knee_contact_deg = dice.between(148.0, 172.0);
        s.rear_lift = if dice.unit() < 0.4 { 0.0 } else { dice.between(0.005, 0.035) };
        s.head_drift = dice.between(-0.01, 0.035);
        s.bend_deg = dice.between(14.0, 26.0);
        s.lean_back_deg = dice.between(7.0, 20.0);
        s.coil_deg = dice.between(6.0, 22.0);
        s.pelvis_contact_deg = dice.between(62.0, 86.0);
        s.shoulders_contact_deg = s.pelvis_contact_deg - dice.between(8.0, 20.0);
        s.shoulder_rise_deg = dice.between(3.0, 18.0);
        s.bat_heading_deg = dice.between(-18.0, 22.0);
        s.bat_slope_deg = dice.between(14.0, 34.0);
        s.bat_stance_deg = dice.between(38.0, 75.0);
        s.one_hand = dice.unit() < 0.3;
        s.waggle = dice.between(0.0, 1.5);
        s
    }

    /// Someone else's swing from wider ranges than [`Style::varied`]'s, of which the reader knows nothing. Where no
    /// source is named it is common practice that such hitters exist.
    ///
    /// - Turn at contact and after it, and the hands' way round the body: computed from three motion-captured
    ///   swings, where shoulders turn some 100° to contact and 70° on in 0.17 s, the hands are fastest 48–64 ms
    ///   before contact, and in the picture often faster after it than before.
    /// - Stride: Welch et al. 1995, about 85 cm (from memory, unconfirmed), with the short and the long about it.
    /// - The pause: foot up to foot down 762 ms in six hitters (computed from motion capture), against some 400 here.
    pub fn wide(dice: &mut Dice) -> Self {
        let mut s = Self::varied(dice);
        if s.stride == Stride::None {
            s.stance_width = dice.between(0.36, 0.54);
        } else {
            s.stance_width = dice.between(0.18, 0.42);
            s.plant_width = (s.stance_width + dice.between(0.05, 0.38)).min(0.62);
        }
        s.hold_s = if dice.unit() < 0.35 { dice.between(0.1, 0.35) } else { 0.0 };
        s.early_s = dice.between(0.0, 0.05);
        s.pelvis_contact_deg = dice.between(62.0, 95.0);
        s.shoulders_contact_deg = s.pelvis_contact_deg + dice.between(-20.0, 6.0);
        // Most of them swing on round the body at once, the others let it run out.
        let (turn, share) =
            if dice.unit() < 0.6 { ((70.0, 110.0), (0.34, 0.5)) } else { ((20.0, 60.0), (0.6, 0.9)) };
        s.follow_deg = dice.between(turn.0, turn.1);
        s.follow_share = dice.between(share.0, share.1);
        s.one_hand = dice.unit() < 0.5;
        s.let_go_s = dice.between(0.02, 0.10);
        s.finish_hands = if s.one_hand {
            [dice.between(0.29, 0.39), dice.between(0.0, 0.12), dice.between(-0.05, 0.10)]
        } else {
            [dice.between(0.17, 0.21), dice.between(0.17, 0.22), dice.between(0.05, 0.12)]
        };
        s
    }

    /// The same style with another stride, and widths and lift that go with it.
    pub fn with_stride(mut self, stride: Stride, dice: &mut Dice) -> Self {
        let (stance, plant, peak) = match stride {
            Stride::Low => ((0.24, 0.36), (0.42, 0.54), (0.03, 0.09)),
            Stride::Kick => ((0.20, 0.30), (0.42, 0.54), (0.12, 0.21)),
            Stride::ToeTap(_) => ((0.26, 0.36), (0.42, 0.52), (0.04, 0.10)),
            Stride::None => ((0.40, 0.48), (0.0, 0.0), (0.0, 0.0)),
        };
        self.stride = stride;
        self.stance_width = dice.between(stance.0, stance.1);
        self.plant_width = dice.between(plant.0, plant.1).max(self.stance_width);
        self.foot_peak = dice.between(peak.0, peak.1);
        self
    }

    /// The same hitter's next rep: small changes, about what differs between a good hitter's swings.
    pub fn next_rep(mut self, dice: &mut Dice) -> Self {
        self.plant_width = (self.plant_width + 0.006 * dice.bell()).max(self.stance_width);
        self.load_back += 0.003 * dice.bell();
        self.hands_height += 0.004 * dice.bell();
        self.hands_back += 0.003 * dice.bell();
        self.drop_delay_s += 0.004 * dice.bell();
        self.knee_plant_deg += 1.5 * dice.bell();
        self.knee_deep_deg += 1.5 * dice.bell();
        self.knee_contact_deg += 1.5 * dice.bell();
        self.rear_lift = (self.rear_lift + 0.002 * dice.bell()).max(0.0);
        self.head_drift += 0.003 * dice.bell();
        self.coil_deg += 1.0 * dice.bell();
        self.pelvis_contact_deg += 1.5 * dice.bell();
        self.shoulders_contact_deg += 1.5 * dice.bell();
        self.bat_heading_deg += 4.0 * dice.bell();
        self.bat_slope_deg += 2.0 * dice.bell();
        self
    }
}

/// When things are meant to happen, s before contact (the last two: after it). The truth is not these
/// numbers but what the finished motion does: see [`super::Swing::events`].
///
/// Defaults: foot off and plant 0.575 / 0.175–0.2 (Welch et al. 1995, from memory, unconfirmed), hands
/// about 0.15 (Adair), touch some 30–80 ms before plant, the rest common practice.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Timing {
    /// The weight begins to move back.
    pub move_s: f64,
    pub(crate) load_s: f64,
    pub(crate) foot_off_s: f64,
    /// The front foot's first touch, s before contact.
    pub touch_s: f64,
    /// The front foot is loaded, s before contact.
    pub plant_s: f64,
    pub(crate) hands_s: f64,
    pub(crate) extension_s: f64,
    pub(crate) finish_s: f64,
}

impl Default for Timing {
    fn default() -> Self {
        Self {
            move_s: 1.05,
            load_s: 0.62,
            foot_off_s: 0.575,
            touch_s: 0.235,
            plant_s: 0.185,
            hands_s: 0.152,
            extension_s: 0.07,
            finish_s: 0.42,
        }
    }
}

impl Timing {
    /// Another hitter's tempo.
    pub fn varied(dice: &mut Dice) -> Self {
        let plant_s = dice.between(0.165, 0.215);
        let foot_off_s = dice.between(0.48, 0.68);
        let load_s = foot_off_s + dice.between(-0.01, 0.09);
        Self {
            move_s: load_s + dice.between(0.3, 0.5),
            load_s,
            foot_off_s,
            touch_s: plant_s + dice.between(0.03, 0.075),
            plant_s,
            hands_s: (plant_s - dice.between(0.005, 0.045)).clamp(0.135, 0.19),
            extension_s: dice.between(0.052, 0.09),
            finish_s: dice.between(0.35, 0.5),
        }
    }

    /// Another hitter's tempo from wider ranges than [`Timing::varied`]'s.
    ///
    /// Plant: foot down to impact 130 ± 17 ms between six hitters with 9–22 ms from swing to swing (computed from
    /// motion capture), 175 ms in Welch et al. 1995 (from memory, unconfirmed), with room about both. Touch to plant:
    /// 27–78 ms from 10 % to 100 % of body weight in three swings (computed), with room. Hands: 141 ms (computed),
    /// 150 ms (Adair), 208 ± 42 ms in softball (Reilly-Boccia). Foot off: 575 ms (Welch, from memory), 896 ± 215 ms
    /// (computed).
    pub fn wide(dice: &mut Dice) -> Self {
        let plant_s = dice.between(0.08, 0.25);
        let touch_s = plant_s + dice.between(0.02, 0.12);
        let foot_off_s = dice.between(0.45, 1.1).max(touch_s + 0.2);
        let load_s = foot_off_s + dice.between(-0.01, 0.09);
        Self {
            move_s: load_s + dice.between(0.25, 0.6),
            load_s,
            foot_off_s,
            touch_s,
            plant_s,
            // Begun nearer to contact they would have to be faster than hands are.
            hands_s: (plant_s + dice.between(-0.06, 0.06)).clamp(0.135, 0.26),
            extension_s: dice.between(0.045, 0.095),
            finish_s: dice.between(0.28, 0.55),
        }
    }

    /// The same hitter's next rep.
    pub fn next_rep(mut self, dice: &mut Dice) -> Self {
        let stride = 0.018 * dice.bell();
        self.move_s += stride + 0.02 * dice.bell();
        self.load_s += stride + 0.008 * dice.bell();
        self.foot_off_s += stride;
        let plant = 0.006 * dice.bell();
        self.touch_s += plant + 0.003 * dice.bell();
        self.plant_s += plant;
        self.hands_s += 0.4 * plant + 0.003 * dice.bell();
        self.extension_s += 0.003 * dice.bell();
        self.finish_s += 0.01 * dice.bell();
        self
    }
}
