use swingpair::ground::Result;
use swingpair::media::{self, OpenOptions};
use swingpair::report;

use super::args::ProbeArgs;
use super::{print, print_json};

pub fn run(args: &ProbeArgs) -> Result<()> {
    let told = media::probe(&args.file, &OpenOptions { recorded_at_hz: args.recorded_at })?;
    if args.json {
        return print_json(&told);
    }
    print(&report::probed_text(&told))
}
