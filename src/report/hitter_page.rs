//! A hitter's page: what changed from day to day, how much the reps of each day differ, the clip. It needs no network
//! and holds no path of this computer.

mod trend_plot;

use super::page::{base64, escaped, percent, row, table};
use crate::ground::{DayMean, Measure, Reading, RepSpread, Trend, Verdict, words};

/// One day on the page.
pub struct PageDay<'a> {
    pub name: &'a str,
    pub readings: Vec<&'a Reading>,
    pub spread: &'a RepSpread,
    /// The spread's picture.
    pub picture_png: Vec<u8>,
}

pub struct HitterPage<'a> {
    pub name: &'a str,
    pub days: Vec<PageDay<'a>>,
    pub trends: &'a [Trend],
    /// How many measures were looked at for a change.
    pub looked_at: usize,
    /// All days are filmed alike (rate, size of the body).
    pub alike: bool,
    /// A clip that lies beside the page, and what it shows.
    pub clip: Option<(&'a str, &'a str)>,
    /// What is to be known: left-out reps, missing films.
    pub notes: &'a [String],
}

const STYLE: &str = include_str!("page.css");
const OWN_STYLE: &str = include_str!("hitter_page.css");

pub fn hitter_page(page: &HitterPage) -> String {
    let name = escaped(page.name);
    let mut body = format!("<header><h1>{name}</h1><p>{}</p></header>\n<main>", escaped(&under_name(page)));
    body.push_str(&format!(
        "<section class=\"news\"><h2>{}</h2>{}</section>\n",
        words::page::NEWS,
        news(page)
    ));
    if let Some((file, told)) = page.clip {
        body.push_str(&format!(
            "<section class=\"clip\"><h2>{}</h2><p>{}</p><video controls playsinline loop preload=\"metadata\" \
             src=\"{}\"></video></section>\n",
            words::lesson::CLIP,
            escaped(told),
            escaped(&percent(file))
        ));
    }
    if page.days.len() > 1 {
        body.push_str(&format!(
            "<section><h2>{}</h2><p>{}</p><div class=\"trends\">{}</div></section>\n",
            words::lesson::TRENDS,
            escaped(&words::lesson::trends_told(page.looked_at, page.alike)),
            trend_plot::plots(page)
        ));
    }
    for day in page.days.iter().rev() {
        body.push_str(&one_day(day));
    }
    body.push_str(&cautions(page));
    format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\
         <meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\
         <meta name=\"referrer\" content=\"no-referrer\">\
         <title>{name}</title><style>{STYLE}{OWN_STYLE}</style></head><body>\n{body}</main></body></html>\n"
    )
}

fn under_name(page: &HitterPage) -> String {
    let reps: usize = page.days.iter().map(|d| d.spread.counted).sum();
    let hitter = page.days.iter().flat_map(|d| &d.readings).map(|r| &r.hitter).next();
    let (side, view) = (hitter.map(|h| words::side(h.bats)), hitter.map(|h| words::view(h.view)));
    let first = page.days.first().map_or("", |d| d.name);
    let last = page.days.last().map_or("", |d| d.name);
    words::lesson::under_name(side, view, reps, first, last)
}

/// Real changes first, in words; then that there is none, or that nothing can be said.
fn news(page: &HitterPage) -> String {
    let real: Vec<&Trend> = page.trends.iter().filter(|t| t.verdict == Verdict::Bigger).collect();
    if !real.is_empty() {
        let item = |t: &&Trend| {
            let [first, last] = ends(t).map(|d| d.map_or_else(String::new, |d| mean_words(t, d)));
            format!(
                "<li><b>{}</b> <span class=\"change\">{}</span><br>{} {} {}</li>",
                escaped(words::measure(t.measure)),
                escaped(&words::lesson::change(t)),
                escaped(&first),
                words::lesson::THEN,
                escaped(&last)
            )
        };
        return format!("<ul>{}</ul>", real.iter().map(item).collect::<String>());
    }
    let judged = page.trends.iter().any(|t| t.verdict == Verdict::Within);
    let said = match (page.days.len(), judged) {
        (0 | 1, _) => words::lesson::ONE_DAY,
        (_, true) => words::lesson::NO_CHANGE,
        (_, false) => words::lesson::TOO_FEW_FOR_CHANGE,
    };
    format!("<p>{}</p>", escaped(said))
}

/// The first and the last day that give the measure.
fn ends(t: &Trend) -> [Option<&DayMean>; 2] {
    let mut known = t.days.iter().flatten();
    let first = known.next();
    [first, t.days.iter().flatten().next_back()]
}

fn mean_words(t: &Trend, day: &DayMean) -> String {
    words::value(t.measure, &Measure { value: day.mean, plus_minus: day.plus_minus, unit: t.unit })
}

fn one_day(day: &PageDay) -> String {
    let spread = day.spread;
    let name = |i: usize| {
        words::lesson::rep_named(spread.reps.get(i).map(|r| r.clip.as_path()).unwrap_or("".as_ref()))
    };
    let mut said = vec![words::lesson::counted(spread.counted, spread.reps.len())];
    said.extend(spread.nearest.map(|i| words::lesson::nearest_named(&name(i))));
    match &spread.odd {
        Some(odd) => {
            let by: Vec<String> = odd.by.iter().take(3).map(words::lesson::strays).collect();
            said.push(format!("{} ({})", words::lesson::odd_named(&name(odd.rep)), by.join("; ")));
        }
        None if spread.counted >= 5 => said.push(words::lesson::NONE_ODD.trim_end_matches('.').to_owned()),
        None => (),
    }
    let items: String = said.iter().map(|s| format!("<li>{}</li>", escaped(s))).collect();
    let rows: String =
        spread.measures.iter().map(|m| row(&super::spread::cells(m).map(|c| escaped(&c)), "")).collect();
    let head = words::lesson::SPREAD_HEAD.map(escaped);
    format!(
        "<section><h2>{}</h2><ul>{items}</ul><div class=\"sheet\"><img alt=\"{}\" src=\"data:image/png;base64,{}\"></div>\
         <details><summary>{}</summary>{}</details></section>\n",
        escaped(day.name),
        escaped(words::lesson::SPREAD),
        base64(&day.picture_png),
        escaped(words::lesson::NUMBERS),
        table(&head, &rows)
    )
}

fn cautions(page: &HitterPage) -> String {
    let mut lines: Vec<String> = vec![words::lesson::BANDS_TOLD.to_owned()];
    lines.extend(page.notes.iter().cloned());
    lines.extend(words::LIMITS.map(str::to_owned));
    lines.push(words::page::CARE.to_owned());
    let items: String = lines.iter().map(|l| format!("<li>{}</li>", escaped(l))).collect();
    format!("<section class=\"cautions\"><h2>{}</h2><ul>{items}</ul></section>\n", words::page::CAUTIONS)
}
