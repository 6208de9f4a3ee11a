//! Two cameras on one swing: the time offset between them, and what it rests on.

use std::path::Path;

use crate::types::file_name;
use crate::types::{Angles, Drift, EventId, LinedUpBy, Measure, MeasureId, SharedEvent, Unheard};

/// The names of the lines of the report.
pub const BY: &str = "lined up by";
pub(crate) const CONFIDENCE: &str = "confidence";
pub(crate) const SHARED: &str = "shared sounds";
pub(crate) const DRIFT: &str = "clock drift";
pub(crate) const DISTANCES: &str = "distances";

/// How sure the offset found by sound is; `next`: the next best, s, and its share of the best.
pub fn confidence(confidence: f64, next: Option<(f64, f64)>) -> String {
    match next {
        None => format!("{confidence:.2}; no other offset fits the sound"),
        Some((offset_s, share)) => {
            let percent = (share * 100.0).clamp(0.0, 100.0);
            format!("{confidence:.2}; next best {offset_s:+.3} s, {percent:.0} % as good")
        }
    }
}

pub(crate) fn shared(sounds: usize, alike: bool) -> String {
    format!("{sounds}{}", if alike { ", all alike" } else { "" })
}

pub(crate) const TOO_SHORT_FOR_DRIFT: &str = "not measured: needs sounds a minute apart";
pub(crate) const OTHER_PLACES: &str =
    "Sounds from elsewhere, as loud as the hitter's own, disagree with it; the ± covers them.";
pub(crate) const BY_CONTACT: &str = "The offset rests on a single sound, which is contact according to the picture. Whether \
    both clips show the same swing could not be checked.";
pub(crate) const NOT_LOOKED_AT: &str = "The offset was not checked against the picture because a clip is longer than two minutes; cut out the swing to have it checked.";

/// Why sound tells nothing; `clips`: the two files.
pub fn unheard(why: &Unheard, clips: &[String; 2]) -> String {
    let clip = |i: usize| clips.get(i).map(String::as_str).unwrap_or_default();
    match why {
        Unheard::NoSound { clip: i } => format!("{} has no sound", clip(*i)),
        Unheard::SlowMotion { clip: i } => {
            format!("{} is in slow motion, so its sound cannot be timed", clip(*i))
        }
        Unheard::Quiet { clip: i } => format!("no sudden sound is heard in {}", clip(*i)),
        Unheard::Ambiguous { offsets_s } => {
            let mut some: Vec<String> = offsets_s.iter().take(3).map(|o| format!("{o:+.3} s")).collect();
            if offsets_s.len() > some.len() {
                some.push("…".to_owned());
            }
            format!("several offsets fit the sound equally well ({})", some.join(", "))
        }
        Unheard::Unrelated => "the two soundtracks do not match at any offset".to_owned(),
        Unheard::LoneSound { .. } => {
            "the clips share a single sudden sound, and nothing shows that it is the same one".to_owned()
        }
    }
}

/// `view`: of both.
pub fn sees_the_same([a, b]: &[String; 2], view: &str) -> String {
    format!(
        "{a} and {b} are both seen from {view}. Two angles should show two sides, so these may be two different swings; \
         whether they are one could not be checked."
    )
}

pub(crate) fn other_side([a, b]: &[String; 2]) -> String {
    format!(
        "The hitters in {a} and {b} bat from opposite sides: they are two hitters, or one clip is mirrored."
    )
}

/// Measures with the value that each of two clips gives.
pub fn unlike(measures: &[(MeasureId, [Measure; 2])]) -> String {
    let told = measures.iter().map(|(id, [a, b])| {
        let [a, b] = [a, b].map(|m| super::english().value(*id, m));
        format!("{} {a} and {b}", super::english().measure(*id))
    });
    told.collect::<Vec<_>>().join(", ")
}

/// `measures`: with both values.
pub fn moves_unlike([a, b]: &[String; 2], measures: &str) -> String {
    format!("{a} and {b} differ too much ({measures}): they may be two different swings.")
}

pub(crate) fn two_swings([a, b]: &[String; 2], view: &str, measures: &str) -> String {
    format!(
        "{a} and {b} are both seen from {view} and differ too much ({measures}), so they show two different swings; give two \
         clips of one swing, or line them up with --sound-alone"
    )
}

/// Of an error: neither sound nor picture lines the two up.
pub fn not_lined_up(why: &str, looked: bool) -> String {
    let picture = if looked {
        "plant and contact are not both seen in both clips"
    } else {
        "the picture was not checked"
    };
    format!(
        "{why}, and {picture}; clap once where both phones can see and hear it, or set contact in both clips with mark"
    )
}

pub(crate) fn by(by: LinedUpBy) -> &'static str {
    match by {
        LinedUpBy::Sound => "sound",
        LinedUpBy::SoundAndPicture => "the sound of contact, found with the picture",
        LinedUpBy::Picture => "plant and contact in the picture",
    }
}

pub(crate) fn offset(first: &Path, second: &Path, angles: &Angles) -> String {
    let o = &angles.offset;
    format!(
        "{:.3} s in {} is {:.3} s in {}: {:+.4} s ± {:.1} ms",
        o.at_s,
        file_name(first),
        o.second_from_first(o.at_s),
        file_name(second),
        o.offset_s,
        o.plus_minus_s * 1e3
    )
}

pub(crate) fn drift(drift: Option<&Drift>) -> String {
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

/// How the travel time of the sound is corrected for.
pub fn distances(angles: &Angles) -> String {
    let ms = (angles.sound_delays_s[1] - angles.sound_delays_s[0]) * 1e3;
    let error_ms = angles.sound_delays_plus_minus_s * 1e3;
    if angles.distances_given {
        format!("as given: corrected by {ms:+.1} ms ± {error_ms:.1} ms")
    } else {
        format!(
            "not given: corrected by {ms:+.1} ms ± {error_ms:.0} ms, an estimate; sound takes 2.9 ms per meter, so give --distances A,B"
        )
    }
}

pub(crate) fn shared_event(e: &SharedEvent) -> String {
    let said = match e.agrees {
        Some(true) => ": agrees with the sound",
        Some(false) => ": disagrees with the sound",
        None => "",
    };
    format!("{:+.3} s ± {:.0} ms{said}", e.offset_s, e.plus_minus_s * 1e3)
}

/// The picture against the sound, where the sound counts.
pub fn disagrees(event: EventId) -> String {
    format!(
        "{} in the picture disagrees with the sound; the sound is used. Check both clips there, or set it with mark.",
        super::event(event)
    )
}

pub(crate) fn overruled() -> &'static str {
    "Plant and contact in the picture both disagree with the sound: in one file, audio and video are out of sync. The picture is used."
}

pub(crate) fn by_picture(why: &str, plus_minus_s: f64) -> String {
    format!("Lined up by plant and contact in the picture, ± {:.0} ms: {why}.", plus_minus_s * 1e3)
}

pub(crate) fn no_swing_to_check(cause: &str) -> String {
    format!("The offset could not be checked against the picture: {cause}.")
}

pub(crate) fn several_splits(word: &str) -> String {
    format!("{word}: could mean several pairs of files because their names contain a plus sign; rename one")
}

/// `side`: the clip that shows the hitter from the side.
pub fn turned(side: &str) -> String {
    format!("{side} shows the side view, so it is used as the first angle: the measures come from it.")
}

pub(crate) fn given_twice(clip: &Path) -> String {
    format!("{}: is given twice; two angles need two recordings", clip.display())
}
