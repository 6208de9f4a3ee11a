//! The words of a lesson.

use std::path::PathBuf;

use clap::Args;

use crate::cli::allow::Allow;
use crate::cli::args::ADVANCED;

#[derive(Debug, Args)]
pub struct LessonArgs {
    /// The lesson's file (TOML).
    #[arg(required_unless_present = "new", conflicts_with = "new")]
    pub file: Option<PathBuf>,
    /// Draft a lesson's file, FOLDER/lesson.toml, from the films that lie there: folders of hitters, in them folders of
    /// days.
    #[arg(long, value_name = "FOLDER")]
    pub new: Option<PathBuf>,
    /// Make everything again, changed or not; what was read of the films is used again all the same.
    #[arg(long)]
    pub again: bool,
    /// Print every job as a command line of its own instead of running it: for GNU parallel, make or a cluster, in any
    /// order, as often as wanted. What is made is named behind the #.
    #[arg(long, conflicts_with_all = ["new", "make"], help_heading = ADVANCED)]
    pub jobs: bool,
    /// Make one file of the lesson, called as --jobs calls it.
    #[arg(long, value_name = "NAME", conflicts_with = "new", help_heading = ADVANCED, hide_short_help = true)]
    pub make: Option<String>,
    /// Memory that all jobs together may take, MB [default: half of what is free].
    #[arg(long, value_name = "MB", help_heading = ADVANCED, hide_short_help = true)]
    pub memory: Option<u64>,
    #[command(flatten)]
    pub allow: Allow,
}
