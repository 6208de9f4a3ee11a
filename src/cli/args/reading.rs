//! Words about how swings are read, and which are compared.

use std::path::PathBuf;

use clap::Args;
use swingpair::reading::ReadOptions;
use swingpair::types::{Delivery, KnownHitter, KnownLength, PitcherSide, Point, Side, SyncOn};

use super::values::*;
use crate::cli::allow::Allow;
use crate::cli::args::{ADVANCED, COMPARED, HITTER, LOOKS};

/// The swings that are compared.
#[derive(Debug, Args)]
pub struct Swings {
    /// Today's rep; SIDE+BEHIND if two phones filmed it.
    pub today: PathBuf,
    /// The rep to compare with; or three or more good reps: today is then compared with their range, and the most
    /// typical one is shown.
    #[arg(required_unless_present = "from", value_name = "REFERENCE")]
    pub references: Vec<PathBuf>,
    /// Compare with the reps in this folder that are marked good (`swingpair mark REP good`) instead of naming them.
    #[arg(long, value_name = "FOLDER", conflicts_with = "references", help_heading = COMPARED)]
    pub from: Option<PathBuf>,
    /// Use only the rep marked best in that folder. That flatters the past: today tends to look worse than it is.
    #[arg(long, requires = "from", help_heading = COMPARED, hide_short_help = true)]
    pub best: bool,
    /// What to line up on: an event (plant, contact, …), or `phases` for every shared event.
    #[arg(long, default_value = "plant", value_parser = sync_from_word, help_heading = COMPARED)]
    pub sync: SyncOn,
    /// Labels for the two, today's first.
    #[arg(long, value_name = "TODAY,REFERENCE", value_parser = two_labels, help_heading = LOOKS)]
    pub labels: Option<(String, String)>,
    /// The second clips of reps given as SIDE+BEHIND: today's, then the references'.
    #[arg(skip)]
    pub behinds: Vec<Option<PathBuf>>,
    #[command(flatten)]
    pub looking: ReadingArgs,
    /// A point on the hitter in the references, px.
    #[arg(long, value_name = "X,Y", value_parser = point, allow_hyphen_values = true, help_heading = ADVANCED, hide_short_help = true)]
    pub reference_hitter: Option<Point>,
    /// Where the ball came from in the references, if not the same as today.
    #[arg(long, value_name = "HOW", value_parser = delivery_from_word, help_heading = ADVANCED, hide_short_help = true)]
    pub reference_ball: Option<Delivery>,
    /// Which swing to use in references that show several.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..), help_heading = ADVANCED, hide_short_help = true)]
    pub reference_swing: Option<u8>,
    /// For a rep given as SIDE+BEHIND: the distance from each phone's microphone to where the ball is hit, used when
    /// sound lines the two up. Without it, distances are estimated.
    #[arg(long, value_name = "SIDE,BEHIND", value_parser = two_distances, help_heading = ADVANCED, hide_short_help = true)]
    pub distances: Option<[f64; 2]>,
    /// The frame rate at which the references were recorded, Hz, if the file does not give it.
    #[arg(long, value_name = "HZ", value_parser = positive, allow_negative_numbers = true, help_heading = ADVANCED, hide_short_help = true)]
    pub reference_recorded_at: Option<f64>,
    /// A known length in the reference's first frame; with several references, one for all or one for each, in order.
    #[arg(long, value_name = "X1,Y1,X2,Y2=CM", value_parser = known_length, allow_hyphen_values = true, help_heading = ADVANCED, hide_short_help = true)]
    pub reference_known_length: Vec<KnownLength>,
    /// Keypoints for the reference (COCO keypoint JSON); with several references, once for each, in order.
    #[arg(long, value_name = "FILE", help_heading = ADVANCED, hide_short_help = true)]
    pub reference_keypoints: Vec<PathBuf>,
}

