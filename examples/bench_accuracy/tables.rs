//! What is told of every group: was it read, is it right, is it possible; each share by itself.

use std::collections::BTreeMap;
use std::fmt::Write;

use swingpair::demo::scenarios;
use swingpair::types::{EventId, MeasureId, PitcherSide, Source, View};

use super::labelled::Labelled;
use super::possible::impossible;
use super::rows::{Outcome, Row, Seen, Share};

const EVENTS: [EventId; 9] = [
    EventId::Stance,
    EventId::Load,
    EventId::FootOff,
    EventId::Touch,
    EventId::Plant,
    EventId::HandsStart,
    EventId::Contact,
    EventId::Extension,
    EventId::Finish,
];

pub fn read(rows: &[Row]) -> impl Iterator<Item = (&Row, &Seen)> {
    rows.iter().filter_map(|r| Some((r, r.read()?)))
}

pub fn seen_from(view: View) -> &'static str {
    match view {
        View::OpenSide => "open",
        View::ClosedSide => "closed",
        View::FromBehind | View::FromFront => "along",
    }
}

pub fn quantile(mut values: Vec<f64>, share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    let i = ((values.len() as f64 * share).ceil() as usize).clamp(1, values.len().max(1)) - 1;
    values.get(i).copied().unwrap_or(f64::NAN)
}

/// How many were read, with the right side of the plate, the pitcher where he is, the right view; what is impossible.
pub fn outcomes(out: &mut String, rows: &[Row]) {
    let _ = writeln!(
        out,
        "| share | fps | n | refused | someone else's | another swing | side of plate wrong | pitcher wrong | \
         view wrong | impossible |"
    );
    let _ = writeln!(out, "|---|---|---|---|---|---|---|---|---|---|");
    let mut groups: BTreeMap<(Share, u32), Vec<&Row>> = BTreeMap::new();
    for r in rows {
        groups.entry((r.share, r.scenario.camera.rate_hz as u32)).or_default().push(r);
        groups.entry((r.share, u32::MAX)).or_default().push(r);
    }
    for ((share, hz), rows) in groups {
        let seen = |f: &dyn Fn(&Row, &Seen) -> bool| {
            rows.iter().filter(|r| r.read().is_some_and(|seen| f(r, seen))).count()
        };
        let ended = |f: &dyn Fn(&Outcome) -> bool| rows.iter().filter(|r| f(&r.outcome)).count();
        let hz = if hz == u32::MAX { "all".to_owned() } else { hz.to_string() };
        let _ = writeln!(
            out,
            "| {} | {hz} | {} | {} | {} | {} | {} | {} | {} | {} |",
            share.word(),
            rows.len(),
            ended(&|o| matches!(o, Outcome::NotFound(_))),
            ended(&|o| matches!(o, Outcome::OtherPerson)),
            ended(&|o| matches!(o, Outcome::OtherSwing)),
            seen(&|r, m| m.hitter.bats != r.truth.bats),
            seen(&|r, m| m.hitter.pitcher_side != r.truth.pitcher_side),
            seen(&|r, m| m.hitter.view != r.truth.view),
            seen(&|_, m| !impossible(m).is_empty()),
        );
    }
    let _ = writeln!(out);
    let mut kinds: BTreeMap<(&str, Share), usize> = BTreeMap::new();
    for (r, seen) in read(rows) {
        for kind in impossible(seen) {
            *kinds.entry((kind, r.share)).or_default() += 1;
        }
    }
    for ((kind, share), n) in kinds {
        let _ = writeln!(out, "- {kind}: {n} ({})", share.word());
    }
    for r in rows {
        let what = match &r.outcome {
            Outcome::Read(_) => continue,
            Outcome::OtherPerson => "followed someone else",
            Outcome::OtherSwing => "read another swing",
            Outcome::NotFound(e) => e,
        };
        let _ = writeln!(out, "- {} ({}, {}): {what}", r.scenario.name, r.share.word(), reported(r));
    }
    let _ = writeln!(out);
}

/// What is filmed, in short.
fn reported(r: &Row) -> String {
    let reported = scenarios::described(&r.scenario);
    match &r.scenario.recorded {
        // Its stride is the hitter's own.
        Some(recorded) => {
            format!("{reported}, {:.0} cm, tempo {}", r.scenario.hitter.height_cm, recorded.tempo())
        }
        None => reported,
    }
}

