//! What the front foot does: foot off, touch, plant. Toe taps do not fool it: the last time on the ground
//! before the swing counts, and a tap is followed by another foot off.

use super::centre::Moment;
use super::figure::Figure;
use super::landing::Landing;
use super::params::{
    AFTER_TOUCH_S, AFTER_TOUCH_SD_S, BACK_FOOT_STANDS, BACK_FOOT_WITHIN_S, FOOT_LIFTED, FOOT_MOVED,
    FOOT_MOVES, FOOT_MOVES_DOUBT, FOOT_TOUCHED, HEEL_SPEED, LANDS_TOO_LATE_S, LATEST_STRIDE_S,
    LONGEST_LANDING_S, LONGEST_STRIDE_S, LOOK_EARLIER_S, MOST_TAPS, NO_STRIDE, TOUCH_PM_S, TURNED_FOOT_PM_S,
};
use super::series::{Series, moments};
use super::settle::{self, Along};
use crate::math::median_of;
use crate::types::Point;

#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FrontFoot {
    pub foot_off: Option<Moment>,
    pub touch: Option<Moment>,
    pub plant: Option<Moment>,
    /// Ground contacts between the first lift and plant.
    pub taps: usize,
    pub strode: bool,
}

/// One moment of the foot.
#[derive(Debug, Clone, Copy)]
struct Step {
    t: f64,
    /// Speed of the toe, body heights per s.
    toe: f64,
    toe_at: Point,
    heel_at: Point,
}

/// The front foot's last landing before the hands are fastest (`swing_s`).
pub fn landed_foot(figure: &Figure, from_s: f64, swing_s: f64, contact_s: f64) -> FrontFoot {
    let mut foot = landed_in_time(figure, from_s, swing_s, contact_s);
    if let Some(plant_s) = foot.plant.map(|p| p.time_s) {
        // The back foot stands while the front foot lands. If it seems to move, the camera's motion was not taken out
        // rightly, and the front foot came to rest no surer than that.
        // What moves least counts: the foot may turn on its ball, and one of its points may be seen badly.
        let foot_points = [&figure.back.toe, &figure.back.heel, &figure.back.ankle];
        let moved = foot_points.into_iter().filter_map(|s| slid(s, plant_s, figure.slow_half_s()));
        let moved = moved.reduce(f64::min).unwrap_or(0.0);
        let unsure_s = (moved - BACK_FOOT_STANDS).max(0.0) / HEEL_SPEED;
        for moment in [&mut foot.plant, &mut foot.touch].into_iter().flatten() {
            moment.plus_minus_s = moment.plus_minus_s.hypot(unsure_s);
        }
    }
    foot
}

/// How far a point gets along the ground up to a moment, body heights.
fn slid(series: &Series, until_s: f64, half_s: f64) -> Option<f64> {
    let x = |t: f64| series.at(t, half_s).map(|p| p.x);
    Some((x(until_s)? - x(until_s - BACK_FOOT_WITHIN_S)?).abs())
}

/// The landing, looked for once more where it is too late for a landing.
fn landed_in_time(figure: &Figure, from_s: f64, swing_s: f64, contact_s: f64) -> FrontFoot {
    let foot = front_foot(figure, from_s, swing_s, contact_s);
    let too_late = |f: &FrontFoot| f.plant.is_some_and(|p| p.time_s > swing_s - LANDS_TOO_LATE_S);
    if !too_late(&foot) {
        return foot;
    }
    let mut earlier = front_foot(figure, from_s, swing_s - LOOK_EARLIER_S, contact_s);
    if earlier.plant.is_none() || too_late(&earlier) {
        return foot;
    }
    for moment in [&mut earlier.plant, &mut earlier.touch].into_iter().flatten() {
        moment.plus_minus_s = moment.plus_minus_s.hypot(TURNED_FOOT_PM_S);
    }
    earlier
}

