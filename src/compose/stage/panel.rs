//! One source picture on its panel: where it lies, and what is drawn on the body.

use super::{Prepared, Stage};
use crate::compose::ghost::GhostStyle;
use crate::compose::lines::Scene;
use crate::compose::marks::PanelTransform;
use crate::compose::page::LOOKS;
use crate::draw::{Canvas, theme, warp};
use crate::types::{EventId, Point, Pose, Result, Similarity, TimedFrame};

impl Stage<'_> {
    /// Lay `side`'s source picture (0 = today, 1 = reference), cut by [`Stage::cut`], into its panel.
    pub fn prepare(&self, side: usize, source: TimedFrame, real_s: f64) -> Prepared {
        let view = &self.views[self.side(side)];
        let size = self.panel_size(side);
        let panel_transform = self.panel_transform(side, real_s);
        if self.layout.overlaid() && side == 1 {
            let body = self.ghost.shape(self.readings[1], real_s, &panel_transform, size);
            let mask = body.as_ref().map(|b| &b.mask).filter(|_| self.ghost.look == GhostStyle::Tinted);
            let (corner, (w, h)) = mask.map_or(((0, 0), (2, 2)), |m| ((m.x, m.y), (m.width, m.height)));
            let in_bounds = Point::new(-(corner.0 as f64), -(corner.1 as f64));
            let on = panel_transform.from_picture.scaled_shifted(1.0, in_bounds);
            let picture = warp(&source.frame, &on, w, h, theme::RAISED);
            return Prepared { index: source.index, pts_s: source.pts_s, real_s, picture, body };
        }
        let picture = match view.cut.filter(|_| self.cut(side).is_some()) {
            Some((cut, _)) if cut.size == size => source.frame,
            Some((_, (x, y))) => {
                let mut panel = Canvas::new(size.0, size.1, theme::RAISED);
                panel.place(&source.frame, x, y);
                panel.into_frame()
            }
            // A ghost's two pictures lie on one stance: both are held still where the camera was not.
            None => warp(&source.frame, &panel_transform.from_picture, size.0, size.1, theme::RAISED),
        };
        Prepared { index: source.index, pts_s: source.pts_s, real_s, picture, body: None }
    }

    pub(super) fn moved(&self, side: usize) -> bool {
        !self.readings[self.side(side)].camera.stood_still()
    }

    /// How `side`'s picture at a real time lies on its panel.
    pub(super) fn panel_transform(&self, side: usize, real_s: f64) -> PanelTransform {
        let (reading, view) = (self.readings[self.side(side)], &self.views[self.side(side)]);
        let corner = Point::new(-view.panel.x, -view.panel.y);
        let panel = view.canvas_from_source.scaled_shifted(1.0, corner);
        let body_height_px = view.body_height_px;
        if !self.moved(side) {
            return PanelTransform { from_picture: panel, from_steady: Some(panel), body_height_px };
        }
        let now = self.pose(side, real_s).map(|(i, _)| reading.camera.to_steady(i));
        if !self.layout.overlaid() {
            let from_steady = now.map(|now| panel.after(&now.inverse()));
            return PanelTransform { from_picture: panel, from_steady, body_height_px };
        }
        // The registration is from the pictures at stance.
        let from_steady = panel.after(&self.stance_from_steady(side));
        let from_picture = now.map_or(panel, |now| from_steady.after(&now));
        PanelTransform { from_picture, from_steady: Some(from_steady), body_height_px }
    }

    /// From steady px to those of the picture at stance, or else at the earliest event.
    fn stance_from_steady(&self, side: usize) -> Similarity {
        let reading = self.readings[self.side(side)];
        let earliest = || reading.events.values().min_by(|a, b| a.time_s.total_cmp(&b.time_s));
        let event = reading.events.get(&EventId::Stance).or_else(earliest);
        let index = reading.track.nearest_index(event.map_or(0.0, |e| e.time_s));
        index.map_or(Similarity::IDENTITY, |i| reading.camera.to_steady(i).inverse())
    }

    /// The pose at a real time and its place in the track, unless the nearest is farther off than two
    /// pictures.
    pub(super) fn pose(&self, side: usize, real_s: f64) -> Option<(usize, &Pose)> {
        let reading = self.readings[self.side(side)];
        let near_s = 2.0 / reading.clip.capture_rate_hz.max(1.0);
        let i = reading.track.nearest_index(real_s)?;
        let pose = reading.track.poses.get(i)?;
        ((pose.time_s - real_s).abs() <= near_s).then_some((i, pose))
    }

    pub(super) fn marked(&self, canvas: &mut Canvas, side: usize, at: &Prepared) -> Result<()> {
        let pose = self.pose(side, at.real_s).map(|(_, pose)| pose);
        let panel_transform = self.panel_transform(side, at.real_s);
        let (reading, look, sizes) = (self.readings[side], LOOKS[side % 2], &self.place.sizes);
        if let Some(pose) = pose {
            let scene = Scene { reading, pose, panel_transform: &panel_transform, look, sizes };
            scene.draw(canvas, &self.letters, self.captions, &self.draw)?;
        }
        self.marks[side].draw(canvas, &panel_transform, pose, look, sizes, &self.draw);
        Ok(())
    }
}
