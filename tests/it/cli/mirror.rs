//! `pair --mirror`.

use super::films::{films, listing, swingpair};

#[test]
fn two_swings_from_one_side_are_not_mirrored() {
    let folder = tempfile::tempdir().unwrap();
    let [a, b] = ["today", "best"].map(|name| films().read_before(name, &folder));
    let before = listing(folder.path());
    let said = swingpair!["pair", a, b, "-o", folder.path().join("out.mp4"), "--mirror"];
    assert!(said.code == Some(2) && said.err.contains("both swings are read as batting"), "{said:?}");
    assert_eq!(listing(folder.path()), before);
}
