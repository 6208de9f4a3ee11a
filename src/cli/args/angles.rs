//! Words of lining two cameras up.

use std::path::PathBuf;

use clap::Args;

use super::values::*;
use crate::cli::allow::Allow;
use crate::cli::args::{ADVANCED, HITTER};

#[derive(Debug, Args)]
pub struct AnglesArgs {
    /// The swing, filmed by one phone.
    pub first: PathBuf,
    /// The same swing, filmed by another phone at the same time.
    pub second: PathBuf,
    /// Print the offset, its ±, the drift and the evidence as JSON.
    #[arg(long)]
    pub json: bool,
    /// The hitter's standing height, as in 178cm or 5'10", for a better estimate of distances.
    #[arg(long, value_name = "LENGTH", value_parser = height, allow_negative_numbers = true, help_heading = HITTER)]
    pub height: Option<f64>,
    /// Distance from each microphone to the plate, m: sound is late by 2.9 ms per meter. Without it, distances are
    /// estimated from how large the hitter looks, and the ± grows.
    #[arg(long, value_name = "A,B", value_parser = two_distances, help_heading = ADVANCED)]
    pub distances: Option<[f64; 2]>,
    /// Use sound only: the picture is not used, not even to check.
    #[arg(long, help_heading = ADVANCED)]
    pub sound_alone: bool,
    /// Read the clips again even if their saved readings are still valid.
    #[arg(long, help_heading = ADVANCED, hide_short_help = true)]
    pub fresh: bool,
    #[command(flatten)]
    pub allow: Allow,
}
