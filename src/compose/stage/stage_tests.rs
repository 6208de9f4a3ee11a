//! What a stage draws, and that it can be read.

use super::super::sample;
use super::*;
use crate::types::{CameraMotion, Measure, MeasureId, Point, Similarity, TimedFrame, Unit};

/// On a phone, upright and wide, with names that have to shrink and all that can be drawn: measured at what is
/// set, not at what the theme says.
#[test]
fn no_letter_is_set_lower_than_a_phone_shows() {
    let (today, reference, pairing) = sample::pair();
    let long = "The one with the very long name, her second best rep of May";
    for layout in Layout::ALL {
        for size in [(1080, 1920), (1920, 1080)] {
            let stage = Stage::new(layout, size, [&today, &reference], [long, long], &pairing, 0.5).unwrap();
            let stage = stage.with_marks(&Mark::ALL);
            for (after_s, hold) in [(0.0, Some(EventId::Plant)), (0.15, None)] {
                let today_s = pairing.time_map.zero_today_s() + after_s;
                let times = [today_s, pairing.time_map.reference_from_today(today_s)];
                let hits = [sample::today(), sample::reference()];
                let [t, r] = [0, 1].map(|side| {
                    let index = (times[side] * hits[side].rate_hz).round() as usize;
                    let (picture, pts_s) = (hits[side].picture(index), index as f64 / hits[side].rate_hz);
                    let frame = stage.cut(side).map_or(picture.clone(), |c| sample::cut_out(&picture, c));
                    stage.prepare(side, TimedFrame { index, pts_s, frame }, pts_s)
                });
                stage.swing(FrameState { slow: 8.0, hold, passed: Some(EventId::Plant) }, &t, &r).unwrap();
            }
            stage.card().unwrap();
            let lowest = stage.letters.lowest_drawn_px();
            assert!(lowest >= theme::SMALLEST_CAP - 1e-3, "{layout:?} {size:?}: {lowest} px");
            assert!(lowest < 100.0, "nothing was drawn");
        }
    }
}

fn ready<'a>(stage: &Stage<'a>, today_s: f64, pairing: &Pairing) -> [Prepared; 2] {
    let times = [today_s, pairing.time_map.reference_from_today(today_s)];
    let hits = [sample::today(), sample::reference()];
    [0, 1].map(|side| {
        let index = (times[side] * hits[side].rate_hz).round() as usize;
        let (picture, pts_s) = (hits[side].picture(index), index as f64 / hits[side].rate_hz);
        let frame = stage.cut(side).map_or(picture.clone(), |c| sample::cut_out(&picture, c));
        stage.prepare(side, TimedFrame { index, pts_s, frame }, pts_s)
    })
}

#[test]
fn a_shots_own_words_win_over_the_names_of_events() {
    let (today, reference, pairing) = sample::pair();
    let made = |caption: &str, hold| {
        let mut plan = Plan::ready(super::super::ready::Ready::Quick, 8.0);
        let Some(Shot::Swing(shot)) = plan.shots.get_mut(1) else { panic!("no slow shot") };
        shot.caption = Some(caption.to_owned());
        let stage =
            Stage::new(Layout::SideBySide, (540, 960), [&today, &reference], ["A", "B"], &pairing, 0.5);
        let stage = stage.unwrap().for_shot(&plan, 1);
        let [t, r] = ready(&stage, today.events[&EventId::Contact].time_s + 0.01, &pairing);
        stage.swing(FrameState { slow: 4.0, hold, passed: Some(EventId::Contact) }, &t, &r).unwrap().y.data
    };
    for hold in [None, Some(EventId::Contact)] {
        assert!(made("Watch the front heel", hold) != made("Hands inside", hold), "{hold:?}");
    }
}

