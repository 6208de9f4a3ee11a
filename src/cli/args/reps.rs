//! The words of finding reps.

use std::path::PathBuf;

use clap::Args;

use super::reading::ReadingArgs;

#[derive(Debug, Args)]
pub struct RepsArgs {
    /// A long film of batting practice.
    pub session: PathBuf,
    /// Keep each rep as a film of its own in this folder, as NAME_rep01.mp4: as it was coded where a key picture is near,
    /// else coded anew. What a run before cut is used again.
    #[arg(long, value_name = "FOLDER")]
    pub cut: Option<PathBuf>,
    /// Print what was found as JSON.
    #[arg(long)]
    pub json: bool,
    #[command(flatten)]
    pub looking: ReadingArgs,
}
