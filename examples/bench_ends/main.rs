//! Runs that are killed, stopped, out of space or in each other's way: docs/bench/ends.md.
//! `./dev bench ends`
//!
//! The built program works in folders of its own on copies of two made-up reps. After every run four things are asked:
//! is every source as it was, is each target whole or as it was, are the sidecars whole with what was pinned, and does
//! the next run leave nothing unfinished behind. Anything lost ends this program with an error.

mod kill;
mod meet;
mod room;
mod scene;
mod steps;
mod tally;

use std::error::Error;

use scene::Template;
use tally::Tally;

type Outcome<T> = Result<T, Box<dyn Error>>;

fn main() -> Outcome<()> {
    let begun = std::time::Instant::now();
    let template = Template::make()?;
    let mut rows: Vec<Tally> = Vec::new();
    for group in [kill::rows, steps::rows, meet::rows, room::rows] {
        rows.extend(group(&template)?);
    }
    tally::print(&rows);
    let (runs, lost) =
        (rows.iter().map(|r| r.runs).sum::<usize>(), rows.iter().map(Tally::lost).sum::<usize>());
    println!("\n{runs} runs, {lost} lost something; {:.0} s in all.", begun.elapsed().as_secs_f64());
    if lost > 0 { Err("something was lost".into()) } else { Ok(()) }
}
