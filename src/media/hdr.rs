//! High dynamic range to ordinary, exactly and slowly; [`super::lut`] makes a table of it.
//!
//! HLG and PQ: ITU-R BT.2100-2 tables 4 and 5. Reference white 203 cd/m²: ITU-R BT.2408-5 table 1.
//! Primaries: ITU-R BT.2020-2 table 3, BT.709-6 item 1.3; the matrix between them is that of
//! ITU-R BT.2087-0 §4. SDR display: ITU-R BT.1886 annex 1 with black at 0. The shape of the curve
//! that folds highlights in is our own choice, see [`tone`].

use super::colour::{Coding, Light, Weights, limited_codes_from_ycc};

/// Diffuse white, cd/m²: everything is counted in it from here on.
const WHITE_CD_M2: f64 = 203.0;
/// The display HLG is shown on, cd/m²; BT.2100's system gamma is 1.2 there.
const HLG_PEAK_CD_M2: f64 = 1000.0;
const HLG_GAMMA: f64 = 1.2;
/// PQ highlights above this are clipped, cd/m².
const PQ_PEAK_CD_M2: f64 = 4000.0;
/// BT.1886 display gamma.
const GAMMA: f64 = 2.4;

/// BT.2020 light → BT.709 light (BT.2087-0 §4, to four places).
const TO_709: [[f64; 3]; 3] =
    [[1.6605, -0.5876, -0.0728], [-0.1246, 1.1329, -0.0083], [-0.0182, -0.1006, 1.1187]];

/// Scene light (0…1) from an HLG signal.
fn hlg_scene(signal: f64) -> f64 {
    const A: f64 = 0.178_832_77;
    const B: f64 = 0.284_668_92;
    const C: f64 = 0.559_910_73;
    if signal <= 0.5 { signal * signal / 3.0 } else { (((signal - C) / A).exp() + B) / 12.0 }
}

/// Display light, cd/m², from a PQ signal.
fn pq_display(signal: f64) -> f64 {
    const M1: f64 = 2610.0 / 16384.0;
    const M2: f64 = 2523.0 / 4096.0 * 128.0;
    const C1: f64 = 3424.0 / 4096.0;
    const C2: f64 = 2413.0 / 4096.0 * 32.0;
    const C3: f64 = 2392.0 / 4096.0 * 32.0;
    let p = signal.powf(1.0 / M2);
    10_000.0 * ((p - C1).max(0.0) / (C2 - C3 * p)).powf(1.0 / M1)
}

/// `curve` below zero too, as its own mirror image. Codes outside the R′G′B′ cube are rare in a
/// picture, but the table's nodes lie there, and a hard stop would bend what is read between them.
fn mirrored(signal: f64, most: f64, curve: impl Fn(f64) -> f64) -> f64 {
    curve(signal.abs().min(most)).copysign(signal)
}

/// Display light in diffuse whites, BT.2020 primaries, from a R′G′B′ signal.
fn light(kind: Light, signal: [f64; 3]) -> [f64; 3] {
    match kind {
        Light::Hlg => {
            let scene = signal.map(|s| mirrored(s, 1.1, hlg_scene));
            let Weights { red, blue } = Weights::BT2020;
            let luminance = red * scene[0] + (1.0 - red - blue) * scene[1] + blue * scene[2];
            // BT.2100 table 5: F_D = α · Y_S^(γ−1) · E.
            let gain = HLG_PEAK_CD_M2 * luminance.max(0.0).powf(HLG_GAMMA - 1.0) / WHITE_CD_M2;
            scene.map(|s| s * gain)
        }
        // PQ ends at 10,000 cd/m² by its own formula.
        Light::Pq => {
            signal.map(|s| mirrored(s, 1.0, pq_display).clamp(-PQ_PEAK_CD_M2, PQ_PEAK_CD_M2) / WHITE_CD_M2)
        }
        Light::Sdr | Light::WideSdr => signal.map(|s| mirrored(s, 1.1, |s| s.powf(GAMMA))),
    }
}

/// Fold what is brighter than ordinary white into the little room at the top: untouched up to the
/// knee, then a smooth bend that reaches 1 at `peak`. Diffuse white (1) lands at 0.85 of the
/// display's light, 93 % signal. Knee and shape are our own choice, judged by eye.
fn tone(light: f64, peak: f64) -> f64 {
    const KNEE: f64 = 0.7;
    if light <= KNEE || peak <= 1.0 {
        return light.min(1.0);
    }
    let over = (light - KNEE) / (1.0 - KNEE);
    let most = (peak - KNEE) / (1.0 - KNEE);
    let bent = over * (1.0 + over / (most * most)) / (1.0 + over);
    KNEE + (1.0 - KNEE) * bent.min(1.0)
}

