//! The words of finding reps.

use std::path::PathBuf;

use clap::Args;

use super::reading::ReadingArgs;

#[derive(Debug, Args)]
pub struct RepsArgs {
    /// A long recording of batting practice.
    pub session: PathBuf,
    /// Save each rep as its own video in this folder, as NAME_rep01.mp4: copied without re-encoding if a keyframe is
    /// near, otherwise re-encoded. Reps cut by an earlier run are reused.
    #[arg(long, value_name = "FOLDER")]
    pub cut: Option<PathBuf>,
    /// Print the reps as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub looking: ReadingArgs,
}
