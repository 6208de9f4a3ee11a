//! What must hold for any swing: properties of the pure rooms on exact points of made-up swings with the
//! scatter of a good estimator. Few cases each, so that they stay quick.

use proptest::prelude::*;
use swingpair::demo::{Dice, Hitter, Stride, Style, Swing, Timing};
use swingpair::swing::{self, SwingInput};
use swingpair::types::{
    ClipFacts, EventId, PARTS, Part, Point, Pose, Reading, Seen, Side, Spot, SyncOn, Track, View,
};
use swingpair::{pairing, swing::Swing as Read};

const PX_PER_M: f64 = 210.0;
const WIDE: f64 = 1280.0;

/// A made-up swing seen squarely from the open side.
fn track(seed: u64, rate_hz: f64) -> Track {
    let mut dice = Dice::stream(seed, 9);
    let side = if seed.is_multiple_of(2) { Side::Right } else { Side::Left };
    let hitter = Hitter::new("made up", side, dice.between(135.0, 195.0), 80.0);
    let mut style = Style::varied(&mut dice);
    if seed % 5 == 3 {
        style = style.with_stride(Stride::ToeTap(1), &mut dice);
    }
    let timing = Timing::varied(&mut dice);
    let start_s = -(timing.move_s + dice.between(0.5, 0.9));
    let swing = Swing::new(&hitter, &style, &timing, seed);
    let toward = if side == Side::Left { -1.0 } else { 1.0 };
    let poses = (0..((1.0 - start_s) * rate_hz) as usize)
        .map(|frame| {
            let time_s = frame as f64 / rate_hz;
            let figure = swing.pose_at(start_s + time_s);
            let mut pose = Pose::empty(frame, time_s);
            for part in PARTS {
                let p = figure.at(part);
                let jitter = Point::new(dice.bell(), dice.bell());
                let at = Point::new(640.0 + toward * p.x * PX_PER_M, 650.0 - p.z * PX_PER_M) + jitter;
                pose.set(part, Some(Spot { at, visibility: 0.99, seen: Seen::Picture }));
            }
            pose
        })
        .collect();
    Track { poses }
}

fn read(track: &Track) -> Read {
    let times: Vec<f64> = track.poses.iter().map(|p| p.time_s).collect();
    swing::read_swing(&SwingInput::new(track, &times, WIDE)).unwrap()
}

fn reading(track: &Track, rate_hz: f64) -> Reading {
    let swing = read(track);
    Reading {
        schema: Reading::SCHEMA.to_owned(),
        clip: ClipFacts {
            path: "made-up.mp4".into(),
            width: WIDE as usize,
            height: 720,
            frames: track.poses.len(),
            duration_s: track.poses.len() as f64 / rate_hz,
            rate_hz,
            capture_rate_hz: rate_hz,
            slow_factor: 1.0,
        },
        hitter: swing.hitter,
        scale: swing.scale,
        events: swing.events,
        measures: swing.measures,
        absent: swing.absent,
        warnings: swing.warnings,
        track: track.clone(),
        camera: Default::default(),
        ball: None,
        scene: None,
    }
}

fn moved(track: &Track, place: impl Fn(Point) -> Point) -> Track {
    let mut track = track.clone();
    for spot in track.poses.iter_mut().flat_map(|p| p.spots.iter_mut().flatten()) {
        spot.at = place(spot.at);
    }
    track
}

fn mirrored(track: &Track) -> Track {
    moved(track, |p| Point::new(WIDE - p.x, p.y))
}

/// Left and right change names.
fn renamed(track: &Track) -> Track {
    let mut out = track.clone();
    for (to, from) in out.poses.iter_mut().zip(&track.poses) {
        PARTS.iter().for_each(|part: &Part| to.set(*part, from.spot(part.other_side())));
    }
    out
}

/// Times within `ms` or a third of their ± (stance and finish are looked for in steps), measures within that share of their ±.
fn same_but_for(a: &Read, b: &Read, later_s: f64, ms: f64, share: f64) -> Result<(), TestCaseError> {
    prop_assert_eq!(a.events.keys().collect::<Vec<_>>(), b.events.keys().collect::<Vec<_>>());
    for (id, event) in &a.events {
        let off_ms = (b.events[id].time_s - event.time_s - later_s) * 1000.0;
        prop_assert!(off_ms.abs() <= ms.max(350.0 * event.plus_minus_s), "{}: {} ms", id.word(), off_ms);
    }
    prop_assert_eq!(a.measures.keys().collect::<Vec<_>>(), b.measures.keys().collect::<Vec<_>>());
    for (id, m) in &a.measures {
        let off = (b.measures[id].value - m.value).abs();
        prop_assert!(off <= share * m.plus_minus + 1e-9, "{:?}: {} of ± {}", id, off, m.plus_minus);
    }
    Ok(())
}

