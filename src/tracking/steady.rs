//! How the camera moved, from what does not move in the scene.

mod key;
mod patches;

use super::params::{CAMERA_STILL, FEWEST_PATCHES, KEY_SEEN, PATCH_LOST_REACH, PATCH_REACH};
use crate::types::{CameraMotion, Point, Similarity, Track};

use key::Key;
pub use patches::Patchwork;

/// The camera's motion over the pictures of `track` (one small picture for each pose; `width_px`: width of
/// the full picture). Empty when it stood still; all pictures are lost when too little of the scene is seen to tell.
pub fn steady(pictures: &[Patchwork], track: &Track, width_px: f64) -> CameraMotion {
    let middle = pictures.len() / 2;
    let Some(reference) = pictures.get(middle) else { return CameraMotion::default() };
    let to_full = width_px / f64::from(reference.0.width().max(1));
    let first = Key::new(reference, track, middle, to_full, Similarity::IDENTITY);
    if first.marks.len() < FEWEST_PATCHES {
        return CameraMotion { lost: (0..pictures.len()).collect(), ..CameraMotion::default() };
    }
    // Outward from the middle: each picture starts where its neighbour ended.
    let mut from_reference: Vec<Option<Similarity>> = vec![None; pictures.len()];
    let backward: Vec<usize> = (0..middle).rev().collect();
    let forward: Vec<usize> = (middle..pictures.len()).collect();
    for order in [backward, forward] {
        let mut key = first.clone();
        let mut last = Some((middle, Similarity::IDENTITY));
        for i in order {
            let (Some(picture), Some(slot)) = (pictures.get(i), from_reference.get_mut(i)) else { continue };
            let before = last.map_or(key.from_reference, |l| l.1);
            let near = last.and_then(|_| key.seen_in(picture, before, PATCH_REACH));
            // Little of the key picture is left: the neighbour, whose place is known, is compared with.
            let neighbour = last.filter(|l| l.0 != key.index && near.is_none_or(|f| f.share < KEY_SEEN));
            let nearer = neighbour.and_then(|(k, known)| {
                let nearer = Key::new(pictures.get(k)?, track, k, to_full, known);
                let reach_px = if near.is_none() { PATCH_LOST_REACH } else { PATCH_REACH };
                let anew = nearer.seen_in(picture, known, reach_px)?;
                near.is_none_or(|f| anew.share > f.share).then_some((nearer, anew))
            });
            let found = match nearer {
                Some((nearer, anew)) => {
                    key = nearer;
                    Some(anew)
                }
                // The camera turned by more than is looked for at first.
                None => near.or_else(|| key.seen_in(picture, before, PATCH_LOST_REACH)),
            };
            *slot = found.map(|f| f.from_reference);
            last = slot.map(|s| (i, s));
        }
    }
    let lost = from_reference.iter().enumerate().filter(|(_, s)| s.is_none()).map(|(i, _)| i).collect();
    let (w, h) = (f64::from(reference.0.width()), f64::from(reference.0.height()));
    let mut moved: Vec<f64> = from_reference
        .iter()
        .flatten()
        .map(|s| {
            [Point::new(0.0, 0.0), Point::new(w, 0.0), Point::new(0.0, h), Point::new(w, h)]
                .map(|p| s.apply(p).distance(p))
                .into_iter()
                .fold(0.0, f64::max)
        })
        .collect();
    moved.sort_by(f64::total_cmp);
    if moved.get(moved.len() * 9 / 10).is_none_or(|m| *m < CAMERA_STILL) {
        return CameraMotion { lost, ..CameraMotion::default() };
    }
    let known = filled(&from_reference);
    let to_steady = known
        .iter()
        .map(|s| {
            let back = s.inverse();
            Similarity { tx: back.tx * to_full, ty: back.ty * to_full, ..back }
        })
        .collect();
    CameraMotion { to_steady, lost }
}

