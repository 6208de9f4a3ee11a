//! Every picture of the swing.

use crate::body::{Glimpse, Patchwork, Region, unlike};
use crate::ground::{Pose, Result, TimedFrame, Track};

use super::Evidence;
use super::choose::{Chosen, fit_for, shrunk};
use super::stream::Pass;
use super::survey::{full_scale, sighting, spread};

/// Around the burst every picture is read: from so long before to so long after, real s.
const EVERY_S: (f64, f64) = (0.4, 0.2);
/// About it, where foot and load are read, so many pictures a real second are enough.
const ABOUT_S: (f64, f64) = (1.0, 0.55);
const ABOUT_HZ: f64 = 60.0;
/// Elsewhere in the window only stance and finish are read.
const ELSEWHERE_HZ: f64 = 30.0;
/// In the swing itself, from so long before the burst to so long after it, real s, pictures closer together than
/// [`IN_TURN_S`] are shown to the net in turn as they are and in a mirror. It errs differently there; nearby pictures are
/// weighed together later, so that this costs nothing and what the net has against one side falls on both. Pictures
/// farther apart are hardly weighed together: at 60 a second nothing was gained (set on six films at 120, five at 60).
const MIRROR_S: (f64, f64) = (0.3, 0.15);
const IN_TURN_S: f64 = 0.012;
/// A closer look at a picture serves again when it was looked at in as good as the same square (shift and
/// size in body sizes, see [`unlike`]).
const SAME_SQUARE: f64 = 0.08;
/// More pictures a second than this show nothing new.
const MOST_HZ: f64 = 480.0;
/// What is kept of the pictures to see how feet and hands move, bytes in all.
const GLIMPSES: usize = 96 << 20;

/// What was seen in each picture, in order.
#[derive(Default)]
pub struct Followed {
    pub track: Track,
    pub evidence: Vec<Evidence>,
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
    let seen = pass.run(
        "following the hitter",
        &wanted,
        fit,
        |_| (),
        |eye, picture| {
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
                let evidence = Evidence {
                    present: p.sighting.present as f32,
                    looked_at: p.shown.centre,
                    looked_side_px: p.shown.side,
                };
                return Ok((p.sighting.pose.clone(), evidence, kept(picture)));
            }
            let body = match mirrored {
                true => eye.body_mirrored(&picture.frame, small)?,
                false => eye.body(&picture.frame, small)?,
            };
            let present = body.present as f32;
            let pose =
                sighting(pass, &body, picture).map_or_else(|| Pose::empty(picture.index, time_s), |s| s.pose);
            let evidence = Evidence { present, looked_at: region.centre, looked_side_px: region.side };
            Ok((pose, evidence, kept(picture)))
        },
    )?;
    let mut followed = Followed::default();
    for (pose, evidence, (patchwork, glimpse)) in seen {
        followed.track.poses.push(pose);
        followed.evidence.push(evidence);
        followed.patchworks.push(patchwork);
        followed.glimpses.push(glimpse);
    }
    Ok(followed)
}

/// Whether the picture at this place of the clip is shown in a mirror (see [`MIRROR_S`]).
fn in_a_mirror(pass: &Pass, chosen: &Chosen, wanted: &[usize], picture: usize) -> bool {
    let Ok(place) = wanted.binary_search(&picture) else { return false };
    let time_s = |place: usize| wanted.get(place).map(|i| pass.clip.real_s(*i));
    let around = place.checked_sub(1).and_then(time_s).zip(time_s(place + 1));
    let close = around.is_some_and(|(before, after)| after - before <= 2.0 * IN_TURN_S);
    let since_burst_s = pass.clip.real_s(picture) - chosen.burst.time_s;
    place % 2 == 1 && close && (-MIRROR_S.0..=MIRROR_S.1).contains(&since_burst_s)
}

fn pictures(pass: &Pass, chosen: &Chosen) -> Vec<usize> {
    let clip = pass.clip;
    let at = |s: f64| clip.frame_at_real(s);
    let time = |i: usize| clip.real_s(i);
    let (from, to) = (at(chosen.window_s.0), at(chosen.window_s.1) + 1);
    let first = at(chosen.burst.time_s - EVERY_S.0).clamp(from, to);
    let last = at(chosen.burst.time_s + EVERY_S.1).clamp(first, to);
    let early = at(chosen.burst.time_s - ABOUT_S.0).clamp(from, first);
    let late = at(chosen.burst.time_s + ABOUT_S.1).clamp(last, to);
    let mut wanted = Vec::new();
    for (from, to, rate_hz) in [
        (from, early, ELSEWHERE_HZ),
        (early, first, ABOUT_HZ),
        (first, last, MOST_HZ),
        (last, late, ABOUT_HZ),
        (late, to, ELSEWHERE_HZ),
    ] {
        wanted.extend(spread(from, to, rate_hz, time));
    }
    wanted.sort_unstable();
    wanted.dedup();
    wanted
}
