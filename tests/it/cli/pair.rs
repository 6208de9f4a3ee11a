//! `pair`: the made clip, its JSON and its trace, and how it stops.

use std::io::{BufRead, BufReader, Read};
use std::path::Path;
use std::process::Command;

use serde_json::{Value, json};
use swingpair::compose::{Plan, Ready, Shows, usual_slow};
use swingpair::media::{Clip, OpenOptions};
use swingpair::types::{EventId, Reading, SyncOn};
use swingpair::{pairing, store};

use super::films::{command, films, listing, swingpair, words};

const SMALL: &str = "256x456";

fn reading(clip: &Path) -> Reading {
    serde_json::from_value(swingpair!["read", clip, "--json"].json()).unwrap()
}

#[test]
fn a_pair_is_made_told_and_traced() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let hashes = [&a, &b].map(|p| store::content_hash(p).unwrap());
    let (out, trace) = (folder.path().join("out.mp4"), folder.path().join("trace.jsonl"));
    let said = swingpair!["pair", a, b, "-o", out, "--json", "--trace", trace, "--size", SMALL];
    let reported = said.json();
    assert_eq!([&a, &b].map(|p| store::content_hash(p).unwrap()), hashes, "the sources were touched");
    let files = ["best.mp4", "best.swing.json", "out.mp4", "today.mp4", "today.swing.json", "trace.jsonl"];
    assert_eq!(listing(folder.path()), files);

    assert_eq!(
        (reported["schema"].as_str(), &reported["sync"]),
        (Some("swingpair.pairing/1"), &json!({"event": "plant"}))
    );
    for side in ["today", "reference"] {
        for event in ["plant", "contact"] {
            assert!(reported[side]["events"][event]["time_s"].is_number(), "{side} {event}");
        }
    }
    let registration = &reported["registration"];
    assert!(registration["residual_px"].as_f64().unwrap() > 0.0, "{registration}");
    assert!(registration["residual_body_heights"].as_f64().unwrap() < 0.15, "{registration}");
    let written = &reported["written"];
    assert_eq!(
        (&written["width"], &written["height"], &written["codec"]),
        (&json!(256), &json!(456), &json!("h264"))
    );

    // The pictures shown, worked out again from what was printed and the clips' own times.
    let (today, reference) = (reading(&a), reading(&b));
    let (paired, _) = pairing::pair(&today, &reference, SyncOn::Event(EventId::Plant)).unwrap();
    assert_eq!(serde_json::to_value(&paired.time_map).unwrap(), reported["time_map"]);
    let clips = [&a, &b].map(|p| Clip::open(p, &OpenOptions::default()).unwrap());
    let snap = |side: usize, s| clips[side].real_s(clips[side].frame_at_real(s));
    let plan = Plan::ready(Ready::Teach, usual_slow());
    let beats = plan.beats([&today, &reference], &paired, 30.0, None, snap).unwrap();
    let lines: Vec<Value> =
        std::fs::read_to_string(&trace).unwrap().lines().map(|l| serde_json::from_str(l).unwrap()).collect();
    assert_eq!((lines.len(), written["frames"].as_u64()), (beats.len(), Some(beats.len() as u64)));
    for (n, (line, beat)) in lines.iter().zip(&beats).enumerate() {
        let time_s = line["output_time_s"].as_f64().unwrap();
        assert!((time_s - n as f64 / 30.0).abs() < 1e-9, "{line}");
        let Shows::Swing { today_s, reference_s, .. } = beat.shows else {
            assert!(line["today"].is_null() && line["reference"].is_null(), "{line}");
            continue;
        };
        for ((clip, side), wanted_s) in clips.iter().zip(["today", "reference"]).zip([today_s, reference_s]) {
            let (frame, pts_s) =
                (line[side]["frame"].as_u64().unwrap(), line[side]["pts_s"].as_f64().unwrap());
            assert!((clip.pts_s()[frame as usize] - pts_s).abs() < 1e-6, "{line}");
            let off_s = |pts_s: f64| (pts_s - wanted_s).abs();
            let least_s = clip.pts_s().iter().copied().map(off_s).fold(f64::INFINITY, f64::min);
            assert!(off_s(pts_s) <= least_s + 1e-6, "{line}: wanted {wanted_s}, {least_s} is nearer");
        }
    }
    an_independent_reader_agrees(&out, lines.len());
}

