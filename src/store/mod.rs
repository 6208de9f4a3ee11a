//! Everything that is kept on disk: whole files or none, one sidecar beside each clip, texts that people write.

mod atomic;
mod captions;
mod folder;
mod parse;
mod sidecar;
mod turn;
mod two;

pub use atomic::{AtomicFile, folder, write_file};
pub use captions::captions;
pub use folder::{KeptRep, kept, list};
pub use parse::{from_json, from_toml, nearest, unknown_variant};
pub use sidecar::*;
pub use two::parted;
