//! Where things stand on the canvas.

use crate::draw::theme::Sizes;
use crate::types::{Rect, words};

words! {
    /// How the two pictures are put together.
    pub enum Layout {
        /// A column for each; the body comes before arms and bat.
        "side-by-side" SideBySide,
        /// A row for each, wide enough for arms and bat.
        "over-under" OverUnder,
        /// The reference's body laid over today's.
        "ghost" Ghost,
        /// Today's swing only.
        "today-alone" TodayAlone,
        /// The reference only.
        "reference-alone" ReferenceAlone,
    }
}

impl Layout {
    /// The one side that is shown (0 = today, 1 = the reference), where only one is.
    pub const fn alone(self) -> Option<usize> {
        match self {
            Self::TodayAlone => Some(0),
            Self::ReferenceAlone => Some(1),
            Self::SideBySide | Self::OverUnder | Self::Ghost => None,
        }
    }

    /// Whether one body lies over the other, in one panel: this needs to know how the two belong together.
    pub const fn overlaid(self) -> bool {
        match self {
            Self::Ghost => true,
            Self::SideBySide | Self::OverUnder | Self::TodayAlone | Self::ReferenceAlone => false,
        }
    }

    /// Rows and columns of panels.
    pub(super) const fn grid(self) -> (usize, usize) {
        match self {
            Self::SideBySide => (1, 2),
            Self::OverUnder => (2, 1),
            Self::Ghost | Self::TodayAlone | Self::ReferenceAlone => (1, 1),
        }
    }

    /// Whether the second angle of a rep has room under its first.
    pub(super) const fn has_room_below(self) -> bool {
        match self {
            Self::SideBySide => true,
            Self::OverUnder | Self::Ghost | Self::TodayAlone | Self::ReferenceAlone => false,
        }
    }

    /// How much wider than high the pictures are at most: beyond, they would only show more ground.
    const fn widest_shape(self) -> f64 {
        match self {
            Self::OverUnder => 1.0,
            Self::Ghost | Self::TodayAlone | Self::ReferenceAlone => 1.3,
            Self::SideBySide => f64::INFINITY,
        }
    }

    /// Size of the upright canvas, even px, whose pictures fit about `width` × `height` px: as upright as it must be
    /// for the words to stand below them. No side is longer than 2.4 times the other, and none is wider than 1920.
    pub fn canvas_around(self, width: usize, height: usize) -> (usize, usize) {
        let height = height.clamp(200, WIDEST) as f64;
        let words = (STRIP + CAPTION + HEADER + GUTTER) / Sizes::UNIT_PX;
        let widest = (height / (1.0 - words)).min(self.widest_shape() * height);
        let width = (width.clamp(256, WIDEST) as f64).min(widest);
        let all = (height + words * width).clamp(width, LONGEST_SHAPE * width);
        let size = |v: f64| (even(v) as usize).max(256);
        (size(width), size(all))
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
    pub(crate) width: usize,
    /// Of the canvas, px, even.
    pub height: usize,
    pub(crate) sizes: Sizes,
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
/// The longer side of a canvas around a page's pictures is at most so many times the shorter.
const LONGEST_SHAPE: f64 = 2.4;
/// Such a canvas is as wide at most, px.
const WIDEST: usize = 1920;
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
        let grid = layout.grid();
        let (rows, columns) = (grid.0 as f64, grid.1 as f64);

        let room = (h - words_height - 2.0 * gutter - rows * (header + gutter)).max(40.0) / rows;
        let tall = even(panel_height.unwrap_or(room).clamp(room.min(h * 0.2), room));
        let broad = even((stage_width - gutter * (columns + 1.0)) / columns);
        let used = rows * (header + tall + gutter) + words_height;
        let top = even(((h - used) / 2.0).max(0.0));

        let (mut panels, mut headers) = (Vec::new(), Vec::new());
        for row in 0..grid.0 {
            for column in 0..grid.1 {
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
                        if layout.overlaid() || layout.alone().is_some() { 1 } else { 2 }
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
    fn a_pages_canvas_is_upright_and_no_longer_than_is_taken() {
        for layout in Layout::ALL {
            for (width, height) in [(840, 560), (1600, 400), (300, 900), (10_000, 10_000), (1, 1)] {
                let (w, h) = layout.canvas_around(width, height);
                let shape = h as f64 / w as f64;
                assert!((0.99..=LONGEST_SHAPE + 0.01).contains(&shape), "{width}×{height}: {w}×{h}");
                assert!(w % 2 == 0 && h % 2 == 0 && (256..=WIDEST).contains(&w));
            }
        }
        assert_eq!(Layout::SideBySide.canvas_around(840, 560), (840, 1078));
    }

    #[test]
    fn words_are_found_again() {
        for layout in Layout::ALL {
            assert_eq!(Layout::from_word(layout.word()), Some(layout));
        }
    }
}
