//! Sentences for people stand in `messages/` and nowhere else in the library.
//!
//! A sentence is a string literal of three words or more. Not counted: comments, attributes, unit tests, tables of
//! constants (`params`), and markup: a literal in which `<` opens a tag or a PDF dictionary.

use super::library;

/// The string literals of Rust source outside comments and attributes, each with its line.
fn literals(text: &str) -> Vec<(usize, String)> {
    let chars: Vec<char> = text.chars().collect();
    let at = |i: usize| chars.get(i).copied().unwrap_or('\0');
    let mut found = Vec::new();
    // How many brackets deep in an attribute.
    let mut attribute = 0;
    let mut i = 0;
    while i < chars.len() {
        match (at(i), at(i + 1)) {
            ('/', '/') => {
                while i < chars.len() && at(i) != '\n' {
                    i += 1;
                }
            }
            ('#', '[') => {
                attribute = 1;
                i += 2;
            }
            ('[', _) if attribute > 0 => {
                attribute += 1;
                i += 1;
            }
            (']', _) if attribute > 0 => {
                attribute -= 1;
                i += 1;
            }
            ('r', '"' | '#') if !at(i.wrapping_sub(1)).is_alphanumeric() && raw_mark(&chars, i).is_some() => {
                let mark = raw_mark(&chars, i).unwrap_or_default();
                let from = i + 2 + mark;
                let ends = |j: &usize| at(*j) == '"' && (1..=mark).all(|k| at(j + k) == '#');
                let to = (from..chars.len()).find(ends).unwrap_or(chars.len());
                push(&mut found, attribute, &chars, from, to);
                i = to + 1 + mark;
            }
            ('"', _) => {
                let from = i + 1;
                let mut to = from;
                while to < chars.len() && at(to) != '"' {
                    to += if at(to) == '\\' { 2 } else { 1 };
                }
                push(&mut found, attribute, &chars, from, to);
                i = to + 1;
            }
            // A character, which may be a quotation mark; a lifetime has no second apostrophe.
            ('\'', '\\') => {
                i += 3;
                while i < chars.len() && at(i) != '\'' {
                    i += 1;
                }
                i += 1;
            }
            ('\'', _) if at(i + 2) == '\'' => i += 3,
            _ => i += 1,
        }
    }
    found
}

/// Of `r"`, `r#"`, …: how many `#`.
fn raw_mark(chars: &[char], i: usize) -> Option<usize> {
    let marks = chars[i + 1..].iter().take_while(|c| **c == '#').count();
    (chars.get(i + 1 + marks) == Some(&'"')).then_some(marks)
}

fn push(found: &mut Vec<(usize, String)>, attribute: usize, chars: &[char], from: usize, to: usize) {
    if attribute == 0 {
        let line = 1 + chars[..from].iter().filter(|c| **c == '\n').count();
        found.push((line, chars[from..to.min(chars.len())].iter().collect()));
    }
}

/// The words of a literal: two letters or more, outside the braces of a format.
fn words(literal: &str) -> usize {
    let mut depth = 0;
    let plain: String = literal
        .replace("\\n", " ")
        .chars()
        .filter(|c| {
            depth += i32::from(*c == '{');
            let outside = depth == 0;
            depth -= i32::from(*c == '}');
            outside
        })
        .collect();
    let is_word =
        |w: &&str| w.chars().zip(w.chars().skip(1)).any(|(a, b)| a.is_alphabetic() && b.is_alphabetic());
    plain.split_whitespace().filter(is_word).count()
}

fn markup(literal: &str) -> bool {
    literal.match_indices('<').any(|(i, _)| {
        let next = literal[i + 1..].chars().next();
        next.is_some_and(|c| c.is_ascii_alphabetic() || ['/', '!', '<'].contains(&c))
    })
}

fn sentences(text: &str) -> Vec<(usize, String)> {
    let body = text.split("#[cfg(test)]\nmod ").next().unwrap_or(text);
    literals(body).into_iter().filter(|(_, l)| words(l) >= 3 && !markup(l)).collect()
}

