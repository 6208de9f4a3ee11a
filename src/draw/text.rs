//! Text: the font crate (rusttype) is named in this file only.

mod lines;

use std::borrow::Cow;
use std::collections::HashMap;
use std::sync::{Arc, Mutex};

use rusttype::{Font, Scale, point};
use unicode_normalization::{UnicodeNormalization, is_nfc};

use super::{Canvas, Mask, Rgb};
use crate::messages::output as messages;
use crate::types::{Error, Point, Rect, Result};

static BOLD: &[u8] = include_bytes!("../../fonts/OpenSans-Bold.ttf");
static SEMIBOLD: &[u8] = include_bytes!("../../fonts/OpenSans-Semibold.ttf");

/// Height of a capital letter ÷ em, read from the fonts' own OS/2 table (1462 ÷ 2048, both weights).
const CAP_PER_EM: f64 = 1462.0 / 2048.0;
/// Distance of two lines ÷ height of a capital.
const LEADING: f64 = 1.85;
/// Glyphs are drawn at quarters of a pixel across.
const PHASES: f32 = 4.0;

/// Which of the two built-in fonts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Face {
    /// For names and notes.
    Semibold,
    /// For titles and numbers.
    Bold,
}

/// Where the given place is on the line of text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Begins at the place given.
    Left,
    /// Its middle is there.
    Middle,
    /// Ends there.
    Right,
}

/// How text looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Style {
    pub(crate) face: Face,
    /// Height of a capital letter, px.
    pub cap_px: f64,
    pub(crate) colour: Rgb,
}

impl Style {
    pub(crate) const fn bold(cap_px: f64, colour: Rgb) -> Self {
        Self { face: Face::Bold, cap_px, colour }
    }

    pub(crate) const fn semibold(cap_px: f64, colour: Rgb) -> Self {
        Self { face: Face::Semibold, cap_px, colour }
    }

    /// Distance of two baselines, px.
    pub fn leading_px(&self) -> f64 {
        self.cap_px * LEADING
    }
}

/// A glyph's coverage and where it lies from the pen, px.
struct Bitmap {
    left: i32,
    top: i32,
    width: usize,
    cover: Vec<u8>,
}

type Key = (Face, char, u32, u8);

/// The built-in fonts and the glyphs drawn so far.
pub struct Letters {
    semibold: Font<'static>,
    bold: Font<'static>,
    drawn: Mutex<HashMap<Key, Arc<Bitmap>>>,
}

impl Letters {
    /// Fails only where the built-in fonts are damaged.
    pub fn new() -> Result<Self> {
        let font =
            |bytes| Font::try_from_bytes(bytes).ok_or_else(|| Error::Internal(messages::FONT_DAMAGED.into()));
        Ok(Self { semibold: font(SEMIBOLD)?, bold: font(BOLD)?, drawn: Mutex::default() })
    }

    /// The lowest capital letter of all that was drawn so far, px.
    #[cfg(test)]
    pub fn lowest_drawn_px(&self) -> f64 {
        let drawn = self.drawn.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        drawn.keys().map(|key| f64::from(f32::from_bits(key.2))).fold(f64::INFINITY, f64::min)
    }

    fn font(&self, face: Face) -> &Font<'static> {
        match face {
            Face::Semibold => &self.semibold,
            Face::Bold => &self.bold,
        }
    }

    /// rusttype scales by the height from ascent to descent; we by the capital letter.
    fn scale(&self, style: Style) -> Scale {
        let font = self.font(style.face);
        let v = font.v_metrics_unscaled();
        let per_em = (v.ascent - v.descent) / f32::from(font.units_per_em()).max(1.0);
        Scale::uniform((style.cap_px / CAP_PER_EM) as f32 * per_em)
    }

    /// Whether every character can be drawn; the first that cannot is named. A letter and its accent given as
    /// two characters are set as the one that the font has.
    pub fn check(&self, text: &str) -> Result<()> {
        for character in composed(text).chars() {
            for face in [Face::Semibold, Face::Bold] {
                if self.font(face).glyph(character).id().0 == 0 {
                    return Err(Error::Glyph { character, text: text.to_owned() });
                }
            }
        }
        Ok(())
    }

    /// Each character's pen place, px from the start, and the whole width.
    fn pens(&self, text: &str, style: Style) -> Result<(Vec<(char, f32)>, f32)> {
        self.check(text)?;
        let text = composed(text);
        let (font, scale) = (self.font(style.face), self.scale(style));
        let (mut pen, mut last) = (0.0, None);
        let mut out = Vec::with_capacity(text.len());
        for c in text.chars() {
            let glyph = font.glyph(c).scaled(scale);
            if let Some(last) = last {
                pen += font.pair_kerning(scale, last, glyph.id());
            }
            out.push((c, pen));
            pen += glyph.h_metrics().advance_width;
            last = Some(glyph.id());
        }
        Ok((out, pen))
    }

    /// px.
    pub fn width(&self, text: &str, style: Style) -> Result<f64> {
        Ok(f64::from(self.pens(text, style)?.1))
    }

    fn bitmap(&self, c: char, style: Style, phase: u8) -> Arc<Bitmap> {
        let key = (style.face, c, (style.cap_px as f32).to_bits(), phase);
        let mut drawn = self.drawn.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let make = || {
            let glyph = self
                .font(style.face)
                .glyph(c)
                .scaled(self.scale(style))
                .positioned(point(f32::from(phase) / PHASES, 0.0));
            let Some(b) = glyph.pixel_bounding_box() else {
                return Arc::new(Bitmap { left: 0, top: 0, width: 0, cover: Vec::new() });
            };
            let (width, height) = (b.width().max(0) as usize, b.height().max(0) as usize);
            let mut cover = vec![0; width * height];
            glyph.draw(|x, y, v| {
                if let Some(c) = cover.get_mut(y as usize * width + x as usize) {
                    *c = (v.clamp(0.0, 1.0) * 255.0 + 0.5) as u8;
                }
            });
            Arc::new(Bitmap { left: b.min.x, top: b.min.y, width, cover })
        };
        drawn.entry(key).or_insert_with(make).clone()
    }

    /// One line; `at` is on the baseline.
    pub fn draw(&self, canvas: &mut Canvas, text: &str, at: Point, style: Style, align: Align) -> Result<()> {
        let (pens, width) = self.pens(text, style)?;
        let width = f64::from(width);
        let left = match align {
            Align::Left => at.x,
            Align::Middle => at.x - width / 2.0,
            Align::Right => at.x - width,
        };
        let cap = style.cap_px;
        let bounds = Rect::new(left - cap, at.y - cap * 2.0, width + cap * 2.0, cap * 3.0);
        let mut mask = canvas.mask(bounds);
        let baseline = at.y.round() as i64;
        for (c, pen) in pens {
            let x = left as f32 + pen;
            let phase = ((x - x.floor()) * PHASES) as u8;
            let bitmap = self.bitmap(c, style, phase);
            stamp(&mut mask, &bitmap, x.floor() as i64, baseline);
        }
        canvas.fill(&mask, style.colour, 1.0);
        Ok(())
    }
}

