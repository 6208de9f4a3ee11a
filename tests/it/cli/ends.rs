//! However a run ends: the sources are as they were, what it makes is there whole or as it was before, and what is
//! left unfinished is cleared by the next run. `./dev bench ends` tries it some hundreds of times.

use std::ffi::OsString;
use std::fs;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStderr};

use swingpair::store;
use tempfile::TempDir;

use super::films::{command, films, listing, run, swingpair, words};

const SMALL: &str = "256x456";

/// A run that has begun to make its clip.
fn making(words: &[OsString]) -> (Child, BufReader<ChildStderr>) {
    let mut child = command(words).spawn().unwrap();
    let mut talk = BufReader::new(child.stderr.take().unwrap());
    let mut line = String::new();
    while !line.contains("making the video") {
        line.clear();
        assert!(talk.read_line(&mut line).unwrap() > 0, "it ended before the clip");
    }
    (child, talk)
}

fn two(folder: &TempDir) -> [PathBuf; 2] {
    ["today", "best"].map(|name| films().read_before(name, folder))
}

fn pair([a, b]: &[PathBuf; 2], out: &Path) -> Vec<OsString> {
    words!["pair", a, b, "-o", out, "--size", SMALL].to_vec()
}

#[cfg(unix)]
#[test]
fn a_killed_run_leaves_the_old_clip_and_the_next_clears() {
    let folder = tempfile::tempdir().unwrap();
    let clips = two(&folder);
    let hashes = clips.each_ref().map(|p| store::content_hash(p).unwrap());
    let out = folder.path().join("out.mp4");
    fs::write(&out, "the clip of last week").unwrap();
    let (mut child, _) = making(&pair(&clips, &out));
    std::thread::sleep(std::time::Duration::from_millis(200));
    child.kill().unwrap();
    child.wait().unwrap();
    assert_eq!(fs::read(&out).unwrap(), b"the clip of last week");
    let left = listing(folder.path());
    assert!(
        left.iter().any(|n| n.starts_with(".swingpair-")),
        "it was killed too early or too late: {left:?}"
    );
    // Two at once on one clip and one target: either may win, and each clears none of the other's.
    let (mut other, mut talk) = making(&pair(&clips, &out));
    let said = run(&pair(&clips, &out));
    assert_eq!(said.code, Some(0), "{}", said.err);
    let mut rest = String::new();
    talk.read_to_string(&mut rest).unwrap();
    assert_eq!(other.wait().unwrap().code(), Some(0), "{rest}");
    assert_eq!(swingpair!["check", out].code, Some(0));
    assert_eq!(clips.each_ref().map(|p| store::content_hash(p).unwrap()), hashes, "the sources were touched");
    let wanted = ["best.mp4", "best.swing.json", "out.mp4", "today.mp4", "today.swing.json"];
    assert_eq!(listing(folder.path()), wanted);
}

#[test]
fn a_folder_that_vanishes_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let clips = two(&folder);
    let gone = folder.path().join("stick");
    fs::create_dir(&gone).unwrap();
    let (mut child, mut talk) = making(&pair(&clips, &gone.join("out.mp4")));
    fs::remove_dir_all(&gone).unwrap();
    let mut rest = String::new();
    talk.read_to_string(&mut rest).unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(1), "{rest}");
    let reported = rest.lines().last().unwrap();
    assert!(reported.contains("out.mp4: cannot be written (its folder no longer exists)"), "{reported}");
    assert!(!gone.exists());
}

/// `/dev/full` refuses every byte as a full disk does.
#[cfg(target_os = "linux")]
#[test]
fn data_that_finds_no_room_is_an_error_and_talk_that_finds_none_is_not() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().read_before("today", &folder);
    let full = || fs::File::options().write(true).open("/dev/full").unwrap();
    for words in [words!["plan"].to_vec(), words!["read", clip, "--json"].to_vec()] {
        let reported = command(&words).stdout(full()).output().unwrap();
        let err = String::from_utf8(reported.stderr).unwrap();
        assert_eq!(reported.status.code(), Some(1), "{words:?}: {err}");
        assert_eq!(err, "error: the output: cannot be written (the disk is full); choose another place\n");
    }
    let reported = command(&words!["mark", clip, "plant=1.5"]).stderr(full()).output().unwrap();
    assert_eq!(reported.status.code(), Some(0));
    assert!(!reported.stdout.is_empty());
}

#[cfg(unix)]
#[test]
fn who_is_asked_to_end_twice_ends_at_once() {
    let signal = |child: &Child, which: &str| {
        let done = std::process::Command::new("kill").args([which, &child.id().to_string()]).status();
        assert!(done.unwrap().success());
    };
    let folder = tempfile::tempdir().unwrap();
    let clips = two(&folder);
    let out = folder.path().join("out.mp4");
    // The system's wish to end, and a closed terminal, are heard as Ctrl-C is.
    for which in ["-TERM", "-HUP"] {
        let (mut child, mut talk) = making(&pair(&clips, &out));
        signal(&child, which);
        let mut rest = String::new();
        talk.read_to_string(&mut rest).unwrap();
        assert_eq!(
            (child.wait().unwrap().code(), rest.as_str()),
            (Some(130), "error: interrupted\n"),
            "{which}"
        );
        assert_eq!(listing(folder.path()).len(), 4, "{which}");
    }
    let (mut child, _) = making(&pair(&clips, &out));
    signal(&child, "-INT");
    signal(&child, "-INT");
    assert_eq!(child.wait().unwrap().code(), Some(130));
    assert!(!out.exists());
}

#[test]
fn what_was_not_asked_for_is_not_replaced() {
    let folder = tempfile::tempdir().unwrap();
    let clips = two(&folder);
    let said = swingpair!["-q", "demo", folder.path()];
    assert_eq!(said.code, Some(1), "{}", said.err);
    assert!(said.err.contains("is not a demo video"), "{}", said.err);
    let hashes = clips.each_ref().map(|p| store::content_hash(p).unwrap());
    let page = folder.path().join("lena.html");
    let dear = page.with_extension("mp4");
    fs::write(&dear, "footage").unwrap();
    let said = swingpair!["-q", "report", clips[0], clips[1], "-o", page, "--size", SMALL, "--slow", "1"];
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert_eq!(fs::read(&dear).unwrap(), b"footage");
    assert_eq!(clips.each_ref().map(|p| store::content_hash(p).unwrap()), hashes);
    let wanted = ["best.mp4", "best.swing.json", "lena.html", "lena.mp4", "today.mp4", "today.swing.json"];
    assert_eq!(listing(folder.path()), wanted);
}
