//! The hitter cut out of pictures through the swing, for a ghost: found now and then, because the net is dear; what
//! shows it carries the cut-out along with the body between.

use super::super::params::{
    CUTOUT_AROUND_AFTER_S, CUTOUT_AROUND_BEFORE_S, CUTOUT_AROUND_HZ, CUTOUT_SWING_AFTER_S,
    CUTOUT_SWING_BEFORE_S, CUTOUT_SWING_HZ, SWEPT_APART_S, SWEPT_LENGTH_SHARE, SWEPT_TURNS,
};
use std::f64::consts::{PI, TAU};

use crate::media::Clip;
use crate::messages::swing_search as messages;
use crate::tracking::{Area, Bar, Nets, Sampled, bars, chain, cutout, swept_bat};
use crate::types::{BatBar, Cancel, Cutout, Cutouts, EventId, Part, Point, Pose, Progress, Reading, Result};

use super::stream::Pass;

/// What one picture gave.
struct PictureDetection {
    pose: Pose,
    cutout: Option<Cutout>,
    bars: Vec<Bar>,
    sampled: Option<Sampled>,
}

/// The hitter cut out of pictures of the swing that was read from `clip`.
pub fn cutouts(clip: &Clip, reading: &Reading, progress: &dyn Progress, cancel: &Cancel) -> Result<Cutouts> {
    let nets = Nets::load()?;
    let threads = std::thread::available_parallelism().map_or(2, usize::from);
    let pass = Pass { clip, nets: &nets, threads, progress, cancel, warnings: Default::default() };
    let swing = swing_s(reading);
    let chosen = chosen(reading, swing);
    let wanted: Vec<usize> = chosen.iter().map(|p| p.frame).collect();
    let body_px = reading.scale.body_height_px;
    // What a moving camera sees move is not the bat.
    let still = reading.camera.stood_still();
    let area = still.then(|| Area::around(chosen.iter().filter_map(|p| hands(p)), body_px)).flatten();
    let looks = pass.run(messages::CUTTING_OUT, &wanted, None, |eye, picture| {
        let Ok(i) = wanted.binary_search(&picture.index) else { return Ok(None) };
        let Some(&pose) = chosen.get(i) else { return Ok(None) };
        let quick = pose.time_s > swing.0 + CUTOUT_SWING_BEFORE_S && pose.time_s <= swing.1;
        Ok(Some(PictureDetection {
            pose: pose.clone(),
            cutout: cutout(eye, &picture.frame, pose)?,
            bars: if quick { Vec::new() } else { bars(&picture.frame, pose, body_px) },
            sampled: area.as_ref().map(|a| a.of(&picture.frame)),
        }))
    })?;
    let looks: Vec<PictureDetection> = looks.into_iter().flatten().collect();
    let bats = bats(&looks, area.as_ref(), body_px);
    let cut = looks.into_iter().zip(bats).filter_map(|(look, bat)| Some(look.cutout?.with_bat(bat)));
    Ok(Cutouts { looks: cut.collect() })
}

fn hands(pose: &Pose) -> Option<Point> {
    Some(pose.at(Part::LeftHand)?.midpoint(pose.at(Part::RightHand)?))
}

fn swing_s(reading: &Reading) -> (f64, f64) {
    let time = |ids: &[EventId]| ids.iter().find_map(|id| reading.events.get(id)).map(|e| e.time_s);
    let contact = time(&[EventId::Contact, EventId::Plant, EventId::Extension]);
    let from = time(&[EventId::HandsStart, EventId::Plant]).or(contact.map(|t| t - 0.2));
    let to = time(&[EventId::Extension]).or(contact.map(|t| t + 0.1));
    (from.map_or(0.0, |t| t - CUTOUT_SWING_BEFORE_S), to.map_or(0.0, |t| t + CUTOUT_SWING_AFTER_S))
}

