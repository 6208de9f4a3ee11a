//! Why something is not given, not used or not alike: what happened, with its values. Worded in `messages`. A variant
//! `Other` holds a sentence from a file written when reasons were kept as sentences; nothing makes it anew.

// What each says stands in messages/reasons.rs.
#![expect(missing_docs)]

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{EventId, MeasureId, Reported, Side, View};

/// Why a measure is missing. One cause is one reason, so that measures can be told together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
pub enum AbsentReason {
    EventNotFound {
        event: EventId,
    },
    CameraTurns,
    PointsUnseen,
    /// Not to be seen along the line of the pitch.
    AlongThePitch,
    /// Its events are too uncertain along the line of the pitch.
    TimesUnsure,
    EventsOutOfOrder,
    /// The points give a value that is impossible for a body.
    NoBodyGives,
    HandsUnseen,
    /// Contact was estimated from the very peak that is measured.
    ContactFromPeak,
    BatTooFast,
    BatNotTracked,
    FramesMissing,
    SlowMotion,
    /// Two explanations of the swing give different values.
    TwoReadings {
        tie: Tie,
    },
    #[serde(untagged)]
    Other(String),
}

/// Measures this clip cannot give, each with its reason.
pub type Absent = BTreeMap<MeasureId, AbsentReason>;

/// What two explanations that fit about as well differ in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tie {
    /// The side the hitter bats from by each.
    Bats {
        sides: [Side; 2],
    },
    Pitcher,
    Moment,
}

/// Why the bat's length in the picture is not known.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BatUnmeasured {
    NoPictures,
    /// It stands out from the background in so many of the pictures looked at.
    BlendsIn {
        looks: usize,
        of: usize,
    },
    /// By this share of its length, from picture to picture.
    LengthVaries {
        share: f64,
    },
    #[serde(untagged)]
    Other(String),
}

/// Why the ball's flight is not known.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BallUnseen {
    NoFlight,
    #[serde(untagged)]
    Other(String),
}

/// Which length was given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LengthGiven {
    Height,
    Bat,
    /// A length marked in the picture.
    Mark,
}

/// Why a clip's clock is no measure.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SpeedChange {
    /// A part has fewer pictures a second than the rest.
    Steps { quick_hz: f64, slow_hz: f64 },
    /// The phone marked a part as super slow motion.
    Marked,
    /// A part was slowed down by repeating pictures.
    Repeats,
}

/// Why reading a file ended before its end.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CutShort {
    /// Its index promises more than is there.
    EndsTooSoon,
    MostlyUnreadable,
    /// In FFmpeg's own words.
    Failed {
        cause: String,
    },
}

/// How a file is damaged.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Damage {
    /// Its pictures cannot be decoded to the end.
    Undecodable {
        #[serde(skip)]
        error: Reported,
    },
    /// In FFmpeg's own words.
    Stored { cause: String },
}

/// The sort of damage that keeps a swing from being found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spoilt {
    CutShort,
    Damaged,
}

/// Why a file kept beside a clip cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UnusableFile {
    /// It holds what a person said of another clip, or of an earlier version of this one.
    OtherClip,
    NotARegularFile,
    /// Of another program version.
    OtherForm {
        schema: String,
    },
    /// In the parser's or the system's own words.
    Unreadable {
        cause: String,
    },
}

/// Which reps are meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Among {
    /// The good reps that today's is compared with.
    GoodReps,
    /// Reps whose spread is told.
    Reps,
}

/// Whom a rep is unlike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Than {
    Today,
    TheOthers,
}

/// Why a rep is not counted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LeftOut {
    OtherView {
        rep: View,
        than: Than,
        other: View,
    },
    OtherSide {
        rep: Side,
        than: Than,
        other: Side,
    },
    SameAsToday,
    /// The name of the other clip.
    SameSwing {
        clip: String,
    },
}

/// Why one body cannot be laid over the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NotAligned {
    DifferentViews { today: View, reference: View },
    FewPoints,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reason_is_a_code_and_values_and_one_kept_before_a_sentence() {
        let absent = Absent::from([
            (MeasureId::StrideLength, AbsentReason::EventNotFound { event: EventId::Stance }),
            (MeasureId::BatSpeed, AbsentReason::BatTooFast),
            (MeasureId::FrontKneeAtPlant, AbsentReason::TwoReadings { tie: Tie::Pitcher }),
        ]);
        let kept = serde_json::to_value(&absent).unwrap();
        assert_eq!(
            kept,
            serde_json::json!({
                "stride_length": {"code": "event_not_found", "event": "stance"},
                "bat_speed": {"code": "bat_too_fast"},
                "front_knee_at_plant": {"code": "two_readings", "tie": "pitcher"},
            })
        );
        assert_eq!(serde_json::from_value::<Absent>(kept).unwrap(), absent);
        let old = serde_json::from_str::<AbsentReason>(r#""film from the open side""#).unwrap();
        assert_eq!(old, AbsentReason::Other("film from the open side".to_owned()));
    }
}
