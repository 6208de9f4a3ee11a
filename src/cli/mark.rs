use swingpair::media::OpenOptions;
use swingpair::messages;
use swingpair::reading;
use swingpair::store::Standing;
use swingpair::types::Result;

use super::args::{Mark, MarkArgs};
use super::progress::Talk;
use super::{print, warn};

pub fn run(args: &MarkArgs, talk: &Talk) -> Result<()> {
    let options = OpenOptions { recorded_at_hz: args.recorded_at, limits: args.allow.limits() };
    let mut pins = Vec::new();
    let mut standing = None;
    for mark in &args.marks {
        match mark {
            Mark::Pin(event, time_s) => pins.push((*event, *time_s)),
            Mark::Standing(what) => standing = Some(*what),
        }
    }
    if !pins.is_empty() {
        let (sidecar, warnings) = reading::pin(&args.clip, &pins, &options)?;
        warn(talk, "", &warnings);
        let left = !sidecar.pins.is_empty();
        talk.say(if left { messages::pins::PINNED } else { messages::pins::NONE_PINNED });
        for (event, time_s) in &sidecar.pins {
            print(&format!("{}={time_s}", event.word()))?;
        }
    }
    if let Some(standing) = standing {
        warn(talk, "", &reading::stand(&args.clip, standing, &options)?);
        talk.say(match standing {
            Some(Standing::Good) => "Marked good: `pair TODAY --from FOLDER` compares with it.",
            Some(Standing::Best) => {
                "Marked best, which is a good rep too: `pair TODAY --from FOLDER --best` takes it."
            }
            None => "Neither good nor best any more.",
        });
    }
    Ok(())
}
