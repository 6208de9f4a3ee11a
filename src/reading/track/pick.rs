//! Who swings and when, from what was seen: no pictures, no nets, no clock.

use super::super::params::{CLEAR_LEAD, OTHER_S, STIRS_S, SWINGS_APART_S};
use crate::tracking::{
    Burst, NoSwing as NotThis, Person, SLOWEST_SWING, SURE_SWING, bursts, standing_height_px,
};
use crate::types::{NoSwing, Point, Pose, Warning};

/// A moment when a person may swing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// Place in the list of people.
    pub person: usize,
    /// Real s.
    pub time_s: f64,
    /// Rough, ≥ 0: how much the body stirs and the hands jump.
    pub score: f64,
}

/// What a closer look at a moment showed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Probed {
    pub person: usize,
    pub burst: Burst,
}

/// The people that may be the hitter: all, or those that `hitter` lies on.
pub fn eligible(people: &[Person], hitter: Option<Point>) -> Vec<Person> {
    people.iter().filter(|p| hitter.is_none_or(|at| p.stands_at(at))).map(|p| p.steadied(2)).collect()
}

/// Moments worth a closer look, the most promising first. `stirs`: for each person how much moves about him
/// over time, (real s, levels).
pub fn moments(people: &[Person], stirs: &[Vec<(f64, f64)>]) -> Vec<Moment> {
    let mut all: Vec<Moment> = Vec::new();
    for (i, (person, stir)) in people.iter().zip(stirs).enumerate() {
        all.extend(sudden(person, stir).into_iter().map(|(time_s, score)| Moment {
            person: i,
            time_s,
            score,
        }));
    }
    all.sort_by(|a, b| b.score.total_cmp(&a.score));
    all
}

fn sudden(person: &Person, stir: &[(f64, f64)]) -> Vec<(f64, f64)> {
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
    let mut order: Vec<(f64, f64)> = times
        .into_iter()
        .map(|t| (t, hands_near(t) * ((stir_near(t) + 1.0) / (usual + 1.0)).sqrt()))
        .collect();
    order.sort_by(|a, b| b.1.total_cmp(&a.1));
    // One burst and one peak of the same movement are one moment: the better stays.
    let mut kept: Vec<(f64, f64)> = Vec::new();
    for moment in order {
        if kept.iter().all(|k| (k.0 - moment.0).abs() > 0.45) {
            kept.push(moment);
        }
    }
    kept
}

/// Whether a closer look at another moment has shown the strongest movement about this one.
pub fn seen_already(probed: &[Probed], moment: &Moment) -> bool {
    let near = |p: &Probed| p.person == moment.person && (p.burst.time_s - moment.time_s).abs() < STIRS_S;
    probed.iter().any(near)
}

/// Whether the swing found at a moment of score `found_at` makes a look at one of score `next` needless.
pub fn leads_clearly(best: &Burst, found_at: f64, next: f64) -> bool {
    best.is_swing() && best.speed >= SURE_SWING && next < CLEAR_LEAD * found_at
}

/// The closer looks that show a swing, one for each, the fastest first; else why there is none.
pub fn decide(probed: &[Probed]) -> Result<Vec<usize>, NoSwing> {
    let mut order: Vec<usize> = (0..probed.len()).collect();
    let score = |i: usize| probed.get(i).map_or(0.0, |p| p.burst.score());
    order.sort_by(|a, b| score(*b).total_cmp(&score(*a)));
    let mut swings: Vec<(usize, f64)> = Vec::new();
    for i in &order {
        let Some(Probed { burst, .. }) = probed.get(*i).filter(|p| p.burst.is_swing()) else { continue };
        if swings.iter().all(|(_, t)| (t - burst.time_s).abs() >= SWINGS_APART_S) {
            swings.push((*i, burst.time_s));
        }
    }
    match order.first().and_then(|i| probed.get(*i)) {
        Some(_) if !swings.is_empty() => Ok(swings.into_iter().map(|s| s.0).collect()),
        Some(Probed { burst, .. }) => Err(no_swing_cause(burst)),
        None => Err(NoSwing::NobodyLong),
    }
}

