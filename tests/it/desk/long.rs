//! Long films and lessons at the desk.

use std::fs;

use serde_json::{Value, json};
use swingpair::store::short_hash;

use super::served::Served;
use crate::cli::films::{listing, swingpair};
use crate::cli::{lesson, reps};

#[test]
fn the_swings_of_a_long_film_are_taken_or_struck_out() {
    let (plan, film) = reps::filmed();
    let folder = tempfile::tempdir().unwrap();
    fs::copy(film, folder.path().join("bp.mp4")).unwrap();
    let desk = Served::start(folder.path());
    let url = format!("/api/1/clips/{}/swings", short_hash(b"bp.mp4"));
    assert_eq!(desk.get(&url).json(), json!({ "searching": false, "swings": null }));
    let mut news = desk.news();
    // The page is open, so the film itself is being read too: that is stopped.
    assert_eq!(desk.own("PUT", "/api/1/reading", r#"{"stopped":true}"#).status, 200);
    assert_eq!(desk.own("POST", &url, "").status, 202);
    assert_eq!(desk.own("POST", &url, "").status, 400, "one at a time");
    let end = std::iter::repeat_with(|| news.wait("finding")).find(|what| what["end"].is_string()).unwrap();
    assert_eq!(end["end"], "found", "{end}");
    let found = desk.get(&url).json();
    let all = found["swings"].as_array().unwrap();
    let swings: Vec<f64> = plan.acts.iter().filter(|a| a.act.is_swing()).map(|a| a.contact_s).collect();
    assert_eq!(all.len(), swings.len(), "{found}");
    for (swing, contact_s) in all.iter().zip(&swings) {
        assert!(
            (swing["at_s"].as_f64().unwrap() - contact_s).abs() < 0.1 && swing["choice"] == "open",
            "{swing}"
        );
    }
    // Nothing is among the clips before it is taken.
    assert_eq!(listing(folder.path()).iter().filter(|n| n.ends_with(".mp4")).count(), 1);
    let choose = |name: &str, choice: &str| {
        desk.own("PUT", &format!("{url}/{name}"), &json!({ "choice": choice }).to_string())
    };
    let [first, second] = [0, 1].map(|i| all[i]["name"].as_str().unwrap());
    let state = |answer: Value| {
        answer["swings"].as_array().unwrap().iter().map(|s| s["choice"].clone()).collect::<Vec<_>>()
    };
    assert_eq!(state(choose(second, "struck_out").json()), ["open", "struck_out"]);
    assert_eq!(state(choose(first, "taken").json()), ["taken", "struck_out"]);
    let cut = fs::read(folder.path().join("swings").join(first)).unwrap();
    assert!(fs::read(folder.path().join(first)).unwrap() == cut);
    let clips = desk.get("/api/1/state").json()["clips"].clone();
    let taken = clips.as_array().unwrap().iter().find(|c| c["name"] == first).unwrap().clone();
    assert!(["read", "doubtful"].contains(&taken["state"].as_str().unwrap()), "it is not read anew: {taken}");
    // What lies among the clips is hers.
    let refused = choose(first, "struck_out");
    assert!(refused.status == 400 && refused.text().contains("among your clips"), "{}", refused.text());
    assert_eq!(state(choose(second, "open").json()), ["taken", "open"]);
    for name in ["bp.mp4", "..%2Fbp.mp4", "bp_rep99.mp4", "x"] {
        assert_eq!(choose(name, "taken").status, 400, "{name}");
    }
}

#[test]
fn a_lessons_hitters_and_days_lead_to_what_was_made() {
    let (dir, file) = lesson::folder("");
    let desk = Served::start(dir.path());
    let told = desk.get("/api/1/lesson").json();
    let hitter = &told["hitters"][0];
    assert_eq!((&hitter["name"], &hitter["page"]), (&json!("Wren Castellow"), &Value::Null));
    assert_eq!(hitter["days"].as_array().unwrap().len(), 2);
    assert_eq!(swingpair!["lesson", file].code, Some(0));
    let told = desk.get("/api/1/lesson").json();
    let hitter = &told["hitters"][0];
    let page = desk.get(hitter["page"].as_str().unwrap());
    assert!(page.status == 200 && page.text().contains("Wren Castellow"));
    let head = page.head.to_lowercase();
    // It runs nothing and is not the desk's own origin.
    assert!(
        head.contains("sandbox") && head.contains("default-src 'none'") && !head.contains("allow-scripts"),
        "{head}"
    );
    let last = &hitter["days"][1];
    assert_eq!(last["name"], "2026-04-04");
    for made in last["made"].as_array().unwrap() {
        assert_eq!(desk.get(made["address"].as_str().unwrap()).status, 200, "{made}");
    }
    assert_eq!(last["made"].as_array().unwrap().len(), 3);
    // What the lesson does not make is not given, whatever lies there.
    fs::write(dir.path().join("made/wren-castellow/notes.html"), "hers").unwrap();
    for path in [
        "/lesson/wren-castellow/notes.html",
        "/lesson/",
        "/lesson/wren-castellow/",
        "/lesson/lesson.toml",
        "/lesson/../lesson.toml",
        "/lesson/..%2f..%2flesson.toml",
        "/lesson/today.mp4",
        "/lesson/%2fetc%2fpasswd",
    ] {
        let refused = desk.get(path);
        assert!([400, 404].contains(&refused.status), "{path}: {}", refused.status);
    }
    let (host, no_key) = (desk.host(), hitter["page"].as_str().unwrap());
    assert_eq!(desk.request("GET", no_key, &[("Host", &*host)], "").status, 403);
    // A lesson's file that is not understood is told in a sentence.
    fs::write(&file, "lesson = 1\nhitters = 3\n").unwrap();
    let refused = desk.get("/api/1/lesson");
    assert!(refused.status >= 400 && refused.text().contains("lesson.toml"), "{}", refused.text());
}
