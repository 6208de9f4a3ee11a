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
const SCRUBBED: usize = 1500;

/// Go to a picture and wait until it is seen, as often as asked; gives each time, ms. `step`: by so many pictures, or
/// anywhere.
const SHOW: &str = "
    const [count, step, done] = arguments;
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
        const began = performance.now();
        p.goTo(0, index);
        while (view.dataset.shown !== `0 ${index}`) await tick(1);
        times.push(performance.now() - began);
        await tick(step ? 60 : 250);
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
    films(folder.path());
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
        for name in ["today", "best"] {
            let css = format!("[aria-label='Put {name} on the desk']");
            page.wait().at_most(Duration::from_secs(60)).for_element(Locator::Css(&css)).await.unwrap().click().await.unwrap();
        }
        page.wait().at_most(Duration::from_secs(60)).for_element(Locator::Css("#view[data-shown]")).await.unwrap();
        tokio::time::sleep(Duration::from_secs(3)).await;
        let show = async |count: usize, step: i64| page.execute_async(SHOW, vec![count.into(), step.into()]).await.unwrap();
        println!("| from the key to the picture, ms | n | half | 95 of 100 | worst | wanted |");
        println!("|---|---|---|---|---|---|");
        row("next frame", "50", &show(STEPS, 1).await);
        row("frame before", "50", &show(STEPS, -1).await);
        row("jump anywhere", "300", &show(JUMPS, 0).await);
        let pins = page.execute_async(PIN, vec![PINS.into()]).await.unwrap();
        row("plant set, everything read anew", "300", &pins);
        let before = memory_mb();
        show(SCRUBBED / 10, 7).await;
        let middle = memory_mb();
        for _ in 0..4 {
            show(SCRUBBED / 5, 3).await;
        }
        println!("\nThe server's memory: {before:.0} MB, {middle:.0} MB after {} frames, {:.0} MB after {SCRUBBED}.", SCRUBBED / 10, memory_mb());
        page.close().await.unwrap();
    });
    cancel.cancel();
    serving.join().unwrap().unwrap();
}