/// Unknown motions are laid between their neighbours.
fn filled(known: &[Option<Similarity>]) -> Vec<Similarity> {
    (0..known.len())
        .map(|i| {
            let before = (0..=i).rev().find_map(|k| Some((k, (*known.get(k)?)?)));
            let after = (i..known.len()).find_map(|k| Some((k, (*known.get(k)?)?)));
            match (before, after) {
                (Some((p, a)), Some((q, b))) if q > p => {
                    let t = (i - p) as f64 / (q - p) as f64;
                    let mix = |x: f64, y: f64| x + (y - x) * t;
                    Similarity {
                        a: mix(a.a, b.a),
                        b: mix(a.b, b.b),
                        tx: mix(a.tx, b.tx),
                        ty: mix(a.ty, b.ty),
                        mirrored: false,
                    }
                }
                (Some((_, s)), _) | (None, Some((_, s))) => s,
                (None, None) => Similarity::IDENTITY,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Frame, Pose};

    /// A scene of many grey rectangles seen by a camera shifted by `shift` px and turned by `turn_rad`.
    fn scene(shift: Point, turn_rad: f64) -> Frame {
        let mut f = Frame::black(768, 432);
        let (sin, cos) = turn_rad.sin_cos();
        for y in 0..432 {
            for x in 0..768 {
                let (dx, dy) = (x as f64 - 384.0, y as f64 - 216.0);
                let (u, v) = (cos * dx - sin * dy + 384.0 + shift.x, sin * dx + cos * dy + 216.0 + shift.y);
                let cell = ((u / 37.0).floor() as i64, (v / 29.0).floor() as i64);
                let grey = (cell.0.wrapping_mul(7919) ^ cell.1.wrapping_mul(104_729)).rem_euclid(180);
                f.y.row_mut(y)[x] = 30 + grey as u8;
            }
        }
        f
    }

    fn track(n: usize) -> Track {
        Track { poses: (0..n).map(|i| Pose::empty(i, i as f64 / 60.0)).collect() }
    }

    #[test]
    fn a_shaken_camera_is_followed_to_a_part_of_a_pixel() {
        let shake = |i: usize| {
            let t = i as f64;
            (Point::new(9.0 * (0.4 * t).sin(), 5.0 * (0.7 * t).cos()), 0.01 * (0.3 * t).sin())
        };
        let frames: Vec<Patchwork> = (0..12).map(|i| Patchwork::of(&scene(shake(i).0, shake(i).1))).collect();
        let motion = steady(&frames, &track(12), 768.0);
        assert_eq!(motion.to_steady.len(), 12);
        // The scene place under a picture place must be the same for all pictures, whichever is the reference.
        let scene_of = |i: usize, p: Point| {
            let ((shift, turn), d) = (shake(i), p - Point::new(384.0, 216.0));
            let (sin, cos) = turn.sin_cos();
            Point::new(cos * d.x - sin * d.y, sin * d.x + cos * d.y) + shift
        };
        let mut worst = 0.0f64;
        for i in 0..12 {
            for p in [Point::new(100.0, 100.0), Point::new(600.0, 300.0)] {
                let q = motion.to_steady(i).apply(p);
                worst = worst.max(scene_of(i, p).distance(scene_of(6, q)));
            }
        }
        assert!(worst < 0.8, "{worst} px of 768");
    }

    #[test]
    fn a_camera_that_turns_after_the_hitter_past_a_bystander_is_followed() {
        // 8 px a picture over 40 pictures; a third of the picture belongs to somebody near the camera who moves otherwise.
        let pan = |i: usize| Point::new(8.0 * i as f64, 2.0 * (0.9 * i as f64).sin());
        let frames: Vec<Patchwork> = (0..40)
            .map(|i| {
                let mut frame = scene(pan(i), 0.0);
                let near = scene(pan(i) * -0.4 + Point::new(5000.0, 300.0), 0.0);
                for y in 90..432 {
                    let (to, from) = (frame.y.row_mut(y), near.y.row(y));
                    to[..250].copy_from_slice(&from[..250]);
                }
                Patchwork::of(&frame)
            })
            .collect();
        let motion = steady(&frames, &track(40), 768.0);
        assert_eq!(motion.to_steady.len(), 40);
        for i in 0..40 {
            let q = motion.to_steady(i).apply(Point::new(500.0, 200.0));
            let wanted = Point::new(500.0, 200.0) + pan(i) - pan(20);
            assert!(q.distance(wanted) < 3.0, "{i}: {q:?}, {wanted:?}");
        }
    }

    #[test]
    fn a_light_shake_is_still_taken_out() {
        // One px of 768 either way: half a px of the small picture.
        let frames: Vec<Patchwork> = (0..12)
            .map(|i| Patchwork::of(&scene(Point::new((0.5 * f64::from(i)).sin(), 0.0), 0.0)))
            .collect();
        assert!(!steady(&frames, &track(12), 768.0).stood_still());
    }

    #[test]
    fn a_tripod_gives_nothing_and_so_does_an_empty_scene() {
        let still: Vec<Patchwork> = (0..5).map(|_| Patchwork::of(&scene(Point::default(), 0.0))).collect();
        assert_eq!(steady(&still, &track(5), 768.0), CameraMotion::default());
        let blank: Vec<Patchwork> = (0..5).map(|_| Patchwork::of(&Frame::black(640, 360))).collect();
        let unseen = steady(&blank, &track(5), 640.0);
        assert!(unseen.stood_still() && unseen.lost == [0, 1, 2, 3, 4], "nothing in it tells");
        assert!(steady(&[], &Track::default(), 640.0).stood_still());
    }
}
