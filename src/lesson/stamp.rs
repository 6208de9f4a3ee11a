//! Whether a made file is still the one that would be made.

use std::fs;
use std::path::PathBuf;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::{Lesson, Target};
use crate::store::write_file;
use crate::store::{self, MadeFrom};
use crate::types::{Cause, Error, Result};

/// Raised when the same films give other files.
const VERSION: u32 = 1;

/// What a target was made from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stamp {
    /// Of what the lesson says of the hitter, and of every film: size, time, what a person said of it.
    from: String,
    /// Size of the file that was made (0: a folder); another size is another's file.
    bytes: u64,
}

/// Kept beside what is made, hidden.
fn place(target: &Target) -> PathBuf {
    let name = target.output.file_name().unwrap_or_default().to_string_lossy();
    target.output.with_file_name(format!(".{name}.made.json"))
}

fn size(made: &fs::Metadata) -> u64 {
    if made.is_dir() { 0 } else { made.len() }
}

/// What `target` would be made from now.
fn from(lesson: &Lesson, target: &Target, how: &str) -> String {
    let mut hasher = Sha256::new();
    hasher.update(format!("{VERSION} {} {how}\n", env!("CARGO_PKG_VERSION")));
    for film in &target.inputs {
        let name = film.strip_prefix(lesson.file.parent().unwrap_or("".as_ref())).unwrap_or(film);
        let facts = MadeFrom::of(film, String::new());
        let said = store::kept(film).map(|k| (k.rating, k.pins));
        hasher.update(format!("{} {facts:?} {said:?}\n", name.display()));
    }
    hasher.finalize().iter().take(16).map(|b| format!("{b:02x}")).collect()
}

/// Whether what lies there was made from the same. `how`: all that was said of how to make it.
pub fn is_current(lesson: &Lesson, target: &Target, how: &str) -> bool {
    let bytes = fs::metadata(&target.output).map(|m| size(&m));
    let kept = fs::read(place(target)).ok().and_then(|b| serde_json::from_slice::<Stamp>(&b).ok());
    match (bytes, kept) {
        (Ok(bytes), Some(kept)) => kept == Stamp { from: from(lesson, target, how), bytes },
        _ => false,
    }
}

/// Note that `target` was made.
pub fn keep_stamp(lesson: &Lesson, target: &Target, how: &str) -> Result<()> {
    let bytes = size(&fs::metadata(&target.output).map_err(|e| Error::reading(&target.output, e))?);
    let stamp = Stamp { from: from(lesson, target, how), bytes };
    let path = place(target);
    let text = serde_json::to_vec(&stamp)
        .map_err(|e| Error::Unwritable { path: path.clone(), cause: Cause::of(e) })?;
    write_file(&path, &text)
}
