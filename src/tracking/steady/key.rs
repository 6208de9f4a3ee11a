//! The pictures that the others are compared with, and the motion that most of their marked places agree on.

use super::super::params::{FEWEST_PATCHES, MARK_FAR_WEIGHT, PATCHES_AGREE, PATCHES_AGREE_MOST};
use super::super::people::{body_box, grown};
use super::patches::{Patchwork, find_patch, scene_corners};
use crate::math::similarity_from_pairs;
use crate::types::{Point, Similarity, Track};

/// A picture that others are compared with.
#[derive(Clone)]
pub(super) struct Key<'a> {
    pub(super) index: usize,
    picture: &'a Patchwork,
    /// Its marked places, and how much each counts.
    pub(super) marks: Vec<(Point, f64)>,
    pub(super) from_reference: Similarity,
}

/// Where a picture lies as a key shows it.
#[derive(Clone, Copy)]
pub(super) struct Found {
    pub(super) from_reference: Similarity,
    /// Of the key's marks, by weight: how many agree.
    pub(super) share: f64,
}

impl<'a> Key<'a> {
    pub(super) fn new(
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

    /// Where `to` lies, looked for this near to `before` (from the reference picture).
    pub(super) fn seen_in(&self, to: &Patchwork, before: Similarity, reach_px: i32) -> Option<Found> {
        let guess = before.after(&self.from_reference.inverse());
        let matches: Vec<Match> = self
            .marks
            .iter()
            .filter_map(|&(from, weight)| {
                let to = find_patch(self.picture, to, from, guess.apply(from), reach_px)?;
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
