//! What people do before a camera who do not swing. How they move is common practice, no source.

use serde::{Deserialize, Serialize};

use super::curve::{ease, softened};
use super::dice::Dice;
use super::figure::Figure;
use super::puppet::{Arms, Puppet};
use super::scenario::{Aside, Scenario};
use super::scenarios;
use super::swing::Swing;
use super::v3::{V3, v3};
use crate::types::{Side, View};

/// One of them. The middle of each is where contact would be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Pastime {
    /// Down onto a seat and up again.
    Sits,
    /// On the back or the side, one arm stirs.
    Lies,
    /// One arm waves, the other hangs.
    WavesOneArm,
    /// Both hands overhead, together from side to side.
    WavesBothArms,
    /// A ball, overhand, with a step.
    Throws,
    /// The hips sway, both arms swing to both sides.
    Dances,
    /// On the knees, both hands low in front, as with a dog.
    Kneels,
    /// A ball from the ground.
    PicksUp,
    /// Load and stride, no swing.
    Takes,
    /// The hands start and stop half way.
    ChecksSwing,
}

impl Pastime {
    /// All of them, in the order above.
    pub const ALL: [Self; 10] = [
        Self::Sits,
        Self::Lies,
        Self::WavesOneArm,
        Self::WavesBothArms,
        Self::Throws,
        Self::Dances,
        Self::Kneels,
        Self::PicksUp,
        Self::Takes,
        Self::ChecksSwing,
    ];

    /// A clip of it: another body, place of the camera and pace each seed; without sound.
    pub fn scenario(self, seed: u64, view: View, rate_hz: f64) -> Scenario {
        let bats = if seed.is_multiple_of(2) { Side::Right } else { Side::Left };
        let mut s = scenarios::wide(&format!("{self:?} {seed}"), seed, bats);
        (s.camera.view, s.camera.rate_hz) = (view, rate_hz);
        (s.aside, s.sound) = (Some(Aside::Pastime(self)), None);
        Scenario { duration_s: s.contact_s + 1.6, ..s }
    }
}

/// Somebody at it, real s of the clip.
pub fn pose_at(what: Pastime, s: &Scenario, swing: &Swing, time_s: f64) -> Figure {
    let mut dice = Dice::stream(s.swing_seed, 47);
    let t = time_s - s.contact_s;
    match what {
        Pastime::Takes => held_back(swing, &mut dice, t, false),
        Pastime::ChecksSwing => held_back(swing, &mut dice, t, true),
        _ => {
            let pace = dice.between(0.75, 1.35);
            let yaw = dice.between(-55.0, 55.0).to_radians();
            let draws: [f64; 4] = std::array::from_fn(|_| dice.unit());
            puppet(what, yaw, t * pace, draws).figure(&s.hitter)
        }
    }
}

/// The swing up to a moment, slower and slower until it stands; then back to the stance.
fn held_back(swing: &Swing, dice: &mut Dice, t: f64, started: bool) -> Figure {
    let timing = swing.timing();
    // Stopped before the hands go, or well before the bat is over the plate.
    let (stop, brakes_s) = if started {
        (-timing.hands_s * dice.between(0.30, 0.48), dice.between(0.02, 0.035))
    } else {
        (-timing.hands_s - dice.between(0.0, 0.03), 0.06)
    };
    let from = stop - brakes_s;
    let slowed = |t: f64| {
        let u = (t - from).clamp(0.0, 2.0 * brakes_s);
        t.min(from) + u - u * u / (4.0 * brakes_s)
    };
    let held = slowed(t);
    let back = ease(t, stop + 0.35, stop + 1.3);
    if back == 0.0 {
        return swing.pose_at(held);
    }
    super::act::between(&swing.pose_at(held), &swing.pose_at(-timing.move_s - 0.3), back)
}

