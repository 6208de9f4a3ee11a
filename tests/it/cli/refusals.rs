//! Bad input: one sentence that names the file and the way out, nothing written, no panic.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use swingpair::demo::{self, scenarios};
use swingpair::media::{WriteOptions, Writer};
use swingpair::types::{Cancel, Frame, NoProgress};

use super::films::{films, listing, run, swingpair, words};

fn grey_film(path: &Path, frames: usize) {
    let options = WriteOptions { width: 320, height: 240, ..WriteOptions::default() };
    let mut writer = Writer::create(path, &options).unwrap();
    for n in 0..frames {
        let mut frame = Frame::black(320, 240);
        frame.y.data.iter_mut().enumerate().for_each(|(i, y)| *y = 40 + ((i + 3 * n) % 160) as u8);
        writer.write(&frame).unwrap();
    }
    writer.finish().unwrap();
}

/// The run fails with `code` and one sentence that holds each of `needles`; the folder is as before.
fn refused(folder: &Path, code: i32, needles: &[&str], words: &[OsString]) {
    let before = listing(folder);
    let mut all = words![].to_vec();
    all.push("--quiet".into());
    all.extend_from_slice(words);
    let said = run(&all);
    assert_eq!(said.code, Some(code), "{words:?}: {said:?}");
    assert_eq!(said.out, "", "{words:?}");
    assert!(said.err.starts_with("error: ") && !said.err.contains("panicked"), "{words:?}: {}", said.err);
    // Wrong words are told by the words' own reader, which adds where to find help.
    let sentence = said.err.split("\n\n").next().unwrap().trim_end();
    assert!(code == 2 || said.err.trim_end().lines().count() == 1, "{words:?}: {}", said.err);
    for needle in needles {
        assert!(sentence.contains(needle), "{words:?}: {needle:?} is missing in {sentence}");
    }
    assert_eq!(listing(folder), before, "{words:?}");
}

#[test]
fn clips_that_cannot_be_read() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    std::fs::write(at("empty.mp4"), "").unwrap();
    std::fs::write(at("text.mp4"), "Dear diary, today we hit off the tee.\n".repeat(50)).unwrap();
    std::fs::create_dir(at("folder.mp4")).unwrap();
    grey_film(&at("one.mp4"), 1);
    grey_film(&at("nobody.mp4"), 40);
    let film = std::fs::read(films().bare("today", &folder)).unwrap();
    std::fs::write(at("cut.mp4"), &film[..film.len() / 3]).unwrap();
    let good = at("today.mp4");
    for (name, needles) in [
        ("missing.mp4", ["no such file", "check the name"]),
        ("empty.mp4", ["is empty", "copy it from the phone again"]),
        ("text.mp4", ["is not a playable video", "give a video file"]),
        ("folder.mp4", ["it is a folder", "check that it is a file"]),
        ("one.mp4", ["1 frame(s)", "film the whole swing"]),
        ("nobody.mp4", ["nobody was found", "film the whole body"]),
    ] {
        let needles = [name, needles[0], needles[1]];
        refused(folder.path(), 1, &needles, &words!["read", at(name)]);
        let out = at("out.mp4");
        refused(folder.path(), 1, &needles, &words!["pair", at(name), good, "-o", out]);
        if name != "nobody.mp4" {
            refused(folder.path(), 1, &needles, &words!["mark", at(name), "plant=0.1"]);
        }
    }
    // Cut short: the index, which starts this file, tells of pictures that are not there.
    let said = swingpair!["-q", "mark", at("cut.mp4"), "plant=2.3"];
    assert!(matches!(said.code, Some(1 | 2)) && !said.err.contains("panicked"), "{said:?}");
}

#[test]
fn someone_who_does_not_swing() {
    let folder = tempfile::tempdir().unwrap();
    let clip = folder.path().join("waiting.mp4");
    let [mut still, _] = scenarios::two_reps();
    (still.camera.width, still.camera.height, still.camera.rate_hz) = (640, 360, 30.0);
    (still.contact_s, still.duration_s) = (30.0, 1.5);
    demo::film(&still, &clip, &NoProgress, &Cancel::default()).unwrap();
    let said = swingpair!["-q", "read", clip, "--json"];
    assert_eq!((said.code, said.out.as_str()), (Some(1), ""), "{said:?}");
    for needle in ["waiting.mp4", "no swing was found", "--hitter"] {
        assert!(said.err.contains(needle), "{}", said.err);
    }
    assert_eq!(said.err.lines().count(), 1, "{}", said.err);
}

