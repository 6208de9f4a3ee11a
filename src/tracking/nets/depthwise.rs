//! Depthwise convolutions (each channel by a small kernel of its own), which the net library computes number by number.

use crate::types::{Cause, Result};

use super::net_error;
use crate::messages::tracking as messages;

/// So many numbers of a row are computed together.
const LANES: usize = 16;

/// One of a net's depthwise convolutions, and the bounds its values are held to after it.
#[derive(Debug, Clone, PartialEq)]
pub struct Depthwise {
    /// Side of the kernel.
    side: usize,
    stride: usize,
    /// Zeros before the first row, before the first column, after the last row, after the last column.
    pads: [usize; 4],
    /// One kernel after another, row by row.
    weights: Vec<f32>,
    /// One for each channel.
    bias: Vec<f32>,
    bounds: Option<(f32, f32)>,
}

/// Rows and columns.
type Size = [usize; 2];

impl Depthwise {
    /// `weights`: channels × `side` × `side`; `bias`: one for each channel.
    pub fn new(
        side: usize,
        stride: usize,
        pads: [usize; 4],
        weights: Vec<f32>,
        bias: Vec<f32>,
    ) -> Result<Self> {
        if side == 0 || stride == 0 || weights.len() != bias.len() * side * side {
            return Err(net_error(messages::NET_UNLIKE.into()));
        }
        Ok(Self { side, stride, pads, weights, bias, bounds: None })
    }

    /// What comes out is held between `low` and `high`.
    pub fn within(self, low: f32, high: f32) -> Self {
        Self { bounds: Some((low, high)), ..self }
    }

    /// How many channels go in and come out.
    pub const fn channels(&self) -> usize {
        self.bias.len()
    }

    /// Size of what comes out; `None` where the kernel is larger than what goes in.
    fn size(&self, [rows, columns]: Size) -> Option<Size> {
        let [top, left, bottom, right] = self.pads;
        let along = |length: usize| Some(length.checked_sub(self.side)? / self.stride + 1);
        Some([along(top + rows + bottom)?, along(left + columns + right)?])
    }

    /// `input`: channels × rows × columns. Gives channels × rows × columns of the size given beside it.
    pub fn run(&self, input: &[f32], size: Size) -> Result<(Vec<f32>, Size)> {
        let unlike = || net_error(Cause::from(messages::NET_UNLIKE));
        let out_size = self.size(size).ok_or_else(unlike)?;
        let (area, out_area) = (size[0] * size[1], out_size[0] * out_size[1]);
        if area == 0 || input.len() != self.channels() * area {
            return Err(unlike());
        }
        let mut out = vec![0.0; self.channels() * out_area];
        let mut plane = Plane::new(self, size, out_size);
        let kernels = self.weights.chunks_exact(self.side * self.side);
        let bounds = self.bounds.unwrap_or((f32::NEG_INFINITY, f32::INFINITY));
        for (((from, to), kernel), bias) in
            input.chunks_exact(area).zip(out.chunks_exact_mut(out_area)).zip(kernels).zip(&self.bias)
        {
            plane.fill(from, self.pads);
            convolve(
                &Channel { plane: &plane, kernel, side: self.side, bias: *bias, bounds },
                to,
                out_size[1],
            );
        }
        Ok((out, out_size))
    }
}

/// One channel with zeros around it. Every `stride`-th column of a row lies together, so that what one place of the kernel
/// meets in a row is a row again, whatever the stride.
struct Plane {
    stride: usize,
    /// Of the channel itself.
    columns: usize,
    /// Numbers of one of a row's `stride` parts.
    part: usize,
    values: Vec<f32>,
}

impl Plane {
    fn new(conv: &Depthwise, [rows, columns]: Size, [_, out_columns]: Size) -> Self {
        let [top, _, bottom, _] = conv.pads;
        // Room for whole lanes beyond the last column.
        let part = out_columns.div_ceil(LANES) * LANES + conv.side.div_ceil(conv.stride);
        let values = vec![0.0; (top + rows + bottom) * conv.stride * part];
        Self { stride: conv.stride, columns, part, values }
    }

    fn fill(&mut self, channel: &[f32], [top, left, ..]: [usize; 4]) {
        let rows = self.values.chunks_exact_mut(self.stride * self.part).skip(top);
        for (row, from) in rows.zip(channel.chunks_exact(self.columns)) {
            if self.stride == 1 {
                if let Some(to) = row.get_mut(left..left + from.len()) {
                    to.copy_from_slice(from);
                }
                continue;
            }
            for (column, v) in from.iter().enumerate() {
                let place = column + left;
                if let Some(to) = row.get_mut(place % self.stride * self.part + place / self.stride)
                    && place / self.stride < self.part
                {
                    *to = *v;
                }
            }
        }
    }

    fn row(&self, row: usize) -> &[f32] {
        let length = self.stride * self.part;
        self.values.get(row * length..(row + 1) * length).unwrap_or_default()
    }
}

/// One channel, ready to be computed.
struct Channel<'a> {
    plane: &'a Plane,
    kernel: &'a [f32],
    side: usize,
    bias: f32,
    bounds: (f32, f32),
}

