//! How the camera moved, from what does not move in the scene.

use super::params::{
    CAMERA_STILL, CORNER_CELL, CORNERS_A_CELL, FEWEST_PATCHES, KEY_SEEN, MARK_FAR_WEIGHT, PATCH_HALF,
    PATCH_LOST_REACH, PATCH_REACH, PATCHES_AGREE, PATCHES_AGREE_MOST, STEADY_LONG_SIDE,
};
use image::GrayImage;

use crate::math::similarity_from_pairs;
use crate::types::{CameraMotion, Frame, Point, Rect, Similarity, Track};

use super::people::{body_box, grown};

/// A small grey copy of a picture, kept to find the camera's motion.
#[derive(Debug, Clone)]
pub struct Patchwork(GrayImage);

impl Patchwork {
    pub(crate) fn of(picture: &Frame) -> Self {
        let (w, h) = (picture.width(), picture.height());
        let by = (w.max(h) as f64 / STEADY_LONG_SIDE as f64).max(1.0);
        let (width, height) = (((w as f64 / by) as usize).max(1), ((h as f64 / by) as usize).max(1));
        let span = |i: usize, small: usize, full: usize| {
            let from = i * full / small;
            from..((i + 1) * full / small).max(from + 1).min(full)
        };
        let mut grey = Vec::with_capacity(width * height);
        for row in 0..height {
            for column in 0..width {
                let (mut sum, mut n) = (0u32, 0u32);
                for y in span(row, height, h) {
                    for v in picture.y.row(y).get(span(column, width, w)).unwrap_or_default() {
                        sum += u32::from(*v);
                        n += 1;
                    }
                }
                grey.push((sum / n.max(1)) as u8);
            }
        }
        Self(GrayImage::from_raw(width as u32, height as u32, grey).unwrap_or_default())
    }

    fn at(&self, x: i32, y: i32) -> Option<i32> {
        let (x, y) = (u32::try_from(x).ok()?, u32::try_from(y).ok()?);
        self.0.get_pixel_checked(x, y).map(|p| i32::from(p.0[0]))
    }
}

/// The camera's motion over the pictures of `track` (one small picture for each pose; `width_px`: width of
/// the full picture). Empty when it stood still, or when too little of the scene is seen to tell.
pub fn steady(pictures: &[Patchwork], track: &Track, width_px: f64) -> CameraMotion {
    let middle = pictures.len() / 2;
    let Some(reference) = pictures.get(middle) else { return CameraMotion::default() };
    let to_full = width_px / f64::from(reference.0.width().max(1));
    let first = Key::new(reference, track, middle, to_full, Similarity::IDENTITY);
    if first.marks.len() < FEWEST_PATCHES {
        return CameraMotion::default();
    }
    // Outward from the middle: each picture starts where its neighbour ended.
    let mut from_reference: Vec<Option<Similarity>> = vec![None; pictures.len()];
    let backward: Vec<usize> = (0..middle).rev().collect();
    let forward: Vec<usize> = (middle..pictures.len()).collect();
    for order in [backward, forward] {
        let mut key = first.clone();
        let mut last: Option<(usize, Similarity)> = Some((middle, Similarity::IDENTITY));
        for i in order {
            let (Some(picture), Some(slot)) = (pictures.get(i), from_reference.get_mut(i)) else { continue };
            let before = last.map_or(key.from_reference, |l| l.1);
            let mut found = key.seen_in(picture, before, last.is_none());
            // Little of the key picture is left: the neighbour, whose place is known, becomes the key.
            if found.is_none_or(|f| f.share < KEY_SEEN)
                && let Some((k, known)) = last.filter(|l| l.0 != key.index)
                && let Some(neighbour) = pictures.get(k)
            {
                let nearer = Key::new(neighbour, track, k, to_full, known);
                let anew = nearer.seen_in(picture, known, found.is_none());
                if anew.is_some_and(|a| found.is_none_or(|f| a.share > f.share)) {
                    (key, found) = (nearer, anew);
                }
            }
            // The camera turned by more than is looked for at first.
            let found = found.or_else(|| key.seen_in(picture, before, true));
            *slot = found.map(|f| f.from_reference);
            last = slot.map(|s| (i, s));
        }
    }
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
        return CameraMotion::default();
    }
    let known = filled(&from_reference);
    let to_steady = known
        .iter()
        .map(|s| {
            let back = s.inverse();
            Similarity { tx: back.tx * to_full, ty: back.ty * to_full, ..back }
        })
        .collect();
    CameraMotion { to_steady }
}