/// How a swing is looked at. In `pair` these hold for today's rep; what belongs to the hitter, for both.
#[derive(Debug, Args)]
pub struct ReadingArgs {
    /// A point on the hitter, px, if several people are in view; saved next to the clip.
    #[arg(long, value_name = "X,Y", value_parser = point, allow_hyphen_values = true, help_heading = HITTER)]
    pub hitter: Option<Point>,
    /// The hitter's standing height, as in 178cm or 5'10"; lengths are then given in cm or inches; saved next to the
    /// clip.
    #[arg(long, value_name = "LENGTH", value_parser = height, allow_negative_numbers = true, help_heading = HITTER)]
    pub height: Option<f64>,
    /// Which swing to read if the clip shows several, counted from 1 in time order.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..), help_heading = HITTER, hide_short_help = true)]
    pub swing: Option<u8>,
    /// The side the hitter bats from, if it is read wrong; saved next to the clip.
    #[arg(long, value_name = "SIDE", value_parser = side_from_word, help_heading = HITTER)]
    pub bats: Option<Side>,
    /// Where the pitcher is in the picture: left, right, toward (the camera) or away; saved next to the clip.
    #[arg(long, value_name = "WHERE", value_parser = pitcher_from_word, help_heading = HITTER, hide_short_help = true)]
    pub pitcher: Option<PitcherSide>,
    /// Where the ball came from: tee, thrown (soft toss), machine or live; saved next to the clip. Reps vary least off a tee.
    #[arg(long, value_name = "HOW", value_parser = delivery_from_word, help_heading = HITTER)]
    pub ball: Option<Delivery>,
    /// The length of the bat from knob to tip, as in 33in or 84cm; lengths are then given in cm or inches.
    #[arg(long, value_name = "LENGTH", value_parser = bat_length, help_heading = HITTER)]
    pub bat: Option<f64>,
    /// The frame rate of the recording, Hz, if the file does not give it (slow motion).
    #[arg(long, value_name = "HZ", value_parser = positive, allow_negative_numbers = true, help_heading = ADVANCED, hide_short_help = true)]
    pub recorded_at: Option<f64>,
    /// Use the points of another pose estimator (COCO keypoint JSON) instead of detecting them.
    #[arg(long, value_name = "FILE", help_heading = ADVANCED, hide_short_help = true)]
    pub keypoints: Option<PathBuf>,
    /// Frame rate of keypoints that have no times, Hz.
    #[arg(long, value_name = "HZ", value_parser = positive, allow_negative_numbers = true, help_heading = ADVANCED)]
    pub rate: Option<f64>,
    /// Two points in the clip's first frame, px, and the real distance between them, cm; lengths are then given
    /// in cm or inches. Mark something next to the hitter and square to the camera: home plate from its front edge to its
    /// point is 43.18 cm (17 in), as in 412,655,530,655=43.18; saved next to the clip.
    #[arg(long, value_name = "X1,Y1,X2,Y2=CM", value_parser = known_length, allow_hyphen_values = true, help_heading = ADVANCED, hide_short_help = true)]
    pub known_length: Option<KnownLength>,
    /// Distance from the microphone to the plate, as in 5m or 16ft: sound is late by 2.9 ms per meter.
    #[arg(long, value_name = "DISTANCE", value_parser = distance, allow_negative_numbers = true, help_heading = ADVANCED, hide_short_help = true)]
    pub mic_distance: Option<f64>,
    /// Read the clip again even if its saved reading is still valid.
    #[arg(long, help_heading = ADVANCED, hide_short_help = true)]
    pub fresh: bool,
    #[command(flatten)]
    pub allow: Allow,
}

impl ReadingArgs {
    pub fn options(&self) -> ReadOptions {
        ReadOptions {
            recorded_at_hz: self.recorded_at,
            hitter: self.hitter,
            keypoints: self.keypoints.clone(),
            keypoints_rate_hz: self.rate,
            height_cm: self.height,
            bat_cm: self.bat,
            known_length: self.known_length,
            mic_distance_m: self.mic_distance,
            known_hitter: KnownHitter { bats: self.bats, pitcher: self.pitcher, ball: self.ball },
            swing: self.swing.map(usize::from),
            fresh: self.fresh,
            limits: self.allow.limits(),
            ..ReadOptions::default()
        }
    }
}

impl Swings {
    /// For the reference at this place in `references`.
    pub fn reference_options(&self, place: usize) -> ReadOptions {
        ReadOptions {
            recorded_at_hz: self.reference_recorded_at,
            hitter: self.reference_hitter,
            known_hitter: KnownHitter {
                bats: self.looking.bats,
                pitcher: None,
                ball: self.reference_ball.or(self.looking.ball),
            },
            swing: self.reference_swing.map(usize::from),
            keypoints: self.reference_keypoints.get(place).cloned(),
            known_length: match self.reference_known_length.as_slice() {
                [one] => Some(*one),
                each => each.get(place).copied(),
            },
            ..self.looking.options()
        }
    }
}
