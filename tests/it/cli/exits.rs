//! Exit codes of every job, and what is said once about sharing.

use std::ffi::OsString;
use std::fs;
use std::io::Write;
use std::process::{Child, Stdio};

use super::films::{command, films, run, swingpair, words};
use super::points;

const SMALL: [&str; 4] = ["--size", "256x456", "--slow", "1"];

fn with(mut words: Vec<OsString>, more: &[&str]) -> Vec<OsString> {
    words.extend(more.iter().map(Into::into));
    words
}

/// Every job but `demo` with 0, which `./dev demo` shows in a minute; `plan` fails only where its words find no room,
/// see `ends`.
#[test]
fn each_job_ends_with_its_code() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let at = |name: &str| folder.path().join(name);
    let (none, mp4) = (at("none.mp4"), at("out.mp4"));
    fs::write(at("page.mp4"), "x").unwrap();
    let rows: Vec<(i32, Vec<OsString>)> = vec![
        (0, with(words!["pair", a, b, "-o", mp4].into(), &SMALL)),
        (1, words!["pair", a, none, "-o", mp4].into()),
        (2, words!["pair", a, b, "-o", a].into()),
        (0, with(words!["clip", a, "-o", mp4].into(), &SMALL)),
        (1, words!["clip", none, "-o", mp4].into()),
        (2, words!["clip", a].into()),
        (0, words!["sheet", a, b, "-o", at("out.png")].into()),
        (1, words!["sheet", a, b, "-o", at("no/out.png")].into()),
        (2, words!["sheet", a, "-o", at("out.png")].into()),
        (0, with(words!["report", a, b, "-o", at("out.html")].into(), &SMALL)),
        (2, words!["report", a, b, "-o", at("out.doc")].into()),
        (2, words!["report", a, b, "-o", at("out.html"), "--sync", "plnt"].into()),
        (0, words!["read", a].into()),
        (1, words!["read", none].into()),
        (2, words!["read"].into()),
        (0, words!["mark", a, "finish=2.2"].into()),
        (1, words!["mark", none, "finish=2.2"].into()),
        (2, words!["mark", a, "finish=99"].into()),
        (0, words!["check", mp4].into()),
        (1, words!["check", at("page.mp4")].into()),
        (2, words!["check"].into()),
        (0, words!["probe", a].into()),
        (1, words!["probe", at("page.mp4")].into()),
        (2, words!["probe", a, "--what"].into()),
        (0, words!["plan", "quick"].into()),
        (2, words!["plan", "slowest"].into()),
        (0, words!["captions"].into()),
        (1, words!["demo", at("page.mp4")].into()),
        (2, words!["demo"].into()),
        (0, words!["--help"].into()),
        (0, words!["--version"].into()),
        (2, words!["pare"].into()),
        (2, vec![]),
    ];
    for (code, words) in &rows {
        let said = run(words);
        assert_eq!(said.code, Some(*code), "{words:?}: {}", said.err);
        assert_eq!(said.err.contains("error: "), *code != 0 && !words.is_empty(), "{words:?}: {}", said.err);
    }
    // Warnings do not make it fail.
    fs::write(a.with_extension("swing.json"), "{ half").unwrap();
    let said = swingpair!["mark", a, "finish=2.2"];
    assert!(said.code == Some(0) && said.err.contains("warning: "), "{said:?}");
    let help = swingpair!["--help"].out;
    for words in [
        "Exit codes: 0 done",
        "1 failed",
        "2 invalid",
        "130 interrupted",
        "If it hurts, stop",
        "no location, date",
    ] {
        // Long lines are broken.
        let help = help.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(help.contains(words), "{words:?} is missing in {help}");
    }
}

/// Wait until Ctrl-C is listened for, as the system tells it (bit 1 of the caught signals: SIGINT is 2).
#[cfg(target_os = "linux")]
fn interrupt(child: &Child) {
    let status = format!("/proc/{}/status", child.id());
    let listens = || {
        let text = fs::read_to_string(&status).unwrap();
        let caught = text.lines().find_map(|l| l.strip_prefix("SigCgt:")).unwrap().trim().to_owned();
        u64::from_str_radix(&caught, 16).unwrap() & 2 != 0
    };
    while !listens() {
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    let sent = std::process::Command::new("kill").args(["-INT", &child.id().to_string()]).status();
    assert!(sent.unwrap().success());
}

#[cfg(target_os = "linux")]
#[test]
fn each_job_can_be_interrupted() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let at = |name: &str| folder.path().join(name);
    let stopping: [Vec<OsString>; 6] = [
        words!["pair", a, b, "-o", at("out.mp4")].into(),
        words!["clip", a, "-o", at("out.mp4")].into(),
        words!["sheet", a, b, "-o", at("out.png")].into(),
        words!["report", a, b, "-o", at("out.html")].into(),
        words!["read", a, "--fresh"].into(),
        words!["demo", at("demo")].into(),
    ];
    for words in stopping {
        let child = command(&words).spawn().unwrap();
        interrupt(&child);
        let said = child.wait_with_output().unwrap();
        let err = String::from_utf8(said.stderr).unwrap();
        assert_eq!(said.status.code(), Some(130), "{words:?}: {err}");
        assert!(err.ends_with("error: interrupted\n"), "{words:?}: {err}");
    }
    // Short jobs, kept from ending by an output that nobody reads.
    let short: [Vec<OsString>; 4] = [
        words!["plan"].into(),
        words!["probe", a].into(),
        words!["check", a].into(),
        words!["mark", b, "finish=2.2"].into(),
    ];
    for words in short {
        let (_unread, mut full) = std::io::pipe().unwrap();
        // As much as a pipe takes (pipe(7)).
        full.write_all(&[b'x'; 1 << 16]).unwrap();
        let mut child = command(&words).stdout(Stdio::from(full)).spawn().unwrap();
        interrupt(&child);
        assert_eq!(child.wait().unwrap().code(), Some(130), "{words:?}");
    }
}

#[test]
fn asking_before_sharing_is_said_once_for_each_clip() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let (mp4, html) = (folder.path().join("out.mp4"), folder.path().join("out.html"));
    let times = |words: Vec<OsString>| {
        let said = run(&with(words, &SMALL));
        assert_eq!(said.code, Some(0), "{}", said.err);
        said.err.matches("a minor a parent or guardian").count()
    };
    // Where nobody listens it is not said, and counts as not said.
    assert_eq!(times(words!["-q", "pair", a, b, "-o", mp4].into()), 0);
    assert_eq!(times(words!["pair", a, b, "-o", mp4].into()), 1);
    assert_eq!(times(words!["pair", a, b, "-o", mp4].into()), 0);
    assert_eq!(times(words!["report", a, b, "-o", html].into()), 0);
    // Another rep of today, perhaps of somebody else. A look anew is no other clip.
    assert_eq!(times(words!["clip", b, "-o", mp4].into()), 1);
    let points = points::write(&folder, "today", |_| {});
    assert_eq!(times(words!["pair", a, b, "-o", mp4, "--keypoints", points].into()), 0);
}
