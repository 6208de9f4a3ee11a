//! `read` and `mark`: what is printed, what is kept beside the clip, and when it is looked at anew.

use std::path::Path;

use serde_json::{Value, json};
use swingpair::types::EventId;

use super::films::{films, listing, swingpair};

fn sidecar(clip: &Path) -> Value {
    serde_json::from_slice(&std::fs::read(clip.with_extension("swing.json")).unwrap()).unwrap()
}

fn time_s(reading: &Value, event: &str) -> f64 {
    reading["events"][event]["time_s"].as_f64().unwrap_or_else(|| panic!("no {event} in {reading:#}"))
}

#[test]
fn read_prints_the_contract_and_finds_the_swing() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().read_before("today", &folder);
    let said = swingpair!["read", clip, "--json"];
    let reading = said.json();
    let mut keys: Vec<&str> = reading.as_object().unwrap().keys().map(String::as_str).collect();
    keys.sort();
    let wanted = ["absent", "clip", "events", "hitter", "measures", "scale", "schema", "warnings"];
    assert_eq!(keys, wanted, "the track stays out");
    assert_eq!(reading["schema"], "swingpair.reading/1");
    let facts = &reading["clip"];
    assert_eq!(facts["path"], "today.mp4", "the name alone");
    for (key, value) in [
        ("width", 640.0),
        ("height", 360.0),
        ("frames", 147.0),
        ("duration_s", 2.45),
        ("rate_hz", 60.0),
        ("capture_rate_hz", 60.0),
        ("slow_factor", 1.0),
    ] {
        let got = facts[key].as_f64().unwrap_or_else(|| panic!("no clip.{key}"));
        assert!((got - value).abs() < 1e-3, "clip.{key} is {got}, not {value}");
    }
    assert_eq!(reading["hitter"], json!({"bats": "right", "pitcher_side": "right", "view": "open_side"}));
    for (id, event) in reading["events"].as_object().unwrap() {
        assert!(EventId::from_word(id).is_some(), "{id} is no event");
        let number = |key: &str| event[key].as_f64().unwrap_or_else(|| panic!("{id} has no {key}"));
        assert!((0.0..=2.45).contains(&number("time_s")) && number("plus_minus_s") > 0.0, "{id}: {event}");
        assert!((number("frame") - number("time_s") * 60.0).abs() <= 0.501, "{id}: {event}");
        assert!((0.0..=1.0).contains(&number("confidence")), "{id}: {event}");
        assert!(
            ["motion", "motion_and_sound", "motion_and_ball"].contains(&event["source"].as_str().unwrap()),
            "{id}: {event}"
        );
    }
    for (id, measure) in reading["measures"].as_object().unwrap() {
        assert!(measure["value"].is_number() && measure["plus_minus"].as_f64().unwrap() > 0.0, "{id}");
        let units = ["ms", "deg", "cm", "body_heights", "metres_per_s", "body_heights_per_s"];
        assert!(units.contains(&measure["unit"].as_str().unwrap()), "{id}");
    }
    assert!(reading["measures"].as_object().unwrap().len() >= 8, "{:#}", reading["measures"]);
    assert!(reading["warnings"].is_array());
    // A picture this small (the hitter is 180 px high) is worth five frames of plant and two of contact.
    let truth = films().truth("today");
    for (event, id, bound_s) in
        [("plant", EventId::Plant, 5.0 / 60.0), ("contact", EventId::Contact, 2.0 / 60.0)]
    {
        let error_s = time_s(&reading, event) - truth.at(id).unwrap();
        assert!(error_s.abs() <= bound_s, "{event} is {:.0} ms off", error_s * 1e3);
    }
}

#[test]
fn talk_goes_to_stderr_and_quiet_is_silent() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().read_before("best", &folder);
    let loud = swingpair!["read", clip, "--json", "--recorded-at", "10"];
    // A rate that cannot be so is warned of, in the JSON; talk never mixes with it.
    loud.json();
    let quiet = swingpair!["--quiet", "read", clip, "--height", "176"];
    assert_eq!((quiet.code, quiet.err.as_str()), (Some(0), ""));
    assert!(quiet.out.contains("Contact") && quiet.out.contains(" cm"), "{}", quiet.out);
}

#[test]
fn the_kept_reading_is_used_until_something_changes() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().read_before("today", &folder);
    let first = swingpair!["read", clip, "--json"].json();
    // What was seen is taken from beside the clip: points moved there show in the reading.
    let mut kept = sidecar(&clip);
    assert_eq!(kept["schema"], "swingpair.sidecar/1");
    kept["seen"]["warnings"] = json!([{"code": "planted", "text": "Put here by a test."}]);
    std::fs::write(clip.with_extension("swing.json"), kept.to_string()).unwrap();
    let again = swingpair!["read", clip, "--json"];
    assert_eq!(again.err, "", "nothing was looked at, so there is nothing to tell");
    let again = again.json();
    assert_eq!(again["events"], first["events"]);
    assert!(again["warnings"].to_string().contains("planted"));

    // A pin wins, is kept when the clip is looked at anew, and the looking is really done.
    let pinned = swingpair!["mark", clip, "plant=1.6", "contact=1.75"];
    assert_eq!((pinned.code, pinned.out.as_str()), (Some(0), "plant=1.6\ncontact=1.75\n"), "{}", pinned.err);
    let fresh = swingpair!["read", clip, "--json", "--fresh"];
    assert!(!fresh.err.is_empty(), "looking is told");
    let fresh = fresh.json();
    assert!(!fresh["warnings"].to_string().contains("planted"));
    for (event, at_s) in [("plant", 1.6), ("contact", 1.75)] {
        assert_eq!(
            (time_s(&fresh, event), fresh["events"][event]["source"].as_str()),
            (at_s, Some("pinned"))
        );
    }
    let finish_s = [&fresh, &first].map(|r| time_s(r, "finish"));
    assert!((finish_s[0] - finish_s[1]).abs() < 0.03, "what was not pinned stays: {finish_s:?}");
    assert_eq!(sidecar(&clip)["pins"], json!({"plant": 1.6, "contact": 1.75}));
    assert_eq!(listing(folder.path()), ["today.mp4", "today.swing.json"]);
}

