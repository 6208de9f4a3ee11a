//! What goes wrong around the desk: each thing is one sentence, and nothing is lost.

use std::fs;

use serde_json::{Value, json};
use swingpair::store::{self, short_hash};

use super::served::Served;
use crate::cli::films::{films, listing, swingpair};

fn ids() -> [String; 2] {
    ["today.mp4", "best.mp4"].map(|name| short_hash(name.as_bytes()))
}

fn error(answer: &super::served::Answer) -> String {
    let told: Value = serde_json::from_slice(&answer.body).unwrap();
    let why = told["error"].as_str().unwrap().to_owned();
    assert!(!why.trim().contains('\n'), "one sentence: {why}");
    why
}

/// What is written may be so long and no longer, as on a disk that is full: the limit that a process has on its files.
#[cfg(unix)]
#[test]
fn a_disk_that_fills_while_a_video_is_made_is_told_and_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let clips = ["today", "best"].map(|name| films().read_before(name, &folder));
    let kept = clips.each_ref().map(|clip| fs::read(store::sidecar_path(clip)).unwrap());
    // Blocks of 512 bytes (POSIX.1-2017, ulimit).
    let desk = Served::within(folder.path(), "ulimit -f 64; trap '' XFSZ");
    let [today, best] = ids();
    let url = format!("/api/1/pairs/{today}/{best}/video");
    let end = desk.ended(&url, &json!({ "plan": "quick" }));
    assert_eq!(end["end"], "failed", "{end}");
    let why = end["why"].as_str().unwrap();
    assert!(why.contains("cannot be written") && !why.contains(folder.path().to_str().unwrap()), "{why}");
    assert_eq!(listing(&folder.path().join("videos")), Vec::<String>::new());
    for (clip, kept) in clips.iter().zip(kept) {
        assert_eq!(fs::read(store::sidecar_path(clip)).unwrap(), kept);
    }
    // The desk goes on.
    assert_eq!(desk.get("/api/1/state").json()["making"], false);
    assert_eq!(desk.get(&format!("/api/1/pairs/{today}/{best}")).status, 200);
}

#[test]
fn two_desks_and_two_pages_see_each_others_changes_and_lose_none() {
    let folder = tempfile::tempdir().unwrap();
    let [clip, _] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let (one, two) = (Served::start(folder.path()), Served::start(folder.path()));
    let [today, best] = ids();
    let mut pages = [one.news(), one.news(), two.news()];
    let contact = one.get("/api/1/state").json()["clips"][1]["picture"].as_u64().unwrap();
    let pair = |desk: &Served| desk.get(&format!("/api/1/pairs/{today}/{best}")).json();
    let (before, before_two) = (pair(&one), pair(&two));
    let set = one.own(
        "PUT",
        &format!("/api/1/clips/{today}/events/contact"),
        &json!({ "picture": contact - 1 }).to_string(),
    );
    assert_eq!(set.status, 200, "{}", set.text());
    for page in &mut pages {
        page.wait("clips");
    }
    assert_ne!(pair(&one)["version"], before["version"]);
    assert_ne!(pair(&two)["version"], before_two["version"]);
    // The other desk, and a terminal, set other things: all are kept.
    let good = two.own("PUT", &format!("/api/1/clips/{today}/rating"), r#"{"rating":"good"}"#);
    assert_eq!(good.status, 200, "{}", good.text());
    assert_eq!(swingpair!["mark", clip, "height=180"].code, Some(0));
    let kept = store::load(&clip).unwrap();
    assert!(kept.pins.len() == 1 && kept.rating.is_some() && kept.by_hand.height_cm == Some(180.0));
    let seen = |desk: &Served| desk.get("/api/1/state").json()["clips"][1].clone();
    for desk in [&one, &two] {
        assert_eq!((&seen(desk)["rating"], &seen(desk)["pinned"]), (&json!("good"), &json!(["contact"])));
    }
    // Both make a video of the same two: two files, neither in the other's place.
    let url = format!("/api/1/pairs/{today}/{best}/video");
    let wish = json!({ "plan": "quick" });
    let ends = std::thread::scope(|scope| {
        [&one, &two].map(|desk| scope.spawn(|| desk.ended(&url, &wish))).map(|t| t.join().unwrap())
    });
    assert!(ends.iter().all(|end| end["end"] == "made"), "{ends:?}");
    assert_eq!(listing(&folder.path().join("videos")), ["today-best-2.mp4", "today-best.mp4"]);
}

#[test]
fn a_film_that_is_deleted_or_replaced_while_it_is_shown_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let [clip, best] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let desk = Served::start(folder.path());
    let [today, other] = ids();
    let (pair, picture) =
        (format!("/api/1/pairs/{today}/{other}"), format!("/api/1/clips/{today}/pictures/3"));
    assert_eq!((desk.get(&pair).status, desk.get(&picture).status), (200, 200));
    // Another film under its name: what was read of the one before is not shown of it.
    fs::copy(&best, &clip).unwrap();
    let state = desk.get("/api/1/state").json();
    assert_eq!(state["clips"][1]["state"], "waiting", "{state}");
    let refused = desk.get(&pair);
    assert!(
        refused.status == 400 && error(&refused).contains("today.mp4 has not been read yet"),
        "{}",
        refused.text()
    );
    assert_eq!(desk.get(&picture).status, 200, "its own pictures are shown");
    // Half of one, as while it is copied.
    let bytes = fs::read(&best).unwrap();
    fs::write(&clip, &bytes[..bytes.len() / 2]).unwrap();
    let refused = desk.get(&picture);
    assert!([200, 422].contains(&refused.status), "{}", refused.text());
    if refused.status == 422 {
        error(&refused);
    }
    fs::remove_file(&clip).unwrap();
    for path in [&pair, &picture, &format!("{pair}/pictures/today/3")] {
        let refused = desk.get(path);
        assert!(refused.status == 400 && error(&refused).contains("no longer in the folder"), "{path}");
    }
    assert_eq!(desk.get("/api/1/state").json()["clips"].as_array().unwrap().len(), 1);
    // The folder itself.
    let gone = folder.path().to_owned();
    fs::remove_dir_all(&gone).unwrap();
    let refused = desk.get("/api/1/state");
    assert_eq!(refused.status, 404);
    error(&refused);
    fs::create_dir(&gone).unwrap();
    assert_eq!(desk.get("/api/1/state").json()["clips"], json!([]));
}
