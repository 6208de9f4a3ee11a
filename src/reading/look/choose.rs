//! Who swings, and when.

use crate::body::{Burst, Person, Region, Sighting, bursts, standing_height_px};
use crate::ground::{Error, Point, Pose, Result, Warning};

use super::stream::Pass;
use super::survey::{Survey, full_scale, sighting, spread};

/// The swing to read.
pub struct Chosen {
    pub person: Person,
    pub burst: Burst,
    /// Real s, within the clip.
    pub window_s: (f64, f64),
    pub warnings: Vec<Warning>,
}

/// Read from so long before the burst to so long after it, real s.
pub const WINDOW_S: (f64, f64) = (1.6, 0.9);
/// A closer look covers so much on each side of a sudden movement, s, at so many pictures a second.
const PROBE_S: f64 = 0.45;
const PROBE_HZ: f64 = 30.0;
const MOST_PROBES: usize = 3;

struct Candidate {
    person: usize,
    time_s: f64,
    score: f64,
}

pub fn choose(pass: &Pass, survey: &Survey, hitter: Option<Point>) -> Result<Chosen> {
    let facts = pass.clip.facts();
    let path = || facts.path.clone();
    if survey.people.is_empty() {
        return Err(Error::NoPerson { path: path() });
    }
    let mut people: Vec<&Person> = survey.people.iter().collect();
    if let Some(at) = hitter {
        people.retain(|p| p.stands_at(at));
        if people.is_empty() {
            let cause = format!("nobody was seen at {:.0},{:.0}", at.x, at.y);
            return Err(Error::NoSwing { path: path(), cause });
        }
    }
    let people: Vec<Person> = people.into_iter().map(|p| p.steadied(2)).collect();
    let mut candidates = Vec::new();
    for (i, person) in people.iter().enumerate() {
        candidates.extend(
            sudden(survey, person, (facts.width as f64, facts.height as f64))
                .map(|(time_s, score)| Candidate { person: i, time_s, score }),
        );
    }
    candidates.sort_by(|a, b| b.score.total_cmp(&a.score));

    let mut best: Option<(usize, Burst, Vec<Sighting>)> = None;
    for candidate in candidates.iter().take(MOST_PROBES) {
        let Some(person) = people.get(candidate.person) else { continue };
        let Some((burst, seen)) = probe(pass, person, candidate.time_s)? else { continue };
        if best.as_ref().is_none_or(|(_, b, _)| burst.score() > b.score()) {
            best = Some((candidate.person, burst, seen));
        }
    }
    let swing = best.and_then(|(i, burst, seen)| Some((people.get(i)?, burst, seen)));
    let Some((person, burst, seen)) = swing else {
        let cause = "nobody stays in the picture long enough".to_owned();
        return Err(Error::NoSwing { path: path(), cause });
    };
    if !burst.is_swing() {
        return Err(Error::NoSwing { path: path(), cause: no_swing_cause(&burst) });
    }
    let end_s = pass.clip.real_s(facts.frames.saturating_sub(1));
    Ok(Chosen {
        person: with_closer_look(person, seen),
        burst,
        window_s: ((burst.time_s - WINDOW_S.0).max(0.0), (burst.time_s + WINDOW_S.1).min(end_s)),
        warnings: Vec::new(),
    })
}

fn no_swing_cause(burst: &Burst) -> String {
    if burst.speed < crate::body::SLOWEST_SWING {
        format!(
            "the fastest movement of the hands is {:.1} body heights a second, a swing has more than {:.1}; \
             if it was filmed in slow motion, give --recorded-at HZ",
            burst.speed,
            crate::body::SLOWEST_SWING
        )
    } else {
        "the hands move fast, but not together on one bat".to_owned()
    }
}

/// Moments when a person may swing, with a rough score: the body stirs and the hands jump.
fn sudden(survey: &Survey, person: &Person, (width, height): (f64, f64)) -> impl Iterator<Item = (f64, f64)> {
    let stir = survey.stir(person, width, height);
    let mut sorted: Vec<f64> = stir.iter().map(|s| s.1).collect();
    sorted.sort_by(f64::total_cmp);
    let usual = sorted.get(sorted.len() / 2).copied().unwrap_or(0.0);
    let poses: Vec<Pose> = person.poses().cloned().collect();
    let hands = standing_height_px(&poses).map(|h| bursts(&poses, h)).unwrap_or_default();
    let hands_near =
        |t: f64| hands.iter().filter(|b| (b.time_s - t).abs() < 0.4).map(Burst::score).fold(0.4, f64::max);
    let stir_near =
        |t: f64| stir.iter().filter(|(u, _)| (u - t).abs() < 0.2).map(|(_, v)| *v).fold(0.0, f64::max);
    let mut times: Vec<f64> = hands.iter().map(|b| b.time_s).collect();
    // Peaks of the stir.
    times.extend(stir.iter().filter(|(t, v)| *v > usual * 1.5 && *v >= stir_near(*t)).map(|(t, _)| *t));
    let scored: Vec<(f64, f64)> = times
        .into_iter()
        .map(|t| (t, hands_near(t) * ((stir_near(t) + 1.0) / (usual + 1.0)).sqrt()))
        .collect();
    // One burst and one peak of the same movement are one moment: the better stays.
    let mut kept: Vec<(f64, f64)> = Vec::new();
    let mut order = scored;
    order.sort_by(|a, b| b.1.total_cmp(&a.1));
    for moment in order {
        if kept.iter().all(|k| (k.0 - moment.0).abs() > 0.45) {
            kept.push(moment);
        }
    }
    kept.into_iter()
}

/// A closer look at a moment: the strongest burst in it and all that was seen.
fn probe(pass: &Pass, person: &Person, time_s: f64) -> Result<Option<(Burst, Vec<Sighting>)>> {
    let clip = pass.clip;
    let (from, to) = (clip.frame_at_real(time_s - PROBE_S), clip.frame_at_real(time_s + PROBE_S));
    let wanted = spread(from, to + 1, PROBE_HZ, |i| clip.real_s(i));
    let seen = see_person(pass, "looking for the swing", person, &wanted)?;
    let sightings: Vec<Sighting> = seen.into_iter().flatten().collect();
    let poses: Vec<Pose> = sightings.iter().map(|s| s.pose.clone()).collect();
    let all = person.poses().chain(&poses);
    let Some(height) = standing_height_px(all) else { return Ok(None) };
    let strongest = bursts(&poses, height).into_iter().max_by(|a, b| a.score().total_cmp(&b.score()));
    Ok(strongest.map(|b| (b, sightings)))
}

fn see_person(pass: &Pass, what: &str, person: &Person, wanted: &[usize]) -> Result<Vec<Option<Sighting>>> {
    let fit = fit_for(pass, person);
    pass.run(
        what,
        wanted,
        fit,
        |_| (),
        |eye, picture| {
            let Some(region) = person.region_at(pass.clip.real_s(picture.index)) else { return Ok(None) };
            let (sx, sy) = full_scale(pass, &picture.frame);
            let body = eye.body(&picture.frame, shrunk(region, sx, sy))?;
            Ok(sighting(pass, &body, picture))
        },
    )
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
fn with_closer_look(person: &Person, closer: Vec<Sighting>) -> Person {
    let mut sightings = person.sightings.clone();
    sightings.extend(closer);
    sightings.sort_by(|a, b| a.pose.time_s.total_cmp(&b.pose.time_s));
    sightings.dedup_by_key(|s| s.pose.frame);
    Person { sightings }.steadied(2)
}
