//! How the page looks, beside a kept picture of how it was approved (`fixtures/goldens/desk`, made anew as all goldens).
//! Kept and compared is a small grey picture: letters that another computer draws a little differently, and the noise of a
//! video, are evened out; a control that is lost or stands elsewhere is not.

use std::time::{Duration, Instant};

use fantoccini::Client;
use image::imageops::thumbnail;
use image::{DynamicImage, GrayImage};

use crate::goldens;

/// A kept picture's pixel is the mean of so many px of the page, across and down.
const KEPT_PX: u32 = 4;
/// Compared are means of so many px of the page, across and down.
const CELL_PX: u32 = 8;
/// A place of the page: so many cells across and down.
const PLACE_CELLS: u32 = 5;
/// The largest mean difference of a place's cells, steps of 255. Measured: 0.1 where nothing changed; up to 5 with another
/// color profile and unsmoothed letters, up to 10 with letters hinted and spaced otherwise; 15 and more where one button is lost.
const LIMIT: f64 = 12.0;
/// What is on its way has come after so long.
const LONGEST: Duration = Duration::from_secs(8);
const PAUSE: Duration = Duration::from_millis(250);

/// What is another in each run: the folder's name, dates, addresses, how long a voice is and how far it is played.
const CHANGING: &str =
    "#folder, .rep .name span, #share-address, #voice-text, #voice-play, #videos, #player-video";

/// Hides that, and what blinks or moves; the page's own policy allows no style that is written into it.
const HIDE: &str = "
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(`${arguments[0]} { visibility: hidden !important }
      #share-address { width: 30rem; white-space: nowrap; overflow: hidden }
      * { caret-color: transparent !important; transition: none !important; animation: none !important }`);
    document.adoptedStyleSheets = [sheet];";
const SHOW: &str = "document.adoptedStyleSheets = [];";

/// The page's picture in grey, each pixel the mean of `KEPT_PX` × `KEPT_PX`.
fn reduced(png: &[u8]) -> GrayImage {
    let page = image::load_from_memory(png).unwrap().to_luma8();
    thumbnail(&page, page.width() / KEPT_PX, page.height() / KEPT_PX)
}

/// Means of `CELL_PX` × `CELL_PX` px, row by row.
fn cells(kept: &GrayImage) -> (usize, Vec<f64>) {
    let by = CELL_PX / KEPT_PX;
    let (across, down) = (kept.width() / by, kept.height() / by);
    let mean = |x: u32, y: u32| {
        let all = (0..by).flat_map(|dy| (0..by).map(move |dx| (x * by + dx, y * by + dy)));
        all.map(|(x, y)| f64::from(kept.get_pixel(x, y).0[0])).sum::<f64>() / f64::from(by * by)
    };
    (
        across as usize,
        (0..down).flat_map(|y| (0..across).map(move |x| (x, y))).map(|(x, y)| mean(x, y)).collect(),
    )
}

/// The largest difference of any place, and where its middle is, px.
fn apart(want: &GrayImage, got: &GrayImage) -> (f64, [usize; 2]) {
    if want.dimensions() != got.dimensions() {
        return (f64::INFINITY, [0, 0]);
    }
    let ((across, want), (_, got)) = (cells(want), cells(got));
    let difference: Vec<f64> = want.iter().zip(&got).map(|(a, b)| (a - b).abs()).collect();
    let (side, down) = (PLACE_CELLS as usize, difference.len() / across);
    let place = |x: usize, y: usize| {
        let rows = (y..y + side).map(|y| &difference[y * across + x..][..side]);
        rows.flatten().sum::<f64>() / (side * side) as f64
    };
    let all = (0..=down - side).flat_map(|y| (0..=across - side).map(move |x| (x, y)));
    let middle = |at: usize| (at * CELL_PX as usize) + side * CELL_PX as usize / 2;
    let (x, y) = all.max_by(|a, b| place(a.0, a.1).total_cmp(&place(b.0, b.1))).unwrap();
    (place(x, y), [middle(x), middle(y)])
}

/// What is wrong with how the page looks now, in words. Waits until it stands still.
pub(super) async fn compare(page: &Client, name: &str) -> Option<String> {
    let path = goldens::folder().join(format!("desk/{name}.png"));
    let write = goldens::is_written();
    let want =
        (!write).then(|| image::open(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display())).to_luma8());
    page.execute(HIDE, vec![CHANGING.into()]).await.unwrap();
    let (began, mut before) = (Instant::now(), Vec::new());
    let got = loop {
        tokio::time::sleep(PAUSE).await;
        let picture = page.screenshot().await.unwrap();
        let rests = picture == before;
        let got = reduced(&picture);
        let as_kept = want.as_ref().is_none_or(|want| apart(want, &got).0 <= LIMIT);
        if (rests && as_kept) || began.elapsed() > LONGEST {
            break got;
        }
        before = picture;
    };
    page.execute(SHOW, vec![]).await.unwrap();
    let Some(want) = want else {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        got.save(&path).unwrap();
        return None;
    };
    let (most, [x, y]) = apart(&want, &got);
    if most <= LIMIT {
        return None;
    }
    let rgb = |grey: GrayImage| DynamicImage::from(grey).to_rgb8();
    let left = goldens::left(&format!("desk-{name}"), &rgb(want), &rgb(got));
    Some(format!("{name}: looks different about {x}, {y} px ({most:.1}); see {}", left.display()))
}
