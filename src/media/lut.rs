//! A table of [`super::hdr::sdr_codes`] over all 10-bit codes, read between its nodes.

use super::colour::Coding;
use super::hdr::sdr_codes;
use crate::types::Frame;

/// Codes from node to node, as a power of two; and nodes along each side.
const STEP_BITS: u32 = 4;
const STEP: i32 = 1 << STEP_BITS;
const SIDE: usize = (1024 >> STEP_BITS) + 1;
/// Table values are codes times this, so that rounding happens once, at the end.
const FINE: i32 = 64;

/// Nodes ordered by Cb, then Cr, then Y.
pub(super) struct Lut {
    luma: Vec<i16>,
    chroma: Vec<[i16; 2]>,
}

/// Where a colour lies: the corner nodes of its tetrahedron and their weights, which sum to STEP.
struct Place([(usize, i32); 4]);

impl Lut {
    pub(super) fn new(coding: &Coding) -> Self {
        let mut luma = Vec::with_capacity(SIDE * SIDE * SIDE);
        let mut chroma = Vec::with_capacity(SIDE * SIDE * SIDE);
        let code = |i: usize| f64::from(i as i32 * STEP);
        let fine = |c: f64| (c * f64::from(FINE)).round() as i16;
        for cb in 0..SIDE {
            for cr in 0..SIDE {
                for y in 0..SIDE {
                    let [y, u, v] = sdr_codes(coding, [code(y), code(cb), code(cr)]);
                    luma.push(fine(y));
                    chroma.push([fine(u), fine(v)]);
                }
            }
        }
        Self { luma, chroma }
    }

    fn place(y: i32, cb: i32, cr: i32) -> Place {
        let node = |c: i32| (c >> STEP_BITS) as usize;
        let part = |c: i32| c & (STEP - 1);
        let first = (node(cb) * SIDE + node(cr)) * SIDE + node(y);
        // From the near corner to the far one along the axes, the largest part first.
        let mut ways = [(part(cb), SIDE * SIDE), (part(cr), SIDE), (part(y), 1)];
        if ways[0].0 < ways[1].0 {
            ways.swap(0, 1);
        }
        if ways[1].0 < ways[2].0 {
            ways.swap(1, 2);
        }
        if ways[0].0 < ways[1].0 {
            ways.swap(0, 1);
        }
        let [(a, to_a), (b, to_b), (c, to_c)] = ways;
        Place([
            (first, STEP - a),
            (first + to_a, a - b),
            (first + to_a + to_b, b - c),
            (first + to_a + to_b + to_c, c),
        ])
    }

    fn code(sum: i32) -> u8 {
        const ALL: i32 = STEP * FINE;
        ((sum + ALL / 2) / ALL).clamp(0, 255) as u8
    }

    fn luma(&self, y: i32, cb: i32, cr: i32) -> u8 {
        let Place(corners) = Self::place(y, cb, cr);
        let value = |(at, weight): (usize, i32)| self.luma.get(at).map_or(0, |v| i32::from(*v) * weight);
        Self::code(corners.into_iter().map(value).sum())
    }

    fn chroma(&self, y: i32, cb: i32, cr: i32) -> [u8; 2] {
        let Place(corners) = Self::place(y, cb, cr);
        let mut sums = [0; 2];
        for (at, weight) in corners {
            if let Some([u, v]) = self.chroma.get(at) {
                sums[0] += i32::from(*u) * weight;
                sums[1] += i32::from(*v) * weight;
            }
        }
        sums.map(Self::code)
    }

    /// Convert a picture given by rows of little-endian 10-bit 4:2:0; even `width` and `height`.
    pub(super) fn apply<'a>(
        &self,
        width: usize,
        height: usize,
        y_row: impl Fn(usize) -> &'a [u8],
        cb_row: impl Fn(usize) -> &'a [u8],
        cr_row: impl Fn(usize) -> &'a [u8],
    ) -> Frame {
        let mut frame = Frame::black(width, height);
        let samples =
            |row: &'a [u8]| row.chunks_exact(2).map(|b| i32::from(u16::from_le_bytes([b[0], b[1]]) & 1023));
        for block in 0..height / 2 {
            let (above, below) = (y_row(2 * block), y_row(2 * block + 1));
            let rows = frame.y.data.chunks_exact_mut(2 * width).nth(block);
            let Some((top, bottom)) = rows.map(|r| r.split_at_mut(width)) else { break };
            let out = top.chunks_exact_mut(2).zip(bottom.chunks_exact_mut(2));
            let luma = above.chunks_exact(4).zip(below.chunks_exact(4));
            let colours = samples(cb_row(block)).zip(samples(cr_row(block)));
            let us = frame.u.row_mut(block).iter_mut();
            let vs = frame.v.row_mut(block).iter_mut();
            for ((((a, b), (cb, cr)), (to_a, to_b)), (u, v)) in luma.zip(colours).zip(out).zip(us.zip(vs)) {
                let mut sum = 0;
                for (from, to) in [(a, to_a), (b, to_b)] {
                    for (y, to) in samples_of(from).into_iter().zip(to) {
                        sum += y;
                        *to = self.luma(y, cb, cr);
                    }
                }
                [*u, *v] = self.chroma((sum + 2) / 4, cb, cr);
            }
        }
        frame
    }
}

