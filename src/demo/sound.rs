//! What the phone hears: the crack of contact after its way through the air, feet, a room.

use super::camera::Camera;
use super::dice::Dice;
use super::scenario::{Aside, OtherKind, Scenario};
use super::swing::Swing;
use super::v3::{V3, v3};
use crate::types::{EventId, Onset, Part, Sound};

/// Air at 20 °C (331.3 + 0.606 · T, from memory).
pub const SPEED_OF_SOUND_M_S: f64 = 343.4;
const RATE_HZ: u32 = 48_000;
/// Level of the swing's own crack at 6 m.
const CRACK: f64 = 0.85;

/// One sound: when it arrives (real s on the sound track), how loud, what it is.
struct Knock {
    at_s: f64,
    level: f64,
    kind: Kind,
    /// Draws its noise: the same for every phone.
    seed: u64,
}

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Crack,
    Thud,
    Talk,
    Beat,
}

impl Kind {
    /// How long it is heard, s.
    fn lasts_s(self) -> f64 {
        match self {
            Self::Crack | Self::Thud => 0.25,
            Self::Talk => 0.5,
            Self::Beat => 0.12,
        }
    }
}

fn knocks(s: &Scenario, swing: &Swing, camera: &Camera) -> Vec<Knock> {
    let Some(plan) = &s.sound else { return Vec::new() };
    let ear = camera.steady().at;
    let mut out = Vec::new();
    let mut hear = |t: f64, from: V3, level: f64, kind| {
        let d = from.distance(ear);
        let at_s = (t + s.contact_s + d / SPEED_OF_SOUND_M_S) * (1.0 + plan.clock_ppm * 1e-6) + plan.offset_s;
        let seed = s.swing_seed.wrapping_add(1000 * out.len() as u64);
        out.push(Knock { at_s, level: level * 6.0 / d.max(1.0), kind, seed });
    };
    match s.aside {
        Some(Aside::Bunt { met_s }) => {
            hear(met_s - s.contact_s, swing.contact_point(), 0.35 * CRACK, Kind::Crack);
        }
        Some(Aside::Pastime(_)) => return out,
        Some(Aside::Waggles { .. } | Aside::DrySwing) => (),
        Some(Aside::BackToStance) | None => hear(0.0, swing.contact_point(), CRACK, Kind::Crack),
    }
    if let Some(&t) = swing.events().get(&EventId::Plant) {
        hear(t, swing.pose_at(t).at(swing.front(Part::LeftToe)), 0.05, Kind::Thud);
    }
    for other in &plan.others {
        let kind = match other.kind {
            OtherKind::Crack => Kind::Crack,
            OtherKind::Talk => Kind::Talk,
            OtherKind::Beat => Kind::Beat,
        };
        let from = v3(other.at_m[0], other.at_m[1], 1.0);
        hear(other.at_s, from, other.level * CRACK, kind);
    }
    let direct = out.len();
    for echo in &plan.echoes {
        for i in 0..direct {
            let Knock { at_s, level, kind, seed } = out[i];
            out.push(Knock { at_s: at_s + echo.later_s, level: level * echo.level, kind, seed });
        }
    }
    out
}

/// Sudden sounds as a perfect ear hears them, loudest first.
pub fn heard(s: &Scenario, swing: &Swing, camera: &Camera) -> Vec<Onset> {
    let floor = 0.004 * s.sound.as_ref().map_or(1.0, |p| p.noise).max(0.01);
    let mut knocks = knocks(s, swing, camera);
    knocks.sort_by(|a, b| b.level.total_cmp(&a.level));
    knocks.iter().map(|k| Onset { time_s: k.at_s, rise_db: 20.0 * (k.level / floor).log10() }).collect()
}

/// The sound track, in playback time: a slowed file's sound is slowed too (and deep), as phones do it.
/// `None` when the scenario has none.
pub fn record(s: &Scenario, swing: &Swing, camera: &Camera) -> Option<Sound> {
    let plan = s.sound.as_ref()?;
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
        if first < 0.0 || first >= n as f64 {
            continue;
        }
        let mut noise = Hiss {
            shared: Dice::stream(knock.seed, 12),
            own: Dice::stream(knock.seed ^ s.camera_seed.rotate_left(32), 13),
            alike: plan.alike.clamp(0.0, 1.0),
        };
        let mut held = 0.0;
        let length = (knock.kind.lasts_s() * s.stored_slower * rate) as usize;
        for i in 0..length {
            let Some(v) = samples.get_mut((first.ceil() as usize).saturating_add(i)) else { break };
            // Real time since the knock.
            let t = (first.ceil() + i as f64 - first) / rate / s.stored_slower;
            *v += (knock.level * wave(knock.kind, t, noise.next(), &mut held)) as f32;
        }
    }
    for v in &mut samples {
        // Near the bat microphones overload.
        *v = (plan.gain as f32 * *v).clamp(-1.0, 1.0);
    }
    Some(Sound { rate_hz: RATE_HZ, start_s: 0.0, samples })
}

/// White noise of which a part is the same for every phone.
struct Hiss {
    shared: Dice,
    own: Dice,
    alike: f64,
}

impl Hiss {
    fn next(&mut self) -> f64 {
        let white = |dice: &mut Dice| dice.unit() * 2.0 - 1.0;
        self.alike * white(&mut self.shared) + (1.0 - self.alike.powi(2)).sqrt() * white(&mut self.own)
    }
}

/// A sound `t` s after it began, from white noise. `held`: low-passed noise so far.
fn wave(kind: Kind, t: f64, white: f64, held: &mut f64) -> f64 {
    let tone = |hz: f64| (std::f64::consts::TAU * hz * t).sin();
    match kind {
        Kind::Crack => {
            let ring = tone(1750.0) * (-t / 0.012).exp();
            0.75 * white * (-t / 0.004).exp() + 0.4 * ring + 0.10 * white * (-t / 0.05).exp()
        }
        Kind::Thud => {
            *held += 0.05 * (white - *held);
            (2.5 * *held + 0.6 * tone(90.0)) * (-t / 0.03).exp()
        }
        Kind::Talk => {
            // A voice of 130 Hz with two syllables, the second begun by a hiss.
            let syllable = |from: f64| {
                if t >= from { (40.0 * (t - from)).min(1.0) * (-(t - from) / 0.09).exp() } else { 0.0 }
            };
            let voice: f64 =
                (1..=18).map(|k| tone(130.0 * f64::from(k)) / (1.0 + f64::from(k - 4).abs())).sum();
            let hiss = if (0.18..0.22).contains(&t) { 0.5 * white } else { 0.0 };
            0.5 * voice * (syllable(0.0) + syllable(0.22)) + hiss
        }
        Kind::Beat => (0.8 * tone(420.0) + 0.6 * tone(2300.0) * (-t / 0.003).exp()) * (-t / 0.02).exp(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo::Hitter;
    use crate::types::Side;

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
