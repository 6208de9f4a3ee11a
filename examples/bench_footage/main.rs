//! Every kind of footage, made and real: what was put in, what ffprobe says, what the program reads. The table is
//! docs/bench/footage.md: `./dev bench footage [--only WORD]`; the files stay in out/footage to be looked at.
//!
//! A made file shows its pictures' own numbers and eight patches of known colour (card.rs), so that it is seen whether
//! each picture is the right one, the right way up, at the time ffprobe tells, in the right colours.

mod card;
mod colour;
mod make;
mod rows;
mod see;

use std::error::Error;
use std::path::{Path, PathBuf};

use card::Kind;
use rows::{Expect, Row, Wanted};
use see::{Read, Seen, Theirs};

pub const FOLDER: &str = "out/footage";
type Outcome<T> = Result<T, Box<dyn Error>>;

fn main() -> Outcome<()> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let only = match args.as_slice() {
        [word, rest @ ..] if word == "see" => return see::child(rest),
        [] => String::new(),
        [flag, word] if flag == "--only" => word.clone(),
        _ => return Err("usage: ./dev bench footage [--only WORD of the first column]".into()),
    };
    std::fs::create_dir_all(FOLDER)?;
    println!(
        "| put in | ffprobe says | read: pictures | size | rate (filmed at) | middle picture | patches off by | peak, MB | |"
    );
    println!("|---|---|---|---|---|---|---|---|---|");
    let mut failed = 0;
    for row in rows::all().into_iter().filter(|r| r.name.contains(&only)) {
        let path = Path::new(FOLDER).join(&row.file);
        (row.make)(&path)?;
        let (seen, theirs) = (see::see(&path, row.recorded_at_hz)?, see::ffprobe(&path)?);
        failed += usize::from(!made(&row, &seen, &theirs));
    }
    for path in real()?.into_iter().filter(|p| p.to_string_lossy().contains(&only)) {
        let (seen, theirs) = (see::see(&path, None)?, see::ffprobe(&path)?);
        let wrong = match &seen.read {
            Ok(read) => whole(read).into_iter().chain(times_off(read, &theirs)).collect(),
            Err(why) => vec![why.clone()],
        };
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        failed += usize::from(!line(&name, &seen, &theirs, None, &wrong));
    }
    if failed > 0 { Err(format!("{failed} rows failed").into()) } else { Ok(()) }
}

/// Real files beside the project.
fn real() -> Outcome<Vec<PathBuf>> {
    let folder = std::env::var_os("SWINGPAIR_FOOTAGE")
        .map_or_else(|| PathBuf::from("../shared/footage"), PathBuf::from);
    if !folder.is_dir() {
        eprintln!("SKIPPED: real files: no folder {}", folder.display());
        return Ok(Vec::new());
    }
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)?.filter_map(|e| Some(e.ok()?.path())).collect();
    files.retain(|p| p.extension().is_some_and(|e| !e.eq_ignore_ascii_case("md")));
    files.sort();
    Ok(files)
}

fn made(row: &Row, seen: &Seen, theirs: &Theirs) -> bool {
    let (mut wrong, mut off) = (Vec::new(), None);
    match (&row.expect, &seen.read) {
        (Expect::Refused(word), Err(said)) if said.contains(word) => (),
        (Expect::Refused(word), Err(said)) => wrong.push(format!("“{word}” is not in “{said}”")),
        (Expect::Refused(_), Ok(_)) => wrong.push("was not refused".to_owned()),
        (Expect::Read(_), Err(said)) => wrong.push(said.clone()),
        (Expect::Read(wanted), Ok(read)) => {
            let worst = patches_off(wanted.kind, read);
            wrong = faults(wanted, read, theirs, worst);
            off = Some((wanted.kind, worst));
        }
    }
    line(&row.name, seen, theirs, off, &wrong)
}

