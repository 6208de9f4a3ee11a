//! One bat over many pictures: the bars of each, chosen so that it turns smoothly; and how long it looks at rest.

use std::f64::consts::TAU;

use super::super::params::{BAT_FEWEST, BAT_FREE_TURN, BAT_LONG_LOOK, BAT_SHARE, BAT_TURN_COST, BAT_WIDEST};
use super::Bar;
use crate::types::{BatAtRest, BatUnmeasured};

/// From `a` to `b` the short way round, rad.
pub(super) fn turn(a: f64, b: f64) -> f64 {
    (b - a + 1.5 * TAU).rem_euclid(TAU) - 0.5 * TAU
}

/// One bar a picture (or none) such that the bat turns smoothly: the chain of most length for least turning.
/// `pictures` in time order, each with its time, s.
pub fn chain(pictures: &[(f64, Vec<Bar>)]) -> Vec<Option<Bar>> {
    /// The most gained up to a candidate, and the candidate (picture, place) before it.
    type Gain = (f64, Option<(usize, usize)>);
    let mut gains: Vec<Vec<Gain>> = Vec::with_capacity(pictures.len());
    for (i, (time_s, bars)) in pictures.iter().enumerate() {
        let gained = bars
            .iter()
            .map(|bar| {
                let mut best = (bar.score, None);
                for (j, (before_s, others)) in pictures.iter().enumerate().take(i) {
                    for (k, other) in others.iter().enumerate() {
                        let Some((gain, _)) = gains.get(j).and_then(|g| g.get(k)) else { continue };
                        let turned = turn(other.angle_rad(), bar.angle_rad()).abs();
                        let dear = (turned - BAT_FREE_TURN * (time_s - before_s) - 0.05).max(0.0);
                        let total = gain + bar.score - BAT_TURN_COST * dear / 0.3;
                        if total > best.0 {
                            best = (total, Some((j, k)));
                        }
                    }
                }
                best
            })
            .collect();
        gains.push(gained);
    }
    let mut chosen = vec![None; pictures.len()];
    let ends =
        gains.iter().enumerate().flat_map(|(i, g)| g.iter().enumerate().map(move |(k, v)| (i, k, v.0)));
    let mut at = ends.max_by(|a, b| a.2.total_cmp(&b.2)).map(|(i, k, _)| (i, k));
    while let Some((i, k)) = at {
        if let (Some(slot), Some(bar)) = (chosen.get_mut(i), pictures.get(i).and_then(|p| p.1.get(k))) {
            *slot = Some(*bar);
        }
        at = gains.get(i).and_then(|g| g.get(k)).and_then(|g| g.1);
    }
    chosen
}

/// The bat's length from the bars found in quiet pictures, with the pictures' times, s; lengths as seen, px.
/// `Err` says why there is none.
pub fn bat_look(pictures: &[(f64, Vec<Bar>)]) -> Result<BatAtRest, BatUnmeasured> {
    let mut lengths: Vec<f64> = chain(pictures).iter().flatten().map(Bar::length_px).collect();
    let looks = lengths.len();
    if looks < BAT_FEWEST || (looks as f64) < BAT_SHARE * pictures.len() as f64 {
        return Err(BatUnmeasured::BlendsIn { looks, of: pictures.len() });
    }
    lengths.sort_by(f64::total_cmp);
    let at = |share: f64| lengths.get((share * (looks - 1) as f64).round() as usize).copied().unwrap_or(0.0);
    let (low, long) = (at(0.25), at(BAT_LONG_LOOK));
    let spread = (long - low) / long.max(1.0);
    if spread > BAT_WIDEST {
        return Err(BatUnmeasured::LengthVaries { share: spread });
    }
    Ok(BatAtRest { hands_to_tip_px: long, error_share: 0.04f64.hypot(0.5 * spread), looks })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::Point;

    fn bar(angle_deg: f64, length_px: f64, score: f64) -> Bar {
        let angle = angle_deg.to_radians();
        let tip = Point::new(angle.cos(), angle.sin()) * length_px;
        Bar { from: Point::default(), tip, support: 0.9, score }
    }

    #[test]
    fn the_bat_turns_smoothly_and_its_longest_looks_count() {
        let mut pictures: Vec<(f64, Vec<Bar>)> = (0..12)
            .map(|i| (f64::from(i) * 0.05, vec![bar(-60.0 - f64::from(i), 140.0 + f64::from(i), 0.2)]))
            .collect();
        // Once a post behind the hands looks better than the bat.
        pictures[6].1.insert(0, bar(-90.0 + 180.0, 220.0, 0.22));
        let kept = chain(&pictures);
        assert_eq!(kept[6], Some(bar(-66.0, 146.0, 0.2)));
        let look = bat_look(&pictures).unwrap();
        assert_eq!(look.looks, 12);
        assert!((look.hands_to_tip_px - 148.0).abs() < 1.5 && look.error_share < 0.06);
        assert_eq!(bat_look(&pictures[..3]), Err(BatUnmeasured::BlendsIn { looks: 3, of: 3 }));
        for (i, p) in pictures.iter_mut().enumerate() {
            p.1 = vec![bar(-60.0, if i % 2 == 0 { 100.0 } else { 160.0 }, 0.2)];
        }
        assert!(matches!(bat_look(&pictures), Err(BatUnmeasured::LengthVaries { share }) if share > 0.3));
    }
}
