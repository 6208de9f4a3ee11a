//! One stage for each shot of a plan: what [`super::make`] renders, and what is shown of it beforehand.

use std::sync::Arc;

use super::framing::Source;
use super::{ClipOptions, ClipSide, Ghost, Layout, Plan, Stage};
use crate::messages;
use crate::types::{Pairing, Rect, Result, Warning};

/// The stages of a video that is to be made.
pub struct Stages<'a> {
    /// One for each shot of the plan.
    pub stages: Vec<Stage<'a>>,
    /// The layout of all shots that have none of their own.
    pub layout: Layout,
    /// Width and height of the video, px.
    pub size: (usize, usize),
}

impl<'a> Stages<'a> {
    /// `inside`: of each side, see [`ClipSide::inside`]. What cannot be shown as asked is added to `warnings`.
    pub fn new(
        sides: [&ClipSide<'a>; 2],
        inside: [Rect; 2],
        pairing: &'a Pairing,
        plan: &Plan,
        options: &'a ClipOptions,
        warnings: &mut Vec<Warning>,
    ) -> Result<Self> {
        let readings = sides.map(|side| side.reading);
        let layout = chosen(options.layout.or(plan.layout), pairing, warnings);
        let sources = [0, 1].map(|i| Source { reading: readings[i], inside: inside[i] });
        let size = options.canvas(layout, sources, pairing);
        let ghost = Arc::new(Ghost::new(readings[1], options.cutouts.as_ref(), options.ghost_look));
        let mut stages = Vec::new();
        for (number, shot) in plan.shots.iter().enumerate() {
            let asked = chosen(plan.layout(shot, options.layout), pairing, warnings);
            let labels = sides.map(|side| side.label);
            let stage = Stage::new(asked, size, readings, labels, pairing, options.ghost_strength)?;
            let second = sides.map(|side| side.second.map(|s| s.angle));
            let stage = stage.with_inside(inside).with_mirrored(sides.map(|side| side.mirrored));
            let stage = stage.with_captions(options.captions.as_ref().unwrap_or(messages::english()));
            stages.push(stage.with_second(second).for_shot(plan, number).with_ghost(&ghost));
        }
        Ok(Self { stages, layout, size })
    }
}

const USUAL: Layout = Layout::SideBySide;

/// The layout that is asked for, as far as it can be made.
fn chosen(asked: Option<Layout>, pairing: &Pairing, warnings: &mut Vec<Warning>) -> Layout {
    match (asked, &pairing.registration) {
        (Some(layout), None) if layout.overlaid() => {
            let (why, instead) = (pairing.why_no_registration, USUAL.word().to_owned());
            let warning = Warning::GhostImpossible { why, instead };
            if !warnings.contains(&warning) {
                warnings.push(warning);
            }
            USUAL
        }
        (asked, _) => asked.unwrap_or(USUAL),
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use crate::types::{NotAligned, View};

    #[test]
    fn the_layout_is_the_one_asked_for_else_side_by_side() {
        let (_, _, pairing) = sample::pair();
        let none = &mut Vec::new();
        assert_eq!(chosen(None, &pairing, none), Layout::SideBySide);
        for layout in Layout::ALL {
            assert_eq!(chosen(Some(layout), &pairing, none), layout);
        }
        assert!(none.is_empty());
    }

    #[test]
    fn a_ghost_that_cannot_be_laid_says_why() {
        let (_, _, mut pairing) = sample::pair();
        pairing.registration = None;
        pairing.why_no_registration =
            Some(NotAligned::DifferentViews { today: View::OpenSide, reference: View::FromBehind });
        let mut warnings = Vec::new();
        let layout = chosen(Some(Layout::Ghost), &pairing, &mut warnings);
        assert_eq!(layout, Layout::SideBySide);
        assert_eq!(warnings.len(), 1);
        let text = messages::warning(&warnings[0]);
        assert!(text.contains("filmed from different sides") && text.contains("side-by-side"), "{text}");
    }
}
