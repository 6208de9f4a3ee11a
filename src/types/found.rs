//! The reps of a long film.

use serde::{Deserialize, Serialize};

use super::{Measures, Side, View, Warning};

/// One rep of a long film.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FoundRep {
    /// The film cut out for it: a name in the folder that was asked for; `None` when none was.
    pub clip: Option<String>,
    /// When its first picture is shown, real s from the session's first picture: the rep's own times count from it.
    pub from_s: f64,
    /// Its last picture's, likewise.
    pub to_s: f64,
    /// Nothing was coded anew.
    pub lossless: bool,
    /// Contact, real s from the session's first picture.
    pub contact_s: Option<f64>,
    /// Its ± (95 %), s.
    pub contact_plus_minus_s: Option<f64>,
    /// A ball was heard in time for it, or seen to fly off.
    pub met: bool,
    /// Which side the hitter bats from.
    pub bats: Side,
    /// From where he is seen.
    pub view: View,
    /// Middle of the hitter, px.
    pub hitter_at: [f64; 2],
    /// How fast the hands are at the coarse look, body heights a second: a swing has more than 1.1, most 2.5.
    pub hands: f64,
    /// What was measured of the rep.
    pub measures: Measures,
    /// What is to be known of the rep.
    pub warnings: Vec<Warning>,
}

/// What was found in a long film, as `NAME.reps.json` keeps it beside the cut films; `reps --json` prints it in words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FoundReps {
    /// [`FoundReps::SCHEMA`].
    pub schema: String,
    /// SHA-256 of the session's content and the settings it was read with.
    pub key: String,
    /// Every film that was cut for it, also where the run was stopped before its end.
    pub films: Vec<String>,
    /// The whole session was gone through.
    pub finished: bool,
    /// Real s.
    pub duration_s: f64,
    /// In time order.
    pub reps: Vec<FoundRep>,
    /// Moments that looked like a swing at the coarse look and could not be read as one, real s.
    pub dropped_s: Vec<f64>,
    /// What is to be known of the recording.
    pub warnings: Vec<Warning>,
}

impl FoundReps {
    /// The form of the file.
    pub const SCHEMA: &'static str = "swingpair.reps/1";
}
