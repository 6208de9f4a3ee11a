//! A reading as text for a terminal, and why a clip was read as it was.

use crate::types::{ClipFacts, EventId, Hitter, PitcherSide, Source};

pub fn clip(c: &ClipFacts) -> String {
    let tenths = |value: f64| (value * 100.0).round() / 100.0;
    let slow = if (c.slow_factor - 1.0).abs() > 0.01 {
        format!(", recorded at {:.0} fps ({}× slow motion)", c.capture_rate_hz, tenths(c.slow_factor))
    } else {
        String::new()
    };
    format!(
        "{}: {}×{}, {} frames, {:.2} s at {:.4} fps{slow}",
        c.path.display(),
        c.width,
        c.height,
        c.frames,
        c.duration_s,
        tenths(c.rate_hz)
    )
}

pub fn hitter(hitter: &Hitter) -> String {
    let pitcher = match hitter.pitcher_side {
        PitcherSide::Left => "on the left",
        PitcherSide::Right => "on the right",
        PitcherSide::Away => "away from the camera",
        PitcherSide::Toward => "toward the camera",
    };
    format!("Bats {}, seen from {}, pitcher {pitcher}.", super::side(hitter.bats), super::view(hitter.view))
}

/// Where an event's time comes from, after the event.
pub const fn source(source: Source) -> &'static str {
    match source {
        Source::Motion => "",
        Source::MotionAndSound => "  from the sound",
        Source::MotionAndBall => "  from the ball",
        Source::Pinned => "  pinned",
    }
}

pub fn event(id: EventId, time_s: f64, plus_minus_s: f64, frame: usize, source: Source) -> String {
    format!(
        "{:<20} {time_s:>8.3} s ± {:>3.0} ms  frame {frame}{}",
        super::event(id),
        plus_minus_s * 1000.0,
        self::source(source)
    )
}

/// Why the two bodies are not laid over each other.
pub fn not_aligned(why: &str) -> String {
    format!("The two bodies are not overlaid: {why}.")
}

/// Which good rep is shown; `place`: "good rep 2 of 5".
pub fn shown(clip: &std::path::Path, place: &str) -> String {
    format!("Shown: {} ({place}).", clip.display())
}

pub(crate) const TODAY: &str = "today";
pub(crate) const REFERENCE: &str = "reference";

// Why a clip was read as it was.

/// One explanation: its place from 0, its score, who bats and from where the pitch comes.
pub fn explanation(place: usize, score: f64, hitter: &Hitter) -> String {
    format!(
        "{}. score {score:+.2}: bats {}, seen from {}, pitcher {}",
        place + 1,
        super::side(hitter.bats),
        super::view(hitter.view),
        super::pitcher(hitter.pitcher_side)
    )
}

/// How the hands move in it; `fastest` in body heights a second, `travel` in body heights.
pub fn hands(from_s: f64, to_s: f64, fastest_s: f64, fastest: f64, travel: f64) -> String {
    format!(
        "hands move from {from_s:.3} to {to_s:.3} s, fastest at {fastest_s:.3} s ({fastest:.1} body heights/s, {travel:.2} body heights in all)"
    )
}

pub(crate) fn swing_score(score: f64, traits: &str) -> String {
    format!("moves like a swing {score:+.2} ({traits})")
}

pub(crate) fn stance_score(score: f64) -> String {
    format!("stands like a hitter {score:+.2}")
}

pub(crate) fn impossible(fault: &str) -> String {
    format!("impossible: {fault}")
}
