//! The picture that all made files show: its own number in blocks, a bar that moves, and eight patches of known colour
//! whose order tells which way is up.

use swingpair::types::Frame;

pub const WIDTH: usize = 320;
pub const HEIGHT: usize = 192;
/// Height of the strip of number blocks, and of the strip with the moving bar, px.
const STRIP: usize = 32;
const BITS: usize = 10;

/// How the patches are stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// R′G′B′ of BT.709, 8 bits.
    Sdr,
    /// BT.2020 primaries in ordinary range.
    WideSdr,
    Hlg,
    Pq,
}

/// Signals of the patches, 0…1, row by row. Greys, colours of skin, grass and clay, and strong ones.
const SDR: [[f64; 3]; 8] = [
    [0.78, 0.24, 0.16],
    [0.20, 0.39, 0.78],
    [0.71, 0.71, 0.71],
    [0.82, 0.63, 0.53],
    [0.25, 0.50, 0.24],
    [0.60, 0.40, 0.26],
    [0.18, 0.18, 0.18],
    [0.90, 0.85, 0.20],
];
/// The same for HLG and PQ: at most ordinary white, where the standards alone say what comes out, but for the last two.
const HLG: [[f64; 3]; 8] = [
    [0.62, 0.30, 0.24],
    [0.25, 0.38, 0.62],
    [0.38, 0.38, 0.38],
    [0.63, 0.52, 0.46],
    [0.33, 0.47, 0.32],
    [0.55, 0.43, 0.34],
    [0.75, 0.75, 0.75],
    [0.90, 0.88, 0.70],
];
const PQ: [[f64; 3]; 8] = [
    [0.47, 0.33, 0.29],
    [0.28, 0.37, 0.47],
    [0.38, 0.38, 0.38],
    [0.50, 0.45, 0.42],
    [0.34, 0.42, 0.33],
    [0.46, 0.40, 0.36],
    [0.58, 0.58, 0.58],
    [0.68, 0.67, 0.60],
];

impl Kind {
    pub fn signals(self) -> [[f64; 3]; 8] {
        match self {
            Self::Sdr | Self::WideSdr => SDR,
            Self::Hlg => HLG,
            Self::Pq => PQ,
        }
    }

    /// Signals of what is light and dark in the strips.
    fn ends(self) -> [f64; 2] {
        match self {
            Self::Sdr | Self::WideSdr => [0.08, 0.92],
            Self::Hlg | Self::Pq => [0.08, 0.6],
        }
    }

    /// The signal of picture `n` at a place, R′G′B′ 0…1.
    pub fn signal(self, n: usize, x: usize, y: usize) -> [f64; 3] {
        let [dark, light] = self.ends();
        if y < STRIP {
            let bit = x * BITS / WIDTH;
            return [if n >> bit & 1 == 1 { light } else { dark }; 3];
        }
        if y < 2 * STRIP {
            let left = 8 * n % (WIDTH - 40);
            return [if (left..left + 40).contains(&x) { light } else { (light + dark) / 2.0 }; 3];
        }
        let patch = (y - 2 * STRIP) * 2 / (HEIGHT - 2 * STRIP) * 4 + x * 4 / WIDTH;
        self.signals()[patch.min(7)]
    }
}

/// The number that a read picture shows.
pub fn number(frame: &Frame) -> usize {
    let (w, h) = (frame.width(), frame.height());
    let mean = |bit: usize| {
        let at = |x: usize, y: usize| {
            f64::from(frame.y.row(y * h / HEIGHT).get(x * w / WIDTH).copied().unwrap_or(0))
        };
        let left = bit * WIDTH / BITS;
        let places = (left + 10..left + 22).flat_map(|x| (10..22).map(move |y| (x, y)));
        places.map(|(x, y)| at(x, y)).sum::<f64>() / 144.0
    };
    (0..BITS).filter(|bit| mean(*bit) > 110.0).map(|bit| 1 << bit).sum()
}

/// Middle of the moving bar of picture `n`, px; `None` where it jumps back, which neighbouring halves may not show.
pub fn bar_wanted(n: usize) -> Option<f64> {
    let left = 8 * n % (WIDTH - 40);
    (16..WIDTH - 56).contains(&left).then_some(left as f64 + 20.0)
}

/// Middle of the moving bar of a read picture, card px.
pub fn bar(frame: &Frame) -> f64 {
    let (w, h) = (frame.width(), frame.height());
    let (mut sum, mut at) = (0.0, 0.0);
    for y in (STRIP + 8) * h / HEIGHT..(2 * STRIP - 8) * h / HEIGHT {
        for (x, value) in frame.y.row(y).iter().enumerate() {
            let bright = (f64::from(*value) - 150.0).max(0.0);
            sum += bright;
            at += bright * (x as f64 + 0.5);
        }
    }
    at / f64::max(sum, 1.0) * WIDTH as f64 / w as f64
}

/// Mean codes in the middle of each patch of a read picture.
pub fn patches(frame: &Frame) -> [[f64; 3]; 8] {
    std::array::from_fn(|patch| {
        let (cx, cy) = ((patch % 4 * 80 + 40) as f64, (64 + patch / 4 * 64 + 32) as f64);
        let plane = |p: &swingpair::types::Plane| {
            let (w, h) = (p.width as f64 / WIDTH as f64, p.height as f64 / HEIGHT as f64);
            let (mut sum, mut n) = (0.0, 0.0);
            for y in ((cy - 12.0) * h) as usize..((cy + 12.0) * h) as usize {
                for x in ((cx - 15.0) * w) as usize..((cx + 15.0) * w) as usize {
                    sum += p.row(y).get(x).copied().map_or(0.0, f64::from);
                    n += 1.0;
                }
            }
            sum / f64::max(n, 1.0)
        };
        [plane(&frame.y), plane(&frame.u), plane(&frame.v)]
    })
}
