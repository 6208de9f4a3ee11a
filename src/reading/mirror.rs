//! A read clip with left and right exchanged: a left-handed rep beside a right-handed one.

use super::read::ReadClip;
use crate::ground::{PitcherSide, Point, Reading, Side, Similarity};

impl ReadClip {
    /// Pictures, points and sides; what was measured and when stays as it is.
    pub fn mirrored(&self) -> Self {
        Self { clip: self.clip.mirrored(), reading: mirrored(&self.reading) }
    }
}

fn mirrored(reading: &Reading) -> Reading {
    let width = reading.clip.width as f64;
    let turn = Similarity { a: 1.0, b: 0.0, tx: width, ty: 0.0, mirrored: true };
    let mut out = reading.clone();
    out.hitter.bats = match reading.hitter.bats {
        Side::Left => Side::Right,
        Side::Right => Side::Left,
    };
    out.hitter.pitcher_side = match reading.hitter.pitcher_side {
        PitcherSide::Left => PitcherSide::Right,
        PitcherSide::Right => PitcherSide::Left,
        along => along,
    };
    for (pose, before) in out.track.poses.iter_mut().zip(&reading.track.poses) {
        for part in crate::ground::PARTS {
            let spot = before.spot(part.other_side());
            pose.set(
                part,
                spot.map(|mut spot| {
                    spot.at = Point::new(width - spot.at.x, spot.at.y);
                    spot
                }),
            );
        }
    }
    for map in &mut out.camera.to_steady {
        *map = turn.after(&map.after(&turn));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{ClipFacts, Hitter, Part, Pose, Scale, Seen, Spot, View};

    fn reading(width: usize) -> Reading {
        Reading {
            schema: Reading::SCHEMA.to_owned(),
            clip: ClipFacts {
                path: "rep.mp4".into(),
                width,
                height: 360,
                frames: 2,
                duration_s: 1.0,
                rate_hz: 2.0,
                capture_rate_hz: 2.0,
                slow_factor: 1.0,
            },
            hitter: Hitter { bats: Side::Left, pitcher_side: PitcherSide::Left, view: View::OpenSide },
            scale: Scale {
                body_height_px: 180.0,
                body_height_error: 0.05,
                px_per_cm: None,
                px_per_cm_error: 0.05,
            },
            events: Default::default(),
            measures: Default::default(),
            absent: Default::default(),
            warnings: Vec::new(),
            track: Default::default(),
            camera: Default::default(),
        }
    }

    #[test]
    fn points_sides_and_the_camera_are_exchanged_and_twice_is_not_at_all() {
        let spot = |x, y| Some(Spot { at: Point::new(x, y), visibility: 1.0, seen: Seen::Picture });
        let mut pose = Pose::empty(0, 0.0);
        pose.set(Part::LeftWrist, spot(100.0, 50.0));
        pose.set(Part::Nose, spot(300.0, 20.0));
        let mut reading = reading(640);
        reading.track.poses = vec![pose];
        let map = Similarity { a: 0.9, b: 0.1, tx: 12.0, ty: -3.0, mirrored: false };
        reading.camera.to_steady = vec![map];
        let other = mirrored(&reading);
        let pose = &other.track.poses[0];
        assert_eq!(pose.at(Part::RightWrist), Some(Point::new(540.0, 50.0)));
        assert_eq!((pose.at(Part::LeftWrist), pose.at(Part::Nose)), (None, Some(Point::new(340.0, 20.0))));
        assert_ne!(other.hitter.bats, reading.hitter.bats);
        // A point and its mirror image are steadied to mirror images.
        let (p, q) =
            (map.apply(Point::new(100.0, 50.0)), other.camera.to_steady[0].apply(Point::new(540.0, 50.0)));
        assert!((p.x + q.x - 640.0).abs() < 1e-9 && (p.y - q.y).abs() < 1e-9, "{p:?} {q:?}");
        let back = mirrored(&other);
        assert_eq!(back.track, reading.track);
        assert_eq!(back.hitter, reading.hitter);
    }
}
