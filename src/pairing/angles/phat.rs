//! Generalised cross-correlation with phase transform: Knapp and Carter, The generalized correlation method for
//! estimation of time delay, IEEE Transactions on Acoustics, Speech, and Signal Processing 24(4), 1976.

use std::ops::Range;
use std::sync::Arc;

use rustfft::num_complex::Complex32;
use rustfft::{Fft, FftPlanner};

/// Correlation by how much later the second signal is. 1 = the two are alike but for a shift.
pub struct Correlation {
    /// Around the circle of the transform: lag 0 first, then 1, 2, …, the negative ones at the end.
    around: Vec<f32>,
    /// Steps of lag in one sample.
    pub steps: usize,
    lags: Range<isize>,
}

impl Correlation {
    /// In steps; both signals overlap by at least one sample.
    pub fn lags(&self) -> Range<isize> {
        self.lags.clone()
    }

    /// Correlation at a lag, samples; 0 beyond the transform.
    pub fn at(&self, lag: isize) -> f32 {
        let n = self.around.len() as isize;
        if n == 0 {
            return 0.0;
        }
        self.around.get(lag.rem_euclid(n) as usize).copied().unwrap_or(0.0)
    }
}

/// Bins fainter than this share of the strongest carry no phase worth counting.
const FAINT: f32 = 1e-7;

/// A signal's spectrum, to be held against several others.
pub struct Spectrum {
    bins: Vec<Complex32>,
    len: usize,
}

/// Transforms of one size.
pub struct Phat {
    size: usize,
    steps: usize,
    forward: Arc<dyn Fft<f32>>,
    inverse: Arc<dyn Fft<f32>>,
}

impl Phat {
    /// For signals of at most these lengths; lags in `steps` to a sample.
    pub fn new(first: usize, second: usize, steps: usize) -> Self {
        let size = (first + second).max(2).next_power_of_two();
        let mut planner = FftPlanner::new();
        let steps = steps.max(1);
        Self {
            size,
            steps,
            forward: planner.plan_fft_forward(size),
            inverse: planner.plan_fft_inverse(size * steps),
        }
    }

    pub fn spectrum(&self, signal: &[f32]) -> Spectrum {
        let mut bins: Vec<Complex32> =
            signal.iter().take(self.size).map(|v| Complex32::new(*v, 0.0)).collect();
        let len = bins.len();
        bins.resize(self.size, Complex32::default());
        self.forward.process(&mut bins);
        Spectrum { bins, len }
    }

    /// `band`: which share of the spectrum counts, 0…1 of half the sample rate.
    pub fn correlate(&self, first: &Spectrum, second: &Spectrum, band: Range<f64>) -> Correlation {
        let half = self.size / 2;
        let (low, high) = ((band.start * half as f64) as usize, (band.end * half as f64) as usize);
        let strongest = |s: &Spectrum| s.bins.iter().map(Complex32::norm_sqr).fold(0.0, f32::max);
        let faint = FAINT * FAINT * strongest(first) * strongest(second);
        let long = self.size * self.steps;
        let mut cross = vec![Complex32::default(); long];
        let mut count = 0usize;
        for (k, (a, b)) in first.bins.iter().zip(&second.bins).enumerate() {
            let up = k.min(self.size - k);
            if up < low || up > high {
                continue;
            }
            let product = a.conj() * b;
            let power = product.norm_sqr();
            if power > faint && power > 0.0 {
                let place = if k <= half { k } else { long - (self.size - k) };
                if let Some(bin) = cross.get_mut(place) {
                    *bin = product / power.sqrt();
                    count += 1;
                }
            }
        }
        self.inverse.process(&mut cross);
        let scale = 1.0 / count.max(1) as f32;
        let steps = self.steps as isize;
        Correlation {
            around: cross.iter().map(|v| v.re * scale).collect(),
            steps: self.steps,
            lags: -(first.len as isize - 1) * steps..(second.len as isize - 1) * steps + 1,
        }
    }
}

/// The correlation of two signals over the whole band, in whole samples.
pub fn gcc_phat(first: &[f32], second: &[f32]) -> Correlation {
    let phat = Phat::new(first.len(), second.len(), 1);
    phat.correlate(&phat.spectrum(first), &phat.spectrum(second), 0.0..1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(serde::Deserialize)]
    struct Case {
        first: Vec<f32>,
        second: Vec<f32>,
        later: isize,
        peak_lag: isize,
        lags: Vec<isize>,
        values: Vec<f32>,
    }

    /// Against SciPy's FFT: fixtures/gcc_phat.py.
    #[test]
    fn correlation_with_phase_transform_is_scipys() {
        #[derive(serde::Deserialize)]
        struct Fixture {
            cases: Vec<Case>,
        }
        let text = include_str!("../../../fixtures/gcc_phat.json");
        let fixture: Fixture = serde_json::from_str(text).unwrap();
        assert_eq!(fixture.cases.len(), 3);
        for case in fixture.cases {
            let own = gcc_phat(&case.first, &case.second);
            for (lag, value) in case.lags.iter().zip(&case.values) {
                assert!((own.at(*lag) - value).abs() < 2e-4, "{lag}: {} {value}", own.at(*lag));
            }
            let top = own.lags().max_by(|a, b| own.at(*a).total_cmp(&own.at(*b))).unwrap();
            assert_eq!((top, top), (case.peak_lag, case.later));
        }
    }
}