#[test]
fn every_sentence_stands_in_messages() {
    let sample = "// \"a b c is no text\"\n#[expect(x, reason = \"one two three\")]\nlet a = '\"'; let b: &'a str = \"{} is {at:.2} s\";\n\
                  let c = \"no such\"; let d = format!(\"{name}: no such \\\"file\\\"\"); let e = r#\"it \"is\" raw\"#;\n\
                  let f = \"<p>one two three</p>\"; let g = \"sixteen is < seventeen\";\n\
                  #[cfg(test)]\nmod tests { const A: &str = \"one two three\"; }";
    let found: Vec<(usize, String)> = sentences(sample);
    let wanted = [(4, "{name}: no such \\\"file\\\""), (4, "it \"is\" raw"), (5, "sixteen is < seventeen")];
    assert_eq!(found, wanted.map(|(line, text)| (line, text.to_owned())));

    let mut wrong = Vec::new();
    let mut in_messages = 0;
    for (path, room, text) in library() {
        let found = sentences(&text);
        if room == "messages" {
            in_messages += found.len();
            continue;
        }
        let table = path.ends_with("/params.rs") || path.contains("/params/");
        if table || path.ends_with("_tests.rs") {
            continue;
        }
        wrong.extend(found.into_iter().map(|(line, literal)| format!("{path}:{line}: {literal}")));
    }
    assert!(in_messages > 300, "only {in_messages} sentences were found in messages");
    assert!(wrong.is_empty(), "belongs to messages/:\n{}", wrong.join("\n"));
}

/// Up to its closing brace, every warning, reason or refusal that this source makes.
fn made(text: &str) -> Vec<String> {
    const TYPES: [&str; 7] = [
        "Warning::",
        "AbsentReason::",
        "NoSwing::",
        "BatUnmeasured::",
        "BallUnseen::",
        "LeftOut::",
        "Fault::",
    ];
    let source = super::code(text);
    let parts = TYPES.iter().flat_map(|of| source.match_indices(of).map(|(i, of)| i + of.len()));
    parts
        .map(|from| {
            let rest = &source[from..];
            let name: String = rest.chars().take_while(|c| c.is_alphanumeric()).collect();
            match rest[name.len()..].strip_prefix(" {") {
                Some(values) => format!("{name} {{{}", values.split('}').next().unwrap_or_default()),
                None => rest.chars().take(name.len() + 12).collect(),
            }
        })
        .collect()
}

/// A warning, a reason why something is missing and a refusal hold what happened and its values: prose in one of them
/// would be kept beside clips and would not be in the language of `messages/`.
#[test]
fn warnings_and_reasons_hold_no_prose() {
    let prose = |made: &str| {
        made.starts_with("Other {")
            || made.starts_with("Other(")
            || made.contains("messages::")
            // The name of a field is no prose.
            || made.split('"').skip(1).step_by(2).any(|literal| literal.contains(' '))
            || made.contains("format!")
    };
    let sample = "let a = Warning::ToeTap { taps: 2 }; let b = Warning::Panning;\n\
                  let c = Warning::Other { code, text }; let d = AbsentReason::Other(text);\n\
                  let e = Warning::SameView { clips: messages::names(paths), view };\n\
                  let f = PlanFault::OutOfRange { field: \"slow\", value }; let g = NoSwing::Other(\"no swing\");\n\
                  #[cfg(test)]\nmod tests { Warning::Other { code, text } }";
    let wrong: Vec<String> = made(sample).into_iter().filter(|m| prose(m)).collect();
    assert_eq!(wrong.len(), 4, "{wrong:?}");

    let (mut all, mut wrong) = (0, Vec::new());
    for (path, room, text) in library() {
        if room == "messages" {
            continue;
        }
        let found = made(&text);
        all += found.len();
        wrong.extend(found.into_iter().filter(|m| prose(m)).map(|m| format!("{path}: {m}")));
    }
    assert!(all > 100, "only {all} were found");
    assert!(wrong.is_empty(), "belongs to messages/:\n{}", wrong.join("\n"));
}
