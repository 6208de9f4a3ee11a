//! Exact points with jitter, read without a film: seconds instead of hours.

use swingpair::demo::{Dice, Truth};
use swingpair::swing::{SwingInput, read_swing};
use swingpair::types::{Onset, Point, Track};

use super::rows::{Case, Outcome, Row, Seen, judged};

/// What a pose net's points scatter by from picture to picture, px (standard deviation on each axis).
const JITTER_PX: f64 = 1.5;

pub fn read(case: Case) -> Row {
    let Case { share, scenario } = case;
    let truth = Truth::of(&scenario);
    let track = jittered(&truth, scenario.camera_seed);
    let times: Vec<f64> = track.poses.iter().map(|p| p.time_s).collect();
    let long_side_px = scenario.camera.width.max(scenario.camera.height) as f64;
    let onsets: &[Onset] = if scenario.sound.is_some() { truth.onsets() } else { &[] };
    let evidence = SwingInput {
        height_cm: Some(scenario.hitter.height_cm),
        onsets,
        ..SwingInput::new(&track, &times, long_side_px)
    };
    let outcome = match read_swing(&evidence) {
        Ok(swing) => judged(&truth, Seen::of_points(swing, track.clone())),
        Err(e) => Outcome::NotFound(e.to_string()),
    };
    Row { share, scenario, truth, outcome }
}

pub fn jittered(truth: &Truth, seed: u64) -> Track {
    let mut dice = Dice::stream(seed, 90);
    let mut track = truth.track();
    for spot in track.poses.iter_mut().flat_map(|p| p.spots.iter_mut().flatten()) {
        spot.at = spot.at + Point::new(dice.bell(), dice.bell()) * JITTER_PX;
    }
    track
}
