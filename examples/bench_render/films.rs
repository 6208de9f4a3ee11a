//! The films that are worked on: made once, read once.

use std::path::{Path, PathBuf};
use std::process::Command;

use swingpair::demo::{Scenario, film, scenarios};
use swingpair::reading::{ReadOptions, read};
use swingpair::types::{Cancel, NoProgress};

use super::{FOLDER, Outcome, cost};

/// Today's rep and the best one, 1920 × 1080: 8 s each at 60 a second, 4 s at 240.
pub fn pair(rate_hz: f64) -> Outcome<[PathBuf; 2]> {
    let (duration_s, contact_s) = if rate_hz > 100.0 { (4.0, 2.2) } else { (8.0, 4.0) };
    let made = scenarios::two_reps().map(|scenario| {
        let name = format!("{}{rate_hz:.0}", scenario.name);
        let mut scenario = Scenario { name, duration_s, contact_s, ..scenario };
        (scenario.camera.width, scenario.camera.height) = (1920, 1080);
        (scenario.camera.rate_hz, scenario.camera.rotation_deg) = (rate_hz, 0);
        scenario.stored_slower = 1.0;
        made(&scenario)
    });
    let [today, best] = made;
    Ok([today?, best?])
}

fn made(scenario: &Scenario) -> Outcome<PathBuf> {
    let clip = Path::new(FOLDER).join(&scenario.name).with_extension("mp4");
    if !clip.exists() {
        eprintln!("filming {} (once)", clip.display());
        film(scenario, &clip, &NoProgress, &Cancel::default())?;
    }
    let options = ReadOptions { height_cm: Some(scenario.hitter.height_cm), ..ReadOptions::default() };
    read(&clip, &options, &NoProgress, &Cancel::default())?;
    Ok(clip)
}

/// The pair of 60 a second enlarged to 3840 × 2160, its last picture standing until `seconds` are full.
pub fn large(seconds: u32) -> Outcome<[PathBuf; 2]> {
    let mut out = Vec::new();
    for clip in pair(60.0)? {
        let name = clip.file_stem().and_then(|n| n.to_str()).unwrap_or("clip");
        let large = Path::new(FOLDER).join(format!("{name}-large{seconds}.mp4"));
        if !large.exists() {
            eprintln!("making {} (once)", large.display());
            let picture = format!("scale=3840:2160,tpad=stop_mode=clone:stop_duration={seconds}");
            let mut ffmpeg = Command::new("ffmpeg");
            ffmpeg.args(["-v", "error", "-y", "-i"]).arg(&clip).args(["-vf", &picture, "-t"]);
            ffmpeg.arg(seconds.to_string()).args(["-c:v", "libx264", "-preset", "ultrafast", "-crf", "26"]);
            cost::of(ffmpeg.arg(&large))?;
        }
        out.push(large);
    }
    let [today, best]: [PathBuf; 2] = out.try_into().map_err(|_| "two clips are needed")?;
    Ok([today, best])
}