/// `swing_s`: when the hands are fastest; the foot is planted by then.
fn front_foot(figure: &Figure, from_s: f64, swing_s: f64, contact_s: f64) -> FrontFoot {
    let (toe, heel) = (&figure.front.toe, &figure.front.heel);
    // Without toes or heels (some estimators) the ankle stands for them.
    let toe = if toe.is_empty() { &figure.front.ankle } else { toe };
    let heel = if heel.is_empty() { toe } else { heel };
    let half_s = figure.slow_half_s();
    let steps = walk(toe, heel, from_s, swing_s + 0.12, half_s, figure.step_s);
    let Some(home) = Home::of(toe, heel, swing_s) else { return FrontFoot::default() };
    let tolerance = FOOT_MOVED.max(3.0 * figure.noise);
    let away = |s: &Step| s.toe_at.distance(home.toe).max(s.heel_at.distance(home.heel));
    let moved =
        steps.iter().filter(|s| s.t < swing_s).map(|s| s.toe_at.distance(home.toe)).fold(0.0, f64::max);
    let mut foot = FrontFoot { strode: moved >= tolerance.max(NO_STRIDE), ..FrontFoot::default() };
    // Roughly: the last time before the swing that toe or heel was still away from where it stands in it.
    let Some(rough) = steps.iter().rposition(|s| s.t <= swing_s && away(s) > tolerance) else { return foot };
    let settled = |series: &Series, rough_s: f64, along: Along, speed: f64| {
        settle::rest(series, rough_s, along, speed, figure.step_s).map_or(rough_s, |r| r.time_s)
    };
    let last_away = |at: &dyn Fn(&Step) -> f64| {
        steps.iter().rposition(|s| s.t <= swing_s && at(s) > tolerance).map(|i| steps[i].t)
    };
    let toe_away = last_away(&|s| s.toe_at.distance(home.toe));
    let heel_away = last_away(&|s| s.heel_at.distance(home.heel));
    let net = figure.wander > 0.0;
    let landing = |series: &Series, rough_s: f64| {
        let wander = wander(&figure.back.toe, rough_s - 0.55, rough_s - 0.05).max(wander(
            &figure.back.heel,
            rough_s - 0.55,
            rough_s - 0.05,
        ));
        Landing::of(series, rough_s, figure.step_s, wander, net)
    };
    let landing = Landing::last(toe_away.map(|s| landing(toe, s)), heel_away.map(|s| landing(heel, s)));
    let Some(landing) = landing else { return foot };
    let seen_s = landing.seen_s();
    if seen_s < swing_s - LATEST_STRIDE_S {
        // It has stood since long before: whatever moved it then is not this swing's stride.
        return FrontFoot::default();
    }
    if !foot.strode {
        foot.plant = Some(Moment { time_s: seen_s, plus_minus_s: figure.step_s.max(0.03) });
        return foot;
    }
    // The forefoot's own fall ends at touch: at or before plant.
    let above = |s: &Step| (s.toe_at.y - home.toe.y).abs();
    let falling = steps.iter().rposition(|s| s.t <= steps[rough].t && above(s) > tolerance * 0.7);
    let touch_s = falling.map_or(seen_s, |i| settled(toe, steps[i].t, Along::Up, FOOT_TOUCHED)).min(seen_s);
    if touch_s < seen_s - LONGEST_LANDING_S {
        // The fall that was seen is not the one that this foot landed with.
        foot.plant = Some(Moment { time_s: seen_s, plus_minus_s: figure.step_s.max(0.04) });
        return foot;
    }
    foot.plant = landing.after(touch_s, contact_s, figure.step_s, net);
    // A toe that slides in low shows no fall: then touch may be as late as is usual before full weight.
    let unusual_s = foot.plant.map_or(0.0, |p| p.time_s - AFTER_TOUCH_S - touch_s);
    let early_s = if unusual_s > 3.0 * AFTER_TOUCH_SD_S { unusual_s } else { 0.0 };
    foot.touch = Some(Moment { time_s: touch_s, plus_minus_s: figure.step_s.max(TOUCH_PM_S).max(early_s) });
    let touch_i = steps.iter().rposition(|s| s.t <= touch_s).unwrap_or(0);
    let flights = flights(&steps, touch_i, home.toe.y, FOOT_MOVES);
    if let Some((off_i, _)) = flights.first() {
        // A foot that hardly moves for a while: how slow counts as standing decides when it left.
        let [slower, quicker] = [1.0 / FOOT_MOVES_DOUBT, FOOT_MOVES_DOUBT].map(|times| {
            let flights = self::flights(&steps, touch_i, home.toe.y, times * FOOT_MOVES);
            flights.first().map_or(*off_i, |f| f.0)
        });
        let mut offs = [slower, *off_i, quicker].map(|i| steps[i].t);
        offs.sort_by(f64::total_cmp);
        let [first_s, off_s, last_s] = offs;
        // A pose net's toe seems to stir before it leaves the ground (on the bench).
        let early_s = if figure.wander > 0.0 { 0.010 + 0.3 * figure.step_s } else { 0.0 };
        let unsure_s = (off_s - first_s).max(last_s - off_s);
        let plus_minus_s = 0.036f64.max(1.3 * figure.step_s) + unsure_s;
        foot.foot_off = (off_s >= touch_s - LONGEST_STRIDE_S)
            .then(|| Moment { time_s: (off_s + early_s).min(touch_s), plus_minus_s });
    }
    foot.taps = flights.len().saturating_sub(1);
    if foot.taps > MOST_TAPS {
        // Nobody taps so often: the foot is restless, or its points are.
        (foot.taps, foot.foot_off) = (0, None);
    }
    foot
}

