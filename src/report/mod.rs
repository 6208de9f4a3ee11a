//! Readings and pairings for people (text) and programs (JSON).

mod json;
mod playable;
mod text;

pub use json::{DifferenceJson, PairJson, SideJson, pair_json};
pub use playable::playable_text;
pub use text::{pairing_text, reading_text};
