//! How much one hitter's reps differ: spread of each measure, the rep nearest the middle, the odd one out.

use super::range::{FEWEST_REPS, from_middle, unlike};
use crate::math::{beyond, mean_sd, sd_between, t95};
use crate::types::{
    Among, GoodRep, Hitter, LeftOut, Measure, MeasureId, MeasureSpread, OddRep, REAL_CHANGE_REPS, Reading,
    RepSpread, Stray, Than, Unit, Warning, file_name,
};

/// Reps beside each other. Those seen from another side, or of a hitter of the other side of the plate, than most
/// are left out, as are such that show the same swing twice; the warnings tell.
///
/// ```no_run
/// use swingpair::pairing::spread;
/// use swingpair::reading::{ReadOptions, read};
/// use swingpair::types::{Cancel, NoProgress};
///
/// let read = |clip: &str| read(clip.as_ref(), &ReadOptions::default(), &NoProgress, &Cancel::default());
/// let reps = [read("rep1.mp4")?.reading, read("rep2.mp4")?.reading, read("rep3.mp4")?.reading];
/// let (spread, _warnings) = spread(&reps.each_ref());
/// println!("{}", swingpair::report::spread_text(swingpair::messages::english(), &spread));
/// # Ok::<(), swingpair::types::Error>(())
/// ```
pub fn spread(readings: &[&Reading]) -> (RepSpread, Vec<Warning>) {
    let most = most_common(readings);
    let mut reps: Vec<GoodRep> = readings
        .iter()
        .enumerate()
        .map(|(i, r)| GoodRep {
            clip: r.clip.path.clone(),
            left_out: most
                .and_then(|m| unlike(m, &r.hitter, Than::TheOthers))
                .or_else(|| twin(readings, i).map(|t| LeftOut::SameSwing { clip: file_name(&t.clip.path) })),
            from_middle: None,
        })
        .collect();
    let mut warnings: Vec<Warning> = reps
        .iter()
        .filter_map(|r| {
            let why = r.left_out.clone()?;
            Some(Warning::RepLeftOut { clip: file_name(&r.clip), among: Among::Reps, why })
        })
        .collect();
    let counted: Vec<usize> = (0..reps.len()).filter(|i| reps[*i].left_out.is_none()).collect();
    let in_it: Vec<&Reading> = counted.iter().filter_map(|i| readings.get(*i).copied()).collect();
    for (i, away) in counted.iter().zip(from_middle(&in_it)) {
        reps[*i].from_middle = Some(away);
    }
    let away = |i: &&usize| reps[**i].from_middle.unwrap_or(f64::INFINITY);
    let nearest = counted.iter().min_by(|a, b| away(a).total_cmp(&away(b))).copied();
    if counted.len() < FEWEST_REPS {
        warnings.push(Warning::FewReps { among: Among::Reps, reps: counted.len(), needed: FEWEST_REPS });
    }
    let measures: Vec<MeasureSpread> = MeasureId::ALL
        .into_iter()
        .filter_map(|id| {
            let of = |i: usize| {
                reps[i].left_out.is_none().then(|| readings[i].measures.get(&id).copied()).flatten()
            };
            measure_spread(id, (0..reps.len()).map(of).collect())
        })
        .collect();
    let odd = odd_one(&measures, &counted);
    let nearest = nearest.filter(|_| counted.len() > 1);
    (RepSpread { reps, counted: counted.len(), nearest, odd, measures }, warnings)
}

/// Side and view of most of them, the first of equals.
fn most_common<'a>(readings: &[&'a Reading]) -> Option<&'a Hitter> {
    let alike =
        |h: &Hitter| readings.iter().filter(|r| unlike(h, &r.hitter, Than::TheOthers).is_none()).count();
    let mut best: Option<(&Hitter, usize)> = None;
    for hitter in readings.iter().map(|r| &r.hitter) {
        let n = alike(hitter);
        if best.is_none_or(|(_, most)| n > most) {
            best = Some((hitter, n));
        }
    }
    best.map(|b| b.0)
}

/// An earlier reading with the same numbers to the last digit: the same recording under another name.
fn twin<'a>(readings: &[&'a Reading], i: usize) -> Option<&'a Reading> {
    let rep = readings.get(i)?;
    let same = |a: &&&Reading| !a.measures.is_empty() && a.measures == rep.measures && a.events == rep.events;
    readings[..i].iter().find(same).copied()
}