/// Body heights; `t` runs at the person's own pace.
fn puppet(what: Pastime, yaw: f64, t: f64, d: [f64; 4]) -> Puppet {
    let part = |i: usize, lo: f64, hi: f64| lo + (hi - lo) * d[i];
    let turn = |hz: f64| (std::f64::consts::TAU * (hz * t + d[3])).sin();
    let on = ease(t, -1.2, -0.8);
    let standing = Puppet::standing(yaw);
    match what {
        Pastime::Sits => {
            let down = ease(t, -1.0, -0.1) - ease(t, 0.35, 1.2);
            let bend = softened(t, 0.1, |t| ease(t, -1.0, -0.6) - ease(t, -0.45, 0.0))
                + softened(t, 0.1, |t| ease(t, 0.2, 0.6) - ease(t, 0.7, 1.2));
            let hands = V3::ZERO.lerp(v3(0.20, 0.02, 0.06), down);
            let arms = Arms::hanging().moved(hands, hands);
            Puppet {
                pelvis: standing.pelvis + v3(-0.16 * down, 0.0, -0.25 * down),
                spine: v3(0.03 + 0.75 * bend, 0.0, 1.0),
                arms,
                ..standing
            }
        }
        Pastime::Lies => {
            let (round, hz) = (part(0, 0.06, 0.16), part(1, 0.5, 1.4));
            let phase = std::f64::consts::TAU * hz * t;
            let stirs = v3(0.22 + round * phase.cos(), round * phase.sin(), 0.20) * on;
            let arms = Arms::hanging().moved(V3::ZERO, stirs);
            // Some lie from the first picture on, some lie down.
            let lies = if d[2] < 0.5 { 1.0 } else { ease(t, -1.5, -0.5) };
            Puppet { arms, tilt: lies * part(3, 78.0, 92.0).to_radians(), raised: 0.25 * lies, ..standing }
        }
        Pastime::WavesOneArm => {
            let aside = part(0, 0.08, 0.18) * turn(part(1, 0.9, 2.2)) * on;
            let arms = Arms::hanging().to(None, Some(v3(0.08, -0.06 - aside, 0.26)), on);
            Puppet { arms, ..standing }
        }
        Pastime::WavesBothArms => {
            let aside = part(0, 0.06, 0.16) * turn(part(1, 0.7, 1.5)) * on;
            let apart = part(2, -0.09, 0.05);
            let hand = |side: f64| Some(v3(0.06, side * apart + aside, 0.26));
            let arms = Arms::hanging().to(hand(1.0), hand(-1.0), on);
            Puppet { arms, twist: 0.3 * aside, ..standing }
        }
        Pastime::Throws => throws(standing, t, part(0, 0.10, 0.26)),
        Pastime::Dances => {
            let hz = part(0, 0.6, 1.1);
            let (hips, arms) = (0.05 * turn(hz) * on, part(1, 0.10, 0.24) * turn(hz) * on);
            let hand = |side: f64| Some(v3(0.22, side * part(2, -0.11, -0.02) + arms, -0.12));
            Puppet {
                pelvis: standing.pelvis + v3(0.0, hips, -0.02 - 0.012 * turn(2.0 * hz)),
                spine: v3(0.04, -0.5 * hips, 1.0),
                twist: 1.4 * arms,
                arms: Arms::hanging().to(hand(1.0), hand(-1.0), on),
                ..standing
            }
        }
        Pastime::Kneels => {
            let pats = part(0, 0.03, 0.10) * turn(part(1, 0.8, 1.8));
            let hand = |side: f64| Some(v3(0.18 + pats, side * part(2, -0.10, -0.02), -0.26 + 0.5 * pats));
            Puppet {
                pelvis: v3(-0.05, 0.0, 0.285),
                spine: v3(0.55 + 0.4 * part(3, 0.0, 1.0), 0.0, 1.0),
                feet_back: 0.24,
                arms: Arms::hanging().to(hand(1.0), hand(-1.0), 1.0),
                ..standing
            }
        }
        _ => {
            let down = ease(t, -0.9, -0.1) - ease(t, 0.15, 0.9);
            let hand = v3(0.10, 0.04, -0.30);
            let left = Arms::hanging().left.lerp(v3(0.02, 0.02, -0.26), down);
            Puppet {
                pelvis: standing.pelvis + v3(-0.08 * down, 0.0, -0.16 * down),
                spine: v3(0.03 + 2.2 * down, 0.0, 1.0),
                arms: Arms::hanging().to(Some(left), Some(hand), down),
                ..standing
            }
        }
    }
}

