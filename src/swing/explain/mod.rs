//! Explanations of a track: this stretch is the swing, the hitter bats from this side, the pitcher is there. Each is
//! scored on the whole swing; the best wins, and its lead over the next is how sure it is.

mod candidate;
mod stands;
mod traits;

use super::NoSwing;
use super::burst::hands_apart;
use super::params::*;
use crate::ground::{Hitter, Onset, Track};
use candidate::stretches;
pub use candidate::{Stretch, Way};
use stands::Stance;
use traits::Body;
pub use traits::{TRAITS, Traits};

/// One explanation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Explanation {
    pub stretch: Stretch,
    pub hitter: Hitter,
    pub traits: Traits,
    /// Log odds from the stretch's traits and the sound.
    pub swings: f64,
    /// Log odds from how the hitter stands to the camera.
    pub stands: f64,
}

impl Explanation {
    pub fn score(&self) -> f64 {
        self.swings + self.stands
    }
}

/// Every explanation of a track in steady px, the best first; why there is none.
pub fn explanations(
    track: &Track,
    body_height_px: f64,
    step_s: f64,
    onsets: &[Onset],
) -> Result<Vec<Explanation>, NoSwing> {
    let body = Body::of(track, body_height_px, step_s);
    let mut all = Vec::new();
    let first_s = track.poses.first().map_or(0.0, |p| p.time_s);
    for toward in [Way::Right, Way::Left, Way::Any] {
        let found = stretches(&body.hands, toward);
        let longest = found.iter().map(|s| s.way).fold(0.0, f64::max);
        for stretch in found {
            // Nothing of a swing is seen before it: whatever it was, it cannot be told.
            if stretch.from_s - first_s < SEEN_BEFORE_S {
                continue;
            }
            let top_s = stretch.fastest_s;
            let stance = Stance::before(track, body_height_px, top_s);
            let along = toward == Way::Any;
            let wide = WEIGH_WIDE * stance.wide();
            let wide = if along { ALONG_OFFSET - wide } else { wide };
            let traits = body.traits(&stretch, longest);
            let swings = traits::score(&traits) + WEIGH_HEARD * heard(onsets, top_s);
            let apart = hands_apart(track, top_s - 0.12, top_s + 0.05) / body_height_px;
            let swings = swings + WEIGH_TOGETHER * (1.0 - apart / HANDS_APART).clamp(-1.0, 0.0);
            let stands: Vec<(Hitter, f64)> = match toward {
                Way::Any => stance.along_the_pitch(&body.hands, &stretch).to_vec(),
                _ => stance.from_the_side(toward).to_vec(),
            };
            // How clearly he stands one way or another says nothing of whether he swings.
            let clearest = stands.iter().map(|s| s.1).fold(f64::MIN, f64::max);
            all.extend(stands.into_iter().map(|(hitter, stands)| Explanation {
                stretch,
                hitter,
                traits,
                swings,
                stands: stands - clearest + wide,
            }));
        }
    }
    all.sort_by(|a, b| b.score().total_cmp(&a.score()));
    if all.is_empty() { Err(none(&body)) } else { Ok(all) }
}

fn none(body: &Body) -> NoSwing {
    let fastest = body.hands.fastest();
    NoSwing::new(if fastest == 0.0 {
        "the hands are never seen".to_owned()
    } else {
        format!("the hands reach {fastest:.1} body heights a second and nowhere go as in a swing")
    })
}

/// How well a sudden sound fits contact after this moment, 0…1.
fn heard(onsets: &[Onset], fastest_s: f64) -> f64 {
    let near = |o: &&Onset| (o.time_s - fastest_s - HEARD_AFTER_S).abs() < HEARD_WITHIN_S;
    onsets.iter().filter(near).map(|o| (o.rise_db / 30.0).clamp(0.0, 1.0)).fold(0.0, f64::max)
}
