//! What the numbers in a picture mean, and how SDR becomes BT.709 limited range.
//!
//! Luma weights: ITU-R BT.601-7 §2.5.1 (.299, .114), BT.709-6 item 3.2 (.2126, .0722),
//! BT.2020-2 table 4 (.2627, .0593); SMPTE 240M (.212, .087) and FCC 47 CFR 73.682 (.30, .11).
//! Quantisation: BT.709-6 items 4.6 and 5.1 (16–235 luma, 16–240 chroma); full range 0–255 as in
//! ITU-T H.273 §8.3.

use ffmpeg_next::color::{Primaries, Range, Space, TransferCharacteristic};

/// Shares of red and blue in luma.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Weights {
    pub red: f64,
    pub blue: f64,
}

impl Weights {
    pub(super) const BT601: Self = Self { red: 0.299, blue: 0.114 };
    pub(super) const BT709: Self = Self { red: 0.2126, blue: 0.0722 };
    pub(super) const BT2020: Self = Self { red: 0.2627, blue: 0.0593 };
    const SMPTE240M: Self = Self { red: 0.212, blue: 0.087 };
    const FCC: Self = Self { red: 0.30, blue: 0.11 };

    fn green(self) -> f64 {
        1.0 - self.red - self.blue
    }

    /// R′G′B′ from Y′ (0…1) and Cb, Cr (−½…½).
    pub(super) fn rgb_from_ycc(self, [y, cb, cr]: [f64; 3]) -> [f64; 3] {
        let red = y + 2.0 * (1.0 - self.red) * cr;
        let blue = y + 2.0 * (1.0 - self.blue) * cb;
        let green = (y - self.red * red - self.blue * blue) / self.green();
        [red, green, blue]
    }

    /// Y′ (0…1) and Cb, Cr (−½…½) from R′G′B′.
    pub(super) fn ycc_from_rgb(self, [red, green, blue]: [f64; 3]) -> [f64; 3] {
        let y = self.red * red + self.green() * green + self.blue * blue;
        [y, (blue - y) / (2.0 * (1.0 - self.blue)), (red - y) / (2.0 * (1.0 - self.red))]
    }
}

/// How light was turned into numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Light {
    /// Ordinary video. The small differences between SDR primaries (BT.601's, BT.709's) are left.
    Sdr,
    /// Ordinary range in BT.2020 primaries.
    WideSdr,
    Hlg,
    Pq,
}

/// The coding of one picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Coding {
    pub weights: Weights,
    pub full_range: bool,
    pub light: Light,
}

/// A picture's colour tags as they stand in the file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Tags {
    pub space: Space,
    pub range: Range,
    pub transfer: TransferCharacteristic,
    pub primaries: Primaries,
    /// The pixel format itself means full range (the old `yuvj` ones).
    pub full_format: bool,
    /// Red, green and blue rather than luma and chroma.
    pub rgb: bool,
    pub width: usize,
    pub height: usize,
}

impl Coding {
    /// What the tags mean; where they are silent, the common rule of players (common practice, no
    /// source): pictures wider than 1024 or higher than 576 (either way up) are BT.709, smaller
    /// ones BT.601; range limited.
    pub(super) fn from_tags(tags: &Tags) -> Self {
        let light = match tags.transfer {
            TransferCharacteristic::ARIB_STD_B67 => Light::Hlg,
            TransferCharacteristic::SMPTE2084 => Light::Pq,
            _ if tags.primaries == Primaries::BT2020 => Light::WideSdr,
            _ => Light::Sdr,
        };
        let wide = light != Light::Sdr;
        if tags.rgb {
            // The scaler makes limited-range luma and chroma of it with these weights.
            let weights = if wide { Weights::BT2020 } else { Weights::BT709 };
            return Self { weights, full_range: false, light };
        }
        let weights = match tags.space {
            Space::BT709 => Weights::BT709,
            Space::BT470BG | Space::SMPTE170M => Weights::BT601,
            Space::SMPTE240M => Weights::SMPTE240M,
            Space::FCC => Weights::FCC,
            Space::BT2020NCL | Space::BT2020CL => Weights::BT2020,
            _ if wide => Weights::BT2020,
            _ => {
                let (long, short) = (tags.width.max(tags.height), tags.width.min(tags.height));
                if long > 1024 || short > 576 { Weights::BT709 } else { Weights::BT601 }
            }
        };
        Self { weights, full_range: tags.full_format || tags.range == Range::JPEG, light }
    }

