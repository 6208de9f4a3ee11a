//! From light to the file's colours: noise, limited-range BT.709.

use super::solid::Colour;
use crate::demo::dice::Dice;
use crate::types::Frame;

/// Bell-shaped noise, drawn once and read from changing places.
pub struct Noise {
    table: Vec<f32>,
}

impl Noise {
    pub fn new(seed: u64, strength: f64) -> Self {
        let mut dice = Dice::stream(seed, 21);
        Self { table: (0..1 << 14).map(|_| (strength * dice.bell()) as f32).collect() }
    }

    /// The place where row `y` of picture `frame` begins to read.
    fn start(&self, frame: usize, y: usize) -> usize {
        let mut d = Dice::new(((frame as u64) << 20) ^ y as u64);
        d.next_u64() as usize
    }
}

/// BT.709 (ITU-R BT.709-6 items 3.2–3.4): luma weights, colour differences, limited range. Rows go
/// two by two because chroma is half as high.
pub fn to_frame(
    rgb: &[Colour],
    width: usize,
    height: usize,
    noise: &Noise,
    index: usize,
    light: f32,
) -> Frame {
    let mut frame = Frame::black(width, height);
    let mask = noise.table.len() - 1;
    let (uw, uh) = (frame.u.width, frame.u.height);
    for j in 0..uh {
        let mut u_row = vec![0.0f32; uw];
        let mut v_row = vec![0.0f32; uw];
        for k in 0..2 {
            let y = 2 * j + k;
            let Some(row) = rgb.get(y * width..(y + 1) * width) else { continue };
            let start = noise.start(index, y);
            for (i, (c, out)) in row.iter().zip(frame.y.row_mut(y)).enumerate() {
                let [r, g, b] = c.map(|v| (v * light).clamp(0.0, 255.0));
                let luma = 0.2126 * r + 0.7152 * g + 0.0722 * b;
                let grain = noise.table.get((start + i) & mask).copied().unwrap_or(0.0);
                *out = (16.5 + luma * (219.0 / 255.0) + grain).clamp(16.0, 235.0) as u8;
                if let (Some(u), Some(v)) = (u_row.get_mut(i / 2), v_row.get_mut(i / 2)) {
                    *u += (b - luma) * (0.25 * 224.0 / 255.0 / 1.8556);
                    *v += (r - luma) * (0.25 * 224.0 / 255.0 / 1.5748);
                }
            }
        }
        let start = noise.start(index, height + j);
        for (i, (u, v)) in u_row.iter().zip(&v_row).enumerate() {
            let grain = |o: usize| 0.5 * noise.table.get((start + 2 * i + o) & mask).copied().unwrap_or(0.0);
            if let (Some(a), Some(b)) = (frame.u.row_mut(j).get_mut(i), frame.v.row_mut(j).get_mut(i)) {
                *a = (128.5 + u + grain(0)).clamp(16.0, 240.0) as u8;
                *b = (128.5 + v + grain(1)).clamp(16.0, 240.0) as u8;
            }
        }
    }
    frame
}
