use std::fs::{self, File};
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};

use swingpair::clip::{self, ClipOptions, ClipSide, Ready};
use swingpair::draw::Letters;
use swingpair::ground::{Cancel, Error, Result, Warning, words};
use swingpair::media;
use swingpair::pairing;
use swingpair::reading;
use swingpair::report;
use swingpair::reps;

use super::args::{Fitting, PairArgs};
use super::progress::Talk;
use super::{print, print_json, warn};

pub fn run(args: &PairArgs, talk: &Talk, cancel: &Cancel) -> Result<()> {
    for input in inputs(args).chain(&args.fitting.voice).chain(&args.shown.plan) {
        if media::same_file(input, &args.output) {
            return Err(Error::OutputIsInput { path: args.output.clone() });
        }
    }
    media::check_target(&args.output)?;
    if let Some(trace) = &args.trace {
        check_trace(trace, args)?;
    }
    let plan = args.shown.plan(Ready::Teach)?;
    let names = plan.names.clone();
    let options = ClipOptions { layout: args.layout, plan: Some(plan), ..fitted(&args.fitting)? };
    options.check()?;
    check_lengths(args)?;
    if let Some((a, b)) = &args.labels {
        let letters = Letters::new()?;
        letters.check(a).and_then(|()| letters.check(b))?;
    }
    let (reps, mut warnings) = different_reps(args)?;
    let today = reading::read(&args.today, &args.looking.options(), talk, cancel)?;
    let read = |(place, path): &(usize, &PathBuf)| {
        reading::read(path, &args.reference_options(*place), talk, cancel)
    };
    let references = reps.iter().map(read).collect::<Result<Vec<_>>>()?;
    let readings: Vec<_> = references.iter().map(|r| &r.reading).collect();
    let (pairing, told) = pairing::pair_with_reps(&today.reading, &readings, args.sync)?;
    warnings.extend(told);
    let place = pairing.good_reps.as_ref().map_or(0, |g| g.shown);
    let Some(reference) = references.get(place) else {
        return Err(Error::Usage("no reference is left to compare with".to_owned()));
    };
    let named = args.labels.clone().or_else(|| names.map(|[a, b]| (a, b)));
    let (a, b) = named.unwrap_or_else(|| {
        let reference = if pairing.good_reps.is_some() { words::GOOD_REP } else { words::REFERENCE };
        (words::TODAY.to_owned(), reference.to_owned())
    });
    let left = ClipSide { clip: &today.clip, reading: &today.reading, label: &a };
    let right = ClipSide { clip: &reference.clip, reading: &reference.reading, label: &b };
    let made = clip::make(&left, &right, &pairing, &options, &args.output, talk, cancel)?;
    if let Some(path) = &args.trace {
        write_trace(path, &made.trace)?;
    }
    warn(talk, "today: ", &today.reading.warnings);
    for (i, rep) in references.iter().enumerate() {
        let whose = if references.len() == 1 {
            "reference: ".to_owned()
        } else {
            format!("{}: ", words::good_rep(i, references.len()).to_lowercase())
        };
        warn(talk, &whose, &rep.reading.warnings);
    }
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
    talk.say(&report::pairing_text(&pairing, &today.reading, &reference.reading));
    print(&args.output.display().to_string());
    Ok(())
}

/// What the clip has to fit, as the library's options.
pub fn fitted(fitting: &Fitting) -> Result<ClipOptions> {
    let voice = fitting.voice.as_deref().map(|path| media::read_sound(path, clip::SOUND_HZ)).transpose()?;
    Ok(ClipOptions {
        screen: fitting.screen,
        size: fitting.size,
        max_bytes: fitting.max_size,
        voice,
        ..ClipOptions::default()
    })
}

fn inputs(args: &PairArgs) -> impl Iterator<Item = &PathBuf> {
    std::iter::once(&args.today).chain(&args.references)
}

/// A reference and its place in the words.
type Placed<'a> = (usize, &'a PathBuf);

/// The references with their places in the words, each recording once, whatever its name: a rep counted twice
/// would make the good reps look more alike than they are.
fn different_reps(args: &PairArgs) -> Result<(Vec<Placed<'_>>, Vec<Warning>)> {
    let given = args.reference_keypoints.len();
    if given > 0 && given != args.references.len() {
        return Err(Error::Usage(format!(
            "--reference-keypoints is given {given} time(s) for {} references; give it once for each, in order",
            args.references.len()
        )));
    }
    let several = args.references.len() > 1;
    // A file that cannot be read is told of when it is read.
    let today = reps::content_hash(&args.today).ok();
    let (mut kept, mut hashes, mut warnings) = (Vec::new(), Vec::new(), Vec::new());
    for (place, path) in args.references.iter().enumerate() {
        let hash = reps::content_hash(path).ok();
        if hash.is_some() && hash == today {
            if several {
                return Err(Error::Usage(format!(
                    "{}: is today's rep itself; leave it out of the good reps",
                    path.display()
                )));
            }
            warnings.push(Warning::new("same_clip", words::SAME_CLIP));
        }
        if hash.is_some() && hashes.contains(&hash) {
            warnings.push(Warning::new("rep_given_twice", words::given_twice(path)));
            continue;
        }
        hashes.push(hash);
        kept.push((place, path));
    }
    Ok((kept, warnings))
}

/// A length marked in one picture says nothing about another clip: lengths of one in cm and of the other in body
/// heights could not be compared.
fn check_lengths(args: &PairArgs) -> Result<()> {
    let (given, wanted) = (args.reference_known_length.len(), args.references.len());
    if given > 1 && given != wanted {
        return Err(Error::Usage(format!(
            "--reference-known-length is given {given} times for {wanted} reference(s); give one for all, or one for \
             each, in order"
        )));
    }
    let other_scale = args.looking.height.is_some() || args.looking.bat.is_some();
    if args.looking.known_length.is_some() != (given > 0) && !other_scale {
        return Err(Error::Usage(
            "a known length holds for its own clip only: give both --known-length and --reference-known-length, or \
             --height as well"
                .to_owned(),
        ));
    }
    Ok(())
}

/// The trace is asked about before the work, as the clip is: it may neither replace a file that is read
/// or made here nor turn out unwritable when all is done.
fn check_trace(trace: &Path, args: &PairArgs) -> Result<()> {
    let kept: Vec<PathBuf> = inputs(args).map(|clip| reps::sidecar_path(clip)).collect();
    let points = args.looking.keypoints.iter().chain(&args.reference_keypoints);
    let taken = inputs(args).chain([&args.output]).chain(&kept).chain(points).chain(&args.shown.plan);
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
