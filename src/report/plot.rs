//! Small plots as SVG: one quantity over time, both swings, counted from the moment they are lined up on.

use std::fmt::Write;

use maud::html;

use crate::messages::{self, Captions};
use crate::swing::{CurvePoint, Curves};
use crate::types::{EventId, Pairing, Reading, Unit};

/// Size of one plot in its own units.
const WIDTH: f64 = 640.0;
const HEIGHT: f64 = 230.0;
const LEFT: f64 = 54.0;
const RIGHT: f64 = 10.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = 34.0;
/// Nothing for longer than this is a gap in the line, s.
const GAP_S: f64 = 0.1;
/// Events that get a tick on each curve.
const TICKS: [EventId; 5] =
    [EventId::Load, EventId::FootOff, EventId::Plant, EventId::Contact, EventId::Extension];

/// One side of a plot.
struct Line {
    /// (s from the moment lined up on, value in `unit`, guessed).
    points: Vec<(f64, f64, bool)>,
    /// (s from that moment, value there) at events.
    ticks: Vec<(f64, f64)>,
}

/// One plot and what it is called.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot {
    /// Over it.
    pub title: &'static str,
    pub(crate) unit: String,
    pub(crate) svg: String,
}

/// Which curve, its name, and the unit of its values with and without a scale in cm.
type Kind = (fn(&Curves) -> &Vec<CurvePoint>, &'static str, [Unit; 2]);

/// Hand height and speed, body centre, head travel; those that at least one of the two clips gives.
pub fn plots(words: &Captions, readings: [&Reading; 2], pairing: &Pairing) -> Vec<Plot> {
    let curves = readings.map(crate::swing::curves);
    let zeros = [pairing.time_map.zero_today_s(), pairing.time_map.zero_reference_s()];
    let scales = readings.map(|r| r.scale.px_per_cm.map(|px| r.scale.body_height_px / px));
    let in_cm = scales.iter().all(Option::is_some);
    const LENGTH: [Unit; 2] = [Unit::Cm, Unit::BodyHeights];
    const SPEED: [Unit; 2] = [Unit::MetresPerS, Unit::BodyHeightsPerS];
    let kinds: [Kind; 4] = [
        (|c| &c.hand_height, messages::page::HAND_HEIGHT, LENGTH),
        (|c| &c.hand_speed, messages::page::HAND_SPEED, SPEED),
        (|c| &c.centre_forward, messages::page::CENTRE_FORWARD, LENGTH),
        (|c| &c.head_travel, messages::page::HEAD_TRAVEL, LENGTH),
    ];
    let mut out = Vec::new();
    for (pick, title, units) in kinds {
        let unit = units[usize::from(!in_cm)];
        let line = |side: usize| {
            // A body height in the curve's unit.
            let height = match unit {
                Unit::Cm => scales[side].unwrap_or(1.0),
                Unit::MetresPerS => scales[side].unwrap_or(1.0) / 100.0,
                _ => 1.0,
            };
            let times = height * words.times(unit);
            let points: Vec<(f64, f64, bool)> = pick(&curves[side])
                .iter()
                .map(|p| (p.time_s - zeros[side], p.value * times, p.guessed))
                .collect();
            let events = TICKS.iter().filter_map(|e| readings[side].events.get(e));
            let ticks = events.filter_map(|e| at(&points, e.time_s - zeros[side])).collect();
            Line { points, ticks }
        };
        let lines = [line(0), line(1)];
        let unit = words.bare_unit(unit);
        if let Some(svg) = drawn(&lines, title, unit, words.event_short(pairing.time_map.zero)) {
            out.push(Plot { title, unit: unit.to_owned(), svg });
        }
    }
    out
}

/// The curve's point nearest to a moment, if it is near.
fn at(points: &[(f64, f64, bool)], t: f64) -> Option<(f64, f64)> {
    let near = points.iter().min_by(|a, b| (a.0 - t).abs().total_cmp(&(b.0 - t).abs()))?;
    ((near.0 - t).abs() < GAP_S / 2.0).then_some((near.0, near.1))
}

fn drawn(lines: &[Line; 2], title: &str, unit: &str, zero: &str) -> Option<String> {
    let all = || lines.iter().flat_map(|l| &l.points);
    let ends = |v: &mut dyn Iterator<Item = f64>| {
        v.fold(None, |e: Option<(f64, f64)>, x| Some(e.map_or((x, x), |(lo, hi)| (lo.min(x), hi.max(x)))))
    };
    let (t0, t1) = ends(&mut all().map(|p| p.0))?;
    let (v0, v1) = ends(&mut all().map(|p| p.1))?;
    // From 0 unless that leaves much of the plot empty.
    let v0 = if v0 > 0.4 * v1 { v0 } else { v0.min(0.0) };
    let step = nice((v1.max(0.0) - v0).max(1e-6) / 4.0);
    let (low, high) = ((v0 / step).floor() * step, (v1.max(0.0) / step).ceil() * step);
    let x = |t: f64| LEFT + (t - t0) / (t1 - t0).max(1e-6) * (WIDTH - LEFT - RIGHT);
    let y = |v: f64| TOP + (high - v) / (high - low).max(1e-6) * (HEIGHT - TOP - BOTTOM);
    let each = nice((t1 - t0).max(1e-3) / 6.0);
    let made = html! {
        svg viewBox={ "0 0 " (WIDTH) " " (HEIGHT) } role="img" aria-label={ (title) ", " (unit) } {
            @for k in 0..=((high - low) / step).round() as i64 {
                @let v = low + k as f64 * step;
                path class="grid" d=(format!("M{LEFT} {:.1}H{}", y(v), WIDTH - RIGHT)) {}
                text class="axis" x=(LEFT - 8.0) y=(tenths(y(v) + 5.0)) text-anchor="end" {
                    (number(v, usize::from(step < 1.0)))
                }
            }
            @for k in (t0 / each).ceil() as i64..=(t1 / each).floor() as i64 {
                @let t = k as f64 * each;
                text class="axis" x=(tenths(x(t))) y=(tenths(HEIGHT - 12.0)) text-anchor="middle" {
                    (number(t * 1000.0, 0))
                }
            }
            path class="zero" d=(format!("M{:.1} {TOP}V{}", x(0.0), HEIGHT - BOTTOM)) {}
            text class="axis" x=(tenths(x(0.0) + 6.0)) y=(TOP + 12.0) { (zero) }
            // The reference below, today's on top.
            @for (line, side) in lines.iter().zip(["today", "reference"]).rev() {
                @let whole = path(&line.points, false, &x, &y);
                path class={ "band " (side) } d=(path(&line.points, true, &x, &y)) {}
                path class={ "line " (side) } d=(whole) {}
                @if side == "reference" {
                    // A double line, as in the clip: told apart without colour.
                    path class="core" d=(whole) {}
                }
                @for (t, v) in &line.ticks {
                    circle class={ "dot " (side) } cx=(tenths(x(*t))) cy=(tenths(y(*v))) r="4.5" {}
                }
            }
        }
    };
    Some(made.into_string())
}

/// A place in a plot: more digits would be seen by nobody.
pub(super) fn tenths(place: f64) -> String {
    format!("{place:.1}")
}

/// The whole line, or only the stretches that rest on guessed points.
fn path(
    points: &[(f64, f64, bool)],
    guessed: bool,
    x: &dyn Fn(f64) -> f64,
    y: &dyn Fn(f64) -> f64,
) -> String {
    let mut d = String::new();
    let mut last: Option<(f64, f64, bool)> = None;
    for p in points {
        let joins = last.is_some_and(|l| p.0 - l.0 <= GAP_S && (!guessed || l.2));
        if !guessed || p.2 {
            let word = if joins { 'L' } else { 'M' };
            // Writing into a text cannot fail.
            let _ = write!(d, "{word}{:.1} {:.1}", x(p.0), y(p.1));
        }
        last = Some(*p);
    }
    d
}

/// With a true minus sign.
fn number(v: f64, digits: usize) -> String {
    let text = format!("{:.digits$}", v.abs());
    let zero = text.chars().all(|c| c == '0' || c == '.');
    if v < 0.0 && !zero { format!("−{text}") } else { text }
}

/// 1, 2 or 5 times a power of ten, not less than `v`.
fn nice(v: f64) -> f64 {
    let ten = 10f64.powf(v.log10().floor());
    [1.0, 2.0, 5.0].iter().map(|k| k * ten).find(|s| *s >= v * 0.999).unwrap_or(10.0 * ten)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round() {
        assert_eq!([number(-0.01, 1), number(-500.0, 0)], ["0.0", "−500"]);
        assert_eq!([0.7, 1.0, 3.0, 24.0, 60.0].map(nice), [1.0, 1.0, 5.0, 50.0, 100.0]);
    }

    #[test]
    fn gaps_part_the_line_and_guessed_stretches_stand_alone() {
        let p = |i: usize, guessed| (i as f64 * 0.01, 1.0, guessed);
        let mut points: Vec<_> = (0..10).map(|i| p(i, (3..6).contains(&i))).collect();
        points.extend((40..45).map(|i| p(i, false)));
        let x = |t: f64| t;
        let count = |d: &str, c| d.matches(c).count();
        let whole = path(&points, false, &x, &x);
        assert_eq!((count(&whole, 'M'), count(&whole, 'L')), (2, 13));
        let band = path(&points, true, &x, &x);
        assert_eq!((count(&band, 'M'), count(&band, 'L')), (1, 2));
    }

    #[test]
    fn nothing_to_plot_is_no_plot() {
        let empty = || Line { points: Vec::new(), ticks: Vec::new() };
        assert_eq!(drawn(&[empty(), empty()], "Hand height", "cm", "plant"), None);
    }
}