/// The order of the file's outermost boxes (ISO/IEC 14496-12: 32-bit length, then four letters).
fn boxes(file: &[u8]) -> Vec<String> {
    let (mut at, mut names) = (0, Vec::new());
    while let Some(head) = file.get(at..at + 8) {
        names.push(String::from_utf8_lossy(&head[4..]).into_owned());
        let length = u32::from_be_bytes(head[..4].try_into().unwrap()) as usize;
        assert!(length >= 8, "{names:?}");
        at += length;
    }
    names
}

fn an_independent_reader_agrees(clip: &Path, frames: usize) {
    let names = boxes(&std::fs::read(clip).unwrap());
    let place =
        |name: &str| names.iter().position(|n| n == name).unwrap_or_else(|| panic!("no {name}: {names:?}"));
    assert!(place("moov") < place("mdat"), "{names:?}");
    let Ok(probe) = Command::new("ffprobe")
        .args(["-v", "error", "-count_frames", "-show_streams", "-show_format", "-of", "json"])
        .arg(clip)
        .output()
    else {
        crate::skipped::skipped("what ffprobe reads of pair's clip", "no ffprobe");
        return;
    };
    let seen: Value = serde_json::from_slice(&probe.stdout).unwrap();
    let video = seen["streams"].as_array().unwrap().iter().find(|s| s["codec_type"] == "video").unwrap();
    for (key, value) in [
        ("codec_name", json!("h264")),
        ("pix_fmt", json!("yuv420p")),
        ("color_space", json!("bt709")),
        ("color_primaries", json!("bt709")),
        ("color_transfer", json!("bt709")),
        ("color_range", json!("tv")),
        ("width", json!(256)),
        ("height", json!(456)),
        ("r_frame_rate", json!("30/1")),
        ("nb_read_frames", json!(frames.to_string())),
    ] {
        assert_eq!(video[key], value, "{key}");
    }
    // Nothing but what the container itself must say.
    let tags = |of: &Value| of["tags"].as_object().cloned().unwrap_or_default();
    let streams = seen["streams"].as_array().unwrap().iter().flat_map(tags);
    for (key, value) in tags(&seen["format"]).into_iter().chain(streams) {
        let plain =
            ["major_brand", "minor_version", "compatible_brands", "language", "handler_name", "vendor_id"];
        assert!(plain.contains(&key.as_str()), "the file says {key}={value}");
    }
}

#[test]
fn every_layout_and_way_of_lining_up() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let out = folder.path().join("out.mp4");
    let quick = ["--size", SMALL, "--slow", "1"];
    for (flags, size) in [
        (&["--layout", "ghost", "--sync", "contact", "--labels", "Before,After"][..], (256, 456)),
        (&["--layout", "side-by-side", "--sync", "phases"], (256, 456)),
        (&["--layout", "over-under", "--size", "720x1280"], (720, 1280)),
    ] {
        let mut all = words!["pair", a, b, "-o", out, "--json"].to_vec();
        let given = flags.contains(&"--size");
        all.extend(quick.iter().skip(if given { 2 } else { 0 }).chain(flags).map(Into::into));
        let reported = super::films::run(&all).json();
        assert_eq!(
            (reported["written"]["width"].as_u64(), reported["written"]["height"].as_u64()),
            (Some(size.0), Some(size.1))
        );
        assert!(!reported["warnings"].to_string().contains("ghost_impossible"), "{}", reported["warnings"]);
        let knots = reported["time_map"]["knots"].as_array().unwrap().len();
        match flags[3] {
            "contact" => assert_eq!((&reported["sync"], knots), (&json!({"event": "contact"}), 1)),
            "phases" => assert!(reported["sync"] == "phases" && knots >= 5, "{}", reported["time_map"]),
            _ => assert_eq!((&reported["sync"], knots), (&json!({"event": "plant"}), 1)),
        }
    }
    // Without --json the clip's place is all the data there is; the differences are talk.
    let said = swingpair!["pair", a, b, "-o", out, "--size", SMALL, "--slow", "1"];
    assert_eq!((said.code, said.out.trim_end()), (Some(0), out.to_str().unwrap()), "{}", said.err);
    assert!(said.err.contains("Plant to contact"), "{}", said.err);
    let said = swingpair!["-q", "pair", a, b, "-o", out, "--size", SMALL, "--slow", "1"];
    assert_eq!((said.code, said.err.as_str()), (Some(0), ""), "{}", said.err);
}

