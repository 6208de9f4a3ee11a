use swingpair::compose::{self, ClipOptions, ClipSide, Ready};
use swingpair::draw::Letters;
use swingpair::media;
use swingpair::reading;
use swingpair::types::{Cancel, Error, Result, Units};

use super::args::ClipArgs;
use super::care::ask_before_sharing;
use super::pair::{captions, fitted};
use super::progress::Talk;
use super::{print, warn};

pub fn run(args: &ClipArgs, units: Units, talk: &Talk, cancel: &Cancel) -> Result<()> {
    for input in [&args.rep].into_iter().chain(&args.fitting.voice).chain(args.shown.files()) {
        if media::same_file(input, &args.output) {
            return Err(Error::OutputIsInput { path: args.output.clone() });
        }
    }
    media::check_target(&args.output)?;
    let limits = args.looking.allow.limits();
    let plan = args.shown.plan(Ready::OneRep, &limits)?;
    let named = plan.names.clone().map(|[today, _]| today);
    let captions = captions(args.shown.captions.as_deref(), units, &limits)?;
    let label = args.label.clone().or(named).unwrap_or_else(|| captions.today().to_owned());
    let options =
        ClipOptions { plan: Some(plan), captions: Some(captions), ..fitted(&args.fitting, &limits)? };
    options.check()?;
    Letters::new()?.check(&label)?;
    let rep = reading::read(&args.rep, &args.looking.options(), talk, cancel)?;
    let side =
        ClipSide { clip: &rep.clip, reading: &rep.reading, label: &label, second: None, mirrored: false };
    let made = compose::make_one(&side, &options, &args.output, talk, cancel)?;
    warn(talk, "", &rep.reading.warnings);
    warn(talk, "", &made.warnings);
    ask_before_sharing(&args.rep, talk);
    print(&args.output.display().to_string())
}