#[test]
fn places_that_cannot_be_written() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().bare(name, &folder));
    let at = |name: &str| folder.path().join(name);
    let before = [&a, &b].map(|p| std::fs::read(p).unwrap());
    for (code, target, needles) in [
        (2, a.clone(), ["today.mp4", "is one of the inputs"]),
        (2, folder.path().join(".").join("best.mp4"), ["best.mp4", "is one of the inputs"]),
        (1, at("no/out.mp4"), ["no/out.mp4", "its folder does not exist"]),
        (2, at("out"), ["has no extension", "use .mp4, .m4v or .mov"]),
        (2, at("out.avi"), ["ends in .avi", "use .mp4, .m4v or .mov"]),
        (1, folder.path().to_owned(), ["it is a folder", "choose another place"]),
        (1, PathBuf::from("/proc/out.mp4"), ["/proc/out.mp4", "choose another place"]),
    ] {
        refused(folder.path(), code, &needles, &words!["pair", a, b, "-o", target]);
    }
    let out = at("out.mp4");
    for (code, trace, needles) in [
        (2, a.clone(), ["today.mp4", "--trace"]),
        (2, b.clone(), ["best.mp4", "--trace"]),
        (2, out.clone(), ["out.mp4", "--trace"]),
        (2, at("today.swing.json"), ["today.swing.json", "--trace"]),
        (1, at("no/trace.jsonl"), ["no/trace.jsonl", "folder does not exist"]),
        (1, folder.path().to_owned(), ["it is a folder", "choose another place"]),
    ] {
        refused(folder.path(), code, &needles, &words!["pair", a, b, "-o", out, "--trace", trace]);
    }
    assert_eq!([&a, &b].map(|p| std::fs::read(p).unwrap()), before, "the sources were touched");
}

/// The administrator may write anywhere, so this can only be seen by others.
#[cfg(unix)]
#[test]
fn a_closed_folder_is_refused_before_the_work() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().bare(name, &folder));
    let closed = folder.path().join("closed");
    std::fs::create_dir(&closed).unwrap();
    std::fs::set_permissions(&closed, std::fs::Permissions::from_mode(0o500)).unwrap();
    if std::fs::write(closed.join("probe"), "").is_ok() {
        crate::skipped::skipped("a closed folder is refused", "this user may write into closed folders");
        return;
    }
    let out = closed.join("out.mp4");
    let needles = ["closed/out.mp4", "choose another place"];
    refused(folder.path(), 1, &needles, &words!["pair", a, b, "-o", out]);
}

/// All of these are refused before a picture is looked at.
#[test]
fn words_and_numbers_that_cannot_be_used() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().bare(name, &folder));
    let out = folder.path().join("out.mp4");
    for (flag, value, needle) in [
        ("--size", "721x1280", "even number"),
        ("--size", "240x240", "256"),
        ("--size", "256x2000", "2.4 times"),
        ("--size", "big", "1080x1920"),
        ("--layout", "sideways", "side-by-side, over-under, ghost"),
        ("--sync", "plnt", "choose from stance, load, foot_off, touch, plant"),
        ("--slow", "-2", "between 1 and 64"),
        ("--slow", "0", "between 1 and 64"),
        ("--height", "NaN", "not a length"),
        ("--height", "inf", "not a length"),
        ("--height", "-176", "between 60 and 250"),
        ("--height", "1.76", "between 60 and 250"),
        ("--recorded-at", "0", "more than 0"),
        ("--rate", "-30", "more than 0"),
        ("--known-length", "412,355,530,355", "X1,Y1,X2,Y2=CM"),
        ("--known-length", "412,355,530=43", "X1,Y1,X2,Y2=CM"),
        ("--known-length", "412,355,412,355=43", "are the same"),
        ("--known-length", "412,355,530,355=0", "more than 0"),
        ("--known-length", "412,355,530,NaN=43", "not a number"),
        ("--known-length", "412,355,530,355=43", "--reference-known-length"),
        ("--hitter", "640", "X,Y"),
        ("--hitter", "-5,NaN", "not a number"),
        ("--labels", "Before", "Before,After"),
        ("--labels", "Before,\u{1F3C6}", "U+1F3C6"),
    ] {
        refused(folder.path(), 2, &[needle], &words!["pair", a, b, "-o", out, flag, value]);
    }
    for (points, place) in [("412,355,641,355=43", "641,355"), ("-1,355,600,355=43", "-1,355")] {
        let needles = ["today.mp4", place, "is outside the 640×360 px frame", "first frame"];
        refused(folder.path(), 2, &needles, &words!["read", a, "--known-length", points]);
    }
    refused(folder.path(), 2, &["--output"], &words!["pair", a, b]);
}

#[test]
fn limits_are_named_and_can_be_raised() {
    let folder = tempfile::tempdir().unwrap();
    let clip = folder.path().join("grey.mp4");
    grey_film(&clip, 12);
    for job in ["probe", "check", "read"] {
        let needles = ["grey.mp4", "12 frames", "--limit pictures=12"];
        refused(folder.path(), 1, &needles, &words![job, clip, "--limit", "pictures=11"]);
        refused(folder.path(), 2, &["hours"], &words![job, clip, "--limit", "hours=1"]);
    }
    let raised = words!["probe", clip, "--limit", "tracks=1", "--limit", "pictures=12"];
    assert_eq!(run(&raised).code, Some(0));
}
