//! The lesson's file: TOML, written by hand or drafted.

use std::path::{Path, PathBuf};

use super::footage::{films_in, reps_from, reps_of};
use super::targets::found_folder;
use super::text::{DateText, HitterText, LessonText, MakeText};
use super::{Day, Hitter, Lesson, Wanted, beside, folder_name};
use crate::compose::Ready;
use crate::messages;
use crate::store::{from_toml, nearest};
use crate::types::{Bound, Error, HEIGHTS_CM, LessonFault, Limits, Result, TextFault, Warning, file_name};

/// The form of the file.
const FORM: u32 = 1;

impl Lesson {
    /// Read the file and look its footage up. What is missing is told in `warnings`; words that cannot be understood
    /// are an error.
    pub fn from_file(path: &Path, limits: &Limits) -> Result<Self> {
        let wrong = |cause: LessonFault| Error::Lesson { path: path.to_owned(), cause };
        let bytes = limits.read(Bound::PlanKb, path)?;
        let text = String::from_utf8(bytes).map_err(|_| wrong(TextFault::NotUtf8.into()))?;
        Self::from_text(path, &text).map_err(wrong)
    }

    /// The same from the text of the file `path`, beside which footage is looked for.
    pub fn from_text(path: &Path, text: &str) -> std::result::Result<Self, LessonFault> {
        let text: LessonText = from_toml(text.trim_start_matches('\u{feff}'))?;
        understood(path, text)
    }
}

fn understood(file: &Path, text: LessonText) -> std::result::Result<Lesson, LessonFault> {
    if text.lesson != FORM {
        return Err(LessonFault::OtherForm { form: text.lesson, known: FORM });
    }
    if text.hitter.is_empty() {
        return Err(LessonFault::NoHitter);
    }
    let output = beside(file, text.output.as_deref().unwrap_or("made".as_ref()));
    let mut hitters: Vec<Hitter> = Vec::new();
    for hitter in &text.hitter {
        let folder = folder_name(&hitter.name);
        let taken = hitters.iter().filter(|h| h.name == hitter.name).count();
        if taken > 0 {
            return Err(LessonFault::SameHitter { name: hitter.name.clone() });
        }
        let same = hitters
            .iter()
            .filter(|h| h.folder == folder || h.folder.starts_with(&format!("{folder}-")))
            .count();
        let folder = if same == 0 { folder } else { format!("{folder}-{}", same + 1) };
        let about = |fault| LessonFault::Hitter { name: hitter.name.clone(), fault: Box::new(fault) };
        let mut one = one(file, hitter, folder, text.make.as_ref()).map_err(about)?;
        with_found_reps(&output, &mut one);
        hitters.push(one);
    }
    Ok(Lesson { file: file.to_owned(), title: text.title, units: text.units, output, hitters })
}

/// Lengths of bats, cm.
const BATS_CM: std::ops::RangeInclusive<f64> = 40.0..=120.0;

fn one(
    file: &Path,
    text: &HitterText,
    folder: String,
    common: Option<&MakeText>,
) -> std::result::Result<Hitter, LessonFault> {
    let mut warnings = Vec::new();
    check_text(&text.name)?;
    text.labels.iter().flatten().try_for_each(|l| check_text(l))?;
    for (value, may_be, key) in [(text.height_cm, HEIGHTS_CM, "height_cm"), (text.bat_cm, BATS_CM, "bat_cm")]
    {
        if value.is_some_and(|v| !may_be.contains(&v)) {
            return Err(LessonFault::OutOfRange { key, low: *may_be.start(), high: *may_be.end() });
        }
    }
    let mut days = Vec::new();
    for (i, day) in text.day.iter().enumerate() {
        let about = |fault| LessonFault::Day { day: i, fault: Box::new(fault) };
        if day.recorded_at_hz.is_some_and(|hz| !(hz.is_finite() && hz > 0.0)) {
            return Err(about(LessonFault::NoRate));
        }
        day.name.as_deref().map_or(Ok(()), check_text).map_err(about)?;
        let date = day.date.as_ref().map(DateText::day).transpose().map_err(about)?;
        let name = date.clone().or_else(|| day.name.clone()).unwrap_or_else(|| messages::lesson::day(i));
        let found = reps_of(file, &day.reps, &mut warnings);
        let recordings = reps_of(file, &day.recordings, &mut warnings);
        let recordings = recordings.into_iter().map(|r| r.side).collect();
        days.push((
            date,
            Day {
                name,
                reps: found,
                recordings,
                recorded_at_hz: day.recorded_at_hz,
                pitcher: day.pitcher,
                ball: day.ball,
            },
        ));
    }
    if days.iter().all(|(date, _)| date.is_some()) {
        days.sort_by(|a, b| a.0.cmp(&b.0));
    } else if days.len() > 1 {
        warnings.push(Warning::DaysUndated);
    }
    let mut days: Vec<Day> = days.into_iter().map(|(_, day)| day).collect();
    given_twice(&mut days, &mut warnings)?;
    let good = reps_of(file, &text.good, &mut warnings);
    let make = |of: fn(&MakeText) -> Option<bool>| {
        text.make.as_ref().and_then(of).or_else(|| common.and_then(of)).unwrap_or(true)
    };
    let clip = text.make.as_ref().and_then(|m| m.clip.as_ref());
    let clip = clip.or_else(|| common.and_then(|m| m.clip.as_ref()));
    let wanted = Wanted {
        clip: clip_plan(file, clip.map(String::as_str))?,
        sheet: make(|m| m.sheet),
        spread: make(|m| m.spread),
        page: make(|m| m.page),
    };
    Ok(Hitter {
        name: text.name.clone(),
        folder,
        bats: text.bats,
        height_cm: text.height_cm,
        bat_cm: text.bat_cm,
        good,
        watch: text.watch.clone(),
        days,
        wanted,
        labels: text.labels.clone(),
        warnings,
    })
}