/// How far a standing foot's point strays over about a tenth of a second, body heights: what is left of the
/// back foot's motion after 50 ms means, a straight line taken out.
fn wander(foot: &Series, from_s: f64, to_s: f64) -> f64 {
    let means: Vec<Point> = moments(from_s, to_s - 0.05, 0.05)
        .filter_map(|t| {
            let of = |f: fn(&Point) -> f64| {
                let inside = foot.times_s.iter().zip(&foot.points);
                let picked: Vec<f64> =
                    inside.filter(|(u, _)| **u >= t && **u < t + 0.05).map(|(_, p)| f(p)).collect();
                (!picked.is_empty()).then(|| picked.iter().sum::<f64>() / picked.len() as f64)
            };
            Some(Point::new(of(|p| p.x)?, of(|p| p.y)?))
        })
        .collect();
    // Second differences of a line are nothing; of independent means they have sd √6 times theirs.
    let bends: Vec<f64> = means
        .windows(3)
        .flat_map(|w| {
            let d = w[0] - w[1] * 2.0 + w[2];
            [d.x.abs(), d.y.abs()]
        })
        .collect();
    median_of(bends).unwrap_or(0.02) / 0.6745 / 6.0f64.sqrt()
}

/// Where the front foot stands while the hands fly.
struct Home {
    toe: Point,
    heel: Point,
}

impl Home {
    fn of(toe: &Series, heel: &Series, swing_s: f64) -> Option<Self> {
        let place = |s: &Series| s.median(swing_s - 0.06, swing_s + 0.03);
        Some(Self { toe: place(toe)?, heel: place(heel)? })
    }
}

fn walk(toe: &Series, heel: &Series, from_s: f64, to_s: f64, half_s: f64, step_s: f64) -> Vec<Step> {
    moments(from_s, to_s, (step_s / 2.0).min(1.0 / 240.0))
        .filter_map(|t| {
            let (toe, heel) = (toe.fit(t, half_s)?, heel.fit(t, half_s)?);
            Some(Step { t, toe: toe.velocity.length(), toe_at: toe.at, heel_at: heel.at })
        })
        .collect()
}

/// Stretches off the ground before touch, latest first: (first step in the air, last step in the air). A toe that is
/// quicker than `moves`, body heights per s, is in the air.
fn flights(steps: &[Step], touch_i: usize, ground: f64, moves: f64) -> Vec<(usize, usize)> {
    let airborne = |s: &Step| s.toe >= moves || s.toe_at.y > ground + 2.0 * FOOT_LIFTED;
    let mut all = Vec::new();
    let mut i = touch_i;
    while i > 0 {
        while i > 0 && !airborne(&steps[i - 1]) {
            i -= 1;
        }
        let last = i;
        while i > 0 && airborne(&steps[i - 1]) {
            i -= 1;
        }
        // A foot that moves along the ground for a moment has not left it.
        let high = steps[i..last].iter().map(|s| s.toe_at.y).fold(f64::MIN, f64::max);
        let long = last > i && steps[last - 1].t - steps[i].t > 0.04;
        if long && (high > ground + FOOT_LIFTED || all.is_empty()) {
            all.push((i, last));
        }
    }
    all
}
