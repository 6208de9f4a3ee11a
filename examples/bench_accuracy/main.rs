//! Events, measures and points of a matrix of made-up films against their exact truth: the tables of
//! DEVELOPERS.md. `./dev bench accuracy [--seed N] [--clips N] [--kept] [--each]`
//!
//! Films are kept in out/accuracy and filmed anew only when their scenario changed. With `--kept` the points seen
//! before are taken from the sidecars: for work on `swing`. `--each` adds a line a clip. `--tsv FILE` writes every
//! error as a line, for other tools.

mod tables;

use std::error::Error;
use std::path::{Path, PathBuf};

use swingpair::demo::{Scenario, Truth, film, scenarios, truth_path};
use swingpair::ground::{Cancel, EventId, NoProgress, Part, Pose, Reading};
use swingpair::reading::{ReadOptions, read};

const FOLDER: &str = "out/accuracy";
/// The head this far from the truth's, in body heights (median over the swing), is another person's.
const OTHER_PERSON: f64 = 0.15;
/// Contact this far from the truth's is another swing of the same clip, s.
const OTHER_SWING_S: f64 = 0.8;

pub struct Row {
    pub scenario: Scenario,
    pub truth: Truth,
    pub outcome: Outcome,
}

pub enum Outcome {
    Read(Box<Reading>),
    OtherPerson,
    OtherSwing,
    NotFound(String),
}

struct Options {
    seed: u64,
    clips: usize,
    pairs: usize,
    kept: bool,
    each: bool,
    tsv: Option<PathBuf>,
}

fn main() -> Result<(), Box<dyn Error>> {
    let options = options()?;
    std::fs::create_dir_all(FOLDER)?;
    let rows: Vec<Row> = scenarios::matrix(options.seed, options.clips)
        .into_iter()
        .map(|s| row(s, options.kept))
        .collect::<Result<_, _>>()?;
    if options.each {
        tables::each(&rows);
    }
    tables::outcomes(&rows);
    tables::events(&rows);
    tables::measures(&rows);
    tables::points(&rows);
    let mut pairs = Vec::new();
    for (still, shaking) in scenarios::still_and_shaking(options.seed, options.pairs) {
        pairs.push((row(still, options.kept)?, row(shaking, options.kept)?));
    }
    tables::head_on_a_shaking_camera(&pairs);
    if let Some(path) = options.tsv {
        std::fs::write(path, tables::tsv(&rows))?;
    }
    Ok(())
}

fn options() -> Result<Options, String> {
    let mut options = Options { seed: 1, clips: 64, pairs: 6, kept: false, each: false, tsv: None };
    let mut args = std::env::args().skip(1);
    while let Some(arg) = args.next() {
        let mut number = || {
            let value = args.next().and_then(|v| v.parse::<u64>().ok());
            value.ok_or_else(|| format!("{arg} needs a number"))
        };
        match arg.as_str() {
            "--seed" => options.seed = number()?,
            "--clips" => options.clips = number()? as usize,
            "--pairs" => options.pairs = number()? as usize,
            "--kept" => options.kept = true,
            "--each" => options.each = true,
            "--tsv" => options.tsv = Some(args.next().ok_or("--tsv needs a file")?.into()),
            _ => {
                return Err(format!("{arg}: unknown; --seed N --clips N --pairs N --kept --each --tsv FILE"));
            }
        }
    }
    Ok(options)
}

fn row(scenario: Scenario, kept: bool) -> Result<Row, Box<dyn Error>> {
    let clip = Path::new(FOLDER).join(&scenario.name).with_extension("mp4");
    let truth = filmed(&scenario, &clip)?;
    let options =
        ReadOptions { height_cm: Some(scenario.hitter.height_cm), fresh: !kept, ..ReadOptions::default() };
    let outcome = match read(&clip, &options, &NoProgress, &Cancel::default()) {
        Ok(read) => judged(&truth, read.reading),
        Err(e) => Outcome::NotFound(e.to_string()),
    };
    eprintln!("{}", scenario.name);
    Ok(Row { scenario, truth, outcome })
}

/// The film's truth; filmed only when what lies there is not this scenario's.
fn filmed(scenario: &Scenario, clip: &Path) -> Result<Truth, Box<dyn Error>> {
    // The scenario itself is kept beside the film: what is seen may change while the truth does not.
    let planned = clip.with_extension("scenario.json");
    let plan = serde_json::to_vec(scenario)?;
    if clip.exists() && truth_path(clip).exists() && std::fs::read(&planned).ok().as_deref() == Some(&plan) {
        return Ok(Truth::of(scenario));
    }
    let truth = film(scenario, clip, &NoProgress, &Cancel::default())?;
    std::fs::write(planned, plan)?;
    Ok(truth)
}

fn judged(truth: &Truth, reading: Reading) -> Outcome {
    let exact = truth.track();
    let head = |p: &Pose| Some(p.at(Part::LeftEar)?.midpoint(p.at(Part::RightEar)?));
    let mut apart: Vec<f64> = reading
        .track
        .poses
        .iter()
        .filter_map(|p| Some(head(p)?.distance(head(exact.nearest(p.time_s)?)?) / truth.body_height_px))
        .collect();
    apart.sort_by(f64::total_cmp);
    if apart.get(apart.len() / 2).is_none_or(|d| *d > OTHER_PERSON) {
        return Outcome::OtherPerson;
    }
    match (reading.events.get(&EventId::Contact), truth.at(EventId::Contact)) {
        (Some(read), Some(true_s)) if (read.time_s - true_s).abs() > OTHER_SWING_S => Outcome::OtherSwing,
        _ => Outcome::Read(Box::new(reading)),
    }
}
