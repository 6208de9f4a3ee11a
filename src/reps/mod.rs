//! Readings on disk: one JSON file beside each clip, `NAME.swing.json`.
//!
//! It keeps what is dear to work out (the points, the camera's motion, sudden sounds), what a person
//! pinned, and the last reading for other programs. It is trusted only while the clip's content and the
//! settings it was made with are the same.

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::ground::{
    BallLook, BatLook, CameraMotion, Cutouts, Error, EventId, Onset, Reading, Result, Track, Warning,
    create_beside,
};

/// Raised when the file's form changes.
pub const SCHEMA: &str = "swingpair.sidecar/1";
/// Largest sidecar that is read, bytes.
const MAX_BYTES: u64 = 256 << 20;

/// What was seen in the pictures and heard, before any event is read from it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Seen {
    /// Picture px, real s.
    pub track: Track,
    pub camera: CameraMotion,
    pub onsets: Vec<Onset>,
    pub warnings: Vec<Warning>,
    /// Places in the clip's index of pictures that could not be read, and of those that only repeat the one before.
    #[serde(default)]
    pub lost: Vec<usize>,
    #[serde(default)]
    pub repeated: Vec<usize>,
    /// How long the bat looks, or why that is not known. `None`: nobody has asked yet.
    #[serde(default)]
    pub bat: Option<std::result::Result<BatLook, String>>,
    /// The ball's flight, or why it is not known. `None`: not looked for yet.
    #[serde(default)]
    pub ball: Option<std::result::Result<BallLook, String>>,
}

/// What [`Seen`] depends on. Another key means: look again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Key {
    /// SHA-256 of the clip's content, hexadecimal.
    pub content: String,
    /// The settings of looking, as one line.
    pub settings: String,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Sidecar {
    pub schema: String,
    pub key: Option<Key>,
    /// Real s from the first picture; set by a person, kept whatever else changes.
    pub pins: std::collections::BTreeMap<EventId, f64>,
    pub seen: Option<Seen>,
    pub reading: Option<Reading>,
}

impl Default for Sidecar {
    fn default() -> Self {
        Self { schema: SCHEMA.to_owned(), key: None, pins: Default::default(), seen: None, reading: None }
    }
}

/// Where a clip's sidecar lies: `swing.mp4` → `swing.swing.json`. Two clips of one name and different
/// endings share it; the key tells whose it is.
pub fn sidecar_path(clip: &Path) -> PathBuf {
    clip.with_extension("swing.json")
}

/// The clip's sidecar: an empty one when there is none. A damaged one, or one of a newer program, is set
/// aside under another name (never deleted) and reported as a warning.
pub fn load(clip: &Path) -> Result<(Sidecar, Vec<Warning>)> {
    let path = sidecar_path(clip);
    let file = match fs::File::open(&path) {
        Ok(file) => file,
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok((Sidecar::default(), Vec::new())),
        Err(e) => return Err(Error::reading(&path, &e)),
    };
    let mut text = String::new();
    let parsed = match file.take(MAX_BYTES).read_to_string(&mut text) {
        Ok(_) => serde_json::from_str::<Sidecar>(&text).map_err(|e| e.to_string()),
        Err(e) => Err(e.to_string()),
    };
    match parsed {
        Ok(sidecar) if sidecar.schema == SCHEMA => Ok((sidecar, Vec::new())),
        Ok(sidecar) => Ok((Sidecar::default(), vec![set_aside(&path, &format!("form {}", sidecar.schema))])),
        Err(cause) => Ok((Sidecar::default(), vec![set_aside(&path, &cause)])),
    }
}

/// Move a sidecar that belongs to other content out of the way, because what a person pinned in it must
/// not be lost nor be used for another clip.
pub fn set_aside_foreign(clip: &Path) -> Warning {
    set_aside(&sidecar_path(clip), "it belongs to another clip or an older state of this one")
}

fn set_aside(path: &Path, cause: &str) -> Warning {
    let aside = (1..1000)
        .map(|n| path.with_extension(format!("json.unread-{n}")))
        .find(|p| !p.exists())
        .unwrap_or_else(|| path.with_extension("json.unread"));
    let name = |p: &Path| p.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let text = match fs::rename(path, &aside) {
        Ok(()) => {
            format!("{} could not be used ({cause}); it was set aside as {}.", name(path), name(&aside))
        }
        Err(e) => format!("{} could not be used ({cause}) nor set aside ({e}).", name(path)),
    };
    Warning::new("sidecar_set_aside", text)
}

/// Write the sidecar in one step: whole, or as it was.
pub fn save(clip: &Path, sidecar: &Sidecar) -> Result<()> {
    write_whole(&sidecar_path(clip), sidecar)
}

fn write_whole(path: &Path, content: &impl Serialize) -> Result<()> {
    let text = serde_json::to_vec(content)
        .map_err(|e| Error::Unwritable { path: path.to_owned(), cause: e.to_string() })?;
    let (mut file, temporary) = create_beside(path, "json").map_err(|e| Error::writing(path, &e))?;
    let written =
        file.write_all(&text).and_then(|()| file.sync_all()).and_then(|()| fs::rename(&temporary, path));
    written.map_err(|e| {
        // The temporary is ours; that it may already be gone is no second error.
        let _ = fs::remove_file(&temporary);
        Error::writing(path, &e)
    })
}

