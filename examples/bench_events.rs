//! Events and measures read from eight made-up films against their exact truth: one table.
//! `./dev bench events`. Films are kept in out/bench and filmed anew when their scenario changed.

use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;

use swingpair::demo::{Hold, Scenario, Stride, Truth, film, scenarios, truth_path};
use swingpair::ground::{Cancel, EventId, MeasureId, NoProgress, Reading, Side};
use swingpair::reading::{ReadOptions, read};

fn main() -> Result<(), Box<dyn Error>> {
    let dir = Path::new("out/bench");
    std::fs::create_dir_all(dir)?;
    // With --kept what was seen in the pictures before is taken from the sidecars: for work on `swing`.
    let kept = std::env::args().any(|a| a == "--kept");
    let mut rows = Vec::new();
    for scenario in scenarios::bench_eight() {
        let clip = dir.join(&scenario.name).with_extension("mp4");
        let truth = filmed(&scenario, &clip)?;
        let options = ReadOptions {
            height_cm: Some(scenario.hitter.height_cm),
            fresh: !kept,
            ..ReadOptions::default()
        };
        match read(&clip, &options, &NoProgress, &Cancel::default()) {
            Ok(read) => rows.push((scenario, truth, read.reading)),
            Err(e) => println!("{}: not read: {e}", scenario.name),
        }
    }
    events_table(&rows);
    measures_table(&rows);
    Ok(())
}

/// The film's truth; filmed only when what lies there is not this scenario's.
fn filmed(scenario: &Scenario, clip: &Path) -> Result<Truth, Box<dyn Error>> {
    let truth = Truth::of(scenario);
    let kept = std::fs::read(truth_path(clip)).ok();
    if clip.exists() && kept.as_deref() == Some(&serde_json::to_vec(&truth)?) {
        return Ok(truth);
    }
    Ok(film(scenario, clip, &NoProgress, &Cancel::default())?)
}

type Row = (Scenario, Truth, Reading);

/// Errors in ms (read − true); `!` where the truth lies outside the ±.
fn events_table(rows: &[Row]) {
    const SHOWN: [EventId; 8] = [
        EventId::Load,
        EventId::FootOff,
        EventId::Touch,
        EventId::Plant,
        EventId::HandsStart,
        EventId::Contact,
        EventId::Extension,
        EventId::Finish,
    ];
    print!("| clip |");
    SHOWN.iter().for_each(|e| print!(" {} |", e.word()));
    println!("\n|---|{}", "---|".repeat(SHOWN.len()));
    let (mut inside, mut all) = (0, 0);
    for (scenario, truth, reading) in rows {
        print!("| {} |", name(scenario));
        for id in SHOWN {
            match (truth.events.get(&id), reading.events.get(&id)) {
                (Some(t), Some(e)) => {
                    let error_s = e.time_s - t;
                    let good = error_s.abs() <= e.plus_minus_s;
                    all += 1;
                    inside += usize::from(good);
                    print!(" {:+.0}{} |", error_s * 1000.0, if good { "" } else { " !" });
                }
                (Some(_), None) => print!(" missed |"),
                (None, Some(_)) => print!(" invented |"),
                (None, None) => print!(" – |"),
            }
        }
        println!();
    }
    println!("\nTruth inside ± in {inside} of {all} events.\n");
}

/// Errors in the measure's own unit (read − what the lens shows).
fn measures_table(rows: &[Row]) {
    let mut errors: BTreeMap<MeasureId, Vec<(f64, bool)>> = BTreeMap::new();
    for (_, truth, reading) in rows {
        for (id, m) in &reading.measures {
            if let Some(t) = truth.measures_in_picture.get(id) {
                let error = m.value - t;
                errors.entry(*id).or_default().push((error, error.abs() <= m.plus_minus));
            }
        }
    }
    println!("| measure | n | median error | largest error | inside ± |\n|---|---|---|---|---|");
    for (id, mut list) in errors {
        list.sort_by(|a, b| a.0.total_cmp(&b.0));
        let largest = list.iter().map(|e| e.0.abs()).fold(0.0, f64::max);
        let inside = list.iter().filter(|e| e.1).count();
        let median = list[list.len() / 2].0;
        println!("| {id:?} | {} | {median:+.1} | {largest:.1} | {inside} |", list.len());
    }
}

fn name(s: &Scenario) -> String {
    let bats = if s.hitter.bats == Side::Left { "left" } else { "right" };
    let hold = if s.camera.hold == Hold::Tripod { "tripod" } else { "hand" };
    let stride = match s.style.stride {
        Stride::Low => "low stride",
        Stride::Kick => "leg kick",
        Stride::ToeTap(1) => "toe tap",
        Stride::ToeTap(_) => "two taps",
        Stride::None => "no stride",
    };
    let slow = if s.stored_slower > 1.0 { ", stored slow" } else { "" };
    format!("{:.0} fps, {bats}, {hold}, {stride}{slow}", s.camera.rate_hz)
}
