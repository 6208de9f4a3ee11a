//! A small plot for each measure: every rep as a dot, each day's mean with its 95 % band.

use maud::{Markup, html};

use super::super::plot::tenths;
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
pub fn plots(page: &HitterPage) -> Markup {
    let mut order: Vec<&Trend> = page.trends.iter().filter(|t| t.days.iter().flatten().count() > 1).collect();
    order.sort_by_key(|t| match t.verdict {
        Verdict::Bigger => 0,
        Verdict::Within => 1,
        Verdict::CantTell => 2,
    });
    html! { @for t in order { (figure(page, t)) } }
}

fn figure(page: &HitterPage, t: &Trend) -> Markup {
    let real = (t.verdict == Verdict::Bigger).then_some("real");
    html! {
        figure class=[real] {
            figcaption { b { (page.words.measure(t.measure)) } br; (messages::lesson::change_said(page.words, t)) }
            (svg(page, t))
        }
    }
}

fn values(page: &HitterPage, day: usize, id: MeasureId, unit: Unit) -> Vec<f64> {
    let readings = page.days.get(day).map(|d| d.readings.as_slice()).unwrap_or_default();
    readings.iter().filter_map(|r| r.measures.get(&id)).filter(|m| m.unit == unit).map(|m| m.value).collect()
}

fn svg(page: &HitterPage, t: &Trend) -> Markup {
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
    let means = t.days.iter().enumerate().filter_map(|(d, m)| Some((d, m.as_ref()?.mean)));
    let way: Vec<String> = means.map(|(d, m)| format!("{:.1} {:.1}", x(d), y(m))).collect();
    // Beside each other, so that equal ones are seen.
    let aside =
        |k: usize, of: usize| (k as f64 - (of as f64 - 1.0) / 2.0) * (60.0 / of.max(1) as f64).min(7.0);
    html! {
        svg viewBox={ "0 0 " (WIDTH) " " (HEIGHT) } role="img" aria-label=(label) {
            @for v in steps(low * times, high * times) {
                @let at = y(v / times);
                path class="grid" d=(format!("M{LEFT} {at:.1}H{}", WIDTH - RIGHT)) {}
                text class="axis" x=(LEFT - 8.0) y=(tenths(at + 4.5)) text-anchor="end" { (messages::lesson::axis(v)) }
            }
            path class="way" d={ "M" (way.join("L")) } {}
            @for (d, values) in all.iter().enumerate() {
                @for (k, v) in values.iter().enumerate() {
                    circle class="rep" cx=(tenths(x(d) + aside(k, values.len()))) cy=(tenths(y(*v))) r="3" {}
                }
                @if let Some(Some(m)) = t.days.get(d) {
                    @let (top, bottom) = (y(m.mean + m.plus_minus), y(m.mean - m.plus_minus));
                    @let (middle, left) = (x(d), x(d) - 6.0);
                    path class="pm"
                        d=(format!(
                            "M{middle:.1} {top:.1}V{bottom:.1}M{left:.1} {top:.1}h12M{left:.1} {bottom:.1}h12"
                        )) {}
                    circle class="mean" cx=(tenths(middle)) cy=(tenths(y(m.mean))) r="5" {
                        title { (mean_words(page.words, t, m)) }
                    }
                }
                text class="axis" x=(tenths(x(d))) y=(HEIGHT - 6.0) text-anchor="middle" {
                    (page.days.get(d).map_or("", |day| day.name))
                }
            }
        }
    }
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
