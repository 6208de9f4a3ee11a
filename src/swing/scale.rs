//! How long things are: the hitter's standing height in px from limb lengths, px per cm from a known one.

use super::SwingInput;
use super::params::{
    FOCAL_LONG_SIDES, HEIGHT_ERROR, KNOB_TO_HANDS_CM, KNOB_TO_HANDS_ERROR_CM, LIMB_LONG_LOOK, MARK_DEPTH_M,
    MARK_PX, MARK_TURNED, NEAREST_CAMERA_M, SCALES_UNLIKE, USUAL_HEIGHT_M,
};
use crate::math::{median_of, quantile};
use crate::types::{BatAtRest, LengthGiven, Part, Point, Scale, Similarity, Track, Warning};

/// Segment lengths as shares of stature: thigh = hip .530 − knee .285, shank = knee .285 − ankle .039,
/// trunk = shoulder .818 − hip .530 (Drillis & Contini 1966, in Winter fig. 4.1).
const THIGH: f64 = 0.245;
const SHANK: f64 = 0.246;
const TRUNK: f64 = 0.288;

/// A bat whose length is known and which was seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownBat {
    /// Its length in the picture, px.
    pub at_rest: BatAtRest,
    /// Knob to tip, cm.
    pub bat_cm: f64,
}

impl KnownBat {
    /// px per cm, and its standard share of error.
    fn px_per_cm(&self) -> Option<(f64, f64)> {
        let shown_cm = self.bat_cm - KNOB_TO_HANDS_CM;
        let px_per_cm = self.at_rest.hands_to_tip_px / shown_cm;
        let error = self.at_rest.error_share.hypot(KNOB_TO_HANDS_ERROR_CM / shown_cm);
        (shown_cm > KNOB_TO_HANDS_CM && px_per_cm.is_finite() && px_per_cm > 0.0)
            .then_some((px_per_cm, error))
    }
}

/// px per cm with its standard share of error.
type Rate = (f64, f64);

/// What a scale in cm can rest on, as far as it was given.
#[derive(Debug, Clone, Copy, Default)]
pub struct Given {
    /// The hitter's standing height, cm.
    pub height_cm: Option<f64>,
    pub bat: Option<KnownBat>,
    /// A marked length: px, with the camera's motion taken out, and cm.
    pub marked: Option<(f64, f64)>,
    /// The upright picture's longer side, px.
    pub long_side_px: f64,
}

impl Given {
    pub fn of(input: &SwingInput) -> Self {
        let steady = input.camera.first().map_or(1.0, Similarity::scale);
        Self {
            height_cm: input.height_cm,
            bat: input.bat,
            marked: input.known_length.map(|k| (steady * k.from.distance(k.to), k.cm)),
            long_side_px: input.long_side_px,
        }
    }

    /// Camera to hitter, judged from how small the hitter looks, m.
    fn distance_m(&self, body_height_px: f64) -> f64 {
        let height_m = self.height_cm.map_or(USUAL_HEIGHT_M, |cm| cm / 100.0);
        (FOCAL_LONG_SIDES * self.long_side_px * height_m / body_height_px.max(1.0)).max(NEAREST_CAMERA_M)
    }
}

/// How much a length at depth error [`MARK_DEPTH_M`] looks too long: Δ / (D − Δ).
fn depth_share(distance_m: f64) -> f64 {
    MARK_DEPTH_M / (distance_m - MARK_DEPTH_M)
}

fn by_mark((px, cm): (f64, f64), distance_m: f64) -> Option<Rate> {
    let marks = MARK_PX * std::f64::consts::SQRT_2 / px;
    let error = marks.hypot(depth_share(distance_m)).hypot(MARK_TURNED);
    let px_per_cm = px / cm;
    (px_per_cm.is_finite() && px_per_cm > 0.0).then_some((px_per_cm, error))
}

