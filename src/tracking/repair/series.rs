use crate::types::{Part, Point, Seen, Spot, Track};

/// One part's places in time order, only where it is known.
pub struct Series {
    /// (place in the track, real s, px).
    pub samples: Vec<(usize, f64, Point)>,
}

impl Series {
    pub fn of(track: &Track, part: Part) -> Self {
        let samples =
            track.poses.iter().enumerate().filter_map(|(i, p)| Some((i, p.time_s, p.at(part)?))).collect();
        Self { samples }
    }
}

/// Sets an inferred spot.
pub fn infer(track: &mut Track, pose: usize, part: Part, at: Point, visibility: f32) {
    if let Some(p) = track.poses.get_mut(pose) {
        p.set(part, Some(Spot { at, visibility, seen: Seen::Inferred }));
    }
}

pub fn clear(track: &mut Track, pose: usize, part: Part) {
    if let Some(p) = track.poses.get_mut(pose) {
        p.set(part, None);
    }
}
