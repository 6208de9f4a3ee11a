use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::words::words;

words! {
    /// The moments of a swing, in their usual order.
    #[derive(Hash, PartialOrd, Ord)]
    pub enum EventId {
        /// Last still posture before the weight first moves back.
        "stance" Stance,
        /// The body centre is at its rearmost point, before or while the front foot lifts.
        "load" Load,
        /// The front foot leaves the ground for the last time before plant.
        "foot_off" FootOff,
        /// The front forefoot's vertical speed falls to about zero at the end of the stride.
        "touch" Touch,
        /// Front toe and heel are both slow and stay slow: the foot is loaded.
        "plant" Plant,
        /// The hands begin to go to the ball: onset of the last rise, before contact, of their speed past the trunk.
        "hands_start" HandsStart,
        /// Bat meets ball.
        "contact" Contact,
        /// The hands are farthest from the rear shoulder after contact.
        "extension" Extension,
        /// The hands have wrapped and their speed has died.
        "finish" Finish,
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