/// Side on to the target, hands together, a step, the arm over the top, the trunk round.
fn throws(standing: Puppet, t: f64, step: f64) -> Puppet {
    let steps = ease(t, -0.55, -0.12);
    let lift = softened(t, 0.03, |t| ease(t, -0.55, -0.35) - ease(t, -0.33, -0.12));
    let whirls = ease(t, -0.14, 0.16);
    let together = v3(0.17, -0.09, 0.0);
    let parted = ease(t, -0.6, -0.15);
    // In the chest's own terms: to the front, to the left (the target), up.
    let angle = std::f64::consts::PI * (1.05 - 1.15 * whirls);
    let over = v3(0.05 + 0.10 * whirls, 0.28 * angle.cos() - 0.06 * whirls, 0.26 * angle.sin());
    let right = v3(0.17, 0.09, 0.0).lerp(over, parted);
    let left = together.lerp(v3(0.06, 0.24, 0.02), parted).lerp(v3(0.12, 0.02, -0.10), whirls);
    let on = ease(t, -1.3, -0.9);
    Puppet {
        pelvis: standing.pelvis + v3(0.0, 0.6 * step * steps, -0.01 - 0.2 * step * steps),
        spine: v3(0.04, 0.25 * whirls - 0.12 * parted * (1.0 - whirls), 1.0),
        twist: -1.45 * whirls,
        hips: -1.1 * ease(t, -0.2, 0.08),
        step: step * steps,
        lift: 0.10 * lift,
        arms: Arms::hanging().to(Some(left), Some(right), on),
        ..standing
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo::Hitter;
    use crate::types::Part;

    /// Nothing jumps, no limb stretches, nobody sinks into the ground.
    #[test]
    fn each_is_a_body_that_moves_without_jumps() {
        for what in Pastime::ALL {
            for seed in 0..6 {
                let mut s = Scenario::new("idle", Hitter::new("Invented", Side::Right, 178.0, 84.0));
                (s.aside, s.swing_seed) = (Some(Aside::Pastime(what)), seed);
                let swing = Swing::of(&s);
                let mut last: Option<Figure> = None;
                for i in 0..600 {
                    let f = pose_at(what, &s, &swing, f64::from(i) / 200.0);
                    let name = format!("{what:?} {seed} at {:.3}", f64::from(i) / 200.0);
                    for (a, b, most_m) in [
                        (Part::LeftShoulder, Part::LeftElbow, 0.36),
                        (Part::LeftElbow, Part::LeftWrist, 0.29),
                        (Part::RightHip, Part::RightKnee, 0.46),
                        (Part::RightKnee, Part::RightAnkle, 0.46),
                    ] {
                        assert!(f.at(a).distance(f.at(b)) < most_m, "{name}: {a:?} to {b:?}");
                    }
                    assert!(f.parts.iter().all(|p| p.z > -0.05), "{name}: under the ground {:?}", f.parts);
                    if let Some(last) = &last {
                        let far = f.parts.iter().zip(last.parts).map(|(a, b)| a.distance(b));
                        let far = far.fold(0.0, f64::max);
                        // Once in a throw the elbow turns over as the arm comes up behind: not yet mended.
                        let most_m = if what == Pastime::Throws { 0.35 } else { 0.12 };
                        assert!(far < most_m, "{name}: a part goes {far:.3} m in 5 ms");
                    }
                    last = Some(f);
                }
            }
        }
    }

    /// A take's hands hardly move past the body, a checked swing's stop before the plate.
    #[test]
    fn what_is_held_back_is_no_swing() {
        for seed in 0..8 {
            let mut s = Scenario::new("held", Hitter::new("Invented", Side::Right, 178.0, 84.0));
            s.swing_seed = seed;
            let swing = Swing::of(&s);
            let past = |f: &Figure| f.hands() - f.pelvis;
            let reach = |f: &dyn Fn(f64) -> Figure| {
                let first = past(&f(-swing.timing().hands_s - 0.1)).x;
                (-30..=60).map(|i| past(&f(f64::from(i) / 100.0)).x - first).fold(0.0, f64::max)
            };
            let whole = reach(&|t| swing.pose_at(t));
            let held = |started| reach(&|t| held_back(&swing, &mut Dice::stream(seed, 47), t, started));
            assert!(held(false) < 0.15 * whole, "take {} of {whole}", held(false));
            let share = held(true) / whole;
            assert!((0.1..0.7).contains(&share), "checked {share}");
        }
    }
}
