//! Texts that people write by hand: what is wrong with them is told with line and nearest word.

use serde::de::DeserializeOwned;

use crate::types::TextFault;

/// What a TOML text holds, or what is wrong with it.
pub fn from_toml<T: DeserializeOwned>(text: &str) -> Result<T, TextFault> {
    toml::from_str(text).map_err(|e| {
        let before = e.span().and_then(|s| text.get(..s.start));
        fault(before.map(|b| b.matches('\n').count() + 1), e.message().trim())
    })
}

/// The same of JSON.
pub fn from_json<T: DeserializeOwned>(text: &str) -> Result<T, TextFault> {
    serde_json::from_str(text).map_err(|e| {
        // serde_json ends its message with the place.
        let whole = e.to_string();
        fault(Some(e.line()), whole.split(" at line ").next().unwrap_or(&whole))
    })
}

/// serde names the unknown word and the known ones in backticks; the nearest is what was likely meant.
fn fault(line: Option<usize>, message: &str) -> TextFault {
    let mut quoted = message.split('`').skip(1).step_by(2);
    match quoted.next().filter(|_| message.starts_with("unknown ")) {
        Some(word) => {
            let known: Vec<&str> = quoted.collect();
            TextFault::UnknownWord {
                line,
                word: word.to_owned(),
                nearest: nearest(word, &known).map(str::to_owned),
                known: known.into_iter().map(str::to_owned).collect(),
            }
        }
        None => TextFault::Syntax { line, cause: message.to_owned() },
    }
}

/// The known word fewest letters away from `word`, unless even that is another word altogether.
pub fn nearest<'a>(word: &str, known: &[&'a str]) -> Option<&'a str> {
    // Hyphen, space and underline are easily taken for one another.
    let plain = |w: &str| w.to_lowercase().replace([' ', '_'], "-");
    let away = |k: &&str| strsim::damerau_levenshtein(&plain(word), &plain(k));
    let best = known.iter().copied().min_by_key(|k| away(k))?;
    (away(&best) <= 1 + best.chars().count() / 3).then_some(best)
}
