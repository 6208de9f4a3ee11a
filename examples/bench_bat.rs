//! The bat as a scale, against the truth of made-up films: `./dev bench bat`. With a folder as argument, the
//! pictures looked at are written there with the bar found (white) and the true bat (orange) drawn.
//!
//! Films are kept in out/bench and filmed anew when their scenario changed; what was seen of the body is taken
//! from the sidecars where it is still good.

use std::error::Error;
use std::path::Path;

use image::{Rgb, RgbImage};
use swingpair::demo::{Scenario, Truth, film, scenarios, truth_path};
use swingpair::messages::bat_unmeasured;
use swingpair::reading::track::bars_before_swing;
use swingpair::reading::{ReadOptions, read};
use swingpair::swing::KnownBat;
use swingpair::tracking::{Pixels, bat_look, chain};
use swingpair::types::{Cancel, NoProgress, Part, Point};

/// Knob to the middle of the hands in made-up swings, cm.
const HANDS_CM: f64 = 11.0;

fn main() -> Result<(), Box<dyn Error>> {
    let dir = Path::new("out/bench");
    std::fs::create_dir_all(dir)?;
    let draw_in = std::env::args().nth(1);
    println!(
        "| clip | looks | error of hands to tip | shown less true | scale error, bat | its ± | height | both |"
    );
    println!("|---|---|---|---|---|---|---|---|");
    let mut all = scenarios::bench_eight();
    all.extend(scenarios::two_reps());
    let (mut inside, mut found) = (0, 0);
    for scenario in &all {
        let clip = dir.join(&scenario.name).with_extension("mp4");
        let truth = filmed(scenario, &clip)?;
        let read_with = |height_cm, bat_cm| {
            // The bat is looked for anew whatever the sidecar says of it.
            let content = swingpair::store::content_hash(&clip)?;
            swingpair::store::update(&clip, &content, |s| s.seen.iter_mut().for_each(|s| s.bat = None))?;

            let options = ReadOptions { height_cm, bat_cm, ..ReadOptions::default() };
            read(&clip, &options, &NoProgress, &Cancel::default())
        };
        let hitter = &scenario.hitter;
        let by_height = read_with(Some(hitter.height_cm), None)?;
        let bars = bars_before_swing(&by_height.clip, &by_height.reading, &NoProgress, &Cancel::default())?;
        let timed: Vec<_> = bars.iter().map(|b| b.1.clone()).collect();
        if let Some(folder) = &draw_in {
            draw(Path::new(folder), &scenario.name, &by_height, &bars, &truth)?;
        }
        let scale = |px: Option<f64>| px.map_or(f64::NAN, |p| 100.0 * (p / truth.px_per_cm - 1.0));
        match bat_look(&timed) {
            Ok(bat) => {
                let shown_px = truth.px_per_cm * (hitter.bat_cm - HANDS_CM);
                let mut true_px: Vec<f64> =
                    bars.iter().filter_map(|(i, _)| true_hands_to_tip(&truth, *i)).collect();
                true_px.sort_by(f64::total_cmp);
                let longest = true_px.get(true_px.len() * 3 / 4).copied().unwrap_or(f64::NAN);
                let alone = read_with(None, Some(hitter.bat_cm))?.reading.scale;
                let both = read_with(Some(hitter.height_cm), Some(hitter.bat_cm))?.reading.scale;
                let known = KnownBat { at_rest: bat, bat_cm: hitter.bat_cm };
                let error = scale(alone.px_per_cm);
                let plus_minus = 196.0 * alone.px_per_cm_error;
                found += 1;
                inside += usize::from(error.abs() <= plus_minus);
                println!(
                    "| {} | {} of {} | {:+.1} % | {:+.1} % | {:+.1} % | {:.1} % | {:+.1} % | {:+.1} % |",
                    scenario.name,
                    bat.looks,
                    timed.len(),
                    100.0 * (known.at_rest.hands_to_tip_px / longest - 1.0),
                    100.0 * (longest / shown_px - 1.0),
                    error,
                    plus_minus,
                    scale(by_height.reading.scale.px_per_cm),
                    scale(both.px_per_cm),
                );
            }
            Err(why) => {
                println!("| {} | not measured: {} | | | | | | |", scenario.name, bat_unmeasured(&why));
            }
        }
    }
    println!("\nFound in {found} of {}; the truth lies inside the bat's ± in {inside}.", all.len());
    Ok(())
}

