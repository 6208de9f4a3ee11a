//! What a warning says: the one place where its code and values become a sentence.

use serde::Serialize;

use super::{
    angles, files, keypoints, lesson, media, output, pairing, pins, probe, settle, swing, swing_search,
};
use super::{bat_unmeasured, left_out, not_aligned, speed_change_of, unusable_file};
use crate::types::{Among, CutShort, Damage, LengthGiven, Reported, Tie, Warning};

pub fn warning(warning: &Warning) -> String {
    match warning {
        Warning::FileCutShort { why: CutShort::EndsTooSoon } => probe::ENDS_TOO_SOON.to_owned(),
        Warning::FileCutShort { why: CutShort::MostlyUnreadable } => {
            media::stopped_early(media::MOSTLY_UNREADABLE)
        }
        Warning::FileCutShort { why: CutShort::Failed { cause } } => media::stopped_early(cause),
        Warning::FileDamaged { pieces } => probe::pieces(*pieces),
        Warning::Damaged { by: Damage::Undecodable { error } } => probe::not_a_clip(&told(error)),
        Warning::Damaged { by: Damage::Stored { cause } } => probe::damaged(cause),
        Warning::StartUndecodable { frames } => media::start_undecodable(*frames),
        Warning::UnevenRate { low_hz, high_hz } => probe::uneven(*low_hz, *high_hz),
        Warning::RecordedAtUnused { rate_hz, given_hz } => media::recorded_at_unused(*rate_hz, *given_hz),
        Warning::SoundUnreadable { in_video: false, .. } => media::SOUND_UNREADABLE.to_owned(),
        Warning::SoundUnreadable { in_video: true, error } => output::without_sound(cause(error).as_deref()),
        Warning::PicturesMissing { pictures, of } => probe::left_out(*pictures, *of),
        Warning::PicturesDamaged { pieces } => probe::spoilt(*pieces),
        Warning::PicturesStray { pictures } => probe::strays(*pictures),
        Warning::SizeChanges { pictures } => probe::resized(*pictures),
        Warning::ShapeChanges { pictures } => probe::reshaped(*pictures),
        Warning::PicturesRepeat { pictures, of } => super::repeats(*pictures, *of),
        Warning::SpeedChanges { why } => probe::speed_changes(&speed_change_of(*why)),
        Warning::NotAClip { error } => probe::not_a_clip(&told(error)),
        Warning::Interlaced => probe::INTERLACED.to_owned(),
        Warning::WholeHalves => probe::WHOLE_HALVES.to_owned(),
        Warning::SeveralVideos { videos } => probe::several_videos(*videos),
        Warning::Location => probe::LOCATION.to_owned(),

        Warning::SeveralSwings { times_s, read_s } => swing_search::several_swings(times_s, *read_s),
        Warning::HitterHardToSee { share } => swing_search::hard_to_see(100.0 * share),
        Warning::HitterCutOff { share } => swing_search::cut_off(100.0 * share),
        Warning::Cut => swing_search::CUTS.to_owned(),
        Warning::BatNotMeasured { why } => swing_search::bat_not_measured(&bat_unmeasured(why)),

        Warning::SeveralPeople { people } => keypoints::several_people(*people),
        Warning::PointsNormalised => keypoints::NORMALIZED.to_owned(),
        Warning::YUp => keypoints::Y_UP.to_owned(),
        Warning::PointsOutside { width_px, height_px } => keypoints::points_outside(*width_px, *height_px),
        Warning::SidesContradict => keypoints::SIDES_CONTRADICT.to_owned(),
        Warning::SidesMirrored { chest } => keypoints::sides_mirrored(*chest),
        Warning::PointsPartial { first_s, last_s, of_s } => {
            keypoints::points_partial(*first_s, *last_s, *of_s)
        }

        Warning::HitterAgainstPicture { bats, view } => swing::against_picture(*bats, *view),
        Warning::ExplanationsTie { tie: Tie::Bats { sides: [a, b] } } => swing::bats_unknown(*a, *b),
        Warning::ExplanationsTie { tie: Tie::Pitcher } => swing::PITCHER_UNKNOWN.to_owned(),
        Warning::ExplanationsTie { tie: Tie::Moment } => swing::TWO_MOMENTS.to_owned(),
        Warning::ToeTap { taps } => swing::toe_taps(*taps),
        Warning::NoStride => swing::NO_STRIDE.to_owned(),
        Warning::StartsLate => swing::STARTS_LATE.to_owned(),
        Warning::AlongThePitch => swing::ALONG_THE_PITCH.to_owned(),
        Warning::Panning => swing::PANNING.to_owned(),
        Warning::CameraLost => swing::CAMERA_LOST.to_owned(),
        Warning::NoFeet => swing::NO_FEET.to_owned(),
        Warning::PointsMissing { from_s, to_s } => swing::points_missing(*from_s, *to_s),
        Warning::WalksUp => swing::WALKS_UP.to_owned(),
        Warning::StanceLeftOut => swing::STANCE_LEFT_OUT.to_owned(),
        Warning::MomentLeftOut { events } => {
            swing::left_out(&events.iter().map(|id| super::event_short(*id)).collect::<Vec<_>>())
        }
        Warning::MeasuresInAHole { holes_s } => super::in_a_hole(holes_s),
        Warning::TooSlowForLife => super::TOO_SLOW_LONG.to_owned(),
        Warning::KnownLengthDepth { share, distance_m } => swing::mark_depth(*share, *distance_m),
        Warning::ScalesDisagree { by, of, share, too_long } => {
            swing::scales_disagree(given(*by), given(*of), *share, *too_long)
        }

        Warning::SidecarNotKept { error } => files::reading_not_kept(cause(error).as_deref()),
        Warning::CutoutsNotKept { error } => files::cutouts_not_kept(cause(error).as_deref()),
        Warning::SidecarSetAside { name, why, aside } => files::set_aside(name, &unusable_file(why), aside),
        Warning::WasNotPinned { event } => pins::was_not_pinned(*event),

        Warning::SameClip => super::SAME_CLIP.to_owned(),
        Warning::RepGivenTwice { clip } => super::given_twice(clip),
        Warning::RepLeftOut { clip, among: Among::GoodReps, why } => {
            super::rep_left_out(clip, &left_out(why))
        }
        Warning::RepLeftOut { clip, among: Among::Reps, why } => {
            lesson::rep_not_counted(clip, &left_out(why))
        }
        Warning::FewReps { among: Among::GoodReps, reps, needed } => super::few_reps(*reps, *needed),
        Warning::FewReps { among: Among::Reps, reps, needed } => lesson::few_to_spread(*reps, *needed),
        Warning::SidesDiffer { angles: None } => super::SIDES_DIFFER.to_owned(),
        Warning::SidesDiffer { angles: Some(clips) } => angles::other_side(clips),
        Warning::DeliveriesDiffer { today, reference } => settle::deliveries_differ(*today, *reference),
        Warning::SingleReference => super::SINGLE_REFERENCE.to_owned(),
        Warning::ManyMeasures { bigger, judged } => super::some_by_chance(*bigger, *judged),
        Warning::SyncFallback { wanted, shown_by, instead } => {
            pairing::sync_fallback(*wanted, *shown_by, *instead)
        }
        Warning::SyncUnsure { on, plus_minus_s, surest } => pairing::sync_unsure(*on, *plus_minus_s, *surest),

        Warning::NotLookedAt => angles::NOT_LOOKED_AT.to_owned(),
        Warning::NoSwingToCheck { error } => angles::no_swing_to_check(&told(error)),
        Warning::SameView { clips, view } => angles::sees_the_same(clips, super::view(*view)),
        Warning::MovesUnlike { clips, measures } => angles::moves_unlike(clips, &angles::unlike(measures)),
        Warning::LinedUpByPicture { clips, why, plus_minus_s } => {
            angles::by_picture(&angles::unheard(why, clips), *plus_minus_s)
        }
        Warning::SoundOverruled => angles::overruled().to_owned(),
        Warning::PictureDisagrees { event } => angles::disagrees(*event),
        Warning::LoneSound => angles::BY_CONTACT.to_owned(),
        Warning::OtherPlaces => angles::OTHER_PLACES.to_owned(),
        Warning::AnglesTurned { side } => angles::turned(side),

        Warning::MarkNotShown { shot, of_today } => super::centre_not_shown(*shot, *of_today),
        Warning::ShotEventMissing { shot, event } => super::shot_guessed(*shot, *event),
        Warning::HoldEventMissing { shot, event } => super::no_rest(*shot, *event),
        Warning::HoldOutside { shot, event } => super::rest_outside(*shot, *event),
        Warning::ShotEmpty { shot } => super::shot_empty(*shot),
        Warning::ShotCut { shot, cut_s } => super::shot_cut(*shot, *cut_s),
        Warning::GhostImpossible { why, instead } => {
            let why = why.map(not_aligned);
            output::ghost_impossible(why.as_deref().unwrap_or(output::NO_REGISTRATION), instead)
        }

        Warning::DaysUndated => lesson::UNDATED.to_owned(),
        Warning::FolderEmpty { folder } => lesson::empty_folder(folder),
        Warning::ClipMissing { clip } => lesson::missing(clip),
        Warning::RepNotRead { clip, error } => lesson::not_read(clip, &told(error)),
        Warning::OtherSide { clip, bats } => lesson::other_side(clip, *bats),

        Warning::Other { text, .. } => text.clone(),
    }
}

/// As JSON for programs has it: the code, and the sentence for people.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WordedWarning {
    pub(crate) code: String,
    pub(crate) text: String,
}

impl From<&Warning> for WordedWarning {
    fn from(warning: &Warning) -> Self {
        Self { code: warning.code().to_owned(), text: self::warning(warning) }
    }
}

/// A given length by its name and its option.
const fn given(length: LengthGiven) -> [&'static str; 2] {
    match length {
        LengthGiven::Height => [swing::HEIGHT, "--height"],
        LengthGiven::Bat => [swing::BAT, "--bat"],
        LengthGiven::Mark => [swing::MARKED_LENGTH, "--known-length"],
    }
}

fn told(error: &Reported) -> String {
    error.0.as_ref().map(std::string::ToString::to_string).unwrap_or_default()
}

fn cause(error: &Reported) -> Option<String> {
    error.0.as_ref().map(|e| files::cause(e))
}
