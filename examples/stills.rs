//! A sheet of stills of a made-up swing, for looking at the hitter:
//! `cargo run --release --example stills -- SHEET.png [today|best|behind|bench1…8|seedN|…] [events|swing|full]`
//!
//! Further words change the scenario: left, closed, front, back, field, cage, kick, net, people, 30hz.

use std::path::Path;

use image::imageops;
use swingpair::demo::{Dice, Hitter, Place, Scenario, Stride, Studio, Truth, scenarios};
use swingpair::types::{Frame, Side, View};

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let Some(sheet) = args.first() else {
        eprintln!("give the name of the sheet, e.g. /tmp/sheet.png");
        std::process::exit(2);
    };
    let has = |word: &str| args.iter().any(|a| a == word);
    let mut s = chosen(&args);
    if has("left") {
        s.hitter.bats = Side::Left;
    }
    for (word, view) in [("closed", View::ClosedSide), ("front", View::FromFront), ("back", View::FromBehind)]
    {
        if has(word) {
            s.camera.view = view;
        }
    }
    if has("field") {
        s.scene.place = Place::Field;
    }
    if has("cage") {
        s.scene.place = Place::Cage;
    }
    if has("kick") {
        s.style = s.style.with_stride(Stride::Kick, &mut Dice::new(5));
    }
    s.scene.net_in_front |= has("net");
    if has("people") {
        s = scenarios::with_people_behind(s);
    }
    s.camera.rate_hz = if has("30hz") { 30.0 } else { s.camera.rate_hz.max(120.0) };

    let truth = Truth::of(&s);
    let times: Vec<f64> = if has("swing") {
        (0..12).map(|i| s.contact_s - 0.12 + 0.04 * f64::from(i)).collect()
    } else if has("full") {
        vec![s.contact_s]
    } else {
        truth.events.values().copied().collect()
    };
    let began = std::time::Instant::now();
    let studio = Studio::new(&s);
    let pictures: Vec<(Frame, usize)> =
        times.iter().map(|t| (t * s.camera.rate_hz).round() as usize).map(|i| (studio.frame(i), i)).collect();
    eprintln!("{}: {} pictures in {:.2?}", s.name, pictures.len(), began.elapsed());
    let tiles: Vec<image::RgbImage> = pictures
        .iter()
        .map(|(frame, index)| {
            let picture = rgb(frame);
            if has("full") { picture } else { around(&picture, &truth, *index) }
        })
        .collect();
    save(&tiles, Path::new(sheet));
}

fn chosen(args: &[String]) -> Scenario {
    let [today, best] = scenarios::two_reps();
    let word = args.get(1).map_or("today", String::as_str);
    if let Some(n) = word.strip_prefix("seed").and_then(|n| n.parse().ok()) {
        return scenarios::varied(word, n, if n % 2 == 0 { Side::Right } else { Side::Left });
    }
    let bench = scenarios::bench_eight();
    match word {
        "best" => best,
        "behind" => scenarios::from_behind(&best),
        "plain" => Scenario::new("plain", Hitter::new("Nobody", Side::Right, 180.0, 84.0)),
        _ => bench.into_iter().find(|s| s.name == word).unwrap_or(today),
    }
}

/// The hitter with room for the bat.
fn around(picture: &image::RgbImage, truth: &Truth, index: usize) -> image::RgbImage {
    let (mut x, mut y) = (f64::MAX, f64::MAX);
    let (mut right, mut low) = (0.0_f64, 0.0_f64);
    for places in truth.keypoints.values() {
        if let Some(&[px, py]) = places.get(index) {
            (x, y, right, low) = (x.min(px), y.min(py), right.max(px), low.max(py));
        }
    }
    let side = 1.25 * truth.body_height_px;
    let left = ((x + right) / 2.0 - side / 2.0).max(0.0) as u32;
    let top = ((y + low) / 2.0 - side * 0.56).max(0.0) as u32;
    let cut = imageops::crop_imm(picture, left, top, side as u32, side as u32).to_image();
    imageops::resize(&cut, 480, 480, imageops::FilterType::CatmullRom)
}

fn save(tiles: &[image::RgbImage], path: &Path) {
    let Some(first) = tiles.first() else { return };
    let (w, h) = first.dimensions();
    let columns = 4.min(tiles.len() as u32);
    let mut sheet = image::RgbImage::new(columns * w, (tiles.len() as u32).div_ceil(columns) * h);
    for (i, tile) in tiles.iter().enumerate() {
        let (column, row) = (i as u32 % columns, i as u32 / columns);
        imageops::overlay(&mut sheet, tile, i64::from(column * w), i64::from(row * h));
    }
    if let Err(e) = sheet.save(path) {
        eprintln!("{}: {e}", path.display());
    }
}

/// Limited-range BT.709 to display values (ITU-R BT.709-6).
fn rgb(f: &Frame) -> image::RgbImage {
    image::RgbImage::from_fn(f.width() as u32, f.height() as u32, |x, y| {
        let (x, y) = (x as usize, y as usize);
        let at = |p: &swingpair::types::Plane, x: usize, y: usize| f32::from(p.data[y * p.width + x]);
        let l = (at(&f.y, x, y) - 16.0) * 255.0 / 219.0;
        let u = (at(&f.u, x / 2, y / 2) - 128.0) * 255.0 / 224.0;
        let v = (at(&f.v, x / 2, y / 2) - 128.0) * 255.0 / 224.0;
        image::Rgb(
            [l + 1.5748 * v, l - 0.1873 * u - 0.4681 * v, l + 1.8556 * u].map(|c| c.clamp(0.0, 255.0) as u8),
        )
    })
}
