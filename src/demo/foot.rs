use super::hitter::Limbs;
use super::v3::V3;

/// Shoe soles hold the foot points over the ground, m.
pub const TOE_Z_M: f64 = 0.022;

/// A rigid foot: toe, heel and ankle keep their distances.
#[derive(Clone, Copy)]
pub struct Foot {
    pub toe: V3,
    pub heel: V3,
    pub ankle: V3,
    pub forward: V3,
}

impl Foot {
    pub fn new(toe: V3, yaw: f64, pitch: f64, h: f64, l: &Limbs) -> Self {
        let forward = V3::heading(yaw);
        let back = -forward * pitch.cos() + V3::UP * pitch.sin();
        let up = forward * pitch.sin() + V3::UP * pitch.cos();
        let foot = l.foot * h;
        let ankle = toe + back * (0.76 * foot) + up * (l.ankle_height * h);
        Self { toe, heel: toe + back * foot, ankle, forward }
    }

    pub fn shifted(self, by: V3) -> Self {
        Self { toe: self.toe + by, heel: self.heel + by, ankle: self.ankle + by, ..self }
    }
}