/// A line a row: errors of events, ms; `!` where the truth lies outside the ±.
pub fn each(rows: &[Row]) -> String {
    let mut out = String::new();
    for (r, seen) in read(rows) {
        let truth = &r.truth;
        let _ = write!(out, "{} ({}, {})", r.scenario.name, r.share.word(), reported(r));
        if seen.hitter.view != truth.view || seen.hitter.bats != truth.bats {
            let _ = write!(out, " SEEN AS {:?} {:?}", seen.hitter.bats, seen.hitter.view);
        }
        for what in impossible(seen) {
            let _ = write!(out, " IMPOSSIBLE: {what};");
        }
        for id in EVENTS {
            match (seen.events.get(&id), truth.at(id)) {
                (Some(e), Some(_)) => {
                    let off = truth.off_s(id, e.time_s).unwrap_or(f64::NAN);
                    let mark = if off.abs() > e.plus_minus_s { "!" } else { "" };
                    let _ =
                        write!(out, " {} {:+.0}{mark}(±{:.0})", id.word(), off * 1e3, e.plus_minus_s * 1e3);
                }
                (None, Some(_)) => _ = write!(out, " {} missed", id.word()),
                (Some(_), None) if truth.recorded.is_none() => _ = write!(out, " {} invented", id.word()),
                _ => {}
            }
        }
        let _ = writeln!(out);
    }
    out
}

/// Errors of one thing over many readings.
#[derive(Default)]
struct Errors {
    /// Read − true.
    off: Vec<f64>,
    /// As a share of its own ±.
    share: Vec<f64>,
    missed: usize,
}

impl Errors {
    fn add(&mut self, off: f64, plus_minus: f64) {
        self.off.push(off);
        self.share.push(off.abs() / plus_minus.max(1e-12));
    }

    fn size(&self, share: f64) -> f64 {
        quantile(self.off.iter().map(|e| e.abs()).collect(), share)
    }

    fn inside(&self) -> usize {
        self.share.iter().filter(|s| **s <= 1.0).count()
    }

    /// `n | missed | bias | median | 90 % | worst | inside ±`.
    fn cells(&self, digits: usize) -> String {
        format!(
            "{} | {} | {:+.digits$} | {:.digits$} | {:.digits$} | {:.digits$} | {}",
            self.off.len(),
            self.missed,
            quantile(self.off.clone(), 0.5),
            self.size(0.5),
            self.size(0.9),
            self.size(1.0),
            self.inside(),
        )
    }
}

/// What an event is called in a row: contact by how it was found, plant and contact also by rate.
fn rate(hz: f64) -> &'static str {
    match hz {
        s if s > 200.0 => "240",
        s if s > 100.0 => "120",
        s if s > 45.0 => "60",
        _ => "30",
    }
}

pub fn events(out: &mut String, rows: &[Row]) {
    let mut all: BTreeMap<(EventId, &str, &str, &str, Share), Errors> = BTreeMap::new();
    let mut computed = false;
    for (r, seen) in read(rows) {
        for id in EVENTS {
            let event = seen.events.get(&id);
            let how = match (id, event.map(|e| e.source)) {
                (EventId::Contact, Some(Source::MotionAndSound)) => ", heard",
                (EventId::Contact, Some(Source::MotionAndBall)) => ", by the ball",
                (EventId::Contact, _) => ", from the hands",
                _ if !r.truth.known(id) => {
                    computed = true;
                    " *"
                }
                _ => "",
            };
            let fps = match id {
                EventId::Plant | EventId::Contact => rate(r.scenario.camera.rate_hz),
                _ => "all",
            };
            let from = if seen_from(r.truth.view) == "along" { "along" } else { "side" };
            let entry = all.entry((id, how, from, fps, r.share));
            match (event, r.truth.at(id)) {
                (Some(e), Some(_)) => {
                    let off = r.truth.off_s(id, e.time_s).unwrap_or(f64::NAN);
                    entry.or_default().add(off * 1e3, e.plus_minus_s * 1e3);
                }
                (None, Some(_)) => entry.or_default().missed += 1,
                _ => {}
            }
        }
    }
    let _ = writeln!(
        out,
        "| event | seen from | fps | share | n | missed | bias, ms | median | 90 % | worst | inside ± |"
    );
    let _ = writeln!(out, "|---|---|---|---|---|---|---|---|---|---|---|");
    for ((id, how, from, fps, share), e) in &all {
        let _ = writeln!(out, "| {}{how} | {from} | {fps} | {} | {} |", id.word(), share.word(), e.cells(0));
    }
    let _ = writeln!(out);
    for share in Share::BOTH {
        let of = || all.iter().filter(|(key, _)| key.4 == share).map(|(_, e)| e);
        let (inside, n): (usize, usize) = (of().map(Errors::inside).sum(), of().map(|e| e.off.len()).sum());
        if n > 0 {
            let percent = 100.0 * inside as f64 / n as f64;
            let _ =
                writeln!(out, "Events inside their ± ({}): {inside} of {n}, {percent:.0} %.", share.word());
        }
    }
    if computed {
        let _ = writeln!(
            out,
            "Recorded motion: plant is right anywhere between 10 % and 100 % of body weight, and so are the times to and from it; * computed from the \
             motion, with toes and heels hung on the ankles."
        );
    }
    let _ = writeln!(out);
}

