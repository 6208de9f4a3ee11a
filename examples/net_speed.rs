//! Times the pose nets on this machine: `cargo run --release --example net_speed`.

use std::time::Instant;

use swingpair::tracking::Nets;
use swingpair::types::Result;

fn main() -> Result<()> {
    let start = Instant::now();
    let nets = Nets::load()?;
    println!("load {:.0} ms", start.elapsed().as_secs_f64() * 1e3);
    let eye = nets.eye();
    time("detector", || eye.run_detector(vec![0.1; 224 * 224 * 3]).map(drop))?;
    time("landmarks", || eye.run_landmarks(vec![0.1; 256 * 256 * 3]).map(drop))?;
    time("landmarks and mask", || eye.run_landmarks_and_mask(vec![0.1; 256 * 256 * 3]).map(drop))?;
    Ok(())
}

fn time(what: &str, mut run: impl FnMut() -> Result<()>) -> Result<()> {
    let mut times = Vec::new();
    for _ in 0..30 {
        let start = Instant::now();
        run()?;
        times.push(start.elapsed().as_secs_f64() * 1e3);
    }
    times.sort_by(f64::total_cmp);
    println!("{what}: fastest {:.1} ms, median {:.1} ms (one thread)", times[0], times[15]);
    Ok(())
}
