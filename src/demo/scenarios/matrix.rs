//! Many scenarios over everything that a clip can be, for benches.

use super::*;

/// One thing that makes a clip of [`matrix`] harder than the rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Trouble {
    Nothing,
    LowLight,
    Baggy,
    FaceGuard,
    NetInFront,
    PeopleBehind,
    ToeTap,
    TwoTaps,
    NoStride,
    HandsDrop,
    PracticeSwing,
    LongExposure,
    Silent,
}

/// Each comes once at every rate in 64 clips; silence (no sound track) four times.
const TROUBLES: [Trouble; 16] = {
    use Trouble::*;
    [
        Nothing,
        LowLight,
        Silent,
        Baggy,
        ToeTap,
        FaceGuard,
        Silent,
        NoStride,
        Nothing,
        PeopleBehind,
        Silent,
        NetInFront,
        TwoTaps,
        HandsDrop,
        PracticeSwing,
        LongExposure,
    ]
};

/// The large bench: `n` clips over four rates, both sides, four camera places, three ways to hold the phone, and
/// one trouble each. 64 clips hold every trouble at every rate.
pub fn matrix(seed: u64, n: usize) -> Vec<Scenario> {
    matrix_of(varied, &format!("matrix{seed}"), seed, n)
}

/// The same with hitters of [`wide`].
pub fn wide_matrix(seed: u64, n: usize) -> Vec<Scenario> {
    matrix_of(wide, &format!("wide{seed}"), seed, n)
}

fn matrix_of(draw: fn(&str, u64, Side) -> Scenario, name: &str, seed: u64, n: usize) -> Vec<Scenario> {
    use View::{ClosedSide, FromBehind, FromFront, OpenSide};
    let rates = [30.0, 60.0, 120.0, 240.0];
    // Most are filmed from the open side.
    let views = [OpenSide, ClosedSide, OpenSide, FromBehind, OpenSide, OpenSide, FromFront, OpenSide];
    let holds = [Hold::Tripod, Hold::Light, Hold::Loose];
    let pick = |i: usize, n: usize| i % n.max(1);
    (0..n)
        .map(|i| {
            let (a, b) = (i % 4, i / 4);
            let bats = if (b / 2 + a) % 2 == 0 { Side::Right } else { Side::Left };
            let one = seed.wrapping_mul(1009).wrapping_add(i as u64);
            let mut s = draw(&format!("{name}_{:02}", i + 1), one, bats);
            let mut dice = Dice::stream(one, 41);
            s.camera.rate_hz = rates[a];
            s.camera.view = views[pick(b + 2 * a, views.len())];
            s.camera.hold = holds[pick(a + b + b / 4, holds.len())];
            s.scene.place = if dice.unit() < 0.5 { Place::Field } else { Place::Cage };
            // A phone's lens: as long as 0.72 to 1.1 times the picture (its main camera, and the narrower cut
            // of slow motion). How far away it stands follows from how large the hitter is to be.
            let long_sides = dice.between(0.72, 1.1);
            let focal_px = long_sides * s.camera.width.max(s.camera.height) as f64;
            let body_px = s.camera.body_share * s.camera.height as f64;
            s.camera.distance_m = (focal_px * s.hitter.height_cm / 100.0 / body_px).max(2.8);
            trouble(&mut s, TROUBLES[pick(3 * b + 4 * a, TROUBLES.len())], &mut dice);
            s
        })
        .collect()
}

fn trouble(s: &mut Scenario, what: Trouble, dice: &mut Dice) {
    match what {
        Trouble::Nothing => {}
        Trouble::LowLight => (s.camera.light, s.camera.noise, s.camera.shutter) = (0.5, 3.5, 0.8),
        Trouble::Baggy => s.look.baggy = 1.0,
        Trouble::FaceGuard => s.look.face_guard = true,
        Trouble::NetInFront => s.scene.net_in_front = true,
        Trouble::PeopleBehind => *s = with_people_behind(s.clone()),
        Trouble::ToeTap => s.style = s.style.with_stride(Stride::ToeTap(1), dice),
        Trouble::TwoTaps => s.style = s.style.with_stride(Stride::ToeTap(2), dice),
        Trouble::NoStride => s.style = s.style.with_stride(Stride::None, dice),
        Trouble::HandsDrop => s.style.hands_drop = dice.between(0.05, 0.09),
        Trouble::PracticeSwing => {
            s.practice = Some(Practice { middle_s: s.contact_s, tempo: dice.between(0.7, 0.85) });
            s.contact_s += 2.9;
            s.duration_s += 2.9;
        }
        Trouble::LongExposure => s.camera.shutter = 0.95,
        Trouble::Silent => s.sound = None,
    }
}

/// What is told of a clip of [`matrix`] in a table's row.
pub fn described(s: &Scenario) -> String {
    let stride = match s.style.stride {
        Stride::Low => "low stride",
        Stride::Kick => "leg kick",
        Stride::ToeTap(1) => "toe tap",
        Stride::ToeTap(_) => "two taps",
        Stride::None => "no stride",
    };
    let yes = |is: bool, what: &'static str| is.then_some(what);
    let rest = [
        yes(s.camera.hold == Hold::Light, "hand"),
        yes(s.camera.hold == Hold::Loose, "loose hand"),
        yes(s.sound.is_none() || s.stored_slower > 1.0, "no sound"),
        yes(s.camera.light < 1.0, "low light"),
        yes(s.look.baggy >= 1.0, "baggy"),
        yes(s.look.face_guard, "face guard"),
        yes(s.scene.net_in_front, crate::messages::demo::NET_IN_FRONT),
        yes(!s.scene.bystanders.is_empty(), "people behind"),
        yes(s.style.hands_drop > 0.0, "hands drop"),
        yes(s.practice.is_some(), "practice swing"),
        yes(s.camera.shutter > 0.9, "long exposure"),
    ];
    let view = match s.camera.view {
        View::OpenSide => "open",
        View::ClosedSide => "closed",
        View::FromBehind => "behind",
        View::FromFront => "front",
    };
    let side = if s.hitter.bats == Side::Left { "left" } else { "right" };
    let mut all = vec![format!("{:.0} fps", s.camera.rate_hz), side.into(), view.into(), stride.into()];
    all.extend(rest.into_iter().flatten().map(str::to_owned));
    all.join(", ")
}

/// The same swing filmed by a phone that stands and by one that is held loosely: (tripod, hand).
pub fn still_and_shaking(seed: u64, n: usize) -> Vec<(Scenario, Scenario)> {
    (0..n as u64)
        .map(|i| {
            let one = seed.wrapping_mul(2003).wrapping_add(i);
            let bats = if i % 2 == 0 { Side::Right } else { Side::Left };
            let mut still = varied(&format!("still{seed}_{i}"), one, bats);
            still.camera.rate_hz = if i % 4 < 2 { 60.0 } else { 120.0 };
            still.scene.place = if i % 3 == 0 { Place::Cage } else { Place::Field };
            let mut shaking = Scenario { name: format!("shaking{seed}_{i}"), ..still.clone() };
            shaking.camera.hold = Hold::Loose;
            (still, shaking)
        })
        .collect()
}
