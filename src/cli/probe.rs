use swingpair::media::{self, OpenOptions};
use swingpair::report;
use swingpair::types::Result;

use super::args::ProbeArgs;
use super::{print, print_json};

pub fn run(args: &ProbeArgs) -> Result<()> {
    let options = OpenOptions { recorded_at_hz: args.recorded_at, limits: args.allow.limits() };
    let reported = media::probe(&args.file, &options)?;
    if args.json {
        return print_json(&report::probed_json(&reported));
    }
    print(&report::probed_text(&reported))
}
