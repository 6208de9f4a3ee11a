use std::path::{Path, PathBuf};

use swingpair::compose::{self, ClipOptions, Ready};
use swingpair::media;
use swingpair::messages::{self, Captions};
use swingpair::report;
use swingpair::store;
use swingpair::store::{AtomicFile, folder, write_file};
use swingpair::types::{Cancel, Error, Limits, Result, Units};

use super::args::{Fitting, PairArgs, Showing};
use super::care::ask_before_sharing;
use super::progress::Talk;
use super::swings::{self, Paired};
use super::{print, print_json, warn};

pub fn run(args: &PairArgs, units: Units, talk: &Talk, cancel: &Cancel) -> Result<()> {
    for input in args.swings.inputs().chain(&args.fitting.voice).chain(args.showing.shown.files()) {
        if media::same_file(input, &args.output) {
            return Err(Error::OutputIsInput { path: args.output.clone() });
        }
    }
    media::check_target(&args.output)?;
    if let Some(trace) = &args.trace {
        check_trace(trace, args)?;
    }
    let limits = args.swings.looking.allow.limits();
    let mut options = clip_options(&args.showing, &args.fitting, units, &limits)?;
    let names = options.plan.as_ref().and_then(|p| p.names.clone());
    let drawn = captions(args.showing.shown.captions.as_deref(), units, &limits)?;
    let words = messages::english_in(units);
    let paired = args.swings.paired(names, args.mirror, &drawn, talk, cancel)?;
    let [left, right] = paired.sides()?;
    let Paired { references, pairing, warnings, .. } = &paired;
    let (today, reference) = (&paired.today.first.reading, paired.reference()?);
    options.cutouts = swings::cutouts(&options, &paired, talk, cancel)?;
    let made = compose::make(&left, &right, pairing, &options, &args.output, talk, cancel)?;
    if let Some(path) = &args.trace {
        write_trace(path, &made.trace)?;
    }
    if !args.json {
        // What a coach wants to know first, then where the clip is, then the rest.
        let ranged = pairing.good_reps.as_ref().is_some_and(|g| g.counted > 0);
        talk.say(&messages::changed::changed_most(words, &pairing.differences, ranged));
        print(&args.output.display().to_string())?;
    }
    swings::warn_all(talk, &paired.today, references, warnings);
    warn(talk, "", &made.warnings);
    ask_before_sharing(&args.swings.today, talk);
    if args.json {
        return print_json(&report::pair_json(today, reference, pairing, warnings, &made));
    }
    talk.say(&report::pairing_summary(words, pairing));
    if args.all {
        talk.say(&report::pairing_text(words, pairing, today, reference));
    }
    Ok(())
}

/// What `pair` and `report` make their clip by; a spoken note is read already.
pub fn clip_options(
    showing: &Showing,
    fitting: &Fitting,
    units: Units,
    limits: &Limits,
) -> Result<ClipOptions> {
    let plan = showing.shown.plan(Ready::Teach, limits)?;
    let usual = ClipOptions::default();
    let options = ClipOptions {
        layout: showing.layout,
        plan: Some(plan),
        captions: Some(captions(showing.shown.captions.as_deref(), units, limits)?),
        ghost_strength: showing.ghost_strength.unwrap_or(usual.ghost_strength),
        ghost_look: showing.ghost_look.unwrap_or(usual.ghost_look),
        ..fitted(fitting, limits)?
    };
    options.check()?;
    Ok(options)
}

/// The words of what is drawn, in the units to be read.
pub fn captions(file: Option<&Path>, units: Units, limits: &Limits) -> Result<Captions> {
    let Some(path) = file else { return Ok(messages::english_in(units).clone()) };
    let captions = store::captions(path, units, limits)?;
    compose::check_captions(&captions)?;
    Ok(captions)
}

/// What the clip has to fit, as the library's options.
pub fn fitted(fitting: &Fitting, limits: &Limits) -> Result<ClipOptions> {
    let voice = fitting
        .voice
        .as_deref()
        .map(|path| media::read_sound(path, compose::SOUND_HZ, limits))
        .transpose()?;
    Ok(ClipOptions {
        screen: fitting.screen,
        size: fitting.size,
        max_bytes: fitting.max_size,
        voice,
        ..ClipOptions::default()
    })
}

/// The trace is asked about before the work, as the clip is: it may neither replace a file that is read
/// or made here nor turn out unwritable when all is done.
fn check_trace(trace: &Path, args: &PairArgs) -> Result<()> {
    let kept: Vec<PathBuf> = args
        .swings
        .inputs()
        .flat_map(|clip| [store::sidecar_path(clip), store::cutouts_path(clip)])
        .collect();
    let points = args.swings.looking.keypoints.iter().chain(&args.swings.reference_keypoints);
    let taken = args
        .swings
        .inputs()
        .chain([&args.output])
        .chain(&kept)
        .chain(points)
        .chain(args.showing.shown.files());
    for other in taken {
        if trace == other || media::same_file(trace, other) || same_place(trace, other) {
            return Err(Error::Usage(messages::command::trace_in_use(trace)));
        }
    }
    AtomicFile::beside(trace).map(drop)
}

/// Whether two names, of files that may not be there yet, are one name in one folder.
fn same_place(a: &Path, b: &Path) -> bool {
    a.file_name() == b.file_name() && media::same_file(folder(a), folder(b))
}

fn write_trace(path: &Path, lines: &[compose::TraceLine]) -> Result<()> {
    let mut text = Vec::new();
    for line in lines {
        serde_json::to_writer(&mut text, line).map_err(|e| Error::writing(path, e.into()))?;
        text.push(b'\n');
    }
    write_file(path, &text)
}
