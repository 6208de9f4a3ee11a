use rayon::prelude::*;

use super::Rgb;
use crate::types::{Frame, Plane, Point, Rect, Similarity};

/// Samples of one axis that make one output sample: where they begin and their weights (sum 1).
struct Taps {
    first: Vec<usize>,
    weights: Vec<f32>,
    /// Weights per output sample.
    span: usize,
    /// Output samples whose centre lies inside the source.
    inside: std::ops::Range<usize>,
}

impl Taps {
    /// Output sample `i` is centred at `origin + (i + ½)·step` in the source. A triangle as wide as
    /// the step: bilinear when growing, averaging over the area when shrinking.
    fn new(out: usize, source: usize, origin: f64, step: f64) -> Self {
        let support = step.max(1.0);
        let span = (2.0 * support).ceil() as usize + 1;
        let (mut first, mut weights) = (Vec::with_capacity(out), Vec::with_capacity(out * span));
        let mut inside = out..0;
        for i in 0..out {
            let centre = origin + (i as f64 + 0.5) * step;
            if centre >= 0.0 && centre < source as f64 {
                inside = inside.start.min(i)..inside.end.max(i + 1);
            }
            let low =
                (centre - support - 0.5).ceil().max(0.0).min(source.saturating_sub(span) as f64) as usize;
            let mut row: Vec<f64> = (0..span)
                .map(|k| {
                    let k = low + k;
                    if k >= source {
                        return 0.0;
                    }
                    let d = (k as f64 + 0.5 - centre).abs() / support;
                    (1.0 - d).max(0.0)
                })
                .collect();
            let sum: f64 = row.iter().sum();
            if sum > 0.0 {
                row.iter_mut().for_each(|w| *w /= sum);
            } else {
                // Outside the source: never used, but must stay finite.
                row[0] = 1.0;
            }
            first.push(low);
            weights.extend(row.iter().map(|&w| w as f32));
        }
        if inside.start > inside.end {
            inside = 0..0;
        }
        Self { first, weights, span, inside }
    }

    fn at(&self, i: usize) -> (usize, &[f32]) {
        (self.first[i], &self.weights[i * self.span..(i + 1) * self.span])
    }
}

fn resize_plane(source: &Plane, across: &Taps, down: &Taps, out: &mut Plane, outside: u8) {
    let width = out.width;
    if width == 0 || source.width == 0 || source.height == 0 {
        return;
    }
    let low = across.inside.clone().map(|i| across.first[i]).min().unwrap_or(0);
    let high =
        across.inside.clone().map(|i| (across.first[i] + across.span).min(source.width)).max().unwrap_or(0);
    out.data.par_chunks_exact_mut(width).enumerate().for_each_init(
        || vec![0f32; source.width + across.span],
        |sum, (row, line)| {
            line.fill(outside);
            if !down.inside.contains(&row) || low >= high {
                return;
            }
            // Down first: whole rows are added up, which runs at the speed of memory.
            let (first, weights) = down.at(row);
            sum[low..high].fill(0.0);
            for (k, &w) in weights.iter().enumerate().filter(|(k, w)| **w > 0.0 && first + k < source.height)
            {
                let from = &source.row(first + k)[low..high];
                for (s, &v) in sum[low..high].iter_mut().zip(from) {
                    *s += f32::from(v) * w;
                }
            }
            for i in across.inside.clone() {
                let (first, weights) = across.at(i);
                let value: f32 =
                    sum[first..first + across.span].iter().zip(weights).map(|(s, w)| s * w).sum();
                line[i] = (value + 0.5) as u8;
            }
        },
    );
}

/// The part `crop` of `source` (source px; may reach outside it) as a picture of `width` × `height`
/// (even). What lies outside the source is filled with `outside`. Chroma keeps its left-centre site.
pub fn resize(source: &Frame, crop: Rect, width: usize, height: usize, outside: Rgb) -> Frame {
    let ink = outside.ink();
    let mut out = Frame::black(width, height);
    let (w, h) = (out.width(), out.height());
    let (sx, sy) = (crop.width / w as f64, crop.height / h as f64);
    let across = Taps::new(w, source.y.width, crop.x, sx);
    let down = Taps::new(h, source.y.height, crop.y, sy);
    resize_plane(&source.y, &across, &down, &mut out.y, ink.y);
    let across = Taps::new(w / 2, source.u.width, crop.x / 2.0 + 0.25 - sx / 4.0, sx);
    let down = Taps::new(h / 2, source.u.height, crop.y / 2.0, sy);
    resize_plane(&source.u, &across, &down, &mut out.u, ink.u);
    resize_plane(&source.v, &across, &down, &mut out.v, ink.v);
    out
}

