use serde::{Deserialize, Serialize};

use super::{Hitter, PitcherSide, Point, Side};

/// Two points marked in the clip's first picture, and how far apart they truly are.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct KnownLength {
    /// px of the upright picture, from its upper left corner.
    pub from: Point,
    pub to: Point,
    /// cm.
    pub cm: f64,
}

/// What a person said of the hitter; what they did not say is `None` and found in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct KnownHitter {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bats: Option<Side>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pitcher: Option<PitcherSide>,
}

impl KnownHitter {
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    pub fn allows(&self, hitter: &Hitter) -> bool {
        self.bats.is_none_or(|b| b == hitter.bats) && self.pitcher.is_none_or(|p| p == hitter.pitcher_side)
    }

    /// What is said here, else what `earlier` says.
    pub fn or(self, earlier: Self) -> Self {
        Self { bats: self.bats.or(earlier.bats), pitcher: self.pitcher.or(earlier.pitcher) }
    }
}
