//! What is printed.

use std::collections::BTreeMap;
use std::fmt::Write;

use swingpair::demo::{Truth, scenarios};
use swingpair::ground::{EventId, MeasureId, Part, Point, Pose, Reading, Source, Track, View};

use super::{Outcome, Row};

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

fn read(rows: &[Row]) -> impl Iterator<Item = (&Row, &Reading)> {
    rows.iter().filter_map(|r| match &r.outcome {
        Outcome::Read(reading) => Some((r, reading.as_ref())),
        _ => None,
    })
}

/// How many were read, and what became of the rest.
pub fn outcomes(rows: &[Row]) {
    println!("{} clips; {} read.", rows.len(), read(rows).count());
    for r in rows {
        let what = match &r.outcome {
            Outcome::Read(_) => continue,
            Outcome::OtherPerson => "followed someone else".to_owned(),
            Outcome::OtherSwing => "read another swing".to_owned(),
            Outcome::NotFound(e) => e.clone(),
        };
        println!("- {} ({}): {what}", r.scenario.name, scenarios::told(&r.scenario));
    }
    let wrong = |f: &dyn Fn(&Row, &Reading) -> bool| read(rows).filter(|(r, m)| f(r, m)).count();
    println!(
        "Side of the plate wrong in {}, view wrong in {}.\n",
        wrong(&|r, m| m.hitter.bats != r.truth.bats),
        wrong(&|r, m| m.hitter.view != r.truth.view)
    );
}

/// A line a clip: errors of events, ms; `!` where the truth lies outside the ±.
pub fn each(rows: &[Row]) {
    for (r, reading) in read(rows) {
        let (s, truth) = (&r.scenario, &r.truth);
        print!("{} ({})", s.name, scenarios::told(s));
        if reading.hitter.view != truth.view || reading.hitter.bats != truth.bats {
            print!(" SEEN AS {:?} {:?}", reading.hitter.bats, reading.hitter.view);
        }
        for id in EVENTS {
            match (truth.at(id), reading.events.get(&id)) {
                (Some(t), Some(e)) => {
                    let off = e.time_s - t;
                    let mark = if off.abs() > e.plus_minus_s { "!" } else { "" };
                    print!(" {} {:+.0}{mark}(±{:.0})", id.word(), off * 1e3, e.plus_minus_s * 1e3);
                }
                (Some(_), None) => print!(" {} missed", id.word()),
                (None, Some(_)) => print!(" {} invented", id.word()),
                (None, None) => {}
            }
        }
        println!();
    }
    println!();
}

/// Errors of one thing over many clips.
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

    fn quantile(mut values: Vec<f64>, share: f64) -> f64 {
        values.sort_by(f64::total_cmp);
        let i = ((values.len() as f64 * share).ceil() as usize).clamp(1, values.len().max(1)) - 1;
        values.get(i).copied().unwrap_or(f64::NAN)
    }

    fn size(&self, share: f64) -> f64 {
        Self::quantile(self.off.iter().map(|e| e.abs()).collect(), share)
    }

    fn bias(&self) -> f64 {
        Self::quantile(self.off.clone(), 0.5)
    }

    fn inside(&self) -> String {
        let inside = self.share.iter().filter(|s| **s <= 1.0).count();
        format!("{inside}/{}", self.off.len())
    }
}

/// Where a clip belongs: (group, sorted).
fn rate(s: f64) -> &'static str {
    match s {
        s if s > 100.0 => "120, 240",
        s if s > 45.0 => "60",
        _ => "30",
    }
}

fn seen_from(view: View) -> &'static str {
    match view {
        View::OpenSide | View::ClosedSide => "side",
        View::FromBehind | View::FromFront => "along",
    }
}

