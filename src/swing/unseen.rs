//! What the points do not show: holes in a track, a clip that begins too late, feet without toes and heels.
//! A moment that may lie in a hole says so by its ±; one that cannot be seen is not given.

use super::centre::Moment;
use super::feet::FrontFoot;
use super::figure::Figure;
use super::params::{
    BY_ANKLE_PM_S, UNSEEN_AFTER_S, UNSEEN_BEFORE_S, UNSEEN_HOLE_PICTURES, UNSEEN_HOLE_S, UNSEEN_NEAR_S,
};
use super::series::Series;
use crate::types::{EventId, Events, Source, Warning};

/// With neither toes nor heels: the ankle rests when the foot is loaded, not when it touches, and leaves its
/// place while the toes still stand. Plant is given with a wider ±, foot off and touch are not.
pub fn by_ankle(foot: FrontFoot, figure: &Figure) -> (FrontFoot, Option<Warning>) {
    if !(figure.front.toe.is_empty() && figure.front.heel.is_empty()) {
        return (foot, None);
    }
    let rest = foot.touch.or(foot.plant);
    let plant = rest.map(|m| Moment { plus_minus_s: m.plus_minus_s.max(BY_ANKLE_PM_S), ..m });
    let foot = FrontFoot { foot_off: None, touch: None, plant, ..foot };
    (foot, Some(Warning::NoFeet))
}

/// Whether the points begin when the front foot is already on its way: what lies before is not known then.
pub fn begins_in_stride(foot: &FrontFoot, first_s: f64, step_s: f64) -> bool {
    foot.foot_off.is_some_and(|off| off.time_s - first_s < 2.5 * step_s)
}

/// Gives each moment that may lie in a hole of the points it is read from a ± that reaches over the hole.
pub fn widen(events: &mut Events, figure: &Figure, peak_s: f64) -> Option<Warning> {
    use EventId::{Contact, Extension, FootOff, HandsStart, Plant, Touch};
    let around = (peak_s - UNSEEN_BEFORE_S, peak_s + UNSEEN_AFTER_S);
    let foot = if figure.front.toe.is_empty() && figure.front.heel.is_empty() {
        vec![&figure.front.ankle]
    } else {
        vec![&figure.front.toe, &figure.front.heel]
    };
    let mut unsure: Option<(f64, f64)> = None;
    for (series, ids) in
        [(foot, [FootOff, Touch, Plant]), (vec![&figure.hands], [HandsStart, Contact, Extension])]
    {
        let holes: Vec<_> = series.iter().flat_map(|s| holes(s, figure.step_s, around)).collect();
        for id in ids {
            // A person, the sound and the ball do not need the points.
            let Some(event) = events.get_mut(&id).filter(|e| e.source == Source::Motion) else { continue };
            let (t, own_s) = (event.time_s, event.plus_minus_s);
            for (from_s, to_s) in &holes {
                if t > from_s - UNSEEN_NEAR_S && t < to_s + UNSEEN_NEAR_S {
                    let reach_s = (t - from_s).abs().max((to_s - t).abs());
                    event.plus_minus_s = event.plus_minus_s.max(reach_s + own_s / 2.0);
                    event.confidence = event.confidence.min(0.2);
                    let so_far = unsure.get_or_insert((*from_s, *to_s));
                    *so_far = (so_far.0.min(*from_s), so_far.1.max(*to_s));
                }
            }
        }
    }
    let (from_s, to_s) = unsure?;
    Some(Warning::PointsMissing { from_s, to_s })
}

/// Stretches inside the series without a point, s.
fn holes(series: &Series, step_s: f64, (from_s, to_s): (f64, f64)) -> Vec<(f64, f64)> {
    let longest_s = UNSEEN_HOLE_S.max(UNSEEN_HOLE_PICTURES * step_s);
    let pairs = series.times_s.windows(2).map(|w| (w[0], w[1]));
    pairs.filter(|(a, b)| b - a > longest_s && *b > from_s && *a < to_s).collect()
}
