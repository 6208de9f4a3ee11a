//! What changed from day to day, with honest error.

use super::differences::Z95;
use super::filming::apart;
use super::params::SAME_SHARE;
use super::shared_error::parts;
use crate::math::{beyond, chance, mean_sd, t95};
use crate::types::{DayMean, MeasureId, Reading, Trend, Unit, Verdict};

/// Chance that any change is claimed where there is none, over all measures looked at together.
const FALSE_CLAIMS: f64 = 0.05;
/// Fewer values than this on either day say nothing of a change.
const FEWEST: usize = 3;

/// Values of one measure on one day.
struct Values {
    values: Vec<f64>,
    /// Mean ± of one value.
    plus_minus: f64,
}

/// Every measure over the days (rising; each with its readings, all of one side and view). `watched`: the measures
/// whose change is looked for; empty: all. The more are looked at, the larger a change must be to be no chance.
///
/// The error of a day's mean is that of the reps' spread and, of their ±, the part that is the same through a day: more
/// where the days are not filmed alike (rate, size of the body).
pub fn trends(days: &[Vec<&Reading>], watched: &[MeasureId]) -> Vec<Trend> {
    let alike = days_filmed_alike(days);
    let mut all: Vec<(Trend, f64)> =
        MeasureId::ALL.into_iter().filter_map(|id| one(id, days, alike)).collect();
    // Holm 1979, Scand J Stat 6:65–70: the clearest change is held to the whole chance shared among all, the next to
    // it shared among the rest, until one fails.
    let looked = |t: &Trend| watched.is_empty() || watched.contains(&t.measure);
    let mut order: Vec<usize> =
        (0..all.len()).filter(|i| looked(&all[*i].0) && all[*i].0.plus_minus.is_some()).collect();
    order.sort_by(|a, b| all[*a].1.total_cmp(&all[*b].1));
    let count = order.len();
    let mut holds = true;
    for (k, i) in order.into_iter().enumerate() {
        let (trend, p) = &mut all[i];
        let share = FALSE_CLAIMS / (count - k) as f64;
        holds &= *p < share;
        let dof = dof(trend);
        trend.needed = trend.plus_minus.map(|pm| pm / t95(dof) * beyond(share, dof));
        trend.verdict = if holds { Verdict::Bigger } else { Verdict::Within };
    }
    all.into_iter().map(|(trend, _)| trend).collect()
}

fn dof(trend: &Trend) -> usize {
    trend.days.iter().flatten().map(|d| d.reps.saturating_sub(1)).sum::<usize>().max(1)
}

fn one(measure: MeasureId, days: &[Vec<&Reading>], alike: bool) -> Option<(Trend, f64)> {
    let unit = days.iter().flatten().find_map(|r| r.measures.get(&measure)).map(|m| m.unit)?;
    let by_day: Vec<Option<Values>> = days.iter().map(|reps| values(measure, unit, reps)).collect();
    // The spread within days, each about its own mean.
    let (square, dof) = by_day.iter().flatten().fold((0.0, 0), |(square, dof), day| {
        let n = day.values.len();
        (square + mean_sd(&day.values).1.unwrap_or(0.0).powi(2) * (n - 1) as f64, dof + n - 1)
    });
    let sd = (dof + 1 >= FEWEST).then(|| (square / dof as f64).sqrt().max(1e-9));
    let t = t95(dof);
    // Filmed from another place or at another rate, all of it may be the day's own.
    let share = if alike { parts(measure).setup } else { 1.0 };
    let variance = |day: &Values| -> f64 {
        let sd = sd.unwrap_or(0.0);
        let days_own = share * day.plus_minus / Z95;
        sd * sd / day.values.len() as f64 + days_own * days_own
    };
    let means: Vec<Option<DayMean>> = by_day
        .iter()
        .map(|day| {
            let day = day.as_ref()?;
            let (reps, mean) = (day.values.len(), mean_sd(&day.values).0);
            // Of too few reps only the measuring's own error is known.
            let plus_minus = if sd.is_some() { t * variance(day).sqrt() } else { day.plus_minus };
            Some(DayMean { reps, mean, plus_minus })
        })
        .collect();
    let known: Vec<&Values> = by_day.iter().flatten().collect();
    let (first, last) = (known.first()?, known.last()?);
    let change = mean_sd(&last.values).0 - mean_sd(&first.values).0;
    let enough = known.len() > 1 && first.values.len() >= FEWEST && last.values.len() >= FEWEST;
    let error = sd.filter(|_| enough).map(|_| (variance(first) + variance(last)).sqrt());
    let p = error.map_or(1.0, |e| chance(change / e, dof));
    let trend = Trend {
        measure,
        unit,
        days: means,
        sd,
        change,
        plus_minus: error.map(|e| t * e),
        needed: None,
        verdict: Verdict::CantTell,
    };
    Some((trend, p))
}