/// Two neighbouring samples.
fn samples_of(bytes: &[u8]) -> [i32; 2] {
    match bytes {
        [a, b, c, d] => [[*a, *b], [*c, *d]].map(|s| i32::from(u16::from_le_bytes(s) & 1023)),
        _ => [0; 2],
    }
}

#[cfg(test)]
mod tests {
    use super::super::colour::{Light, Weights};
    use super::*;

    /// A repeatable sequence of numbers 0…1.
    fn dice() -> impl FnMut() -> f64 {
        let mut state = 7u32;
        move || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(state >> 8) / f64::from(1 << 24)
        }
    }

    #[test]
    fn the_table_says_what_the_function_says() {
        for light in [Light::Hlg, Light::Pq, Light::WideSdr] {
            let coding = Coding { weights: Weights::BT2020, full_range: false, light };
            let lut = Lut::new(&coding);
            let mut dice = dice();
            // PQ codes reach far beyond what a phone films: 75 % is 1,000 cd/m².
            let brightest = if light == Light::Pq { 0.75 } else { 1.0 };
            let (mut all, mut usual) = (Vec::new(), Vec::new());
            for _ in 0..20_000 {
                let rgb = [dice(), dice(), dice()].map(|c| c * brightest);
                let [y, cb, cr] = Weights::BT2020.ycc_from_rgb(rgb);
                let codes = [64.0 + 876.0 * y, 512.0 + 896.0 * cb, 512.0 + 896.0 * cr].map(f64::round);
                let exact = sdr_codes(&coding, codes);
                let [y, cb, cr] = codes.map(|c| c as i32);
                let [u, v] = lut.chroma(y, cb, cr);
                let ycc = [(exact[0] - 16.0) / 219.0, (exact[1] - 128.0) / 224.0, (exact[2] - 128.0) / 224.0];
                let inside = Weights::BT709.rgb_from_ycc(ycc).into_iter().all(|c| c > 0.3);
                for (got, want) in [lut.luma(y, cb, cr), u, v].into_iter().zip(exact) {
                    let off = (f64::from(got) - want).abs();
                    all.push(off);
                    if inside {
                        usual.push(off);
                    }
                }
            }
            // Half a code is rounding alone. The worst lie on bright colours at the edge of BT.709's
            // gamut: a channel stops at 0 there, where the display's power law is steepest.
            // PQ is the coarsest: one step of the table is the most light there.
            let looser = if light == Light::Pq { 1.6 } else { 1.0 };
            for (mut off, most_99, most) in [(all, 5.0, 20.0), (usual, 2.5, 9.0)] {
                off.sort_unstable_by(f64::total_cmp);
                let mean = off.iter().sum::<f64>() / off.len() as f64;
                let (nearly, worst) = (off[off.len() * 99 / 100], off[off.len() - 1]);
                println!(
                    "{light:?}: {} codes, off by {mean:.3}, 99 % {nearly:.2}, all {worst:.2}",
                    off.len()
                );
                assert!(
                    mean < 0.5 * looser && nearly < most_99 * looser && worst < most * looser,
                    "{light:?}: {mean} {nearly} {worst}"
                );
            }
        }
    }

    #[test]
    fn greys_stay_grey_and_exact() {
        let coding = Coding { weights: Weights::BT2020, full_range: false, light: Light::Hlg };
        let lut = Lut::new(&coding);
        for y in 64..=940 {
            let [want, ..] = sdr_codes(&coding, [f64::from(y), 512.0, 512.0]);
            assert!((f64::from(lut.luma(y, 512, 512)) - want).abs() <= 1.0, "{y}");
            assert_eq!(lut.chroma(y, 512, 512), [128, 128], "{y}");
        }
    }
}
