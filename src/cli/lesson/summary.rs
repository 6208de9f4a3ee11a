//! What a lesson came to, on one screen.

use std::path::Path;

use swingpair::lesson::{Lesson, Make, targets};
use swingpair::messages;
use swingpair::pairing;
use swingpair::types::{Cancel, Limits, Result, Verdict, Warning};

use super::End;
use super::jobs::Ended;
use super::make::{Days, Reader, counted, days, typical};
use crate::cli::print;
use crate::cli::progress::Talk;

pub fn tell(lesson: &Lesson, ended: &[Ended], limits: &Limits, talk: &Talk, cancel: &Cancel) -> Result<End> {
    let quiet = Talk::new(true);
    let mut odd = false;
    let mut notes: Vec<String> = Vec::new();
    let units = lesson.units.unwrap_or_default();
    let words = messages::english_in(units);
    for hitter in &lesson.hitters {
        print(&hitter.name)?;
        let Days { read, others } = days(&Reader { hitter, units, limits, talk: &quiet, cancel })?;
        for day in &read {
            print(&format!(
                "  {}",
                messages::lesson::day_summary(&day.name, &day.spread, typical(&day.spread))
            ))?;
        }
        if read.is_empty() {
            print(&format!("  {}", messages::lesson::NO_REP))?;
        }
        let trends = pairing::trends(&read.iter().map(counted).collect::<Vec<_>>(), &hitter.watch);
        for t in trends.iter().filter(|t| t.verdict == Verdict::Bigger) {
            print(&format!("  {} {}", words.measure(t.measure), messages::lesson::change_said(words, t)))?;
        }
        let of_read = read.iter().flat_map(|d| d.warnings.iter().map(move |w| (&d.name, w)));
        for (day, warning) in of_read.chain(others.iter().map(|(day, w)| (day, w))) {
            // That there are few reps is no fault of the lesson.
            odd |= !matches!(warning, Warning::FewReps { .. });
            let text = messages::warning(warning);
            print(&format!("  note: {day}: {text}"))?;
            notes.push(text);
        }
    }
    print("")?;
    for target in targets(lesson).iter().filter(|t| !matches!(t.make, Make::Read { .. })) {
        let fresh = ended.iter().find(|e| e.target == *target);
        let state = match fresh {
            Some(e) if e.failure.is_some() => messages::lesson::NOT_MADE,
            Some(_) => messages::lesson::MADE,
            None => messages::lesson::STANDS,
        };
        print(&format!("{state:<10} {}", target.output.display()))?;
    }
    let failed: Vec<&Ended> = ended.iter().filter(|e| e.failure.is_some()).collect();
    super::tell_warnings(lesson, talk);
    for e in &failed {
        // What the day's note tells is not told again.
        let noted = |clip: &Path| notes.iter().any(|n| n.contains(&swingpair::types::file_name(clip)));
        if matches!(&e.target.make, Make::Read { day: Some(_), clip, .. } if noted(clip)) {
            continue;
        }
        let why = e.failure.as_deref().unwrap_or_default();
        talk.say(&format!("warning: {}", messages::lesson::failed(&e.target.name, why)));
    }
    Ok(if !odd && failed.is_empty() && lesson.hitters.iter().all(|h| h.warnings.is_empty()) {
        End::Done
    } else {
        End::WithWarnings
    })
}
