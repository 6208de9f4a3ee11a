use swingpair::media::OpenOptions;
use swingpair::messages;
use swingpair::reading;
use swingpair::store::Rating;
use swingpair::types::Result;

use super::args::{Mark, MarkArgs};
use super::progress::Talk;
use super::{print, warn};

pub fn run(args: &MarkArgs, talk: &Talk) -> Result<()> {
    let options = OpenOptions { recorded_at_hz: args.recorded_at, limits: args.allow.limits() };
    let mut pins = Vec::new();
    let mut rating = None;
    for mark in &args.marks {
        match mark {
            Mark::Pin(event, time_s) => pins.push((*event, *time_s)),
            Mark::Rating(what) => rating = Some(*what),
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
    if let Some(rating) = rating {
        warn(talk, "", &reading::set_rating(&args.clip, rating, &options)?);
        talk.say(match rating {
            Some(Rating::Good) => messages::command::MARKED_GOOD,
            Some(Rating::Best) => messages::command::MARKED_BEST,
            None => messages::command::MARKED_NEITHER,
        });
    }
    Ok(())
}
