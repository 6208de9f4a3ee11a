//! The Markdown files are true: sizes, links, command lines, options, figures, examples.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use swingpair::compose::{Layout, Mark, Ready};
use swingpair::lesson::Lesson;
use swingpair::types::{Delivery, Limits, MeasureId};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn text(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap_or_else(|e| panic!("{name}: {e}"))
}

/// Every Markdown file of the project, below its root; what is built or made lies elsewhere.
fn papers() -> Vec<String> {
    fn walk(dir: &Path, below: &str, all: &mut Vec<String>) {
        for entry in fs::read_dir(dir).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            let below = if below.is_empty() { name.clone() } else { format!("{below}/{name}") };
            if path.is_dir() && !name.starts_with('.') && !["target", "out"].contains(&name.as_str()) {
                walk(&path, &below, all);
            } else if name.ends_with(".md") {
                all.push(below);
            }
        }
    }
    let mut all = Vec::new();
    walk(&root(), "", &mut all);
    all.sort();
    assert!(all.len() > 8, "{all:?}");
    all
}

/// What a user reads.
fn for_users() -> Vec<String> {
    let benches = |p: &String| p.starts_with("docs/bench/");
    papers().into_iter().filter(|p| p == "README.md" || p.starts_with("docs/") && !benches(p)).collect()
}

#[test]
fn the_papers_are_short() {
    for (name, most) in [("README.md", 9_000), ("DEVELOPERS.md", 20_000)] {
        let bytes = text(name).len();
        assert!(bytes <= most, "{name} has {bytes} bytes, at most {most} are wanted");
    }
}

#[test]
fn the_guide_names_every_room() {
    let guide = text("DEVELOPERS.md");
    for entry in fs::read_dir(root().join("src")).unwrap() {
        let path = entry.unwrap().path();
        let room = path.file_name().unwrap().to_string_lossy().into_owned();
        assert!(!path.is_dir() || guide.contains(&format!("| `{room}/`")), "DEVELOPERS.md lacks `{room}/`");
    }
}

/// The anchor that a heading gets: lower case, spaces as dashes, marks dropped.
fn anchor(heading: &str) -> String {
    let kept = |c: char| match c {
        ' ' => Some('-'),
        c if c.is_alphanumeric() || c == '-' || c == '_' => Some(c),
        _ => None,
    };
    heading.trim().to_lowercase().chars().filter_map(kept).collect()
}

fn anchors(paper: &str) -> BTreeSet<String> {
    outside_fences(paper).filter(|l| l.starts_with('#')).map(|l| anchor(l.trim_start_matches('#'))).collect()
}

fn outside_fences(paper: &str) -> impl Iterator<Item = &str> {
    let mut inside = false;
    paper.lines().filter(move |line| {
        let fence = line.starts_with("```");
        inside ^= fence;
        !inside && !fence
    })
}

#[test]
fn every_link_leads_somewhere() {
    let (mut wrong, mut count) = (Vec::new(), 0);
    for name in papers() {
        let paper = text(&name);
        for part in outside_fences(&paper).flat_map(|l| l.split("](").skip(1)) {
            let link = part.split(')').next().unwrap_or("");
            if link.contains("://") {
                continue;
            }
            count += 1;
            let (file, place) = link.split_once('#').unwrap_or((link, ""));
            let target = if file.is_empty() {
                root().join(&name)
            } else {
                root().join(&name).parent().unwrap().join(file)
            };
            let there = match fs::read_to_string(&target) {
                Ok(other) => place.is_empty() || anchors(&other).contains(place),
                // A picture is no text.
                Err(_) => place.is_empty() && target.exists(),
            };
            if !there {
                wrong.push(format!("{name}: {link}"));
            }
        }
    }
    assert!(count > 20, "only {count} links were found");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn swingpair() -> Command {
    Command::new(env!("CARGO_BIN_EXE_swingpair"))
}

/// Command lines as a reader would type them: in fences, and as inline code.
fn command_lines(paper: &str) -> Vec<String> {
    let mut inside = false;
    let mut all = Vec::new();
    for line in paper.lines() {
        inside ^= line.starts_with("```");
        let pieces: Vec<&str> =
            if inside { vec![line] } else { line.split('`').skip(1).step_by(2).collect() };
        all.extend(
            pieces.iter().map(|p| p.trim()).filter(|p| p.starts_with("swingpair ")).map(str::to_owned),
        );
    }
    // A command's name alone, or its form ("swingpair pair [OPTIONS] …"), is no command line.
    all.retain(|l| l.split_whitespace().count() > 2 && !l.contains("[OPTIONS]") && !l.contains("COMMAND"));
    all
}

/// The words of a line up to a comment, a pipe or a file that takes the output.
fn words(line: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    let (mut word, mut quoted) = (String::new(), false);
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            '#' | '|' | '>' if !quoted && word.is_empty() => break,
            c if c.is_whitespace() && !quoted => {
                all.extend((!word.is_empty()).then(|| std::mem::take(&mut word)));
            }
            c => word.push(c),
        }
    }
    all.extend((!word.is_empty()).then_some(word));
    all
}

