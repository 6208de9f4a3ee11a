//! What the desk costs where the coach feels it: in the browser, on two films of 1080p. From a key that is pressed to the
//! picture on the page; from a moment that is set to the numbers that follow; the server's memory over many pictures.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use swingpair::demo;
use swingpair::desk::{Desk, DeskOptions};
use swingpair::reading::{self, ReadOptions};
use swingpair::types::{Cancel, NoProgress};

const BROWSER: &str = "/usr/bin/chromium";
const STEPS: usize = 60;
const JUMPS: usize = 40;
const PINS: usize = 8;
/// Between two steps or jumps that are timed, ms: as a person presses keys.
const STEP_PAUSE_MS: u64 = 60;
const JUMP_PAUSE_MS: u64 = 250;
/// An hour of scrubbing at two pictures a second.
const SCRUBBED: usize = 7200;
/// Memory is looked at after each of so many parts; between two of them another pair is opened.
const PARTS: usize = 6;
/// Between two pictures of the scrubbing, ms: fast, so that the hour takes minutes.
const SCRUB_PAUSE_MS: u64 = 5;

/// Go to a picture and wait until it is seen, as often as asked, with a pause after each; gives each time, ms. `step`: by so
/// many pictures, or anywhere. `anew`: each is drawn anew, where the browser's cache would give it.
const SHOW: &str = "
    const [count, step, pause_ms, anew, done] = arguments;
    import('/pair.js').then(async (p) => {
      const view = document.getElementById('view');
      const tick = (ms) => new Promise((ready) => setTimeout(ready, ms));
      const last = p.side(0).times_s.length - 1;
      const times = [];
      let seed = 7;
      for (let n = 0; n < count; n++) {
        seed = (seed * 48271) % 2147483647;
        let index = step ? p.pair.index + step : seed % last;
        if (index > last) index = 0;
        if (anew) p.pair.data.version = `anew ${n}`;
        const began = performance.now();
        p.goTo(0, index);
        while (view.dataset.shown !== `0 ${index}`) await tick(1);
        times.push(performance.now() - began);
        await tick(pause_ms);
      }
      done(times);
    });";

/// Set plant by one picture to and fro and wait for the numbers that follow; gives each time, ms.
const PIN: &str = "
    const [count, done] = arguments;
    import('/pair.js').then(async (p) => {
      const times = [];
      const plant = () => p.side(0).events.find((e) => e.event === 'plant').picture;
      for (let n = 0; n < count; n++) {
        const began = performance.now();
        await p.set(0, 'PUT', '/events/plant', { picture: plant() + (n % 2 ? 1 : -1) });
        times.push(performance.now() - began);
        await new Promise((ready) => setTimeout(ready, 1500));
      }
      done(times);
    });";

struct Driver(Child, u16);

impl Drop for Driver {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

fn driver() -> Driver {
    let mut child = Command::new("chromedriver")
        .arg("--port=0")
        .stdout(Stdio::piped())
        .spawn()
        .expect("chromedriver (apt install chromium chromium-driver)");
    let lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
    let port = lines
        .filter(|l| l.contains("successfully on port"))
        .find_map(|l| l.trim_end_matches('.').rsplit(' ').next().and_then(|n| n.parse().ok()));
    Driver(child, port.expect("the driver's port"))
}

async fn open(driver: &Driver, profile: &Path) -> Client {
    let args: Vec<String> = [
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--window-size=1280,800",
    ]
    .into_iter()
    .map(str::to_owned)
    .chain([format!("--user-data-dir={}", profile.display())])
    .collect();
    let wishes = json!({ "goog:chromeOptions": { "binary": BROWSER, "args": args }, "timeouts": { "script": 600_000 } });
    ClientBuilder::new(HttpConnector::new())
        .capabilities(wishes.as_object().unwrap().clone())
        .connect(&format!("http://127.0.0.1:{}", driver.1))
        .await
        .unwrap()
}

fn memory_mb() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|l| l.starts_with("VmRSS:")).and_then(|l| l.split_whitespace().nth(1));
    line.and_then(|kb| kb.parse::<f64>().ok()).unwrap_or(f64::NAN) / 1024.0
}

fn row(what: &str, bar: &str, times: &Value) {
    let mut all: Vec<f64> = times.as_array().unwrap().iter().filter_map(Value::as_f64).collect();
    all.sort_by(f64::total_cmp);
    let at = |share: f64| all[((all.len() - 1) as f64 * share).round() as usize];
    println!("| {what} | {} | {:.0} | {:.0} | {:.0} | {bar} |", all.len(), at(0.5), at(0.95), at(1.0));
}

