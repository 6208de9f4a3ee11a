//! The words of the command line. They are turned into the library's options here and nowhere else.

mod angles;
mod jobs;
mod lengths;
mod lesson;
mod reading;
mod reps;
mod shell;
mod showing;
mod values;

use clap::{Parser, Subcommand};

pub use angles::AnglesArgs;
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
Filming: from behind a screen or on a tripod, outside the bat's reach plus a step, never in the ball's \
line; helmet on. Follow your league's and facility's rules. Ask the athlete, and for a minor a parent or \
guardian, before filming and before each share. Files stay on this computer; what is made carries no place, \
date or device. Readings are estimates from one camera view, not a \
diagnosis. If it hurts, stop, tell an adult, and see a licensed medical professional.

Exit codes: 0 done, whatever warnings there were; 1 failed, or `check` found that a file will not play; 2 words \
or values that cannot be used; 3 a lesson was finished with warnings (something is missing or failed, the rest is \
made); 130 interrupted.";

const TWO_CLIPS: &str = "\
--hitter, --recorded-at, --keypoints and --known-length are about today's rep and have a --reference-… of \
their own; the rest is about both. What was read is kept beside each clip as NAME.swing.json and used again.";

/// Pairs two videos of a hitter's swing: today's rep against the best one, lined up on the body, measured,
/// drawn, and written as one clip for a phone.
#[derive(Debug, Parser)]
#[command(name = "swingpair", version, after_help = CAUTIONS, max_term_width = 100)]
pub struct Arguments {
    /// Say nothing but errors.
    #[arg(long, short, global = true)]
    pub quiet: bool,
    #[command(subcommand)]
    pub job: Job,
}

#[derive(Debug, Subcommand)]
pub enum Job {
    /// Two videos to one clip.
    #[command(after_help = TWO_CLIPS)]
    Pair(Box<PairArgs>),
    /// One video to a clip of that swing alone.
    Clip(Box<ClipArgs>),
    /// Print a ready shot plan, to be edited and given back with --plan.
    Plan(PlanArgs),
    /// A sheet of stills to print: rows are reps, columns are events, with what was measured.
    #[command(after_help = TWO_CLIPS)]
    Sheet(Box<SheetArgs>),
    /// One page for any browser, without network: the clip, the stills, the tables and plots.
    #[command(after_help = TWO_CLIPS)]
    Report(Box<ReportArgs>),
    /// Read one swing: events and measures.
    Read(ReadArgs),
    /// Every swing of a long film: a list, and on request each as a film of its own.
    Reps(RepsArgs),
    /// How much one hitter's reps differ: spread of each measure, the typical rep, the odd one out.
    Spread(SpreadArgs),
    /// How the clocks of two clips of one swing lie to each other: by sound, checked against the picture.
    Angles(AnglesArgs),
    /// A whole lesson from one file: hitters, days, clips, sheets and a page for each; only what changed is made.
    Lesson(LessonArgs),
    /// Pin events of a clip by hand, which win over what is found; or say that a rep is a good one, or the best.
    Mark(MarkArgs),
    /// Whether a file will play on phones, and why not; exit code 0 when it plays, 1 when it does not.
    Check(CheckArgs),
    /// What a file is and what is made of it, in plain words.
    Probe(ProbeArgs),
    /// Film two made-up reps to try things on.
    Demo(DemoArgs),
    /// Print completions for your shell.
    Completions(CompletionsArgs),
    /// Write man pages into a folder.
    Man(ManArgs),
}

impl Job {
    /// Whether it looks, every picture or so, if it shall stop.
    pub fn stops_itself(&self) -> bool {
        match self {
            Self::Pair(_)
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