#[test]
fn every_command_line_is_understood() {
    let parted = words("swingpair pair a.mp4 --labels \"May, June\" # why");
    assert_eq!(parted, ["swingpair", "pair", "a.mp4", "--labels", "May, June"]);
    let empty = tempfile::tempdir().unwrap();
    let (mut wrong, mut count) = (Vec::new(), 0);
    for name in for_users().into_iter().chain(["DEVELOPERS.md".to_owned(), "CHANGELOG.md".to_owned()]) {
        for line in command_lines(&text(&name)) {
            count += 1;
            // Without a folder it would serve this one and never end.
            let parts = words(&line);
            let serves = parts.get(1).is_some_and(|w| w == "desk");
            let named = parts.iter().skip(2).any(|w| !w.starts_with('-'));
            assert!(!serves || named, "{name}: {line}: name a folder");
            // In an empty folder a good line ends at its first file, a bad one at its words.
            let run = swingpair().args(&parts[1..]).current_dir(empty.path()).output().unwrap();
            let told = String::from_utf8_lossy(&run.stderr).into_owned();
            if told.contains("For more information, try") || told.contains("Usage:") {
                wrong.push(format!("{name}: {line}\n{told}"));
            }
        }
    }
    assert!(count > 25, "only {count} command lines were found");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The long options that start a line of a help text.
fn options_of(command: &str) -> BTreeSet<String> {
    let run = swingpair().args([command, "--help"]).output().unwrap();
    let help = String::from_utf8(run.stdout).unwrap();
    let options = help.lines().filter(|l| l.starts_with("  ")).map(str::trim).filter(|l| l.starts_with('-'));
    options.filter_map(|l| long_options(l).into_iter().next()).collect()
}

/// Every `--word` of a text.
fn long_options(text: &str) -> Vec<String> {
    let name =
        |part: &str| -> String { part.chars().take_while(|c| c.is_ascii_lowercase() || *c == '-').collect() };
    let starts = |at: usize| text[..at].chars().next_back().is_none_or(|c| !c.is_alphanumeric() && c != '-');
    text.match_indices("--")
        .filter(|(at, _)| starts(*at))
        .map(|(at, _)| name(&text[at + 2..]))
        .filter(|n| n.starts_with(|c: char| c.is_ascii_lowercase()))
        .map(|n| format!("--{}", n.trim_end_matches('-')))
        .collect()
}

const COMMANDS: [&str; 18] = [
    "desk",
    "pair",
    "clip",
    "plan",
    "sheet",
    "report",
    "read",
    "mark",
    "reps",
    "spread",
    "angles",
    "lesson",
    "check",
    "probe",
    "demo",
    "captions",
    "completions",
    "man",
];

#[test]
fn the_papers_know_every_option_and_no_other() {
    let help = String::from_utf8(swingpair().arg("--help").output().unwrap().stdout).unwrap();
    let listed = help.split("Commands:").nth(1).unwrap().split("Options:").next().unwrap();
    let commands: BTreeSet<&str> = listed
        .lines()
        .filter(|l| l.starts_with("  ") && !l.starts_with("   "))
        .filter_map(|l| l.split_whitespace().next())
        .filter(|c| *c != "help")
        .collect();
    assert_eq!(commands, COMMANDS.into_iter().collect());
    let paper = text("docs/options.md");
    let mut all: BTreeSet<String> = ["--version".to_owned()].into();
    for command in COMMANDS {
        assert!(paper.contains(&format!("\n## {command}\n")), "docs/options.md lacks {command}");
        let options = options_of(command);
        assert!(options.len() > 1, "{command}: {options:?}");
        all.extend(options);
    }
    let written: BTreeSet<String> = long_options(&paper).into_iter().collect();
    let missing: Vec<&String> = all.iter().filter(|o| !written.contains(*o)).collect();
    assert!(missing.is_empty(), "docs/options.md lacks {missing:?}");
    for name in for_users() {
        // What ./dev takes is its own.
        let paper = text(&name);
        let lines = paper.lines().filter(|l| !l.contains("./dev"));
        let used: BTreeSet<String> = lines.flat_map(long_options).collect();
        let unknown: Vec<&String> = used.iter().filter(|o| !all.contains(*o)).collect();
        assert!(unknown.is_empty(), "{name} names {unknown:?}, which no command has");
    }
}

/// What a figure stands for: a section of a bench's file, the first cells of a row and a column's name; or a section
/// and how a line begins, which gives two numbers ("39 of 48").
fn in_bench(bench: &str, spec: &str) -> Vec<f64> {
    let parts: Vec<&str> = spec.split('|').map(str::trim).collect();
    let section = bench.split("\n## ").find(|s| s.lines().next() == Some(parts[0]));
    let section = section.unwrap_or_else(|| panic!("{spec}: there is no such section"));
    if let [_, beginning] = parts[..] {
        let line = section.lines().find_map(|l| l.strip_prefix(beginning)?.strip_prefix(": "));
        let line = line.unwrap_or_else(|| panic!("{spec}: no line begins so"));
        return numbers(line).into_iter().take(2).map(|(value, _)| value).collect();
    }
    let (key, column) = (&parts[1..parts.len() - 1], parts[parts.len() - 1]);
    let lines: Vec<&str> = section.lines().collect();
    let mut header: Vec<&str> = Vec::new();
    for (i, line) in lines.iter().enumerate().filter(|(_, l)| l.starts_with('|')) {
        let cells = cells(line);
        if lines.get(i + 1).is_some_and(|l| l.starts_with("|---")) {
            header = cells;
        } else if let (true, Some(at)) = (cells.starts_with(key), header.iter().position(|h| *h == column)) {
            return vec![cells[at].parse::<f64>().unwrap_or_else(|_| panic!("{spec}: {}", cells[at])).abs()];
        }
    }
    panic!("{spec}: there is no such row or column")
}

fn cells(line: &str) -> Vec<&str> {
    line.trim().trim_matches('|').split('|').map(str::trim).collect()
}

/// Each number of a text with how many places it has after the point.
fn numbers(text: &str) -> Vec<(f64, usize)> {
    let pieces = text.split(|c: char| !c.is_ascii_digit() && c != '.').map(|p| p.trim_matches('.'));
    pieces
        .filter_map(|p| Some((p.parse().ok()?, p.split_once('.').map_or(0, |(_, after)| after.len()))))
        .collect()
}

/// The numbers of a table without its head and first column, or of a paragraph.
fn shown(block: &[&str]) -> Vec<(f64, usize)> {
    if block[0].starts_with('|') {
        block[2..].iter().flat_map(|row| cells(row).into_iter().skip(1)).flat_map(numbers).collect()
    } else {
        block.iter().flat_map(|l| numbers(l)).collect()
    }
}

/// Figures stand in the text above a comment that says, one line each and in order, where they come from.
#[test]
fn every_figure_is_that_of_its_bench() {
    const MARK: &str = "<!-- figures from ";
    assert_eq!(numbers("0.7 / 5 cm, 39 of 48."), [(0.7, 1), (5.0, 0), (39.0, 0), (48.0, 0)]);
    let mut wrong = Vec::new();
    for (name, least) in [("README.md", 10), ("docs/coach-guide.md", 10)] {
        let paper = text(name);
        let lines: Vec<&str> = paper.lines().collect();
        let mut count = 0;
        for (i, line) in lines.iter().enumerate().filter(|(_, l)| l.starts_with(MARK)) {
            let bench = text(line.trim_start_matches(MARK).trim());
            let above: Vec<&str> = lines[..i].iter().rev().skip_while(|l| l.is_empty()).copied().collect();
            let mut block: Vec<&str> = above.into_iter().take_while(|l| !l.is_empty()).collect();
            block.reverse();
            let specs = lines[i + 1..].iter().take_while(|l| **l != "-->");
            let truth: Vec<(f64, &str)> =
                specs.flat_map(|s| in_bench(&bench, s).into_iter().map(|v| (v, *s))).collect();
            let figures = shown(&block);
            assert_eq!(
                figures.len(),
                truth.len(),
                "{name}, line {}: figures and sources differ in number",
                i + 1
            );
            for ((figure, places), (truth, spec)) in figures.into_iter().zip(truth) {
                count += 1;
                let rounded = format!("{truth:.places$}");
                if rounded != format!("{figure:.places$}") {
                    wrong.push(format!("{name}: {figure} is {rounded} now ({spec})"));
                }
            }
        }
        assert!(count >= least, "{name}: only {count} figures were found");
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What is added to the program is added to the papers.
#[test]
fn the_papers_know_every_word_of_plans_and_measures() {
    // The bat's speed is never measured.
    let measures = MeasureId::ALL.iter().filter(|m| **m != MeasureId::BatSpeed).map(|m| m.word());
    let layouts = || Layout::ALL.iter().map(|l| l.word());
    let marks = || Mark::ALL.iter().map(|m| m.word());
    let options =
        layouts().chain(Ready::ALL.iter().map(|r| r.word())).chain(Delivery::ALL.iter().map(|d| d.word()));
    let mut missing = Vec::new();
    let mut look = |name: &str, words: Vec<&str>| {
        let paper = text(name);
        let of_a_word = |c: char| c.is_alphanumeric() || c == '_' || c == '-';
        let known: BTreeSet<&str> = paper.split(|c| !of_a_word(c)).collect();
        missing.extend(words.into_iter().filter(|w| !known.contains(w)).map(|w| format!("{name}: {w}")));
    };
    look("docs/formats.md", measures.chain(layouts()).chain(marks()).collect());
    look("docs/options.md", options.collect());
    look("docs/coach-guide.md", marks().collect());
    assert!(missing.is_empty(), "{}", missing.join("\n"));
}

#[test]
fn the_lesson_in_the_papers_is_one() {
    let paper = text("docs/formats.md");
    let (_, rest) = paper.split_once("```toml\n").unwrap();
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("lesson.toml");
    fs::write(&file, rest.split("```").next().unwrap()).unwrap();
    let lesson = Lesson::from_file(&file, &Limits::default()).unwrap();
    let hitter = &lesson.hitters[0];
    assert_eq!((hitter.height_cm, hitter.watch.len(), hitter.days.len()), (Some(176.0), 2, 1));
    // Every measure that is named can be watched.
    let named = paper.split("`watch` takes").nth(1).unwrap().split("\n\n").next().unwrap();
    let names: Vec<&str> = named.split('`').skip(1).step_by(2).collect();
    assert!(names.len() > 15, "{names:?}");
    for name in names {
        serde_json::from_value::<swingpair::types::MeasureId>(name.into())
            .unwrap_or_else(|e| panic!("{name}: {e}"));
    }
}
