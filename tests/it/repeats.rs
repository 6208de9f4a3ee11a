//! Pictures repeated to fill a file up to a higher rate are found in badly coded, handheld clips too, and none where
//! nothing was filled up. Which pictures repeat is what ffmpeg's own hashes say before the coder blurs it.

use std::path::{Path, PathBuf};
use std::process::Command;

use swingpair::demo::{self, Hold, scenarios};
use swingpair::media::{Clip, OpenOptions, RepeatMeter};
use swingpair::types::{Cancel, NoProgress};

/// H.264 at so low a quality that a handheld cage clip takes 100 kbit/s.
const BADLY: &str = "34";

fn coded(crf: &str) -> Vec<&str> {
    vec!["-c:v", "libx264", "-crf", crf, "-preset", "veryfast", "-bf", "3"]
}

fn real(test: &str, name: &str) -> Option<PathBuf> {
    let folder = std::env::var_os("SWINGPAIR_FOOTAGE")
        .map_or_else(|| Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/footage"), PathBuf::from);
    let file = folder.join(name);
    if file.is_file() {
        return Some(file);
    }
    crate::skipped::skipped(test, &format!("no {}", file.display()));
    None
}

/// Three seconds at 30 Hz, held in one hand, in poor light.
fn made(folder: &Path) -> PathBuf {
    let [mut scenario, _] = scenarios::two_reps();
    let camera = &mut scenario.camera;
    (camera.width, camera.height, camera.rate_hz) = (640, 360, 30.0);
    (camera.hold, camera.noise, camera.light) = (Hold::Loose, 3.5, 0.7);
    (scenario.contact_s, scenario.duration_s) = (2.0, 3.0);
    let path = folder.join("made.mp4");
    demo::film(&scenario, &path, &NoProgress, &Cancel::default()).unwrap();
    path
}

fn ffmpeg(from: &Path, words: &[&str], to: &Path) -> String {
    let mut command = Command::new("ffmpeg");
    command
        .args(["-v", "error", "-y", "-i"])
        .arg(from)
        .args(["-an", "-pix_fmt", "yuv420p"])
        .args(words)
        .arg(to);
    let out = command.output().expect("the tests need the ffmpeg program");
    assert!(out.status.success(), "{words:?}: {}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).unwrap()
}

/// The pictures that are the one before again, by their hashes.
fn repeated(from: &Path, filter: &str) -> Vec<usize> {
    let reported = ffmpeg(from, &["-vf", filter, "-f", "framemd5"], Path::new("-"));
    let hashes: Vec<&str> =
        reported.lines().filter(|l| !l.starts_with('#')).filter_map(|l| l.rsplit(',').next()).collect();
    (1..hashes.len()).filter(|i| hashes[*i] == hashes[i - 1]).collect()
}

fn found(clip: &Path) -> Vec<usize> {
    let clip = Clip::open(clip, &OpenOptions::default()).unwrap();
    let mut frames = clip.frames(0, Some((960, 960))).unwrap();
    let mut meter = RepeatMeter::default();
    while let Some(picture) = frames.next_frame().unwrap() {
        meter.see(picture.index, &picture.frame);
    }
    let found = meter.found();
    assert!(!found.speed_changes, "{}: one speed throughout", clip.facts().path.display());
    found.pictures
}

/// Of the pictures of `film` relabelled `from` a second and filled up to `to`, then coded: how many repeat, how many of
/// these are found, how many others are taken for repeats.
fn counted(folder: &Path, film: &Path, (from, to): (u32, u32), crf: &str) -> (usize, usize, usize) {
    let filter = format!("settb=1/9000,setpts=N*{},fps={to}", 9000 / from);
    counted_by(folder, film, &filter, crf)
}

fn counted_by(folder: &Path, film: &Path, filter: &str, crf: &str) -> (usize, usize, usize) {
    let clip = folder.join("filled_up.mp4");
    ffmpeg(film, &[vec!["-vf", filter], coded(crf)].concat(), &clip);
    let (wanted, found) = (repeated(film, filter), found(&clip));
    let right = found.iter().filter(|i| wanted.contains(i)).count();
    (wanted.len(), right, found.len() - right)
}

/// Every 6th, 5th, 4th picture repeats, and none: at least this share is found, and none is invented.
fn holds(name: &str, film: &Path, crf: &str, least: f64) {
    let folder = tempfile::tempdir().unwrap();
    let mut wrong = Vec::new();
    for rates in [(25, 30), (24, 30), (45, 60), (30, 30)] {
        let (wanted, right, invented) = counted(folder.path(), film, rates, crf);
        assert_eq!(wanted > 0, rates.0 < rates.1, "{name}: the film itself repeats no picture");
        let reported =
            format!("{name}, CRF {crf}, {rates:?}: {right} of {wanted} found, {invented} invented");
        println!("{reported}");
        if (right as f64) < least * wanted as f64 || invented > 0 {
            wrong.push(reported);
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The made-up field has little grain of its own: coded as badly as the real clips below, the coder freezes it, and a
/// repeat looks like any other picture. Then none may be invented.
#[test]
fn repeats_in_a_handheld_film_are_found() {
    let folder = tempfile::tempdir().unwrap();
    let film = made(folder.path());
    holds("made up", &film, "18", 0.9);
    holds("made up", &film, BADLY, 0.0);
}

#[test]
fn repeats_in_badly_coded_real_handheld_clips_are_found() {
    for name in ["cage_two_swings.mp4", "bunt.mp4"] {
        if let Some(film) = real("repeats in a badly coded handheld clip", name) {
            holds(name, &film, BADLY, 0.9);
        }
    }
}

/// Times rounded to a tick before the file is filled up: at 24 to 30 every second repeat falls midway between two places
/// and lands on either. More are missed then.
#[test]
fn repeats_off_their_beat_are_found_mostly() {
    let Some(film) = real("repeats off their beat", "cage_two_swings.mp4") else { return };
    let folder = tempfile::tempdir().unwrap();
    let filter = "settb=1/9000,setpts=N/24/TB,fps=30";
    let (wanted, right, invented) = counted_by(folder.path(), &film, filter, BADLY);
    println!("rounded times: {right} of {wanted} found, {invented} invented");
    assert!(right * 4 >= wanted * 3 && invented == 0, "{right} of {wanted} found, {invented} invented");
}

/// A fixed camera: somebody walks through now and then, else nothing moves but the coder's noise.
#[test]
fn a_still_scene_repeats_nothing() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["person_walking.mp4", "golf_swing.mp4"] {
        let Some(film) = real("a still scene repeats nothing", name) else { continue };
        let sparse: &[&str] =
            &["-c:v", "libx264", "-crf", "34", "-g", "12", "-sc_threshold", "0", "-bf", "2"];
        for (coder, words) in [("badly", coded(BADLY)), ("keyed often", sparse.to_vec())] {
            let clip = folder.path().join("still.mp4");
            ffmpeg(&film, &[vec!["-t", "60"], words].concat(), &clip);
            let invented = found(&clip);
            println!("{name} coded {coder}: {} invented", invented.len());
            assert!(invented.is_empty(), "{name} coded {coder}: {invented:?}");
        }
    }
}
