//! Several good reps: their range, today's rep against it, and the rep nearest their middle.

use std::collections::BTreeMap;

use super::differences::{Terms, Z95, limit, settle};
use super::shared_error::{parts, setup_error};
use super::usual::{shrunk, usual};
use crate::math::{mean_sd, t95};
use crate::types::{
    Difference, Hitter, LeftOut, Limit, Measure, MeasureId, Measures, Reading, Spread, Than, UsualFrom,
    Verdict,
};

/// From this many reps on a spread is taken from them: of two, t is 12.7 and everything is "within it".
pub const FEWEST_REPS: usize = 3;

/// A measure that a rep lacks counts as so far from the middle, in standard deviations.
const LACKING: f64 = 1.5;
/// One wild value does not decide which rep is the middle one: no measure counts for more, in standard
/// deviations.
const FARTHEST: f64 = 3.0;

/// Why `rep` says nothing about the range for `today`, if so.
pub fn left_out(today: &Reading, rep: &Reading) -> Option<LeftOut> {
    unlike(&today.hitter, &rep.hitter, Than::Today)
}

/// Why one who stands as in `rep` is not comparable with `other`.
pub fn unlike(other: &Hitter, rep: &Hitter, than: Than) -> Option<LeftOut> {
    if other.view != rep.view {
        return Some(LeftOut::OtherView { rep: rep.view, than, other: other.view });
    }
    let (rep, other) = (rep.bats, other.bats);
    (other != rep).then_some(LeftOut::OtherSide { rep, than, other })
}

/// Each measure's values over the reps, with their ±, in the unit that `today` has it in, else the first.
fn by_measure<'a>(reps: &[&'a Reading], today: Option<&Measures>) -> BTreeMap<MeasureId, Vec<&'a Measure>> {
    let mut all: BTreeMap<MeasureId, Vec<&Measure>> = BTreeMap::new();
    for (id, m) in reps.iter().flat_map(|r| &r.measures) {
        let known = all.entry(*id).or_default();
        let unit = today.and_then(|t| t.get(id)).or(known.first().copied()).map_or(m.unit, |m| m.unit);
        if m.unit == unit {
            known.push(m);
        }
    }
    all.retain(|_, values| !values.is_empty());
    all
}

/// How far a new value may lie from the mean of `n` before it is unlikely (5 %) to be one more of them, where their
/// deviation is known with `dof` degrees of freedom: t(0.975, dof) · sd · √(1 + 1/n). What measuring adds is in the
/// deviation and not added again.
pub fn needed(sd: f64, dof: usize, n: usize) -> f64 {
    t95(dof) * sd * (1.0 + 1.0 / n.max(1) as f64).sqrt()
}

/// Today against the range of the good reps. `terms`: today's and the reps', the rate today's camera's.
pub fn against(today: &Measures, reps: &[&Reading], terms: Terms) -> Vec<Difference> {
    let range = by_measure(reps, Some(today));
    let both = today.iter().filter_map(|(id, t)| Some((*id, t, range.get(id)?)));
    both.map(|(measure, today, reps)| one(measure, today, reps, terms)).collect()
}

