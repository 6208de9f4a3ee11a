//! How long things are: the hitter's standing height in px from limb lengths, px per cm from a known one.

use super::series::{median, quantile};
use crate::ground::{BatLook, Part, Point, Scale, Track, Warning};

/// Segment lengths as shares of stature: thigh = hip .530 − knee .285, shank = knee .285 − ankle .039,
/// trunk = shoulder .818 − hip .530 (Drillis & Contini 1966, in Winter fig. 4.1).
const THIGH: f64 = 0.245;
const SHANK: f64 = 0.246;
const TRUNK: f64 = 0.288;
/// A bent limb looks short; its longest looks come near its true length. This share of looks is below.
const LONG_LOOK: f64 = 0.85;
/// Standard error of the height so found: adult averages, net noise and limbs never quite in the
/// picture's plane. Own estimate.
const HEIGHT_ERROR: f64 = 0.05;

/// From the knob to the middle of both hands, cm, and its standard error: two hands at the end of the handle,
/// the lower one just above the knob or some cm up. Common practice, no source.
const KNOB_TO_HANDS_CM: f64 = 12.0;
const KNOB_TO_HANDS_ERROR_CM: f64 = 2.5;
/// Scales that differ by more than so many standard errors do not belong to one hitter and bat.
const UNLIKE: f64 = 2.0;

/// A bat whose length is known and which was seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownBat {
    pub look: BatLook,
    /// Knob to tip, cm.
    pub bat_cm: f64,
}

impl KnownBat {
    /// px per cm, and its standard share of error.
    fn px_per_cm(&self) -> Option<(f64, f64)> {
        let shown_cm = self.bat_cm - KNOB_TO_HANDS_CM;
        let px_per_cm = self.look.hands_to_tip_px / shown_cm;
        let error = self.look.error_share.hypot(KNOB_TO_HANDS_ERROR_CM / shown_cm);
        (shown_cm > KNOB_TO_HANDS_CM && px_per_cm.is_finite() && px_per_cm > 0.0)
            .then_some((px_per_cm, error))
    }
}

/// `height_cm` is the hitter's standing height, `bat` the known bat, as far as they were given. Both are weighed
/// by their errors; the warning says when they do not go together.
pub fn scale(
    track: &Track,
    height_cm: Option<f64>,
    bat: Option<KnownBat>,
) -> Option<(Scale, Option<Warning>)> {
    let body_height_px = body_height_px(track)?;
    let by_height = height_cm.map(|cm| (body_height_px / cm, HEIGHT_ERROR));
    let by_bat = bat.and_then(|b| b.px_per_cm());
    let (known, warning) = weigh(by_height, by_bat);
    let scale = Scale {
        body_height_px,
        body_height_error: HEIGHT_ERROR,
        px_per_cm: known.map(|k| k.0),
        px_per_cm_error: known.map_or(HEIGHT_ERROR, |k| k.1),
    };
    Some((scale, warning))
}

type Rate = (f64, f64);

fn weigh(by_height: Option<Rate>, by_bat: Option<Rate>) -> (Option<Rate>, Option<Warning>) {
    let (Some((h, h_error)), Some((b, b_error))) = (by_height, by_bat) else {
        return (by_height.or(by_bat), None);
    };
    let (h_weight, b_weight) = (h_error.powi(-2), b_error.powi(-2));
    let both = ((h.ln() * h_weight + b.ln() * b_weight) / (h_weight + b_weight)).exp();
    let error = (h_weight + b_weight).sqrt().recip();
    let apart = (b / h).ln().abs();
    if apart <= UNLIKE * h_error.hypot(b_error) {
        return (Some((both, error)), None);
    }
    let more = if b > h { "long" } else { "short" };
    let text = format!(
        "By the given height the bat looks {:.0} % too {more}: check --height and --bat. Lengths in cm take \
         the middle of the two.",
        100.0 * ((b / h).max(h / b) - 1.0),
    );
    // Nobody knows which is wrong: the error reaches to both.
    (Some((both, error.max(apart / 2.0))), Some(Warning::new("scales_disagree", text)))
}

