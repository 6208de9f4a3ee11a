//! Who swings, and when.

use super::super::params::{
    ABOUT_S, MOST_PROBES, PROBE_HZ, PROBE_S, READ_AFTER_S, READ_BEFORE_S, SWINGS_APART_S, UNDER_WAY_S,
};
use std::collections::HashMap;

use crate::messages;
use crate::tracking::{
    Burst, FINISH_TO_S, Pan, Person, Region, Sighting, bursts, shot_around, standing_height_px,
};
use crate::types::{Error, NoSwing, Point, Pose, Result, Warning};

use super::TrackingOptions;
use super::pick::{self, Moment, Probed};
use super::stream::Pass;
use super::survey::{Survey, full_scale, sighting, spread};

/// The swing to read.
pub struct Chosen {
    pub person: Person,
    pub burst: Burst,
    /// Real s, within the clip.
    pub window_s: (f64, f64),
    /// What the closer look saw, by picture.
    pub probes: HashMap<usize, Probe>,
    /// When else the swing may be, should this not be one, the likeliest first, real s.
    pub others_s: Vec<f64>,
    pub warnings: Vec<Warning>,
}

/// One picture of a closer look and the square it was looked at in (full-picture px).
pub struct Probe {
    pub shown: Region,
    pub sighting: Sighting,
}

pub fn choose(pass: &Pass, survey: &Survey, options: &TrackingOptions) -> Result<Chosen> {
    let (hitter, about_s) = (options.hitter, options.about_s);
    let facts = pass.clip.facts();
    let none = |cause: NoSwing| Error::NoSwing { path: facts.path.clone(), cause };
    if survey.people.is_empty() {
        return Err(Error::NoPerson { path: facts.path.clone() });
    }
    let people = pick::eligible(&survey.people, hitter);
    if let (true, Some(at)) = (people.is_empty(), hitter) {
        return Err(none(NoSwing::NobodyAt { x_px: at.x, y_px: at.y }));
    }
    let (width, height) = (facts.width as f64, facts.height as f64);
    let stirs: Vec<_> = people.iter().map(|p| survey.stir(p, width, height)).collect();
    let cuts = &survey.cuts;
    let mut probed: Vec<(Probed, Vec<Probe>)> = Vec::new();
    let mut best: Option<(Burst, f64)> = None;
    let mut moments = pick::moments(&people, &stirs);
    if let Some(at_s) = about_s {
        moments.retain(|m| (m.time_s - at_s).abs() < SWINGS_APART_S / 2.0);
        let known = |person| moments.iter().any(|m| m.person == person && (m.time_s - at_s).abs() < PROBE_S);
        let unknown: Vec<usize> = (0..people.len()).filter(|p| !known(*p)).collect();
        moments.extend(unknown.into_iter().map(|person| Moment { person, time_s: at_s, score: 0.0 }));
    }
    let mut looks = 0;
    for moment in &moments {
        if looks >= MOST_PROBES || pick::seen_already(&probed_bursts(&probed), moment) {
            continue;
        }
        looks += 1;
        let found = |(burst, at): (Burst, f64)| pick::leads_clearly(&burst, at, moment.score);
        if options.swing.is_none() && best.is_some_and(found) {
            break;
        }
        let Some(person) = people.get(moment.person) else { continue };
        let Some((burst, seen)) = probe(pass, person, moment.time_s, cuts)? else { continue };
        // Of a swing that was under way when the camera started nothing can be read.
        if about_s.is_none() && burst.time_s - shot_around(cuts, burst.time_s).0.max(0.0) < UNDER_WAY_S {
            continue;
        }
        if burst.is_swing() && best.is_none_or(|(b, _)| burst.score() > b.score()) {
            best = Some((burst, moment.score));
        }
        probed.push((Probed { person: moment.person, burst }, seen));
    }
    if let Some(at_s) = about_s {
        let near = |p: &(Probed, Vec<Probe>)| (p.0.burst.time_s - at_s).abs() < ABOUT_S;
        if probed.iter().any(near) {
            probed.retain(near);
        }
    }
    let looks = probed_bursts(&probed);
    let swings = pick::decide(&looks).map_err(none)?;
    let times: Vec<f64> = swings.iter().filter_map(|i| looks.get(*i)).map(|p| p.burst.time_s).collect();
    let several = pick::several(&times).filter(|_| options.swing.is_none());
    let warnings: Vec<Warning> = several.into_iter().collect();
    let index = match options.swing {
        None => swings.first().copied().unwrap_or_default(),
        Some(nth) => {
            let mut by_time: Vec<(f64, usize)> = times.iter().copied().zip(swings.iter().copied()).collect();
            by_time.sort_by(|a, b| a.0.total_cmp(&b.0));
            let meant = nth.checked_sub(1).and_then(|i| by_time.get(i));
            meant.ok_or_else(|| none(NoSwing::NoSuchSwing { nth, times_s: times }))?.1
        }
    };
    let others_s = pick::others(&looks, index);
    let (Probed { person, burst }, probes) = probed.swap_remove(index);
    let person = people.get(person).ok_or_else(|| none(NoSwing::NobodyLeft))?;
    let end_s = pass.clip.real_s(facts.frames.saturating_sub(1));
    let (shot_from_s, shot_to_s) = shot_around(cuts, burst.time_s);
    // The next shot's first picture is not this one's last.
    let end_s = end_s.min(shot_to_s - 2.0 / facts.capture_rate_hz.max(1.0));
    let mut warnings = warnings;
    if !cuts.is_empty() {
        warnings.push(Warning::Cut);
    }
    Ok(Chosen {
        person: with_closer_look(person, &probes),
        burst,
        window_s: ((burst.time_s - READ_BEFORE_S).max(shot_from_s), (burst.time_s + READ_AFTER_S).min(end_s)),
        others_s,
        probes: probes.into_iter().map(|p| (p.sighting.pose.frame, p)).collect(),
        warnings,
    })
}

