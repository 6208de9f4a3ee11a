//! The made clip's sound: today's, where it runs at full speed; silence where it is slowed or rests.

use super::beats::{Beat, Shows};
use crate::types::Sound;

/// Fade at both ends of a stretch of sound, s, so that it does not click.
const FADE_S: f64 = 0.012;

/// `None` when nothing runs at full speed. `heard` tells of a shot whether it shows today's swing. `source` is in real time (a clip that plays as fast as life).
pub fn soundtrack(
    source: &Sound,
    beats: &[Beat],
    picture_rate_hz: f64,
    heard_in: impl Fn(usize) -> bool,
) -> Option<Sound> {
    let full_speed = |beat: &Beat| full_speed(beat).filter(|_| heard_in(beat.shot));
    let rate = f64::from(source.rate_hz);
    let at = |beat: usize| (beat as f64 / picture_rate_hz * rate).round() as usize;
    let mut samples = vec![0.0; at(beats.len())];
    let mut heard = false;
    let mut i = 0;
    while i < beats.len() {
        let Some(start_s) = full_speed(&beats[i]) else {
            i += 1;
            continue;
        };
        let shot = beats[i].shot;
        let more = beats[i..].iter().take_while(|b| b.shot == shot && full_speed(b).is_some()).count();
        let stretch = samples.get_mut(at(i)..at(i + more)).unwrap_or_default();
        let from = ((start_s - source.start_s) * rate).round() as i64;
        let (length, fade) = (stretch.len(), (FADE_S * rate).max(1.0));
        for (k, sample) in stretch.iter_mut().enumerate() {
            let place = usize::try_from(from + k as i64).ok();
            let value = place.and_then(|p| source.samples.get(p)).copied().unwrap_or(0.0);
            let from_end = k.min(length - 1 - k) as f64;
            *sample = value * (from_end / fade).min(1.0) as f32;
        }
        heard = true;
        i += more;
    }
    heard.then_some(Sound { rate_hz: source.rate_hz, start_s: 0.0, samples })
}

/// Today's time where a beat runs at the speed of life.
fn full_speed(beat: &Beat) -> Option<f64> {
    match beat.shows {
        Shows::Swing { today_s, slow, hold: None, .. } if (slow - 1.0).abs() < 1e-6 => Some(today_s),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn beat(i: usize, today_s: f64, slow: f64) -> Beat {
        let shows = Shows::Swing { today_s, reference_s: 0.0, slow, hold: None, passed: None };
        Beat { shot: usize::from(slow > 1.0), output_time_s: i as f64 / 30.0, shows }
    }

    #[test]
    fn a_knock_is_heard_when_it_is_seen_and_not_when_slowed() {
        let mut source = Sound { rate_hz: 3000, start_s: -0.1, samples: vec![0.0; 3000] };
        // 0.5 s after the first picture.
        source.samples[1800] = 1.0;
        let mut beats: Vec<Beat> = (0..15).map(|i| beat(i, 0.3 + i as f64 / 30.0, 1.0)).collect();
        beats.extend((15..60).map(|i| beat(i, 0.3 + (i - 15) as f64 / 240.0, 8.0)));
        let made = soundtrack(&source, &beats, 30.0, |_| true).unwrap();
        assert_eq!(made.samples.len(), 6000);
        let loud: Vec<usize> = (0..6000).filter(|&i| made.samples[i] > 0.5).collect();
        assert_eq!(loud, [600]);
    }

    #[test]
    fn nothing_at_full_speed_is_no_sound() {
        let source = Sound { rate_hz: 3000, start_s: 0.0, samples: vec![0.5; 3000] };
        assert_eq!(soundtrack(&source, &[beat(0, 0.1, 8.0)], 30.0, |_| true), None);
        let fast = [beat(0, 0.1, 1.0), beat(1, 0.13, 1.0)];
        assert!(soundtrack(&source, &fast, 30.0, |_| true).is_some());
        assert_eq!(soundtrack(&source, &fast, 30.0, |_| false), None);
    }
}
