//! Why no swing is read from a clip, as a clause.

use std::fmt::{Display, Formatter, Result};

use super::{output, swing, swing_search};
use crate::types::{Fault, NoSwing};

/// What cannot be in a swing.
pub const fn fault(fault: Fault) -> &'static str {
    match fault {
        Fault::FootUnderGround => swing::FOOT_UNDER_GROUND,
        Fault::StrideAway => swing::STRIDE_AWAY,
        Fault::Walks => swing::WALKS,
        Fault::Lies => swing::LIES,
        Fault::Kneels => swing::KNEELS,
        Fault::BeginsLow => swing::BEGINS_LOW,
        Fault::BeginsHigh => swing::BEGINS_HIGH,
        Fault::PassesHigh => swing::PASSES_HIGH,
        Fault::HeldBack => swing::HELD_BACK,
    }
}

impl Display for NoSwing {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        f.write_str(match self {
            NoSwing::NobodyAt { x_px, y_px } => return f.write_str(&swing_search::nobody_at(*x_px, *y_px)),
            NoSwing::HandsSlow { fastest, least } => {
                return f.write_str(&swing_search::hands_slow(*fastest, *least));
            }
            NoSwing::NoSuchSwing { nth, times_s } => {
                return f.write_str(&swing_search::no_such_swing(*nth, times_s));
            }
            NoSwing::Impossible(what) => return f.write_str(&swing::impossible(fault(*what))),
            NoSwing::PointsMissing { from_s, to_s } => {
                return f.write_str(&swing::points_missing_no_swing(*from_s, *to_s));
            }
            NoSwing::NeverLikeASwing { fastest } => return f.write_str(&swing::no_swing_like(*fastest)),
            NoSwing::Nobody => swing_search::NOBODY,
            NoSwing::NobodyLong => swing_search::NOBODY_LONG,
            NoSwing::NobodyLeft => swing_search::NOBODY_LEFT,
            NoSwing::NotFollowed => swing_search::NOT_FOLLOWED,
            NoSwing::HandsApart => swing_search::HANDS_APART,
            NoSwing::NotStanding => swing_search::NOT_STANDING,
            NoSwing::Walking => swing_search::WALKING,
            NoSwing::HandsLow => swing_search::HANDS_LOW,
            NoSwing::FewFrames => swing::FEW_FRAMES,
            NoSwing::SizeUnknown => swing::SIZE_UNKNOWN,
            NoSwing::NotAsGiven => swing::NOT_AS_GIVEN,
            NoSwing::NothingLikeIt => swing::NO_SWING,
            NoSwing::BodyStill => swing::BODY_STILL,
            NoSwing::HandsNeverSeen => swing::NO_HANDS,
            NoSwing::NoEvent => output::NO_EVENT,
        })
    }
}