fn one(measure: MeasureId, today: &Measure, reps: &[&Measure], terms: Terms) -> Difference {
    let values: Vec<f64> = reps.iter().map(|m| m.value).collect();
    let n = values.len();
    let (mean, sd) = mean_sd(&values);
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let prior = usual(measure, today.unit, mean, terms.ball);
    // Reps show the hitter's own spread and what measuring adds: so must what they are drawn toward.
    let measuring =
        parts(measure).rep * reps.iter().map(|m| m.plus_minus).sum::<f64>() / n.max(1) as f64 / Z95;
    let own = sd.filter(|_| n >= FEWEST_REPS);
    let known = own.map(|sd| shrunk(sd, n - 1, prior.sd.hypot(measuring), prior.dof));
    let needed_alike = known.map(|(sd, dof)| needed(sd, dof, n));
    let mean_pm = match known {
        Some((sd, dof)) => t95(dof) * sd / (n as f64).sqrt(),
        None => {
            let square = reps.iter().map(|m| m.plus_minus.powi(2)).sum::<f64>();
            parts(measure).rep * (square / (n * n).max(1) as f64).sqrt()
        }
    };
    let difference = today.value - mean;
    // What the camera's other place or rate adds is in none of the reps' spread.
    let beside = Z95 * setup_error(measure, today, terms.filming);
    let rep = parts(measure).rep * today.plus_minus;
    let needed = needed_alike.map(|needed| needed.hypot(beside));
    // Measured worse than the reps differ: nobody can say that it is one of them.
    let coarse = needed_alike.is_some_and(|needed| rep.hypot(beside) > needed);
    let needed = if coarse { needed.map(|needed| needed.hypot(rep)) } else { needed };
    let (verdict, limit) = match needed {
        None => (Verdict::CantTell, Some(Limit::FewReps)),
        Some(needed) if difference.abs() > needed => (Verdict::Bigger, None),
        Some(_) if coarse => (Verdict::CantTell, Some(limit(today.unit, rep.hypot(beside), terms.rate_hz))),
        Some(_) => (Verdict::Within, None),
    };
    Difference {
        measure,
        today: *today,
        reference: Measure { value: mean, plus_minus: mean_pm, unit: today.unit },
        difference,
        plus_minus: rep.hypot(beside).hypot(mean_pm),
        usual_sd: known.map_or(prior.sd, |(sd, _)| sd),
        usual_from: match known {
            Some(_) => UsualFrom::OwnReps,
            None if prior.measured => UsualFrom::Measured,
            None => UsualFrom::Estimated,
        },
        needed,
        verdict,
        limit,
        settle: limit.map(|limit| settle(limit, needed_alike.is_some_and(|needed| rep <= needed))),
        spread: Some(Spread { reps: n, low, high, sd }),
    }
}

