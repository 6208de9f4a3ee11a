//! A long made-up film of batting practice: swings, and all that is none, by one hitter after another.

use std::path::Path;

use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use super::ball::BallSource;
use super::camera::CameraPlan;
use super::dice::Dice;
use super::film::fraction;
use super::render::Studio;
use super::scenario::{Aside, Bystander, Scenario, SoundPlan};
use super::scenarios::{in_green, in_grey, varied};
use super::sound::record;
use crate::media::{Preset, WriteOptions, Writer};
use crate::messages;
use crate::store::write_file;
use crate::types::{Cancel, Cause, Error, Frame, Progress, Result, Side, Sound};

/// What happens in a stretch of the film.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Act {
    /// A swing at a ball that is hit.
    Hit,
    /// A swing at no ball: no crack.
    Dry,
    /// The bat is waved, without a swing.
    Waggles,
    /// The bat is held into the ball's way.
    Bunt,
    /// The hitter stands ready; others walk, talk and throw.
    Quiet,
}

impl Act {
    /// Whether it counts as a rep.
    pub fn is_swing(self) -> bool {
        matches!(self, Self::Hit | Self::Dry)
    }
}

/// One stretch, with the truth of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SessionAct {
    /// What is done.
    pub act: Act,
    /// Real s from the session's first picture.
    pub from_s: f64,
    /// Until when, real s from the clip's first picture.
    pub to_s: f64,
    /// When bat meets ball, or would; of a stretch without a swing its middle.
    pub contact_s: f64,
    /// The side it is done from.
    pub bats: Side,
}

/// A planned session.
#[derive(Debug, Clone, PartialEq)]
pub struct Session {
    /// Begins the names of its files.
    pub name: String,
    /// One for each act; pictures follow each other without a gap.
    pub parts: Vec<Scenario>,
    /// In the order of time.
    pub acts: Vec<SessionAct>,
    pub(crate) seed: u64,
}

/// A session of `swings` swings by two hitters in turn, drawn from a seed; `size` in px.
pub fn session(name: &str, seed: u64, swings: usize, size: (usize, usize), rate_hz: f64) -> Session {
    let mut dice = Dice::stream(seed, 70);
    let hitters =
        [Side::Right, Side::Left].map(|bats| varied(name, seed * 31 + u64::from(bats == Side::Left), bats));
    // One phone on one tripod for all.
    let camera = CameraPlan {
        width: size.0,
        height: size.1,
        rate_hz,
        body_share: dice.between(0.45, 0.6),
        place: [0.5, 0.57],
        oblique_deg: dice.between(-5.0, 5.0),
        ..hitters[0].camera
    };
    let (mut parts, mut acts, mut clock_s) = (Vec::new(), Vec::new(), 0.0);
    let mut done = 0;
    while done < swings {
        // A hitter takes six swings, then it is the other's turn.
        let base = &hitters[(done / 6) % 2];
        let act = match (dice.unit() * 100.0) as u8 {
            0..62 => Act::Hit,
            62..72 => Act::Dry,
            72..84 => Act::Waggles,
            84..91 => Act::Bunt,
            _ => Act::Quiet,
        };
        done += usize::from(act.is_swing());
        let contact_s = dice.between(2.2, 3.4);
        let (contact_s, length_s) = match act {
            Act::Hit | Act::Dry => (contact_s, contact_s + dice.between(2.6, 4.0)),
            Act::Waggles => (99.0, dice.between(5.0, 7.0)),
            Act::Bunt => (99.0, dice.between(4.5, 6.0)),
            Act::Quiet => (99.0, dice.between(3.0, 8.0)),
        };
        // Whole pictures, so that the parts join.
        let frames = (length_s * rate_hz).round();
        let length_s = frames / rate_hz;
        let met_s = length_s * 0.45;
        let scenario = Scenario {
            name: name.to_owned(),
            style: base.style.next_rep(&mut dice),
            timing: base.timing.next_rep(&mut dice),
            camera,
            aside: Some(match act {
                Act::Waggles => Aside::Waggles { from_s: 0.8, times: 2 },
                Act::Bunt => Aside::Bunt { met_s },
                Act::Dry => Aside::DrySwing,
                _ => Aside::BackToStance,
            }),
            ball: if act == Act::Hit { BallSource::Toss } else { base.ball },
            scene: super::scenario::Scene {
                bystanders: others(base.hitter.bats, clock_s),
                ..base.scene.clone()
            },
            swing_seed: seed * 1000 + parts.len() as u64,
            camera_seed: seed + 17,
            duration_s: length_s,
            contact_s,
            sound: Some(SoundPlan::default()),
            ..base.clone()
        };
        let middle = match act {
            Act::Hit | Act::Dry => contact_s,
            Act::Bunt => met_s,
            _ => length_s / 2.0,
        };
        acts.push(SessionAct {
            act,
            from_s: clock_s,
            to_s: clock_s + length_s,
            contact_s: clock_s + middle,
            bats: base.hitter.bats,
        });
        parts.push(scenario);
        clock_s += length_s;
    }
    Session { name: name.to_owned(), parts, acts, seed }
}

