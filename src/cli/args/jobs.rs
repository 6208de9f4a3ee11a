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
    /// The video to write (.mp4); an existing file is replaced.
    #[arg(short, long, value_name = "VIDEO")]
    pub output: PathBuf,
    #[command(flatten)]
    pub showing: Showing,
    #[command(flatten)]
    pub fitting: Fitting,
    /// Show the reference as a mirror image, to compare a left-handed hitter with a right-handed one.
    #[arg(long, help_heading = LOOKS, hide_short_help = true)]
    pub mirror: bool,
    /// Print every measure of both swings, not only what changed.
    #[arg(long, help_heading = COMPARED)]
    pub all: bool,
    /// Print both swings, the time map, the registration, the differences and facts about the video as JSON.
    #[arg(long)]
    pub json: bool,
    /// Write a JSON line for each frame of the video: its time and the source frames shown.
    #[arg(long, value_name = "FILE", help_heading = ADVANCED, hide_short_help = true)]
    pub trace: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct SheetArgs {
    #[command(flatten)]
    pub swings: Swings,
    /// The sheet to write (.png or .pdf), A4 landscape; an existing file is replaced.
    #[arg(short, long, value_name = "SHEET")]
    pub output: PathBuf,
    /// Your own shot plan: its names and its top-level `draw` are used, its shots are not.
    #[arg(long, value_name = "FILE", help_heading = LOOKS)]
    pub plan: Option<PathBuf>,
    /// A file with the words to draw, such as in another language (TOML); `swingpair captions` prints the English ones.
    #[arg(long, value_name = "FILE", help_heading = LOOKS, hide_short_help = true)]
    pub captions: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub struct ReportArgs {
    #[command(flatten)]
    pub swings: Swings,
    /// The page to write (.html); an existing file is replaced. A video larger than 20 MB is written next to it, under
    /// the page's name with .mp4.
    #[arg(short, long, value_name = "PAGE")]
    pub output: PathBuf,
    #[command(flatten)]
    pub showing: Showing,
    #[command(flatten)]
    pub fitting: Fitting,
}

#[derive(Debug, Args)]
pub struct ClipArgs {
    /// The clip of the swing.
    pub rep: PathBuf,
    /// The video to write (.mp4); an existing file is replaced.
    #[arg(short, long, value_name = "VIDEO")]
    pub output: PathBuf,
    /// Label for the rep [default: Today].
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
    /// How many times slower than real time the slow part plays [default: 8].
    #[arg(long, value_name = "N", value_parser = slow, allow_negative_numbers = true)]
    pub slow: Option<f64>,
    /// Print JSON instead of TOML.
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, Args)]
pub struct ReadArgs {
    /// The clip; optional with --keypoints.
    pub clip: Option<PathBuf>,
    /// Print the reading as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub looking: ReadingArgs,
    /// Print every explanation of the movement that was considered, with its evidence; for developers.
    #[arg(long, conflicts_with = "json", help_heading = ADVANCED, hide_short_help = true)]
    pub why: bool,
}

#[derive(Debug, Args)]
pub struct MarkArgs {
    /// The clip.
    pub clip: PathBuf,
    /// Events and their times, in seconds of real time from the first frame, as in plant=1.234; plant=found removes the
    /// pin. Or your rating of the rep: good, best or neither.
    ///
    /// Points of the body and where they are in a frame, px, as in hands@1.234=512,300: head, hands, left-heel, left-toe,
    /// right-heel, right-toe (the hitter's own left and right). Facts about the hitter: height=178cm,
    /// length=X1,Y1,X2,Y2=CM (as --known-length), hitter=X,Y (as --hitter). `found` in place of the value removes any of
    /// these.
    #[arg(required = true, value_name = "MARK", value_parser = mark)]
    pub marks: Vec<Mark>,
    /// The frame rate of the recording, Hz, if the file does not give it.
    #[arg(long, value_name = "HZ", value_parser = positive, allow_negative_numbers = true, help_heading = ADVANCED)]
    pub recorded_at: Option<f64>,
    #[command(flatten)]
    pub allow: Allow,
}

#[derive(Debug, Args)]
pub struct SpreadArgs {
    /// Reps of one hitter; a folder stands for all reps in it that have been read.
    #[arg(required = true, value_name = "REP")]
    pub reps: Vec<PathBuf>,
    /// Draw the spread (.png or .pdf): the hand path of every rep, and a strip of dots for each measure.
    #[arg(short, long, value_name = "PICTURE")]
    pub output: Option<PathBuf>,
    /// Title of the drawing, such as the hitter's name and the day.
    #[arg(long, value_name = "TEXT", help_heading = LOOKS)]
    pub title: Option<String>,
    /// Print the spread as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub looking: ReadingArgs,
}

#[derive(Debug, Args)]
pub struct CheckArgs {
    /// The file to check.
    pub file: PathBuf,
    /// Also fail on what only some phones or messengers reject.
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
    /// The file to describe.
    pub file: PathBuf,
    /// The frame rate of the recording, Hz, if the file does not give it (slow motion).
    #[arg(long, value_name = "HZ", help_heading = ADVANCED)]
    pub recorded_at: Option<f64>,
    /// Print the findings as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub allow: Allow,
}

#[derive(Debug, Args)]
pub struct DemoArgs {
    /// Folder for the clips; created if needed.
    pub dir: PathBuf,
    /// Render a whole lesson instead: three hitters, two days, two angles (30 short clips).
    #[arg(long)]
    pub lesson: bool,
}