#[test]
fn another_clip_under_the_same_name_is_not_read_from_the_old_sidecar() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().read_before("today", &folder);
    assert_eq!(swingpair!["mark", clip, "plant=1.5"].code, Some(0));
    let other = films().read_before("best", &folder);
    std::fs::rename(&other, &clip).unwrap();
    let marked = swingpair!["mark", clip, "contact=1.7"];
    assert_eq!(marked.code, Some(0), "{}", marked.err);
    assert_eq!(marked.out, "contact=1.7\n", "pins of another clip must not hold for this one");
    assert!(marked.err.contains("set aside as today.swing.json.unread-1"), "{}", marked.err);
    assert_eq!(sidecar(&clip)["pins"], json!({"contact": 1.7}));
    assert!(sidecar(&clip)["seen"].is_null());
    let aside = folder.path().join("today.swing.json.unread-1");
    assert!(std::fs::read_to_string(aside).unwrap().contains(r#""pins":{"plant":1.5}"#), "pins are not lost");
}

#[test]
fn a_damaged_sidecar_is_set_aside_and_told() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().bare("today", &folder);
    std::fs::write(clip.with_extension("swing.json"), "{ half").unwrap();
    let points = super::points::write(&folder, "today", |_| {});
    let said = swingpair!["read", clip, "--json", "--keypoints", points];
    let reading = said.json();
    assert_eq!(reading["warnings"][0]["code"], "sidecar_set_aside", "{:#}", reading["warnings"]);
    assert_eq!(std::fs::read_to_string(folder.path().join("today.swing.json.unread-1")).unwrap(), "{ half");
    // The same by `mark`.
    std::fs::write(clip.with_extension("swing.json"), "{ half").unwrap();
    let said = swingpair!["mark", clip, "plant=1.5"];
    assert!(
        said.code == Some(0) && said.err.contains("set aside as today.swing.json.unread-2"),
        "{}",
        said.err
    );
}

#[test]
fn what_cannot_be_pinned_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().bare("today", &folder);
    for (pin, words) in [
        ("plnt=1.2", "stance, load, foot_off, touch, plant, hands_start, contact, extension, finish"),
        ("plant=2.5", "is outside the clip, which runs from 0 to 2.433 s"),
        ("plant=-0.1", "is outside the clip"),
        ("plant=NaN", "is not a number"),
        ("plant", "EVENT=found"),
    ] {
        let said = swingpair!["mark", clip, pin];
        assert_eq!(said.code, Some(2), "{pin}: {}", said.err);
        assert!(said.err.contains(words) && said.out.is_empty(), "{pin}: {}", said.err);
    }
    assert_eq!(listing(folder.path()), ["today.mp4"]);
}

#[test]
fn pins_that_no_swing_can_hold_are_refused_by_name_and_pins_are_taken_back() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().read_before("today", &folder);
    let found = swingpair!["read", clip, "--json"].json();
    // Both in one call, and one against what is kept.
    let said = swingpair!["mark", clip, "contact=1.2", "plant=1.5"];
    assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{}", said.err);
    assert!(said.err.contains("plant=1.5 and contact=1.2 cannot both be"), "{}", said.err);
    assert_eq!(sidecar(&clip)["pins"], json!({}));
    assert_eq!(swingpair!["mark", clip, "contact=1.75"].code, Some(0));
    for (pin, why) in [
        ("plant=2.25", "Plant comes before contact"),
        ("hands_start=1.8", "contact=1.75"),
        ("hands_start=0.9", "at most 0.6 s"),
        ("finish=1.7", "contact=1.75"),
    ] {
        let said = swingpair!["mark", clip, pin];
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{pin}: {}", said.err);
        let text = said.err.to_lowercase();
        assert!(text.contains(&why.to_lowercase()) && text.contains("=found"), "{pin}: {}", said.err);
    }
    assert_eq!(sidecar(&clip)["pins"], json!({"contact": 1.75}));
    // What is pinned shows, in words and as data.
    let line = |text: &str| text.lines().find(|l| l.contains("Contact ")).unwrap().to_owned();
    assert!(line(&swingpair!["read", clip].out).ends_with("pinned"));
    let pinned = swingpair!["read", clip, "--json"].json();
    assert_eq!(pinned["events"]["contact"]["source"], "pinned");
    // Taken back, it is found as before; taken back again, that is said.
    let back = swingpair!["mark", clip, "contact=found"];
    assert_eq!((back.code, back.out.as_str()), (Some(0), ""), "{}", back.err);
    assert!(back.err.contains("Nothing is pinned"), "{}", back.err);
    assert_eq!(swingpair!["read", clip, "--json"].json()["events"], found["events"]);
    let again = swingpair!["mark", clip, "contact=found"];
    assert!(again.code == Some(0) && again.err.contains("was not pinned"), "{}", again.err);
}