#[test]
fn before_stands_left_of_after() {
    let (today, reference, pairing) = sample::pair();
    let plan = Plan::ready(super::super::ready::Ready::BeforeAfter, 8.0);
    for (number, shot) in plan.shots.iter().enumerate() {
        let Some(layout) = plan.layout(shot, None).or(Some(Layout::SideBySide)) else { continue };
        if layout.alone().is_some() {
            continue;
        }
        let stage = Stage::new(layout, (540, 960), [&today, &reference], ["After", "Before"], &pairing, 0.5);
        let stage = stage.unwrap().for_shot(&plan, number);
        let [after, before] = [0, 1].map(|side| stage.views[side].panel.x);
        assert!(before < after, "shot {number}: {before} {after}");
        // Each body still stands in its own panel, at one size and height.
        for side in 0..2 {
            let hips = stage.readings[side].track.poses[100].at(crate::types::Part::LeftHip).unwrap();
            assert!(stage.views[side].panel.contains(stage.views[side].at(hips)), "shot {number}, {side}");
        }
    }
}

#[test]
fn a_shaking_camera_does_not_carry_the_stance_away() {
    let (mut today, reference, pairing) = sample::pair();
    let shift = |i: usize| Point::new(14.0 * (i as f64 * 0.7).sin(), 9.0 * (i as f64 * 0.4).cos());
    let back = |i: usize| Similarity { tx: -shift(i).x, ty: -shift(i).y, ..Similarity::IDENTITY };
    today.camera = CameraMotion {
        to_steady: (0..today.track.poses.len()).map(back).collect(),
        ..CameraMotion::default()
    };
    let stance = today.track.nearest_index(today.events[&EventId::Stance].time_s).unwrap();
    let now = today.track.nearest_index(today.events[&EventId::Contact].time_s).unwrap();
    let now_s = today.track.poses[now].time_s;
    // A mark on the wall: where it was at stance, where it is now.
    let wall = Point::new(400.0, 700.0);
    let (then, here) = (wall + shift(stance), wall + shift(now));
    for layout in Layout::ALL {
        let stage = Stage::new(layout, (540, 960), [&today, &reference], ["A", "B"], &pairing, 0.5).unwrap();
        let panel_transform = stage.panel_transform(0, now_s);
        let (in_picture, in_scene) =
            (panel_transform.from_picture.apply(here), panel_transform.from_steady.unwrap().apply(wall));
        assert!(in_picture.distance(in_scene) < 1e-6, "{layout:?}");
        let panel = &stage.views[0];
        let at_stance = panel.at(then) - Point::new(panel.panel.x, panel.panel.y);
        let still = in_picture.distance(at_stance) < 1e-6;
        // A ghost's scene stands still; else the picture is shown as filmed and the marks follow it.
        assert_eq!(still, layout == Layout::Ghost, "{layout:?}");
    }
}

/// What is long in one caption leaves nothing behind in the next.
#[test]
fn words_that_go_leave_nothing_on_the_picture() {
    let (mut today, mut reference, mut pairing) = sample::pair();
    // The longest there is: without a height the unit takes a line of its own.
    pairing.differences.clear();
    for reading in [&mut today, &mut reference] {
        let long = Measure { value: 0.89, plus_minus: 0.13, unit: Unit::BodyHeights };
        reading.measures = [(MeasureId::HandsToFrontFootAtPlant, long)].into();
    }
    for size in [(1920, 1080), (1080, 1920)] {
        let stage =
            Stage::new(Layout::SideBySide, size, [&today, &reference], ["A", "B"], &pairing, 0.5).unwrap();
        let at = |event: EventId| {
            let state = FrameState { slow: 8.0, hold: Some(event), passed: Some(event) };
            (state, ready(&stage, today.events[&event].time_s, &pairing))
        };
        let show = |board: &mut Board, event| {
            let (state, [t, r]) = at(event);
            stage.compose(board, state, [Some(&t), Some(&r), None, None]).unwrap();
        };
        let (mut used, mut fresh) = (Board::default(), Board::default());
        for event in [EventId::Plant, EventId::HandsStart, EventId::Contact] {
            show(&mut used, event);
        }
        show(&mut fresh, EventId::Contact);
        assert!(used.frame().unwrap().y.data == fresh.frame().unwrap().y.data, "{size:?}");
    }
}
