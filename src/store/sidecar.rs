//! Readings on disk: one JSON file beside each clip, `NAME.swing.json`.
//!
//! It keeps what is dear to work out (the points, the camera's motion, sudden sounds), what a person
//! pinned, and the last reading for other programs. It is trusted only while the clip's content and the
//! settings it was made with are the same.

use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::turn::Turn;
use crate::messages::{files as messages, unusable_file};
use crate::store::{folder, write_file};
use crate::types::{
    BallFlight, BallUnseen, BatAtRest, BatUnmeasured, ByHand, CameraMotion, Cause, Error, EventId,
    KnownHitter, Onset, Reading, Result, SceneLuma, Track, UnusableFile, Warning, file_name,
};

/// Raised when the file's form changes.
pub const SCHEMA: &str = "swingpair.sidecar/1";
/// Largest sidecar that is read, bytes.
const MAX_BYTES: u64 = 256 << 20;

/// What was seen in the pictures and heard, before any event is read from it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Observation {
    /// Picture px, real s.
    pub track: Track,
    /// How the camera moved, by pose of `track`.
    pub camera: CameraMotion,
    /// Sudden sounds, in time order.
    pub onsets: Vec<Onset>,
    /// What looking brought to light.
    pub warnings: Vec<Warning>,
    /// Places in the clip's index of pictures that could not be read.
    #[serde(default)]
    pub lost: Vec<usize>,
    /// Places of those that only repeat the one before.
    #[serde(default)]
    pub repeated: Vec<usize>,
    /// How long the bat looks, or why that is not known. `None`: nobody has asked yet.
    #[serde(default)]
    pub bat: Option<std::result::Result<BatAtRest, BatUnmeasured>>,
    /// The ball's flight, or why it is not known. `None`: not looked for yet.
    #[serde(default)]
    pub ball: Option<std::result::Result<BallFlight, BallUnseen>>,
    /// The scene about the hitter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scene: Option<SceneLuma>,
}

/// What [`Observation`] depends on. Another key means: look again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Key {
    /// SHA-256 of the clip's content, hexadecimal.
    pub content: String,
    /// The settings of looking, as one line.
    pub settings: String,
}

/// All that is kept beside a clip.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Sidecar {
    /// [`SCHEMA`].
    pub schema: String,
    /// What `seen` depends on.
    pub key: Option<Key>,
    /// Real s from the first picture; set by a person, kept whatever else changes.
    pub pins: std::collections::BTreeMap<EventId, f64>,
    /// What a person said of the hitter; kept as pins are.
    #[serde(default, skip_serializing_if = "KnownHitter::is_empty")]
    pub hitter: KnownHitter,
    /// What a person showed in its pictures; kept as pins are.
    #[serde(default, skip_serializing_if = "ByHand::is_empty")]
    pub by_hand: ByHand,
    /// What was seen and heard.
    pub seen: Option<Observation>,
    /// What was read from it.
    pub reading: Option<Reading>,
    /// What `reading` was made from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub made_from: Option<MadeFrom>,
    /// What a person said of the rep; kept as pins are.
    #[serde(default, rename = "standing", skip_serializing_if = "Option::is_none")]
    pub rating: Option<Rating>,
    /// Whoever made a clip of this one was told to ask before it is shared.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub told_to_ask: bool,
}

/// A kept reading is good without a look at the clip while these hold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MadeFrom {
    /// Size of the clip's file.
    pub bytes: u64,
    /// When the clip's file was changed last, ms from 1970.
    pub modified_ms: u64,
    /// Every setting of reading, as one line.
    pub settings: String,
}

impl MadeFrom {
    /// Of the file as it lies there now.
    pub fn of(clip: &Path, settings: String) -> Option<Self> {
        let facts = fs::metadata(clip).ok()?;
        let since = facts.modified().ok()?.duration_since(std::time::UNIX_EPOCH).ok()?;
        Some(Self { bytes: facts.len(), modified_ms: since.as_millis() as u64, settings })
    }
}

/// What a person thinks of a rep.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Rating {
    /// It may stand for what this hitter does well.
    Good,
    /// The best one; it is a good one too.
    Best,
}

