//! Readings lined up: time map, registration, differences, the range of several good reps, how much reps
//! differ, what changed from day to day. Pure.

pub mod angles;
mod differences;
mod filming;
mod mirror;
mod params;
mod range;
mod registration;
#[cfg(test)]
mod sample;
mod shared_error;
mod spread;
mod time_map;
mod trend;
mod usual;

use crate::messages;
use crate::types::{
    Among, Error, EventId, GoodRep, GoodReps, LeftOut, Pairing, Reading, Result, SyncOn, Verdict, Warning,
    file_name,
};

use differences::Terms;
pub use filming::filmed_alike;
pub use mirror::{mirrored, mirrored_cutouts};
pub use params::TABLE as PARAMS;
pub use range::FEWEST_REPS;
pub use spread::spread;
pub use trend::{days_filmed_alike, trends};

/// Line one reference rep up with today's.
///
/// A sync event that one of the two lacks falls back to one that both have, with a warning;
/// two readings without a shared event are [`Error::Unpairable`].
/// A difference carries its unit and its ± (95 %); its verdict holds it against what changes from rep to rep anyway.
///
/// ```no_run
/// use swingpair::pairing;
/// use swingpair::reading::{ReadOptions, read};
/// use swingpair::types::{Cancel, NoProgress, SyncOn};
///
/// let [today, best] = ["today.mp4", "best.mp4"]
///     .map(|clip| read(clip.as_ref(), &ReadOptions::default(), &NoProgress, &Cancel::default()));
/// let (today, best) = (today?.reading, best?.reading);
/// let (pairing, warnings) = pairing::pair(&today, &best, SyncOn::Phases)?;
/// println!("{}", swingpair::report::pairing_text(swingpair::messages::english(), &pairing, &today, &best));
/// # Ok::<(), swingpair::types::Error>(())
/// ```
pub fn pair(today: &Reading, reference: &Reading, sync: SyncOn) -> Result<(Pairing, Vec<Warning>)> {
    let (mut pairing, mut warnings) = lined_up(today, reference, sync)?;
    let terms = Terms::of(today, reference, pairing.filmed.filming);
    pairing.differences = differences::between(&today.measures, &reference.measures, terms);
    pairing.one_sided = differences::one_sided(&today.measures, &reference.measures, &pairing.differences);
    if today.hitter.view == reference.hitter.view && today.hitter.bats != reference.hitter.bats {
        warnings.push(Warning::SidesDiffer { angles: None });
    }
    if let (Some(today), Some(reference)) = (today.ball, reference.ball)
        && today != reference
    {
        warnings.push(Warning::DeliveriesDiffer { today, reference });
    }
    if !pairing.differences.is_empty() {
        warnings.push(Warning::SingleReference);
    }
    warnings.extend(by_chance(&pairing));
    Ok((pairing, warnings))
}

/// Line the good reps up with today's: today is compared with their range, and the rep nearest their middle is
/// the one that is shown, `references[good_reps.shown]`.
///
/// Reps of another side or view than today's give nothing to the range, with a warning. With fewer than
/// [`FEWEST_REPS`] left, the comparison is with the one shown, as in [`pair`]. An empty list is
/// [`Error::Unpairable`].
pub fn pair_with_reps(
    today: &Reading,
    references: &[&Reading],
    sync: SyncOn,
) -> Result<(Pairing, Vec<Warning>)> {
    if let [only] = references {
        return pair(today, only, sync);
    }
    let mut reps: Vec<GoodRep> = references
        .iter()
        .map(|r| GoodRep {
            clip: r.clip.path.clone(),
            left_out: range::left_out(today, r).or_else(|| same_as_before(today, references, r)),
            from_middle: None,
        })
        .collect();
    let counted: Vec<usize> = (0..reps.len()).filter(|i| reps[*i].left_out.is_none()).collect();
    let in_range: Vec<&Reading> = counted.iter().filter_map(|i| references.get(*i).copied()).collect();
    for (i, away) in counted.iter().zip(range::from_middle(&in_range)) {
        reps[*i].from_middle = Some(away);
    }
    let mut warnings: Vec<Warning> = reps
        .iter()
        .filter_map(|r| {
            let why = r.left_out.clone()?;
            Some(Warning::RepLeftOut { clip: file_name(&r.clip), among: Among::GoodReps, why })
        })
        .collect();
    let shown = shown(&reps, references, sync)
        .ok_or_else(|| Error::Unpairable { cause: messages::pairing::NO_REFERENCE.into() })?;
    let reference = references[shown];
    let n = in_range.len();
    let (mut pairing, reported) = if n >= FEWEST_REPS {
        let (mut pairing, reported) = lined_up(today, reference, sync)?;
        let rate_hz = today.clip.capture_rate_hz;
        let terms = Terms { rate_hz, ..Terms::of(today, reference, pairing.filmed.filming) };
        pairing.differences = range::against(&today.measures, &in_range, terms);
        pairing.one_sided =
            differences::one_sided(&today.measures, &reference.measures, &pairing.differences);
        (pairing, reported)
    } else {
        warnings.push(Warning::FewReps { among: Among::GoodReps, reps: n, needed: FEWEST_REPS });
        pair(today, reference, sync)?
    };
    warnings.extend(reported);
    if n >= FEWEST_REPS {
        warnings.extend(by_chance(&pairing));
    }
    pairing.good_reps = Some(GoodReps { reps, shown, counted: if n >= FEWEST_REPS { n } else { 0 } });
    Ok((pairing, warnings))
}

