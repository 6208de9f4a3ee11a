//! Many reps: their spread, what changed from day to day, a whole lesson.

use std::path::{Path, PathBuf};

use super::Captions;
use crate::types::{RepSpread, Side, Stray, Trend, Unit, Verdict};

pub(crate) fn same_swing(as_clip: &str) -> String {
    format!("it shows the same swing as {as_clip}")
}

/// A rep that is not counted among those whose spread is told.
pub fn rep_not_counted(clip: &str, why: &str) -> String {
    format!("{clip}: is not counted because {why}.")
}

pub(crate) fn few_to_spread(reps: usize, needed: usize) -> String {
    let have = match reps {
        0 => "No rep is left".to_owned(),
        1 => "One rep is not enough".to_owned(),
        n => format!("{n} reps are too few"),
    };
    format!("{have} to know how much this hitter’s reps differ: it takes {needed}, and ten is better.")
}

pub(crate) fn counted(reps: usize, of: usize) -> String {
    match (reps, of) {
        (1, 1) => "1 rep".to_owned(),
        (n, m) if n == m => format!("{n} reps"),
        (n, m) => format!("{n} of {m} reps counted"),
    }
}

/// A day of which no rep counts, instead of its tables.
pub fn none_counted(of: usize) -> String {
    match of {
        0 => "No rep from this day could be read, so there is nothing to compare.".to_owned(),
        1 => "The only rep from this day does not count, so there is nothing to compare.".to_owned(),
        n => format!("None of the {n} reps from this day counts, so there is nothing to compare."),
    }
}

/// "rep 3".
pub fn rep(place: usize) -> String {
    format!("rep {}", place + 1)
}

/// "Rep 3 is …", of a rep by its place; "One clip is …" of any other.
pub fn is(rep: Option<usize>, reported: &str) -> String {
    match rep {
        Some(place) => format!("Rep {} is {reported}", place + 1),
        None => format!("One clip is {reported}"),
    }
}

/// As everywhere: by its file, "wren-3.mp4".
pub fn rep_named(clip: &Path) -> String {
    crate::types::file_name(clip)
}

pub(crate) fn nearest_named(rep: &str) -> String {
    format!("Most typical: {rep}")
}

pub(crate) fn odd_named(rep: &str) -> String {
    format!("Odd one out: {rep}")
}

pub(crate) const NONE_ODD: &str = "No rep stands out from the others.";
pub(crate) const OTHER_REPS: &str = "other reps";
pub(crate) const HAND_PATHS: &str = "Hand path, load to extension";
pub(crate) const NO_PATHS: &str = "no hand paths could be drawn";
pub(crate) const TO_PITCHER: &str = "toward the pitcher";
pub(crate) const TO_PLATE: &str = "toward the plate";
pub(crate) const PATH_DOTS: &str = "Small dot: hands start. Large mark: contact.";
pub(crate) const MEASURES: &str = "Measures, one dot a rep";
pub(crate) const MEAN: &str = "mean";
pub(crate) const REAL_FROM: &str = "real from";
pub(crate) const REAL_CHANGE: &str = "smallest real change, with 1 / 3 / 5 reps on each day";
pub(crate) const TOO_FEW: &str = "too few reps";
pub(crate) const PICTURE_TOLD: &str = "Bodies are scaled to one size, with the feet at stance on one spot. Strips: the vertical line is \
    the mean, the band the spread (SD) of these reps; each strip has its own scale. “Real from”: between the means of three \
    reps on each of two days filmed alike, 95 of 100 differences without a real change are smaller. Estimates from one camera \
    view, not a diagnosis.";

impl Captions {
    /// A size in its unit, without sign or error: "6 ms", "1.2 cm".
    pub fn amount(&self, of: Unit, size: f64) -> String {
        format!("{}{}", self.bare_amount(of, size), self.unit(of))
    }

    /// The same without its unit.
    pub fn bare_amount(&self, of: Unit, size: f64) -> String {
        let size = size * self.times(of);
        let digits = usize::from(size.abs() < 9.95 && super::in_tenths(of));
        super::signed(size, digits)
    }
}

/// "6 ms (4–12)".
pub fn between(words: &Captions, of: Unit, size: f64, low: f64, high: f64) -> String {
    let [low, high] = [low, high].map(|v| words.bare_amount(of, v));
    format!("{} ({low}–{high})", words.amount(of, size))
}

/// "Front knee at contact: 120°, the others 160°".
pub fn strays(words: &Captions, stray: &Stray) -> String {
    let of = |value: f64| words.amount(stray.unit, value);
    format!("{}: {}, the others {}", words.measure(stray.measure), of(stray.value), of(stray.others))
}

pub const SPREAD: &str = "How much the reps differ";

pub fn no_reps(folder: &Path) -> String {
    format!(
        "{}: none of its reps has been read; read some with `swingpair read REP` or name the reps",
        folder.display()
    )
}

