//! Texts that people write by hand: what is wrong with them is told with line and nearest word.

use serde::de::DeserializeOwned;

use crate::messages::files as messages;

/// What a TOML text holds, or what is wrong with it.
pub fn from_toml<T: DeserializeOwned>(text: &str) -> Result<T, String> {
    toml::from_str(text).map_err(|e| {
        let before = e.span().and_then(|s| text.get(..s.start));
        let line = before.map(|b| format!("line {}: ", b.matches('\n').count() + 1));
        format!("{}{}", line.unwrap_or_default(), with_nearest(e.message().trim()))
    })
}

/// The same of JSON.
pub fn from_json<T: DeserializeOwned>(text: &str) -> Result<T, String> {
    serde_json::from_str(text).map_err(|e| {
        // serde_json ends its message with the place.
        let whole = e.to_string();
        let cause = whole.split(" at line ").next().unwrap_or(&whole);
        format!("line {}: {}", e.line(), with_nearest(cause))
    })
}

/// serde names the unknown word and the known ones in backticks; the nearest is what was likely meant.
fn with_nearest(message: &str) -> String {
    if !message.starts_with("unknown ") {
        return message.to_owned();
    }
    let mut quoted = message.split('`').skip(1).step_by(2);
    let Some(word) = quoted.next() else { return message.to_owned() };
    let known: Vec<&str> = quoted.collect();
    messages::unknown_word(word, nearest(word, &known), &known)
}

/// A word that serde would not know, in serde's own form, so that [`from_toml`] finds the nearest.
pub fn unknown_variant<'a>(word: &str, known: impl Iterator<Item = &'a str>) -> String {
    let known: Vec<String> = known.map(|k| format!("`{k}`")).collect();
    format!("unknown variant `{word}`, expected one of {}", known.join(", "))
}

/// The known word fewest letters away from `word`, unless even that is another word altogether.
pub fn nearest<'a>(word: &str, known: &[&'a str]) -> Option<&'a str> {
    // Hyphen, space and underline are easily taken for one another.
    let plain = |w: &str| w.to_lowercase().replace([' ', '_'], "-");
    let away = |k: &&str| strsim::damerau_levenshtein(&plain(word), &plain(k));
    let best = known.iter().copied().min_by_key(|k| away(k))?;
    (away(&best) <= 1 + best.chars().count() / 3).then_some(best)
}