/// Two recordings never give the same numbers to the last digit: one that does is counted once.
fn same_as_before(today: &Reading, references: &[&Reading], rep: &Reading) -> Option<LeftOut> {
    let same = |a: &Reading| !a.measures.is_empty() && a.measures == rep.measures && a.events == rep.events;
    if same(today) {
        return Some(LeftOut::SameAsToday);
    }
    let before = references.iter().take_while(|r| !std::ptr::eq(**r, rep));
    let twin = before.into_iter().find(|r| same(r))?;
    Some(LeftOut::SameSwing { clip: file_name(&twin.clip.path) })
}

/// The counted rep nearest the middle; one that shows what is lined up on comes before one that does not, the
/// first given before its equals, and where none is counted the first given is taken.
fn shown(reps: &[GoodRep], references: &[&Reading], sync: SyncOn) -> Option<usize> {
    let wanted = match sync {
        SyncOn::Event(event) => event,
        SyncOn::Phases => EventId::Plant,
    };
    let lacks = |i: &usize| references.get(*i).is_none_or(|r| !r.events.contains_key(&wanted));
    let away = |i: &usize| reps.get(*i).and_then(|r| r.from_middle).unwrap_or(f64::INFINITY);
    (0..reps.len()).min_by(|a, b| {
        let left_out = |i: &usize| reps.get(*i).is_none_or(|r| r.left_out.is_some());
        (left_out(a), lacks(a)).cmp(&(left_out(b), lacks(b))).then(away(a).total_cmp(&away(b)))
    })
}

/// Time map and registration; nothing is compared yet.
fn lined_up(today: &Reading, reference: &Reading, sync: SyncOn) -> Result<(Pairing, Vec<Warning>)> {
    let mut warnings = Vec::new();
    let (sync, time_map) = time_map::lined_up(&today.events, &reference.events, sync, &mut warnings)?;
    let (registration, why_no_registration) = match registration::register(today, reference) {
        Ok(registration) => (Some(registration), None),
        Err(why) => (None, Some(why)),
    };
    let pairing = Pairing {
        sync,
        time_map,
        registration,
        why_no_registration,
        differences: Vec::new(),
        one_sided: Vec::new(),
        good_reps: None,
        filmed: filmed_alike(today, reference),
    };
    Ok((pairing, warnings))
}

