use serde::{Deserialize, Serialize};

use super::Point;

/// Two points marked in the clip's first picture, and how far apart they truly are.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct KnownLength {
    /// px of the upright picture, from its upper left corner.
    pub from: Point,
    pub to: Point,
    /// cm.
    pub cm: f64,
}
