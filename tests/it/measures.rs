//! Measures from exact points of a made-up film: what each view gives, and the hands' peak at every rate.

use std::collections::BTreeSet;

use swingpair::demo::{Dice, Hitter, Scenario, Style, Timing, Truth};
use swingpair::messages::absent_reason;
use swingpair::swing::{self, SwingInput};
use swingpair::types::{AbsentReason, EventId, MeasureId, Side, Unit, View};

fn truth(seed: u64, view: View, rate_hz: f64) -> Truth {
    let mut dice = Dice::stream(seed, 32);
    let side = if seed.is_multiple_of(2) { Side::Right } else { Side::Left };
    let hitter = Hitter::new("made up", side, dice.between(140.0, 190.0), 80.0);
    let mut scenario = Scenario::new("measures", hitter);
    scenario.style = Style::varied(&mut dice);
    scenario.timing = Timing::varied(&mut dice);
    scenario.camera.view = view;
    scenario.camera.rate_hz = rate_hz;
    Truth::of(&scenario)
}

fn read(truth: &Truth, heard: bool, height: bool) -> swing::Swing {
    let track = truth.track();
    let evidence = SwingInput {
        camera: &truth.to_steady,
        onsets: if heard { truth.onsets() } else { &[] },
        height_cm: height.then_some(truth.hitter.height_cm),
        mic_distance_m: Some(truth.camera.distance_m),
        ..SwingInput::new(&track, &truth.times_s, 1280.0)
    };
    swing::read_swing(&evidence).unwrap_or_else(|e| panic!("{}: {e}", truth.name))
}

/// The hands' peak in the picture, mean share of error and the share of readings whose ± holds the truth.
fn peaks(rate_hz: f64) -> (f64, f64, usize, f64, usize) {
    let (mut errors, mut inside, mut late_ms, mut timed) = (Vec::new(), 0, Vec::new(), 0);
    for seed in 0..24 {
        let truth = truth(seed, View::OpenSide, rate_hz);
        let read = read(&truth, true, false);
        let of = |id: MeasureId| (read.measures[&id], truth.measures_in_picture[&id]);
        let (m, t) = of(MeasureId::PeakHandSpeed);
        assert_eq!(m.unit, Unit::BodyHeightsPerS);
        let t = 100.0 * t / truth.hitter.height_cm;
        // The scale's own error is not the peak's: the same bodies' true px height is taken.
        let v = m.value * read.scale.body_height_px / truth.body_height_px;
        errors.push(v / t - 1.0);
        inside += usize::from((v - t).abs() <= m.plus_minus);
        let (m, t) = of(MeasureId::PeakHandSpeedToContact);
        late_ms.push((m.value - t).abs());
        timed += usize::from((m.value - t).abs() <= m.plus_minus);
    }
    late_ms.sort_by(f64::total_cmp);
    let mean = errors.iter().sum::<f64>() / errors.len() as f64;
    let worst = errors.iter().copied().fold(0.0, |a: f64, e| a.max(e.abs()));
    eprintln!(
        "{rate_hz} fps: peak hand speed {:+.1} %, worst {:.1} %, {inside}; when: 90 % within {:.1} ms, {timed} of 24",
        100.0 * mean,
        100.0 * worst,
        late_ms[21]
    );
    (mean, worst, inside, late_ms[21], timed)
}

/// The fit rounds the peak off the more, the fewer pictures there are; the ± is wide enough for it.
#[test]
fn the_hands_peak_is_read_low_at_low_rates_and_says_so() {
    for (rate_hz, lowest, highest, when_ms) in [
        (240.0, -0.02, 0.01, 6.0),
        (120.0, -0.03, 0.01, 8.0),
        (60.0, -0.08, 0.0, 10.0),
        (30.0, -0.25, 0.0, 20.0),
    ] {
        let (mean, worst, inside, ms, timed) = peaks(rate_hz);
        assert!((lowest..=highest).contains(&mean), "{rate_hz} fps: {mean:.3}");
        assert!(worst <= 0.05 - 1.3 * lowest, "{rate_hz} fps: {worst:.3}");
        assert!(ms <= when_ms, "{rate_hz} fps: {ms:.1} ms");
        assert!(inside >= 22 && timed >= 22, "{rate_hz} fps: inside ± {inside} and {timed} of 24");
    }
}

