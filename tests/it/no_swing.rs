//! Clips without a swing are refused, each with a reason.

use std::collections::BTreeMap;

use swingpair::demo::{self, Dice, Pastime, Truth};
use swingpair::reading::{ReadOptions, read};
use swingpair::swing::{SwingInput, read_swing};
use swingpair::types::{Cancel, Error, NoProgress, Point, Track, View};

const RATES_HZ: [f64; 4] = [30.0, 60.0, 120.0, 240.0];
const VIEWS: [View; 2] = [View::OpenSide, View::ClosedSide];
/// What a pose net's points scatter by from picture to picture, px (standard deviation on each axis).
const JITTER_PX: f64 = 1.5;
/// Apart from the seeds that constants were set on and that the bench tells of.
const FIRST_SEED: u64 = 940_000;
const SEEDS: u64 = 5;

fn jittered(truth: &Truth, seed: u64) -> Track {
    let mut dice = Dice::stream(seed, 92);
    let mut track = truth.track();
    for spot in track.poses.iter_mut().flat_map(|p| p.spots.iter_mut().flatten()) {
        spot.at = spot.at + Point::new(dice.bell(), dice.bell()) * JITTER_PX;
    }
    track
}

/// Every act × side × rate × seed, as exact points that scatter.
#[test]
fn whoever_does_not_swing_is_refused_with_a_reason() {
    let mut read: BTreeMap<Pastime, Vec<String>> = BTreeMap::new();
    let mut causes: BTreeMap<String, usize> = BTreeMap::new();
    let mut n = 0;
    for what in Pastime::ALL {
        for (k, rate_hz) in (0..).zip(RATES_HZ) {
            for (j, view) in (0..).zip(VIEWS) {
                for i in 0..SEEDS {
                    n += 1;
                    let seed = FIRST_SEED + 100 * (2 * k + j) + i;
                    let scenario = what.scenario(seed, view, rate_hz);
                    let truth = Truth::of(&scenario);
                    let track = jittered(&truth, seed);
                    let times: Vec<f64> = track.poses.iter().map(|p| p.time_s).collect();
                    let long_side_px = scenario.camera.width.max(scenario.camera.height) as f64;
                    match read_swing(&SwingInput::new(&track, &times, long_side_px)) {
                        Ok(_) => read.entry(what).or_default().push(format!("{seed} {view:?} {rate_hz}")),
                        Err(e) => {
                            let cause = e.to_string();
                            assert!(cause.len() > 20, "{what:?}: no reason: {cause}");
                            let words = cause.chars().filter(|c| !c.is_ascii_digit()).collect();
                            *causes.entry(words).or_default() += 1;
                        }
                    }
                }
            }
        }
    }
    for (cause, n) in &causes {
        eprintln!("{n:4} {cause}");
    }
    for (what, clips) in &read {
        eprintln!("{what:?}: {} read as a swing: {}", clips.len(), clips.join(", "));
    }
    // What is held back is never read; of the others two in a hundred may still pass (before the limits of
    // `swing/bearing.rs`: 110 of these 400).
    let passed: usize = read.values().map(Vec::len).sum();
    assert!(passed * 50 <= n, "{passed} of {n} read as a swing");
    for what in [Pastime::Takes, Pastime::ChecksSwing] {
        assert!(!read.contains_key(&what), "{what:?}: {:?}", read[&what]);
    }
}

/// The same of short films: lying on the back as on a bed, throwing, holding a swing back.
#[test]
fn films_of_whoever_does_not_swing_are_refused_with_a_reason() {
    let folder = tempfile::tempdir().unwrap();
    for (what, view) in [
        (Pastime::Lies, View::OpenSide),
        (Pastime::Kneels, View::ClosedSide),
        (Pastime::Throws, View::ClosedSide),
    ] {
        let mut s = what.scenario(FIRST_SEED + 901, view, 30.0);
        (s.camera.width, s.camera.height) = (480, 270);
        let path = folder.path().join(format!("{what:?}.mp4"));
        demo::film(&s, &path, &NoProgress, &Cancel::default()).unwrap();
        match read(&path, &ReadOptions::default(), &NoProgress, &Cancel::default()) {
            Err(Error::NoSwing { cause, .. }) => {
                eprintln!("{what:?}: {cause}");
                assert!(cause.to_string().len() > 20, "{what:?}: no reason: {cause}");
            }
            Err(e) => panic!("{what:?}: {e}"),
            Ok(read) => panic!("{what:?}: read as a swing: {:?}", read.reading.events),
        }
    }
}
