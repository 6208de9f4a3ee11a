//! A lesson's numbers against what is known: how often a change is claimed where there is none and seen where there is
//! one, the reps' spread against the generator's, and what 10,000 readings cost. `./dev bench lesson`; how far a
//! whole day is off: `./dev bench lesson days`.

mod changes;
mod days;
mod many;
mod spreads;

use std::error::Error;

fn main() -> Result<(), Box<dyn Error>> {
    if std::env::args().nth(1).as_deref() == Some("days") {
        return days::table(12);
    }
    changes::table(200);
    spreads::table(8, 12)?;
    many::table(10_000)
}
