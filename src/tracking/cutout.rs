//! The body's own part of a picture, as the landmark net's mask has it.

use super::crop::{Border, Pixels, Region, sample};
use super::detect::sigmoid;
use super::nets::{Eye, LANDMARK_SIDE};
use super::params::{MASK_PRESENT, MASK_ROOM};
use crate::types::{Cutout, Part, Pose, Result, Similarity};

/// The body that `pose` (picture px) stands for, cut out; `None` where the net sees none.
pub fn cutout(eye: &Eye, picture: &impl Pixels, pose: &Pose) -> Result<Option<Cutout>> {
    let Some(region) = around(pose) else { return Ok(None) };
    let (raw, mask) = eye.run_landmarks_and_mask(sample(picture, region, LANDMARK_SIDE, Border::Repeat))?;
    if raw.present < MASK_PRESENT || mask.len() != LANDMARK_SIDE * LANDMARK_SIDE {
        return Ok(None);
    }
    let cover: Vec<u8> = mask.iter().map(|v| (sigmoid(f64::from(*v)) * 255.0 + 0.5) as u8).collect();
    Ok(Some(Cutout::new(pose.time_s, picture_from_grid(region), LANDMARK_SIDE, &cover)))
}

/// Hips in the middle, all parts well inside.
fn around(pose: &Pose) -> Option<Region> {
    let centre = pose.at(Part::LeftHip)?.midpoint(pose.at(Part::RightHip)?);
    let parts = crate::types::PARTS.iter().filter_map(|p| pose.at(*p));
    let far = parts.map(|at| at.distance(centre)).fold(0.0, f64::max);
    let region = Region { centre, side: MASK_ROOM * far, rotation_rad: 0.0 };
    (centre.is_finite() && (16.0..1e5).contains(&region.side)).then_some(region)
}

fn picture_from_grid(region: Region) -> Similarity {
    let k = region.side / LANDMARK_SIDE as f64;
    let corner = region.to_picture(0.0, 0.0);
    let (sin, cos) = region.rotation_rad.sin_cos();
    Similarity { a: k * cos, b: k * sin, tx: corner.x, ty: corner.y, mirrored: false }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Point, Seen, Spot};

    #[test]
    fn the_grid_lies_on_the_region() {
        let region = Region { centre: Point::new(300.0, 200.0), side: 512.0, rotation_rad: 0.3 };
        let on = picture_from_grid(region);
        assert!(on.apply(Point::new(128.0, 128.0)).distance(region.centre) < 1e-9);
        assert!(on.apply(Point::new(256.0, 64.0)).distance(region.to_picture(1.0, 0.25)) < 1e-9);
    }

    #[test]
    fn without_hips_nothing_is_looked_at() {
        let mut pose = Pose::empty(0, 0.0);
        assert!(around(&pose).is_none());
        for (part, x, y) in
            [(Part::LeftHip, 90.0, 100.0), (Part::RightHip, 110.0, 100.0), (Part::Nose, 100.0, 20.0)]
        {
            let at = Point::new(x, y);
            pose.set(part, Some(Spot { at, visibility: 1.0, seen: Seen::Picture }));
        }
        let region = around(&pose).unwrap();
        assert!((region.side - 200.0).abs() < 1e-9 && region.centre == Point::new(100.0, 100.0));
    }
}
