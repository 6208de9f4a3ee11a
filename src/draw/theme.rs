//! The look: a calm dark ground, few colours, generous text. Sizes are for a canvas whose shorter
//! side is 1080 px and grow or shrink with it.

use super::Rgb;

/// Behind everything.
pub const GROUND: Rgb = Rgb(0x13, 0x16, 0x1A);
/// Cards, bars, and where a picture ends before its panel does.
pub const RAISED: Rgb = Rgb(0x20, 0x25, 0x2B);
/// Thin rules and the strip's rail.
pub const RULE: Rgb = Rgb(0x6B, 0x76, 0x82);
/// Words that matter.
pub const TEXT: Rgb = Rgb(0xF4, 0xF5, 0xF6);
/// Words that may wait.
pub const QUIET: Rgb = Rgb(0xB9, 0xC1, 0xC9);
/// Under every line drawn on a picture, so that it is seen on light and dark alike.
pub const CASING: Rgb = Rgb(0x0B, 0x0D, 0x10);
/// Today's rep: orange, filled marks, one solid line (Okabe & Ito 2008).
pub const TODAY: Rgb = Rgb(0xE6, 0x9F, 0x00);
/// The reference: sky blue, hollow marks, a double line (Okabe & Ito 2008).
pub const REFERENCE: Rgb = Rgb(0x56, 0xB4, 0xE9);
/// A stretch set apart from the rest of its line: yellow and wider (Okabe & Ito 2008).
pub const APART: Rgb = Rgb(0xF0, 0xE4, 0x42);

/// Every pair of colours that text is set in.
pub const TEXT_ON: [(Rgb, Rgb); 9] = [
    (TEXT, GROUND),
    (TEXT, RAISED),
    (QUIET, GROUND),
    (QUIET, RAISED),
    (TODAY, GROUND),
    (TODAY, RAISED),
    (REFERENCE, GROUND),
    (REFERENCE, RAISED),
    (APART, RAISED),
];

/// Every pair of colours that marks are drawn in.
pub const MARKS_ON: [(Rgb, Rgb); 6] =
    [(TODAY, CASING), (REFERENCE, CASING), (APART, CASING), (TEXT, CASING), (RULE, GROUND), (RULE, RAISED)];

/// Sizes in px for one canvas. Text sizes are heights of a capital letter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sizes {
    /// Canvas px for one px of a 1080-px-wide design.
    pub unit: f64,
    pub(crate) small: f64,
    pub(crate) body: f64,
    /// Cap height of titles, px.
    pub title: f64,
    pub(crate) clock: f64,
    pub(crate) margin: f64,
    pub(crate) gap: f64,
    pub(crate) radius: f64,
    pub(crate) line: f64,
}

/// The smallest capital letter on a 1080-px-wide canvas, px: some 2 mm on a phone held upright.
pub const SMALLEST_CAP: f64 = 34.0;

impl Sizes {
    /// The shorter side of a canvas on which `unit` is 1, px.
    pub const UNIT_PX: f64 = 1080.0;

    pub(crate) fn new(width: usize, height: usize) -> Self {
        let unit = width.min(height) as f64 / Self::UNIT_PX;
        Self {
            unit,
            small: SMALLEST_CAP * unit,
            body: 38.0 * unit,
            title: 52.0 * unit,
            clock: 36.0 * unit,
            margin: 44.0 * unit,
            gap: 20.0 * unit,
            radius: 22.0 * unit,
            line: 6.0 * unit,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::contrast;
    use super::*;

    #[test]
    fn text_contrast_is_at_least_4_5() {
        for (ink, ground) in TEXT_ON {
            assert!(contrast(ink, ground) >= 4.5, "{ink:?} on {ground:?}: {}", contrast(ink, ground));
        }
    }

    #[test]
    fn mark_contrast_is_at_least_3() {
        for (ink, ground) in MARKS_ON {
            assert!(contrast(ink, ground) >= 3.0, "{ink:?} on {ground:?}: {}", contrast(ink, ground));
        }
    }

    #[test]
    fn no_text_size_is_below_the_smallest() {
        for (w, h) in [(1080, 1920), (1920, 1080), (720, 1280), (540, 960)] {
            let s = Sizes::new(w, h);
            for cap in [s.small, s.body, s.title, s.clock] {
                assert!(cap / (w.min(h) as f64) * 1080.0 >= 34.0 - 1e-9);
            }
        }
    }
}
