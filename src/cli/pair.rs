use std::fs::{self, File};
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};

use swingpair::clip::{self, ClipOptions, ClipSide};
use swingpair::draw::Letters;
use swingpair::ground::{Cancel, Error, Result, words};
use swingpair::media;
use swingpair::pairing;
use swingpair::reading;
use swingpair::report;
use swingpair::reps;

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
    if let Some(trace) = &args.trace {
        check_trace(trace, args)?;
    }
    let options =
        ClipOptions { layout: args.layout, slow: args.slow, size: args.size, ..ClipOptions::default() };
    options.check()?;
    let (a, b) =
        args.labels.clone().unwrap_or_else(|| (words::TODAY.to_owned(), words::REFERENCE.to_owned()));
    let letters = Letters::new()?;
    letters.check(&a).and_then(|()| letters.check(&b))?;
    let today = reading::read(&args.today, &args.looking.options(), talk, cancel)?;
    let reference = reading::read(&args.reference, &args.reference_options(), talk, cancel)?;
    let (pairing, warnings) = pairing::pair(&today.reading, &reference.reading, args.sync)?;
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

/// The trace is asked about before the work, as the clip is: it may neither replace a file that is read
/// or made here nor turn out unwritable when all is done.
fn check_trace(trace: &Path, args: &PairArgs) -> Result<()> {
    let clips = [&args.today, &args.reference];
    let kept = clips.map(|clip| reps::sidecar_path(clip));
    let points = [&args.looking.keypoints, &args.reference_keypoints].into_iter().flatten();
    let taken = clips.into_iter().chain([&args.output]).chain(&kept).chain(points);
    for other in taken {
        if trace == other || media::same_file(trace, other) || same_place(trace, other) {
            let trace = trace.display();
            return Err(Error::Usage(format!("{trace}: is also read or made here; choose another --trace")));
        }
    }
    let refused = |cause: &str| {
        Error::Usage(format!("{}: cannot be written ({cause}); choose another --trace", trace.display()))
    };
    if trace.is_dir() {
        return Err(refused("it is a folder"));
    }
    if !folder(trace).is_dir() {
        return Err(refused("its folder does not exist"));
    }
    // Tried under the name it is first written to, which is gone again on return.
    let part = part(trace);
    File::create(&part).and_then(|_| fs::remove_file(&part)).map_err(|e| refused(&e.to_string()))
}

fn folder(path: &Path) -> &Path {
    path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Whether two names, of files that may not be there yet, are one name in one folder.
fn same_place(a: &Path, b: &Path) -> bool {
    a.file_name() == b.file_name() && media::same_file(folder(a), folder(b))
}

fn part(trace: &Path) -> PathBuf {
    folder(trace).join(format!(".swingpair-{}.trace.tmp", std::process::id()))
}

/// Written under another name first, so that half a trace is never found.
fn write_trace(path: &Path, lines: &[clip::TraceLine]) -> Result<()> {
    let part = part(path);
    let written = write_lines(&part, lines).and_then(|()| fs::rename(&part, path));
    written.map_err(|e| {
        // What is left of a failed write is ours; that it may be gone already is no second error.
        let _ = fs::remove_file(&part);
        Error::writing(path, &e)
    })
}

fn write_lines(path: &Path, lines: &[clip::TraceLine]) -> std::io::Result<()> {
    let mut out = BufWriter::new(File::create(path)?);
    for line in lines {
        serde_json::to_writer(&mut out, line)?;
        out.write_all(b"\n")?;
    }
    out.flush()
}
