//! What is read: recorded swings and made-up ones, each kept to one share.

use std::error::Error;
use std::path::Path;

use swingpair::demo::{BallSource, CameraPlan, Dice, Hold, Place, Recorded, Scenario, Scene, scenarios};
use swingpair::types::{Side, View};

use super::rows::{Case, Share};

/// Real swings lie beside the checkout; nothing of them is in it.
pub const SWINGS: &str = "../shared/swings";
const RATES_HZ: [f64; 4] = [30.0, 60.0, 120.0, 240.0];
const SIDES: [Side; 2] = [Side::Right, Side::Left];
const VIEWS: [View; 2] = [View::OpenSide, View::ClosedSide];
/// Tempo, and the standing height if not the hitter's own: a twelve-year-old is about 150 cm tall.
const VARIANTS: [(f64, Option<f64>); 3] = [(1.0, None), (0.9, None), (1.1, Some(150.0))];

/// A recorded swing: its letter, what it is kept for, its motion.
pub type Recording = (char, Share, Recorded);

/// The recorded swings and whom they belong to; `None` when they are not there.
pub fn recordings() -> Result<Option<Vec<Recording>>, Box<dyn Error>> {
    let file = |letter: char| Path::new(SWINGS).join(format!("swing_{letter}.json"));
    if !file('a').exists() {
        return Ok(None);
    }
    let all = [('a', Share::Set), ('b', Share::Report), ('c', Share::Report)];
    let load = |(letter, share)| Ok((letter, share, Recorded::load(&file(letter))?));
    all.into_iter().map(load).collect::<Result<_, _>>().map(Some)
}

/// Every recorded swing at every rate, on both sides of the plate, from both sides of the hitter, in three variants.
pub fn recorded_points(recordings: &[Recording], seed: u64, heard: bool) -> Vec<Case> {
    let mut cases = Vec::new();
    for (letter, share, recorded) in recordings {
        for rate_hz in RATES_HZ {
            for bats in SIDES {
                for view in VIEWS {
                    for variant in VARIANTS {
                        let one = seed.wrapping_mul(3001).wrapping_add(cases.len() as u64);
                        let name = format!("swing_{letter}");
                        let mut s = filmed(&name, recorded, one, bats, variant);
                        (s.camera.rate_hz, s.camera.view) = (rate_hz, view);
                        if !heard {
                            s.sound = None;
                        }
                        cases.push(Case { share: *share, scenario: s });
                    }
                }
            }
        }
    }
    cases
}

/// `n` films of recorded swings, over swings, rates, both sides of the plate, the open side twice as often as the
/// closed one, tripod and hand, with and without sound.
pub fn recorded_films(recordings: &[Recording], seed: u64, n: usize) -> Vec<Case> {
    let pick = |i: usize, n: usize| i % n.max(1);
    (0..n)
        .filter_map(|i| {
            let (letter, share, recorded) = recordings.get(pick(i, recordings.len()))?;
            let (turn, rate) = (i / 3, RATES_HZ[pick(i + i / 12, 4)]);
            let bats = SIDES[pick(i / 2 + turn, 2)];
            let one = seed.wrapping_mul(5003).wrapping_add(i as u64);
            let name = format!("recorded{seed}_{:02}_{letter}", i + 1);
            let mut s = filmed(&name, recorded, one, bats, VARIANTS[pick(turn, 3)]);
            s.camera.rate_hz = rate;
            s.camera.view = if (i + i / 3) % 3 == 2 { View::ClosedSide } else { View::OpenSide };
            s.camera.hold = [Hold::Tripod, Hold::Light, Hold::Tripod, Hold::Loose][pick(i + turn, 4)];
            if (i + turn) % 2 == 1 {
                s.sound = None;
            }
            Some(Case { share: *share, scenario: s })
        })
        .collect()
}

fn filmed(
    name: &str,
    recorded: &Recorded,
    seed: u64,
    bats: Side,
    (tempo, height_cm): (f64, Option<f64>),
) -> Scenario {
    let mut dice = Dice::stream(seed, 70);
    // Clothes, ball and room noise as made-up films have them.
    let looks = scenarios::varied(name, seed, bats);
    let contact_s = dice.between(1.9, 2.3);
    Scenario {
        hitter: recorded.hitter(name, bats, height_cm),
        recorded: Some(recorded.at_tempo(tempo)),
        ball: BallSource::Pitch { speed_m_s: dice.between(20.0, 34.0) },
        camera: CameraPlan {
            oblique_deg: dice.between(-12.0, 12.0),
            distance_m: dice.between(5.0, 8.0),
            height_m: dice.between(0.9, 1.6),
            body_share: dice.between(0.46, 0.58),
            place: [dice.between(0.45, 0.55), 0.57],
            shutter: dice.between(0.2, 0.5),
            ..CameraPlan::default()
        },
        scene: Scene {
            place: if dice.unit() < 0.5 { Place::Field } else { Place::Cage },
            ..Scene::default()
        },
        contact_s,
        duration_s: contact_s + 0.95,
        ..looks
    }
}

/// Made-up swings as points: even draws may be set on, odd ones are told of.
pub fn made_up_points(seed: u64, n: usize) -> Vec<Case> {
    (0..n)
        .map(|i| {
            let share = Share::BOTH[i % 2];
            let one = apart(seed, share).wrapping_add(i as u64);
            let bats = SIDES[(i / 2) % 2];
            let mut s = scenarios::wide(&format!("made up {one}"), one, bats);
            s.camera.rate_hz = RATES_HZ[(i / 4) % 4];
            s.camera.view = VIEWS[(i / 16) % 2];
            s.sound = None;
            Case { share, scenario: s }
        })
        .collect()
}

/// Made-up films: half of them of one share, half of the other.
pub fn made_up_films(seed: u64, n: usize) -> Vec<Case> {
    let of = |share, n| {
        let films = scenarios::wide_matrix(apart(seed, share), n);
        films.into_iter().map(move |scenario| Case { share, scenario })
    };
    of(Share::Set, n.div_ceil(2)).chain(of(Share::Report, n / 2)).collect()
}

/// Seeds of the two shares lie apart.
fn apart(seed: u64, share: Share) -> u64 {
    match share {
        Share::Set => seed,
        Share::Report => seed.wrapping_add(500_000),
    }
}