/// A picture that others are compared with.
#[derive(Clone)]
struct Key<'a> {
    index: usize,
    picture: &'a Patchwork,
    /// Its marked places, and how much each counts.
    marks: Vec<(Point, f64)>,
    from_reference: Similarity,
}

/// Where a picture lies as a key shows it.
#[derive(Clone, Copy)]
struct Found {
    from_reference: Similarity,
    /// Of the key's marks, by weight: how many agree.
    share: f64,
}

impl<'a> Key<'a> {
    fn new(
        picture: &'a Patchwork,
        track: &Track,
        index: usize,
        to_full: f64,
        from_reference: Similarity,
    ) -> Self {
        let hitter = track.poses.get(index).and_then(body_box);
        let places = scene_corners(picture, hitter.map(|b| grown(b, 0.12)), to_full);
        // What stands about the hitter is as far away as he is: of a net or a person near the camera a hand-held one
        // sees another motion.
        let weight = |p: Point| {
            let Some(b) = hitter else { return 1.0 };
            let feet = Point::new(b.x + b.width / 2.0, b.bottom()) * (1.0 / to_full);
            let away = p.distance(feet) * to_full / b.height.max(1.0);
            MARK_FAR_WEIGHT + (1.0 - MARK_FAR_WEIGHT) * (-0.5 * away * away).exp()
        };
        let marks = places.into_iter().map(|p| (p, weight(p))).collect();
        Self { index, picture, marks, from_reference }
    }

    /// Where `to` lies, looked for near `before` (from the reference picture).
    fn seen_in(&self, to: &Patchwork, before: Similarity, lost: bool) -> Option<Found> {
        let guess = before.after(&self.from_reference.inverse());
        let reach = if lost { PATCH_LOST_REACH } else { PATCH_REACH };
        let matches: Vec<Match> = self
            .marks
            .iter()
            .filter_map(|&(from, weight)| {
                let to = find_patch(self.picture, to, from, guess.apply(from), reach)?;
                Some(Match { from, to, weight })
            })
            .collect();
        let (motion, agreeing) = std::iter::successors(Some(PATCHES_AGREE), |within| Some(within * 2.0))
            .take_while(|within| *within <= PATCHES_AGREE_MOST)
            .find_map(|within| agreed(&matches, within))?;
        let all: f64 = self.marks.iter().map(|m| m.1).sum();
        Some(Found { from_reference: motion.after(&self.from_reference), share: agreeing / all.max(1e-9) })
    }
}

/// Well-marked places away from the hitter, spread over the picture.
fn scene_corners(picture: &Patchwork, hitter: Option<Rect>, to_full: f64) -> Vec<Point> {
    let mut found = imageproc::corners::corners_fast9(&picture.0, 10);
    found.sort_by(|a, b| b.score.total_cmp(&a.score));
    let mut kept: Vec<(u32, u32)> = Vec::new();
    let margin = PATCH_HALF as u32 + 2;
    for c in found {
        let inside = c.x >= margin
            && c.y >= margin
            && c.x + margin < picture.0.width()
            && c.y + margin < picture.0.height();
        let full = Point::new(f64::from(c.x) + 0.5, f64::from(c.y) + 0.5) * to_full;
        if !inside || hitter.is_some_and(|b| b.contains(full)) {
            continue;
        }
        let neighbours = kept
            .iter()
            .filter(|k| k.0 / CORNER_CELL == c.x / CORNER_CELL && k.1 / CORNER_CELL == c.y / CORNER_CELL);
        let close = kept.iter().any(|k| k.0.abs_diff(c.x) < 4 && k.1.abs_diff(c.y) < 4);
        if neighbours.count() < CORNERS_A_CELL && !close {
            kept.push((c.x, c.y));
        }
    }
    kept.truncate(160);
    kept.into_iter().map(|(x, y)| Point::new(f64::from(x) + 0.5, f64::from(y) + 0.5)).collect()
}

