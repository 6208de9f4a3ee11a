use swingpair::ground::Result;
use swingpair::media::OpenOptions;
use swingpair::reading;

use super::args::MarkArgs;
use super::progress::Talk;
use super::{print, warn};

pub fn run(args: &MarkArgs, talk: &Talk) -> Result<()> {
    let options = OpenOptions { recorded_at_hz: args.recorded_at, limits: args.allow.limits() };
    let (sidecar, warnings) = reading::pin(&args.clip, &args.pins, &options)?;
    warn(talk, "", &warnings);
    talk.say("Pinned. These times win over what is found:");
    for (event, time_s) in &sidecar.pins {
        print(&format!("{}={time_s}", event.word()))?;
    }
    Ok(())
}