#[test]
fn two_angles_of_one_swing() {
    let folder = tempfile::tempdir().unwrap();
    let [side, behind] = ["best", "behind"].map(|name| films().read_before(name, &folder));
    let out = folder.path().join("out.mp4");
    let said = swingpair![
        "pair", side, behind, "-o", out, "--json", "--layout", "ghost", "--size", SMALL, "--slow", "1"
    ];
    let reported = said.json();
    assert_eq!(reported["today"]["hitter"]["view"], "open_side");
    assert_eq!(reported["reference"]["hitter"]["view"], "from_behind");
    assert!(reported["registration"].is_null());
    let why = "filmed from different sides, open side and from behind";
    assert!(
        reported["why_no_registration"].as_str().unwrap().contains(why),
        "{}",
        reported["why_no_registration"]
    );
    let ghost =
        reported["warnings"].as_array().unwrap().iter().find(|w| w["code"] == "ghost_impossible").unwrap();
    assert!(ghost["text"].as_str().unwrap().contains(why) && said.err.contains(why), "{ghost}\n{}", said.err);
    let one_sided = reported["one_sided"].as_array().unwrap();
    let stride = one_sided.iter().find(|m| m["measure"] == "stride_length").unwrap();
    assert_eq!(stride["clip"], "today", "only the open side shows the stride");
    assert!(reported["reference"]["absent"]["stride_length"].as_str().unwrap().contains("from behind"));
}

#[cfg(unix)]
#[test]
fn stopping_leaves_nothing_half_done() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let bare = tempfile::tempdir().unwrap();
    let unread = films().bare("today", &bare);
    let out = folder.path().join("out.mp4");
    // One is stopped while it makes the clip, the other while it looks.
    for (begun, words) in [
        ("making the video", words!["pair", a, b, "-o", out].to_vec()),
        ("finding the swing", words!["read", unread].to_vec()),
    ] {
        let mut child = command(&words).spawn().unwrap();
        let mut talk = BufReader::new(child.stderr.take().unwrap());
        let mut line = String::new();
        while !line.contains(begun) {
            line.clear();
            assert!(talk.read_line(&mut line).unwrap() > 0, "it ended before {begun:?}");
        }
        std::thread::sleep(std::time::Duration::from_millis(400));
        let pid = child.id().to_string();
        assert!(Command::new("kill").args(["-INT", &pid]).status().unwrap().success());
        let stopped = std::time::Instant::now();
        let code = child.wait().unwrap().code();
        let mut rest = String::new();
        talk.read_to_string(&mut rest).unwrap();
        assert_eq!(code, Some(130), "{rest}");
        assert!(rest.ends_with("error: interrupted\n"), "{rest}");
        assert!(stopped.elapsed().as_secs_f64() < 10.0, "it took {:?} to stop", stopped.elapsed());
    }
    assert_eq!(listing(folder.path()), ["best.mp4", "best.swing.json", "today.mp4", "today.swing.json"]);
    assert_eq!(listing(bare.path()), ["today.mp4"]);
}
