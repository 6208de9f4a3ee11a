//! Readings and pairings for people (text) and programs (JSON).

mod angles;
mod found;
mod hitter_page;
mod json;
mod page;
mod playable;
mod plot;
mod probed;
mod sheet;
mod spread;
mod text;
mod why;
mod worded;

pub use angles::{AnglesJson, angles_json, angles_text};
pub use found::{found_json, found_text};
pub use hitter_page::{HitterClip, HitterPage, PageDay, hitter_page};
pub use json::{DifferenceJson, GoodRepsJson, PairJson, ReadingJson, SideJson, pair_json, reading_json};
pub use page::{LARGEST_INSIDE, PageClip, PageParts, page, poster};
pub use playable::playable_text;
pub use plot::{Plot, plots};
pub use probed::{ProbedJson, probed_json, probed_text};
pub use sheet::{SHEET_SIZE, event_of, pdf_from_png, png_from_frame, sheet};
pub use spread::{SpreadJson, spread_json, spread_picture, spread_text};
pub use text::{pairing_summary, pairing_text, reading_text};
pub use why::why_text;
pub use worded::RepJson;
