//! Why no swing is read from a clip. Worded in `messages`.

// What each says stands in messages/no_swing.rs.
#![expect(missing_docs)]

/// What cannot be in a swing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    FootUnderGround,
    StrideAway,
    Walks,
    Lies,
    Kneels,
    BeginsLow,
    BeginsHigh,
    PassesHigh,
    /// The hands stop halfway.
    HeldBack,
}

/// Why a clip or a track holds no swing. Speeds in body heights a second.
#[derive(Debug, Clone, PartialEq)]
pub enum NoSwing {
    // Looking for it.
    Nobody,
    NobodyAt {
        x_px: f64,
        y_px: f64,
    },
    /// Nobody stays in the picture long enough.
    NobodyLong,
    NobodyLeft,
    NotFollowed,
    HandsSlow {
        fastest: f64,
        least: f64,
    },
    HandsApart,
    NotStanding,
    Walking,
    HandsLow,
    /// Of several swings, the one asked for, from 1, is not among those found, real s in any order.
    NoSuchSwing {
        nth: usize,
        times_s: Vec<f64>,
    },
    // Reading it.
    FewFrames,
    SizeUnknown,
    /// No movement is as a person said of the hitter.
    NotAsGiven,
    NothingLikeIt,
    BodyStill,
    HandsNeverSeen,
    Impossible(Fault),
    PointsMissing {
        from_s: f64,
        to_s: f64,
    },
    NeverLikeASwing {
        fastest: f64,
    },
    /// A reading without any event.
    NoEvent,
}

impl std::error::Error for NoSwing {}
