use super::params::HEAT_REACH;
use crate::types::{Part, Point, Pose, Result, Seen, Spot};

use super::crop::{Border, Pixels, Region, sample};
use super::detect::sigmoid;
use super::nets::{Eye, LANDMARK_SIDE, RawLandmarks};

/// One of the net's own 39 points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Landmark {
    /// px of the picture.
    pub at: Point,
    /// 0…1: not hidden.
    pub visibility: f64,
    /// 0…1: inside the crop.
    pub presence: f64,
}

/// A body as the landmark net sees it in one picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    /// 0…1: a body is there at all; trust it from 0.5.
    pub present: f64,
    /// 0–32 are the body, 33 and 34 give the next region, the rest is not used.
    pub points: Vec<Landmark>,
}

const POINTS: usize = 39;
const HEAT: usize = 64;

impl Eye<'_> {
    /// The body in `region`.
    pub fn body(&self, picture: &impl Pixels, region: Region) -> Result<Body> {
        let raw = self.run_landmarks(sample(picture, region, LANDMARK_SIDE, Border::Repeat))?;
        Ok(decode(&raw, |u, v| region.to_picture(u, v)))
    }

    /// The same, looked at in a mirror: what the net has against one side falls on the other.
    pub fn body_mirrored(&self, picture: &impl Pixels, region: Region) -> Result<Body> {
        let mut shown = sample(picture, region, LANDMARK_SIDE, Border::Repeat);
        for row in shown.chunks_exact_mut(3 * LANDMARK_SIDE) {
            for x in 0..LANDMARK_SIDE / 2 {
                (0..3).for_each(|c| row.swap(3 * x + c, 3 * (LANDMARK_SIDE - 1 - x) + c));
            }
        }
        let raw = self.run_landmarks(shown)?;
        let mut body = decode(&raw, |u, v| region.to_picture(1.0 - u, v));
        for (one, other) in PAIRS {
            if other < body.points.len() {
                body.points.swap(one, other);
            }
        }
        Ok(body)
    }
}

/// The net's points that change places in a mirror.
const PAIRS: [(usize, usize); 16] = [
    (1, 4),
    (2, 5),
    (3, 6),
    (7, 8),
    (9, 10),
    (11, 12),
    (13, 14),
    (15, 16),
    (17, 18),
    (19, 20),
    (21, 22),
    (23, 24),
    (25, 26),
    (27, 28),
    (29, 30),
    (31, 32),
];

fn decode(raw: &RawLandmarks, to_picture: impl Fn(f64, f64) -> Point) -> Body {
    let side = LANDMARK_SIDE as f64;
    let points = raw
        .points
        .chunks_exact(5)
        .take(POINTS)
        .enumerate()
        .map(|(i, p)| {
            let (u, v) = (f64::from(p[0]) / side, f64::from(p[1]) / side);
            let (u, v) = refine(&raw.heat, i, u, v);
            Landmark {
                at: to_picture(u, v),
                visibility: sigmoid(f64::from(p[3])),
                presence: sigmoid(f64::from(p[4])),
            }
        })
        .collect();
    Body { present: f64::from(raw.present), points }
}

/// Moves a point to the weighted middle of its heat around it, where the heat is sure enough.
fn refine(heat: &[f32], point: usize, u: f64, v: f64) -> (f64, f64) {
    let size = HEAT as i64;
    let (column, row) = ((u * HEAT as f64) as i64, (v * HEAT as f64) as i64);
    if !(0..size).contains(&column) || !(0..size).contains(&row) {
        return (u, v);
    }
    let (mut sum, mut best, mut x, mut y) = (0.0, 0.0f64, 0.0, 0.0);
    for r in (row - HEAT_REACH).max(0)..=(row + HEAT_REACH).min(size - 1) {
        for c in (column - HEAT_REACH).max(0)..=(column + HEAT_REACH).min(size - 1) {
            let at = (r as usize * HEAT + c as usize) * POINTS + point;
            let Some(logit) = heat.get(at) else { return (u, v) };
            let weight = sigmoid(f64::from(*logit));
            best = best.max(weight);
            sum += weight;
            x += weight * c as f64;
            y += weight * r as f64;
        }
    }
    if best >= 0.5 && sum > 0.0 { (x / sum / HEAT as f64, y / sum / HEAT as f64) } else { (u, v) }
}

impl Body {
    /// Where to look in the next picture.
    pub fn next_region(&self) -> Option<Region> {
        let (hips, top) = (self.points.get(33)?.at, self.points.get(34)?.at);
        let region = Region::around_body(hips, top);
        (region.centre.is_finite() && region.side.is_finite() && region.side > 1.0).then_some(region)
    }

    /// The followed parts. A part's visibility is the net's visibility times its presence, so a part
    /// outside the crop counts as not seen.
    pub fn pose(&self, frame: usize, time_s: f64) -> Pose {
        let mut pose = Pose::empty(frame, time_s);
        for (part, sources) in SOURCES {
            let Some(spots) = sources.iter().map(|&i| self.points.get(i)).collect::<Option<Vec<_>>>() else {
                continue;
            };
            let n = spots.len() as f64;
            let at = spots.iter().fold(Point::default(), |sum, s| sum + s.at) * (1.0 / n);
            let visibility = spots.iter().map(|s| s.visibility * s.presence).sum::<f64>() / n;
            if at.is_finite() {
                pose.set(part, Some(Spot { at, visibility: visibility as f32, seen: Seen::Picture }));
            }
        }
        pose
    }
}