pub fn none_marked(folder: &Path, best: bool) -> String {
    let word = if best { "best" } else { "good" };
    format!(
        "{}: none of its reps is marked {word}; mark one with `swingpair mark REP {word}`",
        folder.display()
    )
}

pub fn several_best(clips: &[PathBuf]) -> String {
    let names: Vec<String> = clips.iter().map(|c| crate::types::file_name(c)).collect();
    format!(
        "{} are all marked best; keep one and change the others with `swingpair mark REP good`",
        names.join(" and ")
    )
}

pub(crate) fn day(place: usize) -> String {
    format!("Day {}", place + 1)
}

pub(crate) const UNDATED: &str =
    "Not every day has a date, so the days are taken in the order they are listed.";

pub(crate) fn missing(word: &str) -> String {
    format!("{word}: is missing and was skipped.")
}

pub(crate) fn empty_folder(word: &str) -> String {
    format!("{word}: there are no videos in this folder.")
}

pub(crate) fn nothing_to_draft(folder: &Path) -> String {
    format!(
        "{}: there are no videos in it; give each hitter a folder, with a folder for each day inside",
        folder.display()
    )
}

/// Over a drafted lesson.
pub const DRAFT_HEAD: &str = "\
# A lesson: who hit on which day, and what to make of it. Run it with: swingpair lesson FILE
# Paths are relative to this file. A rep is a video, SIDE+BEHIND (two angles of one swing), or a folder of videos.
# Worth adding to a [[hitter]]: bats = \"right\", height_cm = 176 (gives lengths in cm), good = [\"…\"] (reps to compare
# with; otherwise those marked with `swingpair mark REP good`, otherwise the first day's), watch = [\"stride_length\"]
# (what you are working on: watching fewer measures reveals smaller changes), labels = [\"Now\", \"Before\"].
# To a [[hitter.day]]: recordings = [\"…\"] (long videos in which reps are found), recorded_at_hz = 240.
# [make] at the top, or [hitter.make]: clip = \"quick\" (teach, before-after, one-rep, a plan file, none),
# sheet, spread, page = true or false.
";

pub(crate) const CLIP: &str = "Clip";
pub(crate) const TRENDS: &str = "From day to day";
pub(crate) const THEN: &str = "→";
pub(crate) const NUMBERS: &str = "The numbers";
pub(crate) const SPREAD_HEAD: [&str; 7] =
    ["", "reps", "mean", "spread (SD)", "real from, 1 rep a day", "3 reps", "5 reps"];
pub(crate) const ONE_DAY: &str = "One day so far: changes are shown from the second day on.";
pub(crate) const NO_CHANGE: &str = "No measure changed more than this hitter’s reps usually vary.";
pub(crate) const TOO_FEW_FOR_CHANGE: &str =
    "Too few reps to tell whether anything changed: it takes three on the first day and three on the last.";
pub(crate) const BANDS_TOLD: &str = "Days: every rep is a dot, the line joins the means of the days, and the vertical bars should \
    contain the true mean in 95 of 100 cases. The spread of the reps is estimated from all days together.";

/// Over the plots of the days.
pub fn trends_told(looked_at: usize, alike: bool) -> String {
    let measures = match looked_at {
        1 => "the one measure watched".to_owned(),
        n => format!("all {n} measures together"),
    };
    if looked_at == 0 {
        return "No measure has enough reps to tell a change from chance; every dot is a rep.".to_owned();
    }
    let chance = format!(
        "A change is called real when it is larger than chance alone would make it; for {measures}, that is wrong on at \
         most 1 page in 20 (Holm’s method)."
    );
    let filmed = if alike {
        ""
    } else {
        " The days are not filmed alike (frame rate or size of the body), which makes all bars longer: always film from one place."
    };
    chance + filmed
}

pub(crate) fn under_name(
    side: Option<&str>,
    view: Option<&str>,
    reps: usize,
    first: &str,
    last: &str,
) -> String {
    let mut parts = Vec::new();
    parts.extend(side.map(|s| format!("bats {s}")));
    parts.extend(view.map(|v| format!("seen from {v}")));
    parts.push(if reps == 1 { "1 rep".to_owned() } else { format!("{reps} reps") });
    parts.push(if first == last { first.to_owned() } else { format!("{first} to {last}") });
    parts.join(", ")
}

/// "−9.1 ± 3.2 cm".
pub fn change(words: &Captions, t: &Trend) -> String {
    let size = words.bare_amount(t.unit, t.change);
    let sign = if t.change > 0.0 && size.chars().any(|c| c.is_ascii_digit() && c != '0') { "+" } else { "" };
    match t.plus_minus {
        Some(pm) => format!("{sign}{size} ± {}", words.amount(t.unit, pm)),
        None => format!("{sign}{size}{}", words.unit(t.unit)),
    }
}

