//! The desk in a real browser: Chromium through WebDriver (W3C).

use std::io::{BufRead, BufReader, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use fantoccini::elements::Element;
use fantoccini::{Client, ClientBuilder, Locator};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use tempfile::TempDir;

use super::served::Served;
use crate::cli::films::{films, run};
use crate::skipped::skipped;

/// Debian's names of the browser and its driver.
const DRIVER: &str = "chromedriver";
const BROWSERS: [&str; 2] = ["/usr/bin/chromium", "/usr/bin/chromium-browser"];
const SLOWEST: Duration = Duration::from_secs(120);

pub(super) struct Driver {
    child: Child,
    port: u16,
}

impl Drop for Driver {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// `None` where there is none, which is said.
pub(super) fn driver() -> Option<(Driver, &'static str)> {
    let browser = BROWSERS.into_iter().find(|path| Path::new(path).exists());
    let child = Command::new(DRIVER).arg("--port=0").stdout(Stdio::piped()).stderr(Stdio::null()).spawn();
    let (Some(browser), Ok(mut child)) = (browser, child) else {
        skipped(
            "the desk in a browser",
            "no chromium with chromedriver (apt install chromium chromium-driver)",
        );
        return None;
    };
    let lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
    let port = lines
        .filter(|l| l.contains("successfully on port"))
        .find_map(|l| l.trim_end_matches('.').rsplit(' ').next().and_then(|n| n.parse().ok()));
    Some((Driver { child, port: port.expect("the driver's port") }, browser))
}

pub(super) async fn open(driver: &Driver, browser: &str, profile: &TempDir, size: (u32, u32)) -> Client {
    let args = [
        "--headless".to_owned(),
        "--no-sandbox".to_owned(),
        "--disable-gpu".to_owned(),
        "--disable-quic".to_owned(),
        "--no-first-run".to_owned(),
        "--disable-background-networking".to_owned(),
        "--disable-component-update".to_owned(),
        "--disable-sync".to_owned(),
        // A microphone that beeps, and nobody to ask whether it may be used.
        "--use-fake-device-for-media-stream".to_owned(),
        "--use-fake-ui-for-media-stream".to_owned(),
        format!("--window-size={},{}", size.0, size.1),
        format!("--user-data-dir={}", profile.path().display()),
    ];
    let wishes = json!({ "goog:chromeOptions": { "binary": browser, "args": args } });
    ClientBuilder::new(HttpConnector::new())
        .capabilities(wishes.as_object().unwrap().clone())
        .connect(&format!("http://127.0.0.1:{}", driver.port))
        .await
        .unwrap()
}

/// A command of the browser's own (Chrome DevTools Protocol), through its driver.
pub(super) async fn devtools(driver: &Driver, page: &Client, command: &str, params: &Value) {
    let session = page.session_id().await.unwrap().unwrap();
    let body = json!({ "cmd": command, "params": params }).to_string();
    let ask = format!(
        "POST /session/{session}/goog/cdp/execute HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close\r\n\
         Content-Type: application/json\r\nContent-Length: {}\r\n\r\n{body}",
        driver.port,
        body.len()
    );
    let mut stream = TcpStream::connect(("127.0.0.1", driver.port)).unwrap();
    stream.write_all(ask.as_bytes()).unwrap();
    stream.set_read_timeout(Some(SLOWEST)).unwrap();
    // The driver holds the connection open: one line says enough.
    let mut first = String::new();
    BufReader::new(stream).read_line(&mut first).unwrap();
    assert!(first.contains(" 200 "), "{command}: {first}");
}

/// The element as soon as it is there and shown.
pub(super) async fn wait_for(page: &Client, css: &str) -> Element {
    let began = Instant::now();
    loop {
        if let Ok(element) = page.find(Locator::Css(css)).await
            && element.is_displayed().await.unwrap_or(false)
        {
            return element;
        }
        assert!(began.elapsed() < SLOWEST, "{css} does not come: {}", page.source().await.unwrap());
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
}

/// The text of an element once it is as wished.
pub(super) async fn text_when(page: &Client, css: &str, wished: impl Fn(&str) -> bool) -> String {
    let began = Instant::now();
    loop {
        // It may be painted anew just now.
        if let Ok(element) = page.find(Locator::Css(css)).await
            && let Ok(text) = element.text().await
            && wished(&text)
        {
            return text;
        }
        assert!(began.elapsed() < SLOWEST, "{css} stays: {}", page.source().await.unwrap());
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
}

pub(super) async fn press(page: &Client, keys: &str) {
    page.active_element().await.unwrap().send_keys(keys).await.unwrap();
}

const LEFT: &str = "\u{e012}";
pub(super) const RIGHT: &str = "\u{e014}";
const PLANT_TO_CONTACT: &str = "[data-measure=plant_to_contact]";

/// Two reps are put together, plant is moved by three pictures, undone, and the video is that of the command line.
#[test]
fn a_coach_sets_plant_right_and_makes_the_video() {
    let Some((driver, browser)) = driver() else { return };
    let folder = tempfile::tempdir().unwrap();
    let [today, best] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let elsewhere = tempfile::tempdir().unwrap();
    let by_command = elsewhere.path().join("pair.mp4");
    let words = ["pair".into(), today.clone().into(), best.into(), "-o".into(), by_command.clone().into()];
    let made = run(&[&words[..], &["--ready".into(), "quick".into()]].concat());
    assert_eq!(made.code, Some(0), "{}", made.err);

    let desk = Served::start(folder.path());
    let profile = tempfile::tempdir().unwrap();
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    runtime.block_on(async {
        let page = open(&driver, browser, &profile, (1280, 800)).await;
        page.goto(&desk.address()).await.unwrap();
        wait_for(&page, "[aria-label='Put today on the desk']").await.click().await.unwrap();
        wait_for(&page, "[aria-label='Put best on the desk']").await.click().await.unwrap();
        wait_for(&page, "#view[data-shown] img").await;
        // The secret does not stay in the address line.
        assert!(!page.current_url().await.unwrap().as_str().contains("key="));

        // "Stayed the same" and "Can't tell" are folded: all is opened, whichever the number stands in.
        page.execute(
            "document.querySelectorAll('#findings-text details').forEach((d) => (d.open = true))",
            vec![],
        )
        .await
        .unwrap();
        let before = text_when(&page, PLANT_TO_CONTACT, |t| t.contains("ms")).await;
        let peg = ".peg[data-side='0'][data-event='plant']";
        let at = |page: &Client| {
            let page = page.clone();
            async move {
                let peg = wait_for(&page, peg).await;
                peg.attr("aria-valuenow").await.unwrap().unwrap().parse::<i64>().unwrap()
            }
        };
        let picture = at(&page).await;
        page.execute(&format!("document.querySelector(\"{peg}\").focus()"), vec![]).await.unwrap();
        for _ in 0..3 {
            press(&page, LEFT).await;
        }
        let after = text_when(&page, PLANT_TO_CONTACT, |t| t.contains("ms") && t != before).await;
        assert_eq!(at(&page).await, picture - 3);
        // Three pictures of a 60 Hz film are 50 ms.
        let number = |text: &str| {
            let digits: String =
                text.lines().last().unwrap().chars().take_while(char::is_ascii_digit).collect();
            digits.parse::<i64>().unwrap_or_else(|_| panic!("{text:?}"))
        };
        assert!((number(&after) - number(&before) - 50).abs() <= 9, "{before:?} became {after:?}");
        // What the page set is what the command line sees.
        let kept = swingpair::store::kept(&today).unwrap();
        assert_eq!(kept.pins.len(), 1);

        wait_for(&page, "#undo:not([disabled])").await.click().await.unwrap();
        text_when(&page, PLANT_TO_CONTACT, |t| t == before).await;
        assert_eq!(at(&page).await, picture);
        assert!(swingpair::store::kept(&today).unwrap().pins.is_empty());
        wait_for(&page, "#redo:not([disabled])").await;

        // The keys step through the pictures where nothing else has them.
        page.execute("document.getElementById('view').focus()", vec![]).await.unwrap();
        let label =
            || async { page.find(Locator::Css("#view")).await.unwrap().attr("aria-label").await.unwrap() };
        let here = label().await;
        press(&page, RIGHT).await;
        assert_ne!(label().await, here);

        page.execute("document.getElementById('how').open = true", vec![]).await.unwrap();
        page.find(Locator::Css("#plan")).await.unwrap().select_by_value("quick").await.unwrap();
        page.find(Locator::Css("#make-button")).await.unwrap().click().await.unwrap();
        text_when(&page, "#videos", |t| t.contains("videos/today-best.mp4")).await;
        wait_for(&page, "#player[open] video").await;
        page.close().await.unwrap();
    });
    let by_desk = std::fs::read(folder.path().join("videos/today-best.mp4")).unwrap();
    assert!(by_desk == std::fs::read(by_command).unwrap(), "the two videos differ");
}
