//! Two cameras on one swing, lined up by what both heard and held against what both saw.
//!
//! ```text
//! sounds ─► rises ─► likely lags (GCC-PHAT, voted over stretches) ─► sounds both have ─► offset, drift
//! ```
//!
//! Onsets of each sound come by spectral flux; GCC-PHAT (Knapp & Carter 1976) names likely lags; over long takes, stretches
//! vote for a line. Each lag is weighed by the sounds both have and only one has. Two cracks count as one if their waves are
//! alike, if more moments agree than by chance, or if the picture says both are contact. Then the travel time of sound, then
//! plant and contact as seen (`agree.rs`). `borrow.rs` says whose moment counts; a reading with borrowed moments is not kept.

mod agree;
mod alike;
mod borrow;
mod evidence;
mod fine;
mod fit;
mod onsets;
mod phat;
mod vote;

use crate::types::{HeardOffset, RunnerUp, Sound, Unheard};

pub use agree::{SoundDelays, agreed};
pub use alike::{Against, Unlike, against};
pub use borrow::{Borrowed, borrowed};
pub use phat::{Correlation, gcc_phat};

use evidence::{Judge, ScoredOffset};
use fine::Match;
use onsets::{Rises, rises};
use vote::Line;

/// Sounds are compared at this rate, Hz.
pub const SOUND_HZ: u32 = 16_000;
/// Of likely places so many are looked at closely.
const MOST_LINES: usize = 12;
const MOST_STRONG: usize = 8;
/// An offset that fits this well beside the best cannot be told from it.
const AS_GOOD: f64 = 0.5;
/// Echoes make neighbours of the best offset: those are the same one, s.
const ECHO_S: f64 = 0.12;
/// How far one sound counts that is contact in both by the picture.
const CONTACT_WEIGHT: f64 = 0.6;
/// Lags closer than this are those of one pair of sounds, s.
const SAME_S: f64 = 0.004;
/// About the swing's own contact only its sound counts, s.
const NEAR_S: f64 = 0.12;

/// Line two recordings of one rate up. `near_s`: when the swing's contact is in each by the picture, where that is
/// known. What the sounds leave open is then looked for about it, and of several sounds from several places its own is
/// taken.
pub fn line_up(sounds: [&Sound; 2], near_s: [Option<f64>; 2]) -> Result<HeardOffset, Unheard> {
    let both = sounds.map(rises);
    for (clip, rises) in both.iter().enumerate() {
        if sounds.get(clip).is_none_or(|s| s.samples.is_empty()) {
            return Err(Unheard::NoSound { clip });
        }
        if rises.sudden.is_empty() {
            return Err(Unheard::Quiet { clip });
        }
    }
    let [first, second] = &both;
    let judge = Judge::new(sounds, [first, second]);
    let contact = near_s[0].zip(near_s[1]);
    match (alone(&judge, [first, second], contact), contact) {
        (Err(why), Some(contact)) => about_contact(&judge, [first, second], contact).ok_or(why),
        (heard, _) => heard,
    }
}

/// By sound alone; `contact` only tells which of several sounds counts.
fn alone(
    judge: &Judge,
    [first, second]: [&Rises; 2],
    contact: Option<(f64, f64)>,
) -> Result<HeardOffset, Unheard> {
    let mut judged: Vec<ScoredOffset> =
        likely(first, second).into_iter().map(|line| judge.weigh(line)).collect();
    judged.sort_by(|a, b| b.worth.total_cmp(&a.worth));
    let Some(best) = judged.first().filter(|e| e.worth > 0.0) else { return Err(Unheard::Unrelated) };
    let place = |e: &ScoredOffset| e.line.lag_s;
    let beside = |e: &&ScoredOffset| (place(e) - place(best)).abs() <= ECHO_S;
    let next = judged.iter().find(|e| !beside(e));
    let runner_up = next.map(|e| RunnerUp { offset_s: place(e), share: e.worth / best.worth });
    if runner_up.is_some_and(|r| r.share >= AS_GOOD) {
        let as_good = judged.iter().filter(|e| e.worth >= AS_GOOD * best.worth);
        return Err(Unheard::Ambiguous { offsets_s: as_good.map(place).collect() });
    }
    // Sounds from other places, and echoes, make offsets beside the best: all are looked at.
    let about = together(judged.iter().filter(beside));
    let near = |m: &&Match| contact.is_none_or(|c| is_near(m, c));
    let own: Vec<Match> = about.iter().filter(near).copied().collect();
    let long = first.length_s() >= vote::DRIFT_FROM_S;
    let used = if own.is_empty() || long { &about } else { &own };
    let Some(fitted) = fit::fit(used, |t| best.line.lag_at(t)) else { return Err(Unheard::Unrelated) };
    if !fitted.alike && !best.beyond_chance {
        return Err(match best.matches.len() {
            0 | 1 => Unheard::LoneSound { offset_s: fitted.offset.offset_s },
            _ => Unheard::Unrelated,
        });
    }
    Ok(HeardOffset {
        offset: fitted.offset,
        confidence: (1.0 - runner_up.map_or(0.0, |r| r.share)) * best.weight_of_evidence(),
        runner_up,
        shared: best.matches.len(),
        alike: fitted.alike,
        other_places: fitted.other_places,
        by_contact: false,
    })
}

