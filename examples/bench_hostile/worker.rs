//! The process that reads a broken file, and what is seen of it from outside.

use std::io::Read;
use std::path::Path;
use std::process::{Command, ExitCode, Stdio};
use std::time::{Duration, Instant};

use swingpair::media::{Clip, OpenOptions, probe};
use swingpair::types::Result as Done;

use super::texts::{Corpus, Kind};
use super::{FOLDER, Outcome};

/// Address space of a worker, bytes; a file that wants more is seen as one that crashes.
const MOST_MEMORY: u64 = 2_000_000_000;
/// A worker still running after this hangs, s.
const MOST_S: f64 = 30.0;

const REFUSED: u8 = 3;

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ending {
    Read,
    Refused,
    Crashed,
    Hung,
}

pub struct Run {
    pub ending: Ending,
    pub peak_mb: f64,
    pub took_s: f64,
    pub said: String,
}

/// What a run over small files came to.
pub struct Told {
    pub taken: usize,
    pub refused: usize,
    pub crashed: usize,
    pub peak_mb: f64,
    pub took_s: f64,
}

/// Let a worker read `path`.
pub fn read(path: &Path) -> Outcome<Run> {
    let path = path.to_str().ok_or("a path that is no text")?;
    watch(&["clip", path], MOST_S)
}

/// Let workers try `count` broken small files; one that crashes is counted and the rest is done by another.
pub fn texts(kind: Kind, seed: u64, count: usize) -> Outcome<Told> {
    let mut reported = Told { taken: 0, refused: 0, crashed: 0, peak_mb: 0.0, took_s: 0.0 };
    let mut from = 0;
    while from < count {
        let numbers = [seed.to_string(), from.to_string(), count.to_string()];
        let run = watch(&["texts", kind.word(), &numbers[0], &numbers[1], &numbers[2]], 1800.0)?;
        let answers: Vec<&str> = run.said.lines().filter(|l| ["taken", "refused"].contains(l)).collect();
        reported.taken += answers.iter().filter(|a| **a == "taken").count();
        reported.refused += answers.iter().filter(|a| **a == "refused").count();
        reported.peak_mb = reported.peak_mb.max(run.peak_mb);
        reported.took_s += run.took_s;
        from += answers.len();
        if run.ending != Ending::Read {
            let last = run.said.lines().rfind(|l| l.contains("panicked") || l.contains("alloc"));
            eprintln!("{} {seed} {from}: {:?} {}", kind.word(), run.ending, last.unwrap_or_default());
            reported.crashed += 1;
            from += 1;
        }
    }
    Ok(reported)
}

/// Run this program as a worker and see how it ends.
fn watch(words: &[&str], most_s: f64) -> Outcome<Run> {
    let began = Instant::now();
    let mut child = Command::new("prlimit")
        .arg(format!("--as={MOST_MEMORY}"))
        .arg("--core=0")
        .arg(std::env::current_exe()?)
        .arg("worker")
        .args(words)
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()?;
    let streams = (child.stdout.take(), child.stderr.take());
    // Read beside, so that a worker with much to say is not held up.
    let reader = std::thread::spawn(move || {
        let mut said = String::new();
        if let (Some(mut out), Some(mut err)) = streams {
            let _ = out.read_to_string(&mut said);
            let _ = err.read_to_string(&mut said);
        }
        said
    });
    let status = format!("/proc/{}/status", child.id());
    let mut peak_kb = 0.0f64;
    let ended = loop {
        if let Some(ended) = child.try_wait()? {
            break Some(ended);
        }
        if let Ok(text) = std::fs::read_to_string(&status) {
            peak_kb = peak_kb.max(high_water_kb(&text));
        }
        if began.elapsed().as_secs_f64() > most_s {
            child.kill()?;
            child.wait()?;
            break None;
        }
        std::thread::sleep(Duration::from_millis(3));
    };
    let took_s = began.elapsed().as_secs_f64();
    let said = reader.join().unwrap_or_default();
    // A worker that ends by itself tells its own high-water mark, which no look from outside can miss.
    peak_kb = peak_kb.max(high_water_kb(&said));
    let ending = match ended.map(|e| e.code()) {
        None => Ending::Hung,
        Some(Some(0)) => Ending::Read,
        Some(Some(code)) if code == i32::from(REFUSED) => Ending::Refused,
        Some(_) => Ending::Crashed,
    };
    Ok(Run { ending, peak_mb: peak_kb * 1024.0 / 1e6, took_s, said })
}

/// The most memory ever held, as proc(5) tells it.
fn high_water_kb(status: &str) -> f64 {
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"));
    line.and_then(|l| l.trim().split(' ').next()?.parse().ok()).unwrap_or(0.0)
}

/// In the worker.
pub fn work(words: &[String]) -> ExitCode {
    let code = match words {
        [job, path] if job == "clip" => match clip(Path::new(path)) {
            Ok(_) => ExitCode::SUCCESS,
            Err(e) => {
                println!("{e}");
                ExitCode::from(REFUSED)
            }
        },
        [job, kind, seed, from, to] if job == "texts" => {
            let folder = Path::new(FOLDER).join("texts");
            let numbers = [seed, from, to].map(|n| n.parse::<u64>().unwrap_or(0));
            let Some(kind) = Kind::ALL.into_iter().find(|k| k.word() == kind) else {
                return ExitCode::FAILURE;
            };
            if std::fs::create_dir_all(&folder).is_err() {
                return ExitCode::FAILURE;
            }
            let corpus = Corpus::new(&folder);
            for n in numbers[1]..numbers[2] {
                let taken = corpus.try_one(kind, numbers[0].wrapping_mul(1_000_003).wrapping_add(n));
                println!("{}", if taken { "taken" } else { "refused" });
            }
            ExitCode::SUCCESS
        }
        _ => ExitCode::FAILURE,
    };
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    println!("{}", status.lines().find(|l| l.starts_with("VmHWM")).unwrap_or_default());
    code
}

/// Everything that is done with a clip's file: pictures read, or why not.
fn clip(path: &Path) -> Done<usize> {
    let options = OpenOptions::default();
    let _ = probe(path, &options);
    let clip = Clip::open(path, &options)?;
    let mut frames = clip.frames(0, None)?;
    let mut count = 0;
    while frames.next_frame()?.is_some() {
        count += 1;
    }
    let mut frames = clip.frames(clip.facts().frames / 2, Some((64, 64)))?;
    // What is cut off may lie in the second half; that the first was read counts.
    while let Ok(Some(_)) = frames.next_frame() {}
    let _ = clip.sound(16_000);
    Ok(count)
}
