//! How well swings are read: recorded ones and made-up ones as points and as films, and ones marked by hand.
//! `./dev bench accuracy [--points] [--films N] [--recorded N] [--pairs N] [--seed N] [--kept] [--each]`
//!
//! Two shares are told apart everywhere: "set" is what constants may be set on, "report" is what is claimed. With
//! `--points` no film is made: seconds, for work on `swing`. Films are kept in out/accuracy and filmed anew only when
//! their scenario changed; with `--kept` the points seen before are taken from the sidecars. `--each` adds a line a
//! reading. The tables go to stdout; `./dev bench accuracy --write` puts them into docs/bench/accuracy.md.

mod cases;
mod film_tables;
mod films;
mod labelled;
mod no_swing;
mod points;
mod possible;
mod rows;
mod tables;

use std::error::Error;
use std::fmt::Write;
use std::path::Path;

use swingpair::demo::scenarios;

use cases::SWINGS;
use rows::{Case, Row, Share};

const FOLDER: &str = "out/accuracy";
/// Made-up swings read as points.
const MADE_UP_POINTS: usize = 192;

struct Options {
    seed: u64,
    films: usize,
    recorded: usize,
    pairs: usize,
    points: bool,
    kept: bool,
    each: bool,
}

fn main() -> Result<(), Box<dyn Error>> {
    let options = options()?;
    let mut out = String::new();
    points(&options, &mut out)?;
    if !options.points {
        films(&options, &mut out)?;
    }
    print!("{out}");
    Ok(())
}

fn options() -> Result<Options, String> {
    let mut options =
        Options { seed: 1, films: 64, recorded: 12, pairs: 6, points: false, kept: false, each: false };
    let mut args = std::env::args().skip(1);
    while let Some(arg) = args.next() {
        let mut number = || {
            let value = args.next().and_then(|v| v.parse::<u64>().ok());
            value.ok_or_else(|| format!("{arg} needs a number"))
        };
        match arg.as_str() {
            "--seed" => options.seed = number()?,
            "--films" => options.films = number()? as usize,
            "--recorded" => options.recorded = number()? as usize,
            "--pairs" => options.pairs = number()? as usize,
            "--points" => options.points = true,
            "--kept" => options.kept = true,
            "--each" => options.each = true,
            _ => {
                return Err(format!(
                    "{arg}: unknown; --points --films N --recorded N --pairs N --seed N --kept --each"
                ));
            }
        }
    }
    Ok(options)
}

fn points(options: &Options, out: &mut String) -> Result<(), Box<dyn Error>> {
    match cases::recordings()? {
        None => skipped(out, "recorded swings as points"),
        Some(recordings) => {
            for (heard, title) in [(false, "without sound"), (true, "with sound")] {
                let cases = cases::recorded_points(&recordings, options.seed, heard);
                let rows: Vec<Row> = cases.into_iter().map(points::read).collect();
                let _ = writeln!(out, "## Recorded swings as points, {title}\n");
                group(options, out, &rows);
            }
        }
    }
    match labelled::read_all()? {
        None => skipped(out, "swings marked by hand"),
        Some(all) => {
            let _ = writeln!(out, "## Swings marked by hand\n");
            if options.each {
                eprint!("{}", tables::each_labelled(&all));
            }
            tables::labelled(out, &all);
        }
    }
    let _ = writeln!(out, "## Clips without a swing as points\n");
    no_swing::table(out, &no_swing::read_all(options.seed));
    let cases = cases::made_up_points(options.seed, MADE_UP_POINTS);
    let rows: Vec<Row> = cases.into_iter().map(points::read).collect();
    let _ = writeln!(out, "## Made-up swings as points, without sound\n");
    group(options, out, &rows);
    Ok(())
}

fn films(options: &Options, out: &mut String) -> Result<(), Box<dyn Error>> {
    std::fs::create_dir_all(FOLDER)?;
    let read = |cases: Vec<Case>| -> Result<Vec<Row>, Box<dyn Error>> {
        cases.into_iter().map(|c| films::row(c, Path::new(FOLDER), options.kept)).collect()
    };
    match cases::recordings()? {
        None => skipped(out, "films of recorded swings"),
        Some(recordings) => {
            let rows = read(cases::recorded_films(&recordings, options.seed, options.recorded))?;
            let _ = writeln!(out, "## Films of recorded swings\n");
            group(options, out, &rows);
            film_tables::points(out, &rows);
        }
    }
    let rows = read(cases::made_up_films(options.seed, options.films))?;
    let _ = writeln!(out, "## Films of made-up swings\n");
    group(options, out, &rows);
    film_tables::points(out, &rows);
    let mut pairs = Vec::new();
    for (still, shaking) in scenarios::still_and_shaking(options.seed, options.pairs) {
        let row =
            |scenario| films::row(Case { share: Share::Set, scenario }, Path::new(FOLDER), options.kept);
        pairs.push((row(still)?, row(shaking)?));
    }
    if !pairs.is_empty() {
        film_tables::head_on_a_shaking_camera(out, &pairs);
    }
    Ok(())
}

fn group(options: &Options, out: &mut String, rows: &[Row]) {
    if options.each {
        eprint!("{}", tables::each(rows));
    }
    tables::outcomes(out, rows);
    tables::events(out, rows);
    tables::measures(out, rows);
}

fn skipped(out: &mut String, what: &str) {
    let line = format!("SKIPPED {what}: there is no {SWINGS}.\n");
    eprint!("{line}");
    let _ = writeln!(out, "{line}");
}
