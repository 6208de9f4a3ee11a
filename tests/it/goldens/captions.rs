//! Another language on the card and in the video: every word comes from the file.

use std::path::{Path, PathBuf};

use swingpair::compose::check_captions;
use swingpair::messages::{CAPTIONS_TOML, Captions, english};
use swingpair::store;
use swingpair::types::{Error, Limits, Units};

use super::{STILLS, draw_still};

fn spanish_file() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/captions_es.toml")
}

/// A new language is one file: every one in `fixtures/` holds all that must be there, in letters that the fonts have.
#[test]
fn every_file_of_captions_can_be_drawn() {
    let fixtures = spanish_file().parent().map(std::fs::read_dir).unwrap().unwrap();
    let files = fixtures.map(|entry| entry.unwrap().path());
    let is_one = |file: &PathBuf| file.file_name().unwrap().to_string_lossy().starts_with("captions_");
    let all: Vec<PathBuf> = files.filter(is_one).collect();
    assert!(all.contains(&spanish_file()));
    for file in all {
        for units in Units::ALL {
            let words = store::captions(&file, units, &Limits::default()).unwrap();
            check_captions(&words).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
        }
    }
}

fn read(text: &str) -> Result<Captions, Error> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("captions.toml");
    std::fs::write(&file, text).unwrap();
    store::captions(&file, Units::Metric, &Limits::default())
}

/// The Spanish words with one of them replaced.
fn without(table: &str, key: &str) -> Captions {
    let text = std::fs::read_to_string(spanish_file()).unwrap();
    let mut inside = false;
    let lines = text.lines().map(|line| {
        inside = line.strip_prefix('[').map_or(inside, |l| l == format!("{table}]"));
        match line.split_once(" = ") {
            Some((k, own)) if inside && k == key => format!("{k} = \"Ñ{}", own.trim_start_matches('"')),
            _ => line.to_owned(),
        }
    });
    let changed = lines.collect::<Vec<_>>().join("\n");
    assert_ne!(changed, text.trim_end(), "{table}.{key} is not in the file");
    read(&changed).unwrap()
}

/// Where each word can be seen.
const SEEN: [(&str, &str, &[&str]); 12] = [
    ("card", "card", &["one_view", "estimates"]),
    ("card", "measures", &["plant_to_contact", "stride_length", "front_knee_at_contact"]),
    ("card", "verdicts", &["bigger", "all_within"]),
    ("card_reps", "labels", &["good_reps"]),
    ("card_angles", "card", &["only_in"]),
    ("card_mirrored", "card", &["shown_mirrored"]),
    ("side_by_side", "events", &["plant"]),
    ("side_by_side", "events_short", &["plant"]),
    ("side_by_side", "screen", &["slowed", "zero"]),
    ("phases", "screen", &["squeezed"]),
    ("mirrored", "screen", &["mirror_image"]),
    ("every_mark", "screen", &["knee", "hands_to_foot"]),
];

#[test]
fn a_video_and_its_card_are_drawn_in_spanish() {
    let spanish = store::captions(&spanish_file(), Units::Metric, &Limits::default()).unwrap();
    check_captions(&spanish).unwrap();
    assert!(spanish.texts().any(|t| t.contains('ñ') || t.contains('ó')));
    let draw = |name: &str, words: &Captions| {
        let still = STILLS.iter().find(|s| s.name == name).unwrap();
        draw_still(still, 1, words).y.data
    };
    for (name, table, keys) in SEEN {
        let drawn = draw(name, &spanish);
        assert!(drawn != draw(name, english()), "{name} is in English");
        for key in keys {
            assert!(drawn != draw(name, &without(table, key)), "{name} does not show {table}.{key}");
        }
    }
}

#[test]
fn a_captions_file_with_a_slip_is_refused_by_name() {
    let refused = |text: &str| read(text).unwrap_err().to_string();
    assert_eq!(read(CAPTIONS_TOML).unwrap(), *english());
    for (from, to, needles) in [
        ("plant = \"Front", "plnt = \"Front", ["events.plnt", "did you mean events.plant"]),
        ("knee = \"Knee\"", "nee = \"Knee\"", ["screen.nee", "did you mean screen.knee"]),
        ("stride_length = \"Stride\"\n", "", ["measures.stride_length", "is missing"]),
        ("{times}× slower", "slower", ["screen.slowed", "{times}× slower"]),
        ("\"Knee\"", "\"\"", ["screen.knee", "is empty"]),
        ("[labels]", "[labels", ["line 4", "captions file"]),
    ] {
        assert!(CAPTIONS_TOML.contains(from), "{from}");
        let sentence = refused(&CAPTIONS_TOML.replacen(from, to, 1));
        assert!(needles.iter().all(|n| sentence.contains(n)), "{needles:?}: {sentence}");
    }
    // What may be left out is English.
    let short: String = CAPTIONS_TOML.split("\n[units]").next().unwrap().replace("\"Today\"", "\"Hoy\"");
    let read = read(&short).unwrap();
    assert_eq!((read.today(), read.knee()), ("Hoy", "Knee"));
    // A letter that the font lacks is named.
    let han = CAPTIONS_TOML.replacen("\"Knee\"", "\"漢\"", 1);
    let cannot = check_captions(&self::read(&han).unwrap()).unwrap_err().to_string();
    assert!(cannot.contains("U+6F22"), "{cannot}");
}
