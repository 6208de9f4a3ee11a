//! What became of the runs of one kind.

/// One line of the table.
#[derive(Debug, Default)]
pub struct Tally {
    pub what: String,
    pub runs: usize,
    /// Ended as was meant: killed, stopped or refused. The rest came to their end before.
    pub ended: usize,
    pub source: usize,
    pub target: usize,
    pub sidecar: usize,
    /// AtomicFile files after the next good run, or that run failed.
    pub left: usize,
    /// Ended with the wrong exit code or without one clear sentence.
    pub words: usize,
    /// Longest from the signal to the end, s.
    pub longest_s: f64,
    pub note: String,
}

impl Tally {
    pub fn new(what: impl Into<String>) -> Self {
        Self { what: what.into(), ..Self::default() }
    }

    /// A kind that cannot be tried here, said aloud.
    pub fn skipped(what: impl Into<String>, why: &str) -> Self {
        let row = Self { note: format!("SKIPPED: {why}"), ..Self::new(what) };
        eprintln!("{}: {}", row.what, row.note);
        row
    }

    pub fn lost(&self) -> usize {
        self.source + self.target + self.sidecar + self.left + self.words
    }
}

pub fn print(rows: &[Tally]) {
    println!(
        "| what | runs | ended so | source changed | target broken | sidecar broken, pin lost | left over | wrong words |"
    );
    println!("|---|---|---|---|---|---|---|---|");
    for r in rows {
        let note = if r.note.is_empty() { String::new() } else { format!(" ({})", r.note) };
        println!(
            "| {}{note} | {} | {} | {} | {} | {} | {} | {} |",
            r.what, r.runs, r.ended, r.source, r.target, r.sidecar, r.left, r.words
        );
    }
}
