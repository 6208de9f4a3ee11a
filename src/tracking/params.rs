//! What was tuned in this room: each constant once, with what it was set on. The hash of all tables is part of the key
//! under which points are kept.

mod moves;
mod people;
mod repair;
mod scene;
mod things;

pub use moves::*;
pub use people::*;
pub use repair::*;
pub use scene::*;
pub use things::*;

/// Every constant of this room.
pub const TABLES: &[&[crate::types::Param]] =
    &[moves::TABLE, people::TABLE, repair::TABLE, scene::TABLE, things::TABLE];
