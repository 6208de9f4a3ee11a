//! Two phones lined up by sound, against the truth of made-up pairs: nothing is filmed, only recorded.
//!
//! `bench_angles [--seed N] [--pairs N]`: N pairs a case (long takes: a tenth), all drawn from the seed.

mod scenes;

use std::path::Path;
use std::process::{Command, Stdio};

use scenes::{Case, Pair, pair};
use swingpair::demo::{Camera, Dice, Scenario, Swing, record};
use swingpair::media::read_sound;
use swingpair::pairing::angles::{SOUND_HZ, SoundDelays, agreed, line_up};
use swingpair::types::{Event, EventId, Events, Limits, Result, Sound, Source};

/// Beyond this and beyond its ± an answer is wrong, s: a picture at 60 a second.
const WRONG_S: f64 = 1.0 / 60.0;

#[derive(Default)]
struct Row {
    errors_s: Vec<f64>,
    inside: usize,
    refused: usize,
    wrong: usize,
    drift_errors_ppm: Vec<f64>,
    drift_inside: usize,
    least_confidence: f64,
}

fn main() -> std::result::Result<(), Box<dyn std::error::Error>> {
    let (mut seed, mut pairs, mut only) = (1u64, 30usize, None);
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let mut value = || words.next().ok_or(format!("{word} wants a value"));
        match word.as_str() {
            "--seed" => seed = value()?.parse()?,
            "--pairs" => pairs = value()?.parse()?,
            "--only" => only = Some(value()?),
            _ => return Err(format!("{word} is not known; --seed N, --pairs N, --only WORDS").into()),
        }
    }
    let each = only.is_some();
    let dir = tempfile::tempdir()?;
    for with_picture in [true, false] {
        println!("\n## {}\n", if with_picture { "With the picture" } else { "Sound alone" });
        println!(
            "| sound | pairs | refused | wrong | median, ms | 90 % | worst | inside ± | drift, median, ppm | worst | inside ± |"
        );
        println!("|---|---|---|---|---|---|---|---|---|---|---|");
        for case in Case::ALL {
            if with_picture && !case.is_one_swing() {
                continue;
            }
            if only.as_ref().is_some_and(|o| !case.words().contains(o.as_str())) {
                continue;
            }
            let long = matches!(case, Case::LongTakes | Case::MinutesApart);
            let n = if long { pairs.div_ceil(10) } else { pairs };
            let mut row = Row { least_confidence: 1.0, ..Row::default() };
            for i in 0..n {
                one(
                    case,
                    seed.wrapping_mul(1_000_003).wrapping_add(i as u64),
                    dir.path(),
                    &mut row,
                    each,
                    with_picture,
                )?;
            }
            print_row(case, n, &mut row);
        }
    }
    Ok(())
}

fn one(case: Case, seed: u64, dir: &Path, row: &mut Row, each: bool, with_picture: bool) -> Result<()> {
    let Pair { scenarios, aac, drift_ppm } = pair(case, seed);
    let distances: Vec<f64> = scenarios.iter().map(distance_m).collect();
    let sounds = [&scenarios[0], &scenarios[1]].map(|s| recorded(s, aac, dir));
    let [first, second] = sounds;
    let seen = with_picture.then(|| [0, 1].map(|i| seen(&scenarios[i], seed + i as u64)));
    let contact = |i: usize| seen.as_ref().and_then(|s| Some(s[i].get(&EventId::Contact)?.time_s));
    let heard = line_up([&first?, &second?], [contact(0), contact(1)]);
    let ways = if case == Case::Unknown {
        SoundDelays { delays_s: [0.0; 2], plus_minus_s: SoundDelays::NOT_KNOWN_S, given: false }
    } else {
        // As somebody would pace them out.
        SoundDelays::given([distances[0], distances[1]].map(|d| (2.0 * d).round() / 2.0))
    };
    let confidence = heard.as_ref().map_or(0.0, |h| h.confidence);
    let reported = format!("{heard:?}");
    let (angles, _) = agreed(heard, ways, seen.as_ref().map(|[a, b]| [a, b]));
    let Some(angles) = angles else {
        row.refused += 1;
        if each {
            eprintln!("  seed {seed}: refused: {reported}");
        }
        return Ok(());
    };
    if !case.is_one_swing() {
        row.wrong += 1;
        eprintln!("  seed {seed}: answered: {reported}");
        return Ok(());
    }
    let contacts = [&scenarios[0], &scenarios[1]].map(|s| s.contact_s * ppm(s));
    let error_s = angles.offset.second_from_first(contacts[0]) - contacts[1];
    row.least_confidence = row.least_confidence.min(confidence);
    row.errors_s.push(error_s.abs());
    row.inside += usize::from(error_s.abs() <= angles.offset.plus_minus_s);
    if error_s.abs() > WRONG_S.max(angles.offset.plus_minus_s) {
        row.wrong += 1;
    }
    if case == Case::LongTakes {
        let drift = angles.offset.drift;
        let error = drift.map_or(f64::INFINITY, |d| (d.ppm - drift_ppm).abs());
        row.drift_errors_ppm.push(error);
        row.drift_inside += usize::from(drift.is_some_and(|d| error <= d.plus_minus_ppm));
    }
    if each || error_s.abs() > WRONG_S.max(angles.offset.plus_minus_s) {
        eprintln!("  seed {seed}: off by {:.2} ms: {reported}", error_s * 1e3);
    }
    Ok(())
}