/// A sample's place in 1/65 536; its weights in 1/256.
const FIXED: f64 = 65_536.0;

fn warp_plane(source: &Plane, out: &mut Plane, outside: u8, from_out: impl Fn(f64, f64) -> Point + Sync) {
    let width = out.width.max(1);
    let (sw, sh) = (source.width as f64, source.height as f64);
    out.data.par_chunks_exact_mut(width).enumerate().for_each(|(row, line)| {
        let y = row as f64 + 0.5;
        let start = from_out(0.5, y);
        let step = from_out(1.5, y) - start;
        // Which samples lie inside the source, and which of them so far inside that all four neighbours do.
        let inside =
            within(start.x, step.x, 0.0, sw, width, within(start.y, step.y, 0.0, sh, width, 0..width));
        let clear = within(start.y, step.y, 0.51, sh - 0.51, width, inside.clone());
        let clear = within(start.x, step.x, 0.51, sw - 0.51, width, clear);
        line[..inside.start].fill(outside);
        line[inside.end..].fill(outside);
        for i in (inside.start..clear.start).chain(clear.end..inside.end) {
            line[i] = near_edge(source, start + step * i as f64);
        }
        let fixed = |v: f64| (v * FIXED) as i64;
        let from = start + step * clear.start as f64;
        let (mut fx, mut fy) = (fixed(from.x - 0.5), fixed(from.y - 0.5));
        let (dx, dy) = (fixed(step.x), fixed(step.y));
        for value in &mut line[clear] {
            let (x, y) = ((fx >> 16) as usize, (fy >> 16) as usize);
            let (tx, ty) = (((fx >> 8) & 255) as u32, ((fy >> 8) & 255) as u32);
            let top = &source.data[y * source.width + x..][..2];
            let low = &source.data[(y + 1) * source.width + x..][..2];
            let mix = |pair: &[u8]| u32::from(pair[0]) * (256 - tx) + u32::from(pair[1]) * tx;
            *value = ((mix(top) * (256 - ty) + mix(low) * ty + 32_768) >> 16) as u8;
            fx += dx;
            fy += dy;
        }
    });
}

/// The part of `among` in which `start + i·step` lies in `low..high`.
fn within(
    start: f64,
    step: f64,
    low: f64,
    high: f64,
    width: usize,
    among: std::ops::Range<usize>,
) -> std::ops::Range<usize> {
    let (first, end) = if step.abs() < 1e-9 {
        if start >= low && start < high { (0.0, width as f64) } else { (0.0, 0.0) }
    } else {
        let (a, b) = ((low - start) / step, (high - start) / step);
        // A hair inside, so that rounding never steps out.
        ((a.min(b) + 1e-6).ceil().max(0.0), (a.max(b) - 1e-6).floor() + 1.0)
    };
    let from = (first as usize).clamp(among.start, among.end);
    from..(end.max(0.0) as usize).clamp(from, among.end)
}

fn near_edge(source: &Plane, p: Point) -> u8 {
    let (sw, sh) = (source.width as f64, source.height as f64);
    let (fx, fy) = ((p.x - 0.5).clamp(0.0, sw - 1.0), (p.y - 0.5).clamp(0.0, sh - 1.0));
    let (x, y) = (fx as usize, fy as usize);
    let (tx, ty) = ((fx - x as f64) as f32, (fy - y as f64) as f32);
    let (x1, y1) = ((x + 1).min(source.width - 1), (y + 1).min(source.height - 1));
    let (top, low) = (source.row(y), source.row(y1));
    let mix = |r: &[u8]| f32::from(r[x]) * (1.0 - tx) + f32::from(r[x1]) * tx;
    (mix(top) * (1.0 - ty) + mix(low) * ty + 0.5) as u8
}

