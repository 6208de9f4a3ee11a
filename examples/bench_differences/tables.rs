//! What the pairs of films say, as tables.

use std::collections::BTreeMap;
use std::error::Error;
use std::fmt::Write as _;

use swingpair::demo::Truth;
use swingpair::messages;
use swingpair::pairing::pair;
use swingpair::types::{Delivery, Difference, EventId, Filming, MeasureId, Reading, SyncOn, Unit, Verdict};

use super::films::{Film, Variant};

type Told = Result<(), Box<dyn Error>>;

/// Today's variants, each against the first film of the same hitter.
const AGAINST_FIRST: [Variant; 4] = [Variant::Alike, Variant::Anew, Variant::OtherRate, Variant::OtherSide];
/// Planted changes that are to be told, in the unit that is read. Halves of them are for three reps against three.
const PLANTED: [(MeasureId, f64); 6] = [
    (MeasureId::StrideLength, 8.0),
    (MeasureId::HeadTravelPlantToContact, 6.0),
    (MeasureId::BodyCentreForwardAtContact, 6.0),
    (MeasureId::FrontKneeAtContact, 14.0),
    (MeasureId::PlantToContact, 40.0),
    (MeasureId::FirstHandTravelDirection, 25.0),
];

fn of(films: &[Film], hitter: u64, variant: Variant) -> Option<&Film> {
    films.iter().find(|f| f.hitter == hitter && f.variant == variant)
}

fn pairs(films: &[Film], variant: Variant) -> impl Iterator<Item = (&Film, &Film)> {
    films
        .iter()
        .filter(move |f| f.variant == variant)
        .filter_map(|f| Some((f, of(films, f.hitter, Variant::First)?)))
}

/// Off a tee: the steadiest of deliveries, and the hitters of these films are as steady.
fn on_a_tee(reading: &Reading) -> Reading {
    Reading { ball: Some(Delivery::Tee), ..reading.clone() }
}

fn differences(today: &Reading, reference: &Reading) -> Vec<Difference> {
    pair(&on_a_tee(today), &on_a_tee(reference), SyncOn::Event(EventId::Plant))
        .map(|(p, _)| p.differences)
        .unwrap_or_default()
}

fn filming(today: &Reading, reference: &Reading) -> Filming {
    swingpair::pairing::filmed_alike(today, reference).filming
}

/// True difference of two films, in the unit that is read.
fn truth(measure: MeasureId, today: &Truth, reference: &Truth) -> Option<f64> {
    Some(today.measures.get(&measure)? - reference.measures.get(&measure)?)
}

fn in_unit(d: &Difference) -> bool {
    matches!(d.today.unit, Unit::Ms | Unit::Cm | Unit::Deg)
}

/// Error of each difference as a share of what the two ± claim (root mean square; 1.96 taken out).
pub fn errors(out: &mut String, films: &[Film]) -> Told {
    writeln!(
        out,
        "Error of a difference ÷ what the two ± claim together (root of the mean square; n pairs)\n"
    )?;
    writeln!(out, "| measure | {} |", AGAINST_FIRST.map(Variant::name).join(" | "))?;
    writeln!(out, "|---|---|---|---|---|")?;
    let mut all: BTreeMap<MeasureId, [Vec<f64>; 4]> = BTreeMap::new();
    for (k, variant) in AGAINST_FIRST.into_iter().enumerate() {
        for (today, first) in pairs(films, variant) {
            for d in differences(&today.reading, &first.reading).iter().filter(|d| in_unit(d)) {
                let Some(true_one) = truth(d.measure, &today.truth, &first.truth) else { continue };
                let claimed = d.today.plus_minus.hypot(d.reference.plus_minus) / 1.96;
                all.entry(d.measure).or_default()[k].push((d.difference - true_one) / claimed);
            }
        }
    }
    for (measure, by) in &all {
        let cell = |v: &Vec<f64>| match v.len() {
            0 => "–".to_owned(),
            n => format!("{:.2} ({n})", (v.iter().map(|x| x * x).sum::<f64>() / n as f64).sqrt()),
        };
        writeln!(
            out,
            "| {} | {} |",
            messages::english().measure(*measure),
            by.each_ref().map(cell).join(" | ")
        )?;
    }
    writeln!(out)?;
    Ok(())
}

