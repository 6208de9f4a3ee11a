//! Two runs at once, and a folder that goes away.

use std::fs;
use std::io::{BufRead, BufReader, Read};
use std::time::Duration;

use super::scene::{OLDER, Template};
use super::{Outcome, Tally};

const EVENTS: [&str; 8] = [
    "stance=0.2",
    "load=0.9",
    "foot_off=1.0",
    "touch=1.4",
    "plant=1.5",
    "hands_start=1.6",
    "contact=1.75",
    "extension=1.9",
];

pub fn rows(template: &Template) -> Outcome<Vec<Tally>> {
    Ok(vec![marks(template)?, targets(template)?, vanishing(template)?])
}

/// Each of eight runs pins another event of one clip, while four read it.
fn marks(template: &Template) -> Outcome<Tally> {
    eprintln!("marks at once");
    let mut row = Tally::new("8 × mark and 4 × read of one clip at once");
    for _ in 0..4 {
        let scene = template.scene()?;
        let mut runs = Vec::new();
        for (i, event) in EVENTS.iter().enumerate() {
            runs.push(scene.command(&["-q", "mark", "@today.mp4", event]).spawn()?);
            if i % 2 == 0 {
                runs.push(scene.command(&["-q", "read", "@today.mp4"]).spawn()?);
            }
        }
        let count = runs.len();
        for run in runs {
            row.words += usize::from(!run.wait_with_output()?.status.success());
        }
        let kept: serde_json::Value = serde_json::from_slice(&fs::read(scene.path("today.swing.json"))?)?;
        // The one of the template and these.
        let pins = kept["pins"].as_object().map_or(0, serde_json::Map::len);
        if pins != EVENTS.len() + 1 {
            eprintln!("LOST: {pins} pins of {}", EVENTS.len() + 1);
            row.sidecar += 1;
        }
        scene.judge(&mut row, &[])?;
        row.runs += count - 1;
        row.ended += count;
    }
    Ok(row)
}

/// Two clips, made of the same reps at the same time, for one name.
fn targets(template: &Template) -> Outcome<Tally> {
    eprintln!("two for one target");
    let mut row = Tally::new("2 × pair for one target at once");
    for wait_ms in [0, 0, 50, 150, 300] {
        let scene = template.scene()?;
        fs::write(scene.path("out.mp4"), OLDER)?;
        let words = |slow| {
            ["-q", "pair", "@today.mp4", "@best.mp4", "-o", "@out.mp4", "--size", "256x456", "--slow", slow]
        };
        let one = scene.command(&words("8")).spawn()?;
        std::thread::sleep(Duration::from_millis(wait_ms));
        let two = scene.command(&words("4")).spawn()?;
        for run in [one, two] {
            row.words += usize::from(!run.wait_with_output()?.status.success());
        }
        row.target += usize::from(fs::read(scene.path("out.mp4"))? == OLDER);
        scene.judge(&mut row, &["out.mp4"])?;
        row.runs += 1;
        row.ended += 2;
    }
    Ok(row)
}

/// The folder of the target is taken away while the clip is made.
fn vanishing(template: &Template) -> Outcome<Tally> {
    eprintln!("folders that vanish");
    let mut row = Tally::new("pair, the target's folder taken away");
    for wait_ms in [0, 50, 100, 200, 300, 400] {
        let scene = template.scene()?;
        fs::create_dir(scene.path("stick"))?;
        let words = ["pair", "@today.mp4", "@best.mp4", "-o", "@stick/out.mp4", "--size", "480x852"];
        let mut child = scene.command(&words).spawn()?;
        let mut talk = BufReader::new(child.stderr.take().ok_or("no talk")?);
        let mut line = String::new();
        while !line.contains("making the video") && talk.read_line(&mut line)? > 0 {}
        std::thread::sleep(Duration::from_millis(wait_ms));
        fs::remove_dir_all(scene.path("stick"))?;
        let mut rest = String::new();
        talk.read_to_string(&mut rest)?;
        match (child.wait()?.code(), rest.lines().last().unwrap_or_default()) {
            (Some(0), _) => (),
            (Some(1), reported) if reported.contains("its folder no longer exists") => row.ended += 1,
            (code, reported) => {
                eprintln!("WRONG WORDS: {code:?} {reported}");
                row.words += 1;
            }
        }
        scene.judge(&mut row, &[])?;
    }
    Ok(row)
}
