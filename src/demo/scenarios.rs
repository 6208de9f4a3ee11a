//! Ready scenarios. Club, hitters and swings are invented: the Harrow Lane Lanterns, with Wren
//! Castellow, who bats right, and Ives Marrowby, who bats left.

mod matrix;

use super::ball::BallSource;
use super::camera::{CameraPlan, Hold};
use super::dice::Dice;
use super::hitter::{Hitter, Limbs};
use super::scenario::{Bystander, Outfit, Place, Practice, Scenario, Scene, SoundPlan};
use super::style::{Stride, Style, Timing};
use crate::types::{Side, View};

pub use matrix::{described, matrix, still_and_shaking, wide_matrix};

/// Right-handed, 176 cm.
pub fn wren_castellow() -> Hitter {
    Hitter::new("Wren Castellow", Side::Right, 176.0, 83.8)
}

/// Left-handed, 168 cm.
pub fn ives_marrowby() -> Hitter {
    Hitter { build: 1.06, ..Hitter::new("Ives Marrowby", Side::Left, 168.0, 81.3) }
}

/// Wren's good swing.
fn wren_style() -> Style {
    Style {
        hands_height: 0.02,
        stance_width: 0.29,
        plant_width: 0.45,
        knee_contact_deg: 166.0,
        ..Style::default()
    }
}

/// Today's rep and the best rep of one hitter. Today the hands go down late and start with a small
/// hitch, the head drifts some 8 cm more, the stride is longer, the front knee stays soft; all of it
/// things a coach would see. Different phones: today 60 Hz in the hand, best 240 Hz on a tripod, nearer,
/// with another start.
pub fn two_reps() -> [Scenario; 2] {
    let best_style = wren_style();
    let mut dice = Dice::new(2024);
    let today_style = Style {
        drop_delay_s: 0.03,
        hitch: 0.02,
        head_drift: best_style.head_drift + 0.045,
        plant_width: best_style.plant_width + 0.055,
        knee_contact_deg: 151.0,
        lean_back_deg: 9.0,
        ..best_style.next_rep(&mut dice)
    };
    let timing = Timing::default();
    let late = Timing { plant_s: 0.170, touch_s: 0.222, hands_s: 0.150, ..timing.next_rep(&mut dice) };
    let today = Scenario {
        style: today_style,
        timing: late,
        camera: CameraPlan {
            hold: Hold::Light,
            rate_hz: 60.0,
            body_share: 0.50,
            place: [0.46, 0.57],
            ..CameraPlan::default()
        },
        look: Outfit {
            jersey: [176, 52, 44],
            sleeves: [222, 214, 200],
            helmet: [62, 22, 26],
            gloves: [44, 44, 50],
            socks: [120, 32, 32],
            ..Outfit::default()
        },
        swing_seed: 11,
        camera_seed: 12,
        duration_s: 3.4,
        contact_s: 2.15,
        ..Scenario::new("today", wren_castellow())
    };
    let best = Scenario {
        style: best_style,
        timing,
        camera: CameraPlan {
            distance_m: 6.0,
            height_m: 1.1,
            body_share: 0.60,
            place: [0.45, 0.55],
            rate_hz: 240.0,
            shutter: 0.45,
            noise: 1.2,
            ..CameraPlan::default()
        },
        scene: Scene { place: Place::Cage, ..Scene::default() },
        ball: BallSource::Toss,
        swing_seed: 21,
        camera_seed: 22,
        duration_s: 3.0,
        contact_s: 1.75,
        ..Scenario::new("best", wren_castellow())
    };
    [today, best]
}

/// The same rep seen by a second phone: from behind, at another rate, started at another time.
pub fn from_behind(scenario: &Scenario) -> Scenario {
    Scenario {
        name: format!("{}_behind", scenario.name),
        camera: CameraPlan {
            view: View::FromBehind,
            distance_m: 7.5,
            rate_hz: if scenario.camera.rate_hz > 100.0 { 60.0 } else { 120.0 },
            hold: Hold::Tripod,
            body_share: 0.55,
            place: [0.5, 0.55],
            ..scenario.camera
        },
        camera_seed: scenario.camera_seed + 1000,
        contact_s: scenario.contact_s + 0.317,
        duration_s: scenario.duration_s + 0.4,
        ..scenario.clone()
    }
}

/// One swing from the open side and from behind, by two phones: other rate, other start.
pub fn two_angles() -> [Scenario; 2] {
    let [_, best] = two_reps();
    let side = Scenario { name: "side".to_owned(), ..best };
    let behind = Scenario { name: "behind".to_owned(), ..from_behind(&side) };
    [side, behind]
}

