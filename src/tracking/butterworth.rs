//! Smoothing without lag: a 2nd-order Butterworth low-pass run forward and back.

/// A 2nd-order Butterworth low-pass for evenly spaced samples.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Butterworth {
    b: [f64; 3],
    a: [f64; 3],
}

/// Two passes through the filter lower its cut-off; designing each pass higher by this factor, which divides
/// `tan(π·fc/fs)`, makes the two together cut at the wanted frequency: (√2 − 1)^¼ = 0.802.
/// Winter, Biomechanics and Motor Control of Human Movement, 4th ed., p. 69.
fn winter_factor() -> f64 {
    (std::f64::consts::SQRT_2 - 1.0).powf(0.25)
}

impl Butterworth {
    /// One pass that halves the power at `cutoff_hz`. `None` unless 0 < cutoff < rate ÷ 2.
    pub fn new(cutoff_hz: f64, rate_hz: f64) -> Option<Self> {
        (cutoff_hz > 0.0 && cutoff_hz < rate_hz / 2.0).then(|| Self::from_warped(warped(cutoff_hz, rate_hz)))
    }

    /// For [`Butterworth::forward_and_back`]: the two passes together halve the power at `cutoff_hz`.
    pub fn for_two_passes(cutoff_hz: f64, rate_hz: f64) -> Option<Self> {
        (cutoff_hz > 0.0 && cutoff_hz < rate_hz / 2.0)
            .then(|| Self::from_warped(warped(cutoff_hz, rate_hz) / winter_factor()))
    }

    /// `k`: tan(π·cutoff ÷ rate).
    fn from_warped(k: f64) -> Self {
        let k2 = k * k;
        let norm = 1.0 / (1.0 + std::f64::consts::SQRT_2 * k + k2);
        Self {
            b: [k2 * norm, 2.0 * k2 * norm, k2 * norm],
            a: [1.0, 2.0 * (k2 - 1.0) * norm, (1.0 - std::f64::consts::SQRT_2 * k + k2) * norm],
        }
    }

    /// Filters forward, then back: no lag. The ends are prolonged by point reflection and the filter is
    /// started in its settled state, as SciPy's `filtfilt` does.
    pub fn forward_and_back(&self, samples: &[f64]) -> Vec<f64> {
        let (Some(&first), Some(&last)) = (samples.first(), samples.last()) else { return Vec::new() };
        let pad = 9.min(samples.len() - 1);
        let mut x: Vec<f64> = samples.iter().skip(1).take(pad).rev().map(|v| 2.0 * first - v).collect();
        x.extend_from_slice(samples);
        x.extend(samples.iter().rev().skip(1).take(pad).map(|v| 2.0 * last - v));
        for _ in 0..2 {
            self.pass(&mut x);
            x.reverse();
        }
        x.drain(..pad);
        x.truncate(samples.len());
        x
    }

    fn pass(&self, x: &mut [f64]) {
        let Some(&start) = x.first() else { return };
        let [b0, b1, b2] = self.b;
        let [_, a1, a2] = self.a;
        // State that a constant `start` would have left behind (transposed direct form II).
        let gain = (b0 + b1 + b2) / (1.0 + a1 + a2);
        let mut z1 = (gain - b0) * start;
        let mut z2 = (b2 - a2 * gain) * start;
        for v in x {
            let y = b0 * *v + z1;
            z1 = b1 * *v - a1 * y + z2;
            z2 = b2 * *v - a2 * y;
            *v = y;
        }
    }
}

fn warped(cutoff_hz: f64, rate_hz: f64) -> f64 {
    (std::f64::consts::PI * cutoff_hz / rate_hz).tan()
}