/// The hitter's size in the picture, and px per cm from all that was given, weighed by its errors. The warnings
/// say what to be careful about, and when what was given does not go together.
pub fn scale(track: &Track, given: &Given) -> Option<(Scale, Vec<Warning>)> {
    let body_height_px = body_height_px(track)?;
    let distance_m = given.distance_m(body_height_px);
    let by_height = given.height_cm.map(|cm| (body_height_px / cm, HEIGHT_ERROR));
    let by_bat = given.bat.and_then(|b| b.px_per_cm());
    let by_mark = given.marked.and_then(|m| by_mark(m, distance_m));
    let mut warnings = Vec::new();
    if by_mark.is_some() {
        warnings.push(Warning::KnownLengthDepth { share: depth_share(distance_m), distance_m });
    }
    let rates = [(by_height, LengthGiven::Height), (by_bat, LengthGiven::Bat), (by_mark, LengthGiven::Mark)];
    let rates: Vec<(Rate, LengthGiven)> =
        rates.into_iter().filter_map(|(rate, known)| Some((rate?, known))).collect();
    let (known, unlike) = weigh(&rates);
    warnings.extend(unlike);
    let scale = Scale {
        body_height_px,
        body_height_error: HEIGHT_ERROR,
        px_per_cm: known.map(|k| k.0),
        px_per_cm_error: known.map_or(HEIGHT_ERROR, |k| k.1),
    };
    Some((scale, warnings))
}

/// All of them weighed by their errors (in logarithms), and a warning about the two that differ most when they
/// cannot both be right.
fn weigh(rates: &[(Rate, LengthGiven)]) -> (Option<Rate>, Option<Warning>) {
    let weights: f64 = rates.iter().map(|((_, error), _)| error.powi(-2)).sum();
    if rates.is_empty() {
        return (None, None);
    }
    let mean = rates.iter().map(|((px, error), _)| px.ln() * error.powi(-2)).sum::<f64>() / weights;
    let (px_per_cm, error) = (mean.exp(), weights.sqrt().recip());
    let pairs = rates.iter().enumerate().flat_map(|(i, a)| rates.iter().skip(i + 1).map(move |b| (a, b)));
    let apart = |a: &Rate, b: &Rate| (b.0 / a.0).ln().abs();
    let unlike = pairs
        .filter(|((a, _), (b, _))| apart(a, b) > SCALES_UNLIKE * a.1.hypot(b.1))
        .max_by(|x, y| apart(&x.0.0, &x.1.0).total_cmp(&apart(&y.0.0, &y.1.0)));
    let Some(((a, by), (b, of))) = unlike else { return (Some((px_per_cm, error)), None) };
    let share = (b.0 / a.0).max(a.0 / b.0) - 1.0;
    let warning = Warning::ScalesDisagree { by: *by, of: *of, share, too_long: b.0 > a.0 };
    // Nobody knows which is wrong: the error reaches to both.
    let error = error.max(apart(a, b) / 2.0);
    (Some((px_per_cm, error)), Some(warning))
}

