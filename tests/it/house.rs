//! The rules of the house, as DEVELOPERS.md draws them, kept by reading the source.

mod sentences;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use swingpair::types::Param;
use swingpair::{pairing, reading, swing, tracking};

const ROOMS: [(&str, u8); 15] = [
    ("types", 0),
    ("messages", 1),
    ("store", 2),
    ("media", 3),
    ("tracking", 3),
    ("swing", 3),
    ("pairing", 3),
    ("draw", 3),
    ("report", 4),
    ("compose", 4),
    ("reading", 4),
    ("demo", 4),
    ("lesson", 4),
    ("desk", 5),
    ("math", 1),
];
/// Upper rooms that may look at one another: the report tells of what compose made, a lesson names its ready plans.
const NEIGHBOURS: [(&str, &str); 2] = [("report", "compose"), ("lesson", "compose")];

fn sources(dir: &Path) -> Vec<(PathBuf, String)> {
    let mut all = Vec::new();
    for entry in fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            all.extend(sources(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            let text = fs::read_to_string(&path).unwrap();
            all.push((path, text));
        }
    }
    all
}

/// Every library source file: (path below src, room, text).
fn library() -> Vec<(String, String, String)> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut all = Vec::new();
    for (path, text) in sources(&src) {
        let below = path.strip_prefix(&src).unwrap().to_string_lossy().replace('\\', "/");
        let room = below.split('/').next().unwrap().to_owned();
        if below.contains('/') && room != "cli" {
            all.push((below, room, text));
        }
    }
    assert!(all.len() > 20, "the source was not found");
    all
}

/// The text without comments, and without the unit tests at its end.
fn code(text: &str) -> String {
    let body = text.split("#[cfg(test)]\nmod ").next().unwrap_or(text);
    body.lines().map(|l| l.split("//").next().unwrap_or("")).collect::<Vec<_>>().join("\n")
}

fn floor(room: &str) -> Option<u8> {
    ROOMS.iter().find(|(name, _)| *name == room).map(|(_, floor)| *floor)
}