/// What was cut out of a clip, kept in a file of its own: only a ghost needs it.
#[derive(Debug, Serialize, Deserialize)]
struct KeptCutouts {
    schema: String,
    /// [`cutouts_key`].
    key: String,
    cutouts: Cutouts,
}

const CUTOUTS_SCHEMA: &str = "swingpair.cutouts/1";

/// Where a clip's cut-outs lie: `swing.mp4` → `swing.ghost.json`.
pub fn cutouts_path(clip: &Path) -> PathBuf {
    clip.with_extension("ghost.json")
}

/// What cut-outs depend on: the clip's content and the reading whose body they show.
pub fn cutouts_key(clip: &Path, reading: &Reading) -> Result<String> {
    let body = serde_json::to_vec(&(&reading.track, &reading.events))
        .map_err(|e| Error::Unreadable { path: clip.to_owned(), cause: e.to_string() })?;
    let read: String = Sha256::digest(&body).iter().take(8).map(|b| format!("{b:02x}")).collect();
    Ok(format!("{} {read}", content_hash(clip)?))
}

/// What was cut out before; `None` where nothing is kept under `key`.
pub fn load_cutouts(clip: &Path, key: &str) -> Option<Cutouts> {
    let file = fs::File::open(cutouts_path(clip)).ok()?;
    let mut text = String::new();
    file.take(MAX_BYTES).read_to_string(&mut text).ok()?;
    let kept: KeptCutouts = serde_json::from_str(&text).ok()?;
    (kept.schema == CUTOUTS_SCHEMA && kept.key == key).then_some(kept.cutouts)
}

/// Keep what was cut out, in one step.
pub fn save_cutouts(clip: &Path, key: &str, cutouts: &Cutouts) -> Result<()> {
    let (schema, key) = (CUTOUTS_SCHEMA.to_owned(), key.to_owned());
    let kept = KeptCutouts { schema, key, cutouts: cutouts.clone() };
    write_whole(&cutouts_path(clip), &kept)
}

/// SHA-256 of a file's content, hexadecimal.
pub fn content_hash(path: &Path) -> Result<String> {
    let mut file = fs::File::open(path).map_err(|e| Error::reading(path, &e))?;
    let mut hasher = Sha256::new();
    let mut block = vec![0; 1 << 20];
    loop {
        let n = file.read(&mut block).map_err(|e| Error::reading(path, &e))?;
        if n == 0 {
            break;
        }
        hasher.update(&block[..n]);
    }
    Ok(hasher.finalize().iter().map(|b| format!("{b:02x}")).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Cutout, Similarity};

    #[test]
    fn a_sidecar_comes_back_as_it_was_kept() {
        let dir = tempfile::tempdir().unwrap();
        let clip = dir.path().join("rep.mp4");
        let mut sidecar = Sidecar::default();
        sidecar.pins.insert(EventId::Plant, 1.234);
        save(&clip, &sidecar).unwrap();
        assert_eq!(load(&clip).unwrap(), (sidecar, Vec::new()));
        assert!(dir.path().join("rep.swing.json").exists());
    }

    #[test]
    fn a_damaged_or_newer_one_is_set_aside_not_lost() {
        let dir = tempfile::tempdir().unwrap();
        let clip = dir.path().join("rep.mp4");
        for text in ["{ not json", r#"{"schema":"swingpair.sidecar/99","pins":{}}"#] {
            fs::write(sidecar_path(&clip), text).unwrap();
            let (sidecar, warnings) = load(&clip).unwrap();
            assert_eq!(sidecar, Sidecar::default());
            assert_eq!(warnings[0].code, "sidecar_set_aside");
        }
        let kept: Vec<_> = fs::read_dir(dir.path()).unwrap().collect();
        assert_eq!(kept.len(), 2);
    }

    #[test]
    fn cut_outs_are_kept_for_their_own_reading_only() {
        let dir = tempfile::tempdir().unwrap();
        let clip = dir.path().join("rep.mp4");
        let look = Cutout::new(0.5, Similarity::IDENTITY, 2, &[0, 255, 255, 0]);
        let cutouts = Cutouts { looks: vec![look] };
        assert_eq!(load_cutouts(&clip, "a b"), None);
        save_cutouts(&clip, "a b", &cutouts).unwrap();
        assert_eq!(load_cutouts(&clip, "a b"), Some(cutouts));
        assert_eq!(load_cutouts(&clip, "a c"), None);
        fs::write(cutouts_path(&clip), "{").unwrap();
        assert_eq!(load_cutouts(&clip, "a b"), None);
    }

    #[test]
    fn the_hash_is_sha_256() {
        // FIPS 180-4's example: SHA-256("abc").
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("abc");
        fs::write(&path, "abc").unwrap();
        let hash = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(content_hash(&path).unwrap(), hash);
        assert!(matches!(content_hash(&dir.path().join("none")), Err(Error::Missing { .. })));
    }
}
