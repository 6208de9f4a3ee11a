//! Every picture of the swing.

use super::super::params::{
    ABOUT_AFTER_S, ABOUT_BEFORE_S, ABOUT_HZ, ELSEWHERE_HZ, EVERY_AFTER_S, EVERY_BEFORE_S, IN_TURN_S,
    MIRROR_AFTER_S, MIRROR_BEFORE_S, READ_MOST_HZ, SAME_SQUARE,
};
use crate::messages::swing_search as messages;
use crate::tracking::{Glimpse, Patchwork, Region, unlike};
use crate::types::{Pose, Result, TimedFrame, Track};

use super::Detection;
use super::choose::{Chosen, fit_for, shrunk};
use super::stream::Pass;
use super::survey::{full_scale, sighting, spread};

/// What is kept of the pictures to see how feet and hands move, bytes in all.
const GLIMPSES: usize = 96 << 20;

/// What was seen in each picture, in order.
#[derive(Default)]
pub struct Followed {
    pub track: Track,
    pub detections: Vec<Detection>,
    pub patchworks: Vec<Patchwork>,
    pub glimpses: Vec<Glimpse>,
}

/// The chosen hitter in every picture near the burst and often enough elsewhere in the window. The square
/// shown to the net comes from the survey and the closer look, steadied over time: pictures can be read
/// in any order, and one blurred picture does not mislead the next.
/// Pictures in `repeated` (rising) are passed over.
pub fn follow(pass: &Pass, chosen: &Chosen, repeated: &[usize]) -> Result<Followed> {
    let clip = pass.clip;
    let mut wanted = pictures(pass, chosen);
    wanted.retain(|i| repeated.binary_search(i).is_err());
    let fit = fit_for(pass, &chosen.person);
    let seen = pass.run(messages::FOLLOWING_HITTER, &wanted, fit, |eye, picture| {
        let time_s = clip.real_s(picture.index);
        let region = chosen
            .person
            .region_at(time_s)
            .unwrap_or_else(|| Region::whole(clip.facts().width, clip.facts().height));
        let (sx, sy) = full_scale(pass, &picture.frame);
        let small = shrunk(region, sx, sy);
        let kept = |picture: &TimedFrame| {
            let glimpse = Glimpse::of(&picture.frame, small, (sx, sy), GLIMPSES / wanted.len().max(1));
            (Patchwork::of(&picture.frame), glimpse)
        };
        let known = chosen.probes.get(&picture.index);
        let mirrored = in_a_mirror(pass, chosen, &wanted, picture.index);
        if let Some(p) = known.filter(|p| !mirrored && unlike(p.shown, region) < SAME_SQUARE) {
            let detection = Detection {
                present: p.sighting.present as f32,
                looked_at: p.shown.centre,
                looked_side_px: p.shown.side,
            };
            return Ok((p.sighting.pose.clone(), detection, kept(picture)));
        }
        let body = match mirrored {
            true => eye.body_mirrored(&picture.frame, small)?,
            false => eye.body(&picture.frame, small)?,
        };
        let present = body.present as f32;
        let pose =
            sighting(pass, &body, picture).map_or_else(|| Pose::empty(picture.index, time_s), |s| s.pose);
        let detection = Detection { present, looked_at: region.centre, looked_side_px: region.side };
        Ok((pose, detection, kept(picture)))
    })?;
    let mut followed = Followed::default();
    for (pose, detection, (patchwork, glimpse)) in seen {
        followed.track.poses.push(pose);
        followed.detections.push(detection);
        followed.patchworks.push(patchwork);
        followed.glimpses.push(glimpse);
    }
    Ok(followed)
}

/// Whether the picture at this place of the clip is shown in a mirror (see [`(MIRROR_BEFORE_S, MIRROR_AFTER_S)`]).
fn in_a_mirror(pass: &Pass, chosen: &Chosen, wanted: &[usize], picture: usize) -> bool {
    let Ok(place) = wanted.binary_search(&picture) else { return false };
    let time_s = |place: usize| wanted.get(place).map(|i| pass.clip.real_s(*i));
    let around = place.checked_sub(1).and_then(time_s).zip(time_s(place + 1));
    let close = around.is_some_and(|(before, after)| after - before <= 2.0 * IN_TURN_S);
    let since_burst_s = pass.clip.real_s(picture) - chosen.burst.time_s;
    place % 2 == 1 && close && (-MIRROR_BEFORE_S..=MIRROR_AFTER_S).contains(&since_burst_s)
}

fn pictures(pass: &Pass, chosen: &Chosen) -> Vec<usize> {
    let clip = pass.clip;
    let at = |s: f64| clip.frame_at_real(s);
    let time = |i: usize| clip.real_s(i);
    let (from, to) = (at(chosen.window_s.0), at(chosen.window_s.1) + 1);
    let first = at(chosen.burst.time_s - EVERY_BEFORE_S).clamp(from, to);
    let last = at(chosen.burst.time_s + EVERY_AFTER_S).clamp(first, to);
    let early = at(chosen.burst.time_s - ABOUT_BEFORE_S).clamp(from, first);
    let late = at(chosen.burst.time_s + ABOUT_AFTER_S).clamp(last, to);
    let mut wanted = Vec::new();
    for (from, to, rate_hz) in [
        (from, early, ELSEWHERE_HZ),
        (early, first, ABOUT_HZ),
        (first, last, READ_MOST_HZ),
        (last, late, ABOUT_HZ),
        (late, to, ELSEWHERE_HZ),
    ] {
        wanted.extend(spread(from, to, rate_hz, time));
    }
    wanted.sort_unstable();
    wanted.dedup();
    wanted
}
