use swingpair::media::OpenOptions;
use swingpair::messages;
use swingpair::reading;
use swingpair::store::{self, Rating};
use swingpair::types::{Result, Warning};

use super::args::{Mark, MarkArgs};
use super::progress::Talk;
use super::{print, warn};

pub fn run(args: &MarkArgs, talk: &Talk) -> Result<()> {
    let options = OpenOptions { recorded_at_hz: args.recorded_at, limits: args.allow.limits() };
    let mut pins = Vec::new();
    let mut points = Vec::new();
    let mut rating = None;
    for mark in &args.marks {
        match mark {
            Mark::Pin(event, time_s) => pins.push((*event, *time_s)),
            Mark::Point(point, time_s, at) => points.push((*point, *time_s, *at)),
            Mark::Rating(what) => rating = Some(*what),
            Mark::Height(_) | Mark::Length(_) | Mark::Hitter(_) => (),
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
    if !points.is_empty() {
        let (sidecar, warnings) = reading::set_points(&args.clip, &points, &options)?;
        warn(talk, "", &warnings);
        let left = !sidecar.by_hand.points.is_empty();
        talk.say(if left { messages::pins::POINTS_SET } else { messages::pins::NO_POINTS_SET });
        for p in &sidecar.by_hand.points {
            print(&format!("{}@{}={},{}", p.point.word(), p.time_s, p.at.x, p.at.y))?;
        }
    }
    hitter(args, &options, talk)?;
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

/// What is kept of the hitter.
fn hitter(args: &MarkArgs, options: &OpenOptions, talk: &Talk) -> Result<()> {
    let mut warnings: Vec<Warning> = Vec::new();
    let mut any = false;
    for mark in &args.marks {
        let reported = match mark {
            Mark::Height(height_cm) => reading::set_height(&args.clip, *height_cm, options)?,
            Mark::Length(known) => reading::set_known_length(&args.clip, *known, options)?,
            Mark::Hitter(at) => reading::set_hitter(&args.clip, *at, options)?,
            Mark::Pin(..) | Mark::Point(..) | Mark::Rating(_) => continue,
        };
        any = true;
        warnings.extend(reported);
    }
    if !any {
        return Ok(());
    }
    warn(talk, "", &warnings);
    let kept = store::load(&args.clip)?.by_hand;
    if let Some(cm) = kept.height_cm {
        print(&format!("height={cm}cm"))?;
    }
    if let Some(k) = kept.known_length {
        print(&format!("length={},{},{},{}={}", k.from.x, k.from.y, k.to.x, k.to.y, k.cm))?;
    }
    if let Some(at) = kept.hitter_at {
        print(&format!("hitter={},{}", at.x, at.y))?;
    }
    Ok(())
}