/// Of many measures some look bigger by chance: said where several do.
fn by_chance(pairing: &Pairing) -> Option<Warning> {
    const MANY: usize = 5;
    let judged = pairing.differences.iter().filter(|d| d.needed.is_some()).count();
    let bigger = pairing.differences.iter().filter(|d| d.verdict == Verdict::Bigger).count();
    (bigger >= 2 && judged >= MANY).then_some(Warning::ManyMeasures { bigger, judged })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Measure, MeasureId, Measures, Side, Unit, View};

    fn reps(values: &[f64]) -> Vec<Reading> {
        let plant_to_contact = |value| {
            Measures::from([(MeasureId::PlantToContact, Measure { value, plus_minus: 4.0, unit: Unit::Ms })])
        };
        values.iter().map(|v| sample::reading(plant_to_contact(*v))).collect()
    }

    fn codes(warnings: &[Warning]) -> Vec<&str> {
        warnings.iter().map(crate::types::Warning::code).collect()
    }

    const PLANT: SyncOn = SyncOn::Event(EventId::Plant);

    #[test]
    fn one_single_best_rep_is_said_to_flatter_the_past() {
        let all = reps(&[180.0, 176.0]);
        let (pairing, warnings) = pair_with_reps(&all[0], &[&all[1]], PLANT).unwrap();
        assert_eq!((pairing.good_reps, codes(&warnings)), (None, vec!["single_reference"]));
        assert_eq!(pairing.differences[0].difference, 4.0);
    }

    #[test]
    fn the_rep_nearest_the_middle_is_shown_and_the_range_compared_with() {
        let today = &reps(&[230.0])[0];
        let mut all = reps(&[160.0, 176.0, 190.0, 900.0, 177.0]);
        all[3].hitter.view = View::FromBehind;
        let given: Vec<&Reading> = all.iter().collect();
        let (pairing, warnings) = pair_with_reps(today, &given, PLANT).unwrap();
        let good = pairing.good_reps.unwrap();
        assert_eq!((good.shown, good.counted), (1, 4));
        assert!(good.reps[3].left_out.is_some() && good.reps[3].from_middle.is_none());
        assert_eq!(codes(&warnings), ["rep_left_out"]);
        let d = &pairing.differences[0];
        assert_eq!((d.reference.value, d.verdict), (175.75, Verdict::Bigger));
        assert_eq!(d.spread.map(|s| (s.low, s.high, s.reps)), Some((160.0, 190.0, 4)));
        // One that does not show the moment lined up on is not shown itself.
        all[1].events.remove(&EventId::Plant);
        let given: Vec<&Reading> = all.iter().collect();
        assert_eq!(pair_with_reps(today, &given, PLANT).unwrap().0.good_reps.unwrap().shown, 4);
    }

    #[test]
    fn one_swing_under_two_names_counts_once() {
        let all = reps(&[230.0, 176.0, 180.0, 176.0, 172.0, 230.0]);
        let (today, rest) = all.split_first().unwrap();
        let (pairing, _) = pair_with_reps(today, &rest.iter().collect::<Vec<_>>(), PLANT).unwrap();
        let good = pairing.good_reps.unwrap();
        let left_out: Vec<bool> = good.reps.iter().map(|r| r.left_out.is_some()).collect();
        assert_eq!((left_out, good.counted), (vec![false, false, true, false, true], 3));
    }

    #[test]
    fn too_few_good_reps_are_as_one() {
        let mut all = reps(&[230.0, 176.0, 180.0, 181.0]);
        all[1].hitter.bats = Side::Left;
        let (today, rest) = all.split_first().unwrap();
        let (pairing, warnings) = pair_with_reps(today, &rest.iter().collect::<Vec<_>>(), PLANT).unwrap();
        assert_eq!(codes(&warnings), ["rep_left_out", "few_reps", "single_reference"]);
        assert_eq!((pairing.good_reps.unwrap().counted, pairing.differences[0].spread), (0, None));
        assert!(pair_with_reps(today, &[], PLANT).is_err());
    }

    #[test]
    fn several_bigger_of_many_are_put_in_proportion() {
        let [mut today, mut other] = [(); 2].map(|()| sample::reading(Measures::new()));
        for (i, id) in MeasureId::ALL.into_iter().enumerate() {
            let m = |value| Measure { value, plus_minus: 2.0, unit: Unit::Ms };
            today.measures.insert(id, m(100.0));
            other.measures.insert(id, m(if i < 3 { 200.0 } else { 101.0 }));
        }
        let (_, warnings) = pair(&today, &other, PLANT).unwrap();
        assert!(codes(&warnings).contains(&"many_measures"), "{warnings:?}");
        let swapped = pair(&other, &today, PLANT).unwrap().0;
        for (a, b) in pair(&today, &other, PLANT).unwrap().0.differences.iter().zip(&swapped.differences) {
            assert_eq!((a.difference, a.verdict, a.needed), (-b.difference, b.verdict, b.needed));
        }
    }
}
