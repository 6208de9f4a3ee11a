//! How far off a difference of two readings is, by how alike the two clips were filmed.
//!
//! `./dev bench differences [--hitters N] [--share set|report|both] [--recorded]`; films into out/differences and kept.
//! Each hitter is filmed alike twice, with planted changes, by a phone set up anew, at another rate, and from the other
//! side. What is told of such pairs is compared with the truth of the films. Recorded swings (`../shared/swings`) are
//! filmed by one camera and paired with one another.

mod films;
mod tables;

use std::error::Error;
use std::fmt::Write as _;
use std::path::Path;

use films::{Film, Variant};

/// Which hitters constants may be set on, and which only report. Their seeds differ.
const SHARES: [(&str, u64); 2] = [("set", 700), ("report", 800)];

fn main() -> Result<(), Box<dyn Error>> {
    let (mut hitters, mut wanted, mut recorded) = (8u64, "both".to_owned(), false);
    let mut args = std::env::args().skip(1);
    while let Some(arg) = args.next() {
        match arg.as_str() {
            "--hitters" => {
                hitters = args.next().and_then(|n| n.parse().ok()).ok_or("--hitters needs a number")?;
            }
            "--share" => wanted = args.next().ok_or("--share needs set, report or both")?,
            "--recorded" => recorded = true,
            other => {
                return Err(
                    format!("{other}: unknown; --hitters N --share set|report|both --recorded").into()
                );
            }
        }
    }
    let folder = Path::new("out/differences");
    std::fs::create_dir_all(folder)?;
    let mut out = String::new();
    for (share, seed) in SHARES.into_iter().filter(|(share, _)| wanted == "both" || wanted == *share) {
        let mut all = Vec::new();
        for hitter in 0..hitters {
            for variant in Variant::ALL {
                all.extend(Film::read(folder, share, seed + hitter, variant)?);
            }
        }
        writeln!(out, "## Made-up hitters, {share} share ({hitters} hitters)\n")?;
        tables::errors(&mut out, &all)?;
        tables::held(&mut out, &all)?;
        tables::planted(&mut out, &all)?;
        tables::filmed_planted(&mut out, &all)?;
        tables::nothing_changed(&mut out, &all)?;
    }
    if recorded {
        match films::recorded(folder)? {
            None => writeln!(out, "Recorded swings: ../shared/swings is not there; left out.")?,
            Some(all) => {
                writeln!(out, "## Recorded swings filmed by one camera\n")?;
                tables::recorded(&mut out, &all)?;
            }
        }
    }
    print!("{out}");
    Ok(())
}
