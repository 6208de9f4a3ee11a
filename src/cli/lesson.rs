//! A whole lesson: its jobs, each a run of this program of its own, side by side.

mod jobs;
mod make;
mod run;
mod summary;

use std::path::Path;

use swingpair::lesson::{self, Lesson, Make, Target, is_current, targets};
use swingpair::messages;
use swingpair::reading;
use swingpair::store;
use swingpair::store::write_file;
use swingpair::types::{Cancel, Error, Result, Units};

use super::args::LessonArgs;
use super::progress::Talk;
use super::{print, units, warn};

/// How a lesson ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    Done,
    /// Something is missing or failed; the rest is made.
    WithWarnings,
}

pub fn run(args: &LessonArgs, typed: Option<Units>, talk: &Talk, cancel: &Cancel) -> Result<End> {
    if let Some(folder) = &args.new {
        return draft(folder, talk).map(|()| End::Done);
    }
    let file =
        args.file.as_deref().ok_or_else(|| Error::Usage(messages::command::LESSON_NEEDED.to_owned()))?;
    let limits = args.allow.limits();
    let mut lesson = Lesson::from_file(file, &limits)?;
    lesson.units = Some(units::chosen(typed, lesson.units)?);
    if args.jobs {
        return jobs(&lesson, talk).map(|()| End::Done);
    }
    match &args.make {
        Some(name) => {
            let all = targets(&lesson);
            let target = all.iter().find(|t| t.name == *name).ok_or_else(|| unknown(&lesson, name, &all))?;
            make::make(&lesson, target, &limits, talk, cancel)?;
            Ok(End::Done)
        }
        None => run::all(&lesson, args, talk, cancel),
    }
}

fn unknown(lesson: &Lesson, name: &str, all: &[Target]) -> Error {
    let names: Vec<&str> = all.iter().map(|t| t.name.as_str()).collect();
    let near = store::nearest(name, &names);
    Error::Usage(messages::command::no_target(&lesson.file, name, near))
}

fn draft(folder: &Path, talk: &Talk) -> Result<()> {
    let file = folder.join("lesson.toml");
    if file.exists() {
        let cause = messages::command::LESSON_EXISTS.into();
        return Err(Error::Unwritable { path: file, cause });
    }
    write_file(&file, lesson::draft(folder)?.as_bytes())?;
    talk.say(messages::lesson::DRAFTED);
    print(&file.display().to_string())
}

/// One line each: what a shell runs, and behind # what it makes.
fn jobs(lesson: &Lesson, talk: &Talk) -> Result<()> {
    tell_warnings(lesson, talk);
    let all = targets(lesson);
    let unknown =
        all.iter().filter(|t| matches!(t.make, Make::Find { .. }) && !is_up_to_date(lesson, t)).count();
    if unknown > 0 {
        talk.say(&messages::lesson::reps_unknown(unknown));
    }
    for target in all {
        let words: Vec<String> = command(lesson, &target).iter().map(|w| quoted(w)).collect();
        let made = target.output.display().to_string().replace('\n', " ");
        print(&format!("swingpair {} # {made}", words.join(" ")))?;
    }
    Ok(())
}

/// What is wrong with what the lesson names.
fn tell_warnings(lesson: &Lesson, talk: &Talk) {
    for hitter in &lesson.hitters {
        warn(talk, &format!("{}: ", hitter.name), &hitter.warnings);
    }
}

/// A target as words of this program's command line.
fn command(lesson: &Lesson, target: &Target) -> Vec<String> {
    match &target.make {
        Make::Read { hitter, day, clip } => {
            let mut words = vec!["read".to_owned(), clip.display().to_string()];
            let hitter = lesson.hitters.get(*hitter);
            words.extend(hitter.map(|h| make::looking_words(h, *day)).unwrap_or_default());
            words
        }
        // Named by what it does, so that it can be run without the lesson.
        Make::Find { hitter, day, recording } => {
            let mut words = vec!["reps".to_owned(), recording.display().to_string()];
            words.extend(["--cut".to_owned(), target.output.display().to_string()]);
            let hitter = lesson.hitters.get(*hitter);
            words.extend(hitter.map(|h| make::looking_words(h, Some(*day))).unwrap_or_default());
            words
        }
        _ => vec![
            "lesson".to_owned(),
            lesson.file.display().to_string(),
            "--make".to_owned(),
            target.name.clone(),
        ],
    }
}

/// Whether the target lies there as it would be made.
fn is_up_to_date(lesson: &Lesson, target: &Target) -> bool {
    match &target.make {
        Make::Read { hitter, day, clip } => lesson.hitters.get(*hitter).is_some_and(|h| {
            let options = make::read_options(h, *day, &Default::default());
            store::kept(clip).is_some_and(|kept| reading::kept_reading(&kept, &options).is_some())
        }),
        _ => is_current(lesson, target, &make::how(lesson, target)),
    }
}

/// A word as any shell takes it (POSIX): in single quotes where it holds anything but plain letters.
fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_./:=,+@%".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        word.to_owned()
    } else {
        format!("'{}'", word.replace('\'', r"'\''"))
    }
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn words_survive_a_shell() {
        for word in ["plain-1.mp4", "day 1/it's \"one\" $HOME `x`;.mp4", "", "é*?"] {
            let out = std::process::Command::new("sh")
                .args(["-c", &format!("printf %s {}", quoted(word))])
                .output()
                .unwrap();
            assert_eq!(String::from_utf8(out.stdout).unwrap(), word);
        }
        assert_eq!(quoted("a/b-1.mp4"), "a/b-1.mp4");
    }
}
