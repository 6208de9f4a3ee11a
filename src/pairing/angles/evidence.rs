//! How well one offset explains what both recordings hold.

use super::fine::{ALIKE, Fine, Match};
use super::onsets::Rises;
use super::vote::{DRIFT_FROM_S, Line};
use crate::types::Sound;

/// Sudden sounds this far apart at an offset are one, s; over long takes the rough drift adds to it.
const SAME_S: f64 = 0.004;
const SAME_DRIFTING_S: f64 = 0.008;
/// Sounds from other places than the hitter's come this much earlier or later at most, s: phones 10 m apart.
const ELSEWHERE_S: f64 = 0.030;
/// What only one recording has counts so much against an offset: cameras hear different things.
const MISSED: f64 = 0.5;
/// Of all the offsets that could be tried, so many may fit as well by chance.
const BY_CHANCE: f64 = 0.003;
/// At most so many sounds are compared closely: the loudest.
const MOST_COMPARED: usize = 200;

/// One offset, weighed.
pub struct ScoredOffset {
    pub line: Line,
    /// In the unit of the rises' strength.
    pub worth: f64,
    pub matches: Vec<Match>,
    /// The sounds themselves are alike.
    pub alike: bool,
    /// More moments agree than would by chance.
    pub beyond_chance: bool,
}

impl ScoredOffset {
    /// 0…1: how little it rests on a few sounds.
    pub fn weight_of_evidence(&self) -> f64 {
        let best = self.matches.iter().map(|m| m.stands_out).fold(0.0, f64::max);
        let by_wave = if self.alike { 1.0 - (ALIKE / best.max(ALIKE)).powi(2) * 0.5 } else { 0.0 };
        let by_moments =
            if self.beyond_chance { 1.0 - 0.5f64.powi(self.matches.len() as i32 - 1) } else { 0.0 };
        1.0 - (1.0 - by_wave) * (1.0 - by_moments)
    }
}

/// Weighs offsets between two recordings.
pub struct Judge<'a> {
    rises: [&'a Rises; 2],
    fine: Fine<'a>,
}

impl<'a> Judge<'a> {
    pub fn new(sounds: [&'a Sound; 2], rises: [&'a Rises; 2]) -> Self {
        Self { rises, fine: Fine::new(sounds[0], sounds[1]) }
    }

    /// The sound about `first_s` in the first with the one about `second_s` in the second.
    pub fn compare(&self, first_s: f64, second_s: f64) -> Match {
        self.fine.compare(first_s, second_s)
    }

    pub fn weigh(&self, line: Line) -> ScoredOffset {
        let [first, second] = self.rises;
        let same_s = if first.length_s() >= DRIFT_FROM_S { SAME_DRIFTING_S } else { SAME_S };
        let end_s = |r: &Rises| r.start_s + r.length_s();
        // Where both recordings run, on the first's clock.
        let from_s = first.start_s.max(second.start_s - line.lag_at(first.start_s));
        let to_s = end_s(first).min(end_s(second) - line.lag_at(end_s(first)));
        let heard = |r: &Rises, lag: &dyn Fn(f64) -> f64| -> Vec<(f64, f64)> {
            r.sudden
                .iter()
                .map(|(hop, strength)| (lag(r.time_s(*hop)), f64::from(*strength)))
                .filter(|(t, _)| *t >= from_s - same_s && *t <= to_s + same_s)
                .collect()
        };
        let in_first = heard(first, &|t| t);
        let in_second = heard(second, &|t| t - line.lag_at(t - line.lag_s));
        let mut taken = vec![false; in_second.len()];
        let mut pairs: Vec<(f64, f64, f64)> = Vec::new();
        let mut missed = 0.0;
        for (t, strength) in &in_first {
            let begin = in_second.partition_point(|s| s.0 < t - same_s);
            let near = in_second.iter().enumerate().skip(begin).take_while(|(_, s)| s.0 <= t + same_s);
            match near
                .filter(|(i, _)| !taken[*i])
                .min_by(|a, b| (a.1.0 - t).abs().total_cmp(&(b.1.0 - t).abs()))
            {
                Some((i, (u, other))) => {
                    taken[i] = true;
                    pairs.push((*t, *u, strength.min(*other)));
                }
                None => missed += strength,
            }
        }
        missed += in_second.iter().zip(&taken).filter(|(_, t)| !**t).map(|(s, _)| s.1).sum::<f64>();
        let met: f64 = pairs.iter().map(|p| p.2).sum();

        pairs.sort_by(|a, b| b.2.total_cmp(&a.2));
        let matches: Vec<Match> = pairs
            .iter()
            .take(MOST_COMPARED)
            .map(|(t, u, _)| self.fine.compare(*t, u + line.lag_at(*t)))
            .collect();
        let (n, m) = (in_first.len() as f64, in_second.len() as f64);
        let tried = (first.sudden.len() * second.sudden.len()) as f64;
        let chance = |met: usize, within_s: f64| {
            let mean = (n - 1.0).max(0.0) * m * 2.0 * within_s / (to_s - from_s).max(within_s);
            tried * at_least(met.saturating_sub(1), mean)
        };
        let elsewhere =
            in_first.iter().filter(|a| in_second.iter().any(|b| (a.0 - b.0).abs() <= ELSEWHERE_S)).count();
        let beyond_chance =
            chance(pairs.len(), same_s) < BY_CHANCE || chance(elsewhere, ELSEWHERE_S) < BY_CHANCE;
        ScoredOffset {
            line,
            worth: (met - MISSED * missed / 2.0).max(0.05 * met),
            alike: matches.iter().any(Match::alike),
            matches,
            beyond_chance,
        }
    }
}

/// Chance that at least `count` of rare things happen where `mean` are expected (Poisson).
fn at_least(count: usize, mean: f64) -> f64 {
    let (mut term, mut below) = ((-mean).exp(), 0.0);
    for k in 0..count {
        below += term;
        term *= mean / (k + 1) as f64;
    }
    (1.0f64 - below).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Poisson with mean 1: 1 − e⁻¹·(1 + 1 + 1/2) = 0.0803 for three or more (by hand).
    #[test]
    fn rare_coincidences_are_counted() {
        assert!((at_least(3, 1.0) - 0.0803).abs() < 1e-4);
        assert_eq!(at_least(0, 0.3), 1.0);
    }
}
