//! The reps of a folder: what lies beside its clips.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use serde::Deserialize;

use super::sidecar::{Found, MadeFrom, Rating, SCHEMA, find, sidecar_path};
use crate::types::{Error, EventId, Reading, Result};

/// What is kept of one rep, without its points.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptRep {
    /// The clip's file.
    pub clip: PathBuf,
    /// What a person thinks of it.
    pub rating: Option<Rating>,
    /// Real s from the first picture.
    pub pins: BTreeMap<EventId, f64>,
    /// The last one, without its track.
    pub reading: Option<Reading>,
    /// What the reading was made from.
    pub made_from: Option<MadeFrom>,
}

/// A sidecar without what was seen in the pictures, which is most of it and is passed over unparsed.
#[derive(Debug, Deserialize)]
struct Head {
    schema: String,
    #[serde(default)]
    pins: BTreeMap<EventId, f64>,
    #[serde(default, rename = "standing")]
    rating: Option<Rating>,
    reading: Option<Reading>,
    #[serde(default)]
    made_from: Option<MadeFrom>,
}

/// What is kept beside one clip; `None` where nothing is that can be used.
pub fn kept(clip: &Path) -> Option<KeptRep> {
    let Ok(Found::Good(head)) = find(&sidecar_path(clip), SCHEMA, |h: &Head| &h.schema) else { return None };
    // Two clips of one name and different endings share a sidecar: it belongs to the one that was read.
    let other = |r: &Reading| crate::types::file_name(&r.clip.path) != crate::types::file_name(clip);
    if head.reading.as_ref().is_some_and(other) {
        return None;
    }
    let reading = head.reading.map(|mut reading| {
        // The sidecar holds the name alone: it may have moved with its folder.
        reading.clip.path = clip.to_owned();
        reading
    });
    let Head { pins, rating, made_from, .. } = head;
    Some(KeptRep { clip: clip.to_owned(), rating, pins, reading, made_from })
}

/// Every clip of the folder beside which something is kept, by name. Folders inside it are not looked into.
pub fn list(folder: &Path) -> Result<Vec<KeptRep>> {
    let mut clips: Vec<PathBuf> = Vec::new();
    for entry in fs::read_dir(folder).map_err(|e| Error::reading(folder, e))? {
        let path = entry.map_err(|e| Error::reading(folder, e))?.path();
        if path.extension().is_none_or(|e| e != "json") && sidecar_path(&path).is_file() && path.is_file() {
            clips.push(path);
        }
    }
    clips.sort();
    use rayon::prelude::*;
    Ok(clips.par_iter().filter_map(|clip| kept(clip)).collect())
}

#[cfg(test)]
mod tests {
    use super::super::{Key, update};
    use super::*;

    #[test]
    fn a_folders_reps_are_listed_by_name_wherever_it_lies() {
        let dir = tempfile::tempdir().unwrap();
        for (name, rating) in [("b.mp4", None), ("a.mov", Some(Rating::Good)), ("c.mp4", Some(Rating::Best))]
        {
            let clip = dir.path().join(name);
            fs::write(&clip, name).unwrap();
            update(&clip, name, |s| {
                s.key = Some(Key { content: name.to_owned(), settings: String::new() });
                s.rating = rating;
            })
            .unwrap();
        }
        // No clip of its own; no sidecar; damaged; of another program.
        fs::write(dir.path().join("gone.swing.json"), "{}").unwrap();
        fs::write(dir.path().join("unread.mp4"), "x").unwrap();
        for (name, text) in
            [("torn", "{\"schema\":"), ("newer", r#"{"schema":"swingpair.sidecar/9","pins":{}}"#)]
        {
            fs::write(dir.path().join(name).with_extension("mp4"), "x").unwrap();
            fs::write(dir.path().join(format!("{name}.swing.json")), text).unwrap();
        }
        let found = list(dir.path()).unwrap();
        let names: Vec<String> = found.iter().map(|r| crate::types::file_name(&r.clip)).collect();
        assert_eq!(names, ["a.mov", "b.mp4", "c.mp4"]);
        let standings: Vec<_> = found.iter().map(|r| r.rating).collect();
        assert_eq!(standings, [Some(Rating::Good), None, Some(Rating::Best)]);
        let moved = tempfile::tempdir().unwrap();
        let to = moved.path().join("elsewhere");
        fs::rename(dir.path(), &to).unwrap();
        assert_eq!(list(&to).unwrap().len(), 3);
        assert!(list(&moved.path().join("none")).is_err());
    }
}
