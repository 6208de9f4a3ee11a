//! Plans people write: what is wrong is named with the way out, what the clips do not give is said and left out.

use std::path::Path;

use serde_json::Value;
use swingpair::media::{Clip, OpenOptions, check_playable};
use swingpair::types::{EventId, Limits};

use super::films::{films, listing, swingpair, words};
use super::points;

const SMALL: &str = "256x456";

fn warnings(reported: &Value) -> Vec<(String, String)> {
    let text = |w: &Value, key: &str| w[key].as_str().unwrap().to_owned();
    reported["warnings"].as_array().unwrap().iter().map(|w| (text(w, "code"), text(w, "text"))).collect()
}

fn plan(folder: &Path, text: &str) -> std::path::PathBuf {
    let path = folder.join("plan.toml");
    std::fs::write(&path, text).unwrap();
    path
}

/// Refused before a picture is looked at: nothing is read, nothing written.
#[test]
fn words_a_plan_cannot_hold_are_named_with_the_nearest() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().bare(name, &folder));
    let out = folder.path().join("out.mp4");
    let shot = "[[shot]]\nshow = \"swing\"\nfrom = \"load\"\nto = \"finish\"\n";
    for (text, needles) in [
        (format!("{shot}draw = [\"hed\"]"), ["“hed”", "“head”"]),
        (format!("{shot}draw = [\"body-center\"]"), ["“body-center”", "“body-centre”"]),
        (format!("{shot}slwo = 8"), ["“slwo”", "“slow”"]),
        (format!("{shot}layout = \"gost\""), ["“gost”", "“ghost”"]),
        (shot.replace("\"load\"", "\"laod\""), ["“laod”", "“load”"]),
        (format!("{shot}caption = \"well hit \u{1F3C6}\""), ["U+1F3C6", "cannot draw"]),
        (format!("names = [\"A\", \"漢\"]\n{shot}"), ["U+6F22", "cannot draw"]),
        ("[[shot]]\nshow = \"title\"\nseconds = 1\nlines = [\"漢\"]".to_owned(), ["U+6F22", "cannot draw"]),
        (format!("{shot}slow = 0"), ["slow = 0", "between 0.25"]),
        (
            shot.replace("\"load\"", "\"finish+1s\""),
            ["shot 1: it runs backwards", "from finish+1s to finish"],
        ),
        (format!("{shot}slow = 0\n{shot}slow = 900\n"), ["shot 1: slow = 0", "shot 2: slow = 900"]),
    ] {
        let plan = plan(folder.path(), &text);
        let before = listing(folder.path());
        for words in [
            words!["-q", "pair", a, b, "-o", out, "--plan", plan],
            words!["-q", "pair", b, a, "-o", out, "--plan", plan],
        ] {
            let said = super::films::run(&words);
            assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{text}: {said:?}");
            assert!(needles.iter().all(|n| said.err.contains(n)), "{text}: {}", said.err);
            assert!(!said.err.contains("panicked"), "{}", said.err);
        }
        assert_eq!(listing(folder.path()), before);
    }
    let missing = folder.path().join("none.toml");
    let said = swingpair!["-q", "pair", a, b, "-o", out, "--plan", missing];
    assert!(said.code == Some(1) && said.err.contains("none.toml"), "{}", said.err);
}

/// A span that reaches beyond the clip is cut and said; one that lies outside altogether is no clip.
#[test]
fn spans_outside_the_clip() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let out = folder.path().join("out.mp4");
    let long = plan(
        folder.path(),
        "[[shot]]\nshow = \"swing\"\nfrom = \"contact-0.1s\"\nto = \"finish+20s\"\nhold = [{ at = \"load\", seconds = 1 }]",
    );
    let reported = swingpair!["pair", a, b, "-o", out, "--json", "--size", SMALL, "--plan", long].json();
    let said = warnings(&reported);
    let has = |code: &str, word: &str| said.iter().any(|(c, t)| c == code && t.contains(word));
    assert!(has("shot_cut", "Shot 1") && has("hold_outside", "load"), "{said:?}");
    assert!(reported["written"]["duration_s"].as_f64().unwrap() < 2.0);

    std::fs::remove_file(&out).unwrap();
    let outside =
        plan(folder.path(), "[[shot]]\nshow = \"swing\"\nfrom = \"finish+20s\"\nto = \"finish+21s\"");
    let before = listing(folder.path());
    let said = swingpair!["-q", "pair", a, b, "-o", out, "--size", SMALL, "--plan", outside];
    assert!(said.code == Some(2) && said.err.contains("shows nothing from these clips"), "{said:?}");
    assert_eq!(listing(folder.path()), before);
}