/// When else a swing may be than at the chosen look, the strongest first, real s.
pub fn others(probed: &[Probed], chosen: usize) -> Vec<f64> {
    let Some(own) = probed.get(chosen) else { return Vec::new() };
    let far = |p: &&Probed| (p.burst.time_s - own.burst.time_s).abs() >= OTHER_S;
    let mut all: Vec<&Probed> = probed.iter().filter(|p| p.burst.is_swing()).filter(far).collect();
    all.sort_by(|a, b| b.burst.score().total_cmp(&a.burst.score()));
    let mut times: Vec<f64> = Vec::new();
    for t in all.iter().map(|p| p.burst.time_s) {
        if times.iter().all(|u| (u - t).abs() >= OTHER_S) {
            times.push(t);
        }
    }
    times
}

/// What is to be said where there is more than one swing; the first is read.
pub fn several(times_s: &[f64]) -> Option<Warning> {
    let read_s = times_s.first().filter(|_| times_s.len() > 1)?;
    let mut sorted = times_s.to_vec();
    sorted.sort_by(f64::total_cmp);
    Some(Warning::SeveralSwings { times_s: sorted, read_s: *read_s })
}

fn no_swing_cause(burst: &Burst) -> NoSwing {
    match burst.why_not() {
        Some(NotThis::Slow) | None => NoSwing::HandsSlow { fastest: burst.speed, least: SLOWEST_SWING },
        Some(NotThis::Apart) => NoSwing::HandsApart,
        Some(NotThis::NotStanding) => NoSwing::NotStanding,
        Some(NotThis::OnTheWay) => NoSwing::Walking,
        Some(NotThis::StaysLow) => NoSwing::HandsLow,
    }
}

