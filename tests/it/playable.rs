//! `check` against files that another program made, each with one thing wrong, and against our own.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;
use swingpair::media::{Playable, Preset, Weight, WriteOptions, Writer, check_playable};
use swingpair::types::{Frame, Limits, Sound};

/// A second of moving pictures made by the `ffmpeg` program with these words; `None`, said loudly, without it.
fn made(folder: &Path, name: &str, source: &str, words: &str) -> Option<PathBuf> {
    let path = folder.join(name);
    let done = Command::new("ffmpeg")
        .args(["-v", "error", "-y", "-f", "lavfi", "-i", source])
        .args(["-f", "lavfi", "-i", "sine=frequency=440:duration=1"])
        .args(words.split_whitespace())
        .arg(&path)
        .output();
    match done {
        Ok(done) if done.status.success() => Some(path),
        Ok(done) => {
            let said = String::from_utf8_lossy(&done.stderr).into_owned();
            assert!(said.contains("Unknown encoder"), "{name}: {said}");
            crate::skipped::skipped(&format!("check of {name}"), "this ffmpeg has no such encoder");
            None
        }
        Err(_) => {
            crate::skipped::skipped(&format!("check of {name}"), "no ffmpeg program");
            None
        }
    }
}

const GOOD: &str = "-map 0:v -map 1:a -c:v libx264 -preset veryfast -pix_fmt yuv420p -profile:v high -level 4.0 \
    -bf 0 -colorspace bt709 -color_primaries bt709 -color_trc bt709 -color_range tv -c:a aac -movflags +faststart";
const SMALL: &str = "testsrc2=size=640x360:rate=30:duration=1";

/// A file's name, its pictures, how it is made, and what is to be found.
type Case = (&'static str, &'static str, String, &'static [(&'static str, Weight)]);

fn weighed(reported: &Playable) -> Vec<(&'static str, Weight)> {
    reported.findings.iter().filter(|f| f.weight > Weight::Note).map(|f| (f.code, f.weight)).collect()
}

#[test]
fn each_fault_of_a_made_file_is_found_and_nothing_else() {
    use Weight::{Doubt, Refused};
    let folder = tempfile::tempdir().unwrap();
    let with = |more: &str| format!("{GOOD} {more}");
    let cases: [Case; 15] = [
        ("good.mp4", SMALL, with(""), &[]),
        (
            "ten-bit.mp4",
            SMALL,
            with("-pix_fmt yuv420p10le -profile:v high10"),
            &[("profile", Refused), ("pixels", Refused)],
        ),
        (
            "four-two-two.mp4",
            SMALL,
            with("-pix_fmt yuv422p -profile:v high422"),
            &[("profile", Refused), ("pixels", Refused)],
        ),
        ("moov-last.mp4", SMALL, GOOD.replace("-movflags +faststart", ""), &[("index_last", Doubt)]),
        ("pieces.mp4", SMALL, with("-movflags frag_keyframe+delay_moov"), &[("in_pieces", Doubt)]),
        (
            "hevc.mp4",
            SMALL,
            GOOD.replace("libx264", "libx265 -x265-params log-level=none")
                .replace("-profile:v high -level 4.0", ""),
            &[("codec", Refused)],
        ),
        (
            "level.mp4",
            "testsrc2=size=3840x2160:rate=30:duration=0.4",
            with("-level 5.1"),
            &[("level", Refused)],
        ),
        ("fast.mp4", "testsrc2=size=640x360:rate=120:duration=1", with(""), &[("rate", Refused)]),
        (
            "sixty.mp4",
            "testsrc2=size=1920x1080:rate=60:duration=0.5",
            with("-level 4.2"),
            &[("level", Doubt), ("rate", Doubt)],
        ),
        ("odd-rate.mp4", "testsrc2=size=640x360:rate=27.31:duration=1", with(""), &[]),
        // Every seventh picture is left out, the others keep their times.
        ("uneven.mp4", SMALL, with("-vf select='mod(n,7)' -fps_mode vfr"), &[("uneven_rate", Doubt)]),
        ("b-frames.mp4", SMALL, GOOD.replace("-bf 0", "-bf 2"), &[("b_frames", Doubt)]),
        ("full.mp4", SMALL, GOOD.replace("-color_range tv", "-color_range pc"), &[("full_range", Doubt)]),
        ("opus.mp4", SMALL, GOOD.replace("-c:a aac", "-c:a libopus"), &[("sound", Refused)]),
        ("web.mkv", SMALL, with(""), &[("container", Refused)]),
    ];
    for (name, source, words, wanted) in cases {
        let Some(path) = made(folder.path(), name, source, &words) else { continue };
        let reported = check_playable(&path, &Limits::default()).unwrap();
        let (mut got, mut wanted) = (weighed(&reported), wanted.to_vec());
        got.sort();
        wanted.sort();
        assert_eq!(got, wanted, "{name}: {:?}\n{:?}", reported.findings, reported.facts);
        assert_eq!(reported.plays, wanted.iter().all(|w| w.1 < Refused), "{name}");
    }
    // Cut short, the index (which comes first) tells of pictures that are not there.
    if let Some(whole) = made(folder.path(), "whole.mp4", SMALL, GOOD) {
        let bytes = std::fs::read(&whole).unwrap();
        std::fs::write(&whole, &bytes[..bytes.len() * 2 / 3]).unwrap();
        let reported = check_playable(&whole, &Limits::default()).unwrap();
        assert!(!reported.plays && weighed(&reported).iter().any(|w| w.0 == "damaged"), "{reported:?}");
    }
}