/// Eight clips over 30, 60, 120, 240 Hz, both sides, tripod and hand, toe tap and not: the first bench.
pub fn bench_eight() -> Vec<Scenario> {
    use Hold::{Light, Tripod};
    use Side::{Left, Right};
    let low = Stride::Low;
    let cases = [
        (30.0, Right, Tripod, low, Place::Field),
        (30.0, Left, Light, Stride::Kick, Place::Cage),
        (60.0, Right, Light, Stride::ToeTap(1), Place::Field),
        (60.0, Left, Tripod, low, Place::Cage),
        (120.0, Right, Tripod, Stride::Kick, Place::Cage),
        (120.0, Left, Light, Stride::ToeTap(2), Place::Field),
        (240.0, Right, Light, low, Place::Field),
        (240.0, Left, Tripod, Stride::ToeTap(1), Place::Cage),
    ];
    cases
        .into_iter()
        .enumerate()
        .map(|(i, (rate_hz, bats, hold, stride, place))| {
            let mut s = varied(&format!("bench{}", i + 1), 500 + i as u64, bats);
            s.style = s.style.with_stride(stride, &mut Dice::stream(500 + i as u64, 9));
            s.camera.rate_hz = rate_hz;
            s.camera.hold = hold;
            s.scene.place = place;
            if i == 2 {
                // A phone held upright: the file lies on its side and says so.
                (s.camera.width, s.camera.height) = (720, 1280);
                s.camera.body_share = 0.36;
                s.camera.rotation_deg = 90;
            }
            if i == 6 {
                // Slow motion as phones store it.
                s.stored_slower = 8.0;
            }
            s
        })
        .collect()
}

/// A whole made-up clip from one seed: another body, swing, tempo, camera place and colours each time.
/// Filmed from the open side at 60 Hz from a tripod; change what the bench asks for.
pub fn varied(name: &str, seed: u64, bats: Side) -> Scenario {
    let mut dice = Dice::stream(seed, 40);
    let height_cm = dice.between(142.0, 192.0);
    let hitter = Hitter {
        name: format!("Hitter {seed}"),
        bats,
        height_cm,
        bat_cm: (0.47 * height_cm).clamp(66.0, 86.4),
        build: dice.between(0.9, 1.15),
        limbs: Limbs::varied(&mut dice),
    };
    let contact_s = dice.between(1.95, 2.3);
    let ball = match (dice.unit() * 4.0) as u8 {
        0 => BallSource::Tee,
        1 => BallSource::Toss,
        _ => BallSource::Pitch { speed_m_s: dice.between(20.0, 36.0) },
    };
    Scenario {
        style: Style::varied(&mut dice),
        timing: Timing::varied(&mut dice),
        ball,
        camera: CameraPlan {
            oblique_deg: dice.between(-8.0, 8.0),
            distance_m: dice.between(5.0, 8.5),
            height_m: dice.between(0.9, 1.6),
            body_share: dice.between(0.46, 0.62),
            place: [dice.between(0.42, 0.58), 0.57],
            shutter: dice.between(0.2, 0.5),
            ..CameraPlan::default()
        },
        look: varied_look(&mut dice),
        swing_seed: seed,
        camera_seed: seed + 7919,
        duration_s: contact_s + 0.95,
        contact_s,
        sound: Some(SoundPlan { noise: dice.between(0.5, 3.0), ..SoundPlan::default() }),
        ..Scenario::new(name, hitter)
    }
}

/// [`varied`] with another swing and tempo, drawn from [`Style::wide`] and [`Timing::wide`].
pub fn wide(name: &str, seed: u64, bats: Side) -> Scenario {
    let mut dice = Dice::stream(seed, 42);
    let (style, timing) = (Style::wide(&mut dice), Timing::wide(&mut dice));
    let s = varied(name, seed, bats);
    // A long way to the swing needs a longer clip before it.
    let later_s = (timing.move_s + 0.75 - s.contact_s).max(0.0);
    Scenario { style, timing, contact_s: s.contact_s + later_s, duration_s: s.duration_s + later_s, ..s }
}

