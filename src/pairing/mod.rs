//! Two readings lined up: time map, registration, differences. Pure.

mod differences;
mod registration;
mod time_map;

use crate::ground::{Pairing, Reading, Result, SyncOn, Warning};

pub use registration::similarity_from_pairs;

/// Line the reference up with today's rep.
///
/// A sync event that one of the two lacks falls back to one that both have, with a warning;
/// two readings without a shared event are [`crate::ground::Error::Unpairable`].
pub fn pair(today: &Reading, reference: &Reading, sync: SyncOn) -> Result<(Pairing, Vec<Warning>)> {
    let mut warnings = Vec::new();
    let (sync, time_map) = time_map::lined_up(&today.events, &reference.events, sync, &mut warnings)?;
    let (registration, why_no_registration) = match registration::register(today, reference) {
        Ok(registration) => (Some(registration), None),
        Err(why) => (None, Some(why)),
    };
    let differences = differences::between(&today.measures, &reference.measures);
    let one_sided = differences::one_sided(&today.measures, &reference.measures);
    Ok((Pairing { sync, time_map, registration, why_no_registration, differences, one_sided }, warnings))
}
