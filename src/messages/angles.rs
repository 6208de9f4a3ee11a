//! Two cameras on one swing: what is said of how they lie to each other.

use std::path::Path;

use crate::types::file_name;
use crate::types::{Angles, Drift, EventId, LinedUpBy, SharedEvent, Unheard};

pub const TOO_SHORT_FOR_DRIFT: &str = "not measured: that takes sounds a minute apart";
pub const OTHER_PLACES: &str =
    "Sounds from other places disagree with the hitter's own, as loud as it is; the ± covers them.";
pub const BY_CONTACT: &str = "It rests on one sudden sound, which is contact by the picture: that both clips show the \
    same swing is taken from you.";
pub const NOT_LOOKED_AT: &str =
    "The picture was not looked at: a clip is longer than two minutes. Cut the swing out to have it checked.";

/// Why sound tells nothing; `clips`: the two files.
pub fn unheard(why: &Unheard, clips: [&Path; 2]) -> String {
    let clip = |i: usize| file_name(clips.get(i).copied().unwrap_or(Path::new("")));
    match why {
        Unheard::NoSound { clip: i } => format!("{} has no sound", clip(*i)),
        Unheard::SlowMotion { clip: i } => {
            format!("{} plays slower than life, so its sound keeps no time", clip(*i))
        }
        Unheard::Quiet { clip: i } => format!("nothing sudden is heard in {}", clip(*i)),
        Unheard::Ambiguous { offsets_s } => {
            let mut some: Vec<String> = offsets_s.iter().take(3).map(|o| format!("{o:+.3} s")).collect();
            if offsets_s.len() > some.len() {
                some.push("…".to_owned());
            }
            format!("several offsets fit the sound as well ({})", some.join(", "))
        }
        Unheard::Unrelated => "the two sounds do not belong together at any offset".to_owned(),
        Unheard::LoneSound { .. } => {
            "the two have one sudden sound in common, and nothing shows that it is the same one".to_owned()
        }
    }
}

/// `view`: of both.
pub fn sees_the_same(clips: [&Path; 2], view: &str) -> String {
    let [a, b] = clips.map(file_name);
    format!(
        "{a} and {b} are both seen from {view}: two angles are meant to be two sides, and these may be two swings; that they \
         are one is taken from you."
    )
}

pub fn other_side(clips: [&Path; 2]) -> String {
    let [a, b] = clips.map(file_name);
    format!(
        "The hitter of {a} bats from the other side than the hitter of {b}: two hitters, or one film is mirrored."
    )
}

/// `measures`: with both values.
pub fn moves_unlike(clips: [&Path; 2], measures: &str) -> String {
    let [a, b] = clips.map(file_name);
    format!("{a} and {b} do not move alike ({measures}): they may be two swings.")
}

pub fn two_swings(clips: [&Path; 2], view: &str, measures: &str) -> String {
    let [a, b] = clips.map(file_name);
    format!(
        "{a} and {b} are both seen from {view} and do not move alike ({measures}), so they show two swings; give two films of \
         one swing, or line them up by --sound-alone"
    )
}

/// Of an error: neither sound nor picture lines the two up.
pub fn not_lined_up(why: &str, looked: bool) -> String {
    let picture =
        if looked { "plant and contact are not seen in both" } else { "the picture was not looked at" };
    format!(
        "{why}, and {picture}; clap once in sight and hearing of both phones, or set contact in both with mark"
    )
}

pub fn by(by: LinedUpBy) -> &'static str {
    match by {
        LinedUpBy::Sound => "sound",
        LinedUpBy::SoundAndPicture => "the sound of contact, found by the picture",
        LinedUpBy::Picture => "plant and contact as seen",
    }
}

pub fn offset(first: &Path, second: &Path, angles: &Angles) -> String {
    let o = &angles.offset;
    format!(
        "What happens at {:.3} s of {} is at {:.3} s of {}: {:+.4} s ± {:.1} ms",
        o.at_s,
        file_name(first),
        o.second_from_first(o.at_s),
        file_name(second),
        o.offset_s,
        o.plus_minus_s * 1e3
    )
}

pub fn drift(drift: Option<&Drift>) -> String {
    drift.map_or_else(
        || TOO_SHORT_FOR_DRIFT.to_owned(),
        |d| {
            format!(
                "{:+.1} ± {:.1} ppm: the second clock is {}",
                d.ppm,
                d.plus_minus_ppm,
                if d.ppm > 0.0 { "fast" } else { "slow" }
            )
        },
    )
}

/// What is reckoned with for the ways of the sound.
pub fn distances(angles: &Angles) -> String {
    let ms = (angles.sound_delays_s[1] - angles.sound_delays_s[0]) * 1e3;
    let error_ms = angles.sound_delays_plus_minus_s * 1e3;
    if angles.distances_given {
        format!("as given: {ms:+.1} ms taken out, ± {error_ms:.1} ms")
    } else {
        format!(
            "not given: {ms:+.1} ms taken out, ± {error_ms:.0} ms, as judged; a metre is 2.9 ms, give --distances A,B"
        )
    }
}

pub fn shared_event(e: &SharedEvent) -> String {
    let said = match e.agrees {
        Some(true) => ": agrees with the sound",
        Some(false) => ": does not agree with the sound",
        None => "",
    };
    format!("{:+.3} s ± {:.0} ms{said}", e.offset_s, e.plus_minus_s * 1e3)
}

/// The picture against the sound, where the sound counts.
pub fn disagrees(event: EventId) -> String {
    format!(
        "{} as seen does not agree with the sound; the sound is used. Look at both pictures there, or set it with mark.",
        super::event(event)
    )
}

pub fn overruled() -> &'static str {
    "Plant and contact as seen both disagree with the sound: a file's sound lies beside its pictures. What is seen is used."
}

pub fn by_picture(why: &str, plus_minus_s: f64) -> String {
    format!("Lined up by plant and contact as seen, ± {:.0} ms: {why}.", plus_minus_s * 1e3)
}

pub fn no_swing_to_check(cause: &str) -> String {
    format!("The picture does not check the sound: {cause}.")
}

pub fn several_splits(word: &str) -> String {
    format!("{word}: could mean several pairs of files, as their names hold a plus sign; rename one")
}

/// `side`: the clip that shows the hitter from the side.
pub fn turned(side: &Path) -> String {
    format!("{} shows the side and is taken as the first angle: measures come from it.", file_name(side))
}

pub fn given_twice(clip: &Path) -> String {
    format!("{}: is given twice; two angles are two recordings", clip.display())
}