    pub(super) fn is_output(&self) -> bool {
        self.light == Light::Sdr && !self.full_range && self.weights == Weights::BT709
    }
}

/// 8-bit codes → Y′ (0…1), Cb, Cr (−½…½).
fn ycc_from_codes(full_range: bool, [y, u, v]: [f64; 3]) -> [f64; 3] {
    if full_range {
        [y / 255.0, (u - 128.0) / 255.0, (v - 128.0) / 255.0]
    } else {
        [(y - 16.0) / 219.0, (u - 128.0) / 224.0, (v - 128.0) / 224.0]
    }
}

/// Limited-range 8-bit codes from Y′ (0…1), Cb, Cr (−½…½), not rounded.
pub(super) fn limited_codes_from_ycc([y, cb, cr]: [f64; 3]) -> [f64; 3] {
    [16.0 + 219.0 * y, 128.0 + 224.0 * cb, 128.0 + 224.0 * cr]
}

/// SDR to BT.709 limited range. Changing luma weights moves luma by a share of the chroma and mixes
/// the chroma, but never the other way: grey stays grey. So one small table per 2×2 block does it,
/// which is exact where a scaler would go through 8-bit RGB and clip what lies outside it.
#[derive(Debug, Clone)]
pub(super) struct ToBt709 {
    /// 16.16: out = (in · y + offset) for luma, before the chroma's share.
    y_gain: i32,
    y_offset: i32,
    /// Luma's share of (u − 128), (v − 128); then u′ and v′ from the same.
    y_of: [i32; 2],
    u_of: [i32; 2],
    v_of: [i32; 2],
}

const ONE: f64 = 65536.0;

impl ToBt709 {
    pub(super) fn from_coding(coding: &Coding) -> Self {
        let out = |codes: [f64; 3]| {
            let rgb = coding.weights.rgb_from_ycc(ycc_from_codes(coding.full_range, codes));
            limited_codes_from_ycc(Weights::BT709.ycc_from_rgb(rgb))
        };
        // It is linear, so three probes tell all of it.
        let [zero, y, u, v] =
            [[0.0, 128.0, 128.0], [255.0, 128.0, 128.0], [0.0, 228.0, 128.0], [0.0, 128.0, 228.0]].map(out);
        let fixed = |x: f64| (x * ONE).round() as i32;
        let share = |i: usize| [fixed((u[i] - zero[i]) / 100.0), fixed((v[i] - zero[i]) / 100.0)];
        Self {
            y_gain: fixed((y[0] - zero[0]) / 255.0),
            y_offset: fixed(zero[0]) + (1 << 15),
            y_of: share(0),
            u_of: share(1),
            v_of: share(2),
        }
    }

