//! Everything that is kept on disk: whole files or none, one sidecar beside each clip, texts that people write.

mod atomic;
mod captions;
mod cutouts;
mod folder;
mod hash;
mod parse;
mod sidecar;
mod turn;
mod two;

pub use atomic::{AtomicFile, folder, write_file};
pub use captions::{captions, captions_from_text};
pub use cutouts::{cutouts_key, cutouts_path, load_cutouts, save_cutouts};
pub use folder::{KeptRep, kept, list};
pub use hash::{content_hash, short_hash};
pub use parse::{from_json, from_toml, nearest};
pub use sidecar::*;
pub use two::parted;
