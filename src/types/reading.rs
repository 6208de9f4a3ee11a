use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize, Serializer};

use super::{Absent, CameraMotion, Delivery, Events, Measures, SceneLuma, Track, Warning};

/// Written down, a path is the file's name alone: sidecars move with their folder, and what is passed on tells nothing
/// of this computer.
pub fn name_alone<S: Serializer>(path: &Path, to: S) -> std::result::Result<S::Ok, S::Error> {
    to.serialize_str(&file_name(path))
}

/// A file's name without the folders that lead to it.
pub fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// The side of the plate the hitter bats from: a right-handed hitter's left foot is the front one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// From the left.
    Left,
    /// From the right.
    Right,
}

/// Where in the picture the pitcher is, seen from the hitter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PitcherSide {
    /// Toward smaller x.
    Left,
    /// Toward larger x.
    Right,
    /// Along the line of sight, away from the camera (filmed from behind).
    Away,
    /// Along the line of sight, toward the camera (filmed from the front).
    Toward,
}

/// From where the hitter is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum View {
    /// The camera sees the chest.
    OpenSide,
    /// The camera sees the back.
    ClosedSide,
    /// From behind the hitter along the pitch.
    FromBehind,
    /// From the pitcher's side along the pitch.
    FromFront,
}

/// Facts about the file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ClipFacts {
    /// As it was given; a name alone where it is passed on.
    #[serde(serialize_with = "name_alone")]
    pub path: PathBuf,
    /// Upright picture, px.
    pub width: usize,
    /// px of the upright picture.
    pub height: usize,
    /// How many pictures.
    pub frames: usize,
    /// Playback time from the first to the end of the last picture, s.
    pub duration_s: f64,
    /// Measured from the pictures' own times, in playback.
    pub rate_hz: f64,
    /// The rate the camera filmed at: `rate_hz · slow_factor`.
    pub capture_rate_hz: f64,
    /// How many times slower than life the file plays; 1 = real time.
    pub slow_factor: f64,
}

/// Who swings, and how they stand.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Hitter {
    /// Which side he bats from.
    pub bats: Side,
    /// Where the pitcher is.
    pub pitcher_side: PitcherSide,
    /// From where he is seen.
    pub view: View,
}

/// Lengths in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Scale {
    /// The hitter's standing height in the picture, estimated from limb lengths, px.
    pub body_height_px: f64,
    /// Standard share of error of `body_height_px`, 0…1.
    pub body_height_error: f64,
    /// px per cm, when a known length was given.
    pub px_per_cm: Option<f64>,
    /// Standard share of error of `px_per_cm`, 0…1.
    pub px_per_cm_error: f64,
}

/// All that was measured from one clip.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// [`Reading::SCHEMA`].
    pub schema: String,
    /// What the file is.
    pub clip: ClipFacts,
    /// Who swings.
    pub hitter: Hitter,
    /// How long things are.
    pub scale: Scale,
    /// Moments, each with its ±.
    pub events: Events,
    /// Numbers, each with its ±.
    pub measures: Measures,
    /// What is not measured, and why.
    pub absent: Absent,
    /// What is to be known of it.
    pub warnings: Vec<Warning>,
    /// The hitter's points; kept in the sidecar, left out of `read --json`.
    #[serde(default, skip_serializing_if = "track_is_empty")]
    pub track: Track,
    /// How the camera moved, by pose of `track`; kept with it.
    #[serde(default, skip_serializing_if = "CameraMotion::is_empty")]
    pub camera: CameraMotion,
    /// How the ball came, where a person said so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ball: Option<Delivery>,
    /// The scene about the hitter; kept with the track.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scene: Option<SceneLuma>,
}

impl Reading {
    /// The form of the JSON.
    pub const SCHEMA: &'static str = "swingpair.reading/1";
}

fn track_is_empty(track: &Track) -> bool {
    track.poses.is_empty()
}