fn values(measure: MeasureId, unit: Unit, reps: &[&Reading]) -> Option<Values> {
    let all: Vec<_> =
        reps.iter().filter_map(|r| r.measures.get(&measure)).filter(|m| m.unit == unit).collect();
    let plus_minus = all.iter().map(|m| m.plus_minus).sum::<f64>() / all.len().max(1) as f64;
    (!all.is_empty()).then(|| Values { values: all.iter().map(|m| m.value).collect(), plus_minus })
}

/// Whether all clips have one rate and show the body at one size.
pub fn days_filmed_alike(days: &[Vec<&Reading>]) -> bool {
    let alike = |of: &dyn Fn(&Reading) -> f64| {
        let all = days.iter().flatten().map(|r| of(r));
        let (low, high) = all.fold((f64::INFINITY, 0.0f64), |(l, h), v| (l.min(v), h.max(v)));
        apart(low, high) < SAME_SHARE
    };
    alike(&|r| r.clip.capture_rate_hz) && alike(&|r| r.scale.body_height_px)
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use crate::types::Measure;
    use approx::assert_abs_diff_eq;

    const TIME: MeasureId = MeasureId::PlantToContact;

    fn measured(values: &[f64], plus_minus: f64) -> Vec<Reading> {
        let one =
            |v: &f64| sample::reading([(TIME, Measure { value: *v, plus_minus, unit: Unit::Ms })].into());
        values.iter().map(one).collect()
    }

    fn day(values: &[f64]) -> Vec<Reading> {
        measured(values, 9.0)
    }

    fn of(days: &[Vec<Reading>]) -> Trend {
        let days: Vec<Vec<&Reading>> = days.iter().map(|d| d.iter().collect()).collect();
        trends(&days, &[]).remove(0)
    }

    /// `fixtures/statistics.py` wrote the file with SciPy's t test of two samples with one standard deviation.
    #[test]
    fn the_chance_agrees_with_scipy() {
        let file: serde_json::Value =
            serde_json::from_str(include_str!("../../fixtures/statistics.json")).unwrap();
        let cases = file["two_days"].as_array().unwrap();
        assert_eq!(cases.len(), 4);
        for case in cases {
            let values = |key: &str| -> Vec<f64> {
                case[key].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect()
            };
            let days = [measured(&values("first"), 0.0), measured(&values("last"), 0.0)];
            let days: Vec<Vec<&Reading>> = days.iter().map(|d| d.iter().collect()).collect();
            let (trend, p) = one(TIME, &days, true).unwrap();
            assert_abs_diff_eq!(p, case["chance"].as_f64().unwrap(), epsilon = 1e-8);
            let error = trend.plus_minus.unwrap() / t95(dof(&trend));
            assert_abs_diff_eq!(trend.change / error, case["t"].as_f64().unwrap(), epsilon = 1e-8);
        }
    }

    #[test]
    fn a_change_is_real_or_not_or_unknown() {
        let before = day(&[170.0, 174.0, 176.0, 178.0, 182.0]);
        let later = |shift: f64| day(&[171.0, 175.0, 175.0, 179.0, 180.0].map(|v| v + shift));
        assert_eq!(of(&[before.clone(), later(0.0)]).verdict, Verdict::Within);
        let real = of(&[before.clone(), later(15.0)]);
        assert_eq!(real.verdict, Verdict::Bigger);
        assert!(real.change > real.needed.unwrap());
        assert_eq!(of(&[before.clone(), day(&[300.0, 301.0])]).verdict, Verdict::CantTell);
        assert_eq!(of(&[before]).verdict, Verdict::CantTell);
    }

    #[test]
    fn another_camera_place_widens_the_error() {
        let days = [day(&[170.0, 174.0, 176.0, 178.0]), day(&[171.0, 175.0, 175.0, 179.0])];
        let alike = of(&days);
        let mut other = days.clone();
        other[1].iter_mut().for_each(|r| r.scale.body_height_px *= 1.4);
        assert!(of(&other).plus_minus.unwrap() > 1.2 * alike.plus_minus.unwrap());
    }

    #[test]
    fn watching_fewer_measures_sees_smaller_changes() {
        let mut days = [day(&[170.0, 174.0, 176.0, 178.0, 182.0]), day(&[180.0, 184.0, 186.0, 188.0, 191.0])];
        let mut state = 5u64;
        for reading in days.iter_mut().flatten() {
            for id in MeasureId::ALL.into_iter().filter(|id| *id != TIME) {
                state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
                let value = 100.0 + (state >> 60) as f64;
                reading.measures.insert(id, Measure { value, plus_minus: 5.0, unit: Unit::Ms });
            }
        }
        let days: Vec<Vec<&Reading>> = days.iter().map(|d| d.iter().collect()).collect();
        let time = |watched: &[MeasureId]| trends(&days, watched).into_iter().find(|t| t.measure == TIME);
        assert_eq!(time(&[]).unwrap().verdict, Verdict::Within);
        assert_eq!(time(&[TIME]).unwrap().verdict, Verdict::Bigger);
    }
}