/// Whether lengths differ less wrongly where both clips are measured by one scale, the mean of their two: the camera was
/// not moved, so that only where the hitter stood and what was read of his size differ.
pub fn one_scale(out: &mut String, films: &[Film]) -> Told {
    let alike = [Variant::Alike, Variant::Planted].into_iter().flat_map(|v| pairs(films, v));
    by_one_scale(out, alike.map(|(a, b)| [(&a.reading, &a.truth), (&b.reading, &b.truth)]))
}

fn by_one_scale<'a>(out: &mut String, pairs: impl Iterator<Item = [(&'a Reading, &'a Truth); 2]>) -> Told {
    writeln!(
        out,
        "Filmed alike: error of a difference by each clip's own scale, and by one scale for both\n"
    )?;
    writeln!(out, "| measure | own | one (root of the mean square; n pairs) |")?;
    writeln!(out, "|---|---|---|")?;
    let mut all: BTreeMap<MeasureId, Vec<[f64; 2]>> = BTreeMap::new();
    for [(today, today_truth), (first, first_truth)] in pairs {
        let (Some(a), Some(b)) = (today.scale.px_per_cm, first.scale.px_per_cm) else { continue };
        let both = (a * b).sqrt();
        for d in differences(today, first) {
            if !matches!(d.today.unit, Unit::Cm | Unit::MetresPerS) {
                continue;
            }
            let Some(true_one) = truth(d.measure, today_truth, first_truth) else { continue };
            let one = d.today.value * a / both - d.reference.value * b / both;
            all.entry(d.measure).or_default().push([d.difference - true_one, one - true_one]);
        }
    }
    for (measure, errors) in &all {
        let rms = |k: usize| (errors.iter().map(|e| e[k] * e[k]).sum::<f64>() / errors.len() as f64).sqrt();
        let name = messages::english().measure(*measure);
        writeln!(out, "| {name} | {:.2} | {:.2} ({}) |", rms(0), rms(1), errors.len())?;
    }
    writeln!(out)?;
    Ok(())
}

/// How often the difference's own ± holds the truth, by what the clips were judged to be.
pub fn held(out: &mut String, films: &[Film]) -> Told {
    writeln!(
        out,
        "| pairs | judged alike / set up anew / other rate / other view | differences inside their ± |"
    )?;
    writeln!(out, "|---|---|---|")?;
    for variant in AGAINST_FIRST {
        let (mut judged, mut inside, mut n) = ([0; 4], 0, 0);
        for (today, first) in pairs(films, variant) {
            judged[filming(&today.reading, &first.reading) as usize] += 1;
            for d in differences(&today.reading, &first.reading).iter().filter(|d| in_unit(d)) {
                let Some(true_one) = truth(d.measure, &today.truth, &first.truth) else { continue };
                n += 1;
                inside += usize::from((d.difference - true_one).abs() <= d.plus_minus);
            }
        }
        let share = 100.0 * inside as f64 / f64::from(n.max(1) as u32);
        writeln!(out, "| {} | {judged:?} | {inside} of {n}, {share:.0} % |", variant.name())?;
    }
    writeln!(out)?;
    Ok(())
}

/// Whether a planted change is told: it is added to what was read of a film that shows none, so that each film's own
/// error counts; both signs.
pub fn planted(out: &mut String, films: &[Film]) -> Told {
    writeln!(
        out,
        "Added to what was read of films without a change, one rep against one, both signs, off a tee\n"
    )?;
    writeln!(out, "| change | told, filmed alike | told, set up anew | told as the opposite |")?;
    writeln!(out, "|---|---|---|---|")?;
    for (measure, change) in PLANTED {
        let mut cells = Vec::new();
        let mut opposite = 0;
        for variant in [Variant::Alike, Variant::Anew] {
            let (mut told, mut n) = (0, 0);
            for (today, first) in pairs(films, variant) {
                for sign in [-1.0, 1.0] {
                    let mut changed = today.reading.clone();
                    let Some(m) = changed.measures.get_mut(&measure) else { continue };
                    m.value += sign * change;
                    let found = differences(&changed, &first.reading);
                    let Some(d) = found.iter().find(|d| d.measure == measure) else { continue };
                    n += 1;
                    told += usize::from(d.verdict == Verdict::Bigger && d.difference * sign > 0.0);
                    opposite += usize::from(d.verdict == Verdict::Bigger && d.difference * sign < 0.0);
                }
            }
            cells.push(format!("{told} of {n}"));
        }
        writeln!(
            out,
            "| {} {change} | {} | {opposite} |",
            messages::english().measure(measure),
            cells.join(" | ")
        )?;
    }
    writeln!(out)?;
    Ok(())
}

