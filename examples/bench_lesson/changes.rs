//! Two days of one hitter, drawn from known distributions: false claims and planted changes found.

use std::collections::BTreeMap;

use swingpair::demo::Dice;
use swingpair::pairing::trends;
use swingpair::types::{
    ClipFacts, Hitter, Measure, MeasureId, PitcherSide, Reading, Scale, Side, Unit, Verdict, View,
};

/// Mean, spread of one hitter's reps and ± of one reading, as in the made-up lesson's films (`swingpair demo --lesson`);
/// the error of a whole day (SD), as `./dev bench lesson days` measured it.
const TYPICAL: [(MeasureId, Unit, f64, f64, f64, f64); 22] = {
    use MeasureId::*;
    use Unit::*;
    [
        (LoadToPlant, Ms, 440.0, 15.0, 60.0, 0.0),
        (FootOffToPlant, Ms, 360.0, 14.0, 50.0, 10.2),
        (PlantToContact, Ms, 189.0, 7.0, 34.0, 5.7),
        (HandsStartToContact, Ms, 146.0, 8.0, 28.0, 0.0),
        (BodyCentreBackAtLoad, Cm, 6.0, 0.6, 3.6, 0.24),
        (BodyCentreForwardAtPlant, Cm, 15.0, 1.1, 2.6, 0.34),
        (BodyCentreForwardAtContact, Cm, 25.0, 1.3, 3.8, 0.55),
        (StrideLength, Cm, 33.0, 1.7, 7.8, 0.69),
        (HandsToFrontFootAtPlant, Cm, 138.0, 2.4, 14.0, 2.22),
        (HeadTravelStanceToPlant, Cm, 8.0, 0.6, 4.6, 0.51),
        (HeadTravelPlantToContact, Cm, 3.0, 0.7, 3.7, 0.78),
        (FirstHandTravelDirection, Deg, 55.0, 8.0, 24.0, 7.1),
        (FirstHandTravelDrop, Cm, 8.0, 0.9, 4.0, 0.9),
        (FrontShoulderRise, Cm, 7.0, 0.8, 12.0, 0.9),
        (FrontKneeAtPlant, Deg, 165.0, 2.5, 10.4, 0.75),
        (FrontKneeAtContact, Deg, 166.0, 1.7, 9.8, 0.54),
        (BackFootLiftAtContact, Cm, 3.2, 0.5, 7.0, 0.81),
        (PeakHandSpeed, MetresPerS, 10.0, 0.35, 2.3, 0.43),
        (PeakHandSpeedToContact, Ms, 45.0, 5.0, 23.0, 3.0),
        (ExtensionDistance, Cm, 55.0, 1.0, 15.0, 0.88),
        (ContactToExtension, Ms, 85.0, 15.0, 80.0, 0.0),
        (HandsOverShouldersAtFinish, Cm, 10.0, 5.0, 19.0, 2.0),
    ]
};

/// One run of the table.
#[derive(Clone, Copy)]
struct Case {
    reps: usize,
    /// Whether days have an error of their own.
    days_own: bool,
    /// How much is planted, in the reps' standard deviations, in [`PLANTED`].
    planted: f64,
    watched: bool,
}

const PLANTED: MeasureId = MeasureId::FrontKneeAtContact;

pub fn table(seeds: u64) {
    println!(
        "| reps a day | the day's own error | looked at | pages with a false claim | measures falsely claimed | 2 × TE found | 4 × TE found |"
    );
    println!("|---|---|---|---|---|---|---|");
    for days_own in [false, true] {
        for watched in [false, true] {
            for reps in [3, 5, 8, 10, 15] {
                let case = Case { reps, days_own, planted: 0.0, watched };
                let pages: Vec<(usize, usize, bool)> = (0..seeds).map(|seed| page(case, seed)).collect();
                let false_pages = pages.iter().filter(|p| p.0 > 0).count();
                let (claims, judged) = pages.iter().fold((0, 0), |(c, j), p| (c + p.0, j + p.1));
                let found = |planted: f64| {
                    let found = (0..seeds).filter(|s| page(Case { planted, ..case }, s + 7000).2).count();
                    100.0 * found as f64 / seeds as f64
                };
                println!(
                    "| {reps} | {} | {} | {:.1} % | {:.2} % | {:.0} % | {:.0} % |",
                    if days_own { "as in films" } else { "none" },
                    if watched { "that one" } else { "all 22" },
                    100.0 * false_pages as f64 / seeds as f64,
                    100.0 * claims as f64 / judged.max(1) as f64,
                    found(2.0),
                    found(4.0)
                );
            }
        }
    }
    println!();
}

/// False claims, measures judged, and whether the planted change was found.
fn page(case: Case, seed: u64) -> (usize, usize, bool) {
    let mut dice = Dice::stream(seed, 90);
    let days: Vec<Vec<Reading>> = (0..2).map(|day| one_day(case, day, &mut dice)).collect();
    let days: Vec<Vec<&Reading>> = days.iter().map(|d| d.iter().collect()).collect();
    let watch = if case.watched { vec![PLANTED] } else { Vec::new() };
    let trends = trends(&days, &watch);
    let planted = |id: MeasureId| case.planted > 0.0 && id == PLANTED;
    let claimed = |t: &&swingpair::types::Trend| t.verdict == Verdict::Bigger;
    let wrong = trends.iter().filter(claimed).filter(|t| !planted(t.measure)).count();
    let judged = trends.iter().filter(|t| t.verdict != Verdict::CantTell).count();
    let found = trends.iter().filter(claimed).any(|t| planted(t.measure));
    (wrong, judged, found)
}

fn one_day(case: Case, day: usize, dice: &mut Dice) -> Vec<Reading> {
    let own: Vec<f64> = TYPICAL.iter().map(|m| if case.days_own { m.5 * dice.bell() } else { 0.0 }).collect();
    (0..case.reps)
        .map(|_| {
            let measures: BTreeMap<MeasureId, Measure> = TYPICAL
                .iter()
                .zip(&own)
                .map(|((id, unit, mean, sd, plus_minus, _), own)| {
                    let shift = if *id == PLANTED && day == 1 { case.planted * sd } else { 0.0 };
                    let value = mean + shift + own + sd * dice.bell();
                    (*id, Measure { value, plus_minus: *plus_minus, unit: *unit })
                })
                .collect();
            reading(measures)
        })
        .collect()
}

pub fn reading(measures: BTreeMap<MeasureId, Measure>) -> Reading {
    Reading {
        schema: Reading::SCHEMA.to_owned(),
        clip: ClipFacts {
            path: "rep.mp4".into(),
            width: 960,
            height: 540,
            frames: 150,
            duration_s: 2.5,
            rate_hz: 60.0,
            capture_rate_hz: 60.0,
            slow_factor: 1.0,
        },
        hitter: Hitter { bats: Side::Right, pitcher_side: PitcherSide::Right, view: View::OpenSide },
        scale: Scale {
            body_height_px: 310.0,
            body_height_error: 0.03,
            px_per_cm: Some(1.76),
            px_per_cm_error: 0.03,
        },
        events: Default::default(),
        measures,
        absent: Default::default(),
        warnings: Vec::new(),
        track: Default::default(),
        camera: Default::default(),
        ball: None,
        scene: None,
    }
}
