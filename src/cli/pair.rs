use std::fs::File;
use std::io::{BufWriter, Write};

use swingpair::clip::{self, ClipOptions, ClipSide};
use swingpair::ground::{Cancel, Error, Result};
use swingpair::media;
use swingpair::pairing;
use swingpair::reading;
use swingpair::report;

use super::args::PairArgs;
use super::progress::Talk;
use super::{print, print_json, warn};

pub fn run(args: &PairArgs, talk: &Talk, cancel: &Cancel) -> Result<()> {
    for input in [&args.today, &args.reference] {
        if media::same_file(input, &args.output) {
            return Err(Error::OutputIsInput { path: args.output.clone() });
        }
    }
    media::check_target(&args.output)?;
    let today = reading::read(&args.today, &args.looking.options(), talk, cancel)?;
    let reference = reading::read(&args.reference, &args.reference_options(), talk, cancel)?;
    let (pairing, warnings) = pairing::pair(&today.reading, &reference.reading, args.sync)?;

    let options =
        ClipOptions { layout: args.layout, slow: args.slow, size: args.size, ..ClipOptions::default() };
    let labels = args.labels.clone();
    let (a, b) = labels.unwrap_or_else(|| {
        (swingpair::ground::words::TODAY.to_owned(), swingpair::ground::words::REFERENCE.to_owned())
    });
    let left = ClipSide { clip: &today.clip, reading: &today.reading, label: &a };
    let right = ClipSide { clip: &reference.clip, reading: &reference.reading, label: &b };
    let made = clip::make(&left, &right, &pairing, &options, &args.output, talk, cancel)?;
    if let Some(path) = &args.trace {
        write_trace(path, &made.trace)?;
    }
    warn(talk, "today: ", &today.reading.warnings);
    warn(talk, "reference: ", &reference.reading.warnings);
    warn(talk, "", &warnings);
    warn(talk, "", &made.warnings);
    if args.json {
        return print_json(&report::pair_json(
            &today.reading,
            &reference.reading,
            &pairing,
            &warnings,
            &made,
        ));
    }
    let rate_hz = today.reading.clip.capture_rate_hz.min(reference.reading.clip.capture_rate_hz);
    talk.say(&report::pairing_text(&pairing, rate_hz));
    print(&args.output.display().to_string());
    Ok(())
}

fn write_trace(path: &std::path::Path, lines: &[clip::TraceLine]) -> Result<()> {
    let file = File::create(path).map_err(|e| Error::writing(path, &e))?;
    let mut out = BufWriter::new(file);
    for line in lines {
        let text = serde_json::to_string(line).map_err(|e| Error::Usage(e.to_string()))?;
        writeln!(out, "{text}").map_err(|e| Error::writing(path, &e))?;
    }
    out.flush().map_err(|e| Error::writing(path, &e))
}