fn faults(wanted: &Wanted, read: &Read, theirs: &Theirs, patches_off: f64) -> Vec<String> {
    let mut wrong = Vec::new();
    let near = |a: f64, b: f64| (a / b - 1.0).abs() < 5e-3;
    if read.size != wanted.size {
        wrong.push(format!("size should be {:?}", wanted.size));
    }
    if !near(read.rate_hz, wanted.rate_hz) || !near(read.capture_rate_hz, wanted.capture_rate_hz) {
        wrong.push(format!("rate should be {:.2} ({:.2})", wanted.rate_hz, wanted.capture_rate_hz));
    }
    if !(wanted.got.0..=wanted.got.1).contains(&read.got) {
        wrong.push(format!("{:?} pictures should be got", wanted.got));
    }
    if let Some(numbers) = &wanted.numbers {
        let first = numbers.iter().zip(&read.numbers).position(|(a, b)| a != b);
        if let Some(at) = first {
            wrong.push(format!("picture {at} shows {} instead of {}", read.numbers[at], numbers[at]));
        }
        wrong.extend(whole(read));
    }
    if wanted.bars {
        let off =
            read.bars_px.iter().enumerate().filter_map(|(n, got)| Some((got - card::bar_wanted(n)?).abs()));
        let worst = off.fold(0.0, |most: f64, off| if off > most || off.is_nan() { off } else { most });
        if worst.is_nan() || worst > 3.0 {
            wrong.push(format!("the bar, which goes 8 px a picture, is off by up to {worst:.1} px"));
        }
        wrong.extend(whole(read));
    }
    if patches_off.is_nan() || patches_off > wanted.patches_within {
        wrong.push(format!("patches may be off by {}", wanted.patches_within));
    }
    if wanted.as_ffprobe {
        wrong.extend(times_off(read, theirs));
    }
    if let Some(code) = wanted.says
        && !read.warnings.iter().any(|w| w == code)
    {
        wrong.push(format!("{code} is not among the warnings {:?}", read.warnings));
    }
    wrong
}

fn whole(read: &Read) -> Option<String> {
    (read.got != read.pictures).then(|| format!("{} of {} pictures", read.got, read.pictures))
}

/// ffprobe prints microseconds.
fn times_off(read: &Read, theirs: &Theirs) -> Option<String> {
    if read.times_s.len() != theirs.times_s.len() {
        return Some(format!("ffprobe shows {} pictures", theirs.times_s.len()));
    }
    let worst = read.times_s.iter().zip(&theirs.times_s).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    (worst > 2.5e-6).then(|| format!("times differ from ffprobe's by {worst:.6} s"))
}

/// The worst patch: codes for ordinary range, ΔE*ab for what was folded into it.
fn patches_off(kind: Kind, read: &Read) -> f64 {
    let pairs = read.patches.iter().zip(kind.signals());
    let off = pairs.map(|(got, signal)| {
        let wanted = colour::wanted(kind, signal);
        match kind {
            Kind::Sdr => got.iter().zip(wanted).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max),
            _ => colour::delta_e(*got, wanted),
        }
    });
    off.fold(0.0, f64::max)
}

fn line(name: &str, seen: &Seen, theirs: &Theirs, off: Option<(Kind, f64)>, wrong: &[String]) -> bool {
    let verdict =
        if wrong.is_empty() { "pass".to_owned() } else { format!("**fail**: {}", wrong.join("; ")) };
    let theirs = format!("{}, {} pictures", theirs.words, theirs.times_s.len());
    let peak = seen.peak_mb;
    match &seen.read {
        Ok(r) => {
            let off = match off {
                Some((Kind::Sdr, codes)) => format!("{codes:.1} codes"),
                Some((_, delta_e)) => format!("ΔE {delta_e:.1}"),
                None => String::new(),
            };
            let count =
                if r.got == r.pictures { r.got.to_string() } else { format!("{} of {}", r.got, r.pictures) };
            let filmed = (r.capture_rate_hz / r.rate_hz - 1.0).abs() > 0.01;
            let filmed = if filmed { format!(" ({:.0})", r.capture_rate_hz) } else { String::new() };
            println!(
                "| {name} | {theirs} | {count} | {}×{} | {:.2}{filmed} | {} | {off} | {peak:.0} | {verdict} |",
                r.size.0, r.size.1, r.rate_hz, r.hash
            );
        }
        Err(said) => {
            let said = said.split(": ").skip(1).collect::<Vec<_>>().join(": ");
            println!("| {name} | {theirs} | refused: {said} | | | | | {peak:.0} | {verdict} |");
        }
    }
    wrong.is_empty()
}
