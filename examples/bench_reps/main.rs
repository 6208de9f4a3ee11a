//! Finding the reps of long made-up films, against the truth: `./dev bench reps`. Films into out/reps. Seeds 1 and 2 are
//! those the finder was set on. With `cost` it measures what finding costs: a session scaled up to 1920 × 1080.

use std::error::Error;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

use swingpair::demo::{Act, SessionAct, film_session, session};
use swingpair::media::{Clip, OpenOptions};
use swingpair::reading::{ReadOptions, reps_of, track};
use swingpair::types::{Cancel, FoundReps, NoProgress};

/// A found swing this near a true contact is that one, s.
const SAME_S: f64 = 0.6;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = Path::new("out/reps");
    std::fs::create_dir_all(folder)?;
    if std::env::args().nth(1).as_deref() == Some("cost") {
        return cost(folder);
    }
    println!(
        "| session | minutes | swings | found | missed | false: waggle | bunt | quiet (walk, throw, talk) | twice | contact off, median | 90 % | worst, ms | dry swings told as met | lossless |"
    );
    println!("|---|---|---|---|---|---|---|---|---|---|---|---|---|---|");
    let mut all = Tally::default();
    for (seed, size, rate_hz) in
        [(1, (640, 360), 30.0), (2, (640, 360), 30.0), (3, (640, 360), 30.0), (4, (640, 360), 60.0)]
    {
        let film = filmed(folder, seed, size, rate_hz)?;
        let acts: Vec<SessionAct> =
            serde_json::from_slice(&std::fs::read(film.with_extension("acts.json"))?)?;
        let cut = folder.join(format!("cut{seed}"));
        let _ = std::fs::remove_dir_all(&cut);
        let found = reps_of(&film, Some(&cut), &ReadOptions::default(), &NoProgress, &Cancel::default())?;
        let one = tally(&acts, &found);
        println!("| {seed}: {}×{}, {rate_hz} fps | {} |", size.0, size.1, one.row());
        all.add(one);
    }
    println!("| all | {} |", all.row());
    Ok(())
}

#[derive(Default)]
struct Tally {
    minutes: f64,
    swings: usize,
    found: usize,
    wrong: [usize; 3],
    twice: usize,
    off_ms: Vec<f64>,
    dry_met: usize,
    dry: usize,
    lossless: usize,
    cut: usize,
}

impl Tally {
    fn add(&mut self, o: Self) {
        self.minutes += o.minutes;
        self.swings += o.swings;
        self.found += o.found;
        self.wrong.iter_mut().zip(o.wrong).for_each(|(a, b)| *a += b);
        self.twice += o.twice;
        self.off_ms.extend(o.off_ms);
        self.dry_met += o.dry_met;
        self.dry += o.dry;
        self.lossless += o.lossless;
        self.cut += o.cut;
    }

    fn row(&self) -> String {
        let mut off = self.off_ms.clone();
        off.sort_by(f64::total_cmp);
        let at =
            |q: f64| off.get(((off.len() as f64 - 1.0) * q).round() as usize).copied().unwrap_or(f64::NAN);
        let [waggle, bunt, quiet] = self.wrong;
        format!(
            "{:.1} | {} | {} | {} | {waggle} | {bunt} | {quiet} | {} | {:.0} | {:.0} | {:.0} | {} of {} | {} of {}",
            self.minutes,
            self.swings,
            self.found,
            self.swings - self.found,
            self.twice,
            at(0.5),
            at(0.9),
            at(1.0),
            self.dry_met,
            self.dry,
            self.lossless,
            self.cut
        )
    }
}