#[test]
fn imports_go_down_only() {
    let mut wrong = Vec::new();
    for (path, room, text) in library() {
        let own = floor(&room).unwrap_or_else(|| panic!("{path}: {room} is no room of the house"));
        for part in code(&text).split("crate::").skip(1) {
            let other: String = part.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            if other == room {
                continue;
            }
            let Some(theirs) = floor(&other) else {
                wrong.push(format!("{path} uses crate::{other}, which is no room"));
                continue;
            };
            let neighbour = NEIGHBOURS.contains(&(room.as_str(), other.as_str()));
            if theirs >= own && !neighbour {
                wrong.push(format!("{path} uses {other}, which is not below {room}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn outside_crates_stay_in_their_room() {
    let owners = [
        ("ffmpeg_next", "media/"),
        ("ffmpeg::", "media/"),
        ("rten", "tracking/"),
        ("nalgebra", "math/"),
        ("rusttype", "draw/text.rs"),
        ("axum", "desk/"),
        ("tokio", "desk/"),
        ("clap::", "cli/"),
        ("indicatif", "cli/"),
        ("unsafe ", "media/"),
    ];
    let mut wrong = Vec::new();
    for (path, _, text) in library() {
        for (word, owner) in owners {
            // One call of what is compiled for newer processors, once it is known to be there.
            let vectors = word == "unsafe " && path == "tracking/nets/depthwise.rs";
            if code(&text).contains(word) && !path.starts_with(owner) && !vectors {
                wrong.push(format!("{path} names {word}, which belongs to {owner}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_library_neither_prints_nor_exits_nor_keeps_global_state() {
    let mut wrong = Vec::new();
    for (path, _, text) in library() {
        if path.ends_with("_tests.rs") {
            continue;
        }
        for word in [
            "println!",
            "print!(",
            "eprint!",
            "dbg!",
            "process::exit",
            "static mut",
            "todo!",
            "unimplemented!",
        ] {
            if code(&text).contains(word) {
                wrong.push(format!("{path} has {word}"));
            }
        }
        // A pure room knows no files, clock or threads.
        if ["swing/", "pairing/"].iter().any(|pure| path.starts_with(pure)) {
            for word in ["std::fs", "std::thread", "Instant", "SystemTime", "rayon", "Frame,"] {
                if code(&text).contains(word) {
                    wrong.push(format!("{path} is pure and has {word}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_library_code_may_panic_on_input() {
    let mut wrong = Vec::new();
    for (path, _, text) in library() {
        if path.ends_with("_tests.rs") {
            continue;
        }
        for word in [".unwrap()", ".expect(", "panic!(", "unreachable!("] {
            if code(&text).contains(word) {
                wrong.push(format!("{path} has {word}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_unsafe_block_says_why_it_is_sound() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for (path, _, text) in library() {
        let lines: Vec<&str> = text.lines().collect();
        for (i, line) in lines.iter().enumerate() {
            if !line.split("//").next().unwrap_or("").contains("unsafe ") {
                continue;
            }
            count += 1;
            // The reason stands right above, over as many lines of comment as it needs.
            let above = lines[..i].iter().rev().take_while(|l| l.trim_start().starts_with("//"));
            if !above.into_iter().any(|l| l.contains("SAFETY: ")) {
                wrong.push(format!("{path}:{}", i + 1));
            }
        }
    }
    assert!(count > 5, "no unsafe block was found");
    assert!(wrong.is_empty(), "without a reason: {}", wrong.join(", "));
}

/// A test that goes without something says so in the list that is shown at the end, and nowhere else.
#[test]
fn no_test_is_skipped_in_silence() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let (word, own) = (["SKIPPED", ":"].concat(), Path::new("skipped.rs"));
    for folder in ["src", "tests"] {
        for (path, text) in sources(&root.join(folder)) {
            assert!(
                path.ends_with(own) || !text.contains(&word),
                "{}: call skipped() instead",
                path.display()
            );
        }
    }
}

/// The rooms whose tuned constants stand in tables.
const WITH_TABLES: [(&str, &[&[Param]]); 4] = [
    ("swing", swing::PARAMS),
    ("reading", reading::PARAMS),
    ("tracking", tracking::PARAMS),
    ("pairing", &[pairing::PARAMS]),
];

#[test]
fn every_tuned_constant_says_what_it_is() {
    let mut wrong = Vec::new();
    let mut names = BTreeSet::new();
    for (room, tables) in WITH_TABLES {
        assert!(tables.iter().copied().flatten().count() > 5, "the tables of {room} were not found");
        for row in tables.iter().copied().flatten() {
            if !names.insert(row.name) {
                wrong.push(format!("{room}: {} stands twice", row.name));
            }
            for (what, text) in
                [("meaning", row.meaning), ("unit", row.unit), ("source", row.source), ("set_on", row.set_on)]
            {
                if text.trim().is_empty() {
                    wrong.push(format!("{room}: {} has no {what}", row.name));
                }
            }
            if !row.value.is_finite() {
                wrong.push(format!("{room}: {} is {}", row.name, row.value));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Constants whose comment calls them an own choice; a comment stands for every constant right below it.
fn chosen_beside_use(text: &str) -> Vec<String> {
    let is_const = |l: &str| {
        let l = l.trim_start().trim_start_matches("pub ");
        l.starts_with("const ") && !l.starts_with("const fn ") && l.contains(": ")
    };
    let is_comment = |l: &str| l.trim_start().starts_with("//");
    let lines: Vec<&str> = text.lines().collect();
    let mut chosen = Vec::new();
    for (i, line) in lines.iter().enumerate().filter(|(_, l)| is_const(l)) {
        let first = i - lines[..i].iter().rev().take_while(|l| is_const(l)).count();
        let comment = lines[..first].iter().rev().take_while(|l| is_comment(l)).count();
        let said: Vec<&str> = lines[first - comment..first]
            .iter()
            .flat_map(|l| l.trim_start().trim_start_matches('/').split_whitespace())
            .collect();
        let said = said.join(" ").to_lowercase();
        let own = ["own choice", "own estimate", "chosen here", "tuned", "on the bench", "set on"];
        if own.iter().any(|w| said.contains(w)) {
            chosen.push(line.trim().to_owned());
        }
    }
    chosen
}

#[test]
fn nothing_is_tuned_outside_the_tables() {
    let sample = "/// So long, s (own\n/// choice).\nconst A_S: f64 = 1.0;\npub const B_S: f64 = 2.0;\n\
                  /// Gravity.\nconst G: f64 = 9.81;\n";
    assert_eq!(chosen_beside_use(sample), ["const A_S: f64 = 1.0;", "pub const B_S: f64 = 2.0;"]);
    let mut wrong = Vec::new();
    for (path, room, text) in library() {
        let table = path.ends_with("/params.rs") || path.contains("/params/");
        if WITH_TABLES.iter().any(|(name, _)| *name == room) && !table {
            wrong.extend(chosen_beside_use(&text).into_iter().map(|c| format!("{path}: {c}")));
        }
    }
    assert!(wrong.is_empty(), "belongs to params.rs: {}", wrong.join("\n"));
}
