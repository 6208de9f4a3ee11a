//! The words of the command line. They are turned into the library's options here and nowhere else.

mod angles;
mod desk;
mod jobs;
mod lengths;
mod lesson;
mod reading;
mod reps;
mod shell;
mod showing;
mod values;

use std::path::PathBuf;

use clap::{Parser, Subcommand};
use swingpair::types::Units;

pub use angles::AnglesArgs;
pub use desk::DeskArgs;
pub use jobs::*;
pub use lesson::LessonArgs;
pub use reading::Swings;
pub use reps::RepsArgs;
pub use shell::{CompletionsArgs, ManArgs};
pub use showing::{Fitting, Showing};
pub use values::Mark;

/// What options stand under in the help.
pub const COMPARED: &str = "What is compared";
pub const LOOKS: &str = "How it looks";
pub const HITTER: &str = "The hitter";
pub const ADVANCED: &str = "Advanced";

const CAUTIONS: &str = "\
Filming: stay behind a screen or use a tripod, at least a step beyond the reach of the bat and never in the line \
of the ball; helmet on. Follow the rules of your league and facility. Ask the athlete, and for a minor a parent or \
guardian, before filming and before each share. Files stay on this computer; new files contain no location, date or \
device. Measures are estimates from one camera view, not a diagnosis. If it hurts, stop, tell an adult, and see a licensed medical professional.

Exit codes: 0 done, with or without warnings; 1 failed, or `check` found that a file will not play; 2 invalid \
options or values; 3 a lesson finished with warnings (something is missing or failed, the rest was made); 130 \
interrupted.";

const TWO_CLIPS: &str = "\
--hitter, --swing, --recorded-at, --keypoints and --known-length apply to today's rep, and each has a --reference-… \
counterpart. --pitcher applies to today's rep alone; all other options apply to both, --ball unless --reference-ball is \
given. Readings are saved next to each clip as NAME.swing.json and reused.";

/// Pairs two videos of a hitter's swing, today's rep and the best one: lines them up in time and on the body, measures
/// and draws, and writes one video for a phone.
#[derive(Debug, Parser)]
#[command(name = "swingpair", version, after_help = CAUTIONS, max_term_width = 100)]
pub struct Arguments {
    /// Print nothing but errors.
    #[arg(long, short, global = true)]
    pub quiet: bool,
    /// Units to show: `us` for inches and mph, `metric` for cm and m/s. Without it, SWINGPAIR_UNITS decides, then your
    /// system's region. JSON is always metric.
    #[arg(long, global = true, hide_short_help = true, value_name = "UNITS", value_parser = values::units)]
    pub units: Option<Units>,
    /// Where to write why the run failed, for the lesson that started it.
    #[arg(long, value_name = "FILE", global = true, hide = true)]
    pub failure_to: Option<PathBuf>,
    #[command(subcommand)]
    pub job: Job,
}

#[derive(Debug, Subcommand)]
pub enum Job {
    /// Open the desk in your browser: see your reps, line two up, correct events and make the video.
    Desk(DeskArgs),
    /// Make one video from two clips.
    #[command(after_help = TWO_CLIPS)]
    Pair(Box<PairArgs>),
    /// Make a video of a single swing.
    Clip(Box<ClipArgs>),
    /// Print a ready-made shot plan to edit and use with --plan.
    Plan(PlanArgs),
    /// Print the words drawn on videos and sheets, to translate and use with --captions.
    Captions,
    /// Make a sheet of stills to print: a row for each rep, a column for each event, with the measures.
    #[command(after_help = TWO_CLIPS)]
    Sheet(Box<SheetArgs>),
    /// Make a page for any browser, no network needed: the video, the stills, tables and plots.
    #[command(after_help = TWO_CLIPS)]
    Report(Box<ReportArgs>),
    /// Read one swing: events and measures.
    Read(ReadArgs),
    /// List every swing in a long recording and, if you like, save each as its own video.
    Reps(RepsArgs),
    /// Show how much a hitter's reps differ: the spread of each measure, the typical rep, the odd one out.
    Spread(SpreadArgs),
    /// Find the time offset between two recordings of one swing by sound, checked against the picture.
    Angles(AnglesArgs),
    /// Make a whole lesson from one file: videos, sheets and a page for each hitter; only what changed is made again.
    Lesson(LessonArgs),
    /// Set events, body points, lengths or the hitter of a clip by hand, or mark a rep as good or best.
    Mark(MarkArgs),
    /// Check whether a file will play on phones, and if not, why; exit code 0 if it will, 1 if not.
    Check(CheckArgs),
    /// Describe a file and how it is read, in plain words.
    Probe(ProbeArgs),
    /// Render two made-up reps to try things out.
    Demo(DemoArgs),
    /// Print completions for your shell.
    Completions(CompletionsArgs),
    /// Write man pages to a folder.
    Man(ManArgs),
}

impl Job {
    /// Whether it checks regularly if it should stop.
    pub fn stops_itself(&self) -> bool {
        match self {
            Self::Desk(_)
            | Self::Pair(_)
            | Self::Clip(_)
            | Self::Sheet(_)
            | Self::Report(_)
            | Self::Read(_)
            | Self::Reps(_)
            | Self::Spread(_)
            | Self::Angles(_)
            | Self::Lesson(_)
            | Self::Demo(_) => true,
            Self::Plan(_)
            | Self::Captions
            | Self::Mark(_)
            | Self::Check(_)
            | Self::Probe(_)
            | Self::Completions(_)
            | Self::Man(_) => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_words_are_sound() {
        Arguments::command().debug_assert();
    }
}
