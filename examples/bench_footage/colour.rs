//! What the patches should come out as, by the standards' own formulas, written here once more: nothing of the program's
//! own arithmetic is used. HLG, PQ: ITU-R BT.2100-2 tables 4 and 5; diffuse white 203 cd/m²: BT.2408-5 table 1;
//! primaries BT.2020-2, BT.709-6, matrix between them BT.2087-0; display BT.1886. Highlights above 0.7 of diffuse white
//! are folded in by a curve of the program's own choice, which no standard gives: repeated here from its description.

use super::card::Kind;

const WHITE: f64 = 203.0;

/// BT.709 limited-range codes of a patch, not rounded.
pub fn wanted(kind: Kind, signal: [f64; 3]) -> [f64; 3] {
    codes_709(match kind {
        Kind::Sdr => signal,
        _ => sdr_signal(kind, signal),
    })
}

fn codes_709([r, g, b]: [f64; 3]) -> [f64; 3] {
    let y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
    [16.0 + 219.0 * y, 128.0 + 224.0 * (b - y) / 1.8556, 128.0 + 224.0 * (r - y) / 1.5748]
}

/// 10-bit BT.2020 limited-range codes of a signal, as a camera stores them.
pub fn stored_2020([r, g, b]: [f64; 3]) -> [u16; 3] {
    let y = 0.2627 * r + 0.6780 * g + 0.0593 * b;
    let codes = [64.0 + 876.0 * y, 512.0 + 896.0 * (b - y) / 1.8814, 512.0 + 896.0 * (r - y) / 1.4746];
    codes.map(|c| c.round() as u16)
}

fn sdr_signal(kind: Kind, signal: [f64; 3]) -> [f64; 3] {
    let light = match kind {
        Kind::Hlg => {
            let scene = signal.map(|e| {
                if e <= 0.5 {
                    e * e / 3.0
                } else {
                    (((e - 0.559_910_73) / 0.178_832_77).exp() + 0.284_668_92) / 12.0
                }
            });
            let luminance = 0.2627 * scene[0] + 0.6780 * scene[1] + 0.0593 * scene[2];
            scene.map(|e| 1000.0 * luminance.powf(0.2) * e / WHITE)
        }
        Kind::Pq => signal.map(|e| {
            let p = e.powf(32.0 / 2523.0);
            let (c1, c2, c3) = (0.835_937_5, 18.851_562_5, 18.6875);
            10_000.0 * (f64::max(p - c1, 0.0) / (c2 - c3 * p)).powf(16384.0 / 2610.0) / WHITE
        }),
        Kind::Sdr | Kind::WideSdr => signal.map(|e| e.powf(2.4)),
    };
    let m = [[1.6605, -0.5876, -0.0728], [-0.1246, 1.1329, -0.0083], [-0.0182, -0.1006, 1.1187]];
    let rgb = m.map(|row| (row[0] * light[0] + row[1] * light[1] + row[2] * light[2]).max(0.0));
    let peak = match kind {
        Kind::Hlg => 1000.0 / WHITE,
        Kind::Pq => 4000.0 / WHITE,
        Kind::Sdr | Kind::WideSdr => 1.0,
    };
    let brightest = rgb.iter().copied().fold(1e-9, f64::max);
    let folded = if brightest > 0.7 && peak > 1.0 {
        let (over, most) = ((brightest - 0.7) / 0.3, (peak - 0.7) / 0.3);
        0.7 + 0.3 * (over * (1.0 + over / (most * most)) / (1.0 + over)).min(1.0)
    } else {
        brightest.min(1.0)
    };
    rgb.map(|c| (c * folded / brightest).clamp(0.0, 1.0).powf(1.0 / 2.4))
}

/// Colour difference of two BT.709 codes on a BT.1886 display, CIE 1976 ΔE*ab (CIE 15, D65 white).
pub fn delta_e(a: [f64; 3], b: [f64; 3]) -> f64 {
    let (a, b) = (lab(a), lab(b));
    a.iter().zip(b).map(|(x, y)| (x - y) * (x - y)).sum::<f64>().sqrt()
}

fn lab([y, u, v]: [f64; 3]) -> [f64; 3] {
    let (y, cb, cr) = ((y - 16.0) / 219.0, (u - 128.0) / 224.0, (v - 128.0) / 224.0);
    let (r, b) = (y + 1.5748 * cr, y + 1.8556 * cb);
    let g = (y - 0.2126 * r - 0.0722 * b) / 0.7152;
    let [r, g, b] = [r, g, b].map(|c| c.clamp(0.0, 1.0).powf(2.4));
    let x = 0.4124 * r + 0.3576 * g + 0.1805 * b;
    let y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
    let z = 0.0193 * r + 0.1192 * g + 0.9505 * b;
    let f = |t: f64| if t > 216.0 / 24389.0 { t.cbrt() } else { (24389.0 / 27.0 * t + 16.0) / 116.0 };
    let (fx, fy, fz) = (f(x / 0.95047), f(y), f(z / 1.08883));
    [116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)]
}
