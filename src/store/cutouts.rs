//! What was cut out of a clip, in a file of its own: only a ghost needs it.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::atomic::folder;
use super::hash::{content_hash, short_hash};
use super::sidecar::{Found, find, set_aside, write};
use super::turn::Turn;
use crate::types::{Cause, Cutouts, Error, Reading, Result, Warning};

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
        .map_err(|e| Error::Unreadable { path: clip.to_owned(), cause: Cause::of(e) })?;
    Ok(format!("{} {}", content_hash(clip)?, short_hash(&body)))
}

fn find_cutouts(path: &Path) -> Result<Found<KeptCutouts>> {
    find(path, CUTOUTS_SCHEMA, |k: &KeptCutouts| &k.schema)
}

/// What was cut out before; `None` where nothing is kept under `key`.
pub fn load_cutouts(clip: &Path, key: &str) -> Option<Cutouts> {
    match find_cutouts(&cutouts_path(clip)) {
        Ok(Found::Good(kept)) if kept.key == key => Some(kept.cutouts),
        _ => None,
    }
}

/// Keep what was cut out, in one step. What lies there and cannot be used is set aside, which the warning tells.
pub fn save_cutouts(clip: &Path, key: &str, cutouts: &Cutouts) -> Result<Option<Warning>> {
    let path = cutouts_path(clip);
    let _turn = Turn::take(folder(&path));
    let warning = match find_cutouts(&path)? {
        Found::Unusable(why) => Some(set_aside(&path, why)?),
        Found::Good(_) | Found::Nothing => None,
    };
    let (schema, key) = (CUTOUTS_SCHEMA.to_owned(), key.to_owned());
    write(&path, &KeptCutouts { schema, key, cutouts: cutouts.clone() })?;
    Ok(warning)
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::types::{Cutout, Similarity};

    fn names(dir: &tempfile::TempDir) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(dir.path())
            .unwrap()
            .map(|e| e.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn cut_outs_are_kept_for_their_own_reading_only() {
        let dir = tempfile::tempdir().unwrap();
        let clip = dir.path().join("rep.mp4");
        let look = Cutout::new(0.5, Similarity::IDENTITY, 2, &[0, 255, 255, 0]);
        let cutouts = Cutouts { looks: vec![look] };
        assert_eq!(load_cutouts(&clip, "a b"), None);
        assert_eq!(save_cutouts(&clip, "a b", &cutouts).unwrap(), None);
        assert_eq!(load_cutouts(&clip, "a b"), Some(cutouts.clone()));
        assert_eq!(load_cutouts(&clip, "a c"), None);
        fs::write(cutouts_path(&clip), "{").unwrap();
        assert_eq!(load_cutouts(&clip, "a b"), None);
        let warning = save_cutouts(&clip, "a b", &cutouts).unwrap().unwrap();
        assert_eq!(warning.code(), "sidecar_set_aside");
        assert_eq!(names(&dir), ["rep.ghost.json", "rep.ghost.json.unread-1"]);
    }
}
