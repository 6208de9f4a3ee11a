//! What the phone hears: the crack of contact after its way through the air, feet, a room.

use super::camera::Camera;
use super::dice::Dice;
use super::scenario::Scenario;
use super::swing::Swing;
use super::v3::V3;
use crate::ground::{EventId, Onset, Part, Sound};

/// Air at 20 °C (331.3 + 0.606 · T, from memory).
pub const SPEED_OF_SOUND_M_S: f64 = 343.4;
const RATE_HZ: u32 = 48_000;

/// One sudden sound: when it arrives (real s on the sound track), how loud, what it is.
struct Knock {
    at_s: f64,
    level: f64,
    kind: Kind,
}

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Crack,
    Thud,
}

fn knocks(s: &Scenario, swing: &Swing, camera: &Camera) -> Vec<Knock> {
    let Some(plan) = s.sound else { return Vec::new() };
    let ear = camera.steady().at;
    let mut out = Vec::new();
    let mut hear = |t: f64, from: V3, level: f64, kind| {
        let d = from.distance(ear);
        let at_s = t + s.contact_s + d / SPEED_OF_SOUND_M_S + plan.offset_s;
        out.push(Knock { at_s, level: level * 6.0 / d.max(1.0), kind });
    };
    hear(0.0, swing.contact_point(), 0.85, Kind::Crack);
    if let Some(&t) = swing.events().get(&EventId::Plant) {
        hear(t, swing.pose_at(t).at(swing.front(Part::LeftToe)), 0.05, Kind::Thud);
    }
    out
}

/// Sudden sounds as a perfect ear hears them, loudest first.
pub fn heard(s: &Scenario, swing: &Swing, camera: &Camera) -> Vec<Onset> {
    let floor = 0.004 * s.sound.map_or(1.0, |p| p.noise).max(0.01);
    let mut knocks = knocks(s, swing, camera);
    knocks.sort_by(|a, b| b.level.total_cmp(&a.level));
    knocks.iter().map(|k| Onset { time_s: k.at_s, rise_db: 20.0 * (k.level / floor).log10() }).collect()
}

/// The sound track, in playback time: a slowed file's sound is slowed too (and deep), as phones do it.
/// `None` when the scenario has none.
pub fn record(s: &Scenario, swing: &Swing, camera: &Camera) -> Option<Sound> {
    let plan = s.sound?;
    let rate = f64::from(RATE_HZ);
    let n = (s.duration_s * s.stored_slower * rate).round() as usize;
    let mut dice = Dice::stream(s.camera_seed, 11);
    let mut samples = vec![0.0f32; n];
    // Room: low rumble and hiss.
    let mut low = 0.0;
    for v in &mut samples {
        let white = dice.unit() * 2.0 - 1.0;
        low += 0.02 * (white - low);
        *v = (plan.noise * (0.0025 * white + 0.02 * low)) as f32;
    }
    for knock in knocks(s, swing, camera) {
        let first = knock.at_s * s.stored_slower * rate;
        let length = (0.25 * s.stored_slower * rate) as usize;
        let mut held = 0.0;
        for i in 0..length {
            let Some(v) = samples.get_mut((first.ceil() as usize).saturating_add(i)) else { break };
            // Real time since the knock.
            let t = (first.ceil() + i as f64 - first) / rate / s.stored_slower;
            let white = dice.unit() * 2.0 - 1.0;
            let add = match knock.kind {
                Kind::Crack => {
                    let ring = (std::f64::consts::TAU * 1750.0 * t).sin() * (-t / 0.012).exp();
                    0.75 * white * (-t / 0.004).exp() + 0.4 * ring + 0.10 * white * (-t / 0.05).exp()
                }
                Kind::Thud => {
                    held += 0.05 * (white - held);
                    (2.5 * held + 0.6 * (std::f64::consts::TAU * 90.0 * t).sin()) * (-t / 0.03).exp()
                }
            };
            // Near the bat microphones overload.
            *v = (f64::from(*v) + knock.level * add).clamp(-1.0, 1.0) as f32;
        }
    }
    Some(Sound { rate_hz: RATE_HZ, start_s: 0.0, samples })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo::Hitter;
    use crate::ground::Side;

    #[test]
    fn the_crack_is_late_by_its_way_and_loudest() {
        let s = Scenario::new("s", Hitter::new("Invented", Side::Right, 180.0, 84.0));
        let swing = Swing::new(&s.hitter, &s.style, &s.timing, s.swing_seed);
        let camera = Camera::new(&s.camera, s.hitter.bats, 180.0, 1);
        let sound = record(&s, &swing, &camera).unwrap();
        let (i, _) = sound.samples.iter().enumerate().find(|(_, v)| v.abs() > 0.15).expect("a crack");
        let at = i as f64 / f64::from(sound.rate_hz);
        let way = swing.contact_point().distance(camera.steady().at) / SPEED_OF_SOUND_M_S;
        assert!((at - s.contact_s - way).abs() < 0.002, "{at} {way}");
        assert!((sound.samples.len() as f64 / 48_000.0 - s.duration_s).abs() < 1e-3);
    }
}