pub fn events(rows: &[Row]) {
    let mut all: BTreeMap<(EventId, &str, &str, &str), Errors> = BTreeMap::new();
    let mut frames: BTreeMap<(EventId, &str, &str, &str), Vec<f64>> = BTreeMap::new();
    let (mut inside, mut n, mut invented) = (0, 0, 0);
    for (r, reading) in read(rows) {
        let hz = r.scenario.camera.rate_hz;
        for id in EVENTS {
            let event = reading.events.get(&id);
            let how = match (id, event.map(|e| e.source)) {
                (EventId::Contact, Some(Source::MotionAndSound)) => "heard",
                (EventId::Contact, Some(Source::MotionAndBall)) => "by the ball",
                (EventId::Contact, _) => "from the hands",
                _ => "",
            };
            let key = (id, seen_from(r.truth.view), rate(hz), how);
            match (r.truth.at(id), event) {
                (Some(t), Some(e)) => {
                    let off = e.time_s - t;
                    all.entry(key).or_default().add(off * 1e3, e.plus_minus_s * 1e3);
                    frames.entry(key).or_default().push(off.abs() * hz);
                    n += 1;
                    inside += usize::from(off.abs() <= e.plus_minus_s);
                }
                (Some(_), None) => all.entry(key).or_default().missed += 1,
                (None, Some(_)) => invented += 1,
                (None, None) => {}
            }
        }
    }
    println!(
        "| event | seen from | fps | n | missed | bias | median | 90 % | worst, ms | 90 %, frames | inside ± |"
    );
    println!("|---|---|---|---|---|---|---|---|---|---|---|");
    for ((id, from, hz, how), e) in &all {
        let in_frames = frames.get(&(*id, *from, *hz, *how)).cloned().unwrap_or_default();
        let name = if how.is_empty() { id.word().to_owned() } else { format!("{}, {how}", id.word()) };
        println!(
            "| {name} | {from} | {hz} | {} | {} | {:+.0} | {:.0} | {:.0} | {:.0} | {:.1} | {} |",
            e.off.len(),
            e.missed,
            e.bias(),
            e.size(0.5),
            e.size(0.9),
            e.size(1.0),
            Errors::quantile(in_frames, 0.9),
            e.inside(),
        );
    }
    println!(
        "\nTruth inside ± in {inside} of {n} events ({:.0} %); {invented} invented.\n",
        100.0 * inside as f64 / n.max(1) as f64
    );
}

pub fn measures(rows: &[Row]) {
    let mut all: BTreeMap<(MeasureId, &str), Errors> = BTreeMap::new();
    let (mut inside, mut n) = (0, 0);
    for (r, reading) in read(rows) {
        for (id, true_value) in &r.truth.measures_in_picture {
            let e = all.entry((*id, seen_from(r.truth.view))).or_default();
            match reading.measures.get(id) {
                Some(m) => {
                    e.add(m.value - true_value, m.plus_minus);
                    n += 1;
                    inside += usize::from((m.value - true_value).abs() <= m.plus_minus);
                }
                None => e.missed += 1,
            }
        }
    }
    println!(
        "| measure | seen from | n | absent | bias | median | 90 % | worst | its ±/error 93 % | inside ± |"
    );
    println!("|---|---|---|---|---|---|---|---|---|---|");
    for ((id, from), e) in all.iter().filter(|(_, e)| !e.off.is_empty()) {
        println!(
            "| {id:?} | {from} | {} | {} | {:+.1} | {:.1} | {:.1} | {:.1} | {:.2} | {} |",
            e.off.len(),
            e.missed,
            e.bias(),
            e.size(0.5),
            e.size(0.9),
            e.size(1.0),
            Errors::quantile(e.share.clone(), 0.935),
            e.inside(),
        );
    }
    println!(
        "\nTruth inside ± in {inside} of {n} measures ({:.0} %).\n",
        100.0 * inside as f64 / n.max(1) as f64
    );
}

/// What is compared, and of which parts it is the middle; which time of the swing.
#[derive(Clone, Copy)]
enum When {
    Clip,
    HandsStartToContact,
    ContactToExtension,
    Landing,
}

