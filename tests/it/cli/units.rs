//! Inches or centimeters: by option, environment and region, in every text, and never in JSON.

use std::ffi::OsString;

use super::films::{command, films, run, words};

/// Numbers with a unit of the other system.
fn told_in<'a>(text: &'a str, units: &[&str]) -> Vec<&'a str> {
    let bare = |word: &str| word.trim_matches(|c: char| !c.is_alphanumeric() && c != '/').to_owned();
    let lines = text.lines().filter(|line| {
        let all: Vec<String> = line.split_whitespace().map(bare).collect();
        // "in" is a word of English too: it is a unit only behind a number, and not in "1 in 20".
        let number = |w: Option<&String>| w.is_some_and(|w| w.ends_with(|c: char| c.is_ascii_digit()));
        (1..all.len())
            .any(|i| units.contains(&all[i].as_str()) && number(all.get(i - 1)) && !number(all.get(i + 1)))
    });
    lines.collect()
}

const METRIC: [&str; 2] = ["cm", "m/s"];
const US: [&str; 2] = ["in", "mph"];

/// Text as a reader sees it: no tags, no pictures, no video.
fn visible(page: &str) -> String {
    let body = page.split("</style>").nth(1).unwrap();
    let texts = body.split('<').filter_map(|part| part.split_once('>')).map(|(_, text)| text);
    texts.collect::<Vec<_>>().join("\n")
}

#[test]
fn every_text_is_in_the_units_that_are_asked_for_and_json_is_metric() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let (page, picture) = (folder.path().join("page.html"), folder.path().join("spread.png"));
    let said = |job: Vec<OsString>, units: &str| {
        let said = run(&[job, words!["--units", units].to_vec()].concat());
        assert_eq!(said.code, Some(0), "{}", said.err);
        format!("{}{}", said.out, said.err)
    };
    let clip = folder.path().join("pair.mp4");
    let small = ["--size", "256x456", "--slow", "1", "--height", "5'9\""];
    let with = |job: &[OsString]| [job.to_vec(), small[4..].iter().map(Into::into).collect()].concat();
    let made = |job: &[OsString]| [job.to_vec(), small.iter().map(Into::into).collect()].concat();
    let jobs = [
        with(&words!["read", a]),
        with(&words!["spread", a, b, "-o", picture]),
        made(&words!["pair", a, b, "-o", clip, "--all"]),
    ];
    for job in jobs {
        let [metric, us] = ["metric", "us"].map(|units| said(job.clone(), units));
        assert!(!told_in(&metric, &METRIC).is_empty() && !told_in(&us, &US).is_empty(), "{metric}\n{us}");
        assert!(told_in(&metric, &US).is_empty(), "{:?}", told_in(&metric, &US));
        assert!(told_in(&us, &METRIC).is_empty(), "{:?}", told_in(&us, &METRIC));
        assert!(metric.contains("first 10 cm") || !us.contains("first"), "{metric}");
    }
    for (units, own, other) in [("metric", METRIC, US), ("us", US, METRIC)] {
        said(made(&words!["report", a, b, "-o", page]), units);
        let text = visible(&std::fs::read_to_string(&page).unwrap());
        assert!(!told_in(&text, &own).is_empty() && told_in(&text, &other).is_empty(), "{text}");
        assert!(text.contains(&format!("Hand height above the ground, {}", own[0])), "{text}");
        assert!(text.contains(&format!("Hand speed, {}", own[1])), "{text}");
    }
    let json = |units| said(with(&words!["read", a, "--json"]), units);
    assert_eq!(json("metric"), json("us"));
}

#[test]
fn units_come_from_the_option_then_the_variable_then_the_region() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().read_before("today", &folder);
    let read = |extra: &[&str], env: &[(&str, &str)]| {
        let mut words = words!["read", clip, "--height", "175"].to_vec();
        words.extend(extra.iter().map(OsString::from));
        let mut command = command(&words);
        for name in ["SWINGPAIR_UNITS", "LC_ALL", "LC_MEASUREMENT", "LANG"] {
            command.env_remove(name);
        }
        let done = command.envs(env.iter().copied()).output().unwrap();
        let text = |bytes| String::from_utf8(bytes).unwrap();
        (done.status.code(), text(done.stdout), text(done.stderr))
    };
    let us = |extra: &[&str], env: &[(&str, &str)]| {
        let (code, out, err) = read(extra, env);
        assert_eq!(code, Some(0), "{err}");
        assert_ne!(told_in(&out, &US).is_empty(), told_in(&out, &METRIC).is_empty(), "{out}");
        !told_in(&out, &US).is_empty()
    };
    assert!(us(&[], &[("LANG", "en_US.UTF-8")]));
    assert!(!us(&[], &[("LANG", "en_GB.UTF-8")]));
    assert!(!us(&[], &[("LANG", "en_US.UTF-8"), ("LC_MEASUREMENT", "de_DE.UTF-8")]));
    assert!(!us(&[], &[("LANG", "en_US.UTF-8"), ("SWINGPAIR_UNITS", "metric")]));
    assert!(us(&["--units", "us"], &[("LANG", "de_DE.UTF-8"), ("SWINGPAIR_UNITS", "metric")]));
    let (code, _, err) = read(&[], &[("SWINGPAIR_UNITS", "feet")]);
    assert!(code == Some(2) && err.contains("SWINGPAIR_UNITS=feet"), "{err}");
    let (code, _, err) = read(&["--units", "inch"], &[]);
    assert!(code == Some(2) && err.contains("us") && err.contains("metric"), "{err}");
}