/// The lags that correlation names; over a short while also those that bring any two strong sounds together: where a
/// beat is regular, whitening hides all lags but one.
fn likely(first: &Rises, second: &Rises) -> Vec<Line> {
    let mut lines = vote::lines(first, second, MOST_LINES);
    if first.length_s() < vote::DRIFT_FROM_S {
        let at_s = first.start_s + first.length_s() / 2.0;
        for a in first.strongest(MOST_STRONG) {
            for b in second.strongest(MOST_STRONG) {
                let lag_s = b - a;
                if lines.iter().all(|l| (l.lag_s - lag_s).abs() > SAME_S / 2.0) {
                    lines.push(Line { at_s, lag_s, ppm: 0.0, votes: 0.0 });
                }
            }
        }
    }
    lines
}

/// The loudest that both have where the picture says that contact is.
fn about_contact(judge: &Judge, [first, second]: [&Rises; 2], contact: (f64, f64)) -> Option<HeardOffset> {
    let near = |r: &Rises, at_s: f64| -> Vec<f64> {
        r.sudden.iter().map(|(hop, _)| r.time_s(*hop)).filter(|t| (t - at_s).abs() <= NEAR_S).collect()
    };
    let mut matches: Vec<Match> = Vec::new();
    for a in near(first, contact.0) {
        for b in near(second, contact.1) {
            if (b - a - (contact.1 - contact.0)).abs() <= NEAR_S {
                matches.push(judge.compare(a, b));
            }
        }
    }
    let expected_s = contact.1 - contact.0;
    let fitted = fit::fit(&matches, |_| expected_s)?;
    // Another pair of sounds there, as loud, would be as good.
    let loudest = |own: bool| {
        let of = |m: &&Match| ((m.lag_s - fitted.offset.offset_s).abs() <= SAME_S) == own;
        matches.iter().filter(of).max_by(|a, b| a.loudness.total_cmp(&b.loudness))
    };
    let best = loudest(true)?.loudness;
    let runner_up =
        loudest(false).map(|m| RunnerUp { offset_s: m.lag_s, share: m.loudness / best.max(1e-9) });
    let share = runner_up.map_or(0.0, |r| r.share);
    (share < AS_GOOD).then_some(HeardOffset {
        offset: fitted.offset,
        confidence: (1.0 - share) * CONTACT_WEIGHT,
        runner_up,
        shared: 1,
        alike: fitted.alike,
        other_places: fitted.other_places,
        by_contact: true,
    })
}

fn is_near(m: &Match, contact: (f64, f64)) -> bool {
    (m.first_s - contact.0).abs() <= NEAR_S && (m.first_s + m.lag_s - contact.1).abs() <= NEAR_S
}

