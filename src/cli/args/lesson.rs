//! The words of a lesson.

use std::path::PathBuf;

use clap::Args;

use crate::cli::allow::Allow;
use crate::cli::args::ADVANCED;

#[derive(Debug, Args)]
pub struct LessonArgs {
    /// The lesson file (TOML).
    #[arg(required_unless_present = "new", conflicts_with = "new")]
    pub file: Option<PathBuf>,
    /// Draft a lesson file, FOLDER/lesson.toml, from the videos there: a folder for each hitter, with a folder for each
    /// day inside.
    #[arg(long, value_name = "FOLDER")]
    pub new: Option<PathBuf>,
    /// Make everything again, changed or not; readings of the clips are still reused.
    #[arg(long)]
    pub again: bool,
    /// Print each job as a command line instead of running it, for GNU parallel, make or a cluster; jobs can run in any
    /// order and be repeated. The name after the # is what the job makes.
    #[arg(long, conflicts_with_all = ["new", "make"], help_heading = ADVANCED)]
    pub jobs: bool,
    /// Make one file of the lesson, named as in --jobs.
    #[arg(long, value_name = "NAME", conflicts_with = "new", help_heading = ADVANCED, hide_short_help = true)]
    pub make: Option<String>,
    /// Memory for all jobs together, MB [default: half of what is free].
    #[arg(long, value_name = "MB", help_heading = ADVANCED, hide_short_help = true)]
    pub memory: Option<u64>,
    #[command(flatten)]
    pub allow: Allow,
}
