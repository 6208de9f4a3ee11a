//! What a person, a bat and a ball are made of: round cones.

use crate::demo::figure::Figure;
use crate::demo::scenario::{Outfit, Rgb};
use crate::demo::v3::V3;
use crate::types::{Part, Side};

/// Colour in display values, 0…255.
pub type Colour = [f32; 3];

/// Two balls and the skin stretched over them.
#[derive(Debug, Clone, Copy)]
pub struct Solid {
    pub from: V3,
    pub to: V3,
    /// m.
    pub from_r: f64,
    pub to_r: f64,
    pub colour: Colour,
    /// 0 = cloth, 1 = lacquer.
    pub gloss: f32,
    /// Solids of one cloth flow into each other; 0 = never.
    pub cloth: u8,
    /// Kept only where it lies on the right side of these.
    pub cut: Option<Cut>,
    pub also: Option<Cut>,
}

/// A plane through `at`: a helmet's lower edge, a belt line. What lies on the normal's side is kept.
#[derive(Debug, Clone, Copy)]
pub struct Cut {
    pub at: V3,
    pub normal: V3,
}

impl Solid {
    fn new(from: V3, from_r: f64, to: V3, to_r: f64, colour: Rgb, cloth: u8) -> Self {
        Self {
            from,
            to,
            from_r,
            to_r,
            colour: colour.map(f32::from),
            gloss: 0.0,
            cloth,
            cut: None,
            also: None,
        }
    }

    pub fn ball(at: V3, r: f64, colour: Rgb) -> Self {
        Self::new(at, r, at, r, colour, 0)
    }

    fn glossy(mut self, gloss: f32) -> Self {
        self.gloss = gloss;
        self
    }

    fn cut(mut self, cut: Cut) -> Self {
        self.cut = Some(cut);
        self
    }
}

const JERSEY: u8 = 1;
const PANTS: u8 = 2;
const SKIN: u8 = 3;
const SHOE: u8 = 4;
const HELMET: u8 = 5;
const GLOVE: u8 = 6;
const BAT: u8 = 7;
const BELT: u8 = 8;
const SOLE: u8 = 9;

/// How a person is dressed up from points.
pub struct Body<'a> {
    pub look: &'a Outfit,
    pub height_m: f64,
    pub build: f64,
    /// The side whose ear the helmet covers.
    pub bats: Side,
}