fn probed_bursts(probed: &[(Probed, Vec<Probe>)]) -> Vec<Probed> {
    probed.iter().map(|p| p.0).collect()
}

/// A closer look at a moment: the strongest burst in it and all that was seen.
pub fn probe(pass: &Pass, person: &Person, time_s: f64, cuts: &[f64]) -> Result<Option<(Burst, Vec<Probe>)>> {
    let clip = pass.clip;
    let (first_s, next_s) = shot_around(cuts, time_s);
    let from = clip.frame_at_real((time_s - PROBE_S).max(first_s));
    let step_s = 1.0 / clip.facts().capture_rate_hz.max(1.0);
    let to = clip.frame_at_real((time_s + PROBE_S).min(next_s - 2.0 * step_s));
    let mut probes = see_probe(pass, person, from, to)?;
    let strongest = |probes: &[Probe]| {
        let poses: Vec<Pose> = probes.iter().map(|p| in_scene(&p.sighting.pose, &person.pan)).collect();
        let height = standing_height_px(person.poses().chain(&poses))?;
        let rank = |b: &Burst| (b.is_swing(), b.score());
        bursts(&poses, height).into_iter().max_by(|a, b| {
            let (a, b) = (rank(a), rank(b));
            a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
        })
    };
    let mut best = strongest(&probes);
    // How it ends tells a swing from much else.
    if let Some(burst) = best.filter(|b| b.is_swing() && b.finish.is_none()) {
        let on = clip.frame_at_real((burst.time_s + FINISH_TO_S).min(next_s - 2.0 * step_s));
        if on > to {
            probes.extend(see_probe(pass, person, to + 1, on)?);
            best = strongest(&probes);
        }
    }
    let strongest = best;
    Ok(strongest.map(|b| (b, probes)))
}

fn see_probe(pass: &Pass, person: &Person, from: usize, to: usize) -> Result<Vec<Probe>> {
    let wanted = spread(from, to + 1, PROBE_HZ, |i| pass.clip.real_s(i));
    Ok(see_person(pass, messages::swing_search::FINDING_SWING, person, &wanted)?
        .into_iter()
        .flatten()
        .collect())
}

/// The pose as it were seen, had the camera stood still.
fn in_scene(pose: &Pose, pan: &Pan) -> Pose {
    let mut pose = pose.clone();
    let shift = pan.at(pose.time_s);
    for spot in pose.spots.iter_mut().flatten() {
        spot.at = spot.at - shift;
    }
    pose
}

fn see_person(pass: &Pass, what: &str, person: &Person, wanted: &[usize]) -> Result<Vec<Option<Probe>>> {
    let fit = fit_for(pass, person);
    pass.run(what, wanted, fit, |eye, picture| {
        let Some(region) = person.region_at(pass.clip.real_s(picture.index)) else { return Ok(None) };
        let (sx, sy) = full_scale(pass, &picture.frame);
        let body = eye.body(&picture.frame, shrunk(region, sx, sy))?;
        Ok(sighting(pass, &body, picture).map(|sighting| Probe { shown: region, sighting }))
    })
}

/// A full-picture region in a picture `sx`, `sy` times smaller.
pub fn shrunk(region: Region, sx: f64, sy: f64) -> Region {
    Region {
        centre: Point::new(region.centre.x / sx, region.centre.y / sy),
        side: region.side / sx,
        ..region
    }
}

/// Pictures need be no larger than the net can use: the body's square at about 1.6 times its input.
pub fn fit_for(pass: &Pass, person: &Person) -> Option<(usize, usize)> {
    let mut sides: Vec<f64> = person.sightings.iter().map(|s| s.region.side).collect();
    sides.sort_by(f64::total_cmp);
    let side = sides.get(sides.len() / 2)?;
    let share = 420.0 / side;
    let facts = pass.clip.facts();
    (share < 0.9).then_some(((facts.width as f64 * share) as usize, (facts.height as f64 * share) as usize))
}

/// The survey's sightings with those of the closer look put in.
fn with_closer_look(person: &Person, closer: &[Probe]) -> Person {
    let mut sightings = person.sightings.clone();
    sightings.extend(closer.iter().map(|p| p.sighting.clone()));
    sightings.sort_by(|a, b| a.pose.time_s.total_cmp(&b.pose.time_s));
    sightings.dedup_by_key(|s| s.pose.frame);
    Person { sightings, pan: person.pan.clone() }.steadied(2)
}