impl Sidecar {
    /// Whether a person put something into it, which cannot be worked out again.
    fn holds_a_persons_word(&self) -> bool {
        !(self.pins.is_empty() && self.hitter.is_empty() && self.by_hand.is_empty() && self.rating.is_none())
    }

    /// Whether it was kept for another clip, or another state of this one.
    pub fn is_foreign(&self, content: &str) -> bool {
        self.key.as_ref().is_some_and(|k| k.content != content)
    }
}

impl Default for Sidecar {
    fn default() -> Self {
        Self {
            schema: SCHEMA.to_owned(),
            key: None,
            pins: Default::default(),
            hitter: KnownHitter::default(),
            by_hand: ByHand::default(),
            seen: None,
            reading: None,
            made_from: None,
            rating: None,
            told_to_ask: false,
        }
    }
}

/// Where a clip's sidecar lies: `swing.mp4` → `swing.swing.json`. Two clips of one name and different
/// endings share it; the key tells whose it is.
pub fn sidecar_path(clip: &Path) -> PathBuf {
    clip.with_extension("swing.json")
}

/// What lies where a sidecar should.
pub(super) enum Found<T> {
    Nothing,
    /// Damaged or of a newer program.
    Unusable(UnusableFile),
    Good(T),
}

pub(super) fn find<T: for<'a> Deserialize<'a>>(
    path: &Path,
    schema: &str,
    of: impl Fn(&T) -> &str,
) -> Result<Found<T>> {
    match fs::metadata(path) {
        Ok(facts) if facts.is_file() => (),
        // Another thing might never end when it is read.
        Ok(_) => return Ok(Found::Unusable(UnusableFile::NotARegularFile)),
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(Found::Nothing),
        Err(e) => return Err(Error::reading(path, e)),
    }
    let file = fs::File::open(path).map_err(|e| Error::reading(path, e))?;
    let mut text = String::new();
    let read = file
        .take(MAX_BYTES)
        .read_to_string(&mut text)
        .map_err(|e| UnusableFile::Unreadable { cause: e.to_string() });
    Ok(match read.and_then(|_| parsed(&text, schema, of)) {
        Ok(kept) => Found::Good(kept),
        Err(why) => Found::Unusable(why),
    })
}

fn parsed<T: for<'a> Deserialize<'a>>(
    text: &str,
    schema: &str,
    of: impl Fn(&T) -> &str,
) -> std::result::Result<T, UnusableFile> {
    let kept =
        serde_json::from_str::<T>(text).map_err(|e| UnusableFile::Unreadable { cause: e.to_string() })?;
    if of(&kept) == schema { Ok(kept) } else { Err(UnusableFile::OtherForm { schema: of(&kept).to_owned() }) }
}

/// A sidecar from its text; the error is why it cannot be used.
pub fn sidecar_from_text(text: &str) -> std::result::Result<Sidecar, UnusableFile> {
    parsed(text, SCHEMA, |s: &Sidecar| &s.schema)
}

pub(super) fn find_sidecar(path: &Path) -> Result<Found<Sidecar>> {
    find(path, SCHEMA, |s: &Sidecar| &s.schema)
}

/// The clip's sidecar: an empty one when there is none that can be used.
pub fn load(clip: &Path) -> Result<Sidecar> {
    Ok(match find_sidecar(&sidecar_path(clip))? {
        Found::Good(sidecar) => sidecar,
        Found::Nothing | Found::Unusable(_) => Sidecar::default(),
    })
}

/// Change what is kept beside the clip, whose content has the hash `content`, in one step: whole, or as it was.
/// `change` gets what lies there now, since another run may have kept something meanwhile.
///
/// A sidecar that is damaged, of a newer program, or holds what a person said of another clip is set aside under another name
/// (never deleted, nor used for this one), and a warning tells it. Returns what is kept now.
pub fn update(
    clip: &Path,
    content: &str,
    change: impl FnOnce(&mut Sidecar),
) -> Result<(Sidecar, Vec<Warning>)> {
    let path = sidecar_path(clip);
    let _turn = Turn::take(folder(&path));
    let (mut sidecar, warnings) = match find_sidecar(&path)? {
        Found::Good(kept) if !kept.is_foreign(content) => (kept, Vec::new()),
        // Nothing in it that cannot be worked out again.
        Found::Good(kept) if !kept.holds_a_persons_word() => (Sidecar::default(), Vec::new()),
        Found::Good(_) => (Sidecar::default(), vec![set_aside(&path, UnusableFile::OtherClip)?]),
        Found::Unusable(why) => (Sidecar::default(), vec![set_aside(&path, why)?]),
        Found::Nothing => (Sidecar::default(), Vec::new()),
    };
    change(&mut sidecar);
    write(&path, &sidecar)?;
    Ok((sidecar, warnings))
}

