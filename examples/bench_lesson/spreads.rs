//! The reps' spread as it is read from exact points with a net's jitter, against the generator's own.

use std::collections::BTreeMap;
use std::error::Error;

use swingpair::demo::{Dice, Scenario, Truth, scenarios};
use swingpair::pairing::spread;
use swingpair::swing::{SwingInput, read_swing};
use swingpair::types::{MeasureId, Point, Reading, Side, Track};

use super::changes::reading;

/// What is compared: measures of which the generator's reps differ by more than a jitter.
const SHOWN: [MeasureId; 8] = [
    MeasureId::LoadToPlant,
    MeasureId::PlantToContact,
    MeasureId::HandsStartToContact,
    MeasureId::StrideLength,
    MeasureId::HandsToFrontFootAtPlant,
    MeasureId::HeadTravelPlantToContact,
    MeasureId::FrontKneeAtPlant,
    MeasureId::FrontKneeAtContact,
];
const JITTER_PX: f64 = 0.8;

pub fn table(hitters: u64, reps: u64) -> Result<(), Box<dyn Error>> {
    let mut ratios: BTreeMap<MeasureId, Vec<(f64, f64, bool)>> = BTreeMap::new();
    for hitter in 0..hitters {
        let bats = if hitter.is_multiple_of(2) { Side::Right } else { Side::Left };
        let base = scenarios::varied("spread", 300 + hitter, bats);
        let mut truths = Vec::new();
        let mut readings = Vec::new();
        for rep in 0..reps {
            let mut dice = Dice::stream(300 + hitter * 100 + rep, 61);
            let scenario = Scenario {
                style: base.style.next_rep(&mut dice),
                timing: base.timing.next_rep(&mut dice),
                swing_seed: 100 * hitter + rep,
                ..base.clone()
            };
            let truth = Truth::of(&scenario);
            let track = jittered(&truth.track(), &mut dice);
            let long = base.camera.width.max(base.camera.height) as f64;
            let evidence = SwingInput {
                onsets: truth.onsets(),
                height_cm: Some(scenario.hitter.height_cm),
                ..SwingInput::new(&track, &truth.times_s, long)
            };
            let swing = read_swing(&evidence)?;
            let read = Reading { hitter: swing.hitter, events: swing.events, ..reading(swing.measures) };
            readings.push(read);
            truths.push(truth.measures_in_picture);
        }
        let all: Vec<&Reading> = readings.iter().collect();
        let (found, _) = spread(&all);
        for m in found.measures.iter().filter(|m| SHOWN.contains(&m.measure)) {
            let values: Vec<f64> = truths.iter().filter_map(|t| t.get(&m.measure)).copied().collect();
            let (Some(sd), Some((low, high)), true) = (m.sd, m.sd_between, values.len() > 2) else {
                continue;
            };
            let truth = sd_of(&values);
            ratios.entry(m.measure).or_default().push((sd, truth, (low..=high).contains(&truth)));
        }
    }
    println!(
        "| measure | hitters | spread read (SD), mean | generator's | generator's inside the 95 % limits |"
    );
    println!("|---|---|---|---|---|");
    for (id, all) in &ratios {
        let n = all.len() as f64;
        let mean = |of: fn(&(f64, f64, bool)) -> f64| all.iter().map(of).sum::<f64>() / n;
        println!(
            "| {} | {} | {:.2} | {:.2} | {} of {} |",
            swingpair::messages::english().measure(*id),
            all.len(),
            mean(|v| v.0),
            mean(|v| v.1),
            all.iter().filter(|v| v.2).count(),
            all.len()
        );
    }
    println!();
    Ok(())
}

fn sd_of(values: &[f64]) -> f64 {
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    (values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / (values.len() as f64 - 1.0)).sqrt()
}

fn jittered(track: &Track, dice: &mut Dice) -> Track {
    let mut track = track.clone();
    for spot in track.poses.iter_mut().flat_map(|p| p.spots.iter_mut().flatten()) {
        spot.at = spot.at + Point::new(dice.bell(), dice.bell()) * JITTER_PX;
    }
    track
}
