//! `pair` with several reference reps: the range of the good ones. Points are given, so that nothing is looked
//! at; what tells the reps apart is their tempo.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use tempfile::TempDir;

use super::films::{Said, films, run, swingpair, words};
use super::points;

/// A film under another name and its points, all times `tempo` times as long. Some bytes that every reader
/// skips (a `free` box) make it another recording.
fn rep(folder: &TempDir, film: &str, name: &str, tempo: f64) -> (PathBuf, PathBuf) {
    let bare = films().bare(film, folder);
    let clip = folder.path().join(name).with_extension("mp4");
    std::fs::rename(bare, &clip).unwrap();
    let mut bytes = std::fs::read(&clip).unwrap();
    bytes.extend((8 + name.len() as u32).to_be_bytes());
    bytes.extend(b"free");
    bytes.extend(name.as_bytes());
    std::fs::write(&clip, bytes).unwrap();
    let written = points::write(folder, film, |file| {
        for image in file["images"].as_array_mut().unwrap() {
            image["time_s"] = json!(image["time_s"].as_f64().unwrap() * tempo);
        }
    });
    let kept = folder.path().join(name).with_extension("points.json");
    std::fs::rename(written, &kept).unwrap();
    (clip, kept)
}

fn pair(today: &(PathBuf, PathBuf), reps: &[&(PathBuf, PathBuf)], out: &Path, more: &[&str]) -> Said {
    let mut all: Vec<OsString> = words!["pair", today.0].into();
    all.extend(reps.iter().map(|r| r.0.clone().into()));
    all.extend(words!["-o", out, "--size", "256x456", "--slow", "1", "--keypoints", today.1]);
    for (_, points) in reps {
        all.extend(words!["--reference-keypoints", points]);
    }
    all.extend(more.iter().map(OsString::from));
    run(&all)
}

fn codes(reported: &Value) -> Vec<&str> {
    reported["warnings"].as_array().unwrap().iter().map(|w| w["code"].as_str().unwrap()).collect()
}

#[test]
fn today_is_compared_with_the_range_and_the_middle_rep_is_shown() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out.mp4");
    let today = rep(&folder, "today", "now", 1.0);
    let tempos = [("slow", 1.06), ("middle", 1.0), ("quick", 0.95), ("quickest", 0.93)];
    let reps = tempos.map(|(name, tempo)| rep(&folder, "best", name, tempo));
    let behind = rep(&folder, "behind", "behind", 1.0);
    let given = [&reps[0], &behind, &reps[1], &reps[2], &reps[3], &reps[0]];
    let reported = pair(&today, &given, &out, &["--json"]).json();
    let good = &reported["good_reps"];
    // Medians of tempo lie between "middle" and "quick"; the one given twice is there once.
    let shown = good["reps"][good["shown"].as_u64().unwrap() as usize]["clip"].as_str().unwrap();
    assert!(shown.ends_with("middle.mp4") || shown.ends_with("quick.mp4"), "{good:#}");
    assert_eq!(reported["reference"]["clip"]["path"], shown);
    assert_eq!((good["reps"].as_array().unwrap().len(), &good["counted"]), (5, &json!(4)), "{good:#}");
    assert!(good["reps"][1]["left_out"].as_str().unwrap().contains("from behind"), "{good:#}");
    for code in ["rep_given_twice", "rep_left_out"] {
        assert!(codes(&reported).contains(&code), "{:?}", codes(&reported));
    }
    assert!(!codes(&reported).contains(&"single_reference"));
    let differences = reported["differences"].as_array().unwrap();
    assert!(differences.len() >= 5);
    for d in differences {
        let (low, high) = (d["spread"]["low"].as_f64().unwrap(), d["spread"]["high"].as_f64().unwrap());
        let mean = d["reference"]["value"].as_f64().unwrap();
        assert!((low - 1e-9..=high + 1e-9).contains(&mean), "{d:#}");
        // Not every rep gives every measure.
        let reps = d["spread"]["reps"].as_u64().unwrap();
        assert!((1..=4).contains(&reps) && (d["limit"] == "few_reps") == (reps < 3), "{d:#}");
        assert!(d["measure"] != "plant_to_contact" || reps == 4, "{d:#}");
        let said = d["said"].as_str().unwrap();
        match d["verdict"].as_str().unwrap() {
            "bigger" => assert_eq!(said, "bigger than the usual rep-to-rep change"),
            "within" => assert_eq!(said, "within it"),
            _ => assert!(said.starts_with("can't tell") && d["limit"].is_string(), "{d:#}"),
        }
    }

    let said = pair(&today, &[&reps[0], &reps[1], &reps[2]], &out, &["--all"]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    for words in [
        "3 good reps",
        "against the usual rep-to-rep change",
        "middle.mp4 (good rep 2 of 3, the most typical",
    ] {
        assert!(said.err.contains(words), "{words:?} is missing in\n{}", said.err);
    }
}

#[test]
fn references_that_cannot_serve() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("out.mp4");
    let today = rep(&folder, "today", "now", 1.0);
    let reps = [("a", 1.0), ("b", 1.05)].map(|(name, tempo)| rep(&folder, "best", name, tempo));
    // Today under another name among the good reps.
    let copy = folder.path().join("copy.mp4");
    std::fs::copy(&today.0, &copy).unwrap();
    let said = swingpair!["-q", "pair", today.0, reps[0].0, copy, "-o", out];
    assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{}", said.err);
    assert!(said.err.contains("copy.mp4: is today's rep itself"), "{}", said.err);
    let lacking = swingpair![
        "-q",
        "pair",
        today.0,
        reps[0].0,
        reps[1].0,
        "-o",
        out,
        "--reference-keypoints",
        reps[0].1
    ];
    assert!(lacking.code == Some(2) && lacking.err.contains("once for each"), "{}", lacking.err);
    assert!(!out.exists());
    // Two tell nothing of a spread, and one makes today look worse.
    let reported = pair(&today, &[&reps[0], &reps[1]], &out, &["--json"]).json();
    assert!(codes(&reported).contains(&"few_reps"), "{:?}", codes(&reported));
    let reported = pair(&today, &[&reps[0]], &out, &["--json"]).json();
    assert!(
        codes(&reported).contains(&"single_reference") && reported["good_reps"].is_null(),
        "{:?}",
        codes(&reported)
    );
    let text = pair(&today, &[&reps[0]], &out, &[]).err;
    assert_eq!(text.matches("a single best rep").count(), 1, "{text}");
}
