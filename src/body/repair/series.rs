use crate::ground::{Part, Point, Seen, Spot, Track};

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

    /// Where the part would be at `time_s` if it moved evenly between its nearest samples at least one
    /// sample away from place `but`; `None` outside them or when they are more than `longest_s` apart.
    pub fn without(&self, but: usize, time_s: f64, longest_s: f64) -> Option<Point> {
        let k = self.samples.partition_point(|s| s.0 < but);
        let before = self.samples.get(k.checked_sub(1)?)?;
        let after = self.samples.get(k + usize::from(self.samples.get(k).is_some_and(|s| s.0 == but)))?;
        let length_s = after.1 - before.1;
        (length_s > 0.0 && length_s <= longest_s)
            .then(|| before.2.lerp(after.2, (time_s - before.1) / length_s))
    }
}

pub fn median(values: &mut [f64]) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied()
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
