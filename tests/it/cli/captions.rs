//! Other words for what is drawn: printed, changed, and refused before anything is read.

use super::films::{films, swingpair};

#[test]
fn captions_are_printed_and_a_slip_in_a_file_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().bare(name, &folder));
    let printed = swingpair!["captions"];
    assert_eq!(printed.code, Some(0), "{}", printed.err);
    let file = folder.path().join("mine.toml");
    std::fs::write(&file, printed.out.replacen("plant = ", "plnt = ", 1)).unwrap();
    for (job, out) in [("pair", "out.mp4"), ("sheet", "out.png")] {
        let out = folder.path().join(out);
        let said = swingpair![job, a, b, "-o", out, "--captions", file];
        assert_eq!(said.code, Some(2), "{}", said.err);
        assert!(
            said.err.contains("mine.toml") && said.err.contains("did you mean events.plant"),
            "{}",
            said.err
        );
        assert!(!out.exists() && !a.with_extension("swing.json").exists());
    }
    let out = folder.path().join("mine.mp4");
    let said = swingpair!["clip", a, "-o", out, "--captions", file];
    assert!(said.code == Some(2) && said.err.contains("events.plnt"), "{}", said.err);
    // It may not be written over.
    let said = swingpair!["clip", a, "-o", file, "--captions", file];
    assert!(said.code == Some(2) && said.err.contains("is one of the inputs"), "{}", said.err);
}
