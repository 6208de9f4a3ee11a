use swingpair::reading::{self, AnglesOptions, ReadOptions};
use swingpair::report;
use swingpair::types::{Cancel, Result};

use super::args::AnglesArgs;
use super::progress::Talk;
use super::{print, print_json, warn};

pub fn run(args: &AnglesArgs, talk: &Talk, cancel: &Cancel) -> Result<()> {
    let paths = [args.first.as_path(), args.second.as_path()];
    let read = || ReadOptions {
        height_cm: args.height,
        fresh: args.fresh,
        limits: args.allow.limits(),
        ..ReadOptions::default()
    };
    let options =
        AnglesOptions { reads: [read(), read()], distances_m: args.distances, sound_alone: args.sound_alone };
    let done = reading::line_up_clips(paths, &options, talk, cancel)?;
    if args.json {
        return print_json(&report::angles_json(paths, &done.angles, &done.warnings));
    }
    print(&report::angles_text(paths, &done.angles))?;
    warn(talk, "", &done.warnings);
    Ok(())
}
