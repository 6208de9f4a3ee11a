//! Chosen pictures of a clip, without the work that the others would be.

use std::collections::VecDeque;

use super::clip::Clip;
use super::frames::Frames;
use crate::types::{Result, TimedFrame, Warning};

/// The pictures that were asked for, in order. The others are decoded only where one that was asked for needs them, and
/// never made ready.
pub struct Picked {
    frames: Frames,
    wanted: VecDeque<usize>,
}

impl Picked {
    pub(super) fn open(clip: &Clip, wanted: &[usize], fit: Option<(usize, usize)>) -> Result<Self> {
        let from = wanted.first().copied().unwrap_or(clip.facts().frames);
        Ok(Self { frames: clip.frames(from, fit)?.quick(), wanted: wanted.iter().copied().collect() })
    }

    /// The next one, or `None` after the last. Those that do not decode are left out and counted in
    /// [`Picked::warnings`].
    pub fn next_frame(&mut self) -> Result<Option<TimedFrame>> {
        let Some(mut index) = self.wanted.pop_front() else { return Ok(None) };
        while let Some(picture) = self.frames.frame_from(index)? {
            if picture.index > index {
                // It does not decode, and perhaps some after it.
                self.wanted.retain(|w| *w >= picture.index);
                let Some(next) = self.wanted.pop_front() else { return Ok(None) };
                index = next;
            }
            if picture.index == index {
                return Ok(Some(picture));
            }
        }
        Ok(None)
    }

    /// What was wrong with the pictures so far.
    pub fn warnings(&self) -> Vec<Warning> {
        self.frames.warnings()
    }
}

#[cfg(test)]
mod tests {
    use super::super::OpenOptions;
    use super::*;
    use crate::demo::{self, Hitter, Scenario};
    use crate::types::{Cancel, NoProgress, Side};

    #[test]
    fn chosen_pictures_are_those_that_reading_all_gives() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("rep.mp4");
        let mut scenario = Scenario::new("rep", Hitter::new("Invented", Side::Right, 175.0, 84.0));
        (scenario.camera.width, scenario.camera.height, scenario.duration_s) = (320, 180, 1.5);
        demo::film(&scenario, &path, &NoProgress, &Cancel::default()).unwrap();
        let clip = Clip::open(&path, &OpenOptions::default()).unwrap();
        let mut all = Vec::new();
        let mut frames = clip.frames(0, Some((160, 160))).unwrap();
        while let Some(picture) = frames.next_frame().unwrap() {
            all.push(picture);
        }
        assert!(all.len() > 40);
        for wanted in
            [vec![], vec![0], vec![7, 8, 30], (3..all.len()).step_by(5).collect(), vec![all.len() - 1]]
        {
            let mut picked = Picked::open(&clip, &wanted, Some((160, 160))).unwrap();
            for index in &wanted {
                let picture = picked.next_frame().unwrap().unwrap();
                assert!(picture.index == *index && picture.frame == all[*index].frame, "{wanted:?}: {index}");
            }
            assert!(picked.next_frame().unwrap().is_none() && picked.warnings().is_empty());
        }
    }
}
