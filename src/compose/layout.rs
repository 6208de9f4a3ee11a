//! Where things stand on the canvas.

use serde::{Deserialize, Serialize};

use crate::draw::theme::Sizes;
use crate::types::Rect;

/// How the two pictures are put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Layout {
    SideBySide,
    OverUnder,
    /// The reference's body laid over today's.
    Ghost,
    /// One of the two swings only.
    TodayAlone,
    ReferenceAlone,
}

impl Layout {
    pub const ALL: [Self; 5] =
        [Self::SideBySide, Self::OverUnder, Self::Ghost, Self::TodayAlone, Self::ReferenceAlone];

    /// The word used on the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::SideBySide => "side-by-side",
            Self::OverUnder => "over-under",
            Self::Ghost => "ghost",
            Self::TodayAlone => "today-alone",
            Self::ReferenceAlone => "reference-alone",
        }
    }

    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|l| l.word() == word)
    }

    /// The one side that is shown (0 = today, 1 = the reference), where only one is.
    pub const fn alone(self) -> Option<usize> {
        match self {
            Self::TodayAlone => Some(0),
            Self::ReferenceAlone => Some(1),
            Self::SideBySide | Self::OverUnder | Self::Ghost => None,
        }
    }

    /// How much room beyond the body's own points the bat gets at the sides, body heights. Where the
    /// picture is narrow the body comes first.
    pub(super) const fn bat_reach(self) -> f64 {
        match self {
            Self::SideBySide => 0.08,
            Self::OverUnder | Self::TodayAlone | Self::ReferenceAlone => 0.42,
            Self::Ghost => 0.24,
        }
    }
}

/// Places on one canvas, px. Panels begin and end on even pixels.
#[derive(Debug, Clone, PartialEq)]
pub struct Arrangement {
    pub width: usize,
    pub height: usize,
    pub sizes: Sizes,
    /// Pictures: today then reference, or the one of a ghost.
    pub panels: Vec<Rect>,
    /// A line of words above each panel.
    pub headers: Vec<Rect>,
    /// The strip of time.
    pub strip: Rect,
    /// Words under it.
    pub caption: Rect,
}

const HEADER: f64 = 88.0;
const STRIP: f64 = 190.0;
const CAPTION: f64 = 370.0;
const GUTTER: f64 = 20.0;
/// Share of a wide canvas that the pictures take.
const WIDE_SHARE: f64 = 0.75;
/// The words beside the pictures of a wide canvas have this much more height than under them.
const WIDE_CAPTION: f64 = 200.0;

impl Arrangement {
    /// `panel_height` is the most a panel may take, px: a shorter one when the sources do not reach
    /// farther. What is left over is shared above and below.
    pub fn new(layout: Layout, width: usize, height: usize, panel_height: Option<f64>) -> Self {
        let sizes = Sizes::new(width, height);
        let u = sizes.unit;
        let (w, h) = (width as f64, height as f64);
        let wide = width > height;
        let gutter = even(GUTTER * u);
        let header = even(HEADER * u);
        let stage_width = if wide { even(w * WIDE_SHARE) } else { w };
        let words_height = if wide { 0.0 } else { (STRIP + CAPTION) * u };
        let rows = if layout == Layout::OverUnder { 2.0 } else { 1.0 };
        let columns = if layout == Layout::SideBySide { 2.0 } else { 1.0 };

        let room = (h - words_height - 2.0 * gutter - rows * (header + gutter)).max(40.0) / rows;
        let tall = even(panel_height.unwrap_or(room).clamp(room.min(h * 0.2), room));
        let broad = even((stage_width - gutter * (columns + 1.0)) / columns);
        let used = rows * (header + tall + gutter) + words_height;
        let top = even(((h - used) / 2.0).max(0.0));

        let (mut panels, mut headers) = (Vec::new(), Vec::new());
        for row in 0..rows as usize {
            for column in 0..columns as usize {
                let x = gutter + column as f64 * (broad + gutter);
                let y = top + row as f64 * (header + tall + gutter);
                headers.push(Rect::new(x, y, broad, header));
                panels.push(Rect::new(x, y + header, broad, tall));
            }
        }
        let words_x = if wide { stage_width + sizes.margin - gutter } else { sizes.margin };
        let words_width = w - words_x - sizes.margin;
        let caption = if wide { CAPTION + WIDE_CAPTION } else { CAPTION };
        let words_y =
            if wide { (h - (STRIP + caption) * u) / 2.0 } else { top + rows * (header + tall + gutter) };
        Self {
            width,
            height,
            sizes,
            panels,
            headers,
            strip: Rect::new(words_x, words_y, words_width, STRIP * u),
            caption: Rect::new(words_x, words_y + STRIP * u, words_width, caption * u),
        }
    }
}

impl Arrangement {
    /// Two angles of each rep: a column for each, the second angle under the first.
    pub fn four(width: usize, height: usize) -> Self {
        let mut all = Self::new(Layout::SideBySide, width, height, None);
        let gutter = even(GUTTER * all.sizes.unit);
        let mut under = Vec::new();
        for panel in &mut all.panels {
            let tall = even((panel.height - gutter) / 2.0);
            panel.height = tall;
            under.push(Rect::new(panel.x, panel.y + tall + gutter, panel.width, tall));
        }
        all.panels.extend(under);
        all
    }
}

fn even(v: f64) -> f64 {
    (v / 2.0).floor() * 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_fits_apart_and_panels_are_even() {
        for layout in Layout::ALL {
            for (w, h) in [
                (1080, 1920),
                (1080, 1350),
                (1920, 1080),
                (540, 960),
                (720, 1280),
                (1080, 1080),
                (256, 256),
                (256, 614),
                (614, 256),
            ] {
                for wanted in [None, Some(500.0), Some(5000.0)] {
                    let a = Arrangement::new(layout, w, h, wanted);
                    assert_eq!(
                        a.panels.len(),
                        if layout == Layout::Ghost || layout.alone().is_some() { 1 } else { 2 }
                    );
                    let mut all = a.panels.clone();
                    all.extend(&a.headers);
                    all.extend([a.strip, a.caption]);
                    for r in &all {
                        assert!(r.x >= 0.0 && r.y >= 0.0, "{layout:?} {w}x{h} {r:?}");
                        assert!(
                            r.right() <= w as f64 + 0.01 && r.bottom() <= h as f64 + 0.01,
                            "{layout:?} {w}x{h} {r:?}"
                        );
                        assert!(r.width > 15.0 && r.height > 15.0, "{layout:?} {w}x{h} {r:?}");
                    }
                    for (i, a) in all.iter().enumerate() {
                        for b in &all[i + 1..] {
                            let apart = a.right() <= b.x + 0.01
                                || b.right() <= a.x + 0.01
                                || a.bottom() <= b.y + 0.01
                                || b.bottom() <= a.y + 0.01;
                            assert!(apart, "{layout:?} {w}x{h} {a:?} {b:?}");
                        }
                    }
                    for p in &a.panels {
                        for v in [p.x, p.y, p.width, p.height] {
                            assert_eq!(v % 2.0, 0.0, "{layout:?} {w}x{h} {p:?}");
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn words_are_found_again() {
        for layout in Layout::ALL {
            assert_eq!(Layout::from_word(layout.word()), Some(layout));
        }
    }
}
