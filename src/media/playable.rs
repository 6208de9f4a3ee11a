//! Whether a file will play on phones, judged from the file itself and told in plain words.

mod facts;

use std::path::Path;

use serde::Serialize;

pub use facts::PlayFacts;
pub(super) use facts::read as read_facts;

use super::level;
use crate::messages::playable as messages;
use crate::types::{Limits, Result};

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// Worth knowing; nothing stands in the way.
    Note,
    /// Most phones play it, some phones or messengers do not.
    Doubt,
    /// Many phones do not play it.
    Refused,
}

/// One thing that was looked at and is not as it should be, or is worth knowing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Finding {
    /// Stable word for programs, snake_case (`codec`).
    pub code: &'static str,
    /// Whether it stands in the way.
    pub weight: Weight,
    /// One plain sentence.
    pub text: String,
}

/// What a file is and what stands in the way of playing it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Playable {
    /// `swingpair.check/1`.
    pub schema: &'static str,
    /// Nothing is [`Weight::Refused`].
    pub plays: bool,
    /// Nothing is in doubt either.
    pub plays_everywhere: bool,
    /// What the findings rest on.
    pub facts: PlayFacts,
    /// Heaviest first.
    pub findings: Vec<Finding>,
}

/// Pictures a second beyond which the strictest phones and messengers are left, and beyond which most are.
const STRICT_RATE_HZ: f64 = 30.0;
const MOST_RATE_HZ: f64 = 60.0;
/// The level every phone takes, and the one that 60 pictures a second need; ten times the number.
const STRICT_LEVEL: i32 = 40;
const MOST_LEVEL: i32 = 42;
/// Limits of size that messengers commonly set, bytes; they change.
const CAPS: [u64; 4] = [600_000, 1_000_000, 3_500_000, 16_000_000];

/// Judge `path`. Every picture is decoded, so that damage is found too.
///
/// ```no_run
/// use swingpair::media::check_playable;
/// use swingpair::types::Limits;
///
/// let judged = check_playable("pair.mp4".as_ref(), &Limits::default())?;
/// println!("{}", if judged.plays_everywhere { "plays everywhere" } else { "may not play" });
/// # Ok::<(), swingpair::types::Error>(())
/// ```
pub fn check_playable(path: &Path, limits: &Limits) -> Result<Playable> {
    let facts = facts::read(path, limits)?;
    let findings = judge(&facts);
    let worst = findings.iter().map(|f| f.weight).max().unwrap_or(Weight::Note);
    Ok(Playable {
        schema: "swingpair.check/1",
        plays: worst < Weight::Refused,
        plays_everywhere: worst < Weight::Doubt,
        facts,
        findings,
    })
}

#[derive(Default)]
struct Findings(Vec<Finding>);

impl Findings {
    fn add(&mut self, weight: Weight, code: &'static str, text: String) {
        self.0.push(Finding { code, weight, text });
    }
}

fn judge(f: &PlayFacts) -> Vec<Finding> {
    use Weight::{Doubt, Note, Refused};
    let mut out = Findings::default();
    if !f.container.split(',').any(|c| c == "mp4") {
        out.add(Refused, "container", messages::container(&f.container));
    }
    if f.codec == "h264" {
        h264(f, &mut out);
    } else {
        out.add(Refused, "codec", messages::codec(&f.codec));
    }
    pictures(f, &mut out);
    times(f, &mut out);
    if f.index_first == Some(false) {
        out.add(Doubt, "index_last", messages::INDEX_LAST.to_owned());
    }
    if f.in_pieces {
        out.add(Doubt, "in_pieces", messages::IN_PIECES.to_owned());
    }
    match f.sound.as_deref() {
        None => out.add(Note, "no_sound", messages::NO_SOUND.to_owned()),
        Some("aac") => (),
        Some(other) => out.add(Refused, "sound", messages::sound(other)),
    }
    if let Some(damage) = &f.damage {
        out.add(Refused, "damaged", messages::damaged(damage));
    }
    let fits = CAPS.iter().copied().filter(|cap| f.bytes <= *cap).min();
    let over = CAPS.iter().copied().filter(|cap| f.bytes > *cap).max();
    out.add(Note, "size", messages::size(f.bytes, fits, over));
    out.0.sort_by_key(|f| std::cmp::Reverse(f.weight));
    out.0
}

/// Profile, level, what the level promises, and the order of pictures.
fn h264(f: &PlayFacts, out: &mut Findings) {
    use Weight::{Doubt, Refused};
    const PROFILES: [&str; 4] = ["Baseline", "Constrained Baseline", "Main", "High"];
    if !PROFILES.contains(&f.profile.as_str()) {
        out.add(Refused, "profile", messages::profile(&f.profile));
    }
    let needed = f.rate_hz.and_then(|hz| level::needed(f.width, f.height, hz));
    let heaviest = f.level.max(needed.map_or(0, |l| l.number));
    if heaviest > MOST_LEVEL || (f.rate_hz.is_some() && needed.is_none()) {
        out.add(Refused, "level", messages::level(heaviest, f.width, f.height, f.rate_hz));
    } else if heaviest > STRICT_LEVEL {
        out.add(Doubt, "level", messages::level(heaviest, f.width, f.height, f.rate_hz));
    }
    if let (Some(claimed), Some(needed)) = (level::named(f.level), needed) {
        if needed.number > claimed.number {
            out.add(Doubt, "level_untrue", messages::level_untrue(claimed.name, needed.name));
        } else if f.peak_bits_s > f64::from(claimed.high_bits_s()) {
            out.add(
                Doubt,
                "bit_rate",
                messages::bit_rate(f.peak_bits_s, claimed.name, claimed.high_bits_s()),
            );
        }
    }
    if f.reordered {
        out.add(Doubt, "b_frames", messages::B_FRAMES.to_owned());
    }
}

