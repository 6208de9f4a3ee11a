//! A spoken note laid over the clip: the rest steps back while it is heard.

use super::beats::{Beat, Shows};
use crate::types::Sound;

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

/// Under a note a picture is held at most so long beyond the plan, s: longer looks as if the clip had stopped. Own
/// choice.
const HELD_S: f64 = 4.0;
/// What runs faster is not shown again: it has a sound of its own.
const SLOWED: f64 = 1.5;

/// How long the note lasts, s.
pub fn length_s(voice: &Sound) -> f64 {
    voice.samples.len() as f64 / f64::from(voice.rate_hz.max(1))
}

/// Make the clip last `seconds`: the slowest part is shown again before the closing card as often as there is time
/// for, then the last picture is held. Where that would be held too long, the part is shown once more and the clip
/// outlasts the note.
pub fn last_until(beats: &mut Vec<Beat>, seconds: f64, rate_hz: f64) {
    let wanted = (seconds * rate_hz).ceil() as usize;
    let missing = wanted.saturating_sub(beats.len());
    let again = slowest(beats);
    if !again.is_empty() {
        let spare = missing % again.len();
        let times = missing / again.len() + usize::from(spare as f64 > HELD_S * rate_hz);
        let shows_swing = |b: &Beat| matches!(b.shows, Shows::Swing { .. });
        let at = beats.iter().rposition(shows_swing).map_or(beats.len(), |i| i + 1);
        beats.splice(at..at, std::iter::repeat_n(again, times).flatten());
    }
    if let Some(last) = beats.last().copied() {
        beats.resize(beats.len().max(wanted), last);
    }
    for (i, beat) in beats.iter_mut().enumerate() {
        beat.output_time_s = i as f64 / rate_hz;
    }
}

/// The shot that runs slowest, of those that are slowed; of several the last.
fn slowest(beats: &[Beat]) -> Vec<Beat> {
    let slow = |b: &Beat| if let Shows::Swing { slow, .. } = b.shows { slow } else { 0.0 };
    let most = beats.iter().map(slow).fold(SLOWED, f64::max);
    let shot = beats.iter().rev().find(|b| slow(b) >= most && most > SLOWED).map(|b| b.shot);
    beats.iter().filter(|b| Some(b.shot) == shot).copied().collect()
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

    fn beats(seconds: [f64; 3]) -> Vec<Beat> {
        let swing =
            |today_s: f64, slow| Shows::Swing { today_s, reference_s: 0.0, slow, hold: None, passed: None };
        let mut all = Vec::new();
        for (shot, length_s) in seconds.into_iter().enumerate() {
            for i in 0..(length_s * 30.0) as usize {
                let slow = if shot == 1 { 8.0 } else { 1.0 };
                let shows = if shot == 2 { Shows::Card } else { swing(i as f64 / 30.0 / slow, slow) };
                all.push(Beat { shot, output_time_s: all.len() as f64 / 30.0, shows });
            }
        }
        all
    }

    fn in_order(beats: &[Beat]) {
        for (i, beat) in beats.iter().enumerate() {
            assert!((beat.output_time_s - i as f64 / 30.0).abs() < 1e-9);
        }
    }

    #[test]
    fn under_a_long_note_the_slow_part_plays_again_and_no_picture_freezes() {
        let plan = beats([1.0, 2.4, 3.0]);
        let mut long = plan.clone();
        last_until(&mut long, 25.0, 30.0);
        in_order(&long);
        assert!((25.0..27.5).contains(&(long.len() as f64 / 30.0)), "{}", long.len());
        let shots: Vec<usize> = long.iter().map(|b| b.shot).collect();
        assert!(shots.is_sorted(), "the card stays last");
        let card = shots.iter().filter(|s| **s == 2).count() as f64 / 30.0;
        assert!(card <= 3.0 + HELD_S, "{card} s of card");
        let rounds = long.iter().filter(|b| b.shows == plan[30].shows).count();
        assert_eq!(rounds, 1 + 7);
        // A note a little longer than the clip holds the card only.
        let mut short = plan.clone();
        last_until(&mut short, 8.0, 30.0);
        assert_eq!((short.len(), short.last().map(|b| b.shot)), (240, Some(2)));
        assert_eq!(short[..plan.len()], plan[..]);
        last_until(&mut short, 1.0, 30.0);
        assert_eq!(short.len(), 240, "a short note changes nothing");
        in_order(&short);
        // Of a long slow part one more round, rather than a card that stands for 8 s more.
        let mut teach = beats([1.0, 9.0, 5.0]);
        last_until(&mut teach, 23.0, 30.0);
        assert_eq!(teach.len(), 30 * (1 + 2 * 9 + 5));
    }

    #[test]
    fn nothing_slowed_holds_the_last_picture_and_nothing_clips() {
        let mut fast = beats([1.0, 0.0, 1.0]);
        last_until(&mut fast, 12.0, 30.0);
        assert_eq!((fast.len(), fast.last().map(|b| b.shows)), (360, Some(Shows::Card)));
        let loud = over(Some(&tone(8000, 1.0, 0.9)), &tone(8000, 1.0, 0.95), 1.0);
        assert!(loud.samples.iter().all(|s| s.abs() <= CEILING + 1e-6));
    }
}
