//! The right explanation of a track wins: recorded swings, made-up ones of every tempo and style, the same ones mirrored
//! and cut, and swings of many hitters marked by hand.

mod labelled;
mod possible;

use std::path::{Path, PathBuf};

use proptest::prelude::*;
use swingpair::demo::{CameraPlan, Dice, Recorded, Scenario, Truth, scenarios};
use swingpair::swing::{self, Swing, SwingInput};
use swingpair::types::{EventId, NoSwing, PARTS, Part, PitcherSide, Point, Side, Spot, Track, View, Warning};

const RATES_HZ: [f64; 4] = [30.0, 60.0, 120.0, 240.0];
const SIDES: [Side; 2] = [Side::Right, Side::Left];
const VIEWS: [View; 2] = [View::OpenSide, View::ClosedSide];
/// What a pose net's points scatter by from picture to picture, px (standard deviation on each axis).
const JITTER_PX: f64 = 1.5;
/// Apart from the seeds that constants were set on and that the bench tells of.
const FIRST_SEED: u64 = 900_000;

/// Real swings lie beside the checkout, or a loud word that a test goes without.
fn swings(test: &str) -> Option<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/swings");
    if folder.is_dir() {
        return Some(folder);
    }
    crate::skipped::skipped(test, "no recorded swings beside the project");
    None
}

fn jittered(truth: &Truth, seed: u64) -> Track {
    let mut dice = Dice::stream(seed, 91);
    moved(&truth.track(), |p| p + Point::new(dice.bell(), dice.bell()) * JITTER_PX)
}

fn moved(track: &Track, mut place: impl FnMut(Point) -> Point) -> Track {
    let mut track = track.clone();
    for spot in track.poses.iter_mut().flat_map(|p| p.spots.iter_mut().flatten()) {
        spot.at = place(spot.at);
    }
    track
}

fn read(track: &Track, long_side_px: f64) -> Result<Swing, NoSwing> {
    let times: Vec<f64> = track.poses.iter().map(|p| p.time_s).collect();
    swing::read_swing(&SwingInput::new(track, &times, long_side_px))
}

/// A made-up swing drawn wide: its truth and its points.
fn made_up(i: u64, view: View, rate_hz: f64) -> (Truth, Track) {
    let seed = FIRST_SEED + i;
    let mut scenario = scenarios::wide("made up", seed, SIDES[(i % 2) as usize]);
    (scenario.camera.view, scenario.camera.rate_hz) = (view, rate_hz);
    let truth = Truth::of(&scenario);
    let track = jittered(&truth, seed);
    (truth, track)
}

fn width_px(truth: &Truth) -> f64 {
    truth.camera.width.max(truth.camera.height) as f64
}

