//! A reading as the mirror image of its film would give it: a left-handed swing beside a right-handed one.

use crate::types::{Cutouts, PARTS, PitcherSide, Point, Pose, Reading, Side, Similarity};

/// From px of a picture to those of its mirror image; `width` in px.
fn flip(width: usize) -> Similarity {
    Similarity { tx: width as f64, mirrored: true, ..Similarity::IDENTITY }
}

/// Points, sides and the camera's motion mirrored; times and measures stay: they are told by front and back, not by
/// left and right.
pub fn mirrored(reading: &Reading) -> Reading {
    let flip = flip(reading.clip.width);
    let mut out = reading.clone();
    let pose = |pose: &Pose| {
        let mut other = Pose::empty(pose.frame, pose.time_s);
        for part in PARTS {
            let spot = pose.spot(part).map(|mut spot| {
                spot.at = flip.apply(spot.at);
                spot
            });
            other.set(part.other_side(), spot);
        }
        other
    };
    out.track.poses = reading.track.poses.iter().map(pose).collect();
    let steady = |map: &Similarity| flip.after(map).after(&flip);
    out.camera.to_steady = reading.camera.to_steady.iter().map(steady).collect();
    out.hitter.bats = match reading.hitter.bats {
        Side::Left => Side::Right,
        Side::Right => Side::Left,
    };
    out.hitter.pitcher_side = match reading.hitter.pitcher_side {
        PitcherSide::Left => PitcherSide::Right,
        PitcherSide::Right => PitcherSide::Left,
        along => along,
    };
    out
}

/// What was cut out of a film's pictures of `width` px, in its mirror image.
pub fn mirrored_cutouts(cutouts: &Cutouts, width: usize) -> Cutouts {
    let flip = flip(width);
    let mut out = cutouts.clone();
    for look in &mut out.looks {
        look.picture_from_grid = flip.after(&look.picture_from_grid);
        if let Some(bat) = &mut look.bat {
            let at = |p: Point| flip.apply(p);
            (bat.hands, bat.tip) = (at(bat.hands), at(bat.tip));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::{pair, sample};
    use super::*;
    use crate::types::{Part, Seen, Spot, SyncOn};

    /// A reading with a few points that a body has at stance.
    fn stood() -> Reading {
        let mut reading = sample::reading(Default::default());
        let mut pose = Pose::empty(0, 1.0);
        let places = [
            (Part::Nose, 640.0, 200.0),
            (Part::LeftShoulder, 700.0, 280.0),
            (Part::RightShoulder, 620.0, 290.0),
            (Part::LeftHip, 680.0, 400.0),
            (Part::RightHip, 630.0, 405.0),
            (Part::LeftAnkle, 760.0, 600.0),
            (Part::RightAnkle, 560.0, 610.0),
        ];
        for (part, x, y) in places {
            let spot = Spot { at: Point::new(x, y), visibility: 0.9, seen: Seen::Picture };
            pose.set(part, Some(spot));
        }
        reading.track.poses = vec![pose];
        reading
    }

    #[test]
    fn twice_mirrored_is_as_filmed() {
        let mut filmed = stood();
        filmed.camera.to_steady = vec![Similarity { a: 0.99, b: 0.04, tx: 12.0, ty: -3.0, mirrored: false }];
        let once = mirrored(&filmed);
        assert_eq!((once.hitter.bats, once.hitter.pitcher_side), (Side::Left, PitcherSide::Left));
        assert_eq!(once.hitter.view, filmed.hitter.view);
        assert_eq!(once.track.poses[0].at(Part::RightAnkle), Some(Point::new(520.0, 600.0)));
        // A steady place is the mirror image of the steady place.
        let p = Point::new(100.0, 50.0);
        let flip = flip(1280);
        let want = flip.apply(filmed.camera.to_steady(0).apply(p));
        assert!(once.camera.to_steady(0).apply(flip.apply(p)).distance(want) < 1e-9);
        assert!(!once.camera.to_steady(0).mirrored);
        let twice = mirrored(&once);
        assert_eq!((twice.hitter, twice.measures), (filmed.hitter, filmed.measures));
        for part in PARTS {
            assert_eq!(twice.track.poses[0].at(part), filmed.track.poses[0].at(part));
        }
    }

    /// A left-handed swing laid over a right-handed one: as its mirror image it needs no mirror any more.
    #[test]
    fn the_mirror_image_is_registered_without_one() {
        let right = stood();
        let left = mirrored(&right);
        let event = SyncOn::Event(crate::types::EventId::Plant);
        let (asis, reported) = pair(&right, &left, event).unwrap();
        assert!(asis.registration.unwrap().reference_to_today.mirrored);
        assert!(reported.iter().any(|w| w.code() == "sides_differ"));
        let (turned, reported) = pair(&right, &mirrored(&left), event).unwrap();
        let on = turned.registration.unwrap();
        assert!(!on.reference_to_today.mirrored && on.residual_px < 1e-6, "{on:?}");
        assert!(reported.iter().all(|w| w.code() != "sides_differ"), "{reported:?}");
    }
}
