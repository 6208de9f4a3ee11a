//! Words about what a made clip shows and what it has to fit.

use std::path::PathBuf;

use clap::Args;
use swingpair::compose::{GhostStyle, Layout, Plan, Ready, Screen, usual_slow};
use swingpair::types::{Limits, Result as Done};

use super::values::*;
use crate::cli::args::LOOKS;

fn layout_help() -> String {
    format!("Layout: {} [default: side-by-side]", one_of(Layout::WORDS))
}

/// How the made clip shows the two.
#[derive(Debug, Args)]
pub struct Showing {
    #[command(flatten)]
    pub shown: Shown,
    #[arg(long, value_parser = layout_from_word, help_heading = LOOKS, help = layout_help())]
    pub layout: Option<Layout>,
    /// Opacity of the ghost over today's picture, 0 to 1 or in percent [default: 50%].
    #[arg(long, value_name = "SHARE", value_parser = strength, allow_negative_numbers = true, help_heading = LOOKS, hide_short_help = true)]
    pub ghost_strength: Option<f64>,
    /// Look of the ghost: tinted (the reference's picture in its color) or outline (a line around it) [default:
    /// tinted].
    #[arg(long, value_name = "LOOK", value_parser = ghost_look_from_word, help_heading = LOOKS, hide_short_help = true)]
    pub ghost_look: Option<GhostStyle>,
}

/// What the made clip has to fit.
#[derive(Debug, Args)]
pub struct Fitting {
    /// The screen the video is made for: phone or tablet [default: phone]
    ///
    /// phone: 1080x1920, or 1920x1080 if wide sources would leave most of that empty; tablet: 1248x1664 or 1664x1248,
    /// whichever shows the bodies larger. Both at 30 fps and H.264 level 4.0.
    #[arg(long = "for", value_name = "SCREEN", value_parser = screen_from_word, help_heading = LOOKS)]
    pub screen: Option<Screen>,
    /// Size of the video, px, instead of the screen's.
    #[arg(long, value_name = "WxH", value_parser = size, help_heading = LOOKS, hide_short_help = true)]
    pub size: Option<(usize, usize)>,
    /// Largest size of the video file: 16MB, 3.5MB, 600KB (MB = 1,000,000 bytes).
    ///
    /// The video is re-encoded at lower quality until it fits; if it cannot, the smallest possible size is reported.
    #[arg(long, value_name = "SIZE", value_parser = bytes, help_heading = LOOKS)]
    pub max_size: Option<u64>,
    /// An audio or video file with a spoken note to play over the video.
    ///
    /// The video's own sound is lowered under it. The slow part plays again, and the closing card stays, until the note ends.
    #[arg(long, value_name = "FILE", help_heading = LOOKS, hide_short_help = true)]
    pub voice: Option<PathBuf>,
}

/// What the made clip shows, in order.
#[derive(Debug, Args)]
pub struct Shown {
    /// Your own shot plan (TOML or JSON); `swingpair plan` prints one to edit.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["ready", "slow"], help_heading = LOOKS)]
    pub plan: Option<PathBuf>,
    /// A file with the words to draw, such as in another language (TOML); `swingpair captions` prints the English ones.
    #[arg(long, value_name = "FILE", help_heading = LOOKS, hide_short_help = true)]
    pub captions: Option<PathBuf>,
    /// A ready-made shot plan: quick (at most 8 s), teach, before-after or one-rep [default: teach, or one-rep for one
    /// swing].
    #[arg(long, value_name = "NAME", value_parser = ready_from_word, help_heading = LOOKS)]
    pub ready: Option<Ready>,
    /// How many times slower than real time the slow part of a ready-made plan plays [default: 8].
    #[arg(long, value_name = "N", value_parser = slow, allow_negative_numbers = true, help_heading = LOOKS)]
    pub slow: Option<f64>,
}

impl Shown {
    /// The files it is read from, which may not be written to.
    pub fn files(&self) -> impl Iterator<Item = &PathBuf> {
        self.plan.iter().chain(&self.captions)
    }

    /// The plan that is asked for, or the usual one.
    pub fn plan(&self, usual: Ready, limits: &Limits) -> Done<Plan> {
        match &self.plan {
            Some(path) => Plan::from_file(path, limits),
            None => Ok(Plan::ready(self.ready.unwrap_or(usual), self.slow.unwrap_or(usual_slow()))),
        }
    }
}
