//! One file of a lesson.

use std::path::{Path, PathBuf};

use clap::Parser;
use swingpair::lesson::{Hitter, Lesson, Make, Rep, Target, is_current, keep_stamp};
use swingpair::messages;
use swingpair::reading::{self, ReadOptions};
use swingpair::report::PageClip;
use swingpair::store::write_file;
use swingpair::types::{
    Cancel, Error, GoodRep, KnownHitter, Limits, Reading, RepSpread, Result, Side, Warning,
};
use swingpair::{compose::Ready, media, pairing, report, store};

use crate::cli::args::{Arguments, Job};
use crate::cli::progress::Talk;
use crate::cli::{clip, pair, sheet};

/// All that the lesson says about how a target is made, without where the lesson lies.
pub fn how(lesson: &Lesson, target: &Target) -> String {
    let hitter = lesson.hitters.get(hitter_of(target));
    let folder = lesson.file.parent().unwrap_or(Path::new("")).display().to_string();
    let said = format!("{hitter:?} {:?}", target.make);
    if folder.is_empty() { said } else { said.replace(&folder, "") }
}

fn hitter_of(target: &Target) -> usize {
    match &target.make {
        Make::Find { hitter, .. }
        | Make::Read { hitter, .. }
        | Make::Spread { hitter, .. }
        | Make::Clip { hitter }
        | Make::Sheet { hitter }
        | Make::Page { hitter } => *hitter,
    }
}

pub fn read_options(hitter: &Hitter, day: Option<usize>, limits: &Limits) -> ReadOptions {
    ReadOptions {
        height_cm: hitter.height_cm,
        bat_cm: hitter.bat_cm,
        recorded_at_hz: day.and_then(|d| hitter.days.get(d)).and_then(|d| d.recorded_at_hz),
        known_hitter: known_hitter(hitter, day),
        limits: *limits,
        ..ReadOptions::default()
    }
}

/// The same as words of the command line.
pub fn looking_words(hitter: &Hitter, day: Option<usize>) -> Vec<String> {
    let recorded_at = day.and_then(|d| hitter.days.get(d)).and_then(|d| d.recorded_at_hz);
    let known = known_hitter(hitter, day);
    let number = |value: Option<f64>| value.map(|v| v.to_string());
    [
        ("--height", number(hitter.height_cm)),
        ("--bat", number(hitter.bat_cm)),
        ("--recorded-at", number(recorded_at)),
        ("--bats", known.bats.map(|s| messages::side(s).to_owned())),
        ("--pitcher", known.pitcher.map(|p| messages::pitcher(p).to_owned())),
        ("--ball", known.ball.map(|b| b.word().to_owned())),
    ]
    .into_iter()
    .filter_map(|(word, value)| Some([word.to_owned(), value?]))
    .flatten()
    .collect()
}

/// What the lesson says of the hitter on a day.
fn known_hitter(hitter: &Hitter, day: Option<usize>) -> KnownHitter {
    let day = day.and_then(|d| hitter.days.get(d));
    KnownHitter { bats: hitter.bats, pitcher: day.and_then(|d| d.pitcher), ball: day.and_then(|d| d.ball) }
}

/// Make it and note from what.
pub fn make(lesson: &Lesson, target: &Target, limits: &Limits, talk: &Talk, cancel: &Cancel) -> Result<()> {
    let hitter = lesson.hitters.get(hitter_of(target)).ok_or(Error::WorkerLost)?;
    if let Make::Read { day, clip, .. } = &target.make {
        return reading::read(clip, &read_options(hitter, *day, limits), talk, cancel).map(drop);
    }
    if let Make::Find { recording, .. } = &target.make {
        return Err(Error::Usage(messages::lesson::find_by_reps(recording)));
    }
    let folder = target.output.parent().unwrap_or(Path::new("."));
    std::fs::create_dir_all(folder).map_err(|e| Error::writing(folder, &e))?;
    let how = how(lesson, target);
    let read = Reader { hitter, limits, talk, cancel };
    match &target.make {
        Make::Read { .. } | Make::Find { .. } => (),
        Make::Spread { day, .. } => {
            let (readings, _) = read.day(*day)?;
            let readings: Vec<&Reading> = readings.iter().collect();
            let name = &hitter.days.get(*day).ok_or(Error::WorkerLost)?.name;
            let (spread, _) = pairing::spread(&readings);
            write_file(&target.output, &spread_png(hitter, name, &readings, &spread)?)?;
        }
        Make::Clip { .. } => shown(&read, &target.output, true)?,
        Make::Sheet { .. } => shown(&read, &target.output, false)?,
        Make::Page { .. } => page(lesson, &read, &target.output)?,
    }
    keep_stamp(lesson, target, &how)
}