fn body_height_px(track: &Track) -> Option<f64> {
    let long = |lengths: Vec<f64>| quantile(lengths, LIMB_LONG_LOOK);
    let limb = |a: Part, b: Part| {
        long(track.poses.iter().filter_map(|p| Some(p.at(a)?.distance(p.at(b)?))).collect())
    };
    let middle =
        |p: &crate::types::Pose, a: Part| -> Option<Point> { Some(p.at(a)?.midpoint(p.at(a.other_side())?)) };
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
    median_of(guesses.iter().filter_map(|(px, share)| Some((*px)? / share)).filter(|h| *h > 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::messages;
    use crate::types::{Pose, Seen, Spot};

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
        let given = Given { height_cm: Some(180.0), long_side_px: 1280.0, ..Given::default() };
        let (s, warnings) = scale(&track, &given).unwrap();
        assert_eq!(warnings, []);
        assert!((s.body_height_px - 400.0).abs() < 1e-6);
        assert!((s.px_per_cm.unwrap() - 400.0 / 180.0).abs() < 1e-9);
        assert!(scale(&Track::default(), &given).is_none());

        // The same by a mark of 43.18 cm at 2.4 px per cm, weighed with the height's 2.22.
        let marked = Given { marked: Some((43.18 * 2.4, 43.18)), ..given };
        let (s, warnings) = scale(&track, &marked).unwrap();
        let px = s.px_per_cm.unwrap();
        assert!(px > 400.0 / 180.0 && px < 2.4, "{px}");
        assert!(s.px_per_cm_error < HEIGHT_ERROR);
        assert_eq!(warnings[0].code(), "known_length_depth");
        // 0.75 · 1280 · 1.8 / 400 = 4.32 m away: 0.3 m nearer looks 7.5 % longer.
        assert!(
            warnings.len() == 1 && messages::warning(&warnings[0]).contains("looks 7 % too long"),
            "{warnings:?}"
        );
    }

    #[test]
    fn a_mark_is_as_sure_as_its_length_its_depth_and_its_turn() {
        let (px, error) = by_mark((100.0, 50.0), 6.3).unwrap();
        assert!((px - 2.0).abs() < 1e-12);
        let parts = [2.0 * 2.0f64.sqrt() / 100.0, 0.3 / 6.0, 0.015];
        assert!((error - parts.iter().map(|p| p * p).sum::<f64>().sqrt()).abs() < 1e-12);
        assert!(by_mark((20.0, 10.0), 6.3).unwrap().1 > 0.14);
        assert_eq!(by_mark((0.0, 10.0), 6.3), None);
    }

    #[test]
    fn a_bat_gives_the_scale_by_what_is_seen_of_it() {
        let at_rest = BatAtRest { hands_to_tip_px: 144.0, error_share: 0.04, looks: 20 };
        let (px, error) = KnownBat { at_rest, bat_cm: 84.0 }.px_per_cm().unwrap();
        assert!((px - 2.0).abs() < 1e-12);
        assert!((error - 0.04f64.hypot(2.5 / 72.0)).abs() < 1e-12);
        assert_eq!(KnownBat { at_rest, bat_cm: 14.0 }.px_per_cm(), None);
    }

    #[test]
    fn scales_are_weighed_and_a_contradiction_is_said() {
        let height = |px, error| ((px, error), LengthGiven::Height);
        let bat = |px, error| ((px, error), LengthGiven::Bat);
        let mark = |px, error| ((px, error), LengthGiven::Mark);
        assert_eq!(weigh(&[]), (None, None));
        let (one, warning) = weigh(&[bat(2.0, 0.06)]);
        assert!((one.unwrap().0 - 2.0).abs() < 1e-12 && (one.unwrap().1 - 0.06).abs() < 1e-12);
        assert_eq!(warning, None);
        let (both, warning) = weigh(&[height(2.0, 0.03), bat(2.1, 0.06)]);
        let (px, error) = both.unwrap();
        // Four to one for the surer one.
        assert!((px.ln() - (2f64.ln() * 0.8 + 2.1f64.ln() * 0.2)).abs() < 1e-12);
        assert!(error < 0.03 && warning.is_none());
        let (both, warning) = weigh(&[height(2.0, 0.05), bat(3.0, 0.05)]);
        let (px, error) = both.unwrap();
        assert!((px - 6f64.sqrt()).abs() < 1e-9 && error > 0.2);
        assert!(
            messages::warning(&warning.unwrap())
                .contains("Judging by the given height, the bat looks 50 % too long")
        );
        // Three: the two that differ most are named.
        let (all, warning) = weigh(&[height(2.0, 0.05), bat(2.1, 0.05), mark(3.0, 0.05)]);
        assert!(all.unwrap().1 > 0.2);
        let text = messages::warning(&warning.unwrap());
        assert!(
            text.contains("the marked length looks 50 % too long: check --height and --known-length"),
            "{text}"
        );
    }
}
