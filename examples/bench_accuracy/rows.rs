//! One reading beside its truth.

use swingpair::demo::{Scenario, Truth};
use swingpair::swing;
use swingpair::types::{EventId, Events, Hitter, Measures, Part, Pose, Reading, Track, Warning};

/// Constants may be set on the first; what is claimed is told of the second.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Share {
    Set,
    Report,
}

impl Share {
    pub const BOTH: [Self; 2] = [Self::Set, Self::Report];

    pub fn word(self) -> &'static str {
        match self {
            Self::Set => "set",
            Self::Report => "report",
        }
    }
}

/// What is to be read.
pub struct Case {
    pub share: Share,
    pub scenario: Scenario,
}

pub struct Row {
    pub share: Share,
    pub scenario: Scenario,
    pub truth: Truth,
    pub outcome: Outcome,
}

pub enum Outcome {
    Read(Box<Seen>),
    OtherPerson,
    OtherSwing,
    NotFound(String),
}

/// What was read, of points or of a film.
pub struct Seen {
    pub hitter: Hitter,
    pub events: Events,
    pub measures: Measures,
    pub warnings: Vec<Warning>,
    pub track: Track,
    pub body_height_px: f64,
    pub px_per_cm: Option<f64>,
}

impl Seen {
    pub fn of_points(read: swing::Swing, track: Track) -> Self {
        Self {
            hitter: read.hitter,
            events: read.events,
            measures: read.measures,
            warnings: read.warnings,
            track,
            body_height_px: read.scale.body_height_px,
            px_per_cm: read.scale.px_per_cm,
        }
    }

    pub fn of_film(read: Reading) -> Self {
        Self {
            hitter: read.hitter,
            events: read.events,
            measures: read.measures,
            warnings: read.warnings,
            body_height_px: read.scale.body_height_px,
            px_per_cm: read.scale.px_per_cm,
            track: read.track,
        }
    }
}

impl Row {
    pub fn read(&self) -> Option<&Seen> {
        match &self.outcome {
            Outcome::Read(seen) => Some(seen),
            _ => None,
        }
    }
}

/// The head this far from the truth's, in body heights (median over the swing), is another person's.
const OTHER_PERSON: f64 = 0.15;
/// Contact this far from the truth's is another swing of the same clip, s.
const OTHER_SWING_S: f64 = 0.8;

pub fn judged(truth: &Truth, seen: Seen) -> Outcome {
    let exact = truth.track();
    let head = |p: &Pose| Some(p.at(Part::LeftEar)?.midpoint(p.at(Part::RightEar)?));
    let mut apart: Vec<f64> = seen
        .track
        .poses
        .iter()
        .filter_map(|p| Some(head(p)?.distance(head(exact.nearest(p.time_s)?)?) / truth.body_height_px))
        .collect();
    apart.sort_by(f64::total_cmp);
    if apart.get(apart.len() / 2).is_none_or(|d| *d > OTHER_PERSON) {
        return Outcome::OtherPerson;
    }
    match (seen.events.get(&EventId::Contact), truth.at(EventId::Contact)) {
        (Some(read), Some(true_s)) if (read.time_s - true_s).abs() > OTHER_SWING_S => Outcome::OtherSwing,
        _ => Outcome::Read(Box::new(seen)),
    }
}
