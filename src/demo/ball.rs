use serde::{Deserialize, Serialize};

use super::swing::Swing;
use super::v3::{V3, v3};

/// Where the ball comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BallSource {
    /// It rests on a tee.
    Tee,
    /// Tossed underhand from the front, 7 m/s.
    Toss,
    /// Pitched or from a machine.
    Pitch {
        /// Along the pitch.
        speed_m_s: f64,
    },
}

const GRAVITY_M_S2: f64 = 9.81;
/// Half of 73.7 mm, the middle of what Official Baseball Rules 3.01 allows.
pub const BALL_RADIUS_M: f64 = 0.0369;
const BARREL_RADIUS_M: f64 = 0.032;

/// The ball's way to the bat and off it. Contact is exact: at time 0 its skin lies on the barrel.
pub struct Flight {
    met: V3,
    before: Option<V3>,
    /// The ball does not exist before it is let go, s from contact.
    from_s: f64,
    after: V3,
}

impl Flight {
    pub(crate) fn new(swing: &Swing, source: BallSource) -> Self {
        let bat = swing.bat_velocity();
        let met = swing.contact_point() + bat.unit() * (BALL_RADIUS_M + BARREL_RADIUS_M);
        let (before, from_s) = match source {
            BallSource::Tee => (None, f64::NEG_INFINITY),
            BallSource::Toss => (Some(v3(-7.0, 0.0, -1.2)), -0.45),
            BallSource::Pitch { speed_m_s } => {
                (Some(v3(-speed_m_s, 0.0, -0.08 * speed_m_s)), -17.0 / speed_m_s.max(5.0))
            }
        };
        // Off the bat: mostly where the barrel was going, a little faster than it, lifted somewhat.
        let way = (bat.unit() + v3(0.35, 0.0, 0.12)).unit();
        Self { met, before, from_s, after: way * (1.15 * bat.length()) }
    }

    /// Middle of the ball `t_s` from contact, m; `None` before it is let go and after it hit the ground.
    pub fn at(&self, t_s: f64) -> Option<V3> {
        if t_s < self.from_s {
            return None;
        }
        let v = if t_s < 0.0 { self.before.unwrap_or(V3::ZERO) } else { self.after };
        let fall = if v == V3::ZERO { 0.0 } else { 0.5 * GRAVITY_M_S2 * t_s * t_s };
        let p = self.met + v * t_s - v3(0.0, 0.0, fall);
        (p.z > BALL_RADIUS_M).then_some(p)
    }

    pub(crate) fn met(&self) -> V3 {
        self.met
    }
}
