use serde::{Deserialize, Serialize};

use super::Point;

/// The ball's flight about contact, as seen from the side.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BallFlight {
    /// When its way in (or its place on a tee) meets its way off the bat, real s.
    pub contact_s: f64,
    /// 95 % error of that, s.
    pub plus_minus_s: f64,
    /// Its speed off the bat across the picture, steady px a second: no more than a part of its true speed.
    pub off_bat_px_s: f64,
    /// Where it was seen: real s, steady px.
    pub path: Vec<(f64, Point)>,
}
