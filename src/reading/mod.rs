//! One clip to one reading: where media, body and swing meet, in threads.
pub mod look;
