//! Every swing of a long film.

use std::sync::Mutex;

use super::choose::probe;
use super::pick::{self, Probed};
use super::stream::Pass;
use super::survey;
use crate::body::{Burst, Nets, Person, SLOWEST_SWING};
use crate::ground::{Cancel, Onset, Point, Progress, Result, Warning};
use crate::media::Clip;

/// A swing in a long film, roughly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoughSwing {
    /// When the hands are fastest, real s.
    pub time_s: f64,
    /// How fast, body heights a second.
    pub speed: f64,
    /// Middle of the hitter, px.
    pub at: Point,
    /// A sudden sound in time for contact: how far it stands out, dB.
    pub heard_db: Option<f64>,
}

/// Moments that promised less are not looked at once so many in a row were no swing.
const FRUITLESS: usize = 14;
/// A moment is looked at once for each person; more than this a minute would be no batting practice.
const MOST_A_MINUTE: f64 = 40.0;
/// Contact is heard at most so long before and after the hands are fastest, s (they are so before contact, and sound
/// comes late).
const HEARD_S: (f64, f64) = (0.08, 0.22);
/// Two swings of one hitter are at least so far apart, s: back to the stance and the next ball.
const APART_S: f64 = 1.6;

/// Finds them, in time order: first a coarse survey of the whole film, then a closer look at every moment in which
/// somebody stirs suddenly or something is heard.
pub fn swings(
    clip: &Clip,
    onsets: &[Onset],
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<(Vec<RoughSwing>, Vec<Warning>)> {
    let nets = Nets::load()?;
    let threads = std::thread::available_parallelism().map_or(2, usize::from);
    let pass = Pass { clip, nets: &nets, threads, progress, cancel, told: Mutex::default() };
    let survey = survey::survey(&pass)?;
    let people = pick::eligible(&survey.people, None);
    let facts = clip.facts();
    let size = (facts.width as f64, facts.height as f64);
    let stirs: Vec<_> = people.iter().map(|p| survey.stir(p, size.0, size.1)).collect();
    let mut moments = pick::moments(&people, &stirs);
    moments.truncate((facts.duration_s / facts.slow_factor / 60.0 * MOST_A_MINUTE).ceil().max(8.0) as usize);
    let mut found: Vec<RoughSwing> = Vec::new();
    let mut fruitless = 0;
    for moment in moments {
        cancel.check()?;
        if fruitless >= FRUITLESS {
            break;
        }
        // Seen already, with another person or as the other peak of one movement.
        if found.iter().any(|f| (f.time_s - moment.time_s).abs() < APART_S / 2.0) {
            continue;
        }
        let Some(person) = people.get(moment.person) else { continue };
        let seen = probe(&pass, person, moment.time_s, &survey.cuts)?;
        let burst = seen.map(|(burst, _)| Probed { person: moment.person, burst });
        match burst.filter(|p| counts(&p.burst, heard(onsets, p.burst.time_s))) {
            Some(Probed { burst, .. }) => {
                fruitless = 0;
                found.push(RoughSwing {
                    time_s: burst.time_s,
                    speed: burst.speed,
                    at: place(person, burst.time_s),
                    heard_db: heard(onsets, burst.time_s),
                });
            }
            None => fruitless += 1,
        }
    }
    Ok((one_a_swing(found), pass.told.into_inner().unwrap_or_default()))
}

/// A burst of both hands that is a swing: slower ones only where a ball was heard.
fn counts(burst: &Burst, heard_db: Option<f64>) -> bool {
    /// A waggle or a bunt is slower, a miss is not (own choice on made-up sessions).
    const SURE: f64 = 1.5 * SLOWEST_SWING;
    burst.is_swing() && (heard_db.is_some() || burst.speed >= SURE)
}

/// The strongest sudden sound about the moment.
fn heard(onsets: &[Onset], time_s: f64) -> Option<f64> {
    let near = |o: &&Onset| (time_s - HEARD_S.0..=time_s + HEARD_S.1).contains(&o.time_s);
    onsets.iter().filter(near).map(|o| o.rise_db).max_by(f64::total_cmp)
}

fn place(person: &Person, time_s: f64) -> Point {
    person.region_at(time_s).map_or_else(Point::default, |r| r.centre)
}

/// Bursts closer than two swings can be are one: the fastest stays.
fn one_a_swing(mut found: Vec<RoughSwing>) -> Vec<RoughSwing> {
    found.sort_by(|a, b| b.speed.total_cmp(&a.speed));
    let mut kept: Vec<RoughSwing> = Vec::new();
    for swing in found {
        if kept.iter().all(|k| (k.time_s - swing.time_s).abs() >= APART_S) {
            kept.push(swing);
        }
    }
    kept.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rough(time_s: f64, speed: f64) -> RoughSwing {
        RoughSwing { time_s, speed, at: Point::default(), heard_db: None }
    }

    #[test]
    fn one_swing_is_listed_once_in_time_order() {
        let found = one_a_swing(vec![rough(9.0, 2.0), rough(3.0, 3.0), rough(3.9, 2.5), rough(14.0, 4.0)]);
        let times: Vec<f64> = found.iter().map(|f| f.time_s).collect();
        assert_eq!(times, [3.0, 9.0, 14.0]);
    }

    #[test]
    fn slow_hands_count_only_with_a_ball_that_is_heard() {
        let burst = |speed, wrists_apart| Burst { time_s: 5.0, speed, wrists_apart };
        assert!(counts(&burst(3.0, 0.05), None));
        assert!(!counts(&burst(1.1 * SLOWEST_SWING, 0.05), None));
        assert!(counts(&burst(1.1 * SLOWEST_SWING, 0.05), Some(20.0)));
        assert!(!counts(&burst(4.0, 0.5), Some(20.0)), "a thrower's hands are apart");
        let onsets = [Onset { time_s: 5.1, rise_db: 20.0 }, Onset { time_s: 5.5, rise_db: 30.0 }];
        assert_eq!(heard(&onsets, 5.0), Some(20.0));
        assert_eq!(heard(&onsets, 4.0), None);
    }
}
