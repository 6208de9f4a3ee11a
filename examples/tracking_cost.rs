//! What looking at a clip costs, stage by stage: `cargo run --release --example look_cost -- CLIP…`
//!
//! Processor seconds are those of the whole process (Linux: /proc/self/stat in hundredths).

use std::path::Path;
use std::sync::Mutex;

use swingpair::media::{Clip, OpenOptions};
use swingpair::messages;
use swingpair::reading::track::{TrackingOptions, track_hitter};
use swingpair::types::{Cancel, Point, Progress, Result};

/// Stage, its pictures, processor s when it began.
#[derive(Default)]
struct Stages(Mutex<Option<(String, u64, f64)>>);

impl Progress for Stages {
    fn begin(&self, what: &str, total: u64) {
        if let Ok(mut now) = self.0.lock() {
            *now = Some((what.to_owned(), total, cpu_s()));
        }
    }

    fn advance(&self, _: u64) {}

    fn end(&self) {
        if let Some((what, pictures, began_s)) = self.0.lock().ok().and_then(|mut now| now.take()) {
            println!("  {what}: {pictures} pictures, {:.1} s", cpu_s() - began_s);
        }
    }
}

fn main() -> Result<()> {
    for path in std::env::args().skip(1) {
        let began_s = cpu_s();
        println!("{path}");
        let clip = Clip::open(Path::new(&path), &OpenOptions::default())?;
        match track_hitter(&clip, &TrackingOptions::default(), &Stages::default(), &Cancel::default()) {
            Ok(l) => {
                let moving = if l.camera.stood_still() { "still" } else { "moving" };
                let mut moved: Vec<f64> = l
                    .camera
                    .to_steady
                    .iter()
                    .map(|s| s.apply(Point::default()).distance(Point::default()))
                    .collect();
                moved.sort_by(f64::total_cmp);
                if let (Some(m), Some(n)) = (moved.get(moved.len() / 2), moved.get(moved.len() * 9 / 10)) {
                    println!("  upper left corner moved by {m:.2} px (half), {n:.2} px (nine of ten)");
                }
                println!("  swing at {:.2} s, camera {moving}", l.swing_s);
                l.warnings.iter().for_each(|w| println!("  {}: {}", w.code(), messages::warning(w)));
            }
            Err(e) => println!("  {e}"),
        }
        println!("  in all {:.1} s of processor", cpu_s() - began_s);
    }
    Ok(())
}

/// Processor time of this process so far, s; 0 where the system does not tell it this way.
fn cpu_s() -> f64 {
    let stat = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after_name = stat.rsplit(')').next().unwrap_or_default();
    let ticks: f64 =
        after_name.split_whitespace().skip(11).take(2).filter_map(|t| t.parse::<f64>().ok()).sum();
    ticks / 100.0
}
