//! What is set at the desk beside events: points of the body, height, a known length, who bats.

use serde_json::{Value, json};
use swingpair::store::{self, Sidecar, short_hash};
use swingpair::types::BodyPoint;

use super::served::Served;
use crate::cli::films::{films, swingpair};

fn id(name: &str) -> String {
    short_hash(format!("{name}.mp4").as_bytes())
}

fn marks(desk: &Served, picture: usize) -> Value {
    desk.get(&format!("/api/1/clips/{}/pictures/{picture}/marks", id("today"))).json()
}

/// Where a point is, px.
fn place(marks: &Value, point: &str) -> [f64; 2] {
    let all = marks["points"].as_array().unwrap();
    let found = all.iter().find(|p| p["point"] == point).unwrap();
    ["x", "y"].map(|axis| found["at"][axis].as_f64().unwrap())
}

fn apart(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

#[test]
fn a_point_that_is_moved_bends_the_track_and_can_be_taken_back() {
    let folder = tempfile::tempdir().unwrap();
    let today = films().read_before("today", &folder);
    let desk = Served::start(folder.path());
    let contact = desk.get("/api/1/state").json()["clips"][0]["picture"].as_u64().unwrap() as usize;
    let before = marks(&desk, contact);
    let [x, y] = place(&before, "hands");
    let url = format!("/api/1/clips/{}/points/hands/{contact}", id("today"));
    let body = json!({ "x": x + 6.0, "y": y - 4.0 }).to_string();
    let set = desk.own("PUT", &url, &body).json();
    assert_eq!(set["history"]["undo"], 1);
    let after = marks(&desk, contact);
    assert!(apart(place(&after, "hands"), [x + 6.0, y - 4.0]) < 1e-6);
    assert!(apart(place(&after, "head"), place(&before, "head")) < 1e-9);
    let own = after["points"].as_array().unwrap().iter().find(|p| p["point"] == "hands").unwrap();
    assert_eq!(own["set"], true);
    // It is kept with its picture and place, as the terminal would.
    let kept = store::load(&today).unwrap();
    assert_eq!(kept.by_hand.points.len(), 1);
    assert_eq!(kept.by_hand.points[0].point, BodyPoint::Hands);
    // The reading that is kept is of the bent track.
    let reading =
        |kept: &Sidecar| serde_json::to_value(kept.reading.as_ref().unwrap()).unwrap()["measures"].clone();
    let bent = reading(&kept);

    assert_eq!(desk.own("POST", "/api/1/undo", "").status, 200);
    assert!(apart(place(&marks(&desk, contact), "hands"), [x, y]) < 1e-9);
    let unbent = store::load(&today).unwrap();
    assert!(unbent.by_hand.is_empty());
    assert_ne!(reading(&unbent), bent, "the hands' measures follow the point");
    assert_eq!(desk.own("POST", "/api/1/redo", "").status, 200);
    assert_eq!(reading(&store::load(&today).unwrap()), bent);
    assert_eq!(desk.own("DELETE", &format!("/api/1/clips/{}/marks", id("today")), "").status, 200);
    assert!(store::load(&today).unwrap().by_hand.is_empty());

    // The terminal's point is the desk's.
    let time_s = kept.by_hand.points[0].time_s;
    let said = swingpair!["mark", today, format!("hands@{time_s}={},{}", x + 6.0, y - 4.0)];
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(said.out.starts_with("hands@"), "{}", said.out);
    assert!(apart(place(&marks(&desk, contact), "hands"), [x + 6.0, y - 4.0]) < 1e-6);
    for (words, wrong) in
        [("hand@1=5,5", "hands"), ("hands@99=5,5", "outside"), ("hands@1=5,5000", "outside")]
    {
        let said = swingpair!["mark", today, words];
        assert!(said.code == Some(2) && said.err.contains(wrong), "{words}: {}", said.err);
    }
    let said = swingpair!["mark", today, format!("hands@{time_s}=found")];
    assert_eq!((said.code, said.out.as_str()), (Some(0), ""), "{}", said.err);

    for (path, body) in [
        (format!("/api/1/clips/{}/points/nose/{contact}", id("today")), body.clone()),
        (format!("/api/1/clips/{}/points/hands/99999", id("today")), body.clone()),
        (url.clone(), json!({ "x": -5.0, "y": 3.0 }).to_string()),
        (url, json!({ "x": "here" }).to_string()),
    ] {
        let refused = desk.own("PUT", &path, &body);
        let told: Value = serde_json::from_slice(&refused.body).unwrap();
        assert!([400, 422].contains(&refused.status) && told["error"].is_string(), "{path} {body}: {told}");
    }
}

#[test]
fn height_and_a_known_length_are_kept_and_lengths_are_then_in_cm() {
    let folder = tempfile::tempdir().unwrap();
    let [today, best] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let desk = Served::start(folder.path());
    let unit = |clip| {
        let kept = store::load(clip).unwrap();
        serde_json::to_value(kept.reading.unwrap().scale.px_per_cm).unwrap()
    };
    let put = |what: &str, body: Value| {
        desk.own("PUT", &format!("/api/1/clips/{}/{what}", id("today")), &body.to_string())
    };
    let both = put("height", json!({ "cm": 178.0, "also": [id("best")] })).json();
    assert_eq!(both["history"]["undo"], 1, "one step for both");
    assert!(desk.get(&format!("/api/1/pairs/{}/{}", id("today"), id("best"))).status == 200);
    for clip in [&today, &best] {
        assert_eq!(store::load(clip).unwrap().by_hand.height_cm, Some(178.0));
        assert!(unit(clip).is_number());
    }
    // The command line goes by it too, and can take it back.
    let said = swingpair!["read", today];
    assert!(said.code == Some(0) && said.out.contains("cm"), "{}", said.out);
    assert_eq!(desk.own("POST", "/api/1/undo", "").status, 200);
    assert!([&today, &best].iter().all(|clip| store::load(clip).unwrap().by_hand.is_empty()));
    assert_eq!(put("height", json!({ "cm": 17.0 })).status, 400);

    let length = json!({ "length": { "from": { "x": 200.0, "y": 330.0 }, "to": { "x": 260.0, "y": 330.0 }, "cm": 43.2 } });
    assert_eq!(put("length", length).json()["history"]["undo"], 1);
    assert!(unit(&today).is_number());
    let pair = desk.get(&format!("/api/1/pairs/{}/{}", id("today"), id("best"))).json();
    assert!(pair["findings"]["warnings"].to_string().contains("lengths are not compared"), "{pair}");
    assert_eq!(marks(&desk, 0)["known_length"]["cm"], 43.2);
    let outside = json!({ "length": { "from": { "x": 200.0, "y": 330.0 }, "to": { "x": 9999.0, "y": 330.0 }, "cm": 43.2 } });
    assert_eq!(put("length", outside).status, 400);
    let said = swingpair!["mark", today, "length=found"];
    assert_eq!((said.code, said.out.as_str()), (Some(0), ""), "{}", said.err);
    let said = swingpair!["mark", today, "height=5'10\""];
    assert_eq!(said.out.trim(), "height=177.8cm", "{}", said.err);
}

#[test]
fn another_hitter_is_kept_and_the_clip_waits_to_be_read_again() {
    let folder = tempfile::tempdir().unwrap();
    let today = films().read_before("today", &folder);
    let desk = Served::start(folder.path());
    let body = marks(&desk, 30)["body"][0].clone();
    let set =
        desk.own("PUT", &format!("/api/1/clips/{}/hitter", id("today")), &json!({ "at": body }).to_string());
    assert_eq!(set.json()["clip"]["state"], "waiting");
    let kept = store::load(&today).unwrap();
    assert!(kept.by_hand.hitter_at.is_some() && kept.reading.is_none());
    // Nobody stands in the corner: that is told, and what was said is still there to be undone.
    let said = swingpair!["mark", today, "hitter=2,2"];
    assert_eq!(said.out.trim(), "hitter=2,2", "{}", said.err);
    let said = swingpair!["read", today];
    assert!(said.code == Some(2) && said.err.contains("2,2"), "{:?} {}", said.code, said.err);
    assert_eq!(desk.own("POST", "/api/1/undo", "").status, 200);
    assert!(store::load(&today).unwrap().by_hand.is_empty());
}

/// A point on somebody who does not swing is refused and not kept: the next run would go by it.
#[test]
fn a_hitter_who_is_not_there_is_not_kept() {
    let folder = tempfile::tempdir().unwrap();
    let today = films().read_before("today", &folder);
    let before = store::load(&today).unwrap();
    assert_ne!(swingpair!["read", today, "--hitter", "2,2"].code, Some(0));
    assert_eq!(store::load(&today).unwrap().by_hand, before.by_hand);
    assert_eq!(swingpair!["read", today, "--height", "178"].code, Some(0));
    assert_eq!(store::load(&today).unwrap().by_hand.height_cm, Some(178.0));
}
