use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// The moments of a swing, in their usual order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum EventId {
    /// Last still posture before the weight first moves back.
    Stance,
    /// The body centre is at its rearmost point, before or while the front foot lifts.
    Load,
    /// The front foot leaves the ground for the last time before plant.
    FootOff,
    /// The front forefoot's vertical speed falls to about zero at the end of the stride.
    Touch,
    /// Front toe and heel are both slow and stay slow: the foot is loaded.
    Plant,
    /// The hands begin to go to the ball: onset of the last rise, before contact, of their speed past the trunk.
    HandsStart,
    /// Bat meets ball.
    Contact,
    /// The hands are farthest from the rear shoulder after contact.
    Extension,
    /// The hands have wrapped and their speed has died.
    Finish,
}

impl EventId {
    /// All of them, in the order of a swing.
    pub const ALL: [Self; 9] = [
        Self::Stance,
        Self::Load,
        Self::FootOff,
        Self::Touch,
        Self::Plant,
        Self::HandsStart,
        Self::Contact,
        Self::Extension,
        Self::Finish,
    ];

    /// The word used in files and on the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stance => "stance",
            Self::Load => "load",
            Self::FootOff => "foot_off",
            Self::Touch => "touch",
            Self::Plant => "plant",
            Self::HandsStart => "hands_start",
            Self::Contact => "contact",
            Self::Extension => "extension",
            Self::Finish => "finish",
        }
    }

    /// The event called `word`, if there is one.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|e| e.word() == word)
    }
}

/// What an event's time rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Source {
    /// The body's motion in the picture.
    Motion,
    /// Motion found the window, sound the moment.
    MotionAndSound,
    /// Motion found the window, the ball's flight the moment; sound agrees where there is any.
    MotionAndBall,
    /// A person set it; it is kept.
    Pinned,
}

/// One moment of one swing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Event {
    /// Real (capture) time, s, from the clip's first picture.
    pub time_s: f64,
    /// The truth is meant to lie within this of `time_s` in 95 of 100 cases, s.
    pub plus_minus_s: f64,
    /// The picture nearest to `time_s`, from 0.
    pub frame: usize,
    /// What gave it.
    pub source: Source,
    /// 0…1: how clearly the evidence speaks.
    pub confidence: f64,
}

/// The events that were found.
pub type Events = BTreeMap<EventId, Event>;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_the_serde_names() {
        for event in EventId::ALL {
            assert_eq!(serde_json::to_value(event).unwrap(), event.word());
            assert_eq!(EventId::from_word(event.word()), Some(event));
        }
        assert_eq!(EventId::from_word("plnt"), None);
    }
}
