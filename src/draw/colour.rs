/// A colour as screens name it: gamma-coded sRGB, 0–255.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rgb(pub u8, pub u8, pub u8);

/// The same as it is written into a picture: BT.709, limited range.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ink {
    /// BT.709 limited range, 16…235.
    pub y: u8,
    pub(crate) u: u8,
    pub(crate) v: u8,
}

impl Rgb {
    /// By the coefficients of ITU-R BT.709 (0.2126, 0.7152, 0.0722), 8 bit, limited range.
    pub const fn ink(self) -> Ink {
        let (r, g, b) = (self.0 as f64 / 255.0, self.1 as f64 / 255.0, self.2 as f64 / 255.0);
        let y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
        Ink {
            y: (16.5 + 219.0 * y) as u8,
            u: (128.5 + 224.0 * (b - y) / 1.8556) as u8,
            v: (128.5 + 224.0 * (r - y) / 1.5748) as u8,
        }
    }

    /// Relative luminance, 0…1 (WCAG 2.2).
    pub fn luminance(self) -> f64 {
        let linear = |c: u8| {
            let c = f64::from(c) / 255.0;
            if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(self.0) + 0.7152 * linear(self.1) + 0.0722 * linear(self.2)
    }
}

/// Contrast ratio of two colours, 1…21 (WCAG 2.2).
pub fn contrast(a: Rgb, b: Rgb) -> f64 {
    let (a, b) = (a.luminance(), b.luminance());
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_of_the_scale() {
        assert_eq!(Rgb(0, 0, 0).ink(), Ink { y: 16, u: 128, v: 128 });
        assert_eq!(Rgb(255, 255, 255).ink(), Ink { y: 235, u: 128, v: 128 });
        // Pure red and blue reach the limited range's end in their own difference signal.
        assert_eq!(Rgb(255, 0, 0).ink().v, 240);
        assert_eq!(Rgb(0, 0, 255).ink().u, 240);
    }

    #[test]
    fn contrast_of_black_and_white_is_21() {
        assert!((contrast(Rgb(0, 0, 0), Rgb(255, 255, 255)) - 21.0).abs() < 1e-9);
        // 4.48 for #777777 on white: the figure the standard's own examples are judged by.
        assert!((contrast(Rgb(0x77, 0x77, 0x77), Rgb(255, 255, 255)) - 4.48).abs() < 0.01);
    }
}
