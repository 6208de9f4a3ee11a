//! Every swing of a long film.

use super::super::params::{
    BURST_HEARD_AFTER_S, BURST_HEARD_BEFORE_S, FRUITLESS, MOST_A_MINUTE, OTHER_S, SWINGS_APART_S,
};
use std::sync::Mutex;

use super::choose::probe;
use super::pick::{self, Probed};
use super::stream::Pass;
use super::survey;
use crate::media::Clip;
use crate::tracking::{Nets, Person, SURE_SWING};
use crate::types::{Cancel, Onset, Point, Progress, Result, Warning};

/// A swing in a long film, roughly.
#[derive(Debug, Clone, PartialEq)]
pub struct RoughSwing {
    /// When the hands are fastest, real s.
    pub time_s: f64,
    /// How fast, body heights a second.
    pub speed: f64,
    /// Middle of the hitter, px.
    pub at: Point,
    /// A sudden sound in time for contact: how far it stands out, dB.
    pub heard_db: Option<f64>,
    /// When else about then the swing may be, should this not be one, the likeliest first, real s.
    pub others_s: Vec<f64>,
}

impl RoughSwing {
    /// Fast enough to need no other sign, or heard.
    pub fn is_sure(&self) -> bool {
        self.speed >= SURE_SWING || self.heard_db.is_some()
    }
}

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
    let pass = Pass { clip, nets: &nets, threads, progress, cancel, warnings: Mutex::default() };
    let survey = survey::survey(&pass)?;
    let people = pick::eligible(&survey.people, None);
    let facts = clip.facts();
    let size = (facts.width as f64, facts.height as f64);
    let stirs: Vec<_> = people.iter().map(|p| survey.stir(p, size.0, size.1)).collect();
    let mut moments = pick::moments(&people, &stirs);
    moments.truncate((facts.duration_s / facts.slow_factor / 60.0 * MOST_A_MINUTE).ceil().max(8.0) as usize);
    let mut probed: Vec<Probed> = Vec::new();
    let mut fruitless = 0;
    for moment in moments {
        cancel.check()?;
        if fruitless >= FRUITLESS {
            break;
        }
        // Seen already, with another person or as the other peak of one movement.
        let near = |p: &Probed| (p.burst.time_s - moment.time_s).abs() < OTHER_S;
        if probed.iter().any(|p| p.burst.is_swing() && near(p)) || pick::seen_already(&probed, &moment) {
            continue;
        }
        let Some(person) = people.get(moment.person) else { continue };
        let Some((burst, _)) = probe(&pass, person, moment.time_s, &survey.cuts)? else { continue };
        fruitless = if burst.is_swing() { 0 } else { fruitless + 1 };
        probed.push(Probed { person: moment.person, burst });
    }
    // Without a swing there is nothing to list.
    let swings = pick::decide(&probed).unwrap_or_default();
    let mut found: Vec<RoughSwing> = Vec::new();
    for (index, Probed { person, burst }) in swings.iter().filter_map(|i| Some((*i, probed.get(*i)?))) {
        let Some(person) = people.get(*person) else { continue };
        found.push(RoughSwing {
            time_s: burst.time_s,
            speed: burst.speed,
            at: place(person, burst.time_s),
            heard_db: heard(onsets, burst.time_s),
            others_s: pick::others(&probed, index)
                .into_iter()
                .filter(|t| (t - burst.time_s).abs() < SWINGS_APART_S)
                .collect(),
        });
    }
    found.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
    Ok((found, pass.warnings.into_inner().unwrap_or_default()))
}

/// The strongest sudden sound about the moment.
fn heard(onsets: &[Onset], time_s: f64) -> Option<f64> {
    let near =
        |o: &&Onset| (time_s - BURST_HEARD_BEFORE_S..=time_s + BURST_HEARD_AFTER_S).contains(&o.time_s);
    onsets.iter().filter(near).map(|o| o.rise_db).max_by(f64::total_cmp)
}

fn place(person: &Person, time_s: f64) -> Point {
    person.region_at(time_s).map_or_else(Point::default, |r| r.centre)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ball_is_heard_near_its_swing_only() {
        let onsets = [Onset { time_s: 5.1, rise_db: 20.0 }, Onset { time_s: 5.5, rise_db: 30.0 }];
        assert_eq!(heard(&onsets, 5.0), Some(20.0));
        assert_eq!(heard(&onsets, 4.0), None);
    }
}