/// Which of the net's points make a part; a hand is the middle of its index and little-finger knuckles.
const SOURCES: [(Part, &[usize]); 23] = [
    (Part::Nose, &[0]),
    (Part::LeftEye, &[2]),
    (Part::RightEye, &[5]),
    (Part::LeftEar, &[7]),
    (Part::RightEar, &[8]),
    (Part::LeftShoulder, &[11]),
    (Part::RightShoulder, &[12]),
    (Part::LeftElbow, &[13]),
    (Part::RightElbow, &[14]),
    (Part::LeftWrist, &[15]),
    (Part::RightWrist, &[16]),
    (Part::LeftHand, &[17, 19]),
    (Part::RightHand, &[18, 20]),
    (Part::LeftHip, &[23]),
    (Part::RightHip, &[24]),
    (Part::LeftKnee, &[25]),
    (Part::RightKnee, &[26]),
    (Part::LeftAnkle, &[27]),
    (Part::RightAnkle, &[28]),
    (Part::LeftHeel, &[29]),
    (Part::RightHeel, &[30]),
    (Part::LeftToe, &[31]),
    (Part::RightToe, &[32]),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::PARTS;

    #[test]
    fn every_part_has_its_sources_in_order() {
        for ((part, sources), wanted) in SOURCES.iter().zip(PARTS) {
            assert_eq!(*part, wanted);
            // The net's odd numbers are the person's left, save the eyes.
            if (part.other_side() as usize) > (*part as usize)
                && *part as usize >= Part::LeftShoulder as usize
            {
                assert!(sources.iter().all(|i| i % 2 == 1), "{part:?}");
            }
        }
    }

    #[test]
    fn a_mirror_changes_every_part_with_the_other_side() {
        let other = |i: usize| {
            let pair = PAIRS.iter().find(|p| p.0 == i || p.1 == i);
            pair.map_or(i, |p| if p.0 == i { p.1 } else { p.0 })
        };
        for (part, sources) in SOURCES {
            let wanted = SOURCES.iter().find(|s| s.0 == part.other_side()).unwrap().1;
            assert_eq!(sources.iter().map(|i| other(*i)).collect::<Vec<_>>(), wanted, "{part:?}");
        }
    }

    /// Waves; the other way round it is the same picture in a mirror.
    struct Waves(bool);

    impl Pixels for Waves {
        fn width(&self) -> usize {
            320
        }
        fn height(&self) -> usize {
            240
        }
        fn rgb(&self, at: Point) -> [f32; 3] {
            let x = if self.0 { 320.0 - at.x } else { at.x };
            [0.05 * x, 0.03 * x + 0.04 * at.y, 0.07 * at.y - 0.02 * x].map(|v| 0.5 + 0.4 * v.sin() as f32)
        }
    }

    #[test]
    fn a_mirrored_look_at_a_mirrored_picture_is_the_look_at_the_picture_in_a_mirror() {
        let nets = super::super::nets::Nets::load().unwrap();
        let eye = nets.eye();
        let region = Region { centre: Point::new(140.0, 120.0), side: 150.0, rotation_rad: 0.2 };
        let there = Region { centre: Point::new(180.0, 120.0), rotation_rad: -0.2, ..region };
        let plain = eye.body(&Waves(false), region).unwrap().pose(0, 0.0);
        let mirrored = eye.body_mirrored(&Waves(true), there).unwrap().pose(0, 0.0);
        for part in PARTS {
            let (a, b) = (plain.at(part).unwrap(), mirrored.at(part.other_side()).unwrap());
            assert!((a.x - (320.0 - b.x)).abs() < 0.05 && (a.y - b.y).abs() < 0.05, "{part:?}: {a:?} {b:?}");
        }
    }

    #[test]
    fn heat_pulls_a_point_to_its_middle_only_when_sure() {
        let mut heat = vec![-20.0f32; HEAT * HEAT * POINTS];
        let at = |c: usize, r: usize| (r * HEAT + c) * POINTS + 5;
        heat[at(12, 20)] = 10.0;
        let (u, v) = refine(&heat, 5, 10.2 / 64.0, 21.0 / 64.0);
        assert!((u - 12.0 / 64.0).abs() < 1e-3 && (v - 20.0 / 64.0).abs() < 1e-3, "{u} {v}");
        heat[at(12, 20)] = -1.0;
        assert_eq!(refine(&heat, 5, 0.16, 0.33), (0.16, 0.33));
        assert_eq!(refine(&heat, 5, 1.4, 0.33), (1.4, 0.33), "outside the crop");
    }

    #[test]
    fn a_short_answer_gives_gaps_not_a_crash() {
        let body = Body {
            present: 0.9,
            points: vec![Landmark { at: Point::default(), visibility: 1.0, presence: 1.0 }; 12],
        };
        assert!(body.next_region().is_none());
        assert!(body.pose(0, 0.0).at(Part::LeftShoulder).is_some());
        assert!(body.pose(0, 0.0).at(Part::RightShoulder).is_none());
    }
}
