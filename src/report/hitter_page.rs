//! A hitter's page: what changed from day to day, how much the reps of each day differ, the clip. It needs no network
//! and names no path or file of this computer.

mod trend_plot;

use maud::{Markup, html};

use super::page::{PageClip, Row, care, document, png_address, table, video};
use crate::messages::{self, Captions};
use crate::types::{DayMean, Measure, Reading, RepSpread, Trend, Verdict, Warning};

/// One day on the page.
pub struct PageDay<'a> {
    /// The date, or as the lesson names it.
    pub name: &'a str,
    /// Of its reps, in order.
    pub readings: Vec<&'a Reading>,
    /// How much they differ.
    pub spread: &'a RepSpread,
    /// The spread's picture.
    pub picture_png: Vec<u8>,
    /// What is to be known of its reps.
    pub warnings: &'a [Warning],
}

/// The hitter's clip.
pub struct HitterClip<'a> {
    /// The video and where it lies.
    pub clip: PageClip<'a>,
    /// Size of its pictures, px.
    pub size: (usize, usize),
    /// The still that stands for it until it plays.
    pub poster_png: &'a [u8],
    /// What it shows.
    pub reported: &'a str,
}

/// Everything a hitter's page shows.
pub struct HitterPage<'a> {
    /// The hitter's.
    pub name: &'a str,
    /// In the order of time.
    pub days: Vec<PageDay<'a>>,
    /// Of the measures that are watched.
    pub trends: &'a [Trend],
    /// How many measures were looked at for a change.
    pub looked_at: usize,
    /// All days are filmed alike (rate, size of the body).
    pub alike: bool,
    /// The video of the last day, if one was made.
    pub clip: Option<HitterClip<'a>>,
    /// What is to be known beside the days: missing films.
    pub warnings: &'a [Warning],
    /// English, in the units to be read.
    pub words: &'a Captions,
}

const STYLE: &str = include_str!("page.css");
const OWN_STYLE: &str = include_str!("hitter_page.css");

/// The page as one HTML file, without scripts from elsewhere.
pub fn hitter_page(page: &HitterPage) -> String {
    let body = html! {
        header { h1 { (page.name) } p { (under_name(page)) } }
        main {
            section class="news" { h2 { (messages::page::NEWS) } (news(page)) }
            @if let Some(clip) = &page.clip {
                section class="clip" {
                    h2 { (messages::lesson::CLIP) }
                    p { (clip.reported) }
                    (video(clip.clip, clip.size, clip.poster_png))
                }
            }
            @if page.days.len() > 1 {
                section {
                    h2 { (messages::lesson::TRENDS) }
                    p { (messages::lesson::trends_told(page.looked_at, page.alike)) }
                    div class="trends" { (trend_plot::plots(page)) }
                }
            }
            @for day in page.days.iter().rev() { (one_day(page.words, day)) }
            (cautions(page))
        }
    };
    document(page.name, &[STYLE, OWN_STYLE], &body)
}

fn under_name(page: &HitterPage) -> String {
    let reps: usize = page.days.iter().map(|d| d.spread.counted).sum();
    let hitter = page.days.iter().flat_map(|d| &d.readings).map(|r| &r.hitter).next();
    let (side, view) = (hitter.map(|h| messages::side(h.bats)), hitter.map(|h| messages::view(h.view)));
    let first = page.days.first().map_or("", |d| d.name);
    let last = page.days.last().map_or("", |d| d.name);
    messages::lesson::under_name(side, view, reps, first, last)
}

/// Real changes first, in words; then that there is none, or that nothing can be said.
fn news(page: &HitterPage) -> Markup {
    let real: Vec<&Trend> = page.trends.iter().filter(|t| t.verdict == Verdict::Bigger).collect();
    if !real.is_empty() {
        let item = |t: &Trend| {
            let [first, last] = ends(t).map(|d| d.map_or_else(String::new, |d| mean_words(page.words, t, d)));
            html! {
                li {
                    b { (page.words.measure(t.measure)) } " "
                    span class="change" { (messages::lesson::change(page.words, t)) }
                    br;
                    (first) " " (messages::lesson::THEN) " " (last)
                }
            }
        };
        return html! { ul { @for t in real { (item(t)) } } };
    }
    let judged = page.trends.iter().any(|t| t.verdict == Verdict::Within);
    let said = match (page.days.len(), judged) {
        (0 | 1, _) => messages::lesson::ONE_DAY,
        (_, true) => messages::lesson::NO_CHANGE,
        (_, false) => messages::lesson::TOO_FEW_FOR_CHANGE,
    };
    html! { p { (said) } }
}

/// The first and the last day that give the measure.
fn ends(t: &Trend) -> [Option<&DayMean>; 2] {
    let mut known = t.days.iter().flatten();
    let first = known.next();
    [first, t.days.iter().flatten().next_back()]
}

fn mean_words(words: &Captions, t: &Trend, day: &DayMean) -> String {
    words.value(t.measure, &Measure { value: day.mean, plus_minus: day.plus_minus, unit: t.unit })
}