/// The poses whose pictures are cut out.
fn chosen(reading: &Reading, swing: (f64, f64)) -> Vec<&Pose> {
    let times = || reading.events.values().map(|e| e.time_s);
    let from = times().fold(f64::INFINITY, f64::min) - CUTOUT_AROUND_BEFORE_S;
    let to = times().fold(f64::NEG_INFINITY, f64::max) + CUTOUT_AROUND_AFTER_S;
    let mut last_s = f64::NEG_INFINITY;
    let wanted = |pose: &&Pose| {
        let t = pose.time_s;
        let rate_hz = if t >= swing.0 && t <= swing.1 { CUTOUT_SWING_HZ } else { CUTOUT_AROUND_HZ };
        // A little early rather than one picture late.
        let wanted = (from..=to).contains(&t) && t - last_s > 0.85 / rate_hz;
        if wanted {
            last_s = t;
        }
        wanted
    };
    reading.track.poses.iter().filter(wanted).collect()
}

/// The bat of each look: what moves like one, else what lies like one in the quiet pictures.
fn bats(looks: &[PictureDetection], area: Option<&Area>, body_px: f64) -> Vec<Option<BatBar>> {
    let swept = |i: usize| -> Option<BatBar> {
        let (area, now) = (area?, looks.get(i)?);
        let t = now.pose.time_s;
        let before = looks.get(..i)?.iter().rev().find(|l| t - l.pose.time_s >= SWEPT_APART_S)?;
        let after = looks.get(i..)?.iter().find(|l| l.pose.time_s - t >= SWEPT_APART_S)?;
        let near = after.pose.time_s - before.pose.time_s < 8.0 * SWEPT_APART_S;
        let three = [before.sampled.as_ref()?, now.sampled.as_ref()?, after.sampled.as_ref()?];
        near.then(|| swept_bat(area, three, &now.pose, body_px)).flatten()
    };
    let pictures: Vec<_> = looks.iter().map(|l| (l.pose.time_s, l.bars.clone())).collect();
    let lying = chain(&pictures);
    let found: Vec<Option<BatBar>> = looks
        .iter()
        .zip(lying)
        .enumerate()
        .map(|(i, (look, bar))| {
            let lying = || Some(BatBar { hands: hands(&look.pose)?, tip: bar?.tip, sweep_rad: 0.0 });
            swept(i).or_else(lying)
        })
        .collect();
    let times: Vec<f64> = looks.iter().map(|l| l.pose.time_s).collect();
    (0..found.len())
        .map(|i| found.get(i).copied().flatten().filter(|_| borne_out(i, &found, &times)))
        .collect()
}

/// Whether the bat found in look `i` goes on from or into that of a neighbour.
fn borne_out(i: usize, found: &[Option<BatBar>], times: &[f64]) -> bool {
    let at = |i: usize| Some((found.get(i).copied().flatten()?, times.get(i).copied()?));
    let Some((bat, t)) = at(i) else { return false };
    let near = (i.saturating_sub(2)..=i + 2).filter(|j| *j != i).filter_map(at);
    near.filter(|(_, s)| (t - s).abs() < 0.2).any(|(other, _)| {
        let (a, b) = (bat.tip - bat.hands, other.tip - other.hands);
        let turn = ((b.y.atan2(b.x) - a.y.atan2(a.x) + PI).rem_euclid(TAU) - PI).abs();
        turn < SWEPT_TURNS && (a.length() / b.length().max(1e-9) - 1.0).abs() < SWEPT_LENGTH_SHARE
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bat_that_nothing_bears_out_is_left_out() {
        let bar = |angle: f64| {
            let tip = Point::new(angle.cos(), angle.sin()) * 100.0;
            Some(BatBar { hands: Point::default(), tip, sweep_rad: 0.0 })
        };
        let found = [bar(0.0), bar(0.4), bar(-2.5), bar(0.9), None, bar(3.0)];
        let times = [0.0, 0.02, 0.04, 0.06, 0.08, 0.10];
        let kept: Vec<bool> = (0..6).map(|i| borne_out(i, &found, &times)).collect();
        assert_eq!(kept, [true, true, false, true, false, false]);
    }
}