pub(super) fn set_aside(path: &Path, why: UnusableFile) -> Result<Warning> {
    let failed = |failure: &str| Error::Unwritable {
        path: path.to_owned(),
        cause: messages::not_set_aside(&unusable_file(&why), failure).into(),
    };
    let aside = (1..1000).map(|n| path.with_extension(format!("json.unread-{n}"))).find(|p| !p.exists());
    let aside = aside.ok_or_else(|| failed(messages::TOO_MANY_ASIDE))?;
    fs::rename(path, &aside).map_err(|e| failed(&e.to_string()))?;
    Ok(Warning::SidecarSetAside { name: file_name(path), why, aside: file_name(&aside) })
}

pub(super) fn write(path: &Path, content: &impl Serialize) -> Result<()> {
    let text = serde_json::to_vec(content)
        .map_err(|e| Error::Unwritable { path: path.to_owned(), cause: Cause::of(e) })?;
    write_file(path, &text)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pin(event: EventId, time_s: f64) -> impl FnOnce(&mut Sidecar) {
        move |s| {
            s.key.get_or_insert(Key { content: "this".to_owned(), settings: String::new() });
            s.pins.insert(event, time_s);
        }
    }

    fn names(dir: &tempfile::TempDir) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(dir.path())
            .unwrap()
            .map(|e| e.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_sidecar_comes_back_as_it_was_kept() {
        let dir = tempfile::tempdir().unwrap();
        let clip = dir.path().join("rep.mp4");
        let (kept, warnings) = update(&clip, "this", pin(EventId::Plant, 1.234)).unwrap();
        assert_eq!((load(&clip).unwrap(), warnings), (kept, Vec::new()));
        assert_eq!(names(&dir), ["rep.swing.json"]);
    }

    #[test]
    fn runs_at_once_do_not_undo_each_other() {
        let dir = tempfile::tempdir().unwrap();
        let clip = dir.path().join("rep.mp4");
        std::thread::scope(|scope| {
            for (i, event) in EventId::ALL.into_iter().enumerate() {
                let clip = &clip;
                scope.spawn(move || update(clip, "this", pin(event, i as f64)).unwrap());
            }
        });
        assert_eq!(load(&clip).unwrap().pins.len(), EventId::ALL.len());
        assert_eq!(names(&dir), ["rep.swing.json"]);
    }

    #[test]
    fn a_damaged_newer_or_foreign_one_is_set_aside_not_lost() {
        let dir = tempfile::tempdir().unwrap();
        let clip = dir.path().join("rep.mp4");
        let foreign = Sidecar {
            key: Some(Key { content: "other".to_owned(), settings: String::new() }),
            pins: [(EventId::Plant, 9.0)].into(),
            ..Sidecar::default()
        };
        let foreign = serde_json::to_string(&foreign).unwrap();
        let texts = ["{ not json", r#"{"schema":"swingpair.sidecar/99","pins":{}}"#, &foreign];
        for text in texts {
            fs::write(sidecar_path(&clip), text).unwrap();
            if text != foreign {
                assert_eq!(load(&clip).unwrap(), Sidecar::default());
            }
            let (kept, warnings) = update(&clip, "this", pin(EventId::Contact, 2.0)).unwrap();
            assert_eq!(kept.pins.len(), 1);
            assert_eq!(warnings[0].code(), "sidecar_set_aside");
        }
        for (n, text) in texts.iter().enumerate() {
            let aside = dir.path().join(format!("rep.swing.json.unread-{}", n + 1));
            assert_eq!(&fs::read_to_string(aside).unwrap(), text);
        }
        assert_eq!(names(&dir).len(), 4);
    }

    #[test]
    fn another_clip_without_pins_leaves_nothing_to_keep() {
        let dir = tempfile::tempdir().unwrap();
        let clip = dir.path().join("rep.mp4");
        let foreign = |s: &mut Sidecar| {
            s.key = Some(Key { content: "other".to_owned(), settings: String::new() });
            s.told_to_ask = true;
        };
        update(&clip, "other", foreign).unwrap();
        let (kept, warnings) = update(&clip, "this", pin(EventId::Plant, 1.0)).unwrap();
        assert!(warnings.is_empty() && !kept.told_to_ask);
        assert_eq!(names(&dir), ["rep.swing.json"]);
    }

    /// As sidecars were written when warnings and reasons were sentences: what a person said is there, the rest is
    /// understood, and nothing is set aside.
    #[test]
    fn a_sidecar_with_sentences_is_read() {
        let dir = tempfile::tempdir().unwrap();
        let clip = dir.path().join("rep.mp4");
        let old = r#"{"schema":"swingpair.sidecar/1","key":{"content":"this","settings":"s"},"pins":{"plant":1.25},
            "hitter":{"bats":"left"},"standing":"good","told_to_ask":true,
            "seen":{"track":{"poses":[]},"camera":{"to_steady":[]},"onsets":[],
                "warnings":[{"code":"cut","text":"The clip is edited."},
                    {"code":"hitter_hard_to_see","text":"Hard to see in 12 %."}],
                "bat":{"Err":"it blends in"},"ball":{"Err":"its flight is not visible"}},
            "reading":{"schema":"swingpair.reading/1",
                "clip":{"path":"rep.mp4","width":640,"height":360,"frames":60,"duration_s":1.0,"rate_hz":60.0,
                    "capture_rate_hz":60.0,"slow_factor":1.0},
                "hitter":{"bats":"left","pitcher_side":"right","view":"closed_side"},
                "scale":{"body_height_px":200.0,"body_height_error":0.04,"px_per_cm":null,"px_per_cm_error":0.04},
                "events":{},"measures":{},"absent":{"stride_length":"film from the open side"},
                "warnings":[{"code":"toe_tap","text":"The front foot taps once."}]}}"#;
        fs::write(sidecar_path(&clip), old).unwrap();
        let other = |code: &str, text: &str| Warning::Other { code: code.to_owned(), text: text.to_owned() };
        let (kept, warnings) = update(&clip, "this", pin(EventId::Contact, 1.5)).unwrap();
        assert_eq!(warnings, [], "it is not set aside");
        assert_eq!(kept, load(&clip).unwrap(), "and is the same when it is written anew");
        assert_eq!(kept.pins, [(EventId::Plant, 1.25), (EventId::Contact, 1.5)].into());
        assert_eq!((kept.rating, kept.told_to_ask), (Some(Rating::Good), true));
        assert_eq!(kept.hitter.bats, Some(crate::types::Side::Left));
        let seen = kept.seen.unwrap();
        assert_eq!(seen.warnings, [Warning::Cut, other("hitter_hard_to_see", "Hard to see in 12 %.")]);
        assert_eq!(seen.bat, Some(Err(BatUnmeasured::Other("it blends in".to_owned()))));
        assert_eq!(seen.ball, Some(Err(BallUnseen::Other("its flight is not visible".to_owned()))));
        let reading = kept.reading.unwrap();
        assert_eq!(reading.warnings, [other("toe_tap", "The front foot taps once.")]);
        let absent: Vec<String> = reading.absent.values().map(crate::messages::absent_reason).collect();
        assert_eq!(absent, ["film from the open side"]);
    }

    #[test]
    fn no_sentence_is_kept() {
        let seen = Observation {
            warnings: vec![Warning::HitterHardToSee { share: 0.25 }],
            bat: Some(Err(BatUnmeasured::BlendsIn { looks: 2, of: 24 })),
            ball: Some(Err(BallUnseen::NoFlight)),
            ..Observation::default()
        };
        let kept = serde_json::to_value(&seen).unwrap();
        assert_eq!(kept["warnings"][0], serde_json::json!({"code": "hitter_hard_to_see", "share": 0.25}));
        assert_eq!(kept["bat"], serde_json::json!({"Err": {"blends_in": {"looks": 2, "of": 24}}}));
        assert_eq!(kept["ball"], serde_json::json!({"Err": "no_flight"}));
        assert_eq!(serde_json::from_value::<Observation>(kept).unwrap(), seen);
    }
}