fn rates() -> impl Strategy<Value = f64> {
    prop_oneof![Just(30.0), Just(60.0), Just(120.0), Just(240.0)]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// In a mirrored film left is right: the hitter bats from the other side. A picture turned over while the
    /// names stay shows the other side of the body. Nothing else changes, and twice is nothing.
    #[test]
    fn mirrors_change_sides_and_nothing_else(seed in 0..500u64, rate_hz in rates()) {
        let plain_track = track(seed, rate_hz);
        let plain = read(&plain_track);
        prop_assert_eq!(plain.hitter.view, View::OpenSide);

        let film = read(&renamed(&mirrored(&plain_track)));
        same_but_for(&plain, &film, 0.0, 1e-6, 1e-6)?;
        prop_assert!(film.hitter.bats != plain.hitter.bats && film.hitter.view == View::OpenSide);

        let turned = read(&mirrored(&plain_track));
        same_but_for(&plain, &turned, 0.0, 1e-6, 1e-6)?;
        prop_assert!(turned.hitter.bats == plain.hitter.bats && turned.hitter.view == View::ClosedSide);
        prop_assert!(turned.hitter.pitcher_side != plain.hitter.pitcher_side);

        let twice = read(&mirrored(&mirrored(&plain_track)));
        same_but_for(&plain, &twice, 0.0, 1e-6, 1e-6)?;
        prop_assert_eq!(twice.hitter, plain.hitter);
    }

    /// What is looked at moment by moment begins elsewhere between two pictures: hence 3 ms.
    #[test]
    fn shifted_time_shifts_events_alone(seed in 0..500u64, rate_hz in rates(), later_s in -1.0..60.0f64) {
        let plain = track(seed, rate_hz);
        let mut later = plain.clone();
        later.poses.iter_mut().for_each(|p| p.time_s += later_s);
        same_but_for(&read(&plain), &read(&later), later_s, 3.0, 0.5)?;
    }

    #[test]
    fn larger_pictures_have_longer_px_and_the_same_swing(seed in 0..500u64, rate_hz in rates(), k in 0.4..4.0f64) {
        let plain = track(seed, rate_hz);
        let larger = moved(&plain, |p| p * k);
        let (a, b) = (read(&plain), read(&larger));
        same_but_for(&a, &b, 0.0, 1e-3, 1e-4)?;
        prop_assert!((b.scale.body_height_px / a.scale.body_height_px / k - 1.0).abs() < 1e-9);
        prop_assert_eq!(a.hitter, b.hitter);
    }

    /// Moved in the picture, as when the camera stands elsewhere: nothing changes at all.
    #[test]
    fn a_swing_elsewhere_in_the_picture_is_the_same(seed in 0..500u64, x in -300.0..300.0f64, y in -80.0..80.0f64) {
        let plain = track(seed, 120.0);
        let (a, b) = (read(&plain), read(&moved(&plain, |p| p + Point::new(x, y))));
        same_but_for(&a, &b, 0.0, 1e-3, 1e-4)?;
        prop_assert_eq!(a.hitter, b.hitter);
    }

    #[test]
    fn today_and_reference_changed_about(a in 0..500u64, b in 0..500u64, rate_hz in rates(), phases: bool) {
        let (a, b) = (reading(&track(a, rate_hz), rate_hz), reading(&track(b, 120.0), 120.0));
        let sync = if phases { SyncOn::Phases } else { SyncOn::Event(EventId::Plant) };
        let (there, _) = pairing::pair(&a, &b, sync).unwrap();
        let (back, _) = pairing::pair(&b, &a, sync).unwrap();
        prop_assert_eq!(there.differences.len(), back.differences.len());
        for (d, e) in there.differences.iter().zip(&back.differences) {
            prop_assert_eq!(d.measure, e.measure);
            prop_assert_eq!(d.difference, -e.difference);
            prop_assert_eq!((d.verdict, d.limit, d.plus_minus), (e.verdict, e.limit, e.plus_minus));
        }
        let mut last_s = f64::NEG_INFINITY;
        for i in -20..60 {
            let today_s = f64::from(i) * 0.05;
            let reference_s = there.time_map.reference_from_today(today_s);
            prop_assert!(reference_s > last_s);
            last_s = reference_s;
            prop_assert!((back.time_map.today_from_reference(today_s) - reference_s).abs() < 1e-9);
            prop_assert!((there.time_map.today_from_reference(reference_s) - today_s).abs() < 1e-9);
        }
    }

    /// The order in which the good reps are given changes neither their range nor which one is shown.
    #[test]
    fn the_order_of_the_good_reps_does_not_matter(seed in 0..400u64) {
        let all: Vec<Reading> = (0..5).map(|i| reading(&track(seed + 2 * i, 120.0), 120.0)).collect();
        let (today, reps) = all.split_first().unwrap();
        let given: Vec<&Reading> = reps.iter().collect();
        let turned: Vec<&Reading> = reps.iter().rev().collect();
        let plant = SyncOn::Event(EventId::Plant);
        let (a, _) = pairing::pair_with_reps(today, &given, plant).unwrap();
        let (b, _) = pairing::pair_with_reps(today, &turned, plant).unwrap();
        prop_assert_eq!(a.differences.len(), b.differences.len());
        for (d, e) in a.differences.iter().zip(&b.differences) {
            prop_assert_eq!((d.measure, d.verdict), (e.measure, e.verdict));
            prop_assert!((d.difference - e.difference).abs() < 1e-9);
        }
        let shown = |good: &Option<swingpair::types::GoodReps>| good.as_ref().map(|g| g.shown);
        prop_assert_eq!(shown(&a.good_reps).map(|i| 3 - i), shown(&b.good_reps));
    }
}
