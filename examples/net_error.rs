//! Films ready scenarios and says how far the pose net's points lie from the truth, in % of body height
//! (median / 90 %), over the pictures from stance to finish:
//! `cargo run --release --example net_error -- DIR [NAME…]` with the names of the two reps, of the first
//! bench (`bench1` … `bench8`) or of the two angles; all of them when none is given.

use std::path::Path;
use std::time::Instant;

use swingpair::demo::{Scenario, Truth, film, scenarios};
use swingpair::ground::{Cancel, EventId, NoProgress, Part, Result};
use swingpair::media::{Clip, OpenOptions};
use swingpair::reading::look;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let Some((dir, names)) = args.split_first() else {
        eprintln!("give a folder for the clips");
        std::process::exit(2);
    };
    let mut all: Vec<Scenario> = scenarios::two_reps().into();
    all.extend(scenarios::two_angles());
    all.extend(scenarios::bench_eight());
    for s in all.iter().filter(|s| names.is_empty() || names.contains(&s.name)) {
        if let Err(e) = one(s, Path::new(dir)) {
            println!("{:8} {e}", s.name);
        }
    }
}

fn one(s: &Scenario, dir: &Path) -> Result<()> {
    let (progress, cancel) = (NoProgress, Cancel::default());
    std::fs::create_dir_all(dir).map_err(|e| swingpair::ground::Error::writing(dir, &e))?;
    let target = dir.join(&s.name).with_extension("mp4");
    let began = Instant::now();
    let truth = film(s, &target, &progress, &cancel)?;
    let filmed = began.elapsed();
    let began = Instant::now();
    let clip = Clip::open(&target, &OpenOptions::default())?;
    let seen = look::look(&clip, &look::LookOptions::default(), &progress, &cancel)?;
    print!(
        "{:8} filmed in {filmed:.1?}, looked in {:.1?}; swing {:+.0} ms;",
        s.name,
        began.elapsed(),
        1000.0 * (seen.swing_s - truth.at(EventId::Contact).unwrap_or(0.0)),
    );
    let (from, to) = (truth.at(EventId::Stance), truth.at(EventId::Finish));
    let inside = |t: f64| from.is_none_or(|f| t >= f) && to.is_none_or(|u| t <= u);
    let exact = truth.track();
    use Part::*;
    for (name, parts) in [
        ("nose", [Nose, Nose]),
        ("shoulders", [LeftShoulder, RightShoulder]),
        ("elbows", [LeftElbow, RightElbow]),
        ("wrists", [LeftWrist, RightWrist]),
        ("hips", [LeftHip, RightHip]),
        ("knees", [LeftKnee, RightKnee]),
        ("ankles", [LeftAnkle, RightAnkle]),
        ("toes", [LeftToe, RightToe]),
    ] {
        let mut off: Vec<f64> = Vec::new();
        let mut gaps = 0;
        for pose in seen.track.poses.iter().filter(|p| inside(p.time_s)) {
            let Some(want) = exact.nearest(pose.time_s) else { continue };
            for part in parts {
                match (pose.at(part), want.at(part)) {
                    (Some(a), Some(b)) => off.push(share(&truth, a.distance(b))),
                    _ => gaps += 1,
                }
            }
        }
        off.sort_by(f64::total_cmp);
        if let (Some(middle), Some(most)) = (off.get(off.len() / 2), off.get(off.len() * 9 / 10)) {
            print!(" {name} {middle:.1}/{most:.1}");
        }
        if gaps > 0 {
            print!(" ({gaps} gaps)");
        }
    }
    println!();
    Ok(())
}

fn share(truth: &Truth, px: f64) -> f64 {
    100.0 * px / truth.body_height_px
}
