use crate::types::Frame;

/// The picture as 8-bit RGB, rows of `3·width` bytes, for PNG files. BT.709, limited range; each chroma
/// sample serves its 2×2 pixels.
pub fn rgb_from_frame(frame: &Frame) -> Vec<u8> {
    let mut out = Vec::with_capacity(3 * frame.width() * frame.height());
    for row in 0..frame.height() {
        let (us, vs) = (frame.u.row(row / 2), frame.v.row(row / 2));
        for (x, &y) in frame.y.row(row).iter().enumerate() {
            let y = (f32::from(y) - 16.0) * (255.0 / 219.0);
            let chroma = |c: &[u8]| c.get(x / 2).map_or(0.0, |&c| (f32::from(c) - 128.0) * (255.0 / 224.0));
            let (u, v) = (chroma(us), chroma(vs));
            // 2(1−Kr), 2(1−Kb) and what is left for green, Kr = 0.2126, Kb = 0.0722 (ITU-R BT.709).
            let rgb = [y + 1.5748 * v, y - 0.187_324 * u - 0.468_124 * v, y + 1.8556 * u];
            out.extend(rgb.map(|c| (c + 0.5).clamp(0.0, 255.0) as u8));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::{Canvas, theme};
    use super::*;

    #[test]
    fn a_colour_comes_back_within_two_steps() {
        for colour in [theme::TODAY, theme::REFERENCE, theme::APART, theme::GROUND, theme::TEXT] {
            let rgb = rgb_from_frame(Canvas::new(2, 2, colour).frame());
            for (got, want) in rgb.iter().zip([colour.0, colour.1, colour.2]) {
                assert!(got.abs_diff(want) <= 2, "{colour:?} {rgb:?}");
            }
        }
    }
}
