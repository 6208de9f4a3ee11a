use super::params::{FOUND_OVERLAP, KEEP_SCORE};
use crate::types::{Point, Rect, Result};

use super::crop::{Border, Pixels, Region, sample};
use super::nets::{DETECTOR_SIDE, Eye};

/// A person seen in one picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// 0…1.
    pub score: f64,
    /// Around the head and chest as the detector sees it, px.
    pub face_box: Rect,
    /// Hips' middle; a point straight above it that gives the body's size and lean; shoulders' middle;
    /// the same for the upper body. px.
    pub keypoints: [Point; 4],
}

impl Found {
    /// Where the landmark net should look.
    pub fn region(&self) -> Region {
        Region::around_body(self.keypoints[0], self.keypoints[1])
    }
}

impl Eye<'_> {
    /// Everyone the detector sees in the whole picture, best first.
    pub fn find(&self, picture: &impl Pixels) -> Result<Vec<Found>> {
        self.find_in(picture, Region::whole(picture.width(), picture.height()))
    }

    /// Everyone the detector sees in an upright square of the picture, best first: a small person is
    /// found when shown larger.
    pub fn find_in(&self, picture: &impl Pixels, square: Region) -> Result<Vec<Found>> {
        let mut input = sample(picture, square, DETECTOR_SIDE, Border::Black);
        for v in &mut input {
            *v = *v * 2.0 - 1.0;
        }
        let (boxes, scores) = self.run_detector(input)?;
        Ok(merge(decode(&boxes, &scores, square)))
    }
}

/// Centres of the detector's 2,254 anchors, 0…1.
fn anchors() -> impl Iterator<Item = (f64, f64)> {
    // Cells a side and anchors a cell; the three layers of stride 32 share their grid.
    [(28usize, 2usize), (14, 2), (7, 6)].into_iter().flat_map(|(cells, each)| {
        (0..cells * cells).flat_map(move |i| {
            let centre =
                (((i % cells) as f64 + 0.5) / cells as f64, ((i / cells) as f64 + 0.5) / cells as f64);
            std::iter::repeat_n(centre, each)
        })
    })
}

fn decode(boxes: &[f32], scores: &[f32], square: Region) -> Vec<Found> {
    let scale = 1.0 / DETECTOR_SIDE as f64;
    let mut found = Vec::new();
    for ((values, raw), (ax, ay)) in boxes.chunks_exact(12).zip(scores).zip(anchors()) {
        let score = sigmoid(f64::from(*raw).clamp(-100.0, 100.0));
        if score < KEEP_SCORE {
            continue;
        }
        let value = |i: usize| f64::from(values[i]) * scale;
        let point = |i: usize| square.to_picture(value(i) + ax, value(i + 1) + ay);
        let centre = point(0);
        let (w, h) = (value(2) * square.side, value(3) * square.side);
        found.push(Found {
            score,
            face_box: Rect::new(centre.x - w / 2.0, centre.y - h / 2.0, w, h),
            keypoints: [point(4), point(6), point(8), point(10)],
        });
    }
    found
}

/// Weighted non-maximum suppression: boxes that overlap the best one are averaged into it by score.
pub fn merge(mut found: Vec<Found>) -> Vec<Found> {
    found.sort_by(|a, b| b.score.total_cmp(&a.score));
    let mut people = Vec::new();
    while let Some(best) = found.first().cloned() {
        let (same, rest): (Vec<_>, Vec<_>) =
            found.into_iter().partition(|f| overlap(f.face_box, best.face_box) > FOUND_OVERLAP);
        found = rest;
        if same.is_empty() {
            // A box without area overlaps nothing, not even itself.
            found.remove(0);
            continue;
        }
        let total: f64 = same.iter().map(|f| f.score).sum();
        let mean = |of: &dyn Fn(&Found) -> f64| same.iter().map(|f| of(f) * f.score).sum::<f64>() / total;
        let mut keypoints = best.keypoints;
        for (i, k) in keypoints.iter_mut().enumerate() {
            *k = Point::new(mean(&|f| f.keypoints[i].x), mean(&|f| f.keypoints[i].y));
        }
        people.push(Found {
            score: best.score,
            face_box: Rect::new(
                mean(&|f| f.face_box.x),
                mean(&|f| f.face_box.y),
                mean(&|f| f.face_box.width),
                mean(&|f| f.face_box.height),
            ),
            keypoints,
        });
    }
    people
}

/// Shared area ÷ joint area, 0…1.
pub fn overlap(a: Rect, b: Rect) -> f64 {
    let w = (a.right().min(b.right()) - a.x.max(b.x)).max(0.0);
    let h = (a.bottom().min(b.bottom()) - a.y.max(b.y)).max(0.0);
    let shared = w * h;
    let joint = a.width * a.height + b.width * b.height - shared;
    if joint > 0.0 { shared / joint } else { 0.0 }
}

pub(super) fn sigmoid(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(score: f64, x: f64) -> Found {
        Found { score, face_box: Rect::new(x, 0.0, 10.0, 10.0), keypoints: [Point::new(x, 0.0); 4] }
    }

    #[test]
    fn anchors_are_2254() {
        assert_eq!(anchors().count(), 2254);
        assert_eq!(anchors().next(), Some((0.5 / 28.0, 0.5 / 28.0)));
    }

    #[test]
    fn overlapping_boxes_become_one_weighted_person() {
        let people = merge(vec![found(0.6, 3.0), found(0.9, 0.0), found(0.8, 50.0)]);
        assert_eq!(people.len(), 2);
        assert!((people[0].keypoints[0].x - 3.0 * 0.6 / 1.5).abs() < 1e-12);
        assert_eq!(people[1].face_box.x, 50.0);
    }

    #[test]
    fn boxes_without_area_do_not_hang() {
        let mut f = found(0.9, 0.0);
        f.face_box.width = 0.0;
        assert!(merge(vec![f.clone(), f]).is_empty());
    }
}
