use swingpair::media::{self, Weight};
use swingpair::report;
use swingpair::types::Result;

use super::args::CheckArgs;
use super::{print, print_json};

/// Whether the file plays.
pub fn run(args: &CheckArgs) -> Result<bool> {
    let reported = media::check_playable(&args.file, &args.allow.limits())?;
    if args.json {
        print_json(&reported)?;
    } else {
        print(&report::playable_text(&reported))?;
    }
    let allowed = if args.strict { Weight::Note } else { Weight::Doubt };
    Ok(reported.findings.iter().all(|f| f.weight <= allowed))
}
