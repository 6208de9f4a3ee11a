//! Sudden sounds: where the level above 1 kHz or so jumps over what it was just before.

use super::params::{
    ONSET_REST_S, ONSET_RISE_DB, SOUND_BEFORE_FROM_S, SOUND_BEFORE_TO_S, SOUND_FLOOR_DB, SOUND_HOP_S,
};
use crate::types::{Onset, Sound};

/// Every jump in level, in time order. Real time is playback time ÷ `slow_factor`.
pub fn onsets(sound: &Sound, slow_factor: f64) -> Vec<Onset> {
    let hop = ((f64::from(sound.rate_hz) * SOUND_HOP_S) as usize).max(1);
    let hop_s = hop as f64 / f64::from(sound.rate_hz.max(1));
    let levels: Vec<f64> = differences(&sound.samples)
        .chunks(hop)
        .map(|c| {
            let power = c.iter().map(|v| v * v).sum::<f64>() / c.len() as f64;
            (10.0 * (power + 1e-12).log10()).max(SOUND_FLOOR_DB)
        })
        .collect();
    let back = |s: f64| (s / hop_s).round() as usize;
    let (far, near) = (back(SOUND_BEFORE_FROM_S), back(SOUND_BEFORE_TO_S));
    let mut found: Vec<(usize, f64)> = Vec::new();
    let mut i = far;
    while i < levels.len() {
        let (Some(before), Some(level)) = (levels.get(i - far..=i - near), levels.get(i)) else { break };
        let base = before.iter().sum::<f64>() / before.len() as f64;
        let rise = level - base;
        if rise >= ONSET_RISE_DB {
            // Climb to the top of this jump, then come back to where it began to climb.
            let end = (i + back(0.008)).min(levels.len() - 1);
            let top = (i..=end).max_by(|a, b| levels[*a].total_cmp(&levels[*b])).unwrap_or(i);
            let middle = base + (levels[top] - base) * 0.5;
            let first = (i - near..=top).find(|j| levels[*j] >= middle).unwrap_or(i);
            found.push((first, levels[top] - base));
            // At least one on: at a low rate a hop is longer than the rest.
            i = top + back(ONSET_REST_S).max(1);
        } else {
            i += 1;
        }
    }
    found
        .into_iter()
        .map(|(k, rise_db)| Onset { time_s: (sound.start_s + k as f64 * hop_s) / slow_factor, rise_db })
        .collect()
}

/// First differences: they tilt the spectrum 6 dB an octave upward, so that a crack stands out of a voice.
fn differences(samples: &[f32]) -> Vec<f64> {
    samples.windows(2).map(|w| f64::from(w[1]) - f64::from(w[0])).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noise(n: usize, seed: u32) -> Vec<f32> {
        let mut state = seed;
        (0..n)
            .map(|_| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (state >> 8) as f32 / (1 << 24) as f32 - 0.5
            })
            .collect()
    }

    #[test]
    fn a_crack_in_noise_is_found_within_two_milliseconds() {
        let rate = 48_000;
        let mut samples: Vec<f32> = noise(rate * 2, 7).iter().map(|v| v * 0.01).collect();
        let at = 1.234;
        let start = (at * rate as f64) as usize;
        for (k, v) in noise(2000, 9).iter().enumerate() {
            samples[start + k] += v * (-(k as f32) / 300.0).exp();
        }
        let sound = Sound { rate_hz: rate as u32, start_s: -0.5, samples };
        let found = onsets(&sound, 1.0);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!((found[0].time_s - (at - 0.5)).abs() < 0.002, "{found:?}");
        assert!(found[0].rise_db > 15.0);
    }

    #[test]
    fn steady_noise_and_silence_have_none() {
        for samples in [noise(48_000, 3), vec![0.0; 48_000], vec![]] {
            assert!(onsets(&Sound { rate_hz: 48_000, start_s: 0.0, samples }, 1.0).is_empty());
        }
    }
}
