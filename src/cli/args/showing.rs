//! Words about what a made clip shows and what it has to fit.

use std::path::PathBuf;

use clap::Args;
use swingpair::compose::{GhostStyle, Layout, Plan, Ready, Screen, usual_slow};
use swingpair::types::{Limits, Result as Done};

use super::values::*;
use crate::cli::args::LOOKS;

/// How the made clip shows the two.
#[derive(Debug, Args)]
pub struct Showing {
    #[command(flatten)]
    pub shown: Shown,
    /// How the two are shown: side-by-side, over-under, ghost, today-alone or reference-alone [default:
    /// side-by-side].
    #[arg(long, value_parser = layout_from_word, help_heading = LOOKS)]
    pub layout: Option<Layout>,
    /// How strongly a ghost covers today's picture, 0 to 1 or in per cent [default: 50%].
    #[arg(long, value_name = "SHARE", value_parser = strength, allow_negative_numbers = true, help_heading = LOOKS, hide_short_help = true)]
    pub ghost_strength: Option<f64>,
    /// How a ghost is shown: tinted (the reference's own picture in its colour) or outline (a line around it)
    /// [default: tinted].
    #[arg(long, value_name = "LOOK", value_parser = ghost_look_from_word, help_heading = LOOKS, hide_short_help = true)]
    pub ghost_look: Option<GhostStyle>,
}

/// What the made clip has to fit.
#[derive(Debug, Args)]
pub struct Fitting {
    /// The screen it is made for: phone or tablet [default: phone]
    ///
    /// phone: 1080x1920, or 1920x1080 where wide sources would leave most of that empty; tablet: 1248x1664 or
    /// 1664x1248, whichever shows the bodies larger. Both at 30 pictures a second and H.264 level 4.0.
    #[arg(long = "for", value_name = "SCREEN", value_parser = screen_from_word, help_heading = LOOKS)]
    pub screen: Option<Screen>,
    /// Size of the made clip, px, instead of the screen's.
    #[arg(long, value_name = "WxH", value_parser = size, help_heading = LOOKS, hide_short_help = true)]
    pub size: Option<(usize, usize)>,
    /// The clip's file may not be larger: 16MB, 3.5MB, 600KB (MB = 1,000,000 bytes).
    ///
    /// It is made again, coded more coarsely, until it fits; what cannot fit is refused with the smallest possible size.
    #[arg(long, value_name = "SIZE", value_parser = bytes, help_heading = LOOKS)]
    pub max_size: Option<u64>,
    /// A sound or video file with a spoken note that is laid over the clip.
    ///
    /// The clip's own sound steps back under it, and the closing card stays until it ends.
    #[arg(long, value_name = "FILE", help_heading = LOOKS)]
    pub voice: Option<PathBuf>,
}

/// What the made clip shows, in order.
#[derive(Debug, Args)]
pub struct Shown {
    /// A shot plan of your own (TOML or JSON); `swingpair plan` prints one to edit.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["ready", "slow"], help_heading = LOOKS)]
    pub plan: Option<PathBuf>,
    /// A ready shot plan: quick (at most 8 s), teach, before-after or one-rep [default: teach; of one swing
    /// one-rep].
    #[arg(long, value_name = "NAME", value_parser = ready_from_word, help_heading = LOOKS)]
    pub ready: Option<Ready>,
    /// How many times slower than life the slow part of a ready plan plays [default: 8].
    #[arg(long, value_name = "N", value_parser = slow, allow_negative_numbers = true, help_heading = LOOKS)]
    pub slow: Option<f64>,
}

impl Shown {
    /// The plan that is asked for, or the usual one.
    pub fn plan(&self, usual: Ready, limits: &Limits) -> Done<Plan> {
        match &self.plan {
            Some(path) => Plan::from_file(path, limits),
            None => Ok(Plan::ready(self.ready.unwrap_or(usual), self.slow.unwrap_or(usual_slow()))),
        }
    }
}
