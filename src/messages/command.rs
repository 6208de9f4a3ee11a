//! What the command line says about its options and its runs.

use std::path::Path;

pub const LESSON_NEEDED: &str = "give a lesson file";
pub const LESSON_EXISTS: &str = "a lesson already exists there; move it away first";
pub const MARKED_GOOD: &str = "Marked good: `pair TODAY --from FOLDER` compares with it.";
pub const MARKED_BEST: &str =
    "Marked best, which also counts as good: `pair TODAY --from FOLDER --best` compares with it.";
pub const MARKED_NEITHER: &str = "No longer marked good or best.";
/// In the place of a file: standard output.
pub const OUTPUT: &str = "the output";
pub const WHY_NEEDS_VIDEO: &str = "--why needs a video";
pub const VIDEO_NEEDED: &str = "give a video, or points with --keypoints FILE";
pub const CLIP_IN_THE_WAY: &str =
    "a file with that name exists, and the page's video is too large to be embedded";
pub const NO_REFERENCE_LEFT: &str = "no reference is left to compare with";
pub const LENGTH_OF_ONE_CLIP: &str = "a known length applies only to its own clip; give both --known-length and \
    --reference-known-length, or --height as well";
pub const JOB_ENDED: &str = "it was terminated";

pub fn no_target(lesson: &Path, name: &str, nearest: Option<&str>) -> String {
    let nearest = nearest.map(|n| format!("; did you mean {n}?")).unwrap_or_default();
    format!("{}: makes no {name:?}{nearest}", lesson.display())
}

pub fn stuck(seconds: u64) -> String {
    format!(
        "no progress for {seconds} s, so the run was stopped; if it happens again, the file is damaged: copy it again"
    )
}

pub fn no_clean_up(cause: &dyn std::fmt::Display) -> String {
    format!("warning: Ctrl-C will not clean up ({cause})")
}

pub fn trace_in_use(trace: &Path) -> String {
    format!("{}: is another input or output of this run; choose another --trace", trace.display())
}

pub fn keypoints_count(given: usize, references: usize) -> String {
    format!(
        "--reference-keypoints is given {given} time(s) for {references} references; give it once for each, in order"
    )
}

pub fn lengths_count(given: usize, references: usize) -> String {
    format!(
        "--reference-known-length is given {given} times for {references} reference(s); give one for all, or one for each, \
         in order"
    )
}

pub fn is_today(clip: &Path) -> String {
    format!("{}: is today's rep itself; leave it out of the good reps", clip.display())
}

pub fn job_lost(cause: &dyn std::fmt::Display) -> String {
    format!("a job was lost ({cause})")
}

pub fn program_missing(cause: &dyn std::fmt::Display) -> String {
    format!("this program's own file cannot be found ({cause})")
}

pub fn job_not_started(cause: &dyn std::fmt::Display) -> String {
    format!("a job could not be started ({cause})")
}

/// The environment names units that there are not.
pub fn no_units(variable: &str, word: &str) -> String {
    format!("{variable}={word}: unknown units; set it to us or metric")
}
