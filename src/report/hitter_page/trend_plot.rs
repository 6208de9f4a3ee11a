//! A small plot for each measure: every rep as a dot, each day's mean with its 95 % band.

use std::fmt::Write;

use super::super::page::escaped;
use super::{HitterPage, mean_words};
use crate::messages;
use crate::types::{MeasureId, Trend, Unit, Verdict};

const WIDTH: f64 = 420.0;
const HEIGHT: f64 = 150.0;
const LEFT: f64 = 52.0;
const RIGHT: f64 = 14.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = 26.0;

/// Real changes first, then what was looked at, then the rest.
pub fn plots(page: &HitterPage) -> String {
    let mut order: Vec<&Trend> = page.trends.iter().filter(|t| t.days.iter().flatten().count() > 1).collect();
    order.sort_by_key(|t| match t.verdict {
        Verdict::Bigger => 0,
        Verdict::Within => 1,
        Verdict::CantTell => 2,
    });
    order.iter().map(|t| figure(page, t)).collect()
}

fn figure(page: &HitterPage, t: &Trend) -> String {
    let real = if t.verdict == Verdict::Bigger { " class=\"real\"" } else { "" };
    format!(
        "<figure{real}><figcaption><b>{}</b><br>{}</figcaption>{}</figure>",
        escaped(page.words.measure(t.measure)),
        escaped(&messages::lesson::change_said(page.words, t)),
        svg(page, t)
    )
}

fn values(page: &HitterPage, day: usize, id: MeasureId, unit: Unit) -> Vec<f64> {
    let readings = page.days.get(day).map(|d| d.readings.as_slice()).unwrap_or_default();
    readings.iter().filter_map(|r| r.measures.get(&id)).filter(|m| m.unit == unit).map(|m| m.value).collect()
}

fn svg(page: &HitterPage, t: &Trend) -> String {
    let times = page.words.times(t.unit);
    let all: Vec<Vec<f64>> = (0..page.days.len()).map(|d| values(page, d, t.measure, t.unit)).collect();
    let bands = t.days.iter().flatten().flat_map(|d| [d.mean - d.plus_minus, d.mean + d.plus_minus]);
    let (low, high) = all
        .iter()
        .flatten()
        .copied()
        .chain(bands)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
    let room = ((high - low) * 0.06).max(1e-9);
    let (low, high) = (low - room, high + room);
    let count = page.days.len().max(1) as f64;
    let x = |day: usize| LEFT + (day as f64 + 0.5) / count * (WIDTH - LEFT - RIGHT);
    let y = |v: f64| TOP + (high - v) / (high - low) * (HEIGHT - TOP - BOTTOM);
    let label =
        format!("{}: {}", page.words.measure(t.measure), messages::lesson::change_said(page.words, t));
    let mut s =
        format!("<svg viewBox=\"0 0 {WIDTH} {HEIGHT}\" role=\"img\" aria-label=\"{}\">", escaped(&label));
    let mut put = |text: String| {
        // Writing into a text cannot fail.
        let _ = s.write_str(&text);
    };
    for v in steps(low * times, high * times) {
        let at = y(v / times);
        put(format!(
            "<path class=\"grid\" d=\"M{LEFT} {at:.1}H{}\"/><text class=\"axis\" x=\"{}\" y=\"{:.1}\" \
             text-anchor=\"end\">{}</text>",
            WIDTH - RIGHT,
            LEFT - 8.0,
            at + 4.5,
            messages::lesson::axis(v)
        ));
    }
    let means: Vec<(usize, f64)> =
        t.days.iter().enumerate().filter_map(|(d, m)| Some((d, m.as_ref()?.mean))).collect();
    let way: Vec<String> = means.iter().map(|(d, m)| format!("{:.1} {:.1}", x(*d), y(*m))).collect();
    put(format!("<path class=\"way\" d=\"M{}\"/>", way.join("L")));
    for (d, values) in all.iter().enumerate() {
        for (k, v) in values.iter().enumerate() {
            // Beside each other, so that equal ones are seen.
            let aside =
                (k as f64 - (values.len() as f64 - 1.0) / 2.0) * (60.0 / values.len().max(1) as f64).min(7.0);
            put(format!("<circle class=\"rep\" cx=\"{:.1}\" cy=\"{:.1}\" r=\"3\"/>", x(d) + aside, y(*v)));
        }
        if let Some(Some(m)) = t.days.get(d) {
            let (a, b) = (y(m.mean + m.plus_minus), y(m.mean - m.plus_minus));
            put(format!(
                "<path class=\"pm\" d=\"M{0:.1} {a:.1}V{b:.1}M{1:.1} {a:.1}h12M{1:.1} {b:.1}h12\"/>\
                 <circle class=\"mean\" cx=\"{0:.1}\" cy=\"{2:.1}\" r=\"5\"><title>{3}</title></circle>",
                x(d),
                x(d) - 6.0,
                y(m.mean),
                escaped(&mean_words(page.words, t, m))
            ));
        }
        let name = page.days.get(d).map_or("", |day| day.name);
        put(format!(
            "<text class=\"axis\" x=\"{:.1}\" y=\"{}\" text-anchor=\"middle\">{}</text>",
            x(d),
            HEIGHT - 6.0,
            escaped(name)
        ));
    }
    put("</svg>".to_owned());
    s
}

/// About three round numbers between two values.
fn steps(low: f64, high: f64) -> Vec<f64> {
    let raw = (high - low).max(1e-9) / 3.0;
    let power = 10f64.powf(raw.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0].map(|n| n * power).into_iter().find(|s| *s >= raw).unwrap_or(raw);
    let first = (low / step).ceil() as i64;
    (first..).map(|k| k as f64 * step).take_while(|v| *v <= high).take(8).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn axes_have_few_round_numbers() {
        assert_eq!(steps(161.0, 198.0), [180.0]);
        assert_eq!(steps(0.0, 9.0), [0.0, 5.0]);
        assert_eq!(steps(-3.2, 3.1), [0.0]);
        assert_eq!(steps(30.0, 60.0), [30.0, 40.0, 50.0, 60.0]);
    }
}