/// Our own clip, with sound.
fn own(path: &Path) {
    let samples = (0..48_000).map(|i| (i as f32 * 0.05).sin() * 0.3).collect();
    let sound = Some(Sound { rate_hz: 48_000, start_s: 0.0, samples });
    let options =
        WriteOptions { width: 1080, height: 1920, sound, preset: Preset::Ultrafast, ..Default::default() };
    let mut writer = Writer::create(path, &options).unwrap();
    for i in 0..30 {
        let mut frame = Frame::black(1080, 1920);
        for (n, v) in frame.y.data.iter_mut().enumerate() {
            *v = 16 + ((n / 7 + i * 13) % 200) as u8;
        }
        writer.write(&frame).unwrap();
    }
    writer.finish().unwrap();
}

#[test]
fn what_is_made_here_plays_everywhere_and_the_program_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("ours.mp4");
    own(&path);
    let reported = check_playable(&path, &Limits::default()).unwrap();
    assert!(reported.plays_everywhere, "{:?}", reported.findings);
    assert_eq!((reported.facts.frames, reported.facts.level), (30, 40));

    let run = |words: &[&str], file: &Path| {
        let done = Command::new(env!("CARGO_BIN_EXE_swingpair"))
            .arg("check")
            .args(words)
            .arg(file)
            .output()
            .unwrap();
        (done.status.code(), String::from_utf8(done.stdout).unwrap(), String::from_utf8(done.stderr).unwrap())
    };
    let (code, out, _) = run(&["--strict"], &path);
    assert!(code == Some(0) && out.starts_with("Plays on phones.\n"), "{out}");
    let (code, out, _) = run(&["--json"], &path);
    let json: Value = serde_json::from_str(&out).unwrap();
    assert_eq!((code, &json["plays_everywhere"]), (Some(0), &Value::Bool(true)));
    assert_eq!(json["schema"], "swingpair.check/1");
    assert!(!out.contains(folder.path().to_str().unwrap()), "{out}");

    if let Some(late) = made(folder.path(), "late.mp4", SMALL, &GOOD.replace("-movflags +faststart", "")) {
        assert_eq!(run(&[], &late).0, Some(0));
        let (code, out, _) = run(&["--strict"], &late);
        assert!(code == Some(1) && out.contains("starts to play only when all of it has arrived"), "{out}");
    }
    std::fs::write(folder.path().join("text.mp4"), "no film").unwrap();
    let (code, out, err) = run(&[], &folder.path().join("text.mp4"));
    assert!(code == Some(1) && out.is_empty() && err.starts_with("error: "), "{err}");
}

#[test]
fn a_clip_larger_than_allowed_is_not_kept() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("clip.mp4");
    let options = WriteOptions { width: 320, height: 240, crf: 10, ..Default::default() };
    for (most, kept) in [(1_000, false), (u64::MAX, true)] {
        let mut writer = Writer::create(&path, &options).unwrap();
        for i in 0..10 {
            let mut frame = Frame::black(320, 240);
            for (n, v) in frame.y.data.iter_mut().enumerate() {
                *v = 16 + ((n * n / 7 + i * 29) % 200) as u8;
            }
            writer.write(&frame).unwrap();
        }
        let done = writer.finish_within(most).unwrap();
        assert_eq!(matches!(done, swingpair::media::Finished::Kept(_)), kept, "{done:?}");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), usize::from(kept));
    }
}