/// NFC (Unicode Standard Annex #15): file systems and keyboards also give the decomposed form.
fn composed(text: &str) -> Cow<'_, str> {
    if text.is_ascii() || is_nfc(text) { Cow::Borrowed(text) } else { Cow::Owned(text.nfc().collect()) }
}

fn stamp(mask: &mut Mask, glyph: &Bitmap, pen_x: i64, baseline: i64) {
    if glyph.width == 0 {
        return;
    }
    let (left, top) =
        (pen_x + i64::from(glyph.left) - mask.x as i64, baseline + i64::from(glyph.top) - mask.y as i64);
    for (row, line) in glyph.cover.chunks_exact(glyph.width).enumerate() {
        let y = top + row as i64;
        if y < 0 || y >= mask.height as i64 {
            continue;
        }
        for (column, &c) in line.iter().enumerate() {
            let x = left + column as i64;
            if (0..mask.width as i64).contains(&x) {
                let at = y as usize * mask.width + x as usize;
                mask.cover[at] = mask.cover[at].max(c);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::theme;
    use super::*;

    const STYLE: Style = Style::semibold(20.0, theme::TEXT);

    #[test]
    fn a_missing_glyph_is_named() {
        let letters = Letters::new().unwrap();
        let error = letters.width("ok 漢", STYLE).unwrap_err();
        assert!(matches!(error, Error::Glyph { character: '漢', .. }));
        assert!(error.to_string().contains("漢") && error.to_string().contains("U+6F22"), "{error}");
        for fine in ["Ünal Čapek, Zoë, Łukasz", "−125 ms", "12 ± 3°", "8×", "…", "Today’s", "“x”"]
        {
            letters.check(fine).unwrap();
        }
    }

    /// Both forms of a name look the same, are as wide, and break and are cut in the same places.
    #[test]
    fn accents_given_apart_are_set_as_one_letter() {
        let letters = Letters::new().unwrap();
        let (apart, whole) = ("Zoe\u{308} C\u{30C}apek A\u{30A}sa", "Zo\u{EB} \u{10C}apek \u{C5}sa");
        let drawn = |text: &str| {
            let mut canvas = Canvas::new(300, 60, theme::GROUND);
            letters.draw(&mut canvas, text, Point::new(10.0, 40.0), STYLE, Align::Left).unwrap();
            canvas.into_frame()
        };
        assert_eq!(drawn(apart), drawn(whole));
        assert_ne!(drawn(whole), drawn("Zoe Capek Asa"));
        assert_eq!(letters.width(apart, STYLE).unwrap(), letters.width(whole, STYLE).unwrap());
        for width in 20..200 {
            let fit = |text| letters.fit(text, STYLE, f64::from(width), 1, 15.0).unwrap();
            assert_eq!(fit(apart), fit(whole));
        }
        // An accent the font has no letter for is named, as any other character.
        let error = letters.check("x\u{32A}").unwrap_err();
        assert!(matches!(error, Error::Glyph { character: '\u{32A}', .. }), "{error}");
    }

    #[test]
    fn a_capital_is_as_tall_as_asked() {
        let letters = Letters::new().unwrap();
        for face in [Face::Semibold, Face::Bold] {
            let mut canvas = Canvas::new(200, 200, theme::GROUND);
            let style = Style { face, cap_px: 60.0, colour: theme::TEXT };
            letters.draw(&mut canvas, "H", Point::new(100.0, 150.0), style, Align::Middle).unwrap();
            let bright = |y: &usize| canvas.frame().y.row(*y).iter().any(|&v| v > 120);
            let rows: Vec<usize> = (0..200).filter(bright).collect();
            assert_eq!(rows.last(), Some(&149));
            assert!((59..=61).contains(&rows.len()), "{}", rows.len());
        }
    }

    #[test]
    fn width_grows_with_size_and_kerning_is_used() {
        let letters = Letters::new().unwrap();
        let small = letters.width("Plant", STYLE).unwrap();
        let big = letters.width("Plant", Style { cap_px: 40.0, ..STYLE }).unwrap();
        assert!((big / small - 2.0).abs() < 0.01);
    }
}