/// Cut-off by Winter's residual analysis (same book, section on choice of cut-off frequency): the residual
/// of ever lighter smoothing falls along a straight line once only noise is left; that line, carried back to
/// 0 Hz, gives the noise, and the cut-off is where the residual equals it. Searched within `lowest_hz` …
/// `highest_hz` in half-hertz steps. `None` when the samples are too few or the rate too low.
pub fn residual_cutoff_hz(samples: &[f64], rate_hz: f64, lowest_hz: f64, highest_hz: f64) -> Option<f64> {
    let top = (rate_hz * 0.45).floor();
    if samples.len() < 20 || top < lowest_hz + 2.0 {
        return None;
    }
    let residual = |hz: f64| {
        let smooth = Butterworth::for_two_passes(hz, rate_hz)?.forward_and_back(samples);
        let sum: f64 = smooth.iter().zip(samples).map(|(s, x)| (s - x).powi(2)).sum();
        Some((sum / samples.len() as f64).sqrt())
    };
    // The straight part: the upper half of what the rate can show.
    let mut line = Vec::new();
    let mut hz = top / 2.0;
    while hz <= top {
        line.push((hz, residual(hz)?));
        hz += top / 16.0;
    }
    let n = line.len() as f64;
    let (mx, my) = (line.iter().map(|p| p.0).sum::<f64>() / n, line.iter().map(|p| p.1).sum::<f64>() / n);
    let slope = line.iter().map(|p| (p.0 - mx) * (p.1 - my)).sum::<f64>()
        / line.iter().map(|p| (p.0 - mx).powi(2)).sum::<f64>();
    let noise = my - slope * mx;
    let mut hz = lowest_hz;
    while hz < highest_hz.min(top) {
        if residual(hz)? <= noise {
            return Some(hz);
        }
        hz += 0.5;
    }
    Some(highest_hz.min(top))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_scipy() {
        let text = include_str!("../../fixtures/butterworth.json");
        let data: serde_json::Value = serde_json::from_str(text).unwrap();
        let numbers = |v: &serde_json::Value| -> Vec<f64> {
            v.as_array().unwrap().iter().map(|n| n.as_f64().unwrap()).collect()
        };
        let signal = numbers(&data["signal"]);
        let cases = data["cases"].as_array().unwrap();
        assert_eq!((signal.len(), cases.len()), (80, 4));
        for case in cases {
            let cutoff = case["cutoff_hz"].as_f64().unwrap();
            let f = Butterworth::new(cutoff, case["rate_hz"].as_f64().unwrap()).unwrap();
            for (ours, theirs) in
                f.b.iter().zip(numbers(&case["b"])).chain(f.a.iter().zip(numbers(&case["a"])))
            {
                assert!((ours - theirs).abs() < 1e-12, "{cutoff}: {ours} {theirs}");
            }
            let check = |ours: Vec<f64>, theirs: Vec<f64>| {
                assert_eq!(ours.len(), theirs.len());
                for (o, t) in ours.iter().zip(&theirs) {
                    assert!((o - t).abs() < 1e-9, "{cutoff}: {o} {t}");
                }
            };
            check(f.forward_and_back(&signal), numbers(&case["out"]));
            check(f.forward_and_back(&signal[..5]), numbers(&case["short_out"]));
        }
    }

    #[test]
    fn winter_correction_gives_the_published_design_frequencies() {
        // For an effective 6 Hz: 7.03, 7.35, 7.45, 7.47 Hz at 30, 60, 120, 240 pictures a second.
        for (rate, wanted) in [(30.0, 7.03), (60.0, 7.35), (120.0, 7.45), (240.0, 7.47)] {
            let design = (warped(6.0, rate) / winter_factor()).atan() * rate / std::f64::consts::PI;
            assert!((design - wanted).abs() < 0.005, "{rate}: {design}");
        }
    }

    #[test]
    fn two_passes_halve_the_power_at_the_cutoff_and_do_not_lag() {
        let rate = 120.0;
        let wave: Vec<f64> =
            (0..1200).map(|i| (std::f64::consts::TAU * 6.0 * f64::from(i) / rate).sin()).collect();
        let out = Butterworth::for_two_passes(6.0, rate).unwrap().forward_and_back(&wave);
        let middle = 300..900;
        let gain: f64 = middle.clone().map(|i| out[i] * wave[i]).sum::<f64>()
            / middle.clone().map(|i| wave[i] * wave[i]).sum::<f64>();
        assert!((gain - 0.5f64.sqrt()).abs() < 1e-3, "{gain}");
        // A quarter period later the wave is its own cosine: no part of it in the output means no lag.
        let lag: f64 = middle.map(|i| out[i] * wave[i + 5]).sum();
        assert!(lag.abs() < 1.0, "{lag}");
    }

    #[test]
    fn ends_and_nothing_are_safe() {
        let f = Butterworth::for_two_passes(6.0, 30.0).unwrap();
        assert!(f.forward_and_back(&[]).is_empty());
        assert_eq!(f.forward_and_back(&[3.0]).len(), 1);
        assert!(f.forward_and_back(&[3.0; 20]).iter().all(|v| (v - 3.0).abs() < 1e-9));
        assert!(Butterworth::new(15.0, 30.0).is_none());
        assert!(Butterworth::new(f64::NAN, 30.0).is_none());
    }

    #[test]
    fn residual_analysis_finds_a_cutoff_between_signal_and_noise() {
        // 2 Hz motion with repeatable noise far above it.
        let mut seed = 7u32;
        let samples: Vec<f64> = (0..600)
            .map(|i| {
                seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                100.0 * (std::f64::consts::TAU * 2.0 * f64::from(i) / 120.0).sin()
                    + f64::from(seed >> 16) / 32768.0
            })
            .collect();
        let hz = residual_cutoff_hz(&samples, 120.0, 1.0, 25.0).unwrap();
        assert!((3.0..12.0).contains(&hz), "{hz}");
    }
}