/// Events that were not found: the shot is cut where they usually are, the rest on them is left out, both are said.
#[test]
fn a_shot_goes_on_without_events_that_were_not_found() {
    let folder = tempfile::tempdir().unwrap();
    let best = films().read_before("best", &folder);
    let today = films().bare("today", &folder);
    // Points of half a second about contact.
    let contact_s = films().truth("today").at(EventId::Contact).unwrap();
    let file = points::write(&folder, "today", |file| {
        let keep = |t: f64| (contact_s - 0.3..contact_s + 0.2).contains(&t);
        let images = file["images"].as_array().unwrap().clone();
        let all = file["annotations"].as_array_mut().unwrap();
        all.retain(|one| {
            keep(images[one["image_id"].as_u64().unwrap() as usize - 100]["time_s"].as_f64().unwrap())
        });
    });
    let out = folder.path().join("out.mp4");
    let plan = plan(
        folder.path(),
        "[[shot]]\nshow = \"swing\"\nfrom = \"stance\"\nto = \"contact+0.1s\"\nhold = [{ at = \"stance\", seconds = 1 }]",
    );
    let reported = swingpair![
        "pair",
        today,
        best,
        "-o",
        out,
        "--json",
        "--size",
        SMALL,
        "--plan",
        plan,
        "--keypoints",
        file
    ]
    .json();
    assert!(reported["today"]["events"]["stance"].is_null(), "{}", reported["today"]["events"]);
    let said = warnings(&reported);
    let has = |code: &str| said.iter().any(|(c, t)| c == code && t.contains("stance"));
    assert!(has("shot_event_missing") && has("hold_event_missing"), "{said:?}");
    assert!(reported["written"]["duration_s"].as_f64().unwrap() > 0.5);
}

/// Every ready plan is printed, read back and made.
#[test]
fn printed_plans_are_made() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let out = folder.path().join("out.mp4");
    for name in ["quick", "before-after"] {
        let printed = swingpair!["plan", name, "--slow", "2"];
        assert_eq!(printed.code, Some(0), "{}", printed.err);
        let plan = plan(folder.path(), &printed.out);
        let reported = swingpair!["pair", a, b, "-o", out, "--json", "--size", SMALL, "--plan", plan].json();
        let seconds = reported["written"]["duration_s"].as_f64().unwrap();
        assert!((3.0..=25.0).contains(&seconds), "{name}: {seconds}");
        assert!(warnings(&reported).iter().all(|(code, _)| !code.starts_with("shot_")), "{reported}");
    }
}

/// From wide sources: the size of the screen, upright or wide, at a level that phones and tablets play.
#[test]
fn clips_for_a_tablet_and_for_a_phone_from_wide_sources() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let short =
        plan(folder.path(), "[[shot]]\nshow = \"swing\"\nfrom = \"contact-0.1s\"\nto = \"contact+0.1s\"");
    let out = folder.path().join("out.mp4");
    for (screen, layout, sides) in [
        ("phone", "side-by-side", [1080, 1920]),
        ("tablet", "side-by-side", [1248, 1664]),
        ("tablet", "ghost", [1248, 1664]),
        ("tablet", "over-under", [1248, 1664]),
    ] {
        let reported = swingpair![
            "pair", a, b, "-o", out, "--json", "--for", screen, "--layout", layout, "--plan", short
        ]
        .json();
        let mut size = ["width", "height"].map(|k| reported["written"][k].as_u64().unwrap());
        let facts = Clip::open(&out, &OpenOptions::default()).unwrap().facts().clone();
        assert_eq!([facts.width as u64, facts.height as u64], size);
        size.sort();
        assert_eq!(size, sides, "{screen} {layout}");
        assert!(facts.rate_hz < 30.5, "{facts:?}");
        // Its level among other things.
        let seen = check_playable(&out, &Limits::default()).unwrap();
        assert!(seen.plays_everywhere, "{screen} {layout}: {:?}", seen.findings);
    }
}
