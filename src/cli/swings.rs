//! Today's rep and the references, read and paired: what every job with two swings begins with.

use std::path::{Path, PathBuf};

use swingpair::compose::{ClipOptions, ClipSide};
use swingpair::draw::Letters;
use swingpair::messages;
use swingpair::pairing;
use swingpair::reading::{self, ReadClip, ReadOptions};
use swingpair::store::{self, Rating};
use swingpair::types::{Cancel, Cutouts, Error, Pairing, Progress, Reading, Result, Warning, file_name};

use super::args::Swings;
use super::at_once::two_at_a_time;
use super::progress::Talk;
use super::rep::{Rep, share_measures};
use super::warn;

/// Both sides, read and lined up.
pub struct Paired {
    pub today: Rep,
    pub references: Vec<Rep>,
    /// Place in `references` of the one that is shown.
    pub place: usize,
    pub pairing: Pairing,
    pub warnings: Vec<Warning>,
    /// Names of the two, today's first.
    pub labels: (String, String),
    /// The shown reference's reading as it was filmed, where its mirror image is shown.
    own: Option<Reading>,
}

impl Swings {
    pub fn inputs(&self) -> impl Iterator<Item = &PathBuf> {
        std::iter::once(&self.today).chain(&self.references).chain(self.behinds.iter().flatten())
    }

    /// With `--from`, the references that a folder holds: the reps marked good, or the one marked best.
    pub fn find_references(&mut self) -> Result<()> {
        self.part_angles()?;
        let Some(folder) = &self.from else { return Ok(()) };
        let mut found = store::list(folder)?;
        found.retain(|rep| match rep.rating {
            Some(Rating::Best) => true,
            Some(Rating::Good) => !self.best,
            None => false,
        });
        // Today's own rep may lie there and be a good one.
        let today = store::content_hash(&self.today).ok();
        found.retain(|rep| today.is_none() || store::content_hash(&rep.clip).ok() != today);
        self.references = found.into_iter().map(|rep| rep.clip).collect();
        match (self.references.as_slice(), self.best) {
            ([], best) => Err(Error::Usage(messages::lesson::none_marked(folder, best))),
            ([_, _, ..], true) => Err(Error::Usage(messages::lesson::several_best(&self.references))),
            _ => Ok(()),
        }
    }

    /// Reps given as SIDE+BEHIND are parted into their two clips.
    fn part_angles(&mut self) -> Result<()> {
        for rep in std::iter::once(&mut self.today).chain(&mut self.references) {
            let (first, second) = store::parted(rep, Path::new(""))?;
            *rep = first;
            self.behinds.push(second);
        }
        Ok(())
    }

    /// The rep at this place, today's first.
    fn rep(
        &self,
        place: usize,
        first: &Path,
        options: &ReadOptions,
        progress: &dyn Progress,
        cancel: &Cancel,
    ) -> Result<(Rep, Vec<Warning>)> {
        let second = self.behinds.get(place).and_then(Option::as_deref);
        super::rep::read(first, second, options, self.distances, progress, cancel)
    }

    /// Read and pair; what is wrong with the words is told before long work is begun. `names` of a plan stand in
    /// where no labels are given. `mirror`: the references are shown, and laid over today's, as their mirror images.
    pub fn paired(
        &self,
        names: Option<[String; 2]>,
        mirror: bool,
        captions: &messages::Captions,
        talk: &Talk,
        cancel: &Cancel,
    ) -> Result<Paired> {
        check_lengths(self)?;
        if let Some((a, b)) = &self.labels {
            let letters = Letters::new()?;
            letters.check(a).and_then(|()| letters.check(b))?;
        }
        let (reps, mut warnings) = different_reps(self)?;
        let read = two_at_a_time(reps.len() + 1, talk, cancel, |n, progress, cancel| {
            match n.checked_sub(1).and_then(|i| reps.get(i)) {
                None => self.rep(0, &self.today, &self.looking.options(), progress, cancel),
                Some((place, path)) => {
                    self.rep(place + 1, path, &self.reference_options(*place), progress, cancel)
                }
            }
        })?;
        let (read, reported): (Vec<Rep>, Vec<Vec<Warning>>) = read.into_iter().unzip();
        warnings.extend(reported.into_iter().flatten());
        let mut read = read.into_iter();
        let mut today = read.next().ok_or(Error::WorkerLost)?;
        let mut references: Vec<Rep> = read.collect();
        share_measures(&mut std::iter::once(&mut today).chain(&mut references).collect::<Vec<_>>());
        let filmed: Vec<Reading> = references.iter().map(|r| r.first.reading.clone()).collect();
        if mirror {
            mirror_all(&today, &mut references)?;
        }
        let readings: Vec<_> = references.iter().map(|r| &r.first.reading).collect();
        let (pairing, reported) = pairing::pair_with_reps(&today.first.reading, &readings, self.sync)?;
        warnings.extend(reported);
        let place = pairing.good_reps.as_ref().map_or(0, |g| g.shown);
        if place >= references.len() {
            return Err(Error::Usage(messages::command::NO_REFERENCE_LEFT.to_owned()));
        }
        let labels = self.labels.clone().or_else(|| names.map(|[a, b]| (a, b))).unwrap_or_else(|| {
            let several = pairing.good_reps.is_some();
            let reference = if several { captions.one_good_rep() } else { captions.reference() };
            (captions.today().to_owned(), reference.to_owned())
        });
        let own = filmed.into_iter().nth(place).filter(|_| mirror);
        Ok(Paired { today, references, place, pairing, warnings, labels, own })
    }
}

