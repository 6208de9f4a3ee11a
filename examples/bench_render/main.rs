//! What making a clip costs beside the bare job of the ffmpeg command line: docs/bench/render.md.
//! `./dev bench render [--rounds N] [--only NAME]`
//!
//! Both sides run as programs of their own, in turn, on the same clips with the same encoder settings; each row
//! is the median of the rounds' ratios. The films are made once, into out/render.

mod bare;
mod cost;
mod films;
mod ours;

use std::error::Error;
use std::path::Path;

use cost::Cost;

pub const FOLDER: &str = "out/render";
type Outcome<T> = Result<T, Box<dyn Error>>;

struct Options {
    rounds: usize,
    only: Option<String>,
}

/// One line of the table: two programs doing the same.
struct Row {
    name: &'static str,
    ours: Vec<Cost>,
    bare: Vec<Cost>,
}

fn main() -> Outcome<()> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    // This program calls itself, so that what is measured stands alone.
    if let [word, job, rest @ ..] = args.as_slice()
        && word == "ours"
    {
        return ours::run(job, rest);
    }
    let options = options(args)?;
    std::fs::create_dir_all(FOLDER)?;
    let wanted = |name: &str| options.only.as_deref().is_none_or(|only| only == name);
    let mut failed = Vec::new();
    head();
    let rounds = options.rounds;
    for (name, job) in [("side-by-side", bare::Job::HStack), ("ghost", bare::Job::Blend)] {
        if wanted(name) {
            tell(name, full_speed(name, &job, rounds), &mut failed);
        }
    }
    if wanted("teach") {
        tell("teach", teach(rounds), &mut failed);
    }
    if wanted("read") {
        tell("read", reading(rounds), &mut failed);
    }
    if wanted("memory")
        && let Err(why) = memory()
    {
        eprintln!("memory: {why}");
        failed.push("memory");
    }
    if failed.is_empty() { Ok(()) } else { Err(format!("not measured: {}", failed.join(", ")).into()) }
}

/// A row as soon as it is measured; one that fails takes no other with it.
fn tell(name: &'static str, row: Outcome<Row>, failed: &mut Vec<&'static str>) {
    match row {
        Ok(row) => line(&row),
        Err(why) => {
            eprintln!("{name}: {why}");
            failed.push(name);
        }
    }
}

fn full_speed(name: &'static str, job: &bare::Job, rounds: usize) -> Outcome<Row> {
    let clips = films::pair(60.0)?;
    let facts = ours::facts(name, &clips)?;
    let made = clip_of(name);
    in_turn(name, rounds, || ours::cost(name, &clips, &made), || bare::two(job, &clips, &facts))
}

fn teach(rounds: usize) -> Outcome<Row> {
    let clips = films::pair(240.0)?;
    let made = clip_of("teach");
    ours::cost("teach", &clips, &made)?;
    let raw = bare::raw_of(&made)?;
    let row = in_turn("teach", rounds, || ours::cost("teach", &clips, &made), || bare::encode(&raw));
    std::fs::remove_file(&raw.path)?;
    row
}

fn reading(rounds: usize) -> Outcome<Row> {
    bare::check_python()?;
    let [clip, _] = films::pair(240.0)?;
    in_turn("read", rounds, || ours::read_cost(&clip), || bare::net_everywhere(&clip))
}

fn options(args: Vec<String>) -> Outcome<Options> {
    let mut options = Options { rounds: 5, only: None };
    let mut args = args.into_iter();
    while let Some(arg) = args.next() {
        match (arg.as_str(), args.next()) {
            ("--rounds", Some(n)) => options.rounds = n.parse()?,
            ("--only", Some(name)) => options.only = Some(name),
            _ => {
                return Err(format!(
                    "{arg}: unknown; --rounds N --only side-by-side|ghost|teach|read|memory"
                )
                .into());
            }
        }
    }
    Ok(options)
}

fn clip_of(name: &str) -> std::path::PathBuf {
    Path::new(FOLDER).join(format!("{name}.made.mp4"))
}

fn in_turn(
    name: &'static str,
    rounds: usize,
    ours: impl Fn() -> Outcome<Cost>,
    bare: impl Fn() -> Outcome<Cost>,
) -> Outcome<Row> {
    let mut row = Row { name, ours: Vec::new(), bare: Vec::new() };
    for round in 0..rounds {
        row.ours.push(ours()?);
        row.bare.push(bare()?);
        eprintln!("{name}: round {} of {rounds}", round + 1);
    }
    Ok(row)
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(f64::NAN)
}

fn head() {
    println!("| work | CPU, ours / bare, s | ratio | wall, ours / bare, s | ratio | peak, ours / bare, MB |");
    println!("|---|---|---|---|---|---|");
}

fn line(row: &Row) {
    let of = |costs: &[Cost], pick: &dyn Fn(&Cost) -> f64| median(costs.iter().map(pick).collect());
    let ratio = |pick: &dyn Fn(&Cost) -> f64| {
        median(row.ours.iter().zip(&row.bare).map(|(o, b)| pick(o) / pick(b)).collect())
    };
    let both =
        |pick: &dyn Fn(&Cost) -> f64| format!("{:.2} / {:.2}", of(&row.ours, pick), of(&row.bare, pick));
    let (cpu, wall, peak) = (|c: &Cost| c.cpu_s, |c: &Cost| c.wall_s, |c: &Cost| c.peak_mb);
    println!(
        "| {} | {} | {:.2} | {} | {:.2} | {:.0} / {:.0} |",
        row.name,
        both(&cpu),
        ratio(&cpu),
        both(&wall),
        ratio(&wall),
        of(&row.ours, &peak),
        of(&row.bare, &peak)
    );
}

/// Peak memory over the clip's length.
fn memory() -> Outcome<()> {
    println!("\n| 3840 × 2160, 60 a second | reading, MB | making the clip, MB |");
    println!("|---|---|---|");
    for seconds in [20, 60] {
        let clips = films::large(seconds)?;
        let read = ours::read_cost(&clips[0])?;
        ours::read_cost(&clips[1])?;
        let made = ours::cost("side-by-side", &clips, &clip_of("large"))?;
        println!("| {seconds} s | {:.0} | {:.0} |", read.peak_mb, made.peak_mb);
    }
    Ok(())
}
