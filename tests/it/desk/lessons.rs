//! A lesson whose clips lie in folders below the desk's.

use std::fs;

use fantoccini::Locator;
use serde_json::json;
use swingpair::store::short_hash;
use tempfile::TempDir;

use super::browser::{driver, open, text_when, wait_for};
use super::served::Served;
use crate::cli::films::films;

/// Today's rep in the folder itself, the best in a folder of a day before, read both, and a lesson of them.
fn folder() -> TempDir {
    let dir = tempfile::tempdir().unwrap();
    let _ = ["today", "best"].map(|name| films().read_before(name, &dir));
    fs::create_dir(dir.path().join("march")).unwrap();
    for name in ["best.mp4", "best.swing.json"] {
        fs::rename(dir.path().join(name), dir.path().join("march").join(name)).unwrap();
    }
    let text = "lesson = 1\n[[hitter]]\nname = \"Wren Castellow\"\ngood = [\"march/best.mp4\"]\n[[hitter.day]]\n\
                date = 2026-03-07\nreps = [\"march\"]\n[[hitter.day]]\ndate = 2026-04-04\nreps = [\"today.mp4\"]\n";
    fs::write(dir.path().join("lesson.toml"), text).unwrap();
    dir
}

#[test]
fn reps_of_a_lessons_other_folders_are_compared_and_set() {
    let dir = folder();
    let desk = Served::start(dir.path());
    let [today, best] = ["today.mp4", "march/best.mp4"].map(|place| short_hash(place.as_bytes()));
    let told = desk.get("/api/1/lesson").json();
    let hitter = &told["hitters"][0];
    assert_eq!(hitter["good"], json!([best]));
    assert_eq!((&hitter["days"][0]["clips"], &hitter["days"][1]["clips"]), (&json!([best]), &json!([today])));
    let state = desk.get("/api/1/state").json();
    let clips: Vec<(&str, &str)> = state["clips"]
        .as_array()
        .unwrap()
        .iter()
        .map(|c| (c["folder"].as_str().unwrap(), c["name"].as_str().unwrap()))
        .collect();
    assert_eq!(clips, [("", "today.mp4"), ("march", "best.mp4")], "its own first, each once");

    let pair = format!("/api/1/pairs/{today}/{best}");
    assert_eq!(desk.get(&pair).json()["sides"][1]["id"], best);
    let jpeg = desk.get(&format!("{pair}/pictures/today/60?width=600&height=400"));
    assert!(jpeg.status == 200 && jpeg.body.starts_with(&[0xFF, 0xD8]));
    assert_eq!(desk.own("PUT", &format!("/api/1/clips/{best}/rating"), r#"{"rating":"best"}"#).status, 200);
    let kept = swingpair::store::kept(&dir.path().join("march/best.mp4")).unwrap();
    assert_eq!(kept.rating, Some(swingpair::store::Rating::Best));
    // The video lies where all videos do.
    let video = desk.make(&format!("{pair}/video"), &json!({ "plan": "quick" }));
    assert_eq!(video["name"], "videos/today-best.mp4");

    // What the lesson no longer names is no longer given.
    fs::write(dir.path().join("lesson.toml"), "lesson = 1\n[[hitter]]\nname = \"Wren Castellow\"\n").unwrap();
    assert_eq!(desk.get(&format!("/api/1/clips/{best}/pictures/0")).status, 400);
}

#[test]
fn a_rep_of_an_earlier_day_is_put_on_the_desk_from_the_lesson() {
    let Some((driver, browser)) = driver() else { return };
    let dir = folder();
    let desk = Served::start(dir.path());
    let profile = tempfile::tempdir().unwrap();
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    runtime.block_on(async {
        let page = open(&driver, browser, &profile, (1280, 800)).await;
        page.goto(&desk.address()).await.unwrap();
        wait_for(&page, ".rep [aria-label='Put today on the desk']").await.click().await.unwrap();
        assert_eq!(page.find_all(Locator::Css(".rep")).await.unwrap().len(), 1, "the folder's own");
        let day = "#lesson details[data-of='Wren Castellow 2026-03-07']";
        wait_for(&page, &format!("{day} summary")).await.click().await.unwrap();
        let rep = format!("{day} [aria-label='Put march/best on the desk']");
        wait_for(&page, &rep).await.click().await.unwrap();
        wait_for(&page, "#view[data-shown] img").await;
        text_when(&page, ".rep.is-reference", |t| t.contains("best") && t.contains("march")).await;
        // It stays unfolded, and says what lies on the desk.
        wait_for(&page, &format!("{day}[open] [aria-pressed=true]")).await;
        if let Some(folder) = std::env::var_os("SWINGPAIR_SCENES") {
            let picture = page.screenshot().await.unwrap();
            fs::write(std::path::Path::new(&folder).join("9-a-lesson.png"), picture).unwrap();
        }
        page.close().await.unwrap();
    });
}