impl Paired {
    /// Today's, then the shown reference, as the clip and the sheet take them.
    pub fn sides(&self) -> Result<[ClipSide<'_>; 2]> {
        let shown = self.references.get(self.place).ok_or(Error::WorkerLost)?;
        let (a, b) = (&self.labels.0, &self.labels.1);
        fn side<'a>(rep: &'a Rep, label: &'a str, mirrored: bool) -> ClipSide<'a> {
            let ReadClip { clip, reading } = &rep.first;
            ClipSide { clip, reading, label, second: rep.second(), mirrored }
        }
        Ok([side(&self.today, a, false), side(shown, b, self.own.is_some())])
    }

    /// The shown reference's reading as it was filmed.
    pub fn reference(&self) -> Result<&Reading> {
        let shown = self.references.get(self.place).map(|r| &r.first.reading);
        self.own.as_ref().or(shown).ok_or(Error::WorkerLost)
    }
}

/// Turn the references' readings into those of their mirror images.
fn mirror_all(today: &Rep, references: &mut [Rep]) -> Result<()> {
    let bats = today.first.reading.hitter.bats;
    if references.iter().any(|r| r.first.reading.hitter.bats == bats) {
        return Err(Error::Usage(messages::nothing_to_mirror(bats)));
    }
    for rep in references {
        let second = rep.second.as_mut().map(|(read, _)| read);
        for read in [Some(&mut rep.first), second].into_iter().flatten() {
            read.reading = pairing::mirrored(&read.reading);
        }
    }
    Ok(())
}

/// What the ghosts of a clip are cut out by, kept beside the reference; `None` where no ghost is shown.
pub fn cutouts(
    options: &ClipOptions,
    paired: &Paired,
    talk: &Talk,
    cancel: &Cancel,
) -> Result<Option<Cutouts>> {
    if paired.pairing.registration.is_none() || !options.shows_ghost() {
        return Ok(None);
    }
    let clip = &paired.references.get(paired.place).ok_or(Error::WorkerLost)?.first.clip;
    let reading = paired.reference()?;
    let (cutouts, reported) = reading::kept_cutouts(clip, reading, talk, cancel)?;
    warn(talk, "", reported.as_slice());
    let width = reading.clip.width;
    Ok(Some(if paired.own.is_some() { pairing::mirrored_cutouts(&cutouts, width) } else { cutouts }))
}

/// What is to be known of each clip, then of the pair.
pub fn warn_all(talk: &Talk, today: &Rep, references: &[Rep], warnings: &[Warning]) {
    warn(talk, "today: ", &today.first.reading.warnings);
    for (i, rep) in references.iter().enumerate() {
        let whose = if references.len() == 1 {
            "reference: ".to_owned()
        } else {
            format!("{}: ", messages::english().good_rep(i, references.len()).to_lowercase())
        };
        warn(talk, &whose, &rep.first.reading.warnings);
    }
    warn(talk, "", warnings);
}

/// A reference and its place in the words.
type Placed<'a> = (usize, &'a PathBuf);

/// The references with their places in the words, each recording once, whatever its name: a rep counted twice
/// would make the good reps look more alike than they are.
fn different_reps(args: &Swings) -> Result<(Vec<Placed<'_>>, Vec<Warning>)> {
    let given = args.reference_keypoints.len();
    if given > 0 && given != args.references.len() {
        return Err(Error::Usage(messages::command::keypoints_count(given, args.references.len())));
    }
    let several = args.references.len() > 1;
    // A file that cannot be read is told of when it is read.
    let today = store::content_hash(&args.today).ok();
    let (mut kept, mut hashes, mut warnings) = (Vec::new(), Vec::new(), Vec::new());
    for (place, path) in args.references.iter().enumerate() {
        let hash = store::content_hash(path).ok();
        if hash.is_some() && hash == today {
            if several {
                return Err(Error::Usage(messages::command::is_today(path)));
            }
            warnings.push(Warning::SameClip);
        }
        if hash.is_some() && hashes.contains(&hash) {
            warnings.push(Warning::RepGivenTwice { clip: file_name(path) });
            continue;
        }
        hashes.push(hash);
        kept.push((place, path));
    }
    Ok((kept, warnings))
}

/// A length marked in one picture says nothing about another clip: lengths of one in cm and of the other in body
/// heights could not be compared.
fn check_lengths(args: &Swings) -> Result<()> {
    let (given, wanted) = (args.reference_known_length.len(), args.references.len());
    if given > 1 && given != wanted {
        return Err(Error::Usage(messages::command::lengths_count(given, wanted)));
    }
    let other_scale = args.looking.height.is_some() || args.looking.bat.is_some();
    if args.looking.known_length.is_some() != (given > 0) && !other_scale {
        return Err(Error::Usage(messages::command::LENGTH_OF_ONE_CLIP.to_owned()));
    }
    Ok(())
}
