//! Whether pictures belong to one shot: what was cut together is not one swing.

use super::motion::Motion;
use super::params::{CUT, CUT_OVER_NEIGHBOURS};

/// The times at which a new shot begins, real s.
pub fn cuts(motion: &[Motion]) -> Vec<f64> {
    let steps: Vec<f64> = motion.iter().map(Motion::overall).collect();
    let near = |i: usize| {
        let before = i.checked_sub(1).and_then(|j| steps.get(j));
        before.into_iter().chain(steps.get(i + 1)).fold(0.0, |most: f64, s| most.max(*s))
    };
    let is_cut = |(i, m): (usize, &Motion)| {
        let step = steps.get(i).copied().unwrap_or(0.0);
        (step > CUT && step > CUT_OVER_NEIGHBOURS * near(i)).then_some(m.time_s)
    };
    motion.iter().enumerate().filter_map(is_cut).collect()
}

/// From where to where the shot runs that holds `time_s`, real s: the end is the next shot's first picture.
pub fn shot_around(cuts: &[f64], time_s: f64) -> (f64, f64) {
    let from = cuts.iter().rev().find(|c| **c <= time_s).copied().unwrap_or(0.0);
    let to = cuts.iter().find(|c| **c > time_s).copied().unwrap_or(f64::INFINITY);
    (from, to)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tracking::MotionMeter;
    use crate::types::Frame;

    /// A scene of stripes; a body that moves; the camera turned to the side by `shift`.
    fn picture(scene: usize, body_x: usize, shift: usize) -> Frame {
        let mut frame = Frame::black(384, 216);
        for y in 0..216 {
            for x in 0..384 {
                let at = x + shift;
                let ground = if scene == 0 { 60 + (at / 24 % 2) * 60 } else { 40 + (y / 18 % 3) * 70 };
                let body = x.abs_diff(body_x) < 25 && y > 60;
                frame.y.data[y * 384 + x] = if body { 220 } else { ground as u8 };
            }
        }
        frame
    }

    fn cuts_of(pictures: impl Iterator<Item = Frame>) -> Vec<f64> {
        let mut meter = MotionMeter::default();
        let motion: Vec<Motion> =
            pictures.enumerate().filter_map(|(i, p)| meter.next(i, i as f64 / 10.0, &p)).collect();
        cuts(&motion)
    }

    #[test]
    fn a_cut_is_found_and_a_swing_or_a_turn_of_the_camera_is_none() {
        assert!(cuts_of((0..12).map(|i| picture(0, 120 + 12 * i, 0))).is_empty());
        assert!(cuts_of((0..12).map(|i| picture(0, 120, 11 * i))).is_empty());
        assert_eq!(cuts_of((0..12).map(|i| picture(usize::from(i >= 7), 120 + 3 * i, 0))), [0.7]);
    }

    #[test]
    fn a_shot_lies_between_two_cuts() {
        assert_eq!(shot_around(&[0.7, 2.0], 0.3), (0.0, 0.7));
        assert_eq!(shot_around(&[0.7, 2.0], 0.7), (0.7, 2.0));
        assert_eq!(shot_around(&[], 5.0).0, 0.0);
    }
}
