use swingpair::types::{Cancel, Result};
use swingpair::{reading, report};

use super::args::RepsArgs;
use super::progress::Talk;
use super::{print, print_json, warn};

pub fn run(args: &RepsArgs, talk: &Talk, cancel: &Cancel) -> Result<()> {
    let found = reading::reps_of(&args.session, args.cut.as_deref(), &args.looking.options(), talk, cancel)?;
    warn(talk, "", &found.warnings);
    if args.json {
        return print_json(&report::found_json(&found));
    }
    print(&report::found_text(&found))
}