fn convolve(channel: &Channel, out: &mut [f32], out_columns: usize) {
    #[cfg(target_arch = "x86_64")]
    if std::arch::is_x86_feature_detected!("avx2") {
        // SAFETY: the processor has what this is compiled for.
        unsafe { convolve_avx2(channel, out, out_columns) };
        return;
    }
    convolve_any(channel, out, out_columns);
}

/// The same sums in the same order, so the same bits, eight numbers at a time.
#[cfg(target_arch = "x86_64")]
#[target_feature(enable = "avx2")]
fn convolve_avx2(channel: &Channel, out: &mut [f32], out_columns: usize) {
    convolve_any(channel, out, out_columns);
}

#[inline(always)]
fn convolve_any(channel: &Channel, out: &mut [f32], out_columns: usize) {
    let Channel { plane, kernel, side, bias, bounds: (low, high) } = *channel;
    for (y, out_row) in out.chunks_exact_mut(out_columns).enumerate() {
        for (chunk, to) in out_row.chunks_mut(LANES).enumerate() {
            let mut sums = [bias; LANES];
            for (ky, weights) in kernel.chunks_exact(side).enumerate() {
                let row = plane.row(y * plane.stride + ky);
                for (kx, weight) in weights.iter().enumerate() {
                    let at = kx % plane.stride * plane.part + kx / plane.stride + chunk * LANES;
                    let Some(from) = row.get(at..).and_then(|r| r.first_chunk::<LANES>()) else { continue };
                    for (sum, v) in sums.iter_mut().zip(from) {
                        *sum += v * weight;
                    }
                }
            }
            for (to, sum) in to.iter_mut().zip(sums) {
                *to = sum.max(low).min(high);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbers(count: usize, seed: u32) -> Vec<f32> {
        let mut state = seed;
        let mut next = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 8) as f32 / (1 << 24) as f32 * 2.0 - 1.0
        };
        (0..count).map(|_| next()).collect()
    }

    /// By the definition (ONNX operator `Conv`, group = channels), number by number.
    fn by_definition(conv: &Depthwise, input: &[f32], [rows, columns]: Size) -> (Vec<f32>, Size) {
        let size = conv.size([rows, columns]).unwrap();
        let mut out = Vec::new();
        for c in 0..conv.channels() {
            for y in 0..size[0] {
                for x in 0..size[1] {
                    let mut sum = f64::from(conv.bias[c]);
                    for ky in 0..conv.side {
                        for kx in 0..conv.side {
                            let (v, h) = (y * conv.stride + ky, x * conv.stride + kx);
                            let inside = v >= conv.pads[0]
                                && h >= conv.pads[1]
                                && v < conv.pads[0] + rows
                                && h < conv.pads[1] + columns;
                            if inside {
                                let at = (c * rows + v - conv.pads[0]) * columns + h - conv.pads[1];
                                let weight = conv.weights[(c * conv.side + ky) * conv.side + kx];
                                sum += f64::from(input[at]) * f64::from(weight);
                            }
                        }
                    }
                    let (low, high) = conv.bounds.unwrap_or((f32::MIN, f32::MAX));
                    out.push((sum as f32).clamp(low, high));
                }
            }
        }
        (out, size)
    }

    #[test]
    fn every_kind_is_computed_as_defined() {
        for side in [1, 3, 5] {
            for stride in [1, 2] {
                for (rows, columns) in [(2, 2), (4, 4), (8, 8), (7, 13), (16, 17), (5, 64)] {
                    for pads in [[0, 0, 1, 1], [1, 1, 1, 1], [2, 2, 2, 2], [4, 4, 4, 4]] {
                        let weights = numbers(3 * side * side, 7);
                        let conv =
                            Depthwise::new(side, stride, pads, weights, vec![0.25, -0.5, 0.0]).unwrap();
                        if conv.size([rows, columns]).is_none() {
                            continue;
                        }
                        let input = numbers(3 * rows * columns, 11);
                        for conv in [conv.clone(), conv.within(0.0, 6.0)] {
                            let (ours, size) = conv.run(&input, [rows, columns]).unwrap();
                            let (wanted, wanted_size) = by_definition(&conv, &input, [rows, columns]);
                            assert_eq!((ours.len(), size), (wanted.len(), wanted_size));
                            for (a, b) in ours.iter().zip(&wanted) {
                                assert!(
                                    (a - b).abs() < 1e-5,
                                    "{side} {stride} {rows} {columns} {pads:?}: {a} {b}"
                                );
                            }
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn what_does_not_fit_is_refused() {
        assert!(Depthwise::new(3, 1, [1; 4], vec![0.0; 8], vec![0.0]).is_err());
        let conv = Depthwise::new(5, 1, [0; 4], vec![0.0; 25], vec![0.0]).unwrap();
        assert!(conv.run(&[0.0; 16], [4, 4]).is_err());
        assert!(conv.run(&[0.0; 24], [5, 5]).is_err());
        assert!(conv.run(&[0.0; 25], [5, 5]).is_ok());
    }
}
