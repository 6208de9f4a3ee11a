//! For what screen a clip is made, and whether upright or wide.

use super::framing::{Source, View, arrange};
use super::layout::{Arrangement, Layout};
use crate::media;
use crate::messages::output as messages;
use crate::types::{Error, Registration, Result, words};

words! {
    /// What the made clip is looked at on.
    #[derive(Default)]
    pub enum Screen {
        /// 1080 × 1920 or 1920 × 1080.
        #[default]
        "phone" Phone,
        /// 1248 × 1664 or 1664 × 1248: the 3 : 4 of most tablets filled to its edges, with the most pixels that
        /// H.264 level 4.0 takes at 30 pictures a second, so that a phone plays it too.
        "tablet" Tablet,
    }
}

/// The level that every phone takes.
const LEVEL: f64 = 4.0;
/// An upright clip for a phone is given up for a wide one when pictures would cover less of it than this.
/// Own choice: bodies that fill wide sources from top to bottom leave 0.37, the demo's 0.58.
const LEAST_COVERED: f64 = 0.42;

impl Screen {
    const fn upright(self) -> (usize, usize) {
        match self {
            Self::Phone => (1080, 1920),
            Self::Tablet => (1248, 1664),
        }
    }

    /// Whether a clip of that size and rate still plays on it.
    pub(super) fn check(self, (width, height): (usize, usize), rate_hz: u32) -> Result<()> {
        let level = media::level_needed(width, height, f64::from(rate_hz));
        if level.is_none_or(|l| l > LEVEL) || rate_hz > 30 {
            let reported = messages::beyond_screen((width, height), rate_hz, self.word(), self.upright());
            return Err(Error::Usage(reported));
        }
        Ok(())
    }

    /// Upright or wide, from how the two sources were filmed. A phone is held upright: it gets a wide clip only
    /// where wide sources would leave most of an upright one empty. A tablet stands either way: it gets the one
    /// that shows the bodies larger.
    pub fn canvas(
        self,
        layout: Layout,
        sources: [Source; 2],
        registration: Option<&Registration>,
    ) -> (usize, usize) {
        let upright = self.upright();
        let wide = (upright.1, upright.0);
        let look = |size| arrange(layout, size, sources, registration);
        let (tall, broad) = (look(upright), look(wide));
        let body = |made: &(Arrangement, [View; 2])| made.1[0].body_height_px;
        let larger = body(&broad) > body(&tall);
        let filmed_wide = sources.iter().all(|s| s.inside.width > s.inside.height);
        let empty = covered(&tall.0) < LEAST_COVERED;
        let turned = match self {
            Self::Phone => larger && filmed_wide && empty,
            Self::Tablet => larger,
        };
        if turned { wide } else { upright }
    }
}

/// Share of a canvas that pictures cover.
fn covered(place: &Arrangement) -> f64 {
    let pictures: f64 = place.panels.iter().map(|p| p.width * p.height).sum();
    pictures / (place.width * place.height).max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use crate::types::{Point, Reading};

    #[test]
    fn a_phone_is_held_upright_unless_the_sources_leave_it_empty() {
        let (today, reference, pairing) = sample::pair();
        let canvas = |a: &Reading, b: &Reading| {
            Screen::Phone.canvas(Layout::SideBySide, [a, b].map(Source::whole), pairing.registration.as_ref())
        };
        assert_eq!(canvas(&today, &reference), (1080, 1920));
        // Both wide, with the bodies from edge to edge: nothing above and below them to show.
        let close = |mut hit: sample::Hit| {
            (hit.size, hit.body_px, hit.feet) = ((1920, 1080), 960.0, Point::new(900.0, 1050.0));
            hit.reading(Default::default())
        };
        let (a, b) = (close(sample::today()), close(sample::reference()));
        assert_eq!(canvas(&a, &b), (1920, 1080));
        assert_eq!(canvas(&a, &today), (1080, 1920), "one of them was filmed upright");
    }

    #[test]
    fn every_screens_own_size_is_level_4() {
        for screen in Screen::ALL {
            let (w, h) = screen.upright();
            assert_eq!(media::level_needed(w, h, 30.0), Some(4.0));
            screen.check((w, h), 30).unwrap();
            screen.check((h, w), 30).unwrap();
            assert!(screen.check((w, h), 60).is_err() && screen.check((2160, 3840), 30).is_err());
            assert_eq!(Screen::from_word(screen.word()), Some(screen));
        }
    }
}