/// Reads the reps of one hitter.
pub struct Reader<'a> {
    pub hitter: &'a Hitter,
    pub limits: &'a Limits,
    pub talk: &'a Talk,
    pub cancel: &'a Cancel,
}

impl Reader<'_> {
    /// Every rep of a day that can be read and is this hitter's, and what is to be said of the others.
    pub fn day(&self, day: usize) -> Result<(Vec<Reading>, Vec<Warning>)> {
        let options = read_options(self.hitter, Some(day), self.limits);
        let mut readings = Vec::new();
        let mut warnings = Vec::new();
        for rep in self.hitter.days.get(day).map(|d| d.reps.as_slice()).unwrap_or_default() {
            match reading::read(&rep.side, &options, self.talk, self.cancel) {
                // Read as the lesson says; a picture that clearly shows another side is somebody else's.
                Ok(read) => match self.hitter.bats.filter(|_| is_against_picture(&read.reading)) {
                    None => readings.push(read.reading),
                    Some(bats) => warnings.push(other_side(&rep.side, bats)),
                },
                Err(Error::Cancelled) => return Err(Error::Cancelled),
                Err(e) => {
                    warnings.push(Warning::new("rep_not_read", messages::lesson::not_read(&rep.side, &e)));
                }
            }
        }
        Ok((readings, warnings))
    }

    /// Whether the rep can be read as its day's are; one of no day as it is.
    fn can_read(&self, rep: &Rep) -> bool {
        let day = self.hitter.days.iter().position(|d| d.reps.contains(rep));
        let options = read_options(self.hitter, day, self.limits);
        reading::read(&rep.side, &options, self.talk, self.cancel).is_ok()
    }
}

fn is_against_picture(reading: &Reading) -> bool {
    reading.warnings.iter().any(|w| w.code == "hitter_against_picture")
}

fn other_side(clip: &Path, bats: Side) -> Warning {
    Warning::new("other_side", messages::lesson::other_side(clip, bats))
}

/// A day's spread as a picture.
fn spread_png(hitter: &Hitter, day: &str, readings: &[&Reading], spread: &RepSpread) -> Result<Vec<u8>> {
    let title = format!("{}, {day}", hitter.name);
    report::png_from_frame(&report::spread_picture(&title, readings, spread)?)
}

/// The rep nearest the middle of a day, else the first that counts.
pub fn typical(spread: &RepSpread) -> Option<usize> {
    spread.nearest.or_else(|| spread.reps.iter().position(|r: &GoodRep| r.left_out.is_none()))
}

/// What the last day is compared with.
pub struct Reference {
    pub reps: Vec<Rep>,
    pub labels: [String; 2],
}

/// The reps named good, else those marked good on the disk, else the first day's.
pub fn reference(hitter: &Hitter, today: &Path) -> Option<Reference> {
    let (_, last) = hitter.last_day()?;
    let first = hitter.days.iter().find(|d| !d.reps.is_empty())?;
    let others = |reps: &mut dyn Iterator<Item = &Rep>| -> Vec<Rep> {
        reps.filter(|r| r.side != today).cloned().collect()
    };
    let marked = |r: &&Rep| store::kept(&r.side).is_some_and(|k| k.rating.is_some());
    let mut good = others(&mut hitter.good.iter());
    if good.is_empty() {
        good = others(&mut hitter.days.iter().flat_map(|d| &d.reps).filter(marked));
    }
    let labels = |reference: &str| {
        hitter
            .labels
            .clone()
            .unwrap_or_else(|| [messages::lesson::short_day(&last.name), reference.to_owned()])
    };
    if !good.is_empty() {
        return Some(Reference { reps: good, labels: labels(messages::english().one_good_rep()) });
    }
    (first.name != last.name).then(|| Reference {
        reps: first.reps.clone(),
        labels: labels(&messages::lesson::short_day(&first.name)),
    })
}

