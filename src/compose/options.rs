//! How a clip is made, and whether it can be made so.

use super::SOUND_HZ;
use super::framing::Source;
use super::ghost::GhostStyle;
use super::layout::Layout;
use super::plan::Plan;
use super::screen::Screen;
use crate::media;
use crate::messages;
use crate::types::{Cutouts, Error, Pairing, Result, Sound};

/// How the clip is made.
#[derive(Debug, Clone, PartialEq)]
pub struct ClipOptions {
    /// Default: side by side, where an upright canvas shows the bodies largest; over-under shows arms and
    /// bat whole at extension. A ghost that cannot be registered falls back to the default, with a warning.
    pub layout: Option<Layout>,
    /// How many times slower than life the slow shot runs. Default: see [`usual_slow`].
    pub slow: Option<f64>,
    /// What it is looked at on; a `size` that this screen may not play is refused. Default: a phone, any size.
    pub screen: Option<Screen>,
    /// Width and height, even, px. Default: the screen's, upright or wide by [`Screen::canvas`].
    pub size: Option<(usize, usize)>,
    /// The file may not be larger, bytes; it is coded more coarsely where needed. Default: no limit.
    pub max_bytes: Option<u64>,
    /// A spoken note laid over the clip from its beginning, at [`SOUND_HZ`]; under a longer one the slow part is
    /// shown again before the card, and the last picture is held until it ends. Default none.
    pub voice: Option<Sound>,
    /// Pictures a second. Default 30.
    pub rate_hz: u32,
    /// x264's constant rate factor, 0 (lossless) … 51. Default 20.
    pub crf: u8,
    /// Encoder preset. Default fast.
    pub preset: media::Preset,
    /// How strongly a ghost covers today's picture, 0…1. Default 0.5.
    pub ghost_strength: f64,
    /// Default [`GhostStyle::Tinted`].
    pub ghost_look: GhostStyle,
    /// The reference's body cut out of its pictures. Default: none, a ghost is cut out roughly along the pose.
    pub cutouts: Option<Cutouts>,
    /// The words that are drawn. Default: English.
    pub captions: Option<messages::Captions>,
    /// What is shown, in order. Default [`super::Ready::Teach`].
    pub plan: Option<Plan>,
}

impl Default for ClipOptions {
    fn default() -> Self {
        Self {
            layout: None,
            slow: None,
            screen: None,
            size: None,
            max_bytes: None,
            voice: None,
            rate_hz: 30,
            crf: 20,
            preset: media::Preset::Fast,
            ghost_strength: 0.5,
            ghost_look: GhostStyle::default(),
            cutouts: None,
            captions: None,
            plan: None,
        }
    }
}

impl ClipOptions {
    /// Whether a clip can be made so, asked before long work is begun; [`super::make`] asks it too.
    pub fn check(&self) -> Result<()> {
        if let Some((width, height)) = self.size {
            check_size(width, height)?;
            if let Some(screen) = self.screen {
                screen.check((width, height), self.rate_hz)?;
            }
        }
        if let Some(note) = self.voice.as_ref().filter(|v| v.rate_hz != SOUND_HZ) {
            return Err(Error::Internal(messages::output::note_rate(note.rate_hz, SOUND_HZ)));
        }
        let slow = self.slow.unwrap_or(usual_slow());
        if !(0.25..=100.0).contains(&slow) {
            return Err(Error::Usage(messages::output::slow_out_of_range(slow)));
        }
        if !(1..=120).contains(&self.rate_hz) {
            return Err(Error::Usage(messages::output::rate_out_of_range(self.rate_hz)));
        }
        if let Some(captions) = &self.captions {
            check_captions(captions)?;
        }
        if let Some(plan) = &self.plan {
            plan.check().map_err(|e| Error::Usage(messages::output::plan_unusable(&e)))?;
            plan.check_letters()?;
        }
        Ok(())
    }

    /// Whether a ghost is asked for in any shot.
    pub fn shows_ghost(&self) -> bool {
        let shots = self.plan.iter().flat_map(|plan| plan.shots.iter().map(|s| plan.layout(s, self.layout)));
        shots.chain([self.layout]).flatten().any(Layout::overlaid)
    }

    pub(super) fn canvas(&self, layout: Layout, sources: [Source; 2], pairing: &Pairing) -> (usize, usize) {
        let screen = self.screen.unwrap_or_default();
        self.size.unwrap_or_else(|| screen.canvas(layout, sources, pairing.registration.as_ref()))
    }
}

/// Smallest and largest canvas side, px. Below, the smallest letters would be under 8 px high.
const SIZES: std::ops::RangeInclusive<usize> = 256..=4320;
/// The longer side is at most this many times the shorter: beyond, words and pictures have no room.
const LONGEST_SHAPE: f64 = 2.4;

/// Whether the built-in font can draw every word.
pub fn check_captions(captions: &messages::Captions) -> Result<()> {
    let letters = crate::draw::Letters::new()?;
    captions.texts().try_for_each(|text| letters.check(text))
}

fn check_size(width: usize, height: usize) -> Result<()> {
    if [width, height].iter().any(|v| v % 2 == 1 || !SIZES.contains(v)) {
        return Err(Error::Usage(messages::output::size_out_of_range(width, height, &SIZES)));
    }
    if width.max(height) as f64 > LONGEST_SHAPE * width.min(height) as f64 {
        return Err(Error::Usage(messages::output::size_too_narrow(width, height, LONGEST_SHAPE)));
    }
    Ok(())
}

/// 8: at 30 output pictures a second each picture of a 240 Hz clip is shown once, of a 120 Hz clip
/// twice, of 60 and 30 Hz 4 and 8 times, so no clip wavers; nothing is shown that was not filmed.
pub const fn usual_slow() -> f64 {
    8.0
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::super::stage::Stage;
    use super::*;

    #[test]
    fn sizes_too_small_or_narrow_are_refused_and_the_smallest_is_readable() {
        for (w, h) in [(254, 480), (255, 480), (480, 4322), (256, 640), (1920, 720)] {
            assert!(check_size(w, h).unwrap_err().to_string().contains(&format!("{w}x{h}")));
        }
        for (w, h) in [(256, 256), (256, 614), (614, 256), (1080, 1920), (1080, 2400)] {
            check_size(w, h).unwrap();
            assert!(crate::draw::theme::Sizes::new(w, h).small >= 8.0);
            let (today, reference, pairing) = sample::pair();
            for layout in Layout::ALL {
                let stage =
                    Stage::new(layout, (w, h), [&today, &reference], ["A", "B"], &pairing, 0.5).unwrap();
                let card = stage.card().unwrap();
                assert_eq!((card.width(), card.height()), (w, h));
            }
        }
    }
}