/// Reps that were found in a day's long films and lie there as films of their own.
fn with_found_reps(output: &Path, hitter: &mut Hitter) {
    for day in &mut hitter.days {
        for recording in &day.recordings {
            let films = films_in(&found_folder(output, &hitter.folder, recording));
            day.reps.extend(reps_from(&films));
        }
    }
}

/// A rep counts once, on the day it is given first; two days of one name would be made into one file.
fn given_twice(days: &mut [Day], warnings: &mut Vec<Warning>) -> std::result::Result<(), LessonFault> {
    let mut names: Vec<String> = Vec::new();
    let mut seen: Vec<PathBuf> = Vec::new();
    for day in days {
        if names.contains(&day.name) {
            return Err(LessonFault::SameDay { name: day.name.clone() });
        }
        names.push(day.name.clone());
        day.reps.retain(|rep| {
            let again = seen.contains(&rep.side);
            if again {
                warnings.push(Warning::RepGivenTwice { clip: file_name(&rep.side) });
            } else {
                seen.push(rep.side.clone());
            }
            !again
        });
    }
    Ok(())
}

fn clip_plan(file: &Path, word: Option<&str>) -> std::result::Result<Option<String>, LessonFault> {
    let known = Ready::ALL.map(Ready::word);
    match word {
        None => Ok(Wanted::default().clip),
        Some("none") => Ok(None),
        Some(word) if Ready::from_word(word).is_some() => Ok(Some(word.to_owned())),
        Some(word) => {
            let path = beside(file, Path::new(word));
            if path.is_file() {
                return Ok(Some(path.display().to_string()));
            }
            Err(LessonFault::NoClip {
                word: word.to_owned(),
                nearest: nearest(word, &known).map(str::to_owned),
                known: known.map(str::to_owned).into(),
            })
        }
    }
}