pub fn measures(out: &mut String, rows: &[Row]) {
    let mut all: BTreeMap<(MeasureId, &str, Share), Errors> = BTreeMap::new();
    for (r, seen) in read(rows) {
        let from = if seen_from(r.truth.view) == "along" { "along" } else { "side" };
        for id in r.truth.measures_in_picture.keys() {
            let e = all.entry((*id, from, r.share)).or_default();
            match seen.measures.get(id).and_then(|m| Some((r.truth.off(*id, m.value)?, m.plus_minus))) {
                Some((off, plus_minus)) => e.add(off, plus_minus),
                None => e.missed += 1,
            }
        }
    }
    let _ = writeln!(
        out,
        "| measure | seen from | share | n | absent | bias | median | 90 % | worst | inside ± |"
    );
    let _ = writeln!(out, "|---|---|---|---|---|---|---|---|---|---|");
    for ((id, from, share), e) in all.iter().filter(|(_, e)| !e.off.is_empty()) {
        let _ = writeln!(out, "| {id:?} | {from} | {} | {} |", share.word(), e.cells(1));
    }
    let _ = writeln!(out);
    for share in Share::BOTH {
        let of = || all.iter().filter(|(key, _)| key.2 == share).map(|(_, e)| e);
        let (inside, n): (usize, usize) = (of().map(Errors::inside).sum(), of().map(|e| e.off.len()).sum());
        if n > 0 {
            let percent = 100.0 * inside as f64 / n as f64;
            let _ =
                writeln!(out, "Measures inside their ± ({}): {inside} of {n}, {percent:.0} %.", share.word());
        }
    }
    let _ = writeln!(out);
}

/// Only the pitcher's direction can be judged, and what is possible.
pub fn labelled(out: &mut String, all: &[Labelled]) {
    let _ = writeln!(
        out,
        "| share | n | refused | pitcher left or right, read | of them wrong | along the line, read | read as from \
         the side | impossible |"
    );
    let _ = writeln!(out, "|---|---|---|---|---|---|---|---|");
    let side = |p: PitcherSide| matches!(p, PitcherSide::Left | PitcherSide::Right);
    for share in Share::BOTH {
        let of: Vec<&Labelled> = all.iter().filter(|l| l.share == share).collect();
        let count = |f: &dyn Fn(&Labelled, &Seen) -> bool| {
            of.iter().filter(|l| l.read.as_ref().is_ok_and(|seen| f(l, seen))).count()
        };
        let _ = writeln!(
            out,
            "| {} | {} | {} | {} | {} | {} | {} | {} |",
            share.word(),
            of.len(),
            of.iter().filter(|l| l.read.is_err()).count(),
            count(&|l, _| side(l.pitcher)),
            count(&|l, m| side(l.pitcher) && m.hitter.pitcher_side != l.pitcher),
            count(&|l, _| !side(l.pitcher)),
            count(&|l, m| !side(l.pitcher) && side(m.hitter.pitcher_side)),
            count(&|_, m| !impossible(m).is_empty()),
        );
    }
    let _ = writeln!(out);
}

/// A line a labelled swing that is not read, is read wrongly or cannot be.
pub fn each_labelled(all: &[Labelled]) -> String {
    let mut out = String::new();
    for l in all {
        let what = match &l.read {
            Err(e) => e.clone(),
            Ok(m) => format!("read {:?} {}", m.hitter.pitcher_side, impossible(m).join("; ")),
        };
        let _ = writeln!(out, "labelled {} ({}) pitcher {:?}: {what}", l.id, l.share.word(), l.pitcher);
    }
    out
}
