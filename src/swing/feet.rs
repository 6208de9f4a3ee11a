//! What the front foot does: foot off, touch, plant. Toe taps do not fool it: the last time on the ground
//! before the swing counts, and a tap is followed by another foot off.

use super::centre::Moment;
use super::figure::Figure;
use super::series::{Series, crossing, moments};

/// A foot slower than this stands, body heights per s (about 0.3 m/s; own choice between the net's jitter
/// and a stride's 2–3 m/s).
const STANDS: f64 = 0.22;
/// It must stay slow this long to be planted, s (science: about 50 ms).
const STAYS_S: f64 = 0.05;
/// A foot that never leaves its place by more than this did not stride, body heights.
const NO_STRIDE: f64 = 0.02;

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
    /// Speeds, body heights per s.
    toe: f64,
    heel: f64,
    toe_fall: f64,
    toe_height: f64,
}

/// `swing_s`: when the hands are fastest; the foot is planted by then.
pub fn front_foot(figure: &Figure, from_s: f64, swing_s: f64) -> FrontFoot {
    let (toe, heel) = (&figure.front.toe, &figure.front.heel);
    // Without toes or heels (some estimators) the ankle stands for them.
    let toe = if toe.is_empty() { &figure.front.ankle } else { toe };
    let heel = if heel.is_empty() { toe } else { heel };
    let half_s = figure.slow_half_s();
    let to_s = swing_s + 0.12;
    let steps = walk(toe, heel, from_s, to_s, half_s, figure.step_s);
    let Some(at_swing) = steps.iter().rposition(|s| s.t <= swing_s) else { return FrontFoot::default() };
    let planted = toe.median(swing_s - 0.04, swing_s + 0.06);
    let moved = steps
        .iter()
        .take(at_swing)
        .filter_map(|s| Some(toe.at(s.t, half_s)?.distance(planted?)))
        .fold(0.0, f64::max);
    let strode = moved >= NO_STRIDE.max(4.0 * figure.noise);
    let mut foot = FrontFoot { strode, ..FrontFoot::default() };
    let Some(plant_i) = slow_since(&steps, at_swing, |s| s.toe.max(s.heel)) else { return foot };
    foot.plant = Some(moment(&steps, plant_i, |s| s.toe.max(s.heel), figure.step_s));
    if !strode {
        return foot;
    }
    // The forefoot's own fall ends at touch: at or before plant.
    let touch_i = slow_since(&steps, at_swing, |s| s.toe_fall).map_or(plant_i, |i| i.min(plant_i));
    foot.touch = Some(moment(&steps, touch_i, |s| s.toe_fall, figure.step_s));
    let flights = flights(&steps, touch_i, planted.map_or(0.0, |p| p.y));
    if let Some((off_i, _)) = flights.first() {
        foot.foot_off =
            Some(Moment { time_s: steps[*off_i].t, plus_minus_s: 0.03f64.max(1.5 * figure.step_s) });
    }
    foot.taps = flights.len().saturating_sub(1);
    foot
}

fn walk(toe: &Series, heel: &Series, from_s: f64, to_s: f64, half_s: f64, step_s: f64) -> Vec<Step> {
    moments(from_s, to_s, (step_s / 2.0).min(1.0 / 240.0))
        .filter_map(|t| {
            let (toe, heel) = (toe.fit(t, half_s)?, heel.fit(t, half_s)?);
            Some(Step {
                t,
                toe: toe.velocity.length(),
                heel: heel.velocity.length(),
                toe_fall: toe.velocity.y.abs().max(0.5 * toe.velocity.x.abs()),
                toe_height: toe.at.y,
            })
        })
        .collect()
}

/// Going back from the swing: the first step of the last stretch in which `speed` is low and stays low.
fn slow_since(steps: &[Step], at_swing: usize, speed: impl Fn(&Step) -> f64) -> Option<usize> {
    // The foot may still pivot while the hands fly: begin where it is slowest shortly before.
    let from = steps[..=at_swing].iter().rposition(|s| s.t < steps[at_swing].t - 0.25).unwrap_or(0);
    let quiet = (from..=at_swing).min_by(|a, b| speed(&steps[*a]).total_cmp(&speed(&steps[*b])))?;
    let stays =
        |i: usize| steps[i..].iter().take_while(|s| s.t <= steps[i].t + STAYS_S).all(|s| speed(s) < STANDS);
    if speed(&steps[quiet]) >= STANDS {
        return None;
    }
    let mut first = quiet;
    while first > 0 && speed(&steps[first - 1]) < STANDS {
        first -= 1;
    }
    // A short quiet moment that does not last is the top of a lift, not a plant.
    (first..=quiet).find(|i| stays(*i)).or(Some(first))
}

/// The sub-frame moment at which `speed` came down to the level at step `i`.
fn moment(steps: &[Step], i: usize, speed: impl Fn(&Step) -> f64, step_s: f64) -> Moment {
    let time_s = match i.checked_sub(1) {
        Some(j) => crossing(steps[j].t, speed(&steps[j]), steps[i].t, speed(&steps[i]), STANDS),
        None => steps[i].t,
    };
    Moment { time_s, plus_minus_s: step_s.max(0.015) }
}

/// Stretches off the ground before touch, latest first: (first step in the air, last step in the air).
fn flights(steps: &[Step], touch_i: usize, ground: f64) -> Vec<(usize, usize)> {
    const LIFTED: f64 = 0.012;
    let airborne = |s: &Step| s.toe >= STANDS || s.toe_height > ground + 2.0 * LIFTED;
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
        let high = steps[i..last].iter().map(|s| s.toe_height).fold(f64::MIN, f64::max);
        let long = last > i && steps[last - 1].t - steps[i].t > 0.04;
        if long && (high > ground + LIFTED || all.is_empty()) {
            all.push((i, last));
        }
    }
    all
}