fn tally(acts: &[SessionAct], found: &FoundReps) -> Tally {
    let mut t = Tally { minutes: found.duration_s / 60.0, ..Tally::default() };
    t.swings = acts.iter().filter(|a| a.act.is_swing()).count();
    let mut taken = vec![false; acts.len()];
    for rep in &found.reps {
        t.cut += 1;
        t.lossless += usize::from(rep.lossless);
        let at = rep.contact_s.unwrap_or((rep.from_s + rep.to_s) / 2.0);
        let swing = acts.iter().position(|a| a.act.is_swing() && (a.contact_s - at).abs() < SAME_S);
        match swing {
            Some(i) if taken[i] => t.twice += 1,
            Some(i) => {
                taken[i] = true;
                t.found += 1;
                t.off_ms.push((acts[i].contact_s - at).abs() * 1000.0);
                if acts[i].act == Act::Dry {
                    t.dry += 1;
                    t.dry_met += usize::from(rep.met);
                }
            }
            None => {
                let kind = acts.iter().find(|a| (a.from_s..a.to_s).contains(&at)).map(|a| a.act);
                eprintln!("false at {at:.2} s ({kind:?}), hands {:.2}", rep.hands);
                t.wrong[match kind {
                    Some(Act::Waggles) => 0,
                    Some(Act::Bunt) => 1,
                    _ => 2,
                }] += 1;
            }
        }
    }
    for (a, taken) in acts.iter().zip(&taken) {
        if a.act.is_swing() && !taken {
            eprintln!("missed {:?} at {:.2} s, bats {:?}", a.act, a.contact_s, a.bats);
        }
    }
    if !found.dropped_s.is_empty() {
        eprintln!("dropped {:?}", found.dropped_s);
    }
    t
}

fn filmed(folder: &Path, seed: u64, size: (usize, usize), rate_hz: f64) -> Result<PathBuf, Box<dyn Error>> {
    let film = folder.join(format!("session{seed}.mp4"));
    if !film.exists() {
        let plan = session(&format!("session{seed}"), seed, 12, size, rate_hz);
        film_session(&plan, &film, &NoProgress, &Cancel::default())?;
    }
    Ok(film)
}

/// Finding and reading beside the film's length, at 1920 × 1080.
fn cost(folder: &Path) -> Result<(), Box<dyn Error>> {
    let small = filmed(folder, 3, (640, 360), 30.0)?;
    println!("| film | length, s | wall, s | of its length | CPU, s | swings |");
    println!("|---|---|---|---|---|---|");
    for (name, filter) in [("1080p30", "scale=1920:1080"), ("1080p240", "scale=1920:1080,fps=240")] {
        let large = folder.join(format!("{name}.mp4"));
        if !large.exists() {
            let mut ffmpeg = Command::new("ffmpeg");
            ffmpeg.args(["-v", "error", "-y"]).arg("-i").arg(&small);
            if name == "1080p240" {
                ffmpeg.args(["-t", "30"]);
            }
            ffmpeg.args([
                "-vf", filter, "-c:v", "libx264", "-preset", "veryfast", "-crf", "20", "-g", "60", "-c:a",
                "copy",
            ]);
            if !ffmpeg.arg(&large).status()?.success() {
                return Err("ffmpeg failed".into());
            }
        }
        let before_s = cpu_s()?;
        let began = Instant::now();
        let clip = Clip::open(&large, &OpenOptions::default())?;
        let (rough, _) = track::swings(&clip, &[], &NoProgress, &Cancel::default())?;
        let finding_s = began.elapsed().as_secs_f64();
        println!(
            "| {name}, finding alone | {:.0} | {finding_s:.0} | {:.2} | {:.0} | {} |",
            clip.facts().duration_s,
            finding_s / clip.facts().duration_s,
            cpu_s()? - before_s,
            rough.len()
        );
        let began = Instant::now();
        let cpu = cpu_s()?;
        let found = reps_of(&large, None, &ReadOptions::default(), &NoProgress, &Cancel::default())?;
        let (wall_s, cpu_s) = (began.elapsed().as_secs_f64(), cpu_s()? - cpu);
        println!(
            "| {name} | {:.0} | {wall_s:.0} | {:.2} | {cpu_s:.0} | {} |",
            found.duration_s,
            wall_s / found.duration_s,
            found.reps.len()
        );
    }
    Ok(())
}

/// What this process has used, s (Linux: hundredths of a second in /proc).
fn cpu_s() -> Result<f64, Box<dyn Error>> {
    let text = std::fs::read_to_string("/proc/self/stat")?;
    let after = text.rsplit(')').next().unwrap_or_default();
    let ticks: Vec<f64> = after.split_whitespace().skip(11).take(2).filter_map(|t| t.parse().ok()).collect();
    Ok(ticks.iter().sum::<f64>() / 100.0)
}