/// Plant and contact as an eye finds them: off by what the accuracy bench finds from the side (plant) and from motion
/// alone (contact), with the ± that a reading gives.
fn seen(s: &Scenario, seed: u64) -> Events {
    let mut dice = Dice::stream(seed, 90);
    let swing = Swing::new(&s.hitter, &s.style, &s.timing, s.swing_seed);
    let plant_s = swing.events().get(&EventId::Plant).copied().unwrap_or(-0.17);
    let mut event = |at_s: f64, error_s: f64, plus_minus_s| {
        let time_s = s.contact_s * ppm(s) + at_s + error_s * dice.bell();
        Event { time_s, plus_minus_s, frame: 0, source: Source::Motion, confidence: 0.7 }
    };
    Events::from([
        (EventId::Plant, event(plant_s, 0.012, 0.030)),
        (EventId::Contact, event(0.0, 0.012, 0.030)),
    ])
}

fn ppm(s: &Scenario) -> f64 {
    1.0 + s.sound.as_ref().map_or(0.0, |p| p.clock_ppm) * 1e-6
}

/// Microphone to where the ball is hit.
fn distance_m(s: &Scenario) -> f64 {
    let swing = Swing::new(&s.hitter, &s.style, &s.timing, s.swing_seed);
    swing.contact_point().distance(camera(s).steady().at)
}

fn camera(s: &Scenario) -> Camera {
    Camera::new(&s.camera, s.hitter.bats, s.hitter.height_cm, s.camera_seed)
}

/// What the phone's file holds, as the program reads it.
fn recorded(s: &Scenario, aac: bool, dir: &Path) -> Result<Sound> {
    let swing = Swing::new(&s.hitter, &s.style, &s.timing, s.swing_seed);
    let sound =
        record(s, &swing, &camera(s)).unwrap_or(Sound { rate_hz: 48_000, start_s: 0.0, samples: Vec::new() });
    let wav = dir.join("sound.wav");
    write_wav(&wav, &sound).map_err(|e| swingpair::types::Error::writing(&wav, e))?;
    let coded = dir.join("sound.m4a");
    let path = if aac {
        let mut ffmpeg = Command::new("ffmpeg");
        ffmpeg.args(["-y", "-v", "error", "-i"]).arg(&wav).args(["-c:a", "aac", "-b:a", "64k"]).arg(&coded);
        let done = ffmpeg.stdin(Stdio::null()).status();
        assert!(done.is_ok_and(|s| s.success()), "ffmpeg did not code the sound");
        &coded
    } else {
        &wav
    };
    let limits = Limits::default();
    read_sound(path, SOUND_HZ, &limits)
}

fn write_wav(path: &Path, sound: &Sound) -> std::io::Result<()> {
    let data: Vec<u8> =
        sound.samples.iter().flat_map(|v| ((v * 32767.0).round() as i16).to_le_bytes()).collect();
    let (rate, len) = (sound.rate_hz, data.len() as u32);
    let mut out = Vec::with_capacity(data.len() + 44);
    out.extend(b"RIFF");
    out.extend((36 + len).to_le_bytes());
    out.extend(b"WAVEfmt ");
    out.extend(16u32.to_le_bytes());
    out.extend([1u16, 1].map(u16::to_le_bytes).concat());
    out.extend([rate, rate * 2].map(u32::to_le_bytes).concat());
    out.extend([2u16, 16].map(u16::to_le_bytes).concat());
    out.extend(b"data");
    out.extend(len.to_le_bytes());
    out.extend(data);
    std::fs::write(path, out)
}

fn print_row(case: Case, n: usize, row: &mut Row) {
    row.errors_s.sort_by(f64::total_cmp);
    row.drift_errors_ppm.sort_by(f64::total_cmp);
    let at =
        |v: &[f64], share: f64| v.get(((v.len() as f64 * share).ceil() as usize).saturating_sub(1)).copied();
    let ms = |share| at(&row.errors_s, share).map_or(String::new(), |e| format!("{:.2}", e * 1e3));
    let ppm = |share| at(&row.drift_errors_ppm, share).map_or(String::new(), |e| format!("{e:.2}"));
    let answered = row.errors_s.len();
    let inside = if answered > 0 { format!("{}/{answered}", row.inside) } else { String::new() };
    let drift = match row.drift_errors_ppm.len() {
        0 => String::new(),
        count => format!("{}/{count}", row.drift_inside),
    };
    println!(
        "| {} | {n} | {} | {} | {} | {} | {} | {inside} | {} | {} | {drift} |",
        case.words(),
        row.refused,
        row.wrong,
        ms(0.5),
        ms(0.9),
        ms(1.0),
        ppm(0.5),
        ppm(1.0)
    );
}
