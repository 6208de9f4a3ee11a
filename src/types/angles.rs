//! Two cameras on one swing: how the clock of one lies to the other's.

use serde::{Deserialize, Serialize};

use super::EventId;

/// One clock runs faster than the other by so much, parts in a million.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Drift {
    /// Above 0: the second clock is the faster one.
    pub ppm: f64,
    /// Its ± (95 %), parts per million.
    pub plus_minus_ppm: f64,
}

/// From the first clip's real time to the second's: `b = a + offset + drift · (a − at)`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Offset {
    /// Moment of the first clip at which `offset_s` holds, s.
    pub at_s: f64,
    /// How much later the same moment stands on the second clock, s.
    pub offset_s: f64,
    /// The truth is meant to lie within this in 95 of 100 cases, s.
    pub plus_minus_s: f64,
    /// `None` where the clips are too short to tell.
    pub drift: Option<Drift>,
}

impl Offset {
    fn slope(&self) -> f64 {
        self.drift.map_or(0.0, |d| d.ppm * 1e-6)
    }

    /// The second clip's time of a moment of the first.
    pub fn second_from_first(&self, first_s: f64) -> f64 {
        first_s + self.offset_s + self.slope() * (first_s - self.at_s)
    }

    /// The same with the two clips' places changed.
    pub fn turned(&self) -> Self {
        let ppm = |d: Drift| Drift { ppm: -d.ppm, ..d };
        Self {
            at_s: self.second_from_first(self.at_s),
            offset_s: -self.offset_s,
            drift: self.drift.map(ppm),
            ..*self
        }
    }

    /// The inverse.
    pub fn first_from_second(&self, second_s: f64) -> f64 {
        self.at_s + (second_s - self.offset_s - self.at_s) / (1.0 + self.slope())
    }
}

/// The next best offset, and how good it is beside the best: 0…1.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RunnerUp {
    /// Its offset, s.
    pub offset_s: f64,
    /// How strong it is, as a share of the best.
    pub share: f64,
}

/// What two sounds say. Times are those at the microphones: the ways through the air are still in them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HeardOffset {
    /// The offset told.
    pub offset: Offset,
    /// 0…1: how clearly it stands out.
    pub confidence: f64,
    /// The next best, where there is one.
    pub runner_up: Option<RunnerUp>,
    /// How many sudden sounds both have at this offset.
    pub shared: usize,
    /// Whether the sounds themselves are alike, not only their moments.
    pub alike: bool,
    /// Sounds from other places, as far away, disagree: they are in the ±.
    pub other_places: bool,
    /// The sounds leave it open; the picture says that this one is contact in both.
    pub by_contact: bool,
}

/// Why sound tells no offset.
/// `clip`: 0 = the first.
#[expect(missing_docs, reason = "fields are told above")]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "why", rename_all = "snake_case")]
pub enum Unheard {
    /// A clip has no sound. 0 = the first.
    NoSound { clip: usize },
    /// A clip is stored slower than life: its sound keeps no time.
    SlowMotion { clip: usize },
    /// Nothing sudden is heard in a clip.
    Quiet { clip: usize },
    /// Several offsets fit as well.
    Ambiguous { offsets_s: Vec<f64> },
    /// No offset brings the two together.
    Unrelated,
    /// One sudden sound each, and nothing that shows it is the same one.
    LoneSound { offset_s: f64 },
}

/// What the offset rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LinedUpBy {
    /// By what was heard.
    Sound,
    /// Sound leaves several; the picture tells which.
    SoundAndPicture,
    /// Events seen in both.
    Picture,
}

/// An event found in both clips, beside what the sound says.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SharedEvent {
    /// Which event.
    pub event: EventId,
    /// Second clip's time − first clip's, s.
    pub offset_s: f64,
    /// Its ± (95 %), s.
    pub plus_minus_s: f64,
    /// Whether it agrees with the sound within both ±. `None` where sound tells nothing.
    pub agrees: Option<bool>,
}

/// Two clips of one swing, lined up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Angles {
    /// The one that counts, the sound's ways through the air taken out.
    pub offset: Offset,
    /// What the offset rests on.
    pub by: LinedUpBy,
    /// What the sound said.
    pub heard: Option<HeardOffset>,
    /// Why the sound said nothing.
    pub unheard: Option<Unheard>,
    /// Events that both clips show.
    pub events: Vec<SharedEvent>,
    /// How late the sound is at each microphone, s, and the error of the difference of the two.
    pub sound_delays_s: [f64; 2],
    /// Of their difference, s.
    pub sound_delays_plus_minus_s: f64,
    /// Whether the distances were given.
    pub distances_given: bool,
}
