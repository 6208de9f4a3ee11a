//! A spoken note laid over the clip: the rest steps back while it is heard.

use super::beats::Beat;
use crate::ground::Sound;

/// What is left of the rest while the note is heard: −12 dB.
const UNDER_VOICE: f32 = 0.251;
/// The step back and forth takes this long, s.
const EDGE_S: f64 = 0.25;
/// Pauses of speech shorter than this are still speech, s.
const PAUSE_S: f64 = 1.0;
/// Loudness is looked at in pieces of this length, s.
const PIECE_S: f64 = 0.02;
/// Speech is what is louder than this share of the note's loudest piece: −30 dB.
const SPEECH: f32 = 0.0316;
/// The sum stays under this.
const CEILING: f32 = 0.98;

/// How long the note lasts, s.
pub fn length_s(voice: &Sound) -> f64 {
    voice.samples.len() as f64 / f64::from(voice.rate_hz.max(1))
}

/// Hold the last picture (the closing card, where there is one) until `seconds` have gone by.
pub fn hold_until(beats: &mut Vec<Beat>, seconds: f64, rate_hz: f64) {
    let Some(mut last) = beats.last().copied() else { return };
    while (beats.len() as f64) < seconds * rate_hz {
        last.output_time_s = beats.len() as f64 / rate_hz;
        beats.push(last);
    }
}

/// `rest` (the clip's own sound, from its first picture) with the note over it from the beginning; `seconds`
/// long. Both at the note's rate.
pub fn over(rest: Option<&Sound>, voice: &Sound, seconds: f64) -> Sound {
    let rate = f64::from(voice.rate_hz);
    let count = (seconds * rate).round() as usize;
    let mut samples = vec![0.0f32; count];
    if let Some(rest) = rest {
        for (to, from) in samples.iter_mut().zip(&rest.samples) {
            *to = *from;
        }
        let spoken = spoken(voice);
        for (i, sample) in samples.iter_mut().enumerate() {
            let at_s = i as f64 / rate;
            let away_s = spoken.iter().map(|(a, b)| (a - at_s).max(at_s - b).max(0.0));
            let away = (away_s.fold(f64::INFINITY, f64::min) / EDGE_S).min(1.0);
            // Half a cosine from one level to the other: no edge is heard.
            let share = (0.5 - 0.5 * (away * std::f64::consts::PI).cos()) as f32;
            *sample *= UNDER_VOICE + (1.0 - UNDER_VOICE) * share;
        }
    }
    for (to, from) in samples.iter_mut().zip(&voice.samples) {
        *to += *from;
    }
    let loudest = samples.iter().fold(0.0f32, |m, s| m.max(s.abs()));
    if loudest > CEILING {
        let down = CEILING / loudest;
        samples.iter_mut().for_each(|s| *s *= down);
    }
    Sound { rate_hz: voice.rate_hz, start_s: 0.0, samples }
}

/// When there is speech: from, to, s.
fn spoken(voice: &Sound) -> Vec<(f64, f64)> {
    let rate = f64::from(voice.rate_hz);
    let piece = ((PIECE_S * rate) as usize).max(1);
    let loud = |c: &[f32]| (c.iter().map(|s| s * s).sum::<f32>() / c.len().max(1) as f32).sqrt();
    let levels: Vec<f32> = voice.samples.chunks(piece).map(loud).collect();
    let least = levels.iter().copied().fold(0.0, f32::max) * SPEECH;
    let mut out: Vec<(f64, f64)> = Vec::new();
    for (i, _) in levels.iter().enumerate().filter(|(_, l)| **l > least) {
        let (from, to) = ((i * piece) as f64 / rate, ((i + 1) * piece) as f64 / rate);
        match out.last_mut() {
            Some(last) if from - last.1 < PAUSE_S => last.1 = to,
            _ => out.push((from, to)),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::beats::Shows;
    use super::*;

    fn tone(rate_hz: u32, seconds: f64, level: f32) -> Sound {
        let samples =
            (0..(seconds * f64::from(rate_hz)) as usize).map(|i| level * (i as f32 * 0.7).sin()).collect();
        Sound { rate_hz, start_s: 0.0, samples }
    }

    #[test]
    fn the_rest_steps_back_under_the_note_and_comes_again_softly() {
        let rest = Sound { rate_hz: 8000, start_s: 0.0, samples: vec![0.5; 8000 * 6] };
        // Silence, a second of speech, silence.
        let mut note = tone(8000, 5.0, 0.0);
        note.samples[16_000..24_000].copy_from_slice(&tone(8000, 1.0, 0.3).samples);
        let made = over(Some(&rest), &note, 6.0);
        let at = |s: f64| made.samples[(s * 8000.0) as usize];
        assert_eq!(made.samples.len(), 48_000);
        assert!((at(1.0) - 0.5).abs() < 1e-3 && (at(4.0) - 0.5).abs() < 1e-3 && (at(5.9) - 0.5).abs() < 1e-3);
        let mean = made.samples[18_000..22_000].iter().sum::<f32>() / 4000.0;
        assert!((mean - 0.5 * UNDER_VOICE).abs() < 0.01, "{mean}");
        // 12 dB down.
        assert!((20.0 * f64::from(UNDER_VOICE).log10() + 12.0).abs() < 0.1);
        let steps = made.samples[13_000..16_000].windows(2).map(|w| (w[1] - w[0]).abs());
        assert!(steps.fold(0.0, f32::max) < 0.001, "no click before the note");
    }

    #[test]
    fn a_long_note_holds_the_last_picture_and_nothing_clips() {
        let card = |i: usize| Beat { shot: 2, output_time_s: i as f64 / 30.0, shows: Shows::Card };
        let mut beats: Vec<Beat> = (0..30).map(card).collect();
        hold_until(&mut beats, 0.5, 30.0);
        assert_eq!(beats.len(), 30, "a short note changes nothing");
        hold_until(&mut beats, 2.01, 30.0);
        assert_eq!((beats.len(), beats.last()), (61, Some(&card(60))));
        let loud = over(Some(&tone(8000, 1.0, 0.9)), &tone(8000, 1.0, 0.95), 1.0);
        assert!(loud.samples.iter().all(|s| s.abs() <= CEILING + 1e-6));
    }
}
