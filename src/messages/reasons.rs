//! What a reason says, as a clause.

use super::{pairing, probe, swing, swing_search, tracking};
use crate::types::{
    AbsentReason, BatUnmeasured, LeftOut, NotAligned, SpeedChange, Spoilt, Than, Tie, UnusableFile,
};

/// Why a measure is missing.
pub fn absent_reason(reason: &AbsentReason) -> String {
    match reason {
        AbsentReason::EventNotFound { event } => return swing::not_found(super::event_short(*event)),
        AbsentReason::TwoReadings { tie } => return swing::two_readings(way_out(*tie)),
        AbsentReason::Other(text) => text,
        AbsentReason::CameraTurns => swing::CAMERA_TURNS,
        AbsentReason::PointsUnseen => swing::POINTS_UNSEEN,
        AbsentReason::AlongThePitch => swing::ALONG,
        AbsentReason::TimesUnsure => swing::TIMES_UNSURE,
        AbsentReason::EventsOutOfOrder => swing::OUT_OF_ORDER,
        AbsentReason::NoBodyGives => swing::NO_BODY_GIVES,
        AbsentReason::HandsUnseen => swing::HANDS_UNSEEN,
        AbsentReason::ContactFromPeak => swing::CONTACT_FROM_PEAK,
        AbsentReason::BatTooFast => swing::BAT_TOO_FAST,
        AbsentReason::BatNotTracked => swing::BAT_NOT_TRACKED,
        AbsentReason::FramesMissing => super::HOLE,
        AbsentReason::SlowMotion => super::TOO_SLOW,
    }
    .to_owned()
}

const fn way_out(tie: Tie) -> &'static str {
    match tie {
        Tie::Bats { .. } => swing::GIVE_BATS,
        Tie::Pitcher => swing::GIVE_PITCHER,
        Tie::Moment => swing::MARK_CONTACT,
    }
}

pub fn bat_unmeasured(why: &BatUnmeasured) -> String {
    match why {
        BatUnmeasured::NoPictures => swing_search::NO_PICTURES.to_owned(),
        BatUnmeasured::BlendsIn { looks, of } => tracking::bat_blends_in(*looks, *of),
        BatUnmeasured::LengthVaries { share } => tracking::bat_length_varies(*share),
        BatUnmeasured::Other(text) => text.clone(),
    }
}

/// Why a clip's clock is no measure.
pub fn speed_change_of(why: SpeedChange) -> String {
    match why {
        SpeedChange::Steps { quick_hz, slow_hz } => super::speed_change(quick_hz, slow_hz),
        SpeedChange::Marked => super::SPEED_CHANGE_MARKED.to_owned(),
        SpeedChange::Repeats => super::SPEED_CHANGE_REPEATS.to_owned(),
    }
}

pub(crate) const fn spoilt(damage: Spoilt) -> &'static str {
    match damage {
        Spoilt::CutShort => probe::CUT_SHORT,
        Spoilt::Damaged => probe::SPOILT,
    }
}

/// Why a rep is not counted.
pub fn left_out(why: &LeftOut) -> String {
    match why {
        LeftOut::OtherView { rep, than, other } => pairing::other_view(*rep, whose(*than), *other),
        LeftOut::OtherSide { rep, than, other } => pairing::other_side(*rep, who(*than), *other),
        LeftOut::SameAsToday => pairing::SAME_AS_TODAY.to_owned(),
        LeftOut::SameSwing { clip } => super::lesson::same_swing(clip),
    }
}

const fn who(than: Than) -> &'static str {
    match than {
        Than::Today => "today",
        Than::TheOthers => "in the others",
    }
}

const fn whose(than: Than) -> &'static str {
    match than {
        Than::Today => "today's",
        Than::TheOthers => "the others'",
    }
}

/// Why one body is not laid over the other.
pub fn not_aligned(why: NotAligned) -> String {
    match why {
        NotAligned::DifferentViews { today, reference } => pairing::different_views(today, reference),
        NotAligned::FewPoints => pairing::FEW_POINTS.to_owned(),
    }
}

pub(crate) fn unusable_file(why: &UnusableFile) -> String {
    match why {
        UnusableFile::OtherClip => super::files::OTHER_CLIP.to_owned(),
        UnusableFile::NotARegularFile => super::files::NOT_A_REGULAR_FILE.to_owned(),
        UnusableFile::OtherForm { schema } => super::files::other_form(schema),
        UnusableFile::Unreadable { cause } => cause.clone(),
    }
}