type Place = (&'static str, fn(&Pose, bool) -> Option<Point>, When);

fn middle(pose: &Pose, a: Part) -> Option<Point> {
    Some(pose.at(a)?.midpoint(pose.at(a.other_side())?))
}

/// `front` is the left side.
fn side(left: Part, front_is_left: bool) -> Part {
    if front_is_left { left } else { left.other_side() }
}

const PLACES: [Place; 7] = [
    ("head, whole swing", |p, _| middle(p, Part::LeftEar), When::Clip),
    ("hands, whole swing", |p, _| middle(p, Part::LeftHand), When::Clip),
    ("hands, hands start → contact", |p, _| middle(p, Part::LeftHand), When::HandsStartToContact),
    ("hands, contact → extension", |p, _| middle(p, Part::LeftHand), When::ContactToExtension),
    ("hips, whole swing", |p, _| middle(p, Part::LeftHip), When::Clip),
    ("front toe, touch ± 0.15 s", |p, f| p.at(side(Part::LeftToe, f)), When::Landing),
    ("front heel, touch ± 0.15 s", |p, f| p.at(side(Part::LeftHeel, f)), When::Landing),
];

/// Errors of points in % of body height; "wander" is the error with its mean over the same pictures taken out.
pub fn points(rows: &[Row]) {
    println!("| point | seen from | pictures | not seen | median | 90 % | wander, 90 % (% of body height) |");
    println!("|---|---|---|---|---|---|---|");
    for (name, place, when) in PLACES {
        for from in ["side", "along"] {
            let (mut sizes, mut wander, mut gone) = (Vec::new(), Vec::new(), 0);
            for (r, reading) in read(rows).filter(|(r, _)| seen_from(r.truth.view) == from) {
                let (offsets, missing) = offsets(&reading.track, &r.truth, place, when);
                let mean = offsets.iter().fold(Point::default(), |s, p| s + *p)
                    * (1.0 / offsets.len().max(1) as f64);
                sizes.extend(offsets.iter().map(|p| p.length()));
                wander.extend(offsets.iter().map(|p| (*p - mean).length()));
                gone += missing;
            }
            println!(
                "| {name} | {from} | {} | {gone} | {:.1} | {:.1} | {:.1} |",
                sizes.len(),
                Errors::quantile(sizes.clone(), 0.5),
                Errors::quantile(sizes, 0.9),
                Errors::quantile(wander, 0.9),
            );
        }
    }
    println!();
}

fn offsets(
    track: &Track,
    truth: &Truth,
    place: fn(&Pose, bool) -> Option<Point>,
    when: When,
) -> (Vec<Point>, usize) {
    let at = |id| truth.at(id).unwrap_or(f64::NAN);
    let (from, to) = match when {
        When::Clip => (f64::NEG_INFINITY, f64::INFINITY),
        When::HandsStartToContact => (at(EventId::HandsStart), at(EventId::Contact)),
        When::ContactToExtension => (at(EventId::Contact), at(EventId::Extension)),
        When::Landing => (at(EventId::Touch) - 0.15, at(EventId::Touch) + 0.15),
    };
    let front_is_left = truth.bats == swingpair::ground::Side::Right;
    let exact = truth.track();
    let mut missing = 0;
    let mut offsets = Vec::new();
    for pose in track.poses.iter().filter(|p| p.time_s >= from && p.time_s <= to) {
        let true_place = exact.nearest(pose.time_s).and_then(|p| place(p, front_is_left));
        match (place(pose, front_is_left), true_place) {
            (Some(p), Some(q)) => offsets.push((p - q) * (100.0 / truth.body_height_px)),
            _ => missing += 1,
        }
    }
    (offsets, missing)
}

pub fn head_on_a_shaking_camera(pairs: &[(Row, Row)]) {
    println!("| swing | head travel plant to contact, cm: tripod | loose hand | difference | true |");
    println!("|---|---|---|---|---|");
    for (still, shaking) in pairs {
        let of = |r: &Row| match &r.outcome {
            Outcome::Read(m) => m.measures.get(&MeasureId::HeadTravelPlantToContact).map(|m| m.value),
            _ => None,
        };
        let (a, b) = (of(still).unwrap_or(f64::NAN), of(shaking).unwrap_or(f64::NAN));
        let truth = still.truth.measures_in_picture.get(&MeasureId::HeadTravelPlantToContact);
        println!(
            "| {} | {a:.1} | {b:.1} | {:+.1} | {:.1} |",
            scenarios::told(&still.scenario),
            b - a,
            truth.copied().unwrap_or(f64::NAN)
        );
    }
}

/// Every error as a line: kind, name, clip, view, fps, error, ±.
pub fn tsv(rows: &[Row]) -> String {
    let mut out = String::new();
    for (r, reading) in read(rows) {
        let (name, from, hz) = (&r.scenario.name, seen_from(r.truth.view), r.scenario.camera.rate_hz);
        for (id, e) in &reading.events {
            if let Some(t) = r.truth.at(*id) {
                let off = (e.time_s - t) * 1e3;
                let _ = writeln!(
                    out,
                    "event\t{}\t{:?}\t{name}\t{from}\t{hz}\t{off:.2}\t{:.2}",
                    id.word(),
                    e.source,
                    e.plus_minus_s * 1e3
                );
            }
        }
        for (id, m) in &reading.measures {
            if let Some(t) = r.truth.measures_in_picture.get(id) {
                let _ = writeln!(
                    out,
                    "measure\t{id:?}\t-\t{name}\t{from}\t{hz}\t{:.3}\t{:.3}",
                    m.value - t,
                    m.plus_minus
                );
            }
        }
    }
    out
}
