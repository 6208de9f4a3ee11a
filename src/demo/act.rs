use super::figure::{Bat, Figure, Head};
use super::scenario::{Aside, Practice, Scenario};
use super::swing::Swing;
use super::v3::V3;

/// After a practice swing's finish the hitter stands for a moment, then goes back to the stance, s.
const HOLD_S: f64 = 0.25;
const RETURN_S: f64 = 0.75;

/// What the hitter does through the whole clip: one swing, and a practice swing before it if planned.
pub fn pose_at(scenario: &Scenario, swing: &Swing, time_s: f64) -> Figure {
    let own = time_s - scenario.contact_s;
    match scenario.aside {
        Some(Aside::BackToStance | Aside::DrySwing) => return back_to_stance(swing, own),
        Some(Aside::Bunt { met_s }) => return bunt(swing, time_s - met_s),
        Some(Aside::Waggles { from_s, times }) => return waggles(swing, time_s - from_s, times),
        Some(Aside::Pastime(what)) => return super::pastime::pose_at(what, scenario, swing, time_s),
        None => (),
    }
    let Some(practice) = scenario.practice else { return swing.pose_at(own) };
    let back_s = back_s(&practice, swing);
    if time_s >= back_s + RETURN_S {
        return swing.pose_at(own);
    }
    // A practice swing runs slower as a whole; after its finish it stands as the finish does.
    let played = ((time_s - practice.middle_s) * practice.tempo).min(swing.timing().finish_s + HOLD_S);
    let before = swing.pose_at(played);
    if time_s <= back_s {
        return before;
    }
    between(&before, &swing.pose_at(own), super::curve::ease(time_s, back_s, back_s + RETURN_S))
}

/// Standing ready, `t_s` from contact.
fn ready(swing: &Swing, t_s: f64) -> Figure {
    swing.pose_at((-swing.timing().move_s - 0.3).min(t_s))
}

/// How long the bat is looked after, and the way back, s.
fn back_to_stance(swing: &Swing, own: f64) -> Figure {
    let finish = swing.timing().finish_s + HOLD_S;
    let (from, to) = (finish + 0.4, finish + 0.4 + 2.0 * RETURN_S);
    match own {
        t if t <= finish => swing.pose_at(t),
        t if t <= from => swing.pose_at(finish),
        t => between(&swing.pose_at(finish), &ready(swing, -9.0), super::curve::ease(t.min(to), from, to)),
    }
}

/// The bat held out where contact would be, the body quiet.
fn bunt(swing: &Swing, t_s: f64) -> Figure {
    use super::curve::ease;
    let out = swing.pose_at(-0.02);
    let share = ease(t_s.min(-0.5), -1.3, -0.5) - ease(t_s.max(0.6), 0.6, 1.6);
    between(&ready(swing, -9.0), &out, share)
}

/// Half a swing's way and back, a second and a half each.
fn waggles(swing: &Swing, t_s: f64, times: u8) -> Figure {
    const EACH_S: f64 = 1.5;
    let count = (t_s / EACH_S).floor();
    let on = t_s >= 0.0 && count < f64::from(times);
    let turn = std::f64::consts::TAU * (t_s / EACH_S).fract();
    let share = if on { 0.5 * (1.0 - turn.cos()) } else { 0.0 };
    between(&ready(swing, -9.0), &swing.pose_at(-0.07), share)
}

/// When the way back to the stance begins, real s of the clip.
fn back_s(practice: &Practice, swing: &Swing) -> f64 {
    practice.middle_s + (swing.timing().finish_s + HOLD_S) / practice.tempo
}

/// Part of the way from one pose to another. Limbs may shorten a little on the way; nothing is measured there.
pub(super) fn between(a: &Figure, b: &Figure, share: f64) -> Figure {
    let way = |a: V3, b: V3| a.lerp(b, share);
    let turn = |a: V3, b: V3| a.lerp(b, share).unit();
    let mut parts = a.parts;
    for (p, q) in parts.iter_mut().zip(b.parts) {
        *p = way(*p, q);
    }
    Figure {
        parts,
        pelvis: way(a.pelvis, b.pelvis),
        chest: way(a.chest, b.chest),
        chest_face: turn(a.chest_face, b.chest_face),
        pelvis_face: turn(a.pelvis_face, b.pelvis_face),
        head: Head {
            centre: way(a.head.centre, b.head.centre),
            face: turn(a.head.face, b.head.face),
            left: turn(a.head.left, b.head.left),
            up: turn(a.head.up, b.head.up),
        },
        bat: a.bat.zip(b.bat).map(|(a, b)| Bat { knob: way(a.knob, b.knob), tip: way(a.tip, b.tip) }),
        two_hands: a.two_hands && b.two_hands,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo::Hitter;
    use crate::types::{Part, Side};

    #[test]
    fn the_practice_swing_comes_first_and_nothing_jumps() {
        let mut s = Scenario::new("two", Hitter::new("Invented", Side::Right, 178.0, 84.0));
        s.practice = Some(Practice { middle_s: 1.4, tempo: 0.8 });
        s.contact_s = 4.4;
        let swing = Swing::new(&s.hitter, &s.style, &s.timing, 1);
        let speed = |t: f64| {
            let at = |t| pose_at(&s, &swing, t).at(Part::LeftHand);
            at(t + 0.001).distance(at(t - 0.001)) / 0.002
        };
        let fastest = |from: f64, to: f64| {
            (0..).map(|i| from + f64::from(i) * 0.004).take_while(|t| *t < to).map(speed).fold(0.0, f64::max)
        };
        let (practice, own) = (fastest(1.0, 2.0), fastest(3.9, 4.8));
        assert!((practice / own - 0.8).abs() < 0.03, "{practice} {own}");
        assert!(fastest(2.1, 3.6) < 0.5 * practice, "{}", fastest(2.1, 3.6));
    }
}
