//! A reading with chosen measures, for tests.

use crate::types::{
    ClipFacts, Event, EventId, Hitter, Measures, PitcherSide, Reading, Scale, Side, Source, View,
};

/// Filmed at 240 Hz from the open side, a right-handed hitter; plant at 1 s, contact at 1.2 s.
pub fn reading(measures: Measures) -> Reading {
    let event =
        |time_s| Event { time_s, plus_minus_s: 0.01, frame: 0, source: Source::Motion, confidence: 1.0 };
    Reading {
        schema: Reading::SCHEMA.to_owned(),
        clip: ClipFacts {
            path: "rep.mp4".into(),
            width: 1280,
            height: 720,
            frames: 480,
            duration_s: 2.0,
            rate_hz: 240.0,
            capture_rate_hz: 240.0,
            slow_factor: 1.0,
        },
        hitter: Hitter { bats: Side::Right, pitcher_side: PitcherSide::Right, view: View::OpenSide },
        scale: Scale {
            body_height_px: 400.0,
            body_height_error: 0.05,
            px_per_cm: None,
            px_per_cm_error: 0.05,
        },
        events: [(EventId::Plant, event(1.0)), (EventId::Contact, event(1.2))].into(),
        measures,
        absent: Default::default(),
        warnings: Vec::new(),
        track: Default::default(),
        camera: Default::default(),
        ball: None,
        scene: None,
    }
}