/// A contact judged from the hands' peak says nothing about when the peak comes.
#[test]
fn when_the_hands_peak_needs_a_contact_of_its_own() {
    let truth = truth(2, View::OpenSide, 120.0);
    let id = MeasureId::PeakHandSpeedToContact;
    let silent = read(&truth, false, true);
    assert_eq!(silent.absent[&id], AbsentReason::ContactFromPeak);
    assert!(silent.measures.contains_key(&MeasureId::PeakHandSpeed));
    assert!(read(&truth, true, true).measures.contains_key(&id));
}

#[test]
fn every_measure_is_given_or_absent_with_a_reason_in_every_view() {
    use MeasureId::*;
    // Heights and times show from everywhere.
    let along = BTreeSet::from([
        PlantToContact,
        HandsStartToContact,
        ContactToExtension,
        FrontShoulderRise,
        BackFootLiftAtContact,
        HandsOverShouldersAtFinish,
    ]);
    for view in [View::OpenSide, View::ClosedSide, View::FromBehind, View::FromFront] {
        let side = matches!(view, View::OpenSide | View::ClosedSide);
        for seed in 0..8 {
            let truth = truth(seed, view, 120.0);
            let read = read(&truth, true, true);
            for id in MeasureId::ALL {
                let (given, why) = (read.measures.get(&id), read.absent.get(&id));
                assert!(given.is_some() != why.is_some(), "{view:?} {id:?}: {given:?} {why:?}");
                let may = id != BatSpeed && (side || along.contains(&id));
                let no_stride = id == FootOffToPlant && !truth.events.contains_key(&EventId::FootOff);
                let no_moment = why.is_some_and(|w| {
                    use AbsentReason::{EventNotFound, TimesUnsure, TwoReadings};
                    matches!(w, EventNotFound { .. } | TimesUnsure | TwoReadings { .. })
                });
                assert!(
                    given.is_some() == (may && !no_stride) || (!side && may && no_moment),
                    "seed {seed} {view:?} {id:?}: {given:?} {why:?}"
                );
                if !may && id != BatSpeed {
                    let told = absent_reason(why.unwrap());
                    assert!(told.contains("film from the open side"), "{id:?}: {told}");
                }
            }
        }
    }
}

/// Lengths do not depend on which side the camera stands on, beyond their ±.
#[test]
fn given_measures_hold_the_truth_in_every_view() {
    for view in [View::ClosedSide, View::FromBehind, View::FromFront] {
        let (mut inside, mut all, mut out) = (0, 0, Vec::new());
        for seed in 0..16 {
            let truth = truth(seed, view, 120.0);
            let read = read(&truth, true, true);
            for (id, m) in &read.measures {
                let Some(t) = truth.measures_in_picture.get(id) else { continue };
                all += 1;
                if (m.value - t).abs() <= m.plus_minus {
                    inside += 1;
                } else {
                    out.push(format!("{seed} {id:?} {:.1} ± {:.1}, true {t:.1}", m.value, m.plus_minus));
                }
            }
        }
        eprintln!("{view:?}: inside ± {inside} of {all}; outside: {}", out.join("; "));
        assert!(inside * 100 >= all * 92, "{view:?}: {inside} of {all}: {}", out.join("\n"));
    }
}

#[test]
fn the_bats_speed_is_absent_for_a_true_reason() {
    for (rate_hz, why) in [(60.0, AbsentReason::BatTooFast), (240.0, AbsentReason::BatNotTracked)] {
        let read = read(&truth(1, View::OpenSide, rate_hz), true, true);
        assert_eq!(read.absent[&MeasureId::BatSpeed], why);
    }
}
