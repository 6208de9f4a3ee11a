//! One picture or one colour laid over another where a mask covers.

use super::{Mask, Rgb};
use crate::types::{Frame, Plane};

/// `line` drawn toward `over` by `weights` (0…65 280).
fn blend(line: &mut [u8], over: impl Iterator<Item = i32>, weights: impl Iterator<Item = i32>) {
    for ((b, o), w) in line.iter_mut().zip(over).zip(weights) {
        *b = (i32::from(*b) + (((o - i32::from(*b)) * w + 32_640) >> 16)) as u8;
    }
}

/// A row's part that covers anything, from even to even.
fn covered(row: &[u8]) -> std::ops::Range<usize> {
    let Some(first) = row.iter().position(|c| *c > 0) else { return 0..0 };
    let last = row.iter().rposition(|c| *c > 0).unwrap_or(first);
    first & !1..(last + 1).next_multiple_of(2).min(row.len())
}

/// For each row of `mask` that covers anything of a plane of `size`: its number, its part that does, and the cover.
fn rows(mask: &Mask, size: (usize, usize)) -> impl Iterator<Item = (usize, std::ops::Range<usize>, &[u8])> {
    let (width, height) = (size.0.saturating_sub(mask.x), size.1.saturating_sub(mask.y));
    let lines = mask.cover.chunks_exact(mask.width.max(1)).take(height).enumerate();
    lines.filter_map(move |(row, cover)| {
        let cover = &cover[..mask.width.min(width)];
        let span = covered(cover);
        (!span.is_empty()).then(|| (row, span.clone(), &cover[span]))
    })
}

/// Each pair's mean cover, times `strength`.
fn pairs(cover: &[u8], strength: i32) -> impl Iterator<Item = i32> {
    cover.chunks_exact(2).map(move |c| (i32::from(c[0]) + i32::from(c[1])) / 2 * strength)
}

fn share(strength: f64) -> i32 {
    (strength.clamp(0.0, 1.0) * 256.0) as i32
}

/// Lay `over` on `base` where `mask` covers, at `strength` 0…1, with its colour drawn toward `tint`
/// by `tint_share` 0…1. `over` is the part of a picture that lies in the mask's bounds; nothing is laid when it is
/// smaller.
pub fn mix(base: &mut Frame, over: &Frame, mask: &Mask, strength: f64, tint: Rgb, tint_share: f64) {
    if over.width() < mask.width || over.height() < mask.height {
        return;
    }
    let (ink, strength, tint_share) = (tint.ink(), share(strength), share(tint_share));
    let size = (base.width(), base.height());
    for (row, span, cover) in rows(mask, size) {
        let y = mask.y + row;
        let line = &mut base.y.row_mut(y)[mask.x + span.start..mask.x + span.end];
        let from = over.y.row(row)[span.clone()].iter().map(|o| i32::from(*o));
        blend(line, from, cover.iter().map(|c| i32::from(*c) * strength));
        if row % 2 == 1 {
            continue;
        }
        let half = span.start / 2..span.end / 2;
        let to = (mask.x + span.start) / 2..(mask.x + span.end) / 2;
        let chroma = |to_plane: &mut Plane, from: &Plane, hue: u8| {
            let tinted = from.row(row / 2)[half.clone()]
                .iter()
                .map(|o| i32::from(*o) + (((i32::from(hue) - i32::from(*o)) * tint_share) >> 8));
            blend(&mut to_plane.row_mut(y / 2)[to.clone()], tinted, pairs(cover, strength));
        };
        chroma(&mut base.u, &over.u, ink.u);
        chroma(&mut base.v, &over.v, ink.v);
    }
}

/// Lay one colour on `base` where `mask` covers, at `strength` 0…1.
pub fn wash(base: &mut Frame, mask: &Mask, colour: Rgb, strength: f64) {
    let (ink, strength) = (colour.ink(), share(strength));
    let size = (base.width(), base.height());
    for (row, span, cover) in rows(mask, size) {
        let y = mask.y + row;
        let line = &mut base.y.row_mut(y)[mask.x + span.start..mask.x + span.end];
        blend(line, std::iter::repeat(i32::from(ink.y)), cover.iter().map(|c| i32::from(*c) * strength));
        if row % 2 == 0 {
            let to = (mask.x + span.start) / 2..(mask.x + span.end) / 2;
            for (plane, hue) in [(&mut base.u, ink.u), (&mut base.v, ink.v)] {
                let hues = std::iter::repeat(i32::from(hue));
                blend(&mut plane.row_mut(y / 2)[to.clone()], hues, pairs(cover, strength));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Rect;

    const BLACK: Rgb = Rgb(0, 0, 0);

    fn grey(w: usize, h: usize, y: u8) -> Frame {
        Frame { y: Plane::filled(w, h, y), ..Frame::black(w, h) }
    }

    #[test]
    fn mix_is_the_base_at_0_and_the_other_at_1_and_stays_in_the_mask() {
        let (base, over) = (grey(64, 48, 180), grey(20, 16, 60));
        let mut mask = Mask::new(Rect::new(10.0, 12.0, 20.0, 16.0), (64, 48));
        mask.cover.fill(255);
        let mut out = base.clone();
        mix(&mut out, &over, &mask, 0.0, BLACK, 0.0);
        assert_eq!(out, base);
        mix(&mut out, &over, &mask, 1.0, BLACK, 0.0);
        assert!(out.y.row(12)[10..30].iter().all(|v| v.abs_diff(60) <= 1));
        assert_eq!(
            (out.y.row(12)[9], out.y.row(12)[30], out.y.row(11)[15], out.y.row(28)[15]),
            (180, 180, 180, 180)
        );
    }

    #[test]
    fn a_wash_draws_toward_its_colour_by_its_strength() {
        let mut out = grey(32, 32, 200);
        let mut mask = Mask::new(Rect::new(0.0, 0.0, 32.0, 32.0), (32, 32));
        mask.cover.fill(255);
        wash(&mut out, &mask, BLACK, 0.5);
        assert!(out.y.data.iter().all(|v| v.abs_diff(108) <= 1), "{}", out.y.data[0]);
    }

    #[test]
    fn masks_that_reach_out_do_no_harm() {
        let mut out = grey(16, 16, 100);
        let mut mask = Mask::new(Rect::new(4.0, 4.0, 60.0, 60.0), (64, 64));
        mask.cover.fill(255);
        wash(&mut out, &mask, BLACK, 1.0);
        mix(&mut out, &grey(2, 2, 9), &mask, 1.0, BLACK, 0.0);
        assert_eq!((out.y.row(3)[3], out.y.row(15)[15]), (100, 16));
    }
}
