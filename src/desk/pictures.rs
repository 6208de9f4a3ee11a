//! From a drawn picture to the bytes a browser shows.

use image::ExtendedColorType;
use image::codecs::jpeg::JpegEncoder;

use crate::draw::rgb_from_frame;
use crate::types::{Error, Frame, Plane, Rect, Result};

/// JPEG's own scale, 1…100.
const QUALITY: u8 = 88;

pub fn jpeg(frame: &Frame) -> Result<Vec<u8>> {
    let (width, height) = (frame.width() as u32, frame.height() as u32);
    let mut out = Vec::with_capacity(frame.bytes() / 6);
    JpegEncoder::new_with_quality(&mut out, QUALITY)
        .encode(&rgb_from_frame(frame), width, height, ExtendedColorType::Rgb8)
        .map_err(|e| Error::Internal(e.to_string()))?;
    Ok(out)
}

/// The part of a picture, to even px.
pub fn part(frame: &Frame, bounds: Rect) -> Frame {
    let even = |v: f64, most: usize| (v.max(0.0) as usize & !1).min(most);
    let (left, top) = (even(bounds.x, frame.width() - 2), even(bounds.y, frame.height() - 2));
    let right = even(bounds.right() + 1.0, frame.width()).max(left + 2);
    let bottom = even(bounds.bottom() + 1.0, frame.height()).max(top + 2);
    let cut = |plane: &Plane, by: usize| {
        let (x, width) = (left / by, (right - left) / by);
        let rows = (top / by..bottom / by).flat_map(|y| plane.row(y).iter().skip(x).take(width));
        Plane { width, height: (bottom - top) / by, data: rows.copied().collect() }
    };
    Frame { y: cut(&frame.y, 1), u: cut(&frame.u, 2), v: cut(&frame.v, 2) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_is_what_lies_there_and_becomes_a_jpeg_of_its_size() {
        let mut frame = Frame::black(32, 16);
        frame.y.row_mut(4)[10] = 200;
        let part = part(&frame, Rect::new(8.0, 4.0, 12.0, 6.0));
        assert_eq!((part.width(), part.height(), part.u.width, part.v.height), (12, 6, 6, 3));
        assert_eq!(part.y.row(0)[2], 200);
        let bytes = jpeg(&part).unwrap();
        let back = image::load_from_memory(&bytes).unwrap();
        assert_eq!((back.width(), back.height()), (12, 6));
        let whole = super::part(&frame, Rect::new(-5.0, -5.0, 500.0, 500.0));
        assert_eq!(whole, frame);
    }
}
