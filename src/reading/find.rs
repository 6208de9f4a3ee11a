//! First stage: who moves and when, the hitter's points through that moment, and what is heard.

use std::path::Path;

use super::closer::Draft;
use super::input::real_times;
use super::params::MOST_OTHERS;
use super::read::ReadOptions;
use super::track::{self, TrackingOptions};
use crate::media::Clip;
use crate::store::Observation;
use crate::swing::{self, Pins};
use crate::tracking::keypoints::{self, Keypoints, Times};
use crate::types::{Cancel, Error, KeypointsFault, Onset, Progress, Result};

/// Sound is listened to at this rate, Hz.
const SOUND_RATE_HZ: u32 = 48_000;

/// What every stage looks at, and how.
pub(super) struct Looking<'a> {
    pub clip: &'a Clip,
    pub options: &'a ReadOptions,
    pub pins: &'a Pins,
    pub progress: &'a dyn Progress,
    pub cancel: &'a Cancel,
}

/// The hitter followed through the moment of the swing. Where ball and bat are to be looked for is not known yet, but
/// in one that was kept they may have been.
pub(super) struct Found(pub(super) Observation);

impl Found {
    /// What was seen of the same clip before.
    pub fn kept(seen: Observation) -> Self {
        Self(seen)
    }

    /// Looks at the likeliest moment; where no swing can be drafted from what is seen there, at the next ones. Without
    /// any the first look stands.
    pub fn find(looking: &Looking) -> Result<Self> {
        let options = looking.options;
        let (first, others_s) = see(looking, options)?;
        // A person who says when contact is says where to look too; where it was said before, nothing else is asked.
        if options.about_s.is_some() || options.swing.is_some() || Draft::of(&first, looking).is_some() {
            return Ok(Self(first));
        }
        for at_s in others_s.into_iter().take(MOST_OTHERS) {
            let about = ReadOptions { about_s: Some(at_s), ..options.clone() };
            match see(looking, &about) {
                Ok((seen, _)) if Draft::of(&seen, looking).is_some() => return Ok(Self(seen)),
                Ok(_) | Err(Error::NoSwing { .. } | Error::NoPerson { .. }) => (),
                Err(e) => return Err(e),
            }
        }
        Ok(Self(first))
    }
}

/// What is seen and heard, and when else the swing may be, real s.
fn see(looking: &Looking, options: &ReadOptions) -> Result<(Observation, Vec<f64>)> {
    let clip = looking.clip;
    let (found, others_s) = match &options.keypoints {
        Some(file) => (given_points(clip, file, options)?, Vec::new()),
        None => {
            let found = track::track_hitter(
                clip,
                &TrackingOptions {
                    hitter: options.hitter,
                    about_s: options.about_s,
                    swing: options.swing.filter(|_| options.about_s.is_none()),
                    ..TrackingOptions::default()
                },
                looking.progress,
                looking.cancel,
            )?;
            let seen = Observation {
                track: found.track,
                camera: found.camera,
                warnings: found.warnings,
                lost: found.lost,
                repeated: found.repeated,
                scene: found.scene,
                ..Observation::default()
            };
            (seen, found.others_s)
        }
    };
    Ok((Observation { onsets: listen(clip)?, ..found }, others_s))
}

/// Points of another estimator, in the clip's pictures.
fn given_points(clip: &Clip, file: &Path, options: &ReadOptions) -> Result<Observation> {
    let times = real_times(clip);
    let rate = options.keypoints_rate_hz.map_or(Times::Given(&times), Times::Rate);
    let mut points = keypoints::load(file, rate, options.hitter, &options.limits)?;
    fit_picture(&mut points, clip, file)?;
    for pose in &mut points.track.poses {
        pose.frame = clip.frame_at_real(pose.time_s);
    }
    Ok(Observation { track: points.track, warnings: points.warnings, ..Observation::default() })
}

/// Points of a picture of another size are brought to the clip's; of another shape they belong to another picture.
fn fit_picture(points: &mut Keypoints, clip: &Clip, file: &Path) -> Result<()> {
    let (w, h) = (points.width as f64, points.height as f64);
    let (clip_w, clip_h) = (clip.facts().width as f64, clip.facts().height as f64);
    if w < 1.0 || h < 1.0 || (w == clip_w && h == clip_h) {
        return Ok(());
    }
    let (across, down) = (clip_w / w, clip_h / h);
    if (across / down - 1.0).abs() > 0.02 {
        let cause = KeypointsFault::OtherShape { images: (w, h), clip: (clip_w, clip_h) };
        return Err(Error::Keypoints { path: file.to_owned(), cause });
    }
    for spot in points.track.poses.iter_mut().flat_map(|p| p.spots.iter_mut().flatten()) {
        spot.at = spot.at * across;
    }
    Ok(())
}

/// Sudden sounds. A clip stored slower than life carries no sound that keeps time with the swing.
pub(super) fn listen(clip: &Clip) -> Result<Vec<Onset>> {
    let slow = clip.facts().slow_factor;
    if (slow - 1.0).abs() > 0.01 {
        return Ok(Vec::new());
    }
    Ok(clip.sound(SOUND_RATE_HZ)?.map(|s| swing::onsets(&s, slow)).unwrap_or_default())
}
