//! The words of the desk.

use std::path::PathBuf;

use clap::Args;

use crate::cli::allow::Allow;
use crate::cli::args::ADVANCED;

#[derive(Debug, Args)]
pub struct DeskArgs {
    /// The folder with the clips.
    #[arg(default_value = ".")]
    pub folder: PathBuf,
    /// The port to serve the page on [default: any free port].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..), help_heading = ADVANCED)]
    pub port: Option<u16>,
    /// Print the address without opening the browser.
    #[arg(long)]
    pub no_browser: bool,
    /// Let a phone on the same Wi-Fi open a finished video; the page shows the address, which holds a code.
    #[arg(long)]
    pub share: bool,
    #[command(flatten)]
    pub allow: Allow,
}