/// One pixel: 10-bit codes (Y, Cb, Cr) in, 8-bit BT.709 limited codes out, not rounded.
pub(super) fn sdr_codes(coding: &Coding, [y, cb, cr]: [f64; 3]) -> [f64; 3] {
    let ycc = if coding.full_range {
        [y / 1023.0, (cb - 512.0) / 1023.0, (cr - 512.0) / 1023.0]
    } else {
        [(y - 64.0) / 876.0, (cb - 512.0) / 896.0, (cr - 512.0) / 896.0]
    };
    let wide = light(coding.light, coding.weights.rgb_from_ycc(ycc));
    let rgb = TO_709.map(|row| row.iter().zip(wide).map(|(m, c)| m * c).sum::<f64>().max(0.0));
    let peak = match coding.light {
        Light::Hlg => HLG_PEAK_CD_M2 / WHITE_CD_M2,
        Light::Pq => PQ_PEAK_CD_M2 / WHITE_CD_M2,
        Light::Sdr | Light::WideSdr => 1.0,
    };
    // All three by the brightest one's measure: hue stays, nothing clips.
    let brightest = rgb.iter().copied().fold(0.0, f64::max);
    let gain = if brightest > 0.0 { tone(brightest, peak) / brightest } else { 0.0 };
    let signal = rgb.map(|c| (c * gain).clamp(0.0, 1.0).powf(1.0 / GAMMA));
    limited_codes_from_ycc(Weights::BT709.ycc_from_rgb(signal))
}

#[cfg(test)]
mod tests {
    use super::*;

    const HLG: Coding = Coding { weights: Weights::BT2020, full_range: false, light: Light::Hlg };
    const PQ: Coding = Coding { light: Light::Pq, ..HLG };

    fn grey(coding: &Coding, signal: f64) -> [f64; 3] {
        sdr_codes(coding, [64.0 + 876.0 * signal, 512.0, 512.0])
    }

    #[test]
    fn reference_white_is_bright_and_not_clipped() {
        // BT.2408 table 1: 203 cd/m² is 75 % HLG and 58 % PQ; an 18 % grey card, 26 cd/m², 38 % both.
        let card = light(Light::Hlg, [0.38; 3]).map(|l| l * WHITE_CD_M2);
        assert!((card[1] - 26.0).abs() < 1.0, "{card:?}");
        assert!((pq_display(0.38) - 26.0).abs() < 1.0, "{}", pq_display(0.38));
        let display = light(Light::Hlg, [0.75; 3]).map(|l| l * WHITE_CD_M2);
        assert!((display[1] - 203.0).abs() < 1.0, "{display:?}");
        assert!((pq_display(0.5807) - 203.0).abs() < 1.0, "{}", pq_display(0.5807));
        for (coding, signal) in [(&HLG, 0.75), (&PQ, 0.5807)] {
            let [y, u, v] = grey(coding, signal);
            assert!((215.0..=228.0).contains(&y), "{y}");
            assert!((u - 128.0).abs() < 0.1 && (v - 128.0).abs() < 0.1, "{u} {v}");
        }
    }

    #[test]
    fn greys_rise_from_black_to_white_without_a_step() {
        for coding in [&HLG, &PQ] {
            let codes: Vec<f64> = (0..=1000).map(|i| grey(coding, f64::from(i) / 1000.0)[0]).collect();
            assert!((codes[0] - 16.0).abs() < 0.5 && (codes[1000] - 235.0).abs() < 0.5);
            for pair in codes.windows(2) {
                assert!(pair[1] >= pair[0] - 1e-9 && pair[1] - pair[0] < 1.0, "{pair:?}");
            }
        }
    }

    #[test]
    fn hlg_halves_meet() {
        // BT.2100 table 5: E = 1/12 at E′ = ½ from both sides, 1 at 1.
        assert!((hlg_scene(0.5) - 1.0 / 12.0).abs() < 1e-9);
        assert!((hlg_scene(0.500_001) - 1.0 / 12.0).abs() < 1e-5);
        assert!((hlg_scene(1.0) - 1.0).abs() < 1e-6);
        // BT.2100 table 4: 10,000 cd/m² at 1.
        assert!((pq_display(1.0) - 10_000.0).abs() < 1e-6);
    }

    #[test]
    fn bt709_colours_come_back_through_wide_primaries() {
        // The inverse matrix, BT.709 → BT.2020: BT.2087-0 §2.
        const FROM_709: [[f64; 3]; 3] =
            [[0.6274, 0.3293, 0.0433], [0.0691, 0.9195, 0.0114], [0.0164, 0.0880, 0.8956]];
        let coding = Coding { light: Light::WideSdr, ..HLG };
        for rgb in [[0.2, 0.5, 0.8], [0.7, 0.1, 0.1], [0.05, 0.6, 0.3]] {
            let wide = FROM_709.map(|row| row.iter().zip(rgb).map(|(m, c): (&f64, f64)| m * c).sum::<f64>());
            let [y, cb, cr] = Weights::BT2020.ycc_from_rgb(wide.map(|c| c.powf(1.0 / GAMMA)));
            let got = sdr_codes(&coding, [64.0 + 876.0 * y, 512.0 + 896.0 * cb, 512.0 + 896.0 * cr]);
            let want = limited_codes_from_ycc(Weights::BT709.ycc_from_rgb(rgb.map(|c| c.powf(1.0 / GAMMA))));
            for (g, w) in got.into_iter().zip(want) {
                assert!((g - w).abs() < 0.3, "{got:?} {want:?}");
            }
        }
    }
}
