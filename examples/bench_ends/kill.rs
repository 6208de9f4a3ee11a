//! Killed and stopped in the middle of making something.

use std::fs;
use std::io::{BufRead, BufReader};
use std::process::{Child, Command};
use std::thread::sleep;
use std::time::{Duration, Instant};

use super::scene::{OLDER, Scene, Template};
use super::{Outcome, Tally};

/// What is made, and how it says that it has begun.
struct Job {
    words: &'static [&'static str],
    begun: &'static str,
    targets: &'static [&'static str],
}

const PAIR: Job = Job {
    words: &[
        "pair",
        "@today.mp4",
        "@best.mp4",
        "-o",
        "@out.mp4",
        "--trace",
        "@out.jsonl",
        "--size",
        "480x852",
    ],
    begun: "making the video",
    targets: &["out.mp4", "out.jsonl"],
};
const REPORT: Job = Job {
    words: &["report", "@today.mp4", "@best.mp4", "-o", "@out.html", "--size", "256x456"],
    begun: "making the video",
    targets: &["out.html"],
};
const GHOST: Job = Job {
    words: &[
        "pair",
        "@today.mp4",
        "@best.mp4",
        "-o",
        "@out.mp4",
        "--layout",
        "ghost",
        "--size",
        "256x456",
        "--slow",
        "1",
    ],
    begun: "",
    targets: &["out.mp4"],
};
const CLIP: Job = Job {
    words: &["clip", "@today.mp4", "-o", "@out.mp4", "--size", "256x456"],
    begun: "making the video",
    targets: &["out.mp4"],
};

pub fn rows(template: &Template) -> Outcome<Vec<Tally>> {
    let mut rows = Vec::new();
    for (name, job, signal, times) in [
        ("pair, SIGKILL", &PAIR, "-KILL", 20),
        ("pair, SIGINT (Ctrl-C)", &PAIR, "-INT", 5),
        ("pair, SIGTERM", &PAIR, "-TERM", 5),
        ("pair, SIGHUP", &PAIR, "-HUP", 3),
        ("pair with a ghost, SIGKILL", &GHOST, "-KILL", 4),
        ("clip, SIGKILL", &CLIP, "-KILL", 4),
        ("report, SIGKILL", &REPORT, "-KILL", 4),
    ] {
        eprintln!("{name}");
        let whole_s = undisturbed_s(template, job)?;
        for share in [0.1, 0.5, 0.99] {
            let mut row = Tally::new(format!("{name} at {:.0} %", share * 100.0));
            for _ in 0..times {
                let scene = scene(template, job)?;
                let (child, begun) = begin(&scene, job)?;
                let wait_s = whole_s * share - begun.elapsed().as_secs_f64();
                sleep(Duration::from_secs_f64(wait_s.max(0.0)));
                end(child, signal, &mut row)?;
                scene.judge(&mut row, job.targets)?;
            }
            rows.push(row);
        }
    }
    Ok(rows)
}

fn scene<'a>(template: &'a Template, job: &Job) -> Outcome<Scene<'a>> {
    let scene = template.scene()?;
    for target in job.targets {
        fs::write(scene.path(target), OLDER)?;
    }
    Ok(scene)
}

/// Start the job and read on until it says that it has begun.
fn begin(scene: &Scene, job: &Job) -> Outcome<(Child, Instant)> {
    let mut child = scene.command(job.words).spawn()?;
    let mut talk = BufReader::new(child.stderr.take().ok_or("no talk")?);
    let mut line = String::new();
    while !line.contains(job.begun) {
        line.clear();
        if talk.read_line(&mut line)? == 0 {
            return Err(format!("it ended before {:?}", job.begun).into());
        }
    }
    let begun = Instant::now();
    // Read on aside, so that the run never waits for its talk to be heard.
    std::thread::spawn(move || std::io::copy(&mut talk, &mut std::io::sink()));
    Ok((child, begun))
}

/// The middle of three, from the beginning to the end, s.
fn undisturbed_s(template: &Template, job: &Job) -> Outcome<f64> {
    let mut times = Vec::new();
    for _ in 0..3 {
        let scene = scene(template, job)?;
        let (mut child, begun) = begin(&scene, job)?;
        if !child.wait()?.success() {
            return Err("an undisturbed run failed".into());
        }
        times.push(begun.elapsed().as_secs_f64());
    }
    times.sort_by(f64::total_cmp);
    Ok(times[1])
}

fn end(mut child: Child, signal: &str, row: &mut Tally) -> Outcome<()> {
    // A run that is over already is not there to be told.
    let sent = Command::new("kill").args([signal, &child.id().to_string()]).output()?;
    let asked = Instant::now();
    let status = child.wait()?;
    row.longest_s = row.longest_s.max(asked.elapsed().as_secs_f64());
    let meant = if signal == "-KILL" { None } else { Some(130) };
    match status.code() {
        Some(0) => (),
        code if code == meant && sent.status.success() => row.ended += 1,
        _ => row.words += 1,
    }
    if signal != "-KILL" {
        row.note = format!("over after {:.2} s at most", row.longest_s);
    }
    Ok(())
}
