use std::fs;
use std::path::Path;

use swingpair::compose;
use swingpair::media;
use swingpair::messages;
use swingpair::report::{self, PageClip, PageParts};
use swingpair::store::{AtomicFile, write_file};
use swingpair::types::{Cancel, Error, Result, Units};

use super::args::ReportArgs;
use super::care::ask_before_sharing;
use super::pair::{captions, clip_options};
use super::progress::Talk;
use super::swings;
use super::{print, warn};

pub fn run(args: &ReportArgs, units: Units, talk: &Talk, cancel: &Cancel) -> Result<()> {
    let beside = args.output.with_extension("mp4");
    for input in args.swings.inputs().chain(&args.fitting.voice).chain(args.showing.shown.files()) {
        for output in [&args.output, &beside] {
            if media::same_file(input, output) {
                return Err(Error::OutputIsInput { path: output.clone() });
            }
        }
    }
    media::check_target_of(&args.output, &["html", "htm"])?;
    // Then it is not the clip of an earlier page, and nobody has named it: it stays.
    let taken = beside.exists() && !args.output.exists();
    let limits = args.swings.looking.allow.limits();
    let mut options = clip_options(&args.showing, &args.fitting, units, &limits)?;
    let names = options.plan.as_ref().and_then(|p| p.names.clone());
    let draw = options.plan.as_ref().map_or_else(compose::Mark::usual, |p| p.draw.clone());
    let reference_first = options.plan.as_ref().is_some_and(|p| p.reference_first);
    let drawn = captions(args.showing.shown.captions.as_deref(), units, &limits)?;
    let words = &drawn;
    let ready = args.swings.paired(names, false, words, talk, cancel)?;
    let [today, reference] = ready.sides()?;
    let sheet = report::sheet(&today, &reference, &ready.pairing, &draw, (reference_first, words), cancel)?;
    let sheet = report::png_from_frame(&sheet)?;
    options.cutouts = swings::cutouts(&options, &ready, talk, cancel)?;
    // Whether the clip will lie in the page or beside it is known when it is made.
    let mut on_its_way = AtomicFile::beside(&beside)?;
    let made_at = on_its_way.temporary().to_owned();
    let made = compose::make(&today, &reference, &ready.pairing, &options, &made_at, talk, cancel);
    let made = made.map_err(|e| about(e, &args.output))?;
    on_its_way.replaced()?;
    let inside = made.written.bytes <= report::LARGEST_INSIDE;
    if taken && !inside {
        let cause = messages::command::CLIP_IN_THE_WAY.into();
        return Err(Error::Unwritable { path: beside, cause });
    }
    let bytes =
        if inside { fs::read(&made_at).map_err(|e| Error::reading(&args.output, e))? } else { Vec::new() };
    let poster = report::poster(&media::Clip::open(&made_at, &media::OpenOptions::default())?)?;
    let name = beside.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let page = report::page(&PageParts {
        readings: [today.reading, reference.reading],
        labels: [today.label, reference.label],
        reference_first,
        pairing: &ready.pairing,
        clip: if inside { PageClip::Inside(&bytes) } else { PageClip::Beside(&name) },
        clip_size: (made.written.width, made.written.height),
        poster_png: &poster,
        sheet_png: &sheet,
        warnings: &ready.warnings,
        words: messages::english_in(units),
    });
    if !inside {
        on_its_way.keep()?;
    }
    write_file(&args.output, page.as_bytes())?;
    swings::warn_all(talk, &ready.today, &ready.references, &ready.warnings);
    warn(talk, "", &made.warnings);
    ask_before_sharing(&args.swings.today, talk);
    print(&args.output.display().to_string())?;
    if !inside {
        print(&beside.display().to_string())?;
    }
    Ok(())
}

/// The clip's name on its way says nothing to anyone.
fn about(error: Error, page: &Path) -> Error {
    let path = page.to_owned();
    match error {
        Error::SizeUnmet { smallest, .. } => Error::SizeUnmet { path, smallest },
        Error::Unwritable { cause, .. } => Error::Unwritable { path, cause },
        Error::Encode { cause, .. } => Error::Encode { path, cause },
        Error::Verify { cause, .. } => Error::Verify { path, cause },
        other => other,
    }
}
