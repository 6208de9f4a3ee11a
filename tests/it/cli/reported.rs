//! What a person says of the hitter (`--bats`, `--pitcher`) against what the picture shows, and `--why`.

use std::path::Path;

use serde_json::{Value, json};

use super::films::{films, listing, swingpair};

/// What the sidecar keeps of the hitter.
fn kept(clip: &Path) -> Value {
    let text = std::fs::read(clip.with_extension("swing.json")).unwrap();
    serde_json::from_slice::<Value>(&text).unwrap()["hitter"].clone()
}

/// The sentence of `hitter_against_picture`, if the reading has it.
fn against(reading: &Value) -> Option<&str> {
    let all = reading["warnings"].as_array().unwrap();
    all.iter().find(|w| w["code"] == "hitter_against_picture").map(|w| w["text"].as_str().unwrap())
}

#[test]
fn the_side_of_the_plate_is_taken_as_said_and_kept() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().read_before("today", &folder);
    let found = swingpair!["read", clip, "--json"].json();
    assert_eq!((found["hitter"]["bats"].as_str(), against(&found)), (Some("right"), None));
    assert_eq!(kept(&clip), Value::Null, "what nobody said is not kept");

    let said = swingpair!["read", clip, "--json", "--bats", "left"].json();
    assert_eq!(said["hitter"]["bats"], "left");
    let reported = against(&said).unwrap_or_else(|| panic!("{:#}", said["warnings"]));
    assert!(reported.contains("bats right") && reported.contains("read as you specified"), "{reported}");
    assert_eq!(kept(&clip), json!({"bats": "left"}));

    // It holds until something else is said, also in words for people and where all is looked at anew.
    let later = swingpair!["read", clip, "--json"].json();
    assert_eq!((&later["hitter"], &later["events"]), (&said["hitter"], &said["events"]));
    assert!(against(&later).is_some(), "{:#}", later["warnings"]);
    let words = swingpair!["read", clip];
    assert!(words.code == Some(0) && words.out.contains("Bats left"), "{}", words.out);
    assert!(words.err.contains("bats right") || words.out.contains("bats right"), "{words:?}");

    let right = swingpair!["read", clip, "--json", "--bats", "right"].json();
    assert_eq!((&right["hitter"], &right["events"]), (&found["hitter"], &found["events"]));
    assert_eq!((kept(&clip), against(&right)), (json!({"bats": "right"}), None));
}

#[test]
fn where_the_pitcher_is_is_taken_as_said_and_kept_beside_the_side_of_the_plate() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().read_before("today", &folder);
    let found = swingpair!["read", clip, "--json"].json();
    let said = swingpair!["read", clip, "--json", "--pitcher", "toward"].json();
    let hitter = &said["hitter"];
    assert_eq!((&hitter["pitcher_side"], &hitter["view"]), (&json!("toward"), &json!("from_front")));
    let reported = against(&said).unwrap_or_else(|| panic!("{:#}", said["warnings"]));
    assert!(reported.contains("seen from the open side"), "{reported}");
    assert_eq!(kept(&clip), json!({"pitcher": "toward"}));
    assert_eq!(swingpair!["read", clip, "--json"].json()["hitter"], said["hitter"]);

    // The one does not take back the other.
    let both = swingpair!["read", clip, "--json", "--bats", "left"].json();
    assert_eq!(both["hitter"], json!({"bats": "left", "pitcher_side": "toward", "view": "from_front"}));
    assert_eq!(kept(&clip), json!({"bats": "left", "pitcher": "toward"}));
    let right = swingpair!["read", clip, "--json", "--pitcher", "right", "--bats", "right"].json();
    assert_eq!((&right["hitter"], &right["events"]), (&found["hitter"], &found["events"]));
}

/// Number and score of each explanation in what `--why` prints, and the line after them.
fn explanations(out: &str) -> Vec<(usize, f64, String)> {
    out.lines()
        .filter_map(|line| {
            let (number, rest) = line.split_once(". score ")?;
            let (score, rest) = rest.split_once(": ")?;
            Some((number.parse().unwrap(), score.parse().unwrap(), rest.to_owned()))
        })
        .collect()
}

