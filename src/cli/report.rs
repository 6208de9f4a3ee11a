use std::fs;
use std::path::{Path, PathBuf};

use swingpair::clip;
use swingpair::ground::{Cancel, Error, Result};
use swingpair::media;
use swingpair::report::{self, PageClip, PageParts};

use super::args::ReportArgs;
use super::pair::clip_options;
use super::progress::Talk;
use super::swings;
use super::{print, warn};

pub fn run(args: &ReportArgs, talk: &Talk, cancel: &Cancel) -> Result<()> {
    let beside = args.output.with_extension("mp4");
    for input in args.swings.inputs().chain(&args.fitting.voice).chain(&args.showing.shown.plan) {
        for output in [&args.output, &beside] {
            if media::same_file(input, output) {
                return Err(Error::OutputIsInput { path: output.clone() });
            }
        }
    }
    media::check_target_of(&args.output, &["html", "htm"])?;
    let mut options = clip_options(&args.showing, &args.fitting)?;
    let names = options.plan.as_ref().and_then(|p| p.names.clone());
    let draw = options.plan.as_ref().map_or_else(clip::Mark::usual, |p| p.draw.clone());
    let ready = args.swings.paired(names, talk, cancel)?;
    let [today, reference] = ready.sides()?;
    let sheet = report::sheet(&today, &reference, &ready.pairing, &draw, cancel)?;
    let sheet = report::png_from_frame(&sheet)?;
    let shown = ready.references.get(ready.place).ok_or(Error::WorkerLost)?;
    options.cutouts = swings::cutouts(&options, &ready.pairing, shown, talk, cancel)?;
    let made_at = Unfinished::beside(&args.output);
    let made = clip::make(&today, &reference, &ready.pairing, &options, &made_at.0, talk, cancel);
    let made = made.map_err(|e| match e {
        // The clip's name on its way says nothing to anyone.
        Error::SizeUnmet { smallest, .. } => Error::SizeUnmet { path: args.output.clone(), smallest },
        other => other,
    })?;
    let inside = made.written.bytes <= report::LARGEST_INSIDE;
    let bytes =
        if inside { fs::read(&made_at.0).map_err(|e| Error::reading(&made_at.0, &e))? } else { Vec::new() };
    let name = beside.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let page = report::page(&PageParts {
        readings: [today.reading, reference.reading],
        labels: [today.label, reference.label],
        pairing: &ready.pairing,
        clip: if inside { PageClip::Inside(&bytes) } else { PageClip::Beside(&name) },
        clip_size: (made.written.width, made.written.height),
        sheet_png: &sheet,
        warnings: &ready.warnings,
    });
    if !inside {
        fs::rename(&made_at.0, &beside).map_err(|e| Error::writing(&beside, &e))?;
    }
    media::write_file(&args.output, page.as_bytes())?;
    swings::warn_all(talk, &ready.today, &ready.references, &ready.warnings);
    warn(talk, "", &made.warnings);
    print(&args.output.display().to_string());
    if !inside {
        print(&beside.display().to_string());
    }
    Ok(())
}

/// The clip on its way into the page; gone when dropped.
struct Unfinished(PathBuf);

impl Unfinished {
    fn beside(output: &Path) -> Self {
        let hidden = format!(".swingpair-{}-page.tmp.mp4", std::process::id());
        Self(output.with_file_name(hidden))
    }
}

impl Drop for Unfinished {
    fn drop(&mut self) {
        // It may have got its name already, or never been made.
        let _ = fs::remove_file(&self.0);
    }
}