fn measure_spread(measure: MeasureId, values: Vec<Option<Measure>>) -> Option<MeasureSpread> {
    let unit = values.iter().flatten().next()?.unit;
    let values: Vec<Option<(f64, f64)>> =
        values.into_iter().map(|m| m.filter(|m| m.unit == unit).map(|m| (m.value, m.plus_minus))).collect();
    let known: Vec<f64> = values.iter().flatten().map(|v| v.0).collect();
    let n = known.len();
    let (mean, sd) = mean_sd(&known);
    let sd = sd.filter(|_| n >= FEWEST_REPS);
    let t = t95(n.saturating_sub(1));
    let of_means = |reps: usize, sd: f64| t * sd * (2.0 / reps as f64).sqrt();
    Some(MeasureSpread {
        measure,
        unit,
        values,
        reps: n,
        mean,
        mean_plus_minus: sd.map(|sd| t * sd / (n as f64).sqrt()),
        sd,
        sd_between: sd.map(|sd| (sd * sd_between(n).0, sd * sd_between(n).1)),
        real_change: sd.map(|sd| REAL_CHANGE_REPS.map(|reps| of_means(reps, sd))),
    })
}

/// Of five and more reps the one with a value too far from the others to be one more of them. Every rep is looked at
/// in every measure, so the 5 % that some honest rep is called odd are shared among all of these looks.
fn odd_one(measures: &[MeasureSpread], counted: &[usize]) -> Option<OddRep> {
    const FEWEST: usize = 5;
    let looked: Vec<&MeasureSpread> = measures.iter().filter(|m| m.reps >= FEWEST).collect();
    let looks: usize = looked.iter().map(|m| m.reps).sum();
    let others: Vec<Others> = looked.iter().map(|m| Others::of(m, 0.05 / looks.max(1) as f64)).collect();
    let strays = |rep: usize| -> Vec<Stray> {
        let mut by: Vec<Stray> = looked
            .iter()
            .zip(&others)
            .filter_map(|(m, others)| {
                let (value, plus_minus) = (*m.values.get(rep)?)?;
                let (mean, needed) = others.than(value);
                let needed = needed.max(least(m.unit)).max(plus_minus);
                ((value - mean).abs() > needed).then_some(Stray {
                    measure: m.measure,
                    unit: m.unit,
                    value,
                    others: mean,
                    needed,
                })
            })
            .collect();
        by.sort_by(|a, b| beyond_needed(b).total_cmp(&beyond_needed(a)));
        by
    };
    let all = counted.iter().map(|rep| OddRep { rep: *rep, by: strays(*rep) }).filter(|o| !o.by.is_empty());
    all.max_by(|a, b| {
        let sum = |o: &OddRep| o.by.iter().map(beyond_needed).sum::<f64>();
        sum(a).total_cmp(&sum(b))
    })
}

/// All values of a measure, to tell of each how it lies to the others.
struct Others {
    /// How many others there are.
    count: f64,
    mean: f64,
    /// Sum of squares about the mean of all.
    square: f64,
    t: f64,
}

impl Others {
    fn of(m: &MeasureSpread, chance: f64) -> Self {
        let square = m.values.iter().flatten().map(|v| (v.0 - m.mean).powi(2)).sum();
        let others = m.reps - 1;
        Self { count: others as f64, mean: m.mean, square, t: beyond(chance, others - 1) }
    }

    /// Mean of the others than `value`, and how far one more of them may lie from it.
    fn than(&self, value: f64) -> (f64, f64) {
        let (n, away) = (self.count, value - self.mean);
        let square = (self.square - away * away * (n + 1.0) / n).max(0.0);
        let sd = (square / (n - 1.0)).sqrt();
        (self.mean - away / n, self.t * sd * (1.0 + 1.0 / n).sqrt())
    }
}

fn beyond_needed(s: &Stray) -> f64 {
    (s.value - s.others).abs() / s.needed.max(1e-12)
}