#[test]
fn why_prints_every_explanation_with_its_score_the_best_first() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().read_before("behind", &folder);
    let said = swingpair!["read", clip, "--why"];
    assert_eq!(said.code, Some(0), "{}", said.err);
    let all = explanations(&said.out);
    assert!(all.len() >= 2, "{}", said.out);
    assert!(all.iter().map(|e| e.0).eq(1..=all.len()), "{}", said.out);
    assert!(all.windows(2).all(|w| w[0].1 >= w[1].1), "{}", said.out);
    let (_, score, best) = &all[0];
    assert!(*score > 0.0 && best.starts_with("bats right, seen from behind, pitcher away"), "{best}");
    for words in ["moves like a swing", "stands like a hitter", "wraps", "quiet", "plant ", "contact "] {
        assert!(said.out.matches(words).count() >= all.len(), "{words}: {}", said.out);
    }
    // The best is what a reading says.
    let read = swingpair!["read", clip, "--json"].json();
    let plant = format!("plant {:.3}", read["events"]["plant"]["time_s"].as_f64().unwrap());
    let first = said.out.split("\n2. ").next().unwrap();
    assert!(first.contains(&plant), "{plant}: {first}");

    // Of what is said only what agrees is weighed, and it is kept as by any other reading.
    let left = swingpair!["read", clip, "--why", "--bats", "left"];
    let all = explanations(&left.out);
    assert!(!all.is_empty() && all.iter().all(|e| e.2.starts_with("bats left")), "{}", left.out);
    assert_eq!(kept(&clip), json!({"bats": "left"}));
    assert_eq!(explanations(&swingpair!["read", clip, "--why"].out), all);

    let both = swingpair!["read", clip, "--why", "--json"];
    assert!(both.code == Some(2) && both.out.is_empty(), "{both:?}");
    let none = swingpair!["read", "--why", "--keypoints", super::points::write(&folder, "today", |_| {})];
    assert!(none.code == Some(2) && none.err.contains("--why needs a video"), "{}", none.err);
}

#[test]
fn sides_and_places_that_are_none_are_refused_with_the_nearest_word() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().bare("today", &folder);
    for (option, word, words) in [
        ("--bats", "rigth", "did you mean right"),
        ("--bats", "lefty", "did you mean left"),
        ("--bats", "switch", "choose from left, right"),
        ("--pitcher", "towards", "did you mean toward"),
        ("--pitcher", "awy", "did you mean away"),
        ("--pitcher", "mound", "choose from left, right, toward, away"),
    ] {
        let said = swingpair!["read", clip, option, word];
        assert!(said.code == Some(2) && said.out.is_empty(), "{option} {word}: {said:?}");
        assert!(said.err.contains(words), "{option} {word}: {}", said.err);
    }
    assert_eq!(listing(folder.path()), ["today.mp4"]);
}

/// A lesson of one day with these lines of the hitter and of the day; the films are read before.
fn lesson(hitter: &str, day: &str) -> (tempfile::TempDir, std::path::PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    films().read_before("today", &folder);
    films().read_before("best", &folder);
    let file = folder.path().join("lesson.toml");
    let text = format!(
        "lesson = 1\n[make]\nclip = \"none\"\nsheet = false\n[[hitter]]\nname = \"Ash Merrin\"\n{hitter}\n[[hitter.day]]\n\
         date = 2026-03-07\n{day}\nreps = [\"best.mp4\", \"today.mp4\"]\n"
    );
    std::fs::write(&file, text).unwrap();
    (folder, file)
}

#[test]
fn a_lesson_leaves_out_by_name_the_reps_of_a_hitter_who_bats_from_the_other_side() {
    let (_folder, file) = lesson("bats = \"left\"", "");
    let said = swingpair!["lesson", file];
    assert_eq!(said.code, Some(3), "{said:?}");
    let all = format!("{}{}", said.out, said.err);
    for rep in ["best.mp4", "today.mp4"] {
        let line = all.lines().find(|l| l.contains(rep) && l.contains("is not counted"));
        let line = line.unwrap_or_else(|| panic!("{rep}: {all}"));
        assert!(line.contains("bats right in it and the lesson says left"), "{line}");
    }
    // Said as the picture shows it, both count.
    let (_folder, file) = lesson("bats = \"right\"", "pitcher = \"right\"");
    let said = swingpair!["lesson", file];
    assert!(!format!("{}{}", said.out, said.err).contains("is not counted"), "{said:?}");
    assert!(said.out.contains("2026-03-07: 2 reps"), "{}", said.out);
}

#[test]
fn a_lesson_says_what_side_and_place_may_be() {
    for (hitter, day, words) in [
        ("bats = \"rigth\"", "", "did you mean “right”"),
        ("", "pitcher = \"towards\"", "did you mean “toward”"),
        ("", "pitcher = \"mound\"", "“mound”; choose from left, right"),
    ] {
        let (_folder, file) = lesson(hitter, day);
        let said = swingpair!["lesson", file, "--jobs"];
        assert!(said.code == Some(2) && said.err.contains(words), "{hitter}{day}: {said:?}");
        assert!(said.err.contains("lesson.toml"), "{}", said.err);
    }
}
