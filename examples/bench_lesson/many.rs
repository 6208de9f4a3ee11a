//! What a folder of 10,000 readings costs: listing it and telling the spread.

use std::error::Error;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::time::Instant;

use swingpair::demo::{Dice, Scenario, Truth, scenarios};
use swingpair::media::{Preset, WriteOptions, Writer};
use swingpair::reading::{self, ReadOptions};
use swingpair::store::{self, Key, MadeFrom, Observation, SCHEMA, Sidecar};
use swingpair::swing::{SwingInput, read_swing};
use swingpair::types::{Reading, Side};

pub fn table(count: usize) -> Result<(), Box<dyn Error>> {
    let folder = Path::new("out/lesson/many");
    let _ = fs::remove_dir_all(folder);
    fs::create_dir_all(folder)?;
    fill(folder, count)?;
    let bytes: u64 = fs::read_dir(folder)?.flatten().filter_map(|e| e.metadata().ok()).map(|m| m.len()).sum();
    println!("| {count} readings, {:.1} GB | wall, s |", bytes as f64 / 1e9);
    println!("|---|---|");
    let began = Instant::now();
    let found = store::list(folder)?;
    println!("| `store::list` ({} found) | {:.1} |", found.len(), began.elapsed().as_secs_f64());
    let began = Instant::now();
    let out = fs::File::create(folder.with_extension("json"))?;
    let mut spread = Command::new("target/release/swingpair");
    let done = spread.args(["-q", "spread"]).arg(folder).arg("--json").stdout(out).status()?;
    let took_s = began.elapsed().as_secs_f64();
    if !done.success() {
        return Err("spread failed".into());
    }
    let json: serde_json::Value = serde_json::from_slice(&fs::read(folder.with_extension("json"))?)?;
    println!("| `spread FOLDER --json` ({} counted) | {took_s:.1} |", json["counted"]);
    fs::remove_dir_all(folder)?;
    fs::remove_file(folder.with_extension("json"))?;
    Ok(())
}

/// One film of a few grey pictures under many names, each with the reading of a swing of its own.
fn fill(folder: &Path, count: usize) -> Result<(), Box<dyn Error>> {
    let film = folder.join("film.mp4");
    let options = WriteOptions {
        width: 64,
        height: 64,
        rate: (60, 1),
        preset: Preset::Veryfast,
        ..WriteOptions::default()
    };
    let mut writer = Writer::create(&film, &options)?;
    let grey = swingpair::draw::Canvas::new(64, 64, swingpair::draw::Rgb(128, 128, 128)).into_frame();
    for _ in 0..10 {
        writer.write(&grey)?;
    }
    writer.finish()?;
    let base = scenarios::varied("many", 77, Side::Right);
    let scenario = Scenario { ..base };
    let truth = Truth::of(&scenario);
    let track = truth.track();
    let swing = read_swing(&SwingInput::new(&track, &truth.times_s, 1280.0))?;
    let mut dice = Dice::new(5);
    // The settings' line is the program's own affair: taken from a reading of the film itself, which fails for want of a
    // swing but is kept.
    let settings = reading::settings_line(&ReadOptions::default())?;
    for i in 0..count {
        let clip = folder.join(format!("rep{i:05}.mp4"));
        fs::hard_link(&film, &clip)?;
        let mut measures = swing.measures.clone();
        for m in measures.values_mut() {
            m.value += 0.3 * m.plus_minus * dice.bell();
        }
        let mut read = Reading {
            hitter: swing.hitter,
            events: swing.events.clone(),
            ..super::changes::reading(measures)
        };
        read.clip.path = clip.clone();
        let sidecar = Sidecar {
            schema: SCHEMA.to_owned(),
            key: Some(Key { content: "film".to_owned(), settings: String::new() }),
            seen: Some(Observation { track: track.clone(), ..Observation::default() }),
            reading: Some(read),
            made_from: MadeFrom::of(&clip, settings.clone()),
            ..Sidecar::default()
        };
        fs::write(store::sidecar_path(&clip), serde_json::to_vec(&sidecar)?)?;
    }
    fs::remove_file(&film)?;
    Ok(())
}