impl Body<'_> {
    pub fn solids(&self, f: &Figure, out: &mut Vec<Solid>) {
        self.trunk(f, out);
        for left in [true, false] {
            self.leg(f, left, out);
            self.arm(f, left, out);
        }
        self.head(f, out);
        if let Some(bat) = f.bat {
            let length = bat.tip.distance(bat.knob);
            let at = |share: f64| bat.knob.lerp(bat.tip, share);
            // Ends of the round cones lie their radius inside the bat's own ends.
            let tip = bat.at(length - 0.03);
            for (a, ra, b, rb, c) in [
                (at(0.012), 0.023, at(0.016), 0.021, [120, 84, 50]),
                (at(0.02), 0.0145, at(0.32), 0.0135, [58, 50, 46]),
                (at(0.32), 0.0128, at(0.52), 0.0175, self.look.bat),
                (at(0.52), 0.0175, at(0.74), 0.031, self.look.bat),
                (at(0.74), 0.031, tip, 0.0325, self.look.bat),
            ] {
                let cloth = if c == self.look.bat { BAT } else { 0 };
                out.push(Solid::new(a, ra, b, rb, c, cloth).glossy(0.5));
            }
        }
    }

    fn trunk(&self, f: &Figure, out: &mut Vec<Solid>) {
        use Part::*;
        let h = self.height_m;
        let k = h * self.build;
        let loose = h * 0.007 * self.look.baggy;
        let c = self.look.jersey;
        let (ls, rs) = (f.at(LeftShoulder), f.at(RightShoulder));
        let across = (ls - rs).unit();
        let spine = (f.chest - f.pelvis).unit();
        let hips = (f.at(LeftHip) - f.at(RightHip)).unit();
        let waist = f.pelvis.lerp(f.chest, 0.36);
        let waist_across = (across + hips).unit();
        // The shirt is tucked in: cloth over the belt, pants under it.
        let belt = f.pelvis + spine * (0.034 * h);
        let above = Cut { at: belt, normal: spine };
        let below = Cut { at: belt + spine * (0.004 * h), normal: -spine };
        let pants = self.look.pants;
        for s in [1.0, -1.0] {
            let top = f.chest + across * (s * 0.046 * h) - spine * (0.052 * h);
            let mid = waist + waist_across * (s * 0.030 * h);
            let low = f.pelvis + hips * (s * 0.035 * h) + spine * (0.020 * h);
            let (top_r, mid_r, low_r) = (0.064 * k + loose, 0.055 * k + 1.3 * loose, 0.057 * k + 1.5 * loose);
            out.push(Solid::new(top, top_r, mid, mid_r, c, JERSEY));
            out.push(Solid::new(mid, mid_r, low, low_r, c, JERSEY).cut(above));
            // Shoulder slope and cap.
            let shoulder = if s > 0.0 { ls } else { rs };
            let neck = f.chest + spine * (0.012 * h) + across * (s * 0.02 * h);
            out.push(Solid::new(
                neck,
                0.036 * k,
                shoulder - across * (s * 0.012 * h),
                0.037 * k + loose,
                c,
                JERSEY,
            ));
            // Hips and seat.
            let hip = f.at(if s > 0.0 { LeftHip } else { RightHip });
            let seat = low - f.pelvis_face * (0.010 * h) - spine * (0.030 * h);
            out.push(Solid::new(low, low_r, seat, 0.058 * k, pants, PANTS).cut(below));
            out.push(Solid::new(seat, 0.057 * k + loose, hip, 0.050 * k + loose, pants, PANTS).cut(below));
        }
        let middle = f.pelvis - f.pelvis_face * (0.008 * h);
        out.push(
            Solid::new(
                middle,
                0.060 * k + loose,
                middle - spine * (0.016 * h),
                0.058 * k + loose,
                pants,
                PANTS,
            )
            .cut(below),
        );
        // Spine and breastbone: without them the trunk is two bolsters.
        let deep = f.chest - spine * (0.060 * h);
        out.push(Solid::new(deep, 0.061 * k + loose, waist, 0.055 * k + 1.3 * loose, c, JERSEY));
        // Between the shoulders, up to the collar.
        out.push(Solid::new(
            f.chest - spine * (0.050 * h),
            0.056 * k + loose,
            f.chest + spine * (0.006 * h),
            0.042 * k,
            c,
            JERSEY,
        ));
        let half = hips * (0.035 * h);
        let r = 0.0576 * k + 1.5 * loose;
        let strap = Cut { at: belt - spine * (0.010 * h), normal: spine };
        let mut buckle = Solid::new(belt - half, r, belt + half, r, self.look.shoes, BELT).cut(strap);
        buckle.also = Some(Cut { at: belt + spine * (0.006 * h), normal: -spine });
        out.push(buckle);
    }

    fn leg(&self, f: &Figure, left: bool, out: &mut Vec<Solid>) {
        use Part::*;
        let [hip, knee, ankle, heel, toe] = [LeftHip, LeftKnee, LeftAnkle, LeftHeel, LeftToe]
            .map(|p| f.at(if left { p } else { p.other_side() }));
        let h = self.height_m;
        let k = h * self.build;
        let loose = h * 0.010 * self.look.baggy;
        let pants = self.look.pants;
        let thigh = hip.lerp(knee, 0.12);
        out.push(Solid::new(thigh, 0.054 * k + loose, knee, 0.035 * k + loose, pants, PANTS));
        let back = (ankle - knee).unit();
        let behind = (hip - knee).unit().without(back);
        let calf = knee.lerp(ankle, 0.34) + behind.unit() * (0.006 * h * behind.length().min(1.0));
        let hem = knee.lerp(ankle, 0.62);
        out.push(Solid::new(knee, 0.035 * k + loose, calf, 0.0345 * k + loose, pants, PANTS));
        out.push(Solid::new(calf, 0.0345 * k + loose, hem, 0.0285 * k + loose, pants, PANTS));
        out.push(Solid::new(hem, 0.0265 * k, ankle, 0.0205 * k, self.look.socks, 0));
        // Shoe: heel to ball, ball to toe, and the instep up to the ankle.
        let along = (toe - heel).unit();
        let up = (ankle - heel).without(along).unit();
        let (hl, tl) = (heel + up * (0.004 * h) + along * (0.014 * h), toe - along * (0.012 * h));
        // Two side by side: a shoe is wider than high, most of all at the ball.
        let side = along.cross(up).unit();
        for s in [1.0, -1.0] {
            let (a, b) = (hl + side * (s * 0.004 * h), tl + side * (s * 0.0105 * h));
            let ball = a.lerp(b, 0.72) + side * (s * 0.0025 * h) + up * (0.001 * h);
            out.push(Solid::new(a, 0.0165 * h, ball, 0.0155 * h, self.look.shoes, SHOE).glossy(0.25));
            out.push(Solid::new(ball, 0.0155 * h, b, 0.0125 * h, self.look.shoes, SHOE).glossy(0.25));
            let (a, b) = (a - up * (0.013 * h), ball - up * (0.012 * h) + along * (0.004 * h));
            out.push(Solid::new(a, 0.007 * h, b, 0.008 * h, [214, 212, 208], SOLE));
        }
        let instep = tl.lerp(hl, 0.35) + up * (0.008 * h);
        out.push(
            Solid::new(ankle - up * (0.004 * h), 0.022 * h, instep, 0.0175 * h, self.look.shoes, SHOE)
                .glossy(0.25),
        );
    }

    fn arm(&self, f: &Figure, left: bool, out: &mut Vec<Solid>) {
        use Part::*;
        let [shoulder, elbow, wrist, hand] = [LeftShoulder, LeftElbow, LeftWrist, LeftHand]
            .map(|p| f.at(if left { p } else { p.other_side() }));
        let h = self.height_m;
        let k = h * self.build;
        let loose = h * 0.012 * self.look.baggy;
        let hem = shoulder.lerp(elbow, 0.70);
        out.push(Solid::new(
            shoulder,
            0.036 * k + 0.5 * loose,
            hem,
            0.0305 * k + loose,
            self.look.sleeves,
            JERSEY,
        ));
        out.push(Solid::new(hem, 0.0255 * k, elbow, 0.0225 * k, self.look.skin, SKIN));
        let bulge = elbow.lerp(wrist, 0.25);
        out.push(Solid::new(elbow, 0.0225 * k, bulge, 0.0245 * k, self.look.skin, SKIN));
        out.push(Solid::new(bulge, 0.0245 * k, wrist, 0.0158 * k, self.look.skin, SKIN));
        out.push(Solid::new(wrist.lerp(hand, 0.1), 0.0175 * h, hand, 0.0215 * h, self.look.gloves, GLOVE));
    }

    fn head(&self, f: &Figure, out: &mut Vec<Solid>) {
        let h = self.height_m;
        let head = f.head;
        let at = |face: f64, left: f64, up: f64| {
            head.centre + (head.face * face + head.left * left + head.up * up) * h
        };
        let skin = self.look.skin;
        out.push(Solid::new(
            f.chest - head.up * (0.005 * h),
            0.033 * h,
            at(-0.006, 0.0, -0.035),
            0.031 * h,
            skin,
            SKIN,
        ));
        out.push(Solid::new(
            at(-0.004, 0.0, 0.014),
            0.0535 * h,
            at(0.018, 0.0, -0.032),
            0.0385 * h,
            skin,
            SKIN,
        ));
        // Chin, nose, ears.
        out.push(Solid::new(at(0.024, 0.0, -0.044), 0.026 * h, at(0.020, 0.0, -0.03), 0.032 * h, skin, SKIN));
        out.push(Solid::new(
            at(0.052, 0.0, 0.004),
            0.006 * h,
            at(0.0575, 0.0, -0.012),
            0.0085 * h,
            skin,
            SKIN,
        ));
        for s in [1.0, -1.0] {
            out.push(Solid::new(
                at(-0.004, s * 0.046, 0.006),
                0.011 * h,
                at(0.0, s * 0.044, -0.012),
                0.008 * h,
                skin,
                SKIN,
            ));
            // Eye: white, iris, lid line (the brow).
            out.push(Solid::new(
                at(0.0445, s * 0.0215, 0.004),
                0.0078 * h,
                at(0.0460, s * 0.0165, 0.004),
                0.0078 * h,
                [238, 234, 228],
                0,
            ));
            out.push(Solid::ball(at(0.0492, s * 0.0188, 0.0042), 0.0056 * h, [36, 26, 22]));
            out.push(Solid::new(
                at(0.0445, s * 0.027, 0.0145),
                0.0033 * h,
                at(0.0500, s * 0.011, 0.0150),
                0.0037 * h,
                [64, 44, 34],
                0,
            ));
        }
        let lip = [158, 82, 74];
        out.push(Solid::new(
            at(0.0490, 0.013, -0.0335),
            0.0034 * h,
            at(0.0522, 0.0, -0.0345),
            0.0042 * h,
            lip,
            0,
        ));
        out.push(Solid::new(
            at(0.0522, 0.0, -0.0345),
            0.0042 * h,
            at(0.0490, -0.013, -0.0335),
            0.0034 * h,
            lip,
            0,
        ));
        // Helmet: a shell down to the brow in front and to the nape behind, a flap over the ear that
        // looks to the pitcher, a brim.
        let c = self.look.helmet;
        let cut = Cut { at: at(0.030, 0.0, 0.0245), normal: (head.up - head.face * 0.5).unit() };
        out.push(
            Solid::new(at(-0.006, 0.0, 0.020), 0.0615 * h, at(0.004, 0.0, 0.019), 0.0605 * h, c, HELMET)
                .glossy(0.9)
                .cut(cut),
        );
        let s = if self.bats == Side::Right { 1.0 } else { -1.0 };
        out.push(
            Solid::new(
                at(0.004, s * 0.043, 0.010),
                0.021 * h,
                at(0.009, s * 0.040, -0.018),
                0.017 * h,
                c,
                HELMET,
            )
            .glossy(0.9),
        );
        if self.look.face_guard {
            // A dark guard from the ear flaps round the face: brow, cheeks, mouth and chin are behind it.
            let dark = [34, 34, 38];
            for (up, out_to) in [(0.008, 0.066), (-0.010, 0.068), (-0.028, 0.066), (-0.046, 0.058)] {
                for side in [-1.0, 1.0] {
                    let (front, ear) = (at(out_to, side * 0.008, up), at(0.024, side * 0.047, up));
                    out.push(Solid::new(front, 0.0105 * h, ear, 0.0105 * h, dark, 0));
                }
            }
        }
        for side in [-1.0, -0.5, 0.0, 0.5, 1.0_f64] {
            let out_to = 0.099 - 0.014 * side * side;
            out.push(
                Solid::new(
                    at(0.046, side * 0.032, 0.0275),
                    0.007 * h,
                    at(out_to, side * 0.030, 0.021),
                    0.0052 * h,
                    c,
                    HELMET,
                )
                .glossy(0.6),
            );
        }
    }
}
