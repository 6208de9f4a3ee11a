use serde::{Deserialize, Serialize};

use super::{Delivery, Hitter, PitcherSide, Point, Side};

/// Two points marked in the clip's first picture, and how far apart they truly are.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct KnownLength {
    /// px of the upright picture, from its upper left corner.
    pub from: Point,
    /// Its other end, px of the first picture.
    pub to: Point,
    /// cm.
    pub cm: f64,
}

/// What a person said of the hitter; what they did not say is `None` and found in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct KnownHitter {
    /// Which side he bats from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bats: Option<Side>,
    /// On which side of the picture the pitcher is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pitcher: Option<PitcherSide>,
    /// How the ball comes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ball: Option<Delivery>,
}

impl KnownHitter {
    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Whether `hitter` is as was said.
    pub fn allows(&self, hitter: &Hitter) -> bool {
        self.bats.is_none_or(|b| b == hitter.bats) && self.pitcher.is_none_or(|p| p == hitter.pitcher_side)
    }

    /// What is said here, else what `earlier` says.
    pub fn or(self, earlier: Self) -> Self {
        Self {
            bats: self.bats.or(earlier.bats),
            pitcher: self.pitcher.or(earlier.pitcher),
            ball: self.ball.or(earlier.ball),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::View;

    fn known(bats: Option<Side>, pitcher: Option<PitcherSide>) -> KnownHitter {
        KnownHitter { bats, pitcher, ball: None }
    }

    #[test]
    fn what_is_said_now_wins_and_the_rest_stays() {
        let before = known(Some(Side::Left), Some(PitcherSide::Away));
        assert_eq!(known(None, None).or(before), before);
        assert_eq!(
            known(Some(Side::Right), None).or(before),
            known(Some(Side::Right), Some(PitcherSide::Away))
        );
        let now = known(Some(Side::Right), Some(PitcherSide::Left));
        assert_eq!(now.or(before), now);
        assert_eq!(before.or(known(None, None)), before);
        assert!(known(None, None).is_empty() && !before.is_empty());
    }

    #[test]
    fn only_what_was_said_is_asked_for() {
        let hitter = Hitter { bats: Side::Right, pitcher_side: PitcherSide::Left, view: View::ClosedSide };
        for (bats, pitcher, allowed) in [
            (None, None, true),
            (Some(Side::Right), None, true),
            (Some(Side::Left), None, false),
            (None, Some(PitcherSide::Left), true),
            (None, Some(PitcherSide::Right), false),
            (None, Some(PitcherSide::Toward), false),
            (Some(Side::Right), Some(PitcherSide::Left), true),
            (Some(Side::Right), Some(PitcherSide::Away), false),
            (Some(Side::Left), Some(PitcherSide::Left), false),
        ] {
            assert_eq!(known(bats, pitcher).allows(&hitter), allowed, "{bats:?} {pitcher:?}");
        }
    }

    /// Sidecars of before know nothing of it, and nothing said leaves nothing behind.
    #[test]
    fn what_was_not_said_is_not_written() {
        assert_eq!(serde_json::to_string(&known(None, None)).unwrap(), "{}");
        let said = known(Some(Side::Left), Some(PitcherSide::Toward));
        let text = serde_json::to_string(&said).unwrap();
        assert_eq!(text, r#"{"bats":"left","pitcher":"toward"}"#);
        assert_eq!(serde_json::from_str::<KnownHitter>(&text).unwrap(), said);
        assert_eq!(serde_json::from_str::<KnownHitter>("{}").unwrap(), known(None, None));
    }
}
