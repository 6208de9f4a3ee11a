//! One sudden sound in two recordings: how much later it is in the second, to a fraction of a millisecond.

use crate::types::Sound;

use super::phat::Phat;

/// Looked for this far about where it is expected, s.
const SEARCH_S: f64 = 0.006;
/// What is compared of a sound: from before its beginning until after it, s.
const BEFORE_S: f64 = 0.0015;
const AFTER_S: f64 = 0.008;
/// Sounds are compared in this band, Hz: above the tones that one bat has in every hit.
const BAND_HZ: (f64, f64) = (2_200.0, 7_600.0);
/// Steps of lag in a sample.
const STEPS: usize = 4;
/// A peak of the correlation within this is one peak, s.
const PEAK_S: f64 = 0.0006;
/// A peak so many times as high as the rest strays says that the sounds are alike.
pub const ALIKE: f64 = 5.5;
/// Length of one level reading, s.
const LEVEL_S: f64 = 0.00025;

/// A sudden sound that both recordings have.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Match {
    /// When it begins in the first, s.
    pub first_s: f64,
    /// How much later it is in the second, s.
    pub lag_s: f64,
    /// How loud it is beside the loudest of its recording, in the one where it is less: 0…1.
    pub loudness: f64,
    /// How high the correlation's peak stands over the rest, in standard deviations.
    pub stands_out: f64,
}

impl Match {
    pub fn alike(&self) -> bool {
        self.stands_out >= ALIKE
    }
}

/// Compares pieces of two recordings of one sample rate.
pub struct Fine<'a> {
    first: &'a Sound,
    second: &'a Sound,
    phat: Phat,
    /// Loudest sample of each.
    loudest: [f64; 2],
}

impl<'a> Fine<'a> {
    pub fn new(first: &'a Sound, second: &'a Sound) -> Self {
        let rate = f64::from(first.rate_hz);
        let piece = ((BEFORE_S + AFTER_S) * rate).ceil() as usize;
        let wide = piece + (2.0 * SEARCH_S * rate).ceil() as usize;
        let loudest =
            [first, second].map(|s| f64::from(s.samples.iter().fold(1e-6f32, |m, v| m.max(v.abs()))));
        Self { first, second, phat: Phat::new(piece, wide, STEPS), loudest }
    }

    /// The sound that begins about `first_s` in the first and about `second_s` in the second.
    pub fn compare(&self, first_s: f64, second_s: f64) -> Match {
        let rate = f64::from(self.first.rate_hz);
        let begins = [begins_at(self.first, first_s), begins_at(self.second, second_s)];
        let [a_s, b_s] = begins;
        let loud = |sound, begins_s, most: f64| loudest(sound, begins_s) / most;
        let loudness = loud(self.first, a_s, self.loudest[0]).min(loud(self.second, b_s, self.loudest[1]));
        let piece = piece(self.first, a_s - BEFORE_S, BEFORE_S + AFTER_S);
        let wide = self::piece(self.second, b_s - BEFORE_S - SEARCH_S, BEFORE_S + AFTER_S + 2.0 * SEARCH_S);
        let (Some(piece), Some(wide)) = (piece, wide) else {
            return Match { first_s: a_s, lag_s: b_s - a_s, loudness, stands_out: 0.0 };
        };
        let half_hz = rate / 2.0;
        let band = BAND_HZ.0 / half_hz..(BAND_HZ.1 / half_hz).min(0.95);
        let correlation =
            self.phat.correlate(&self.phat.spectrum(&piece.1), &self.phat.spectrum(&wide.1), band);
        let last = (2.0 * SEARCH_S * rate) as isize * STEPS as isize;
        let top = (0..=last).max_by(|a, b| correlation.at(*a).total_cmp(&correlation.at(*b))).unwrap_or(0);
        let apart = (PEAK_S * rate) as isize * STEPS as isize;
        let rest: Vec<f64> = (0..=last)
            .filter(|l| (l - top).abs() > apart)
            .map(|l| f64::from(correlation.at(l)).powi(2))
            .collect();
        let stray = (rest.iter().sum::<f64>() / rest.len().max(1) as f64).sqrt();
        let stands_out = f64::from(correlation.at(top)) / stray.max(1e-9);
        let by_wave_s = (wide.0 - piece.0) + top as f64 / (rate * STEPS as f64);
        let lag_s = if stands_out >= ALIKE { by_wave_s } else { b_s - a_s };
        Match { first_s: a_s, lag_s, loudness, stands_out }
    }
}

/// Time of the first sample of the piece, and its samples, faded at both ends.
fn piece(sound: &Sound, from_s: f64, length_s: f64) -> Option<(f64, Vec<f32>)> {
    let rate = f64::from(sound.rate_hz);
    let from = ((from_s - sound.start_s) * rate).round();
    let count = (length_s * rate).round() as usize;
    let from = (from >= 0.0).then_some(from as usize)?;
    let samples = sound.samples.get(from..from.checked_add(count)?)?;
    let fade = (0.001 * rate) as usize;
    let out = samples.iter().enumerate().map(|(i, v)| {
        let edge = i.min(count - 1 - i);
        if edge < fade { v * (edge as f32 + 0.5) / fade as f32 } else { *v }
    });
    Some((sound.start_s + from as f64 / rate, out.collect()))
}

fn loudest(sound: &Sound, begins_s: f64) -> f64 {
    let piece = piece(sound, begins_s - 0.001, AFTER_S);
    f64::from(piece.map_or(0.0, |(_, v)| v.iter().fold(0.0f32, |m, v| m.max(v.abs()))))
}

/// When the level, tilted toward high sounds, is half way (in dB) from what it was to its top.
fn begins_at(sound: &Sound, about_s: f64) -> f64 {
    let rate = f64::from(sound.rate_hz);
    let hop = ((rate * LEVEL_S).round() as usize).max(1);
    let from = (((about_s - 0.030) - sound.start_s) * rate).max(1.0) as usize;
    let to = ((((about_s + 0.012) - sound.start_s) * rate).max(0.0) as usize).min(sound.samples.len());
    let Some(samples) = sound.samples.get(from.saturating_sub(1)..to) else { return about_s };
    let levels: Vec<f64> = samples
        .windows(2)
        .map(|w| f64::from(w[1] - w[0]).powi(2))
        .collect::<Vec<_>>()
        .chunks(hop)
        .map(|c| 10.0 * (c.iter().sum::<f64>() / c.len() as f64 + 1e-12).log10())
        .collect();
    let before = ((0.030 - 0.006) / (hop as f64 / rate)) as usize;
    if levels.len() <= before + 2 {
        return about_s;
    }
    let base = levels.iter().take(before).sum::<f64>() / before.max(1) as f64;
    let top = levels.iter().skip(before).copied().fold(f64::MIN, f64::max);
    let middle = base + (top - base) * 0.5;
    let reached = (before..levels.len()).find(|i| levels[*i] >= middle).unwrap_or(before);
    sound.start_s + (from + reached * hop) as f64 / rate
}