/// What the hitter as he was followed should be warned of. `presence`: the net's belief in each picture,
/// 0…1; `poses`: the same pictures; size of the full picture, px.
pub fn doubts(poses: &[Pose], presence: &[f32], (width, height): (f64, f64)) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let share = |n: usize, of: usize| n as f64 / of.max(1) as f64;
    let unsure = presence.iter().filter(|p| **p < 0.5).count();
    if share(unsure, presence.len()) > 0.1 {
        warnings.push(Warning::HitterHardToSee { share: share(unsure, presence.len()) });
    }
    let inside = |p: Point| p.x >= 0.0 && p.y >= 0.0 && p.x <= width && p.y <= height;
    let seen: Vec<&Pose> = poses.iter().filter(|p| p.spots.iter().flatten().next().is_some()).collect();
    let cut = seen.iter().filter(|p| p.spots.iter().flatten().any(|s| !inside(s.at))).count();
    if share(cut, seen.len()) > 0.1 {
        warnings.push(Warning::HitterCutOff { share: share(cut, seen.len()) });
    }
    warnings
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tracking::{Region, Sighting};
    use crate::types::{Part, Seen, Spot};

    /// Someone `height` px tall with hips at (`x`, 300) and hands at `hands` body heights from them.
    fn sighting(time_s: f64, x: f64, height: f64, hands: Point) -> Sighting {
        let mut pose = Pose::empty(0, time_s);
        let mut put = |part, dx: f64, dy: f64| {
            let at = Point::new(x + dx * height, 300.0 + dy * height);
            pose.set(part, Some(Spot { at, visibility: 0.9, seen: Seen::Picture }));
        };
        for (part, side) in [(Part::LeftHip, 0.04), (Part::RightHip, -0.04)] {
            put(part, side, 0.0);
        }
        for (part, side) in [(Part::LeftShoulder, 0.08), (Part::RightShoulder, -0.08)] {
            put(part, side, -0.29);
        }
        for (knee, ankle, side) in
            [(Part::LeftKnee, Part::LeftAnkle, 0.05), (Part::RightKnee, Part::RightAnkle, -0.05)]
        {
            put(knee, side, 0.24);
            put(ankle, side, 0.49);
        }
        put(Part::LeftWrist, hands.x + 0.02, hands.y);
        put(Part::RightWrist, hands.x - 0.02, hands.y);
        let region = Region { centre: Point::new(x, 300.0), side: 1.25 * height, rotation_rad: 0.0 };
        Sighting { pose, region, present: 0.95 }
    }

    /// Four seconds, four pictures a second; the hands cross at `swing_s`.
    fn person(x: f64, height: f64, swing_s: Option<f64>) -> Person {
        let sightings = (0..16)
            .map(|i| {
                let t = f64::from(i) * 0.25;
                let share = swing_s.map_or(0.0, |s| ((t - s) / 0.25 + 0.5).clamp(0.0, 1.0));
                sighting(t, x, height, Point::new(-0.3 + 0.7 * share, -0.3))
            })
            .collect();
        Person { sightings, ..Person::default() }
    }

    fn stir(peak_s: Option<f64>) -> Vec<(f64, f64)> {
        (0..120)
            .map(|i| {
                let t = f64::from(i) / 30.0;
                (t, 1.0 + peak_s.map_or(0.0, |p| 30.0 * (-((t - p) / 0.1).powi(2)).exp()))
            })
            .collect()
    }

    fn burst(time_s: f64, speed: f64) -> Burst {
        let (drift, upright, finish) = (0.05, 0.95, Some(0.1));
        Burst { time_s, speed, wrists_apart: 0.05, drift, upright, finish }
    }

    #[test]
    fn the_one_who_swings_comes_before_the_bigger_one() {
        let people = [person(200.0, 400.0, None), person(700.0, 200.0, Some(2.1))];
        let found = moments(&people, &[stir(None), stir(Some(2.1))]);
        let first = found.first().unwrap();
        assert_eq!(first.person, 1);
        assert!((first.time_s - 2.1).abs() < 0.3, "{first:?}");
        assert!(found.iter().skip(1).all(|m| m.score < first.score));
    }

    #[test]
    fn the_pointed_at_person_is_the_only_one() {
        let people = [person(200.0, 400.0, None), person(700.0, 200.0, Some(2.1))];
        assert_eq!(eligible(&people, None).len(), 2);
        let one = eligible(&people, Some(Point::new(200.0, 300.0)));
        assert_eq!((one.len(), one[0].sightings[0].region.side), (1, 500.0));
        assert!(eligible(&people, Some(Point::new(1200.0, 300.0))).is_empty());
    }

    #[test]
    fn of_two_who_swing_at_once_the_faster_is_read() {
        let people = [person(200.0, 300.0, Some(2.1)), person(700.0, 300.0, Some(2.1))];
        let found = moments(&people, &[stir(Some(2.1)), stir(Some(2.1))]);
        assert!(found.iter().take(2).any(|m| m.person == 0) && found.iter().take(2).any(|m| m.person == 1));
        let probed =
            [Probed { person: 0, burst: burst(2.1, 2.2) }, Probed { person: 1, burst: burst(2.1, 3.5) }];
        assert_eq!(decide(&probed).unwrap(), [1], "one moment is one swing");
    }

    #[test]
    fn walking_is_no_swing_and_says_why() {
        let cause = decide(&[Probed { person: 0, burst: burst(1.0, 0.8) }]).unwrap_err();
        assert!(cause.to_string().contains("0.8"), "{cause}");
        let reported = |burst| decide(&[Probed { person: 0, burst }]).unwrap_err().to_string();
        assert!(reported(Burst { wrists_apart: 0.5, ..burst(1.0, 2.0) }).contains("one bat"));
        assert!(reported(Burst { upright: 0.4, ..burst(1.0, 2.0) }).contains("upright"));
        assert!(reported(Burst { drift: 0.9, ..burst(1.0, 2.0) }).contains("running"));
        assert!(reported(Burst { finish: Some(-0.3), ..burst(1.0, 2.0) }).contains("bunt"));
        assert!(decide(&[]).is_err());
    }

    #[test]
    fn several_swings_are_told() {
        let probed = [2.0, 9.0].map(|t| Probed { person: 0, burst: burst(t, 2.0 + t / 10.0) });
        assert_eq!(decide(&probed).unwrap(), [1, 0]);
        let reported = several(&[9.0, 2.0]).unwrap();
        assert_eq!(reported, Warning::SeveralSwings { times_s: vec![2.0, 9.0], read_s: 9.0 });
        assert_eq!(several(&[9.0]), None);
    }

    #[test]
    fn only_a_sure_swing_ends_the_search_early() {
        assert!(leads_clearly(&burst(1.0, 2.6), 4.0, 2.0));
        assert!(!leads_clearly(&burst(1.0, 2.6), 4.0, 3.5));
        assert!(!leads_clearly(&burst(1.0, 1.3), 4.0, 1.0));
    }

    #[test]
    fn a_hitter_cut_off_or_hard_to_see_is_told() {
        let whole: Vec<Pose> = person(300.0, 200.0, None).poses().cloned().collect();
        assert!(doubts(&whole, &[0.9; 16], (1280.0, 720.0)).is_empty());
        let told = doubts(&whole, &[0.2; 16], (1280.0, 380.0));
        let codes: Vec<&str> = told.iter().map(Warning::code).collect();
        assert_eq!(codes, ["hitter_hard_to_see", "hitter_cut_off"]);
    }
}
