use swingpair::messages::{command as messages, english_in};
use swingpair::reading;
use swingpair::report;
use swingpair::types::{Cancel, Error, Result, Units};

use super::args::ReadArgs;
use super::progress::Talk;
use super::{print, print_json, warn};

pub fn run(args: &ReadArgs, units: Units, talk: &Talk, cancel: &Cancel) -> Result<()> {
    let options = args.looking.options();
    if args.why {
        let clip = args.clip.as_ref().ok_or_else(|| Error::Usage(messages::WHY_NEEDS_VIDEO.to_owned()))?;
        return print(&report::why_text(&reading::why(clip, &options, talk, cancel)?));
    }
    let reading = match (&args.clip, &args.looking.keypoints) {
        (Some(clip), _) => reading::read(clip, &options, talk, cancel)?.reading,
        (None, Some(points)) => reading::read_keypoints(points, &options)?,
        (None, None) => return Err(Error::Usage(messages::VIDEO_NEEDED.to_owned())),
    };
    if args.json {
        return print_json(&report::reading_json(&reading));
    }
    print(&report::reading_text(english_in(units), &reading))?;
    warn(talk, "", &reading.warnings);
    Ok(())
}