/// A thrower toward the pitcher's side and one who walks to and fro behind, where they are `clock_s` into the session.
fn others(bats: Side, clock_s: f64) -> Vec<Bystander> {
    let back = if bats == Side::Right { 1.0 } else { -1.0 };
    let leg_s = 8.0;
    let there = (clock_s / leg_s).floor() as i64 % 2 == 0;
    let along = (clock_s % leg_s) * 0.7;
    vec![
        Bystander {
            at_m: [2.3, back * 2.2],
            walk_m_s: 0.0,
            throws_every_s: 3.7,
            height_cm: 179.0,
            look: in_green(),
        },
        Bystander {
            at_m: [if there { -2.8 + along } else { 2.8 - along }, back * 5.0],
            walk_m_s: if there { 0.7 } else { -0.7 },
            throws_every_s: 0.0,
            height_cm: 171.0,
            look: in_grey(),
        },
    ]
}

/// Films it into `target`; the acts lie beside it as `NAME.acts.json`.
pub fn film_session(
    session: &Session,
    target: &Path,
    progress: &dyn Progress,
    cancel: &Cancel,
) -> Result<()> {
    let Some(first) = session.parts.first() else {
        return Err(Error::Internal(messages::demo::NO_ACT.to_owned()));
    };
    let options = WriteOptions {
        width: first.camera.width,
        height: first.camera.height,
        rate: fraction(first.camera.rate_hz),
        crf: 22,
        preset: Preset::Veryfast,
        sound: Some(sound(session)),
        ..WriteOptions::default()
    };
    let frames: usize = session.parts.iter().map(Scenario::frames).sum();
    progress.begin(&messages::demo::filming(&session.name), frames as u64);
    let mut writer = Writer::create(target, &options)?;
    for part in &session.parts {
        let studio = Studio::new(part);
        for from in (0..part.frames()).step_by(8) {
            cancel.check()?;
            let batch: Vec<Frame> =
                (from..(from + 8).min(part.frames())).into_par_iter().map(|i| studio.frame(i)).collect();
            batch.iter().try_for_each(|frame| writer.write(frame))?;
            progress.advance(batch.len() as u64);
        }
    }
    let text = serde_json::to_vec(&session.acts)
        .map_err(|e| Error::Unwritable { path: target.to_owned(), cause: Cause::of(e) })?;
    write_file(&target.with_extension("acts.json"), &text)?;
    writer.finish()?;
    progress.end();
    Ok(())
}

/// Every part's own sound, cracks of a neighbouring cage and talk.
fn sound(session: &Session) -> Sound {
    let mut samples: Vec<f32> = Vec::new();
    let mut rate_hz = 48_000;
    for part in &session.parts {
        let studio = Studio::new(part);
        if let Some(own) = record(part, studio.swing(), studio.camera()) {
            rate_hz = own.rate_hz;
            samples.extend(own.samples);
        }
    }
    let mut dice = Dice::stream(session.seed, 71);
    let length = samples.len();
    let mut add = |at: usize, seconds: f64, sample: &mut dyn FnMut(f64) -> f64| {
        for i in 0..(seconds * f64::from(rate_hz)) as usize {
            if let Some(v) = samples.get_mut(at + i) {
                *v = (f64::from(*v) + sample(i as f64 / f64::from(rate_hz))).clamp(-1.0, 1.0) as f32;
            }
        }
    };
    let place = |dice: &mut Dice| (dice.unit() * length as f64) as usize;
    for _ in 0..length / (rate_hz as usize * 9) {
        let (at, level) = (place(&mut dice), dice.between(0.03, 0.12));
        let mut own = Dice::stream(session.seed + at as u64, 72);
        add(at, 0.2, &mut |t| level * (own.unit() * 2.0 - 1.0) * (-t / 0.006).exp());
    }
    for _ in 0..length / (rate_hz as usize * 6) {
        // A syllable after the other: a voice's pitch and its overtones, coming and going.
        let (at, level, pitch) = (place(&mut dice), dice.between(0.01, 0.05), dice.between(110.0, 230.0));
        add(at, 1.2, &mut |t| {
            let tone = |k: f64| (std::f64::consts::TAU * pitch * k * t).sin() / k;
            level * (std::f64::consts::TAU * 4.0 * t).sin().max(0.0) * (tone(1.0) + tone(2.0) + tone(5.0))
        });
    }
    Sound { rate_hz, start_s: 0.0, samples }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_session_joins_its_parts_and_knows_its_swings() {
        let s = session("s", 3, 12, (320, 180), 30.0);
        assert_eq!(s.acts.iter().filter(|a| a.act.is_swing()).count(), 12);
        assert!(s.acts.windows(2).all(|w| (w[0].to_s - w[1].from_s).abs() < 1e-9));
        assert!(s.acts.iter().any(|a| a.bats == Side::Left) && s.acts.iter().any(|a| a.bats == Side::Right));
        assert!(s.acts.iter().any(|a| !a.act.is_swing()));
        for (part, act) in s.parts.iter().zip(&s.acts) {
            assert!((part.frames() as f64 / 30.0 - (act.to_s - act.from_s)).abs() < 1e-9);
        }
        assert_eq!(s, session("s", 3, 12, (320, 180), 30.0));
        let heard = sound(&s);
        let length_s = heard.samples.len() as f64 / f64::from(heard.rate_hz);
        assert!((length_s - s.acts.last().unwrap().to_s).abs() < 0.01, "{length_s}");
    }
}
