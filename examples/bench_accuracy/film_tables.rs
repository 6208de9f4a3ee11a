//! What is told of films only: how well points are followed, and what a hand-held phone adds.

use std::fmt::Write;

use swingpair::demo::{Truth, scenarios};
use swingpair::types::{EventId, MeasureId, Part, Point, Pose, Track};

use super::rows::{Row, Share};
use super::tables::{quantile, read, seen_from};

/// What is compared, and of which parts it is the middle; which time of the swing.
#[derive(Clone, Copy)]
enum When {
    Clip,
    BeforeContact,
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
    ("hands, last 0.2 s before contact", |p, _| middle(p, Part::LeftHand), When::BeforeContact),
    ("hands, contact → extension", |p, _| middle(p, Part::LeftHand), When::ContactToExtension),
    ("hips, whole swing", |p, _| middle(p, Part::LeftHip), When::Clip),
    ("front toe, touch ± 0.15 s", |p, f| p.at(side(Part::LeftToe, f)), When::Landing),
    ("front heel, touch ± 0.15 s", |p, f| p.at(side(Part::LeftHeel, f)), When::Landing),
];

/// Errors of points in % of body height; "wander" is the error with its mean over the same pictures taken out.
pub fn points(out: &mut String, rows: &[Row]) {
    let _ = writeln!(
        out,
        "| point | share | seen from | pictures | not seen | median | 90 % | wander, 90 % (% of body height) |"
    );
    let _ = writeln!(out, "|---|---|---|---|---|---|---|---|");
    for (name, place, when) in PLACES {
        for (share, from) in Share::BOTH.into_iter().flat_map(|s| ["open", "closed", "along"].map(|f| (s, f)))
        {
            let (mut sizes, mut wander, mut gone) = (Vec::new(), Vec::new(), 0);
            for (r, reading) in
                read(rows).filter(|(r, _)| r.share == share && seen_from(r.truth.view) == from)
            {
                let (offsets, missing) = offsets(&reading.track, &r.truth, place, when);
                let mean = offsets.iter().fold(Point::default(), |s, p| s + *p)
                    * (1.0 / offsets.len().max(1) as f64);
                sizes.extend(offsets.iter().map(|p| p.length()));
                wander.extend(offsets.iter().map(|p| (*p - mean).length()));
                gone += missing;
            }
            if sizes.is_empty() {
                continue;
            }
            let _ = writeln!(
                out,
                "| {name} | {} | {from} | {} | {gone} | {:.1} | {:.1} | {:.1} |",
                share.word(),
                sizes.len(),
                quantile(sizes.clone(), 0.5),
                quantile(sizes, 0.9),
                quantile(wander, 0.9),
            );
        }
    }
    let _ = writeln!(out);
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
        When::BeforeContact => (at(EventId::Contact) - 0.2, at(EventId::Contact)),
        When::ContactToExtension => (at(EventId::Contact), at(EventId::Extension)),
        When::Landing => (at(EventId::Touch) - 0.15, at(EventId::Touch) + 0.15),
    };
    let front_is_left = truth.bats == swingpair::types::Side::Right;
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

pub fn head_on_a_shaking_camera(out: &mut String, pairs: &[(Row, Row)]) {
    let _ = writeln!(
        out,
        "| swing | head travel plant to contact, cm: tripod | loose hand | difference | true |"
    );
    let _ = writeln!(out, "|---|---|---|---|---|");
    for (still, shaking) in pairs {
        let of = |r: &Row| Some(r.read()?.measures.get(&MeasureId::HeadTravelPlantToContact)?.value);
        let (a, b) = (of(still).unwrap_or(f64::NAN), of(shaking).unwrap_or(f64::NAN));
        let truth = still.truth.measures_in_picture.get(&MeasureId::HeadTravelPlantToContact);
        let _ = writeln!(
            out,
            "| {} | {a:.1} | {b:.1} | {:+.1} | {:.1} |",
            scenarios::described(&still.scenario),
            b - a,
            truth.copied().unwrap_or(f64::NAN)
        );
    }
}
