use serde::{Deserialize, Serialize};

/// In air of 20 °C, m/s: 331.3 + 0.606 · T (from memory).
pub const SPEED_OF_SOUND_M_S: f64 = 343.4;

/// A clip's sound, mixed to one channel.
#[derive(Debug, Clone, PartialEq)]
pub struct Sound {
    /// Samples per s.
    pub rate_hz: u32,
    /// Playback time of the first sample, s, counted from the clip's first picture (may be negative).
    pub start_s: f64,
    /// −1…1.
    pub samples: Vec<f32>,
}

/// A sudden rise of sound: what a hit, a step or a clap looks like to a microphone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Onset {
    /// Real (capture) time at the microphone, s from the clip's first picture.
    pub time_s: f64,
    /// Rise over the level just before, dB (> 0).
    pub rise_db: f64,
}
