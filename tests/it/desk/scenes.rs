//! The page scene by scene: nothing in it bars somebody who works by keyboard or with a screen reader, and each scene can be
//! looked at (`SWINGPAIR_SCENES=FOLDER` keeps a picture of each) and looks as it was approved, in the light and in the dark.

use std::path::{Path, PathBuf};

use fantoccini::{Client, Locator};
use serde_json::{Value, json};

use super::browser::{Driver, RIGHT, devtools, driver, open, press, text_when, wait_for};
use super::looks;
use super::served::Served;
use crate::cli::films::films;
use crate::skipped::skipped;

/// Looks through a page for what bars people (axe-core, WCAG 2.2 A and AA), fetched by `./dev setup`.
const AXE: &str = "out/axe/node_modules/axe-core/axe.min.js";

const LOOK: &str = "
    const done = arguments[arguments.length - 1];
    const wanted = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
    axe.run(document, { runOnly: wanted, resultTypes: ['violations'] }).then((found) =>
      done(found.violations.map((v) => `${v.id}: ${v.help}: ${v.nodes.map((n) => n.target.join(' ')).slice(0, 4).join(', ')}`)),
    );";

/// Each scene is looked at in both.
const THEMES: [&str; 2] = ["light", "dark"];

struct Scenes<'a> {
    driver: &'a Driver,
    page: &'a Client,
    axe: Option<String>,
    keep: Option<PathBuf>,
    wrong: Vec<String>,
}

impl Scenes<'_> {
    async fn look(&mut self, scene: &str) {
        for theme in THEMES {
            let wish = json!({ "features": [{ "name": "prefers-color-scheme", "value": theme }] });
            devtools(self.driver, self.page, "Emulation.setEmulatedMedia", &wish).await;
            let name = format!("{scene}-{theme}");
            self.wrong.extend(looks::compare(self.page, &name).await);
            if let Some(folder) = &self.keep {
                std::fs::create_dir_all(folder).unwrap();
                let picture = self.page.screenshot().await.unwrap();
                std::fs::write(folder.join(format!("{name}.png")), picture).unwrap();
            }
            let Some(axe) = &self.axe else { continue };
            self.page.execute(axe, vec![]).await.unwrap();
            let found = self.page.execute_async(LOOK, vec![]).await.unwrap();
            let all = found.as_array().unwrap().iter().filter_map(Value::as_str);
            self.wrong.extend(all.map(|v| format!("{name}: {v}")));
        }
    }
}

/// Clicks it once it is there; again if the page was painted anew between the two.
async fn click(page: &Client, css: &str) {
    for _ in 0..20 {
        if wait_for(page, css).await.click().await.is_ok() {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    panic!("{css} cannot be clicked");
}

#[test]
fn every_scene_is_open_to_all_a_point_is_moved_by_keys_and_a_voice_is_recorded() {
    let Some((driver, browser)) = driver() else { return };
    let axe = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(AXE)).ok();
    if axe.is_none() {
        skipped(
            "whether the desk's page bars anybody",
            "axe-core is not there (./dev setup fetches it with npm)",
        );
    }
    let folder = tempfile::tempdir().unwrap();
    let _ = ["today", "best"].map(|name| films().read_before(name, &folder));
    let desk = Served::with(folder.path(), &["--share"]);
    let profile = tempfile::tempdir().unwrap();
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    runtime.block_on(async {
        let page = open(&driver, browser, &profile, (1280, 800)).await;
        // The page's own size: the window's is with the browser's bars.
        let size = json!({ "width": 1280, "height": 800, "deviceScaleFactor": 1, "mobile": false });
        devtools(&driver, &page, "Emulation.setDeviceMetricsOverride", &size).await;
        let keep = std::env::var_os("SWINGPAIR_SCENES").map(PathBuf::from);
        let mut scenes = Scenes { driver: &driver, page: &page, axe, keep, wrong: Vec::new() };
        page.goto(&desk.address()).await.unwrap();
        wait_for(&page, "[aria-label='Put today on the desk']").await;
        scenes.look("1-reps").await;

        click(&page, "[aria-label='Put today on the desk']").await;
        click(&page, "[aria-label='Put best on the desk']").await;
        wait_for(&page, "#view[data-shown] img").await;
        page.execute("document.querySelectorAll('details').forEach((d) => (d.open = true))", vec![])
            .await
            .unwrap();
        scenes.look("2-two-in-step").await;

        page.execute("document.querySelector(\".peg[data-side='0'][data-event='contact']\").focus()", vec![])
            .await
            .unwrap();
        press(&page, RIGHT).await;
        wait_for(&page, ".peg.set[data-side='0'][data-event='contact']").await;
        scenes.look("3-an-event-is-set").await;

        click(&page, ".side.today .on-picture").await;
        let hands = "#mark-picture .handle[data-handle='hands']";
        wait_for(&page, &format!("{hands} .ring")).await;
        scenes.look("4-points").await;
        page.execute(&format!("document.querySelector(\"{hands}\").focus()"), vec![]).await.unwrap();
        for _ in 0..3 {
            press(&page, RIGHT).await;
        }
        // It was set, and is still in hand.
        wait_for(&page, "#mark-picture .handle.set[data-handle='hands'] .ring").await;
        let focused = page.execute("return document.activeElement.dataset.handle", vec![]).await.unwrap();
        assert_eq!(focused, "hands");
        click(&page, "[data-kind=length]").await;
        wait_for(&page, "#mark-picture .handle[data-handle='0'] .ring").await;
        scenes.look("5-length-and-height").await;
        click(&page, "[data-kind=hitter]").await;
        wait_for(&page, "#mark-picture .handle[data-handle='hitter'] .ring").await;
        scenes.look("6-who-bats").await;
        click(&page, "#mark-close").await;
        wait_for(&page, "#undo:not([disabled])").await;
        let depth = desk.get("/api/1/state").json()["history"]["undo"].as_u64();
        assert_eq!(depth, Some(2), "contact and the hands");

        // A voice, as the browser records it.
        click(&page, "#voice-record").await;
        tokio::time::sleep(std::time::Duration::from_millis(2500)).await;
        click(&page, "#voice-record").await;
        text_when(&page, "#voice-text", |t| t.contains("heard over the video")).await;
        page.find(Locator::Css("#note")).await.unwrap().send_keys("Stay back longer").await.unwrap();
        page.execute("document.getElementById('voice').scrollIntoView({ block: 'center' })", vec![])
            .await
            .unwrap();
        scenes.look("7-a-voice").await;

        page.find(Locator::Css("#plan")).await.unwrap().select_by_value("quick").await.unwrap();
        click(&page, "#make-button").await;
        text_when(&page, "#videos", |t| t.contains("videos/today-best.mp4")).await;
        wait_for(&page, "#player[open] video").await;
        let has_come = "return document.getElementById('player-video').readyState >= 2";
        while page.execute(has_come, vec![]).await.unwrap() != Value::Bool(true) {
            tokio::time::sleep(std::time::Duration::from_millis(50)).await;
        }
        click(&page, "#share-button").await;
        text_when(&page, "#share-address", |t| t.starts_with("http://")).await;
        scenes.look("8-the-video").await;
        assert_eq!(scenes.wrong, Vec::<String>::new());
        page.close().await.unwrap();
    });
}
