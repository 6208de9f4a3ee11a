//! The reps of a long film.

use serde::{Deserialize, Serialize};

use super::{Measures, Side, View, Warning};

/// One rep of a long film. `W`: what warnings are told as, see [`FoundReps::with_warnings`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FoundRep<W = Warning> {
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
    pub warnings: Vec<W>,
}

/// What was found in a long film, as `NAME.reps.json` keeps it beside the cut films; `reps --json` prints it in words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FoundReps<W = Warning> {
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
    pub reps: Vec<FoundRep<W>>,
    /// Moments that looked like a swing at the coarse look and could not be read as one, real s.
    pub dropped_s: Vec<f64>,
    /// What is to be known of the recording.
    pub warnings: Vec<W>,
}

impl FoundReps {
    /// The form of the file.
    pub const SCHEMA: &'static str = "swingpair.reps/1";
}

impl<W> FoundReps<W> {
    /// The same with every list of warnings told by `tell`.
    pub fn with_warnings<V>(&self, tell: impl Fn(&[W]) -> Vec<V>) -> FoundReps<V> {
        let rep = |rep: &FoundRep<W>| FoundRep {
            clip: rep.clip.clone(),
            from_s: rep.from_s,
            to_s: rep.to_s,
            lossless: rep.lossless,
            contact_s: rep.contact_s,
            contact_plus_minus_s: rep.contact_plus_minus_s,
            met: rep.met,
            bats: rep.bats,
            view: rep.view,
            hitter_at: rep.hitter_at,
            hands: rep.hands,
            measures: rep.measures.clone(),
            warnings: tell(&rep.warnings),
        };
        FoundReps {
            schema: self.schema.clone(),
            key: self.key.clone(),
            films: self.films.clone(),
            reps: self.reps.iter().map(rep).collect(),
            dropped_s: self.dropped_s.clone(),
            warnings: tell(&self.warnings),
            finished: self.finished,
            duration_s: self.duration_s,
        }
    }
}
