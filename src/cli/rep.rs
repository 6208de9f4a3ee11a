//! A rep of one clip, or of two angles given as `OPEN+REAR`.

use std::path::{Path, PathBuf};

use swingpair::clip::{Second, SecondAngle};
use swingpair::ground::{Angles, Cancel, Error, Offset, Result, View, Warning, words};
use swingpair::reading::{self, AnglesOptions, ReadClip, ReadOptions};

use super::progress::Talk;

/// A rep as it was read; what the measures come from is `first`.
pub struct Rep {
    pub first: ReadClip,
    pub second: Option<(ReadClip, Offset)>,
}

impl Rep {
    pub fn second(&self) -> Option<Second<'_>> {
        let (read, offset) = self.second.as_ref()?;
        Some(Second { clip: &read.clip, angle: SecondAngle { reading: &read.reading, offset: *offset } })
    }
}

/// The two files that a word means; a name that is there as it is stays what it is.
pub fn split(word: &Path) -> Result<(PathBuf, Option<PathBuf>)> {
    let Some(text) = word.to_str().filter(|t| t.contains('+') && !word.exists()) else {
        return Ok((word.to_owned(), None));
    };
    let halves = |i: usize| Some((text.get(..i)?, text.get(i + 1..)?));
    let all: Vec<(&str, &str)> = text
        .match_indices('+')
        .filter_map(|(i, _)| halves(i))
        .filter(|(a, b)| !a.is_empty() && !b.is_empty())
        .collect();
    let there: Vec<_> = all.iter().filter(|(a, b)| Path::new(a).exists() && Path::new(b).exists()).collect();
    match (there.as_slice(), all.as_slice()) {
        ([(a, b)], _) => Ok((a.into(), Some(b.into()))),
        ([_, _, ..], _) => Err(Error::Usage(words::angles::several_splits(text))),
        // What is missing of the two is said when it is read.
        ([], [(a, b)]) => Ok((a.into(), Some(b.into()))),
        ([], _) => Err(Error::Missing { path: word.to_owned() }),
    }
}

/// Read a rep; of two angles each moment comes from the one that sees it better.
pub fn read(
    first: &Path,
    second: Option<&Path>,
    options: &ReadOptions,
    distances_m: Option<[f64; 2]>,
    talk: &Talk,
    cancel: &Cancel,
) -> Result<(Rep, Vec<Warning>)> {
    let Some(second) = second else {
        return Ok((Rep { first: reading::read(first, options, talk, cancel)?, second: None }, Vec::new()));
    };
    // Points, places and rates are about the first clip; what belongs to the hitter is about both.
    let other = ReadOptions {
        height_cm: options.height_cm,
        bat_cm: options.bat_cm,
        fresh: options.fresh,
        limits: options.limits,
        ..ReadOptions::default()
    };
    let options = AnglesOptions { reads: [options.clone(), other], distances_m, sound_alone: false };
    let (clips, angles, mut warnings) = reading::read_two_angles([first, second], &options, talk, cancel)?;
    let Angles { mut offset, .. } = angles;
    let [mut a, mut b] = clips;
    let side = |read: &ReadClip| matches!(read.reading.hitter.view, View::OpenSide | View::ClosedSide);
    if !side(&a) && side(&b) {
        std::mem::swap(&mut a, &mut b);
        offset = offset.turned();
        warnings.push(Warning::new("angles_turned", words::angles::turned(second)));
    }
    Ok((Rep { first: a, second: Some((b, offset)) }, warnings))
}

/// What only the second angles give is taken from them, where every rep has one: else two views would be compared.
pub fn share_measures(reps: &mut [&mut Rep]) {
    if reps.iter().any(|rep| rep.second.is_none()) {
        return;
    }
    for rep in reps {
        let Some((second, _)) = &rep.second else { continue };
        let reading = &mut rep.first.reading;
        for (id, measure) in &second.reading.measures {
            if !reading.measures.contains_key(id) {
                reading.measures.insert(*id, *measure);
                reading.absent.remove(id);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plus_parts_two_files_unless_one_of_that_name_is_there() {
        let dir = tempfile::tempdir().unwrap();
        let path = |name: &str| dir.path().join(name);
        for name in ["a.mp4", "b.mp4", "c+d.mp4", "c", "d.mp4"] {
            std::fs::write(path(name), "x").unwrap();
        }
        let both = PathBuf::from(format!("{}+{}", path("a.mp4").display(), path("b.mp4").display()));
        assert_eq!(split(&both).unwrap(), (path("a.mp4"), Some(path("b.mp4"))));
        assert_eq!(split(&path("c+d.mp4")).unwrap(), (path("c+d.mp4"), None));
        assert_eq!(split(&path("a.mp4")).unwrap(), (path("a.mp4"), None));
        let of_three = PathBuf::from(format!("{}+{}", path("a.mp4").display(), path("c+d.mp4").display()));
        assert_eq!(split(&of_three).unwrap(), (path("a.mp4"), Some(path("c+d.mp4"))));
        let gone = PathBuf::from(format!("{}+{}", path("a.mp4").display(), path("none.mp4").display()));
        assert_eq!(split(&gone).unwrap().1, Some(path("none.mp4")));
    }
}
