//! What a person shows in a clip's pictures.

use serde::{Deserialize, Serialize};

use super::{KnownLength, Part, Point};

/// A point of the body that a person can move. Left and right are the hitter's own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BodyPoint {
    /// Its middle.
    Head,
    /// Both, on the handle: halfway between them.
    Hands,
    #[expect(missing_docs, reason = "the name says it")]
    LeftHeel,
    #[expect(missing_docs, reason = "the name says it")]
    LeftToe,
    #[expect(missing_docs, reason = "the name says it")]
    RightHeel,
    #[expect(missing_docs, reason = "the name says it")]
    RightToe,
}

impl BodyPoint {
    /// All of them.
    pub const ALL: [Self; 6] =
        [Self::Head, Self::Hands, Self::LeftHeel, Self::LeftToe, Self::RightHeel, Self::RightToe];

    /// As it is typed.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Head => "head",
            Self::Hands => "hands",
            Self::LeftHeel => "left-heel",
            Self::LeftToe => "left-toe",
            Self::RightHeel => "right-heel",
            Self::RightToe => "right-toe",
        }
    }

    /// From how it is typed.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|p| p.word() == word)
    }

    /// The parts whose middle it is.
    pub const fn middle_of(self) -> &'static [Part] {
        match self {
            Self::Head => &[Part::LeftEar, Part::RightEar, Part::Nose, Part::LeftEye, Part::RightEye],
            Self::Hands => &[Part::LeftHand, Part::RightHand],
            Self::LeftHeel => &[Part::LeftHeel],
            Self::LeftToe => &[Part::LeftToe],
            Self::RightHeel => &[Part::RightHeel],
            Self::RightToe => &[Part::RightToe],
        }
    }

    /// The parts that move with it.
    pub const fn moves(self) -> &'static [Part] {
        match self {
            Self::Hands => &[Part::LeftHand, Part::RightHand, Part::LeftWrist, Part::RightWrist],
            other => other.middle_of(),
        }
    }
}

/// Standing heights of hitters, cm.
pub const HEIGHTS_CM: std::ops::RangeInclusive<f64> = 60.0..=250.0;

/// Two pictures are never so near each other, s.
const SAME_PICTURE_S: f64 = 5e-4;

/// Where a person saw a point of the body in one picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SetPoint {
    /// Which one.
    pub point: BodyPoint,
    /// When the picture is shown, real s from the first.
    pub time_s: f64,
    /// px of the upright picture.
    pub at: Point,
}

impl SetPoint {
    /// Whether it was set in the picture that is shown at this time, real s.
    pub fn is_at(&self, time_s: f64) -> bool {
        (self.time_s - time_s).abs() < SAME_PICTURE_S
    }
}

/// All that a person showed in a clip's pictures; what she did not is empty.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct ByHand {
    /// In the order they were set.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub points: Vec<SetPoint>,
    /// Standing height of the hitter, cm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height_cm: Option<f64>,
    /// A length marked in the first picture.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub known_length: Option<KnownLength>,
    /// A place on the hitter, px of the upright picture.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hitter_at: Option<Point>,
}

impl ByHand {
    /// Whether nothing was shown.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_come_back_and_nothing_shown_leaves_nothing_behind() {
        for point in BodyPoint::ALL {
            assert_eq!(BodyPoint::from_word(point.word()), Some(point));
            assert!(point.middle_of().iter().all(|p| point.moves().contains(p)));
        }
        assert_eq!(BodyPoint::from_word("hand"), None);
        assert_eq!(serde_json::to_string(&ByHand::default()).unwrap(), "{}");
        let set = SetPoint { point: BodyPoint::LeftToe, time_s: 1.25, at: Point::new(3.0, 4.0) };
        let some = ByHand { points: vec![set], height_cm: Some(170.0), ..ByHand::default() };
        let text = serde_json::to_string(&some).unwrap();
        assert!(text.contains("left_toe"), "{text}");
        assert_eq!(serde_json::from_str::<ByHand>(&text).unwrap(), some);
    }
}
