use std::path::PathBuf;

use swingpair::messages;
use swingpair::reading::{self, ReadOptions};
use swingpair::store::write_file;
use swingpair::types::{Cancel, Error, Reading, Result, Units};
use swingpair::{media, pairing, report, store};

use super::args::SpreadArgs;
use super::at_once::two_at_a_time;
use super::progress::Talk;
use super::{print, print_json, warn};

/// Of more reps than this the hand paths are not drawn, and what is kept beside them is taken without opening them.
const DRAWN: usize = 60;

pub fn run(args: &SpreadArgs, units: Units, talk: &Talk, cancel: &Cancel) -> Result<()> {
    if let Some(output) = &args.output {
        if args.reps.iter().any(|rep| media::same_file(rep, output)) {
            return Err(Error::OutputIsInput { path: output.clone() });
        }
        media::check_target_of(output, &["png", "pdf"])?;
    }
    let words = messages::english_in(units);
    let options = args.looking.options();
    let readings = readings(&clips(&args.reps)?, &options, talk, cancel)?;
    let readings: Vec<&Reading> = readings.iter().collect();
    let (spread, warnings) = pairing::spread(&readings);
    if let Some(output) = &args.output {
        let title = args.title.as_deref().unwrap_or(messages::lesson::SPREAD);
        let png = report::png_from_frame(&report::spread_picture(words, title, &readings, &spread)?)?;
        let as_pdf = output.extension().is_some_and(|e| e.eq_ignore_ascii_case("pdf"));
        write_file(output, &if as_pdf { report::pdf_from_png(&png)? } else { png })?;
    }
    warn(talk, "", &warnings);
    if args.json {
        return print_json(&report::spread_json(&readings, &spread, &warnings));
    }
    print(&report::spread_text(words, &spread))?;
    match &args.output {
        Some(output) => print(&output.display().to_string()),
        None => Ok(()),
    }
}

/// Files as they are given, folders as their reps that have been read.
fn clips(reps: &[PathBuf]) -> Result<Vec<PathBuf>> {
    let mut clips = Vec::new();
    for rep in reps {
        if rep.is_dir() {
            let found = store::list(rep)?;
            if found.is_empty() {
                return Err(Error::Usage(messages::lesson::no_reps(rep)));
            }
            clips.extend(found.into_iter().map(|kept| kept.clip));
        } else {
            clips.push(rep.clone());
        }
    }
    Ok(clips)
}

fn readings(clips: &[PathBuf], options: &ReadOptions, talk: &Talk, cancel: &Cancel) -> Result<Vec<Reading>> {
    // Of many, what is kept is taken as it is.
    let kept = |clip: &PathBuf| -> Option<Reading> {
        (clips.len() > DRAWN).then(|| reading::kept_reading(&store::kept(clip)?, options)).flatten()
    };
    two_at_a_time(clips.len(), talk, cancel, |n, progress, cancel| {
        let clip = clips.get(n).ok_or(Error::WorkerLost)?;
        let read = || Ok(reading::read(clip, options, progress, cancel)?.reading);
        kept(clip).map_or_else(read, Ok)
    })
}