/// Puts two reps on the desk and waits for their picture.
async fn open_pair(page: &Client, today: &str, reference: &str) {
    for (kind, name, place) in
        [("today", today, "today’s rep"), ("reference", reference, "a rep to compare with")]
    {
        let css = format!(".choose .{kind}[aria-label='{name} as {place}']");
        let button =
            page.wait().at_most(Duration::from_secs(60)).for_element(Locator::Css(&css)).await.unwrap();
        // One that lies there already would be taken away.
        if button.attr("aria-pressed").await.unwrap().as_deref() != Some("true") {
            button.click().await.unwrap();
        }
    }
    page.wait()
        .at_most(Duration::from_secs(60))
        .for_element(Locator::Css("#view[data-shown]"))
        .await
        .unwrap();
    // What lay there before is shown until both are put together.
    tokio::time::sleep(Duration::from_secs(3)).await;
}

fn films(folder: &Path) -> [PathBuf; 2] {
    let [today, best] = demo::scenarios::two_reps();
    [today, best].map(|mut scenario| {
        (scenario.camera.width, scenario.camera.height) = (1920, 1080);
        let path = folder.join(format!("{}.mp4", scenario.name));
        let (width, height) = (scenario.camera.width, scenario.camera.height);
        eprintln!("filming {} ({width}×{height} at {} Hz)…", scenario.name, scenario.camera.rate_hz);
        demo::film(&scenario, &path, &NoProgress, &Cancel::default()).unwrap();
        eprintln!("reading it…");
        reading::read(&path, &ReadOptions::default(), &NoProgress, &Cancel::default()).unwrap();
        path
    })
}

fn main() {
    let folder = tempfile::tempdir().unwrap();
    for path in films(folder.path()).iter().take(1) {
        // The other pairs: the same rep under other names.
        for n in [PARTS / 3, 2 * PARTS / 3] {
            let other = folder.path().join(format!("other-{n}.mp4"));
            std::fs::copy(swingpair::store::sidecar_path(path), swingpair::store::sidecar_path(&other))
                .unwrap();
            std::fs::copy(path, other).unwrap();
        }
    }
    let desk =
        Desk::open(&DeskOptions { folder: folder.path().to_owned(), ..DeskOptions::default() }).unwrap();
    let address = desk.address();
    let cancel = Cancel::default();
    let serving = std::thread::spawn({
        let cancel = cancel.clone();
        move || desk.serve(&cancel)
    });
    let (driver, profile) = (driver(), tempfile::tempdir().unwrap());
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    runtime.block_on(async {
        let page = open(&driver, profile.path()).await;
        page.goto(&address).await.unwrap();
        open_pair(&page, "today", "best").await;
        let show = async |count: usize, step: i64, pause_ms: u64, anew: bool| {
            page.execute_async(SHOW, vec![count.into(), step.into(), pause_ms.into(), anew.into()])
                .await
                .unwrap()
        };
        println!("| from the key to the picture, ms | n | half | 95 of 100 | worst | wanted |");
        println!("|---|---|---|---|---|---|");
        row("next frame", "50", &show(STEPS, 1, STEP_PAUSE_MS, false).await);
        row("frame before", "50", &show(STEPS, -1, STEP_PAUSE_MS, false).await);
        row("jump anywhere", "300", &show(JUMPS, 0, JUMP_PAUSE_MS, false).await);
        let pins = page.execute_async(PIN, vec![PINS.into()]).await.unwrap();
        row("plant set, everything read anew", "300", &pins);
        println!("\n| the server's memory | MB |\n|---|---|\n| before the scrubbing | {:.0} |", memory_mb());
        let part = SCRUBBED / PARTS;
        for n in 1..=PARTS {
            show(part, 3, SCRUB_PAUSE_MS, true).await;
            println!("| after {} frames | {:.0} |", n * part, memory_mb());
            // Twice on the way another pair is opened, and the first again.
            if n == PARTS / 3 || n == 2 * PARTS / 3 {
                open_pair(&page, &format!("other-{n}"), "best").await;
                show(JUMPS, 0, JUMP_PAUSE_MS, true).await;
                println!("| after another pair was opened | {:.0} |", memory_mb());
                open_pair(&page, "today", "best").await;
            }
        }
        page.close().await.unwrap();
    });
    cancel.cancel();
    serving.join().unwrap().unwrap();
}
