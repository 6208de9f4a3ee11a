//! The words of each job.

use std::path::PathBuf;

use clap::Args;
use swingpair::compose::Ready;

use super::reading::{ReadingArgs, Swings};
use super::showing::{Fitting, Showing, Shown};
use super::values::*;
use crate::cli::allow::Allow;
use crate::cli::args::{ADVANCED, COMPARED, LOOKS};

#[derive(Debug, Args)]
pub struct PairArgs {
    #[command(flatten)]
    pub swings: Swings,
    /// The clip to write (.mp4); one of that name is replaced.
    #[arg(short, long, value_name = "CLIP")]
    pub output: PathBuf,
    #[command(flatten)]
    pub showing: Showing,
    #[command(flatten)]
    pub fitting: Fitting,
    /// Show the reference as its mirror image: a hitter who bats left beside one who bats right.
    #[arg(long, help_heading = LOOKS, hide_short_help = true)]
    pub mirror: bool,
    /// Print every measure of both swings, not only what changed.
    #[arg(long, help_heading = COMPARED)]
    pub all: bool,
    /// Print both swings' events, the time map, the registration and the written file's facts as JSON.
    #[arg(long)]
    pub json: bool,
    /// Write one JSON line for each picture of the made clip: its time and the source pictures shown.
    #[arg(long, value_name = "FILE", help_heading = ADVANCED, hide_short_help = true)]
    pub trace: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct SheetArgs {
    #[command(flatten)]
    pub swings: Swings,
    /// The sheet to write (.png or .pdf), A4 lying; one of that name is replaced.
    #[arg(short, long, value_name = "SHEET")]
    pub output: PathBuf,
    /// A shot plan of your own: its names and its common `draw` are taken, its shots are not.
    #[arg(long, value_name = "FILE", help_heading = LOOKS)]
    pub plan: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct ReportArgs {
    #[command(flatten)]
    pub swings: Swings,
    /// The page to write (.html); one of that name is replaced. A clip of more than 20 MB lies beside it, as the
    /// page's name with .mp4.
    #[arg(short, long, value_name = "PAGE")]
    pub output: PathBuf,
    #[command(flatten)]
    pub showing: Showing,
    #[command(flatten)]
    pub fitting: Fitting,
}

#[derive(Debug, Args)]
pub struct ClipArgs {
    /// The video.
    pub rep: PathBuf,
    /// The clip to write (.mp4); one of that name is replaced.
    #[arg(short, long, value_name = "CLIP")]
    pub output: PathBuf,
    /// How the rep is named [default: Today].
    #[arg(long, value_name = "NAME", help_heading = LOOKS)]
    pub label: Option<String>,
    #[command(flatten)]
    pub shown: Shown,
    #[command(flatten)]
    pub fitting: Fitting,
    #[command(flatten)]
    pub looking: ReadingArgs,
}

#[derive(Debug, Args)]
pub struct PlanArgs {
    /// quick (at most 8 s), teach, before-after or one-rep.
    #[arg(default_value = "teach", value_parser = ready_from_word)]
    pub name: Ready,
    /// How many times slower than life its slow part plays [default: 8].
    #[arg(long, value_name = "N", value_parser = slow, allow_negative_numbers = true)]
    pub slow: Option<f64>,
    /// As JSON instead of TOML.
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct ReadArgs {
    /// The video; may be left out where --keypoints is given.
    pub clip: Option<PathBuf>,
    /// Print the reading as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub looking: ReadingArgs,
    /// Print every way in which the movement was explained, with what spoke for each: for work on this program.
    #[arg(long, conflicts_with = "json", help_heading = ADVANCED, hide_short_help = true)]
    pub why: bool,
}

#[derive(Debug, Args)]
pub struct MarkArgs {
    /// The video.
    pub clip: PathBuf,
    /// Events and their times, s of real time from the first picture: plant=1.234, or plant=found to take it back; or what
    /// you think of the rep: good, best, or neither. EVENT=found takes a pin back.
    #[arg(required = true, value_name = "MARK", value_parser = mark)]
    pub marks: Vec<Mark>,
    /// The rate the camera filmed at, Hz, where the file does not say it.
    #[arg(long, value_name = "HZ", value_parser = positive, allow_negative_numbers = true, help_heading = ADVANCED)]
    pub recorded_at: Option<f64>,
    #[command(flatten)]
    pub allow: Allow,
}

#[derive(Debug, Args)]
pub struct SpreadArgs {
    /// Reps of one hitter; a folder stands for all its reps that have been read.
    #[arg(required = true, value_name = "REP")]
    pub reps: Vec<PathBuf>,
    /// Draw it (.png or .pdf): every rep's way of the hands, and a strip of dots for each measure.
    #[arg(short, long, value_name = "PICTURE")]
    pub output: Option<PathBuf>,
    /// What stands over the picture, as the hitter's name and the day.
    #[arg(long, value_name = "TEXT", help_heading = LOOKS)]
    pub title: Option<String>,
    /// Print it as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub looking: ReadingArgs,
}

#[derive(Debug, Args)]
pub struct CheckArgs {
    /// The file to be sent.
    pub file: PathBuf,
    /// Count what only some phones or messengers refuse as well.
    #[arg(long)]
    pub strict: bool,
    /// Print the facts and findings as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub allow: Allow,
}

#[derive(Debug, Args)]
pub struct ProbeArgs {
    /// The file to look at.
    pub file: PathBuf,
    /// The rate the camera filmed at, Hz, where the file does not say it (slow motion).
    #[arg(long, value_name = "HZ", help_heading = ADVANCED)]
    pub recorded_at: Option<f64>,
    /// Print what was found as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub allow: Allow,
}

#[derive(Debug, Args)]
pub struct DemoArgs {
    /// Where the clips go; made when it is not there.
    pub dir: PathBuf,
    /// Film a whole lesson instead: three hitters, two days, two angles (30 short films).
    #[arg(long)]
    pub lesson: bool,
}