/// The last day's typical rep against the reference, as a clip or a sheet; without a reference that rep alone.
fn shown(read: &Reader, output: &Path, as_clip: bool) -> Result<()> {
    let hitter = read.hitter;
    let (day, last) = hitter.last_day().ok_or(Error::WorkerLost)?;
    let (readings, warnings) = read.day(day)?;
    let all: Vec<&Reading> = readings.iter().collect();
    let (spread, _) = pairing::spread(&all);
    let today = typical(&spread).and_then(|i| all.get(i)).ok_or_else(|| {
        let reported = warnings.first().map(|w| w.text.clone()).unwrap_or_default();
        Error::Usage(messages::lesson::no_rep_read(&hitter.name, &last.name, &reported))
    })?;
    let today = last.reps.iter().find(|r| r.side == today.clip.path).ok_or(Error::WorkerLost)?;
    let mut reference = reference(hitter, &today.side);
    if let Some(found) = &mut reference {
        // One bad film takes nothing else with it.
        found.reps.retain(|rep| read.can_read(rep));
    }
    let reference = reference.filter(|r| !r.reps.is_empty());
    let mut given: Vec<String> = vec!["swingpair".to_owned()];
    match (&reference, as_clip) {
        (Some(r), _) => {
            given.push(if as_clip { "pair" } else { "sheet" }.to_owned());
            // Two angles of each, where today was filmed from two and pictures are shown side by side.
            let both = as_clip && today.behind.is_some();
            let words = |rep: &Rep| if both { rep.words() } else { rep.side.display().to_string() };
            given.push(words(today));
            given.extend(r.reps.iter().map(words));
        }
        (None, true) => given.extend(["clip".to_owned(), today.side.display().to_string()]),
        (None, false) => return Err(Error::Usage(messages::lesson::nothing_to_compare(&hitter.name))),
    }
    given.extend(["-o".to_owned(), output.display().to_string()]);
    given.extend(looking_words(hitter, Some(day)));
    if let (Some(wanted), true) = (&hitter.wanted.clip, as_clip) {
        let alone = reference.is_none();
        match Ready::from_word(wanted) {
            Some(_) if alone => (),
            Some(ready) => given.extend(["--ready".to_owned(), ready.word().to_owned()]),
            None => given.extend(["--plan".to_owned(), wanted.clone()]),
        }
    }
    let words = Arguments::try_parse_from(&given).map_err(|e| Error::Usage(e.to_string()))?;
    let labels = reference.map(|r| (r.labels[0].clone(), r.labels[1].clone()));
    match words.job {
        Job::Pair(mut args) => {
            args.swings.labels = labels;
            args.swings.find_references()?;
            pair::run(&args, read.talk, read.cancel)
        }
        Job::Sheet(mut args) => {
            args.swings.labels = labels;
            args.swings.find_references()?;
            sheet::run(&args, read.talk, read.cancel)
        }
        Job::Clip(mut args) => {
            args.label = Some(messages::lesson::short_day(&last.name));
            clip::run(&args, read.talk, read.cancel)
        }
        _ => Err(Error::WorkerLost),
    }
}