fn filmed(scenario: &Scenario, clip: &Path) -> Result<Truth, Box<dyn Error>> {
    let truth = Truth::of(scenario);
    let kept = std::fs::read(truth_path(clip)).ok();
    if clip.exists() && kept.as_deref() == Some(&serde_json::to_vec(&truth)?) {
        return Ok(truth);
    }
    Ok(film(scenario, clip, &NoProgress, &Cancel::default())?)
}

fn true_hands_to_tip(truth: &Truth, frame: usize) -> Option<f64> {
    let hand = |part| truth.keypoints.get(&part).and_then(|k| k.get(frame)).map(|p| Point::new(p[0], p[1]));
    let [_, tip] = *truth.bat.get(frame)?;
    let hands = hand(Part::LeftHand)?.midpoint(hand(Part::RightHand)?);
    Some(hands.distance(Point::new(tip[0], tip[1])))
}

fn draw(
    folder: &Path,
    name: &str,
    read: &swingpair::reading::ReadClip,
    bars: &[swingpair::reading::track::PictureBars],
    truth: &Truth,
) -> Result<(), Box<dyn Error>> {
    std::fs::create_dir_all(folder)?;
    let timed: Vec<_> = bars.iter().map(|b| b.1.clone()).collect();
    let chosen = chain(&timed);
    let Some(&(first, _)) = bars.first() else { return Ok(()) };
    let mut frames = read.clip.frames(first, None)?;
    let mut tiles: Vec<RgbImage> = Vec::new();
    for (n, ((index, _), bar)) in bars.iter().zip(&chosen).enumerate() {
        if n % 4 != 0 && n + 1 != bars.len() {
            continue;
        }
        let picture = loop {
            match frames.next_frame()? {
                Some(p) if p.index == *index => break p,
                Some(_) => {}
                None => return Ok(()),
            }
        };
        let centre = truth.bat.get(*index).map_or(Point::default(), |b| Point::new(b[0][0], b[0][1]));
        let half = 0.6 * truth.body_height_px;
        let (side, zoom) = (400u32, 400.0 / (2.0 * half));
        let mut tile = RgbImage::from_fn(side, side, |x, y| {
            let at = centre + Point::new(f64::from(x) / zoom - half, f64::from(y) / zoom - half);
            Rgb(picture.frame.rgb(at).map(|v| (v * 255.0).round() as u8))
        });
        let mut line = |a: Point, b: Point, colour: [u8; 3], aside: f64| {
            for i in 0..=800 {
                let p = (a.lerp(b, f64::from(i) / 800.0) - centre) * zoom + Point::new(200.0 + aside, 200.0);
                if p.x >= 0.0 && p.y >= 0.0 && p.x < 400.0 && p.y < 400.0 {
                    tile.put_pixel(p.x as u32, p.y as u32, Rgb(colour));
                }
            }
        };
        if let Some([k, t]) = truth.bat.get(*index) {
            line(Point::new(k[0], k[1]), Point::new(t[0], t[1]), [230, 159, 0], 8.0);
        }
        if let Some(bar) = bar {
            line(bar.from, bar.tip, [255, 255, 255], 0.0);
        }
        tiles.push(tile);
    }
    let mut sheet = RgbImage::new(400 * tiles.len().max(1) as u32, 400);
    for (i, tile) in tiles.iter().enumerate() {
        image::imageops::replace(&mut sheet, tile, 400 * i as i64, 0);
    }
    sheet.save(folder.join(format!("{name}.png")))?;
    Ok(())
}
