// What each says stands in messages/warnings.rs.
#![expect(missing_docs)]

use std::path::PathBuf;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::{
    Among, BatUnmeasured, CutShort, Damage, Delivery, Error, EventId, LeftOut, LengthGiven, Measure,
    MeasureId, NotAligned, Side, SpeedChange, Tie, Unheard, UnusableFile, View,
};

/// The error behind a warning: told where it happens. What is kept of the warning holds no word of it.
#[derive(Debug, Clone, Default)]
pub struct Reported(pub Option<Arc<Error>>);

impl From<Error> for Reported {
    fn from(error: Error) -> Self {
        Self(Some(Arc::new(error)))
    }
}

impl PartialEq for Reported {
    fn eq(&self, other: &Self) -> bool {
        format!("{self:?}") == format!("{other:?}")
    }
}

/// The warnings with the stable word that programs know each by, which is also its place in what is kept.
macro_rules! warnings {
    ($($(#[$doc:meta])* $code:literal $variant:ident
        $({ $($(#[$of:meta])* $field:ident: $type:ty),+ $(,)? })?;)+) => {
        /// Something the reader of a result should know: what happened, with its values. Data, not output:
        /// `messages::warning` words it.
        #[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
        #[serde(tag = "code")]
        pub enum Warning {
            $($(#[$doc])* #[serde(rename = $code)] $variant $({ $($(#[$of])* $field: $type),+ })?,)+
            /// From a file written when warnings were kept as sentences. Nothing makes it anew.
            #[serde(untagged)]
            Other { code: String, text: String },
        }

        impl Warning {
            /// Stable word for programs, snake_case.
            pub fn code(&self) -> &str {
                match self {
                    $(Self::$variant { .. } => $code,)+
                    Self::Other { code, .. } => code,
                }
            }
        }
    };
}

warnings! {
    // The file.
    "file_cut_short" FileCutShort { why: CutShort };
    /// So many pieces of it cannot be read properly.
    "file_damaged" FileDamaged { pieces: usize };
    "damaged" Damaged { by: Damage };
    "start_undecodable" StartUndecodable { frames: usize };
    "uneven_rate" UnevenRate { low_hz: f64, high_hz: f64 };
    /// The clip plays quicker than it is said to have been filmed.
    "recorded_at_unused" RecordedAtUnused { rate_hz: f64, given_hz: f64 };
    /// Of the clip's own sound; with an error where it was to go into a video.
    "sound_unreadable" SoundUnreadable { in_video: bool, #[serde(skip)] error: Reported };
    "pictures_missing" PicturesMissing { pictures: usize, of: usize };
    "pictures_damaged" PicturesDamaged { pieces: usize };
    /// Decoded pictures that the index does not know.
    "pictures_stray" PicturesStray { pictures: usize };
    "size_changes" SizeChanges { pictures: usize };
    "shape_changes" ShapeChanges { pictures: usize };
    "pictures_repeat" PicturesRepeat { pictures: usize, of: usize };
    "speed_changes" SpeedChanges { why: SpeedChange };
    "not_a_clip" NotAClip { #[serde(skip)] error: Reported };
    "interlaced" Interlaced;
    /// Marked as interlaced, though each stored picture is one moment.
    "whole_halves" WholeHalves;
    "several_videos" SeveralVideos { videos: usize };
    /// It tells where it was filmed.
    "location" Location;

    // Who swings, and when.
    /// Movements that may be swings, real s, in order; the one at `read_s` is read.
    "several_swings" SeveralSwings { times_s: Vec<f64>, read_s: f64 };
    /// Shares of the pictures of the swing.
    "hitter_hard_to_see" HitterHardToSee { share: f64 };
    "hitter_cut_off" HitterCutOff { share: f64 };
    /// Edited from several shots.
    "cut" Cut;
    "bat_not_measured" BatNotMeasured { why: BatUnmeasured };

    // Points of another estimator.
    "several_people" SeveralPeople { people: usize };
    "points_normalised" PointsNormalised;
    "y_up" YUp;
    "points_outside" PointsOutside { width_px: usize, height_px: usize };
    "sides_contradict" SidesContradict;
    /// The points show the chest, else the back, and the toes point the other way.
    "sides_mirrored" SidesMirrored { chest: bool };
    "points_partial" PointsPartial { first_s: f64, last_s: f64, of_s: f64 };

    // The swing.
    /// What a person said is not what the picture shows: this.
    "hitter_against_picture" HitterAgainstPicture { bats: Side, view: View };
    "explanations_tie" ExplanationsTie { tie: Tie };
    "toe_tap" ToeTap { taps: usize };
    "no_stride" NoStride;
    "starts_late" StartsLate;
    /// Filmed along the line of the pitch.
    "view" AlongThePitch;
    "panning" Panning;
    /// During a part of the swing nothing in the picture tells how it moved.
    "camera_lost" CameraLost;
    "no_feet" NoFeet;
    "points_missing" PointsMissing { from_s: f64, to_s: f64 };
    "walks_up" WalksUp;
    "stance_left_out" StanceLeftOut;
    /// In the order they were taken out.
    "moment_left_out" MomentLeftOut { events: Vec<EventId> };
    /// Stretches without pictures, real s.
    "measures_in_a_hole" MeasuresInAHole { holes_s: Vec<(f64, f64)> };
    "too_slow_for_life" TooSlowForLife;
    /// `share`: how much longer something a little nearer looks.
    "known_length_depth" KnownLengthDepth { share: f64, distance_m: f64 };
    /// Judged by the first, the second looks so much too long or too short.
    "scales_disagree" ScalesDisagree { by: LengthGiven, of: LengthGiven, share: f64, too_long: bool };

    // What is kept.
    "sidecar_not_kept" SidecarNotKept { #[serde(skip)] error: Reported };
    "cutouts_not_kept" CutoutsNotKept { #[serde(skip)] error: Reported };
    /// Names of files, without their folder.
    "sidecar_set_aside" SidecarSetAside { name: String, why: UnusableFile, aside: String };
    "was_not_pinned" WasNotPinned { event: EventId };

    // Two swings side by side, and many.
    "same_clip" SameClip;
    /// Names of files, without their folder, here and below.
    "rep_given_twice" RepGivenTwice { clip: String };
    "rep_left_out" RepLeftOut { clip: String, among: Among, why: LeftOut };
    "few_reps" FewReps { among: Among, reps: usize, needed: usize };
    /// Two angles of one swing are named; today's clip and the reference are not.
    "sides_differ" SidesDiffer { angles: Option<[String; 2]> };
    "deliveries_differ" DeliveriesDiffer { today: Delivery, reference: Delivery };
    "single_reference" SingleReference;
    "many_measures" ManyMeasures { bigger: usize, judged: usize };
    /// `shown_by`: whether today's clip and the reference show the event that was asked for.
    "sync_fallback" SyncFallback { wanted: EventId, shown_by: [bool; 2], instead: EventId };
    /// `surest`: an event that both know better.
    "sync_unsure" SyncUnsure { on: EventId, plus_minus_s: f64, surest: Option<EventId> };

    // Two angles of one swing.
    "not_looked_at" NotLookedAt;
    "no_swing_to_check" NoSwingToCheck { #[serde(skip)] error: Reported };
    "same_view" SameView { clips: [String; 2], view: View };
    /// The measures that are farthest apart, with both values.
    "moves_unlike" MovesUnlike { clips: [String; 2], measures: Vec<(MeasureId, [Measure; 2])> };
    "lined_up_by_picture" LinedUpByPicture { clips: [String; 2], why: Unheard, plus_minus_s: f64 };
    "sound_overruled" SoundOverruled;
    "picture_disagrees" PictureDisagrees { event: EventId };
    "lone_sound" LoneSound;
    "other_places" OtherPlaces;
    /// The second clip shows the hitter from the side and counts as the first.
    "angles_turned" AnglesTurned { side: String };

    // The plan of a video; shots count from 1.
    "mark_not_shown" MarkNotShown { shot: usize, of_today: bool };
    "shot_event_missing" ShotEventMissing { shot: usize, event: EventId };
    "hold_event_missing" HoldEventMissing { shot: usize, event: EventId };
    "hold_outside" HoldOutside { shot: usize, event: EventId };
    "shot_empty" ShotEmpty { shot: usize };
    "shot_cut" ShotCut { shot: usize, cut_s: f64 };
    /// `instead`: the layout that is used, by its word.
    "ghost_impossible" GhostImpossible { why: Option<NotAligned>, instead: String };

    // A lesson; files as its words name them.
    "days_undated" DaysUndated;
    "folder_empty" FolderEmpty { folder: String };
    "clip_missing" ClipMissing { clip: String };
    "rep_not_read" RepNotRead {
        #[serde(serialize_with = "super::name_alone")]
        clip: PathBuf,
        #[serde(skip)] error: Reported };
    /// The lesson says the hitter bats on `bats`, the picture shows the other side.
    "other_side" OtherSide { clip: String, bats: Side };
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(warning: &Warning) -> String {
        serde_json::to_string(warning).unwrap()
    }

    #[test]
    fn what_is_kept_is_a_code_and_values() {
        let taps = Warning::ToeTap { taps: 2 };
        assert_eq!(written(&taps), r#"{"code":"toe_tap","taps":2}"#);
        let tie = Warning::ExplanationsTie { tie: Tie::Bats { sides: [Side::Left, Side::Right] } };
        assert_eq!(written(&tie), r#"{"code":"explanations_tie","tie":{"bats":{"sides":["left","right"]}}}"#);
        let holes = Warning::MeasuresInAHole { holes_s: vec![(1.0, 1.5)] };
        for warning in [taps, tie, holes, Warning::NoStride] {
            let code = warning.code().to_owned();
            assert!(written(&warning).contains(&format!(r#""code":"{code}""#)));
            assert_eq!(serde_json::from_str::<Warning>(&written(&warning)).unwrap(), warning);
        }
    }

    #[test]
    fn an_error_is_told_and_not_kept() {
        let error = || Error::NoPerson { path: "a.mp4".into() }.into();
        let warning = Warning::SidecarNotKept { error: error() };
        assert_eq!(written(&warning), r#"{"code":"sidecar_not_kept"}"#);
        assert_eq!(warning, Warning::SidecarNotKept { error: error() });
        let again = serde_json::from_str::<Warning>(&written(&warning)).unwrap();
        assert_eq!(again, Warning::SidecarNotKept { error: Reported::default() });
    }

    /// Sentences of files written before stay what they are; where the code alone says it, it is understood.
    #[test]
    fn sentences_kept_before_are_read() {
        let read = |text: &str| serde_json::from_str::<Warning>(text).unwrap();
        let old = read(r#"{"code":"toe_tap","text":"The front foot taps once."}"#);
        assert_eq!(
            (old.code(), old.clone()),
            (
                "toe_tap",
                Warning::Other { code: "toe_tap".to_owned(), text: "The front foot taps once.".to_owned() }
            )
        );
        assert_eq!(read(&written(&old)), old);
        assert_eq!(read(r#"{"code":"no_stride","text":"No stride."}"#), Warning::NoStride);
        let strange = read(r#"{"code":"planted","text":"Put here."}"#);
        assert_eq!(strange.code(), "planted");
        assert!(serde_json::from_str::<Warning>(r#"{"code":"planted"}"#).is_err());
    }
}
