//! How suddenly a sound rises, millisecond by millisecond, and its sudden sounds.

use rustfft::FftPlanner;
use rustfft::num_complex::Complex32;

use crate::math::median_of;
use crate::types::Sound;

/// One value of the strength, s.
pub const HOP_S: f64 = 0.001;
/// A spectrum is taken of so much, s.
const WINDOW_S: f64 = 0.004;
/// A rise is over the loudest of the spectra from so long before to so long before, hops.
const BEFORE: (usize, usize) = (8, 3);
/// Lower sounds are left out: rumble and wind, Hz.
const LOWEST_HZ: f64 = 400.0;
/// Power of a bin counts over so many times its usual power.
const OVER_USUAL: f32 = 4.0;
/// The quietest a usual power can be: digital zero would make any rustle a jump (about −90 dB of full scale).
const QUIETEST: f32 = 1e-9;
/// Rises that stray so many times as far as the usual ones are sudden.
const SUDDEN: f32 = 6.0;
/// After a sudden sound its own ringing is not another one, hops.
const REST: usize = 25;
/// What follows a stronger one within so many hops is its echo, and so is what follows a far stronger one for longer.
const ECHO: usize = 60;
const LATE_ECHO: usize = 150;
const LATE_ECHO_SHARE: f32 = 0.6;

/// A sound's rises.
pub struct Rises {
    /// By hop; 0 where nothing sudden happens.
    pub strength: Vec<f32>,
    /// Time of the first hop, s.
    pub start_s: f64,
    pub hop_s: f64,
    /// Sudden sounds in order of time: (hop, strength).
    pub sudden: Vec<(usize, f32)>,
}

impl Rises {
    pub fn time_s(&self, hop: usize) -> f64 {
        self.start_s + hop as f64 * self.hop_s
    }

    /// Times of the strongest sudden sounds, s.
    pub fn strongest(&self, most: usize) -> Vec<f64> {
        let mut order: Vec<&(usize, f32)> = self.sudden.iter().collect();
        order.sort_by(|a, b| b.1.total_cmp(&a.1));
        order.into_iter().take(most).map(|(hop, _)| self.time_s(*hop)).collect()
    }

    pub fn length_s(&self) -> f64 {
        self.strength.len() as f64 * self.hop_s
    }
}

/// Spectral flux of the compressed power spectrum: how far each bin rises over the loudest it was just before, summed.
pub fn rises(sound: &Sound) -> Rises {
    let rate = f64::from(sound.rate_hz.max(1));
    let hop = ((rate * HOP_S).round() as usize).max(1);
    let size = ((rate * WINDOW_S).round() as usize).max(8);
    let hop_s = hop as f64 / rate;
    let fft = FftPlanner::new().plan_fft_forward(size);
    let window: Vec<f32> = (0..size)
        .map(|i| (0.5 - 0.5 * (std::f64::consts::TAU * (i as f64 + 0.5) / size as f64).cos()) as f32)
        .collect();
    let lowest = ((LOWEST_HZ * size as f64 / rate).ceil() as usize).max(1);
    let bins = (size / 2).saturating_sub(lowest);
    // A window's middle lies over its hop's beginning.
    let count = sound.samples.len().div_ceil(hop);
    let mut spectrum = vec![Complex32::default(); size];
    let mut power = |at: usize, out: &mut Vec<f32>| {
        for (i, (v, w)) in spectrum.iter_mut().zip(&window).enumerate() {
            let sample = (at * hop + i).checked_sub(size / 2).and_then(|j| sound.samples.get(j)).copied();
            *v = Complex32::new(sample.unwrap_or(0.0) * w, 0.0);
        }
        fft.process(&mut spectrum);
        out.clear();
        out.extend(spectrum.iter().skip(lowest).take(bins).map(|v| v.norm_sqr() / size as f32));
    };

    let step = (count / 4000).max(1);
    let mut rows: Vec<Vec<f32>> = vec![Vec::new(); bins];
    let mut now = Vec::new();
    for at in (0..count).step_by(step) {
        power(at, &mut now);
        rows.iter_mut().zip(&now).for_each(|(row, v)| row.push(*v));
    }
    let usual: Vec<f32> = rows.into_iter().map(|row| middle_of(row).max(QUIETEST) * OVER_USUAL).collect();

    let kept = BEFORE.0 + 1;
    let mut before: Vec<Vec<f32>> = vec![vec![0.0; bins]; kept];
    let mut strength = Vec::with_capacity(count);
    for at in 0..count {
        power(at, &mut now);
        let level: Vec<f32> = now.iter().zip(&usual).map(|(p, u)| (p / u).ln_1p()).collect();
        let mut flux = 0.0;
        if at >= BEFORE.0 {
            for (k, v) in level.iter().enumerate() {
                let past = (BEFORE.1..=BEFORE.0).filter_map(|back| before[(at - back) % kept].get(k));
                flux += (v - past.copied().fold(0.0, f32::max)).max(0.0);
            }
        }
        before[at % kept] = level;
        strength.push(flux);
    }
    let middle = middle_of(strength.clone());
    let stray = middle_of(strength.iter().map(|v| (v - middle).abs()).collect()).max(0.02 * bins as f32);
    let least = middle + SUDDEN * stray;
    for v in &mut strength {
        *v = (*v - least).max(0.0);
    }
    let sudden = peaks(&strength);
    Rises { strength, start_s: sound.start_s, hop_s, sudden }
}

/// The highest first, each with a rest about it; then in order of time without echoes.
fn peaks(strength: &[f32]) -> Vec<(usize, f32)> {
    let mut order: Vec<usize> = (0..strength.len()).filter(|i| strength[*i] > 0.0).collect();
    order.sort_by(|a, b| strength[*b].total_cmp(&strength[*a]));
    let mut taken = vec![false; strength.len()];
    let mut out: Vec<(usize, f32)> = Vec::new();
    for top in order {
        if !taken[top] {
            out.push((top, strength[top]));
            let rest = top.saturating_sub(REST)..(top + REST + 1).min(taken.len());
            taken[rest].fill(true);
        }
    }
    out.sort_by_key(|p| p.0);
    let echo = |(i, (hop, strength)): &(usize, &(usize, f32))| {
        out.iter().take(*i).rev().take_while(|b| b.0 + LATE_ECHO > *hop).any(|(before, stronger)| {
            let share = if before + ECHO > *hop { 1.0 } else { LATE_ECHO_SHARE };
            *strength < share * stronger
        })
    };
    out.iter().enumerate().filter(|p| !echo(p)).map(|(_, p)| *p).collect()
}

fn middle_of(values: Vec<f32>) -> f32 {
    median_of(values.into_iter().map(f64::from)).map_or(0.0, |m| m as f32)
}