/// The films in which changes were planted: what is true of them, what is told.
pub fn filmed_planted(out: &mut String, films: &[Film]) -> Told {
    writeln!(out, "Films with planted changes against the first: true change beyond the bar, and told\n")?;
    writeln!(
        out,
        "| measure | films with so large a true change | told | told though the true change has the other sign |"
    )?;
    writeln!(out, "|---|---|---|---|")?;
    for (measure, change) in PLANTED {
        let (mut n, mut told, mut wrong) = (0, 0, 0);
        for (today, first) in pairs(films, Variant::Planted) {
            let found = differences(&today.reading, &first.reading);
            let Some(d) = found.iter().find(|d| d.measure == measure) else { continue };
            let Some(true_one) = truth(measure, &today.truth, &first.truth) else { continue };
            let bigger = d.verdict == Verdict::Bigger;
            wrong += usize::from(bigger && d.difference * true_one < 0.0);
            if true_one.abs() >= 0.9 * change {
                n += 1;
                told += usize::from(bigger && d.difference * true_one > 0.0);
            }
        }
        writeln!(out, "| {} | {n} | {told} | {wrong} |", messages::english().measure(measure))?;
    }
    writeln!(out)?;
    Ok(())
}

/// Pairs without any change that tell one.
pub fn nothing_changed(out: &mut String, films: &[Film]) -> Told {
    writeln!(out, "| pairs of one swing | pairs that tell a change | measures told |")?;
    writeln!(out, "|---|---|---|")?;
    for variant in AGAINST_FIRST {
        let (mut clips, mut n, mut which) = (0, 0, Vec::new());
        for (today, first) in pairs(films, variant) {
            n += 1;
            let told: Vec<&str> = differences(&today.reading, &first.reading)
                .iter()
                .filter(|d| d.verdict == Verdict::Bigger)
                .map(|d| messages::english().measure(d.measure))
                .collect();
            clips += usize::from(!told.is_empty());
            which.extend(told);
        }
        writeln!(out, "| {} | {clips} of {n} | {} |", variant.name(), which.join(", "))?;
    }
    writeln!(out)?;
    Ok(())
}

/// Every recorded swing against every other. These swings raised rows of `pairing/params.rs`: they confirm, and prove
/// nothing.
pub fn recorded(out: &mut String, all: &[(char, Truth, Reading)]) -> Told {
    let pairs = all.iter().enumerate().flat_map(|(i, a)| all.iter().skip(i + 1).map(move |b| (a, b)));
    by_one_scale(out, pairs.map(|(a, b)| [(&a.2, &a.1), (&b.2, &b.1)]))?;
    writeln!(out, "| pair | measure | read | ± | true | inside | verdict |")?;
    writeln!(out, "|---|---|---|---|---|---|---|")?;
    let (mut inside, mut n, mut false_ones) = (0, 0, 0);
    for (i, (a, ta, ra)) in all.iter().enumerate() {
        for (b, tb, rb) in all.iter().skip(i + 1) {
            for d in differences(ra, rb).iter().filter(|d| in_unit(d)) {
                let Some(true_one) = truth(d.measure, ta, tb) else { continue };
                let holds = (d.difference - true_one).abs() <= d.plus_minus;
                let untrue = d.verdict == Verdict::Bigger && d.difference * true_one <= 0.0;
                (n, inside, false_ones) =
                    (n + 1, inside + usize::from(holds), false_ones + usize::from(untrue));
                writeln!(
                    out,
                    "| {a}–{b} | {} | {:+.1} | {:.1} | {true_one:+.1} | {} | {:?} |",
                    messages::english().measure(d.measure),
                    d.difference,
                    d.plus_minus,
                    if holds { "yes" } else { "no" },
                    d.verdict
                )?;
            }
        }
    }
    writeln!(out, "\n{inside} of {n} inside their ±; told and untrue: {false_ones}.\n")?;
    Ok(())
}