    /// Convert in place. Planes as in a `Frame`.
    pub(super) fn apply(&self, frame: &mut crate::types::Frame) {
        let (width, half) = (frame.y.width, frame.u.width);
        if width == 0 || half == 0 {
            return;
        }
        let clip = |x: i32| (x >> 16).clamp(0, 255) as u8;
        let chroma = frame.u.data.chunks_exact_mut(half).zip(frame.v.data.chunks_exact_mut(half));
        for (luma, (us, vs)) in frame.y.data.chunks_exact_mut(2 * width).zip(chroma) {
            let (upper, lower) = luma.split_at_mut(width);
            let columns = upper.chunks_exact_mut(2).zip(lower.chunks_exact_mut(2));
            for ((top, bottom), (u, v)) in columns.zip(us.iter_mut().zip(vs.iter_mut())) {
                let (du, dv) = (i32::from(*u) - 128, i32::from(*v) - 128);
                let add = self.y_offset + self.y_of[0] * du + self.y_of[1] * dv;
                for y in top.iter_mut().chain(bottom.iter_mut()) {
                    *y = clip(i32::from(*y) * self.y_gain + add);
                }
                let middle = (128 << 16) + (1 << 15);
                *u = clip(self.u_of[0] * du + self.u_of[1] * dv + middle);
                *v = clip(self.v_of[0] * du + self.v_of[1] * dv + middle);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Frame;

    fn one(coding: Coding, [y, u, v]: [u8; 3]) -> [u8; 3] {
        let mut frame = Frame::black(2, 2);
        frame.y.data.fill(y);
        frame.u.data.fill(u);
        frame.v.data.fill(v);
        ToBt709::from_coding(&coding).apply(&mut frame);
        [frame.y.data[0], frame.u.data[0], frame.v.data[0]]
    }

    #[test]
    fn bt709_codes_of_pure_colours_are_the_standards() {
        // 100 % red, green, blue in 8-bit BT.709: SMPTE RP 219 / BT.709-6 quantisation of
        // Y′ = .2126 R′ + .7152 G′ + .0722 B′, CB = (B′ − Y′)/1.8556, CR = (R′ − Y′)/1.5748.
        for (rgb, codes) in [
            ([1.0, 0.0, 0.0], [63, 102, 240]),
            ([0.0, 1.0, 0.0], [173, 42, 26]),
            ([0.0, 0.0, 1.0], [32, 240, 118]),
            ([1.0, 1.0, 1.0], [235, 128, 128]),
        ] {
            let got = limited_codes_from_ycc(Weights::BT709.ycc_from_rgb(rgb)).map(|x| x.round() as u8);
            assert_eq!(got, codes);
        }
        let back = Weights::BT709.rgb_from_ycc([0.2126, -0.2126 / 1.8556, 0.5]);
        for (a, b) in back.into_iter().zip([1.0, 0.0, 0.0]) {
            assert!((a - b).abs() < 1e-12);
        }
    }

    #[test]
    fn bt601_and_full_range_become_bt709_limited() {
        // 100 % red in BT.601 limited is 81, 90, 240 (BT.601-7 §2.5.3 arithmetic).
        let sd = Coding { weights: Weights::BT601, full_range: false, light: Light::Sdr };
        // Codes are whole numbers, so a colour may come out one code off.
        let [y, u, v] = one(sd, [81, 90, 240]);
        assert!(y.abs_diff(63) <= 1 && u.abs_diff(102) <= 1 && v.abs_diff(240) <= 1, "{y} {u} {v}");
        // The same colour in full range: 76, 85, 255 (ITU-T T.871 §7).
        let full = Coding { full_range: true, ..sd };
        let [y, u, v] = one(full, [76, 85, 255]);
        assert!(y.abs_diff(63) <= 1 && u.abs_diff(102) <= 1 && v.abs_diff(240) <= 1, "{y} {u} {v}");
        assert_eq!(one(full, [0, 128, 128]), [16, 128, 128]);
        assert_eq!(one(full, [255, 128, 128]), [235, 128, 128]);
        for grey in 16..=235 {
            assert_eq!(one(sd, [grey, 128, 128]), [grey, 128, 128]);
        }
    }

    #[test]
    fn silent_tags_follow_size() {
        let tags = Tags {
            space: Space::Unspecified,
            range: Range::Unspecified,
            transfer: TransferCharacteristic::Unspecified,
            primaries: Primaries::Unspecified,
            full_format: false,
            rgb: false,
            width: 354,
            height: 492,
        };
        assert_eq!(Coding::from_tags(&tags).weights, Weights::BT601);
        let upright = Tags { width: 720, height: 1280, ..tags };
        assert!(Coding::from_tags(&upright).is_output());
        let hlg = Tags { transfer: TransferCharacteristic::ARIB_STD_B67, ..upright };
        assert_eq!(
            Coding::from_tags(&hlg),
            Coding { weights: Weights::BT2020, full_range: false, light: Light::Hlg }
        );
    }
}