/// Every pair of sounds once.
fn together<'a>(judged: impl Iterator<Item = &'a ScoredOffset>) -> Vec<Match> {
    let mut all: Vec<Match> = Vec::new();
    for m in judged.flat_map(|e| &e.matches) {
        if all.iter().all(|o| (o.first_s - m.first_s).abs() + (o.lag_s - m.lag_s).abs() > 1e-6) {
            all.push(*m);
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    const RATE_HZ: f64 = SOUND_HZ as f64;

    fn noise(seed: u32) -> impl FnMut() -> f32 {
        let mut state = seed.wrapping_mul(2_654_435_761).wrapping_add(1);
        move || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 8) as f32 / (1 << 24) as f32 - 0.5
        }
    }

    /// A room's hiss and cracks at these times; each crack's own hiss is drawn from its number.
    fn heard(length_s: f64, start_s: f64, room: u32, cracks: &[(f64, u32)]) -> Sound {
        let mut hiss = noise(room);
        let mut samples: Vec<f32> = (0..(length_s * RATE_HZ) as usize).map(|_| 0.004 * hiss()).collect();
        for (at_s, number) in cracks {
            let mut hiss = noise(*number);
            let first = ((at_s - start_s) * RATE_HZ).round();
            for i in 0..600 {
                let place = first as isize + i;
                if let Some(v) = usize::try_from(place).ok().and_then(|p| samples.get_mut(p)) {
                    *v += 0.8 * hiss() * (-(i as f32) / 80.0).exp();
                }
            }
        }
        Sound { rate_hz: SOUND_HZ, start_s, samples }
    }

    const ALONE: [Option<f64>; 2] = [None, None];

    #[test]
    fn one_crack_that_is_known_again_tells_the_offset_to_a_fraction_of_a_millisecond() {
        let first = heard(3.0, -0.2, 1, &[(1.5, 50)]);
        let second = heard(5.0, 0.1, 2, &[(3.2345, 50)]);
        let found = line_up([&first, &second], ALONE).unwrap();
        assert!((found.offset.offset_s - 1.7345).abs() < 1e-4, "{found:?}");
        assert!(found.alike && found.confidence > 0.5 && found.offset.drift.is_none());
    }

    #[test]
    fn another_crack_is_not_taken_for_it_unless_the_picture_says_that_both_are_contact() {
        let first = heard(3.0, 0.0, 1, &[(1.5, 50)]);
        let second = heard(3.0, 0.0, 2, &[(1.9, 51)]);
        assert!(matches!(line_up([&first, &second], ALONE), Err(Unheard::LoneSound { .. })));
        let found = line_up([&first, &second], [Some(1.48), Some(1.93)]).unwrap();
        assert!(found.by_contact && (found.offset.offset_s - 0.4).abs() < 0.002, "{found:?}");
        assert!(found.confidence <= CONTACT_WEIGHT);
    }

    #[test]
    fn silence_steady_noise_and_no_samples_are_no_witness() {
        let crack = heard(3.0, 0.0, 1, &[(1.5, 50)]);
        let quiet = Sound { samples: vec![0.0; 48_000], ..crack.clone() };
        let steady = heard(3.0, 0.0, 3, &[]);
        let empty = Sound { samples: Vec::new(), ..crack.clone() };
        assert_eq!(line_up([&quiet, &crack], ALONE), Err(Unheard::Quiet { clip: 0 }));
        assert_eq!(line_up([&crack, &empty], ALONE), Err(Unheard::NoSound { clip: 1 }));
        assert!(line_up([&crack, &steady], ALONE).is_err());
    }

    #[test]
    fn a_regular_beat_fits_at_several_offsets() {
        let beats =
            |from: f64| -> Vec<(f64, u32)> { (0..8).map(|i| (from + f64::from(i) * 0.7, 60)).collect() };
        let first = heard(4.0, 0.0, 1, &beats(0.3));
        let second = heard(4.0, 0.0, 2, &beats(0.55));
        let Err(Unheard::Ambiguous { offsets_s }) = line_up([&first, &second], ALONE) else {
            panic!("a beat was taken for an offset");
        };
        assert!(offsets_s.iter().any(|o| (o - 0.25).abs() < 0.003), "{offsets_s:?}");
        assert!(
            offsets_s.iter().any(|o| (o - 0.95).abs() < 0.003 || (o + 0.45).abs() < 0.003),
            "{offsets_s:?}"
        );
    }

    #[test]
    fn clocks_that_run_apart_are_measured_over_a_long_take() {
        let at = |i: u32| 4.0 + 9.7 * f64::from(i) + 0.11 * f64::from(i.pow(3) * 7 % 31);
        let first: Vec<(f64, u32)> = (0..18).map(|i| (at(i), 70 + i)).collect();
        let ppm = 63.0;
        let second: Vec<(f64, u32)> =
            first.iter().map(|(t, n)| (t * (1.0 + ppm * 1e-6) + 7.25, *n)).collect();
        let (first, second) = (heard(190.0, 0.0, 1, &first), heard(200.0, 0.0, 2, &second));
        let found = line_up([&first, &second], ALONE).unwrap().offset;
        let drift = found.drift.unwrap();
        assert!((drift.ppm - ppm).abs() <= drift.plus_minus_ppm.max(0.5), "{drift:?}");
        for t in [10.0f64, 100.0, 180.0] {
            let true_s = t * (1.0 + ppm * 1e-6) + 7.25;
            assert!((found.second_from_first(t) - true_s).abs() < 0.0003, "{found:?}");
            assert!((found.first_from_second(true_s) - t).abs() < 0.0003);
        }
    }
}