/// How far each rep lies from the middle (the medians) of all, in standard deviations: the mean over the
/// measures that at least two reps give. Zero for all where there is nothing to tell them apart by.
pub fn from_middle(reps: &[&Reading]) -> Vec<f64> {
    let range = by_measure(reps, None);
    let axes: Vec<(MeasureId, f64, f64)> = range
        .iter()
        .filter(|(_, values)| values.len() > 1)
        .map(|(id, reps)| {
            let mut values: Vec<f64> = reps.iter().map(|m| m.value).collect();
            let sd = mean_sd(&values).1.unwrap_or(0.0);
            values.sort_by(f64::total_cmp);
            let half = values.len() / 2;
            let middle = (values[half] + values[(values.len() - 1) / 2]) / 2.0;
            // Reps closer together than they are measured differ by chance: their ± is the scale then.
            let measuring = reps.iter().map(|m| m.plus_minus).sum::<f64>() / reps.len() as f64 / Z95;
            let unit = reps.first().map_or(crate::types::Unit::Ms, |m| m.unit);
            let scale = sd.max(measuring).max(1e-3 * usual(*id, unit, middle, None).sd);
            (*id, middle, scale)
        })
        .collect();
    let away = |rep: &Reading, (id, middle, scale): &(MeasureId, f64, f64)| {
        rep.measures.get(id).map_or(LACKING, |m| ((m.value - middle) / scale).abs().min(FARTHEST))
    };
    let of = |rep: &&Reading| axes.iter().map(|a| away(rep, a)).sum::<f64>() / axes.len().max(1) as f64;
    reps.iter().map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use crate::messages;
    use crate::types::{Filming, Side, Unit, View};
    use approx::assert_abs_diff_eq;

    const ID: MeasureId = MeasureId::PlantToContact;

    fn ms(value: f64, plus_minus: f64) -> Measure {
        Measure { value, plus_minus, unit: Unit::Ms }
    }

    fn reps(values: &[f64], plus_minus: f64) -> Vec<Reading> {
        values.iter().map(|v| sample::reading([(ID, ms(*v, plus_minus))].into())).collect()
    }

    fn said(today: Measure, reps: &[Reading], rate_hz: f64) -> Difference {
        {
            let terms = Terms { filming: Filming::Alike, ball: None, rate_hz };
            against(&[(ID, today)].into(), &reps.iter().collect::<Vec<_>>(), terms).remove(0)
        }
    }

    /// `fixtures/statistics.py` wrote the file with SciPy and NumPy.
    #[test]
    fn the_needed_difference_agrees_with_scipy() {
        let file: serde_json::Value =
            serde_json::from_str(include_str!("../../fixtures/statistics.json")).unwrap();
        let cases = file["new_observation"].as_array().unwrap();
        assert_eq!(cases.len(), 5);
        for case in cases {
            let of = |key: &str| case[key].as_f64().unwrap();
            let values: Vec<f64> =
                case["reps"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
            let d = said(ms(of("mean"), 1.0), &reps(&values, 4.0), 240.0);
            assert_abs_diff_eq!(d.reference.value, of("mean"), epsilon = 1e-9);
            assert_abs_diff_eq!(d.spread.unwrap().sd.unwrap(), of("sd"), epsilon = 1e-9);
            let n = values.len();
            assert_abs_diff_eq!(needed(of("sd"), n - 1, n), of("needed"), epsilon = 1e-7);
        }
    }

    #[test]
    fn todays_rep_is_judged_by_the_reps_own_spread() {
        // Their own deviation is 5.2 ms, other hitters' 14: with eight degrees of freedom against four, 12.
        let five = reps(&[170.0, 174.0, 176.0, 178.0, 184.0], 30.0);
        let verdict = |value, pm| said(ms(value, pm), &five, 240.0).verdict;
        let d = said(ms(190.0, 9.0), &five, 240.0);
        let measuring = parts(ID).rep * 30.0 / Z95;
        let sd = ((4.0 * 26.8 + 8.0 * (14.0f64.powi(2) + measuring.powi(2))) / 12.0).sqrt();
        assert_abs_diff_eq!(d.needed.unwrap(), t95(12) * sd * 1.2f64.sqrt(), epsilon = 1e-2);
        assert_eq!((d.spread.unwrap().low, d.spread.unwrap().high), (170.0, 184.0));
        assert_eq!(verdict(190.0, 9.0), Verdict::Within);
        assert_eq!(verdict(215.0, 9.0), Verdict::Bigger);
        // Measured worse than they differ.
        assert_eq!(verdict(193.0, 60.0), Verdict::CantTell);
        assert_eq!(verdict(240.0, 60.0), Verdict::Bigger);
        let slow = said(ms(180.0, 60.0), &five, 30.0);
        assert_eq!((slow.verdict, slow.limit), (Verdict::CantTell, Some(Limit::FrameRate)));
    }

    #[test]
    fn of_two_reps_nothing_can_be_told() {
        for values in [&[175.0][..], &[170.0, 180.0]] {
            let d = said(ms(300.0, 5.0), &reps(values, 5.0), 240.0);
            assert_eq!((d.verdict, d.limit), (Verdict::CantTell, Some(Limit::FewReps)));
            assert_eq!((d.needed, d.spread.unwrap().reps), (None, values.len()));
        }
        // Few reps make t large: three need almost five standard deviations, ten 2.4.
        assert_abs_diff_eq!(needed(1.0, 2, 3), 4.968, epsilon = 1e-3);
        assert_abs_diff_eq!(needed(1.0, 9, 10), 2.373, epsilon = 1e-3);
    }

    #[test]
    fn the_middle_rep_is_found_in_spite_of_wild_and_lacking_measures() {
        let mut all = reps(&[150.0, 176.0, 200.0, 171.0], 5.0);
        let near = |all: &[Reading]| {
            let scores = from_middle(&all.iter().collect::<Vec<_>>());
            (0..scores.len()).min_by(|a, b| scores[*a].total_cmp(&scores[*b])).unwrap()
        };
        assert!([1, 3].contains(&near(&all)));
        for (i, (rep, knee)) in all.iter_mut().zip([160.0, 161.0, 158.0, 140.0]).enumerate() {
            let deg = Measure { value: knee, plus_minus: 5.0, unit: Unit::Deg };
            rep.measures.insert(MeasureId::FrontKneeAtContact, deg);
            let lift = Measure { value: 0.02, plus_minus: 0.01, unit: Unit::BodyHeights };
            if i != 2 {
                rep.measures.insert(MeasureId::BackFootLiftAtContact, lift);
            }
        }
        assert_eq!(near(&all), 1);
        assert_eq!(from_middle(&[]), Vec::<f64>::new());
        assert_eq!(from_middle(&[&all[0]]), vec![0.0]);
    }

    #[test]
    fn another_side_or_view_is_left_out() {
        let [today, mut other] = [(); 2].map(|()| sample::reading(Measures::new()));
        assert_eq!(left_out(&today, &other), None);
        other.hitter.bats = Side::Left;
        assert!(
            messages::left_out(&left_out(&today, &other).unwrap())
                .contains("bats left in it but right today")
        );
        other.hitter.view = View::FromBehind;
        assert!(messages::left_out(&left_out(&today, &other).unwrap()).contains("from behind"));
    }
}