fn varied_look(dice: &mut Dice) -> Outfit {
    let jerseys =
        [[38, 70, 150], [176, 52, 44], [232, 226, 210], [216, 150, 40], [92, 54, 120], [70, 74, 82]];
    let pants = [[224, 224, 218], [150, 152, 158], [52, 54, 62], [226, 220, 200]];
    let skins = [[222, 168, 132], [236, 188, 156], [168, 116, 82], [112, 74, 52], [84, 56, 42]];
    let mut one = |from: &[[u8; 3]]| dice.one_of(from).copied().unwrap_or([128; 3]);
    let (jersey, pants, skin) = (one(&jerseys), one(&pants), one(&skins));
    let dark = jersey.map(|v: u8| v / 2);
    Outfit {
        jersey,
        sleeves: jersey,
        pants,
        skin,
        helmet: dark,
        socks: dark,
        baggy: dice.between(0.0, 0.6),
        ..Outfit::default()
    }
}

/// Two who do not bat: without gloves.
pub(super) fn in_grey() -> Outfit {
    let [jersey, pants] = [[188, 184, 176], [58, 60, 72]];
    Outfit { jersey, sleeves: jersey, pants, gloves: Outfit::default().skin, ..Outfit::default() }
}

pub(super) fn in_green() -> Outfit {
    let [jersey, pants] = [[66, 92, 72], [150, 136, 112]];
    Outfit { jersey, sleeves: jersey, pants, gloves: Outfit::default().skin, ..Outfit::default() }
}

/// People behind the hitter: one walks through, one stands.
pub fn with_people_behind(mut scenario: Scenario) -> Scenario {
    // Behind as the open-side camera sees it.
    let back = if scenario.hitter.bats == Side::Right { 1.0 } else { -1.0 };
    scenario.scene.bystanders = vec![
        Bystander {
            at_m: [-2.6, back * 4.2],
            walk_m_s: 1.1,
            throws_every_s: 0.0,
            height_cm: 171.0,
            look: in_grey(),
        },
        Bystander {
            at_m: [2.1, back * 5.0],
            walk_m_s: 0.0,
            throws_every_s: 0.0,
            height_cm: 182.0,
            look: in_green(),
        },
    ];
    scenario
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo::Truth;
    use crate::types::{EventId, MeasureId, PARTS, Rect};

    #[test]
    fn every_ready_scenario_keeps_its_hitter_in_the_picture() {
        let [today, best] = two_reps();
        let behind = from_behind(&best);
        let mut all = vec![today, best, behind];
        all.extend(bench_eight());
        all.extend(matrix(1, 64).into_iter().step_by(3));
        for mut s in all {
            s.camera.rate_hz = s.camera.rate_hz.min(30.0);
            let truth = Truth::of(&s);
            let picture = Rect::new(0.0, 0.0, s.camera.width as f64, s.camera.height as f64);
            for pose in &truth.track().poses {
                for part in PARTS {
                    assert!(
                        picture.contains(pose.at(part).unwrap()),
                        "{}: {part:?} {:?}",
                        s.name,
                        pose.at(part)
                    );
                }
            }
            let stance = truth.at(EventId::Stance).unwrap();
            assert!(stance > 0.4, "{}: stands only until {stance}", s.name);
            assert!(truth.at(EventId::Finish).unwrap() < s.duration_s - 0.15, "{}", s.name);
        }
    }

    #[test]
    fn today_differs_from_the_best_as_a_coach_would_see() {
        let [today, best] = two_reps().map(|s| Truth::of(&s));
        let by = |id: MeasureId| today.measures[&id] - best.measures[&id];
        assert!((5.0..14.0).contains(&by(MeasureId::StrideLength)), "{}", by(MeasureId::StrideLength));
        let head = by(MeasureId::HeadTravelPlantToContact);
        assert!((4.0..11.0).contains(&head), "{head}");
        assert!(
            by(MeasureId::FirstHandTravelDirection) < -8.0,
            "{}",
            by(MeasureId::FirstHandTravelDirection)
        );
        assert!(by(MeasureId::FrontKneeAtContact) < -9.0, "{}", by(MeasureId::FrontKneeAtContact));
    }

    #[test]
    fn scenarios_survive_json() {
        for s in bench_eight() {
            let text = serde_json::to_string(&s).unwrap();
            let back: Scenario = serde_json::from_str(&text).unwrap();
            assert_eq!(
                (&back.name, &back.look.jersey, back.swing_seed),
                (&s.name, &s.look.jersey, s.swing_seed)
            );
            assert_eq!((back.style.stride, back.camera.view), (s.style.stride, s.camera.view));
            // Decimal text may cost the last bit of a number.
            assert!((back.timing.plant_s - s.timing.plant_s).abs() < 1e-12);
            assert!((back.contact_s - s.contact_s).abs() < 1e-12);
        }
    }
}