fn body_height_px(track: &Track) -> Option<f64> {
    let long = |lengths: Vec<f64>| quantile(lengths, LONG_LOOK);
    let limb = |a: Part, b: Part| {
        long(track.poses.iter().filter_map(|p| Some(p.at(a)?.distance(p.at(b)?))).collect())
    };
    let middle = |p: &crate::ground::Pose, a: Part| -> Option<Point> {
        Some(p.at(a)?.midpoint(p.at(a.other_side())?))
    };
    let trunk = long(
        track
            .poses
            .iter()
            .filter_map(|p| Some(middle(p, Part::LeftShoulder)?.distance(middle(p, Part::LeftHip)?)))
            .collect(),
    );
    let longer = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => Some(a.max(b)),
        (a, b) => a.or(b),
    };
    let thigh = longer(limb(Part::LeftHip, Part::LeftKnee), limb(Part::RightHip, Part::RightKnee));
    let shank = longer(limb(Part::LeftKnee, Part::LeftAnkle), limb(Part::RightKnee, Part::RightAnkle));
    let guesses = [(trunk, TRUNK), (thigh, THIGH), (shank, SHANK)];
    median(guesses.iter().filter_map(|(px, share)| Some((*px)? / share)).filter(|h| *h > 1.0).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Pose, Seen, Spot};

    #[test]
    fn a_figure_of_average_build_has_its_height() {
        let mut pose = Pose::empty(0, 0.0);
        let mut put = |part, x: f64, share: f64| {
            pose.set(
                part,
                Some(Spot { at: Point::new(x, 500.0 - 400.0 * share), visibility: 1.0, seen: Seen::Picture }),
            );
        };
        for (left, share) in [
            (Part::LeftShoulder, 0.818),
            (Part::LeftHip, 0.530),
            (Part::LeftKnee, 0.285),
            (Part::LeftAnkle, 0.039),
        ] {
            put(left, 90.0, share);
            put(left.other_side(), 110.0, share);
        }
        let track = Track { poses: vec![pose] };
        let (s, warning) = scale(&track, Some(180.0), None).unwrap();
        assert_eq!(warning, None);
        assert!((s.body_height_px - 400.0).abs() < 1e-6);
        assert!((s.px_per_cm.unwrap() - 400.0 / 180.0).abs() < 1e-9);
        assert!(scale(&Track::default(), None, None).is_none());
    }

    #[test]
    fn a_bat_gives_the_scale_by_what_is_seen_of_it() {
        let look = BatLook { hands_to_tip_px: 144.0, error_share: 0.04, looks: 20 };
        let (px, error) = KnownBat { look, bat_cm: 84.0 }.px_per_cm().unwrap();
        assert!((px - 2.0).abs() < 1e-12);
        assert!((error - 0.04f64.hypot(2.5 / 72.0)).abs() < 1e-12);
        assert_eq!(KnownBat { look, bat_cm: 14.0 }.px_per_cm(), None);
    }

    #[test]
    fn two_scales_are_weighed_and_a_contradiction_is_said() {
        assert_eq!(weigh(None, Some((2.0, 0.06))), (Some((2.0, 0.06)), None));
        let (both, warning) = weigh(Some((2.0, 0.03)), Some((2.1, 0.06)));
        let (px, error) = both.unwrap();
        // Four to one for the surer one.
        assert!((px.ln() - (2f64.ln() * 0.8 + 2.1f64.ln() * 0.2)).abs() < 1e-12);
        assert!(error < 0.03 && warning.is_none());
        let (both, warning) = weigh(Some((2.0, 0.05)), Some((3.0, 0.05)));
        let (px, error) = both.unwrap();
        assert!((px - 6f64.sqrt()).abs() < 1e-9 && error > 0.2);
        assert!(warning.unwrap().text.contains("50 % too long"));
    }
}