fn one_day(words: &Captions, day: &PageDay) -> Markup {
    let spread = day.spread;
    if spread.counted == 0 {
        let none = messages::lesson::none_counted(spread.reps.len());
        return html! { section { h2 { (day.name) } p { (none) } } };
    }
    let name = messages::lesson::rep;
    let mut said = vec![messages::lesson::counted(spread.counted, spread.reps.len())];
    said.extend(spread.nearest.map(|i| messages::lesson::nearest_named(&name(i))));
    match &spread.odd {
        Some(odd) => {
            let by: Vec<String> = odd.by.iter().take(3).map(|s| messages::lesson::strays(words, s)).collect();
            said.push(format!("{} ({})", messages::lesson::odd_named(&name(odd.rep)), by.join("; ")));
        }
        None if spread.counted >= 5 => said.push(messages::lesson::NONE_ODD.trim_end_matches('.').to_owned()),
        None => (),
    }
    let cells = |m| super::spread::cells(words, m).to_vec();
    let rows: Vec<Row> = spread.measures.iter().map(|m| Row { cells: cells(m), class: "" }).collect();
    let head = messages::lesson::SPREAD_HEAD.map(|h| html! { (h) });
    html! {
        section {
            h2 { (day.name) }
            ul { @for said in &said { li { (said) } } }
            div class="sheet" { img alt=(messages::lesson::SPREAD) src=(png_address(&day.picture_png)); }
            details { summary { (messages::lesson::NUMBERS) } (table(&head, &rows)) }
        }
    }
}

fn cautions(page: &HitterPage) -> Markup {
    let mut lines: Vec<String> = vec![messages::lesson::BANDS_TOLD.to_owned()];
    for day in &page.days {
        let said = day.warnings.iter().filter_map(|w| unnamed(w, Some(day.spread)));
        lines.extend(said.map(|text| format!("{}: {text}", day.name)));
    }
    lines.extend(page.warnings.iter().filter_map(|w| unnamed(w, None)));
    lines.extend(page.words.limits().map(str::to_owned));
    lines.push(messages::page::CARE.to_owned());
    care(&lines)
}

/// A warning without the names of files, which a page does not tell: reps by their number, other films as one.
fn unnamed(warning: &Warning, spread: Option<&RepSpread>) -> Option<String> {
    let text = messages::warning(warning);
    if !NAMES_A_FILE.contains(&warning.code()) {
        return Some(text);
    }
    let (file, reported) = text.split_once(": is ")?;
    let mut reported = reported.to_owned();
    let reps = spread.map(|s| s.reps.as_slice()).unwrap_or_default();
    let names: Vec<String> = reps.iter().map(|r| crate::types::file_name(&r.clip)).collect();
    for (i, name) in names.iter().enumerate() {
        reported = reported.replace(name.as_str(), &messages::lesson::rep(i));
    }
    Some(messages::lesson::is(names.iter().position(|name| name == file), &reported))
}

/// Their texts begin with a file's name.
const NAMES_A_FILE: [&str; 6] =
    ["rep_left_out", "rep_not_read", "rep_given_twice", "other_side", "clip_missing", "folder_empty"];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Among, Error, GoodRep, LeftOut};

    /// Where there is nothing to show, one sentence stands for the empty picture and table.
    #[test]
    fn a_day_of_which_no_rep_counts_says_so() {
        let rep =
            || GoodRep { clip: "a.mp4".into(), left_out: Some(LeftOut::SameAsToday), from_middle: None };
        let said = |reps: usize| {
            let reps = (0..reps).map(|_| rep()).collect();
            let spread = RepSpread { reps, counted: 0, nearest: None, odd: None, measures: Vec::new() };
            let (name, picture_png) = ("May 4", Vec::new());
            let day = PageDay { name, readings: Vec::new(), spread: &spread, picture_png, warnings: &[] };
            one_day(messages::english(), &day).into_string()
        };
        assert!(said(0).contains("No rep from this day could be read"), "{}", said(0));
        assert!(said(1).contains("The only rep from this day does not count"), "{}", said(1));
        let three = said(3);
        assert!(three.contains("None of the 3 reps from this day counts"), "{three}");
        assert!(three.contains("May 4") && !three.contains("<img") && !three.contains("<table"), "{three}");
    }

    #[test]
    fn no_file_is_named() {
        let rep = |name: &str| GoodRep { clip: name.into(), left_out: None, from_middle: None };
        let reps = vec![rep("a.mp4"), rep("b.mp4")];
        let spread = RepSpread { reps, counted: 2, nearest: None, odd: None, measures: Vec::new() };
        let said = |warning: Warning| unnamed(&warning, Some(&spread));
        let why = LeftOut::SameSwing { clip: "a.mp4".to_owned() };
        let same = Warning::RepLeftOut { clip: "b.mp4".to_owned(), among: Among::Reps, why };
        assert_eq!(said(same).unwrap(), "Rep 2 is not counted because it shows the same swing as rep 1.");
        let error = Error::NoPerson { path: "/x/c.mp4".into() }.into();
        let lost = said(Warning::RepNotRead { clip: "/x/c.mp4".into(), error }).unwrap();
        assert!(lost.starts_with("One clip is not counted because it could not be read"), "{lost}");
        assert!(!lost.contains("c.mp4"), "{lost}");
        let gone = said(Warning::ClipMissing { clip: "gone.mp4".to_owned() }).unwrap();
        assert_eq!(gone, "One clip is missing and was skipped.");
        assert_eq!(said(Warning::FolderEmpty { folder: "may".to_owned() }), None);
        let few = Warning::FewReps { among: Among::Reps, reps: 2, needed: 3 };
        assert_eq!(said(few.clone()).unwrap(), messages::warning(&few));
    }
}
