//! Every picture of the swing.

use crate::body::{Patchwork, Region};
use crate::ground::{Pose, Result, Track};

use super::Evidence;
use super::choose::{Chosen, fit_for, shrunk};
use super::stream::Pass;
use super::survey::{full_scale, sighting, spread};

/// Around the burst every picture is read: from so long before to so long after, real s.
const EVERY_S: (f64, f64) = (0.6, 0.4);
/// Elsewhere in the window so many pictures a real second are enough.
const ELSEWHERE_HZ: f64 = 60.0;
/// More pictures a second than this show nothing new.
const MOST_HZ: f64 = 480.0;

/// What was seen in each picture, in order.
pub struct Followed(Vec<(Pose, Evidence, Patchwork)>);

impl Followed {
    pub fn into_parts(self) -> (Track, Vec<Evidence>, Vec<Patchwork>) {
        let mut track = Track::default();
        let (mut evidence, mut pictures) = (Vec::new(), Vec::new());
        for (pose, e, p) in self.0 {
            track.poses.push(pose);
            evidence.push(e);
            pictures.push(p);
        }
        (track, evidence, pictures)
    }
}

/// The chosen hitter in every picture near the burst and often enough elsewhere in the window. The square
/// shown to the net comes from the survey and the closer look, steadied over time: pictures can be read
/// in any order, and one blurred picture does not mislead the next.
pub fn follow(pass: &Pass, chosen: &Chosen) -> Result<Followed> {
    let clip = pass.clip;
    let wanted = pictures(pass, chosen);
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
            let body = eye.body(&picture.frame, shrunk(region, sx, sy))?;
            let present = body.present as f32;
            let pose =
                sighting(pass, &body, picture).map_or_else(|| Pose::empty(picture.index, time_s), |s| s.pose);
            let evidence = Evidence { present, looked_at: region.centre, looked_side_px: region.side };
            Ok((pose, evidence, Patchwork::of(&picture.frame)))
        },
    )?;
    Ok(Followed(seen))
}

fn pictures(pass: &Pass, chosen: &Chosen) -> Vec<usize> {
    let clip = pass.clip;
    let at = |s: f64| clip.frame_at_real(s);
    let time = |i: usize| clip.real_s(i);
    let (from, to) = (at(chosen.window_s.0), at(chosen.window_s.1) + 1);
    let first = at(chosen.burst.time_s - EVERY_S.0).clamp(from, to);
    let last = at(chosen.burst.time_s + EVERY_S.1).clamp(first, to);
    let mut wanted = spread(from, first, ELSEWHERE_HZ, time);
    wanted.extend(spread(first, last, MOST_HZ, time));
    wanted.extend(spread(last, to, ELSEWHERE_HZ, time));
    wanted.sort_unstable();
    wanted.dedup();
    wanted
}