/// Less than this is never worth a word, however alike the others are.
fn least(unit: Unit) -> f64 {
    match unit {
        Unit::Ms => 5.0,
        Unit::Deg => 3.0,
        Unit::Cm => 1.0,
        Unit::BodyHeights => 0.006,
        Unit::MetresPerS => 0.1,
        Unit::BodyHeightsPerS => 0.06,
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use crate::types::Side;
    use approx::assert_abs_diff_eq;

    const TIME: MeasureId = MeasureId::PlantToContact;
    const KNEE: MeasureId = MeasureId::FrontKneeAtContact;

    fn reps(times: &[f64], knees: &[f64]) -> Vec<Reading> {
        let one = |(t, k): (&f64, &f64)| {
            let m = |value, unit| Measure { value, plus_minus: 2.0, unit };
            sample::reading([(TIME, m(*t, Unit::Ms)), (KNEE, m(*k, Unit::Deg))].into())
        };
        times.iter().zip(knees).map(one).collect()
    }

    fn of(readings: &[Reading]) -> (RepSpread, Vec<Warning>) {
        spread(&readings.iter().collect::<Vec<_>>())
    }

    /// Mean and SD of NIST's StRD data set "NumAcc1" (10000001, 10000003, 10000002: mean 10000002, SD 1; from memory).
    #[test]
    fn mean_and_deviation_of_a_certified_data_set() {
        let (found, _) = of(&reps(&[10_000_001.0, 10_000_003.0, 10_000_002.0], &[1.0, 2.0, 4.0]));
        let m = &found.measures[0];
        assert_eq!((m.mean, m.sd, m.reps), (10_000_002.0, Some(1.0), 3));
    }

    #[test]
    fn real_changes_follow_from_t_and_the_reps_on_each_side() {
        let (found, warnings) = of(&reps(&[170.0, 174.0, 176.0, 178.0, 184.0], &[150.0; 5]));
        assert!(warnings.is_empty(), "{warnings:?}");
        let m = &found.measures[0];
        let (sd, [one, three, five]) = (m.sd.unwrap(), m.real_change.unwrap());
        // t(4) = 2.776 as in printed tables.
        assert_abs_diff_eq!(one, 2.776 * sd * 2f64.sqrt(), epsilon = 0.01);
        assert_abs_diff_eq!(three, one / 3f64.sqrt(), epsilon = 1e-9);
        assert_abs_diff_eq!(five, one / 5f64.sqrt(), epsilon = 1e-9);
        let (low, high) = m.sd_between.unwrap();
        assert!(low < 0.61 * sd && high > 2.86 * sd);
        assert_eq!(found.nearest, Some(2));
    }

    #[test]
    fn the_odd_one_is_named_with_what_makes_it_odd() {
        let knees = [160.0, 162.0, 158.0, 161.0, 120.0, 159.0, 160.0];
        let (found, _) = of(&reps(&[175.0, 172.0, 178.0, 174.0, 176.0, 173.0, 177.0], &knees));
        let odd = found.odd.unwrap();
        assert_eq!((odd.rep, odd.by.len(), odd.by[0].measure), (4, 1, KNEE));
        assert_abs_diff_eq!(odd.by[0].others, 160.0, epsilon = 1e-9);
        let (even, _) = of(&reps(&[175.0, 172.0, 178.0, 174.0, 176.0], &[160.0, 162.0, 158.0, 161.0, 159.0]));
        assert_eq!(even.odd, None);
    }

    #[test]
    fn the_others_are_told_without_counting_them_anew() {
        let (found, _) = of(&reps(&[170.0, 174.0, 176.0, 178.0, 190.0, 171.0], &[150.0; 6]));
        let others = Others::of(&found.measures[0], 0.05);
        let (mean, sd) = mean_sd(&[170.0, 174.0, 176.0, 178.0, 171.0]);
        let (reported, needed) = others.than(190.0);
        assert_abs_diff_eq!(reported, mean, epsilon = 1e-9);
        assert_abs_diff_eq!(needed, t95(4) * sd.unwrap() * 1.2f64.sqrt(), epsilon = 1e-9);
    }

    #[test]
    fn honest_reps_are_seldom_called_odd() {
        let mut state = 77u64;
        let mut unit = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (state >> 33) as f64 / (1u64 << 31) as f64
        };
        let mut bell = || (0..12).map(|_| unit()).sum::<f64>() - 6.0;
        let called = (0..400)
            .filter(|_| {
                let times: Vec<f64> = (0..8).map(|_| 175.0 + 10.0 * bell()).collect();
                let knees: Vec<f64> = (0..8).map(|_| 160.0 + 6.0 * bell()).collect();
                of(&reps(&times, &knees)).0.odd.is_some()
            })
            .count();
        assert!(called <= 28, "{called} of 400");
    }

    #[test]
    fn few_mixed_and_doubled_reps_are_told() {
        let mut all = reps(&[170.0, 174.0, 176.0, 174.0], &[150.0, 152.0, 151.0, 152.0]);
        all[2].hitter.bats = Side::Left;
        let (found, warnings) = of(&all);
        let codes: Vec<&str> = warnings.iter().map(crate::types::Warning::code).collect();
        assert_eq!(codes, ["rep_left_out", "rep_left_out", "few_reps"]);
        let text = crate::messages::warning(&warnings[0]);
        assert!(text.contains("left"), "{text}");
        assert_eq!((found.counted, found.measures[0].sd, found.odd), (2, None, None));
        let (none, warnings) = of(&[]);
        assert_eq!((none.counted, none.nearest, warnings.len()), (0, None, 1));
    }
}
