//! Words of the jobs for shells.

use std::path::PathBuf;

use clap::Args;

#[derive(Debug, Args)]
pub struct CompletionsArgs {
    /// Your shell.
    pub shell: clap_complete::Shell,
}

#[derive(Debug, Args)]
pub struct ManArgs {
    /// Folder for the pages; created if needed.
    pub folder: PathBuf,
}