fn check_text(text: &str) -> std::result::Result<(), LessonFault> {
    let letters = text.chars().count();
    if text.trim().is_empty() || letters > 60 || text.chars().any(char::is_control) {
        return Err(LessonFault::NameLength);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Side;
    use std::fs;

    /// A folder with films (any bytes do here) and a lesson of this text.
    fn lesson(films: &[&str], text: &str) -> (tempfile::TempDir, Result<Lesson>) {
        let dir = tempfile::tempdir().unwrap();
        for film in films {
            let path = dir.path().join(film);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, film).unwrap();
        }
        let file = dir.path().join("lesson.toml");
        fs::write(&file, text).unwrap();
        let read = Lesson::from_file(&file, &Limits::default());
        (dir, read)
    }

    fn codes(lesson: &Lesson) -> Vec<&str> {
        lesson.hitters.iter().flat_map(|h| &h.warnings).map(crate::types::Warning::code).collect()
    }

    const ONE: &str = "lesson = 1\n[[hitter]]\nname = \"Wren\"\n[[hitter.day]]\n";

    #[test]
    fn days_reps_and_angles_are_found() {
        let films = ["d/rep2.mp4", "d/rep10.mov", "d/rep2_behind.mp4", "d/notes.txt", "x.mp4", "y.mp4"];
        let text = "lesson = 1\noutput = \"out\"\n[make]\nsheet = false\n[[hitter]]\nname = \"Wren C.\"\nbats = \"left\"\n\
            watch = [\"stride_length\"]\n[[hitter.day]]\ndate = \"2026-04-04\"\nreps = [\"x.mp4+y.mp4\"]\n\
            [[hitter.day]]\ndate = 2026-03-07\nreps = [\"d\"]\n";
        let (dir, read) = lesson(&films, text);
        let read = read.unwrap();
        assert_eq!(codes(&read), [""; 0]);
        assert_eq!(read.output, dir.path().join("out"));
        let hitter = &read.hitters[0];
        assert_eq!((hitter.folder.as_str(), hitter.bats), ("wren-c", Some(Side::Left)));
        assert!(!hitter.wanted.sheet && hitter.wanted.page);
        let names: Vec<&str> = hitter.days.iter().map(|d| d.name.as_str()).collect();
        assert_eq!(names, ["2026-03-07", "2026-04-04"]);
        let name = |p: &Path| crate::types::file_name(p);
        let reps: Vec<(String, Option<String>)> =
            hitter.days[0].reps.iter().map(|r| (name(&r.side), r.behind.as_deref().map(name))).collect();
        let two = ("rep2.mp4".to_owned(), Some("rep2_behind.mp4".to_owned()));
        assert_eq!(reps, [two, ("rep10.mov".to_owned(), None)]);
        assert_eq!(hitter.days[1].reps[0].behind, Some(dir.path().join("y.mp4")));
        let made: Vec<String> = super::super::targets(&read).into_iter().skip(5).map(|t| t.name).collect();
        let wanted = ["2026-03-07-spread.png", "2026-04-04-spread.png", "2026-04-04-clip.mp4", "wren-c.html"];
        assert_eq!(made, wanted.map(|w| format!("wren-c/{w}")));
    }

    #[test]
    fn wrong_words_are_named_with_line_and_nearest() {
        for (text, said) in [
            (ONE.replace("name", "nmae"), "line 3: unknown word “nmae”; did you mean “name”"),
            (format!("{ONE}dat = 2026-03-07\n"), "line 5: unknown word “dat”; did you mean “date”"),
            (
                ONE.replace("[[hitter]]\n", "[[hitter]]\nwatch = [\"stride_lenght\"]\n"),
                "did you mean “stride_length”",
            ),
            (ONE.replace("[[hitter]]\n", "[make]\nclip = \"quik\"\n[[hitter]]\n"), "did you mean “quick”"),
            (format!("{ONE}date = \"March 7\"\n"), "day 1: “March 7” is not a date"),
            (ONE.replace("lesson = 1", "lesson = 2"), "version 2"),
            ("lesson = 1\n".to_owned(), "names no hitter"),
            (ONE.replace("\"Wren\"", "\"Wren\"\nheight_cm = 17.6"), "height_cm must be"),
            (format!("{ONE}[[hitter]]\nname = \"Wren\"\n"), "two hitters are named “Wren”"),
            (format!("{ONE}date = 2026-03-07\n[[hitter.day]]\ndate = 2026-03-07\n"), "two days are named"),
            ("lesson = \n".to_owned(), "line 1"),
        ] {
            let (_dir, read) = lesson(&[], &text);
            let reported = read.unwrap_err().to_string();
            assert!(reported.contains(said), "{reported}\n{text}");
        }
    }

    #[test]
    fn what_is_missing_doubled_or_undated_is_told_and_the_rest_goes_on() {
        let text = format!(
            "{ONE}reps = [\"a.mp4\", \"gone.mp4\", \"a.mp4\", \"b.mp4+lost.mp4\", \"empty\"]\n[[hitter.day]]\nreps = [\"b.mp4\"]\n"
        );
        let (dir, _) = lesson(&["a.mp4", "b.mp4", "empty/.keep"], &text);
        let read = Lesson::from_file(&dir.path().join("lesson.toml"), &Limits::default()).unwrap();
        let reported = [
            "clip_missing",
            "clip_missing",
            "folder_empty",
            "days_undated",
            "rep_given_twice",
            "rep_given_twice",
        ];
        assert_eq!(codes(&read), reported);
        let hitter = &read.hitters[0];
        let reps: Vec<usize> = hitter.days.iter().map(|d| d.reps.len()).collect();
        assert_eq!((reps, hitter.days[1].name.as_str()), (vec![2, 0], "Day 2"));
    }

    #[test]
    fn hitters_whose_names_look_alike_keep_apart() {
        let text = format!("{ONE}[[hitter]]\nname = \"wren!\"\n[[hitter]]\nname = \"¿?\"\n");
        let (_dir, read) = lesson(&[], &text);
        let folders: Vec<String> = read.unwrap().hitters.into_iter().map(|h| h.folder).collect();
        assert_eq!(folders, ["wren", "wren-2", "hitter"]);
    }

    #[test]
    fn a_drafted_lesson_is_one() {
        let films = [
            "wren/2026-03-07/rep1.mp4",
            "wren/2026-03-07/rep1_behind.mp4",
            "ives/IMG_20260404_1.mov",
            "ives/b.mp4",
            "made/x.mp4",
        ];
        let (dir, _) = lesson(&films, "");
        let text = super::super::draft(dir.path()).unwrap();
        fs::write(dir.path().join("lesson.toml"), text).unwrap();
        let read = Lesson::from_file(&dir.path().join("lesson.toml"), &Limits::default()).unwrap();
        let names: Vec<(&str, usize)> =
            read.hitters.iter().map(|h| (h.name.as_str(), h.days.len())).collect();
        assert_eq!(names, [("Ives", 2), ("Wren", 1)]);
        assert!(read.hitters[1].days[0].reps[0].behind.is_some());
        let (empty, _) = lesson(&[], "");
        assert!(super::super::draft(empty.path()).unwrap_err().to_string().contains("no videos"));
    }
}