/// Where the patch around `corner` of `from` lies in `to`, near `guess`; to a fraction of a pixel.
fn find_patch(from: &Patchwork, to: &Patchwork, corner: Point, guess: Point, reach: i32) -> Option<Point> {
    let (cx, cy) = (corner.x.floor() as i32, corner.y.floor() as i32);
    let (gx, gy) = (guess.x.floor() as i32, guess.y.floor() as i32);
    let mut patch = Vec::with_capacity(81);
    for dy in -PATCH_HALF..=PATCH_HALF {
        for dx in -PATCH_HALF..=PATCH_HALF {
            patch.push(from.at(cx + dx, cy + dy)?);
        }
    }
    // Sum of squared differences after each patch's own mean is taken off: exposure may change.
    let mean = |v: &[i32]| f64::from(v.iter().sum::<i32>()) / v.len() as f64;
    let patch_mean = mean(&patch);
    let mut other = Vec::with_capacity(81);
    let mut cost = |x: i32, y: i32| -> Option<f64> {
        other.clear();
        for dy in -PATCH_HALF..=PATCH_HALF {
            for dx in -PATCH_HALF..=PATCH_HALF {
                other.push(to.at(x + dx, y + dy)?);
            }
        }
        let shift = mean(&other) - patch_mean;
        Some(patch.iter().zip(&other).map(|(a, b)| (f64::from(b - a) - shift).powi(2)).sum())
    };
    let mut best = (f64::INFINITY, gx, gy);
    for y in gy - reach..=gy + reach {
        for x in gx - reach..=gx + reach {
            if let Some(c) = cost(x, y)
                && c < best.0
            {
                best = (c, x, y);
            }
        }
    }
    let (c, x, y) = best;
    let contrast: f64 = patch.iter().map(|v| (f64::from(*v) - patch_mean).powi(2)).sum();
    if !c.is_finite() || c > 0.35 * contrast {
        return None;
    }
    let part = |before: Option<f64>, after: Option<f64>| {
        let (Some(b), Some(a)) = (before, after) else { return 0.0 };
        let bend = b + a - 2.0 * c;
        if bend > 0.0 { (0.5 * (b - a) / bend).clamp(-0.5, 0.5) } else { 0.0 }
    };
    let fx = part(cost(x - 1, y), cost(x + 1, y));
    let fy = part(cost(x, y - 1), cost(x, y + 1));
    Some(Point::new(f64::from(x) + 0.5 + fx, f64::from(y) + 0.5 + fy))
}

/// A marked place of a key picture found in another one.
#[derive(Debug, Clone, Copy)]
struct Match {
    from: Point,
    to: Point,
    weight: f64,
}

/// The motion most matches agree on within so many px (random pairs, then a least-squares fit of those that agree), and
/// their weight.
fn agreed(matches: &[Match], within: f64) -> Option<(Similarity, f64)> {
    if matches.len() < FEWEST_PATCHES {
        return None;
    }
    let agrees = |s: &Similarity, m: &Match| s.apply(m.from).distance(m.to) < within;
    let weight = |s: &Similarity| -> f64 { matches.iter().filter(|m| agrees(s, m)).map(|m| m.weight).sum() };
    let fit = |s: &Similarity| {
        let pairs: Vec<(Point, Point)> =
            matches.iter().filter(|m| agrees(s, m)).map(|m| (m.from, m.to)).collect();
        (pairs.len() >= FEWEST_PATCHES).then(|| similarity_from_pairs(&pairs, false)).flatten()
    };
    let mut seed = 1u64;
    let mut pick = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % matches.len()
    };
    let mut best: Option<(f64, Similarity)> = None;
    for _ in 0..120 {
        let (a, b) = (matches.get(pick())?, matches.get(pick())?);
        if a.from.distance(b.from) < 20.0 {
            continue;
        }
        if let Some(s) = similarity_from_pairs(&[(a.from, a.to), (b.from, b.to)], false)
            && (s.scale() - 1.0).abs() < 0.1
        {
            let agreeing = weight(&s);
            if best.is_none_or(|b| agreeing > b.0) {
                best = Some((agreeing, s));
            }
        }
    }
    let (agreeing, first) = best?;
    let all: f64 = matches.iter().map(|m| m.weight).sum();
    if agreeing * 3.0 < all {
        return None;
    }
    let better = fit(&fit(&first)?)?;
    Some((better, weight(&better)))
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
    use crate::types::Pose;

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
        assert!(steady(&still, &track(5), 768.0).stood_still());
        let blank: Vec<Patchwork> = (0..5).map(|_| Patchwork::of(&Frame::black(640, 360))).collect();
        assert!(steady(&blank, &track(5), 640.0).stood_still());
        assert!(steady(&[], &Track::default(), 640.0).stood_still());
    }
}