/// Size, depth, colours.
fn pictures(f: &PlayFacts, out: &mut Findings) {
    use Weight::{Doubt, Note, Refused};
    if !matches!(f.pixels.as_str(), "yuv420p" | "yuvj420p") {
        out.add(Refused, "pixels", messages::pixels(&f.pixels));
    }
    if f.width % 2 == 1 || f.height % 2 == 1 {
        out.add(Refused, "odd_size", messages::odd_size(f.width, f.height));
    }
    if f.interlaced {
        out.add(Doubt, "interlaced", messages::INTERLACED.to_owned());
    }
    if f.full_range {
        out.add(Doubt, "full_range", messages::FULL_RANGE.to_owned());
    }
    match f.matrix.as_deref() {
        Some("bt709") => (),
        Some(other) if f.wide_gamut => out.add(Doubt, "hdr", messages::hdr(other)),
        Some(other) => out.add(Doubt, "matrix", messages::matrix(other)),
        None => out.add(Doubt, "untagged", messages::UNTAGGED.to_owned()),
    }
    if f.turned {
        out.add(Note, "turned", messages::TURNED.to_owned());
    }
}

fn times(f: &PlayFacts, out: &mut Findings) {
    use Weight::{Doubt, Refused};
    // A container's ticks round the times a little.
    match f.rate_hz {
        Some(hz) if hz > MOST_RATE_HZ * 1.005 => out.add(Refused, "rate", messages::rate(hz)),
        Some(hz) if hz > STRICT_RATE_HZ * 1.005 => out.add(Doubt, "rate", messages::rate(hz)),
        Some(_) => (),
        None => out.add(Refused, "no_times", messages::NO_TIMES.to_owned()),
    }
    if !f.constant_rate && f.rate_hz.is_some() {
        out.add(Doubt, "uneven_rate", messages::UNEVEN.to_owned());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn good() -> PlayFacts {
        PlayFacts {
            container: "mov,mp4,m4a,3gp,3g2,mj2".to_owned(),
            codec: "h264".to_owned(),
            profile: "High".to_owned(),
            level: 40,
            width: 1080,
            height: 1920,
            pixels: "yuv420p".to_owned(),
            matrix: Some("bt709".to_owned()),
            wide_gamut: false,
            full_range: false,
            interlaced: false,
            turned: false,
            frames: 300,
            duration_s: 10.0,
            rate_hz: Some(30.0),
            constant_rate: true,
            reordered: false,
            index_first: Some(true),
            in_pieces: false,
            sound: Some("aac".to_owned()),
            bytes: 5_000_000,
            peak_bits_s: 6e6,
            damage: None,
        }
    }

    fn found(facts: PlayFacts) -> Vec<(&'static str, Weight)> {
        judge(&facts).into_iter().filter(|f| f.weight > Weight::Note).map(|f| (f.code, f.weight)).collect()
    }

    #[test]
    fn a_good_clip_has_notes_only() {
        assert_eq!(found(good()), []);
        let notes = judge(&good());
        assert!(notes.iter().any(|f| f.code == "size" && f.text.contains("16 MB")), "{notes:?}");
    }

    #[test]
    fn each_fault_is_found_and_weighed() {
        use Weight::{Doubt, Refused};
        let text = |s: &str| s.to_owned();
        for (facts, code, weight) in [
            (PlayFacts { container: text("matroska,webm"), ..good() }, "container", Refused),
            (PlayFacts { codec: text("hevc"), ..good() }, "codec", Refused),
            (PlayFacts { profile: text("High 10"), ..good() }, "profile", Refused),
            (PlayFacts { level: 51, ..good() }, "level", Refused),
            (PlayFacts { level: 42, rate_hz: Some(60.0), ..good() }, "level", Doubt),
            (PlayFacts { level: 31, ..good() }, "level_untrue", Doubt),
            (PlayFacts { peak_bits_s: 26e6, ..good() }, "bit_rate", Doubt),
            (PlayFacts { pixels: text("yuv422p"), ..good() }, "pixels", Refused),
            (PlayFacts { width: 1079, ..good() }, "odd_size", Refused),
            (PlayFacts { rate_hz: Some(120.0), width: 640, height: 360, ..good() }, "rate", Refused),
            (PlayFacts { constant_rate: false, ..good() }, "uneven_rate", Doubt),
            (PlayFacts { reordered: true, ..good() }, "b_frames", Doubt),
            (PlayFacts { full_range: true, ..good() }, "full_range", Doubt),
            (PlayFacts { matrix: None, ..good() }, "untagged", Doubt),
            (PlayFacts { matrix: Some(text("bt2020nc")), wide_gamut: true, ..good() }, "hdr", Doubt),
            (PlayFacts { index_first: Some(false), ..good() }, "index_last", Doubt),
            (PlayFacts { sound: Some(text("opus")), ..good() }, "sound", Refused),
            (PlayFacts { damage: Some(text("3 damaged pieces")), ..good() }, "damaged", Refused),
        ] {
            let all = found(facts);
            assert!(all.contains(&(code, weight)), "{code}: {all:?}");
        }
        // Level 4.0 for a picture too large for it is no level 4.0 clip.
        let large = PlayFacts { width: 3840, height: 2160, ..good() };
        assert!(found(large).contains(&("level", Refused)));
    }
}