/// The swings are motion captures with a force plate under the front foot (../shared/swings/README.md).
#[test]
fn recorded_swings_are_read_from_the_right_side_and_plant_on_time() {
    let Some(folder) = swings("recorded swings") else { return };
    let (mut wrong, mut plants_ms) = (Vec::new(), Vec::new());
    let mut one = 0;
    for letter in ['a', 'b', 'c'] {
        let recorded = Recorded::load(&folder.join(format!("swing_{letter}.json"))).unwrap();
        for (rate_hz, bats, view) in
            RATES_HZ.into_iter().flat_map(|r| SIDES.into_iter().flat_map(move |s| VIEWS.map(|v| (r, s, v))))
        {
            one += 1;
            let name = format!("swing {letter} at {rate_hz}, bats {bats:?}, {view:?}");
            let scenario = filmed(&recorded, FIRST_SEED + one, bats, view, rate_hz);
            let truth = Truth::of(&scenario);
            let track = jittered(&truth, scenario.camera_seed);
            let swing = match read(&track, width_px(&truth)) {
                Ok(swing) => swing,
                Err(e) => {
                    wrong.push(format!("{name}: {e}"));
                    continue;
                }
            };
            let h = swing.hitter;
            if (h.bats, h.pitcher_side, h.view) != (bats, truth.pitcher_side, view) {
                wrong.push(format!("{name}: read as {h:?}"));
            }
            wrong.extend(possible::impossible(&swing, &track).into_iter().map(|w| format!("{name}: {w}")));
            if rate_hz >= 120.0 {
                let plant = swing.events.get(&EventId::Plant);
                let off_s = plant.and_then(|e| truth.off_s(EventId::Plant, e.time_s));
                plants_ms.push(off_s.map_or(f64::INFINITY, |s| 1000.0 * s.abs()));
            }
        }
    }
    plants_ms.sort_by(f64::total_cmp);
    let on_time = plants_ms.iter().filter(|ms| **ms <= 12.0).count();
    eprintln!("plant within 12 ms of its interval in {on_time} of {}: {plants_ms:.1?}", plants_ms.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(on_time * 10 >= plants_ms.len() * 9, "{plants_ms:.1?}");
}

/// As a phone at the fence would film it.
fn filmed(recorded: &Recorded, seed: u64, bats: Side, view: View, rate_hz: f64) -> Scenario {
    let mut dice = Dice::stream(seed, 71);
    Scenario {
        recorded: Some(recorded.clone()),
        camera: CameraPlan {
            rate_hz,
            view,
            oblique_deg: dice.between(-12.0, 12.0),
            distance_m: dice.between(5.0, 8.0),
            height_m: dice.between(0.9, 1.6),
            body_share: dice.between(0.46, 0.58),
            ..CameraPlan::default()
        },
        camera_seed: seed,
        ..Scenario::new("recorded", recorded.hitter("Recorded", bats, None))
    }
}

#[test]
fn nothing_impossible_is_read_of_sixty_made_up_swings() {
    let (mut wrong, mut refused) = (Vec::new(), Vec::new());
    for i in 0..60 {
        let (truth, track) = made_up(i, VIEWS[(i / 8 % 2) as usize], RATES_HZ[(i / 2 % 4) as usize]);
        match read(&track, width_px(&truth)) {
            Ok(swing) => {
                let found = possible::impossible(&swing, &track);
                wrong.extend(found.into_iter().map(|w| format!("made up {i}: {w}")));
            }
            Err(e) => refused.push(format!("made up {i}: {e}")),
        }
    }
    eprintln!("refused: {}", refused.join("; "));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(refused.len() <= 3, "{}", refused.join("\n"));
}

/// The look for impossible readings sees them.
#[test]
fn an_impossible_reading_is_seen() {
    let (truth, track) = made_up(0, View::OpenSide, 120.0);
    let good = read(&track, width_px(&truth)).unwrap();
    let found = |change: fn(&mut Swing)| {
        let mut swing = good.clone();
        change(&mut swing);
        possible::impossible(&swing, &track).join("; ")
    };
    assert_eq!(found(|_| ()), "");
    let late = found(|s| {
        let contact_s = s.events[&EventId::Contact].time_s;
        s.events.get_mut(&EventId::Plant).unwrap().time_s = contact_s + 0.01;
    });
    assert!(late.contains("plant after contact"), "{late}");
    let turned = found(|s| s.hitter.pitcher_side = PitcherSide::Left);
    assert!(turned.contains("the front foot strides"), "{turned}");
    let taps = found(|s| s.warnings = vec![Warning::ToeTap { taps: 5 }]);
    assert!(taps.contains("toe taps"), "{taps}");
    let mut sunk = track.clone();
    let contact_s = good.events[&EventId::Contact].time_s;
    let down = Point::new(0.0, 0.1 * good.scale.body_height_px);
    for pose in sunk.poses.iter_mut().filter(|p| p.time_s > contact_s - 0.05) {
        let back = pose.spot(Part::RightToe).map(|s| Spot { at: s.at + down, ..s });
        pose.set(Part::RightToe, back);
    }
    let sinks = possible::impossible(&good, &sunk).join("; ");
    assert!(sinks.contains("the back foot sinks"), "{sinks}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// In a mirror a right-handed hitter is a left-handed one, and nothing else changes.
    #[test]
    fn a_mirrored_track_is_the_same_swing_from_the_other_side_of_the_plate(
        i in 0..400u64, view in 0..2usize, rate in 0..4usize
    ) {
        let (truth, plain) = made_up(i, VIEWS[view], RATES_HZ[rate]);
        let width = width_px(&truth);
        let flipped = moved(&plain, |p| Point::new(width - p.x, p.y));
        let mut mirrored = flipped.clone();
        for (to, from) in mirrored.poses.iter_mut().zip(&flipped.poses) {
            PARTS.iter().for_each(|part| to.set(*part, from.spot(part.other_side())));
        }
        let (a, b) = match (read(&plain, width), read(&mirrored, width)) {
            (Ok(a), Ok(b)) => (a, b),
            (a, b) => {
                prop_assert_eq!(a.err(), b.err());
                return Ok(());
            }
        };
        prop_assert!(a.hitter.bats != b.hitter.bats && a.hitter.view == b.hitter.view);
        let across = match a.hitter.pitcher_side {
            PitcherSide::Left => PitcherSide::Right,
            PitcherSide::Right => PitcherSide::Left,
            along => along,
        };
        prop_assert_eq!(b.hitter.pitcher_side, across);
        prop_assert_eq!(a.events.keys().collect::<Vec<_>>(), b.events.keys().collect::<Vec<_>>());
        for (id, event) in &a.events {
            let off_ms = 1000.0 * (b.events[id].time_s - event.time_s);
            prop_assert!(off_ms.abs() <= 1.0, "{}: {off_ms} ms", id.word());
        }
        prop_assert_eq!(a.measures.keys().collect::<Vec<_>>(), b.measures.keys().collect::<Vec<_>>());
        for (id, m) in &a.measures {
            let off = (b.measures[id].value - m.value).abs();
            prop_assert!(off <= 0.01 * m.value.abs() + 1e-9, "{id:?}: {off} of {}", m.value);
        }
    }
}

/// Moments are looked for in steps from the first picture on, s: a cut one moves by so much at the highest rates, where
/// half a picture is less.
const STEPS_S: f64 = 0.003;

/// A clip that begins later or ends earlier, with the whole swing still in it, tells of the same swing.
#[test]
fn a_cut_track_keeps_its_moments() {
    let mut wrong = Vec::new();
    let mut cuts = 0;
    for i in 100..130u64 {
        let rate_hz = RATES_HZ[(i / 2 % 4) as usize];
        let (truth, track) = made_up(i, VIEWS[(i / 8 % 2) as usize], rate_hz);
        let width = width_px(&truth);
        let whole = read(&track, width).unwrap_or_else(|e| panic!("made up {i}: {e}"));
        let at = |id: EventId| truth.at(id).unwrap();
        let end_s = truth.times_s.last().copied().unwrap();
        let later = [0.2, 0.4, 0.6].map(|from_s| (from_s, end_s));
        for (from_s, to_s) in later.into_iter().chain([(0.0, end_s - 0.3)]) {
            if from_s > at(EventId::Stance) - 0.1 || to_s < at(EventId::Finish) + 0.1 {
                continue;
            }
            cuts += 1;
            let mut cut = track.clone();
            cut.poses.retain(|p| p.time_s >= from_s && p.time_s <= to_s);
            let name = format!("made up {i} at {rate_hz}, {from_s:.1} to {to_s:.2} s");
            let part = match read(&cut, width) {
                Ok(part) => part,
                Err(e) => {
                    wrong.push(format!("{name}: {e}"));
                    continue;
                }
            };
            for id in [EventId::Plant, EventId::HandsStart, EventId::Contact] {
                match (whole.events.get(&id), part.events.get(&id)) {
                    (Some(a), Some(b)) if (a.time_s - b.time_s).abs() < (0.5 / rate_hz).max(STEPS_S) => (),
                    (None, None) => (),
                    (a, b) => wrong.push(format!(
                        "{name}: {} {:?} and {:?}",
                        id.word(),
                        a.map(|e| e.time_s),
                        b.map(|e| e.time_s)
                    )),
                }
            }
        }
    }
    eprintln!("{cuts} cuts");
    assert!(cuts >= 60, "{cuts} cuts");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Nothing but the way to the pitcher is known of these: the joints' left and right are the viewer's.
#[test]
fn swings_marked_by_hand_go_to_the_pitcher() {
    let Some(folder) = swings("swings marked by hand") else { return };
    let all = labelled::load(&folder.join("labelled.json"));
    let (mut refused, mut wrong, mut across) = (Vec::new(), Vec::new(), 0);
    for one in &all {
        match read(&one.track, one.long_side_px) {
            Err(e) => refused.push(format!("{}: {e}", one.id)),
            Ok(swing) if one.across() => {
                across += 1;
                if swing.hitter.pitcher_side != one.pitcher {
                    wrong.push(format!("{}: {:?}, read as {:?}", one.id, one.pitcher, swing.hitter));
                }
            }
            Ok(_) => (),
        }
    }
    eprintln!("{across} read across the picture, wrong: {wrong:?}; refused: {refused:?}");
    assert!(refused.len() * 20 <= all.len(), "{}", refused.join("\n"));
    assert!(wrong.len() * 50 <= across, "{}", wrong.join("\n"));
}
