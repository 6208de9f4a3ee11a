//! What a test goes without is kept in a list: cargo hides what a passing test prints, so `./dev test` shows it at the end.

use std::fs::OpenOptions;
use std::io::Write;
use std::path::Path;

/// Say that `what` goes untested, and why.
pub fn skipped(what: &str, why: &str) {
    eprintln!("SKIPPED: {what}: {why}");
    note(&Path::new(env!("CARGO_TARGET_TMPDIR")).join("skipped.txt"), what, why);
}

/// One line in one write, as tests run side by side.
fn note(list: &Path, what: &str, why: &str) {
    let mut file = OpenOptions::new().create(true).append(true).open(list).unwrap();
    file.write_all(format!("{what}: {why}\n").as_bytes()).unwrap();
}

#[test]
fn what_is_skipped_is_kept_line_by_line() {
    let folder = tempfile::tempdir().unwrap();
    let list = folder.path().join("skipped.txt");
    note(&list, "real footage", "no folder");
    note(&list, "ffprobe's word", "no such program");
    let text = std::fs::read_to_string(&list).unwrap();
    assert_eq!(text, "real footage: no folder\nffprobe's word: no such program\n");
}