/// `source` seen through `out_from_source` as a picture of `width` × `height` (even): turned, scaled
/// and mirrored. Shrinking is done first by area, so that fine detail does not flicker.
pub fn warp(
    source: &Frame,
    out_from_source: &Similarity,
    width: usize,
    height: usize,
    outside: Rgb,
) -> Frame {
    let scale = out_from_source.scale();
    if !(scale > 0.0 && scale.is_finite()) {
        let ink = outside.ink();
        let (w, h) = (width.next_multiple_of(2), height.next_multiple_of(2));
        return Frame {
            y: Plane::filled(w, h, ink.y),
            u: Plane::filled(w / 2, h / 2, ink.u),
            v: Plane::filled(w / 2, h / 2, ink.v),
        };
    }
    let (full_w, full_h) = (source.width() as f64, source.height() as f64);
    if scale < 0.8 && full_w > 0.0 && full_h > 0.0 {
        // Even before the crop is chosen: a size rounded up later would stretch the picture.
        let even = |v: f64| (v.ceil() as usize).next_multiple_of(2).max(2);
        // Only what is seen is shrunk.
        let back = out_from_source.inverse();
        let corners = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
        let seen =
            Rect::around(corners.map(|(x, y)| back.apply(Point::new(x * width as f64, y * height as f64))));
        let room = 4.0 / scale;
        let seen = seen.unwrap_or(Rect::new(0.0, 0.0, full_w, full_h));
        let (left, top) = ((seen.x - room).clamp(0.0, full_w), (seen.y - room).clamp(0.0, full_h));
        let right = (seen.right() + room).clamp(left, full_w);
        let bottom = (seen.bottom() + room).clamp(top, full_h);
        let (w, h) = (even((right - left) * scale), even((bottom - top) * scale));
        let crop = Rect::new(left, top, w as f64 / scale, h as f64 / scale);
        let small = resize(source, crop, w, h, outside);
        let k = 1.0 / scale;
        let source_from_small = Similarity { a: k, b: 0.0, tx: left, ty: top, mirrored: false };
        return warp(&small, &out_from_source.after(&source_from_small), width, height, outside);
    }
    let ink = outside.ink();
    let back = out_from_source.inverse();
    let mut out = Frame::black(width, height);
    warp_plane(&source.y, &mut out.y, ink.y, |x, y| back.apply(Point::new(x, y)));
    let chroma = |x: f64, y: f64| {
        // Chroma sample i sits at luma x = 2i + ½, y = 2j + 1.
        let p = back.apply(Point::new(2.0 * x - 0.5, 2.0 * y));
        Point::new((p.x + 0.5) / 2.0, p.y / 2.0)
    };
    warp_plane(&source.u, &mut out.u, ink.u, chroma);
    warp_plane(&source.v, &mut out.v, ink.v, chroma);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    const OUTSIDE: Rgb = Rgb(0, 0, 0);

    fn ramp(w: usize, h: usize) -> Frame {
        let mut f = Frame::black(w, h);
        for y in 0..h {
            for (x, v) in f.y.row_mut(y).iter_mut().enumerate() {
                *v = (20 + x * 200 / w) as u8;
            }
        }
        f
    }

    #[test]
    fn same_size_is_the_same_picture() {
        let f = ramp(64, 48);
        let out = resize(&f, Rect::new(0.0, 0.0, 64.0, 48.0), 64, 48, OUTSIDE);
        assert_eq!(out, f);
        assert_eq!(warp(&f, &Similarity::IDENTITY, 64, 48, OUTSIDE), f);
    }

    #[test]
    fn shrinking_keeps_the_mean_and_a_stripe_turns_grey() {
        let mut f = Frame::black(64, 64);
        for y in 0..64 {
            f.y.row_mut(y).iter_mut().enumerate().for_each(|(x, v)| *v = if x % 2 == 0 { 40 } else { 200 });
        }
        let out = resize(&f, Rect::new(0.0, 0.0, 64.0, 64.0), 16, 16, OUTSIDE);
        for v in &out.y.data[16 * 8 + 2..16 * 8 + 14] {
            assert!((i32::from(*v) - 120).abs() <= 2, "{v}");
        }
    }

    #[test]
    fn outside_the_source_is_filled() {
        let f = ramp(32, 32);
        let out = resize(&f, Rect::new(-32.0, 0.0, 64.0, 32.0), 64, 32, Rgb(255, 255, 255));
        assert_eq!(out.y.row(10)[5], 235);
        assert_eq!(out.y.row(10)[40], f.y.row(10)[8]);
    }

    #[test]
    fn warp_puts_a_point_where_the_similarity_says() {
        let mut f = Frame::black(80, 80);
        for y in 20..24 {
            f.y.row_mut(y)[30..34].fill(235);
        }
        for (mirrored, tx, scale) in
            [(false, 5.0, 1.0), (true, 90.0, 1.0), (false, 3.0, 0.5), (true, 70.0, 1.5)]
        {
            let s = Similarity { a: scale * 0.98, b: scale * 0.199, tx, ty: 6.0, mirrored };
            let out = warp(&f, &s, 120, 120, OUTSIDE);
            let want = s.apply(Point::new(32.0, 22.0));
            let (mut sum, mut at) = (0.0, Point::default());
            for y in 0..120 {
                for (x, &v) in out.y.row(y).iter().enumerate() {
                    let w = f64::from(v) - 16.0;
                    sum += w;
                    at = at + Point::new(x as f64 + 0.5, y as f64 + 0.5) * w;
                }
            }
            assert!((at * (1.0 / sum)).distance(want) < 0.3, "{:?} {want:?}", at * (1.0 / sum));
        }
    }
}
