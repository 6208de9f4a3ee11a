//! A small clip really made from two really filmed ones: the pictures shown, the sound, the file.

use std::path::Path;
use std::process::Command;

use swingpair::compose::{self, ClipOptions, ClipSide, Layout, Made, Plan, Ready, Shows};
use swingpair::demo::{self, Truth, scenarios};
use swingpair::media::{Clip, OpenOptions};
use swingpair::types::{CameraMotion, Cancel, EventId, NoProgress, Pairing, Reading, SyncOn};
use swingpair::{pairing, swing};

fn filmed(dir: &Path, which: usize, rate_hz: f64) -> (Clip, Truth) {
    let [today, best] = scenarios::two_reps();
    let mut scenario = if which == 0 { today } else { best };
    (scenario.camera.width, scenario.camera.height, scenario.camera.rate_hz) = (320, 180, rate_hz);
    scenario.contact_s = 1.45 + 0.1 * which as f64;
    scenario.duration_s = scenario.contact_s + 0.6;
    let path = dir.join(format!("{which}.mp4"));
    let truth = demo::film(&scenario, &path, &NoProgress, &Cancel::default()).unwrap();
    (Clip::open(&path, &OpenOptions::default()).unwrap(), truth)
}

/// A reading of the exact points.
pub fn read(clip: &Clip, truth: &Truth) -> Reading {
    let track = truth.track();
    let read = swing::read_swing(&swing::SwingInput {
        camera: &truth.to_steady,
        onsets: truth.onsets(),
        height_cm: Some(truth.hitter.height_cm),
        mic_distance_m: Some(truth.camera.distance_m),
        ..swing::SwingInput::new(&track, &truth.times_s, clip.facts().width as f64)
    })
    .unwrap();
    Reading {
        schema: Reading::SCHEMA.to_owned(),
        clip: clip.facts().clone(),
        hitter: read.hitter,
        scale: read.scale,
        events: read.events,
        measures: read.measures,
        absent: read.absent,
        warnings: read.warnings,
        track,
        camera: CameraMotion { to_steady: truth.to_steady.clone(), ..CameraMotion::default() },
        ball: None,
        scene: None,
    }
}

fn nearest(clip: &Clip, wanted_s: f64) -> f64 {
    let off = clip.pts_s().iter().map(|p| (p - wanted_s).abs());
    off.fold(f64::INFINITY, f64::min)
}

/// At every output picture both sides show the source picture nearest to the wanted time.
fn trace_is_right(made: &Made, clips: [&Clip; 2], readings: [&Reading; 2], pairing: &Pairing) {
    let snap = |side: usize, s| clips[side].real_s(clips[side].frame_at_real(s));
    let plan = Plan::ready(Ready::Teach, compose::usual_slow());
    let beats = plan.beats(readings, pairing, 30.0, None, snap).unwrap();
    assert_eq!(beats.len(), made.trace.len());
    assert_eq!(beats.len(), made.written.frames);
    for (beat, line) in beats.iter().zip(&made.trace) {
        let Shows::Swing { today_s, .. } = beat.shows else {
            assert!(line.today.is_none() && line.reference.is_none());
            continue;
        };
        let wanted = [today_s, pairing.time_map.reference_from_today(today_s)];
        for ((clip, wanted_s), shown) in clips.into_iter().zip(wanted).zip([line.today, line.reference]) {
            let shown = shown.unwrap();
            assert_eq!(clip.pts_s()[shown.frame], shown.pts_s);
            let off = (shown.pts_s - wanted_s).abs();
            assert!(off <= nearest(clip, wanted_s) + 1e-9, "{line:?}: {off} from {wanted_s}");
        }
    }
}

#[test]
fn a_made_clip_shows_the_nearest_pictures_and_is_heard_in_step() {
    let dir = tempfile::tempdir().unwrap();
    let ((today, today_truth), (best, best_truth)) =
        (filmed(dir.path(), 0, 60.0), filmed(dir.path(), 1, 120.0));
    let (t, r) = (read(&today, &today_truth), read(&best, &best_truth));
    for (sync, layout) in [(SyncOn::Event(EventId::Plant), None), (SyncOn::Phases, Some(Layout::Ghost))] {
        let (pairing, _) = pairing::pair(&t, &r, sync).unwrap();
        let target = dir.path().join("made.mp4");
        let options = ClipOptions { layout, size: Some((270, 480)), ..ClipOptions::default() };
        let side = |clip, reading, label| ClipSide { clip, reading, label, second: None, mirrored: false };
        let (a, b) = (side(&today, &t, "Today"), side(&best, &r, "Best rep"));
        let made =
            compose::make(&a, &b, &pairing, &options, &target, &NoProgress, &Cancel::default()).unwrap();
        assert_eq!(made.layout, layout.unwrap_or(Layout::SideBySide));
        assert!((12.0..=18.0).contains(&made.written.duration_s), "{}", made.written.duration_s);
        trace_is_right(&made, [&today, &best], [&t, &r], &pairing);
        heard_in_step(&made, &today_truth, &target);
    }
}

/// The knock is heard in the shot at full speed, within one picture of where it belongs, and an
/// independent reader finds the sound.
fn heard_in_step(made: &Made, truth: &Truth, target: &Path) {
    assert!(made.written.has_sound);
    let knock_s = truth.onsets()[0].time_s;
    let line = made.trace.iter().find(|l| l.today.is_some_and(|t| t.pts_s >= knock_s)).unwrap();
    assert_eq!(line.shot, 0);
    let sound = Clip::open(target, &OpenOptions::default()).unwrap().sound(48_000).unwrap().unwrap();
    let begins_s = |shot| made.trace.iter().find(|l| l.shot == shot).unwrap().output_time_s;
    let place = |output_s: f64| ((output_s - sound.start_s) * 48_000.0) as usize;
    let first = sound.samples.iter().take(place(begins_s(1)));
    let loudest = first.enumerate().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs())).unwrap().0;
    let heard_s = sound.start_s + loudest as f64 / 48_000.0;
    assert!((heard_s - line.output_time_s).abs() <= 1.0 / 30.0, "{heard_s} {}", line.output_time_s);
    // Slowed: silent, but for the codec's own noise.
    let loud =
        |from_s, to_s| sound.samples[place(from_s)..place(to_s)].iter().fold(0f32, |m, s| m.max(s.abs()));
    let slowed = loud(begins_s(1) + 0.1, begins_s(2) - 0.1);
    assert!(slowed < 1e-3, "{slowed}");
    // And heard again where it runs at full speed again.
    assert!(loud(begins_s(2), begins_s(3)) > 0.1);
    let Ok(probe) = Command::new("ffprobe")
        .args(["-v", "error", "-show_entries", "stream=codec_type,codec_name", "-of", "csv=p=0"])
        .arg(target)
        .output()
    else {
        crate::skipped::skipped("what ffprobe reads of a made clip", "no ffprobe");
        return;
    };
    let text = String::from_utf8_lossy(&probe.stdout);
    assert!(text.contains("h264,video") && text.contains("aac,audio"), "{text}");
}
