//! What `-h` and `--help` tell, in which order.

use super::films::swingpair;

const HEADINGS: [&str; 4] = ["What is compared:", "How it looks:", "The hitter:", "Advanced:"];

/// Long options in the order they are told.
fn options(help: &str) -> Vec<String> {
    let lines =
        help.lines().filter(|l| l.starts_with("  ")).map(str::trim_start).filter(|l| l.starts_with('-'));
    lines.filter_map(|l| Some(l.split_once("--")?.1.split([' ', ',', '=']).next()?.to_owned())).collect()
}

#[test]
fn the_short_help_of_a_pair_holds_what_is_used_and_the_long_one_everything() {
    let [short, long] = ["-h", "--help"].map(|word| swingpair!["pair", word].out);
    for help in [&short, &long] {
        let places: Vec<usize> = HEADINGS.iter().map(|h| help.find(h).expect(h)).collect();
        assert!(places.is_sorted(), "{help}");
        for word in ["--from", "--height", "--hitter", "--labels", "--layout", "--ready", "--recorded-at"] {
            assert!(help.contains(word), "{word} is missing in {help}");
        }
    }
    let [few, all] = [&short, &long].map(|help| options(help));
    assert!(few.len() <= 20 && all.len() >= few.len() + 12, "{few:?} {all:?}");
    for word in ["limit", "known-length", "keypoints", "trace", "ghost-strength", "reference-hitter"] {
        assert!(all.iter().any(|o| o == word) && !few.iter().any(|o| o == word), "{word}: {few:?} {all:?}");
    }
    let place = |word: &str| all.iter().position(|o| o == word).unwrap();
    for first in ["height", "labels", "bat"] {
        assert!(place(first) < place("known-length") && place(first) < place("limit"), "{first}: {all:?}");
    }
}

#[test]
fn every_job_groups_its_options_alike() {
    let jobs = [
        "clip", "sheet", "report", "read", "reps", "spread", "angles", "lesson", "mark", "check", "probe",
        "desk",
    ];
    for job in jobs {
        let [short, long] = ["-h", "--help"].map(|word| swingpair![job, word].out);
        assert!(!short.contains("--limit") && long.contains("--limit"), "{job}: {short}");
        let places: Vec<usize> = HEADINGS.iter().filter_map(|h| long.find(h)).collect();
        assert!(places.is_sorted() && !places.is_empty(), "{job}: {long}");
    }
}

/// Two phones on one swing: one pair of words for where they stand, in help, drafts and file names.
#[test]
fn one_pair_of_words_for_two_angles() {
    let help = ["pair", "lesson", "angles", "sheet"].map(|job| swingpair![job, "--help"].out).concat();
    assert!(help.contains("SIDE+BEHIND") && help.contains("SIDE,BEHIND"), "{help}");
    let folder = tempfile::tempdir().unwrap();
    let day = folder.path().join("wren/2026-03-07");
    std::fs::create_dir_all(&day).unwrap();
    for name in ["rep1.mp4", "rep1_behind.mp4", "rep2.mp4", "rep2-behind.mp4"] {
        std::fs::write(day.join(name), "a film").unwrap();
    }
    let drafted = swingpair!["lesson", "--new", folder.path()];
    assert_eq!(drafted.code, Some(0), "{}", drafted.err);
    let file = std::fs::read_to_string(folder.path().join("lesson.toml")).unwrap();
    for word in ["OPEN", "REAR"] {
        assert!(!help.contains(word) && !file.contains(word), "{word}: {help} {file}");
    }
    let jobs = swingpair!["lesson", folder.path().join("lesson.toml"), "--jobs"].out;
    assert!(jobs.contains("rep1_behind.mp4") && jobs.contains("rep2-behind.mp4"), "{jobs}");
}