/// The change and what it amounts to.
pub fn change_said(words: &Captions, t: &Trend) -> String {
    let said = match t.verdict {
        Verdict::Bigger => "a real change",
        Verdict::Within => "no more than chance",
        Verdict::CantTell if t.plus_minus.is_some() => "not watched",
        Verdict::CantTell => "too few reps to tell",
    };
    format!("{}: {said}", change(words, t))
}

/// A number at an axis.
pub fn axis(value: f64) -> String {
    let digits = usize::from(value.abs() < 10.0 && (value - value.round()).abs() > 1e-6);
    super::signed(value, digits)
}

pub fn own_lesson_kept(file: &Path) -> String {
    format!(
        "{}: is a lesson of your own and was not changed; choose an empty folder for the demo",
        file.display()
    )
}

pub const DRAFTED: &str =
    "Drafted. Add heights, batting sides and what you are working on, then run: swingpair lesson FILE";
pub const MADE: &str = "made";
pub const STANDS: &str = "unchanged";
pub const NOT_MADE: &str = "NOT MADE";
pub const NO_REP: &str = "no rep could be read";

/// Beside the printed jobs.
pub fn reps_unknown(recordings: usize) -> String {
    format!(
        "The reps in {recordings} long video(s) are not known yet: run the lines that begin with `swingpair reps`, then \
         print the jobs again."
    )
}

pub fn find_by_reps(recording: &Path) -> String {
    format!("{}: find its reps with `swingpair reps`, as printed by --jobs", recording.display())
}

/// Why one failed is printed once, when all are done.
pub fn job_ended(name: &str, took_s: f64, failed: bool) -> String {
    if failed { format!("{name} failed") } else { format!("{name} ({took_s:.1} s)") }
}

/// `why` begins with a file's place, most often with that of `name`.
pub fn failed(name: &str, why: &str) -> String {
    let told_already = why.split(": ").next().is_some_and(|place| place == name || place.ends_with(name));
    if told_already { why.to_owned() } else { format!("{name}: {why}") }
}

pub(crate) fn not_read(clip: &Path, why: &str) -> String {
    let name = crate::types::file_name(clip);
    // An error begins with the file's whole place.
    let why = why.strip_prefix(&format!("{}: ", clip.display())).unwrap_or(why);
    format!("{name}: is not counted because it could not be read ({why}).")
}

pub(crate) fn other_side(clip: &str, bats: Side) -> String {
    let is = if bats == Side::Left { Side::Right } else { Side::Left };
    format!(
        "{clip}: is not counted because the hitter bats {} in it and the lesson says {}: it shows another hitter, or is mirrored.",
        super::side(is),
        super::side(bats)
    )
}

pub fn no_rep_read(hitter: &str, day: &str, why: &str) -> String {
    format!("{hitter}, {day}: no rep could be read; {why}")
}

pub fn nothing_to_compare(hitter: &str) -> String {
    format!(
        "{hitter}: with one day and no good rep, there is nothing to compare with; mark one with `swingpair mark REP good`"
    )
}

/// What the clip of the page shows.
pub fn clip_told(day: &str) -> String {
    format!("The most typical rep of {day}.")
}

pub fn day_summary(day: &str, spread: &RepSpread, typical: Option<usize>) -> String {
    let name = |i: usize| spread.reps.get(i).map(|r| crate::types::file_name(&r.clip)).unwrap_or_default();
    let mut said = format!("{day}: {}", counted(spread.counted, spread.reps.len()));
    if let Some(i) = typical {
        said.push_str(&format!(", typical {}", name(i)));
    }
    if let Some(odd) = &spread.odd {
        let by = odd.by.first().map(|s| strays(super::english(), s)).unwrap_or_default();
        said.push_str(&format!(", odd {} ({by})", name(odd.rep)));
    }
    said
}

/// A date where there is little room: "2026-04-04" → "Apr 4"; other names as they are.
pub fn short_day(name: &str) -> String {
    const MONTHS: [&str; 12] =
        ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let mut parts = name.split('-').map(str::parse::<usize>);
    let date = (parts.next(), parts.next(), parts.next(), parts.next());
    match date {
        (Some(Ok(_)), Some(Ok(month)), Some(Ok(day)), None) => {
            MONTHS.get(month.wrapping_sub(1)).map_or_else(|| name.to_owned(), |m| format!("{m} {day}"))
        }
        _ => name.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failure_names_its_file_once_and_no_measure_is_no_number() {
        assert_eq!(failed("/a/rep.mp4", "/a/rep.mp4: no swing"), "/a/rep.mp4: no swing");
        assert_eq!(failed("wren/page.html", "wren: no rep"), "wren/page.html: wren: no rep");
        assert!(!trends_told(0, true).contains('0') && trends_told(9, true).contains("all 9 measures"));
    }

    #[test]
    fn dates_are_short_where_room_is_little() {
        for (name, short) in
            [("2026-04-04", "Apr 4"), ("Day 2", "Day 2"), ("2026-13-04", "2026-13-04"), ("a-b", "a-b")]
        {
            assert_eq!(short_day(name), short);
        }
    }
}
