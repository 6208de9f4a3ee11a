//! Third stage: all that is seen, heard and said becomes one reading.

use super::find::Looking;
use super::read::ReadOptions;
use crate::media::Clip;
use crate::store::Observation;
use crate::swing::bend;
use crate::swing::{self, KnownBat, Pins, SwingInput};
use crate::types::{BatUnmeasured, ClipFacts, Error, KnownHitter, Reading, Result, Warning};

/// Real time of every picture, s from the first.
pub(super) fn real_times(clip: &Clip) -> Vec<f64> {
    (0..clip.facts().frames).map(|i| clip.real_s(i)).collect()
}

pub(super) fn reading_from(looking: &Looking, seen: &Observation, pins: &Pins) -> Result<Reading> {
    let clip = looking.clip;
    assemble(clip.facts().clone(), &real_times(clip), seen, pins, looking.options)
}

/// Puts together all that is known of a clip's swing and hands it on.
pub(super) fn with_input<T>(
    facts: &ClipFacts,
    times: &[f64],
    seen: &Observation,
    pins: &Pins,
    options: &ReadOptions,
    then: impl FnOnce(&SwingInput) -> T,
) -> T {
    let bent = (!options.points.is_empty()).then(|| bend(&seen.track, &options.points));
    let track = bent.as_ref().unwrap_or(&seen.track);
    let shown = |i: &usize| seen.lost.binary_search(i).is_err() && seen.repeated.binary_search(i).is_err();
    let moments: Vec<f64> = (0..times.len()).filter(shown).filter_map(|i| times.get(i).copied()).collect();
    let input = SwingInput {
        pins,
        borrowed: &options.borrowed,
        camera: &seen.camera.to_steady,
        camera_lost: &seen.camera.lost,
        onsets: &seen.onsets,
        height_cm: options.height_cm,
        bat: match (options.bat_cm, &seen.bat) {
            (Some(bat_cm), Some(Ok(at_rest))) => Some(KnownBat { at_rest: *at_rest, bat_cm }),
            _ => None,
        },
        known_length: options.known_length,
        ball: seen.ball.as_ref().and_then(|b| b.as_ref().ok()),
        mic_distance_m: options.mic_distance_m,
        point_wander: if options.keypoints.is_some() { 0.0 } else { swing::NET_WANDER },
        holes: &swing::holes(&moments),
        // A picture repeated was taken up to a step before it is shown, and so were those about it.
        time_doubt_s: if seen.repeated.is_empty() { 0.0 } else { 1.0 / facts.capture_rate_hz.max(1.0) },
        rate_told: options.recorded_at_hz.is_some(),
        known_hitter: KnownHitter { ball: None, ..options.known_hitter },
        ..SwingInput::new(track, times, facts.width.max(facts.height) as f64)
    };
    then(&input)
}

pub(super) fn assemble(
    facts: ClipFacts,
    times: &[f64],
    seen: &Observation,
    pins: &Pins,
    options: &ReadOptions,
) -> Result<Reading> {
    let swing = with_input(&facts, times, seen, pins, options, swing::read_swing)
        .map_err(|cause| Error::NoSwing { path: facts.path.clone(), cause })?;
    let mut warnings: Vec<Warning> = seen.warnings.iter().cloned().chain(swing.warnings).collect();
    if options.bat_cm.is_some() {
        let why = match &seen.bat {
            Some(Ok(_)) => None,
            Some(Err(why)) => Some(why.clone()),
            None => Some(BatUnmeasured::NoPictures),
        };
        warnings.extend(why.map(|why| Warning::BatNotMeasured { why }));
    }
    Ok(Reading {
        schema: Reading::SCHEMA.to_owned(),
        clip: facts,
        hitter: swing.hitter,
        scale: swing.scale,
        events: swing.events,
        measures: swing.measures,
        absent: swing.absent,
        warnings,
        track: bend(&seen.track, &options.points),
        camera: seen.camera.clone(),
        ball: options.known_hitter.ball,
        scene: seen.scene.clone(),
    })
}
