//! What each kind of small file meets: its reader, and what is done first with what it gives. True: it was taken.

use std::path::Path;

use swingpair::compose::Plan;
use swingpair::lesson::{Lesson, targets};
use swingpair::store::{captions_from_text, sidecar_from_text};
use swingpair::swing::{SwingInput, read_swing};
use swingpair::tracking::keypoints::{Times, parse};

/// Read as files are: what is no UTF-8 is refused before.
fn text(bytes: &[u8]) -> Option<&str> {
    std::str::from_utf8(bytes).ok()
}

pub fn plan(bytes: &[u8]) -> bool {
    let Some(plan) = text(bytes).and_then(|t| Plan::from_text(t).ok()) else { return false };
    // What is taken can be written and is taken again.
    let again = plan.to_toml().map(|toml| Plan::from_text(&toml));
    assert_eq!(again.ok().and_then(Result::ok), Some(plan));
    true
}

pub fn captions(bytes: &[u8]) -> bool {
    let Some(words) = text(bytes).and_then(|t| captions_from_text(t, Default::default()).ok()) else {
        return false;
    };
    words.texts().count() > 0
}

pub fn lesson(bytes: &[u8]) -> bool {
    // A folder that is not there: what the lesson names is missing.
    let file = Path::new("no-such-folder/lesson.toml");
    let Some(lesson) = text(bytes).and_then(|t| Lesson::from_text(file, t).ok()) else { return false };
    targets(&lesson);
    true
}

pub fn keypoints(bytes: &[u8]) -> bool {
    let Some(points) = text(bytes).and_then(|t| parse(t, Times::Rate(60.0), None).ok()) else { return false };
    let _ = read_swing(&SwingInput::new(&points.track, &points.times_s, points.width as f64));
    true
}

pub fn sidecar(bytes: &[u8]) -> bool {
    let Some(sidecar) = text(bytes).and_then(|t| sidecar_from_text(t).ok()) else { return false };
    if let Some(seen) = &sidecar.seen {
        let times_s: Vec<f64> = seen.track.poses.iter().map(|p| p.time_s).collect();
        let input = SwingInput::new(&seen.track, &times_s, 1280.0);
        let _ = read_swing(&SwingInput {
            camera: &seen.camera.to_steady,
            onsets: &seen.onsets,
            pins: &sidecar.pins,
            ball: seen.ball.as_ref().and_then(|b| b.as_ref().ok()),
            known_hitter: sidecar.hitter,
            ..input
        });
    }
    true
}