/// Everything of one hitter on one page.
fn page(lesson: &Lesson, read: &Reader, output: &Path) -> Result<()> {
    let hitter = read.hitter;
    let days = days(read)?.read;
    let by_day: Vec<Vec<&Reading>> = days.iter().map(counted).collect();
    let trends = pairing::trends(&by_day, &hitter.watch);
    let mut shown = Vec::new();
    for day in &days {
        let readings: Vec<&Reading> = day.readings.iter().collect();
        let picture_png = spread_png(hitter, &day.name, &readings, &day.spread)?;
        shown.push(report::PageDay {
            name: &day.name,
            readings: counted(day),
            spread: &day.spread,
            picture_png,
            warnings: &day.warnings,
        });
    }
    let clip = lesson_clip(lesson, read)?;
    let clip_name = clip.as_ref().map(|c| swingpair::types::file_name(&c.path)).unwrap_or_default();
    let reported = hitter.last_day().map(|(_, d)| messages::lesson::clip_told(&d.name)).unwrap_or_default();
    let looked_at = trends.iter().filter(|t| t.needed.is_some()).count();
    let text = report::hitter_page(&report::HitterPage {
        name: &hitter.name,
        days: shown,
        trends: &trends,
        looked_at,
        alike: pairing::days_filmed_alike(&by_day),
        clip: clip.as_ref().map(|clip| report::HitterClip {
            clip: clip.inside.as_deref().map_or(PageClip::Beside(&clip_name), PageClip::Inside),
            size: clip.size,
            poster_png: &clip.poster_png,
            reported: &reported,
        }),
        warnings: &hitter.warnings,
    });
    write_file(output, text.as_bytes())
}

/// The hitter's clip as the page takes it.
struct PagesClip {
    path: PathBuf,
    /// The whole file, unless it is too large to be put into the page.
    inside: Option<Vec<u8>>,
    size: (usize, usize),
    poster_png: Vec<u8>,
}

/// The hitter's clip; made first where it is not there yet. The page goes without one that cannot be made.
fn lesson_clip(lesson: &Lesson, read: &Reader) -> Result<Option<PagesClip>> {
    let place = lesson.hitters.iter().position(|h| h == read.hitter);
    let mut all = swingpair::lesson::targets(lesson).into_iter();
    let Some(target) = all.find(|t| place.is_some_and(|hitter| t.make == Make::Clip { hitter })) else {
        return Ok(None);
    };
    let how = how(lesson, &target);
    if !is_current(lesson, &target, &how) {
        match shown(read, &target.output, true) {
            Ok(()) => keep_stamp(lesson, &target, &how)?,
            Err(Error::Cancelled) => return Err(Error::Cancelled),
            // Its own job tells why.
            Err(_) => return Ok(None),
        }
    }
    let path = target.output;
    let clip = media::Clip::open(&path, &media::OpenOptions::default())?;
    let bytes = std::fs::metadata(&path).map_err(|e| Error::reading(&path, &e))?.len();
    let inside = (bytes <= report::LARGEST_INSIDE).then(|| std::fs::read(&path)).transpose();
    let inside = inside.map_err(|e| Error::reading(&path, &e))?;
    let size = (clip.facts().width, clip.facts().height);
    Ok(Some(PagesClip { path, inside, size, poster_png: report::poster(&clip)? }))
}

/// A day, read.
pub struct ReadDay {
    pub name: String,
    pub readings: Vec<Reading>,
    pub spread: RepSpread,
    pub warnings: Vec<Warning>,
}

/// A hitter's days.
pub struct Days {
    /// Those of which a rep counts.
    pub read: Vec<ReadDay>,
    /// What is to be said of the others, each with its day.
    pub others: Vec<(String, Warning)>,
}

pub fn days(read: &Reader) -> Result<Days> {
    let mut days = Vec::new();
    let mut others = Vec::new();
    for (i, day) in read.hitter.days.iter().enumerate() {
        let (readings, mut warnings) = read.day(i)?;
        if readings.is_empty() {
            others.extend(warnings.into_iter().map(|w| (day.name.clone(), w)));
            continue;
        }
        let (spread, reported) = pairing::spread(&readings.iter().collect::<Vec<_>>());
        warnings.extend(reported);
        days.push(ReadDay { name: day.name.clone(), readings, spread, warnings });
    }
    Ok(Days { read: days, others })
}

/// The readings of a day that are counted.
pub fn counted(day: &ReadDay) -> Vec<&Reading> {
    day.readings
        .iter()
        .zip(&day.spread.reps)
        .filter(|(_, rep)| rep.left_out.is_none())
        .map(|(r, _)| r)
        .collect()
}
