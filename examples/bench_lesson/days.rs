//! How far a whole day's readings are off together: hitters filmed on two days with a phone set up anew, before another
//! background, the truth known. `./dev bench lesson days`; films into out/lesson/days.

use std::collections::BTreeMap;
use std::error::Error;
use std::path::Path;

use swingpair::demo::{Dice, Outfit, Place, Scenario, Scene, Truth, film, scenarios, truth_path};
use swingpair::messages;
use swingpair::reading::{ReadOptions, read};
use swingpair::types::{Cancel, MeasureId, NoProgress, Side};

const REPS: u64 = 2;

/// One hitter on both days: read − true of each rep, and their mean ±.
#[derive(Default)]
struct Off {
    days: [Vec<f64>; 2],
    plus_minus: Vec<f64>,
}

pub fn table(hitters: u64) -> Result<(), Box<dyn Error>> {
    let folder = Path::new("out/lesson/days");
    std::fs::create_dir_all(folder)?;
    let mut all: BTreeMap<MeasureId, Vec<Off>> = BTreeMap::new();
    for hitter in 0..hitters {
        let mut one: BTreeMap<MeasureId, Off> = BTreeMap::new();
        for day in 0..2 {
            for rep in 0..REPS {
                let scenario = scenario(hitter, day, rep);
                let clip = folder.join(format!("{}.mp4", scenario.name));
                let kept =
                    std::fs::read(truth_path(&clip)).ok().and_then(|b| serde_json::from_slice(&b).ok());
                let truth: Truth = match kept {
                    Some(truth) => truth,
                    None => film(&scenario, &clip, &NoProgress, &Cancel::default())?,
                };
                let options =
                    ReadOptions { height_cm: Some(scenario.hitter.height_cm), ..ReadOptions::default() };
                let read = match read(&clip, &options, &NoProgress, &Cancel::default()) {
                    Ok(read) => read.reading,
                    Err(e) => {
                        eprintln!("{e}");
                        continue;
                    }
                };
                for (id, m) in &read.measures {
                    let Some(truth) = truth.measures.get(id) else { continue };
                    let off = one.entry(*id).or_default();
                    off.days[day as usize].push(m.value - truth);
                    off.plus_minus.push(m.plus_minus);
                }
            }
        }
        for (id, off) in one {
            all.entry(id).or_default().push(off);
        }
    }
    println!(
        "| measure | hitters | its ± / 1.96 | a rep's own error, SD | a day's own error, SD | share of ± / 1.96 | farthest day to day |"
    );
    println!("|---|---|---|---|---|---|---|");
    for (id, hitters) in &all {
        let both: Vec<&Off> = hitters.iter().filter(|o| o.days.iter().all(|d| d.len() > 1)).collect();
        let n = both.len() as f64;
        let square = |v: &[f64]| {
            let m = v.iter().sum::<f64>() / v.len() as f64;
            (v.iter().map(|x| (x - m).powi(2)).sum::<f64>(), v.len() as f64 - 1.0)
        };
        let (within, dof) = both
            .iter()
            .flat_map(|o| &o.days)
            .map(|d| square(d))
            .fold((0.0, 0.0), |a, b| (a.0 + b.0, a.1 + b.1));
        let rep = within / f64::max(dof, 1.0);
        let mean = |v: &[f64]| v.iter().sum::<f64>() / v.len().max(1) as f64;
        let steps: Vec<f64> = both.iter().map(|o| mean(&o.days[1]) - mean(&o.days[0])).collect();
        let day = (steps.iter().map(|d| d * d).sum::<f64>() / n / 2.0 - rep / REPS as f64).max(0.0).sqrt();
        let pm = both.iter().map(|o| mean(&o.plus_minus)).sum::<f64>() / n / 1.96;
        let farthest = steps.iter().fold(0.0f64, |a, b| a.max(b.abs()));
        println!(
            "| {} | {} | {pm:.2} | {:.2} | {day:.2} | {:.2} | {farthest:.2} |",
            messages::english().measure(*id),
            both.len(),
            rep.sqrt(),
            day / pm
        );
    }
    Ok(())
}

fn scenario(hitter: u64, day: u64, rep: u64) -> Scenario {
    let bats = if hitter.is_multiple_of(3) { Side::Left } else { Side::Right };
    let base = scenarios::varied("days", 600 + hitter, bats);
    // The phone is set up by eye each day.
    let mut setup = Dice::stream(600 + 10 * hitter + day, 62);
    let mut dice = Dice::stream(600 + 100 * hitter + 10 * day + rep, 63);
    let camera = swingpair::demo::CameraPlan {
        width: 960,
        height: 540,
        rate_hz: 60.0,
        oblique_deg: base.camera.oblique_deg * 0.5 + 3.0 * setup.bell(),
        distance_m: base.camera.distance_m * (1.0 + 0.05 * setup.bell()),
        height_m: base.camera.height_m + 0.08 * setup.bell(),
        body_share: 0.56 * (1.0 + 0.04 * setup.bell()),
        place: [0.48 + 0.02 * setup.bell(), 0.56],
        light: if setup.unit() < 0.5 { 1.0 } else { 0.8 },
        ..base.camera
    };
    let contact_s = 1.6 + 0.3 * dice.unit();
    Scenario {
        name: format!("hitter{hitter}_day{day}_rep{rep}"),
        style: base.style.next_rep(&mut dice),
        timing: base.timing.next_rep(&mut dice),
        look: Outfit { ..base.look.clone() },
        scene: Scene { place: if day == 0 { Place::Cage } else { Place::Field }, ..Scene::default() },
        camera,
        swing_seed: 600 + 100 * hitter + 10 * day + rep,
        camera_seed: 9600 + 100 * hitter + 10 * day + rep,
        duration_s: contact_s + 0.85,
        contact_s,
        ..base
    }
}
