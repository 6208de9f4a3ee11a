//! The words drawn on videos, cards and sheets. They come from one table, so that another language can replace them.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::types::{CaptionsFault, Units};

/// The English words as a file.
pub const CAPTIONS_TOML: &str = include_str!("captions/en.toml");

/// Tables that a translation holds whole: a card in two languages helps nobody. The others fall back to English.
const REQUIRED: [&str; 5] = ["labels", "events", "events_short", "measures", "verdicts"];

/// Words by table and key.
pub type CaptionTables = BTreeMap<String, BTreeMap<String, String>>;

/// Every word that is drawn; never without one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Captions {
    tables: CaptionTables,
    /// What lengths and speeds are said in.
    pub(super) units: Units,
}

/// The first 100 mm of hand travel, as the trade calls it in each of the units: 4 in are 101.6 mm.
const fn first_travel(units: Units) -> &'static str {
    match units {
        Units::Metric => "10 cm",
        Units::Us => "4 in",
    }
}

/// The words as they are built in, with what depends on the units still in braces.
fn built_in() -> &'static CaptionTables {
    static TABLES: LazyLock<CaptionTables> =
        LazyLock::new(|| toml::from_str(CAPTIONS_TOML).unwrap_or_default());
    &TABLES
}

/// The words as they are built in, in metric units.
pub fn english() -> &'static Captions {
    english_in(Units::Metric)
}

/// The words as they are built in.
pub fn english_in(units: Units) -> &'static Captions {
    static METRIC: LazyLock<Captions> = LazyLock::new(|| Captions::of(built_in().clone(), Units::Metric));
    static US: LazyLock<Captions> = LazyLock::new(|| Captions::of(built_in().clone(), Units::Us));
    match units {
        Units::Metric => &METRIC,
        Units::Us => &US,
    }
}

impl Captions {
    fn of(mut tables: CaptionTables, units: Units) -> Self {
        for text in tables.values_mut().flat_map(BTreeMap::values_mut) {
            *text = text.replace("{first}", first_travel(units));
        }
        Self { tables, units }
    }

    /// English with `tables` in place of its own words.
    pub fn translated(tables: CaptionTables, units: Units) -> Result<Self, CaptionsFault> {
        let mut all = Self { tables: built_in().clone(), units };
        for table in REQUIRED {
            let given = tables.get(table);
            let missing = all.tables.get(table).into_iter().flatten();
            let mut missing = missing.filter(|(key, _)| !given.is_some_and(|t| t.contains_key(*key)));
            if let Some((key, _)) = missing.next() {
                // A key with a slip in it is told as that, not as a missing one.
                if let Some(slip) = given.into_iter().flatten().map(|(k, _)| k).find(|k| !all.has(table, k)) {
                    return Err(CaptionsFault::Unknown { key: format!("{table}.{slip}"), nearest: None });
                }
                return Err(CaptionsFault::Missing { key: format!("{table}.{key}") });
            }
        }
        for (table, words) in tables {
            for (word, text) in words {
                let key = format!("{table}.{word}");
                let Some(own) = all.tables.get_mut(&table).and_then(|t| t.get_mut(&word)) else {
                    return Err(CaptionsFault::Unknown { key, nearest: None });
                };
                if text.trim().is_empty() || text.chars().any(char::is_control) {
                    return Err(CaptionsFault::Empty { key });
                }
                if braces(&text) != braces(own) {
                    return Err(CaptionsFault::Braces { key, english: own.clone() });
                }
                *own = text;
            }
        }
        Ok(Self::of(all.tables, units))
    }

    fn has(&self, table: &str, key: &str) -> bool {
        self.tables.get(table).is_some_and(|t| t.contains_key(key))
    }

    /// Every key: "measures.stride_length".
    pub fn keys(&self) -> Vec<String> {
        self.tables.iter().flat_map(|(table, t)| t.keys().map(move |key| format!("{table}.{key}"))).collect()
    }

    /// Every text, to be asked whether it can be drawn.
    pub fn texts(&self) -> impl Iterator<Item = &str> {
        self.tables.values().flat_map(|t| t.values().map(String::as_str))
    }

    pub(crate) fn word(&self, table: &str, key: &str) -> &str {
        self.tables.get(table).and_then(|t| t.get(key)).map_or("", String::as_str)
    }

    /// The text with its braces filled in.
    pub fn filled(&self, table: &str, key: &str, values: &[(&str, &str)]) -> String {
        let mut text = self.word(table, key).to_owned();
        for (name, value) in values {
            text = text.replace(&format!("{{{name}}}"), value);
        }
        text
    }
}

/// The names in braces, in alphabetical order: a language may turn them round.
fn braces(text: &str) -> Vec<&str> {
    let mut names: Vec<&str> =
        text.split('{').skip(1).map(|rest| rest.split('}').next().unwrap_or_default()).collect();
    names.sort_unstable();
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    fn complete() -> CaptionTables {
        REQUIRED.iter().map(|table| ((*table).to_owned(), built_in()[*table].clone())).collect()
    }

    #[test]
    fn english_holds_every_word() {
        assert!(english().keys().len() > 80);
        assert!(english().texts().all(|t| !t.is_empty()));
        for table in REQUIRED {
            assert!(!english().tables[table].is_empty(), "{table}");
        }
        assert_eq!(english().filled("screen", "slowed", &[("times", "8")]), "8× slower");
    }

    #[test]
    fn what_is_left_out_is_english_and_what_is_wrong_is_named() {
        let mut own = complete();
        own.get_mut("labels").unwrap().insert("today".into(), "Hoy".into());
        let made = Captions::translated(own.clone(), Units::Metric).unwrap();
        assert_eq!((made.word("labels", "today"), made.word("screen", "knee")), ("Hoy", "Knee"));
        let first = |units| {
            let made = Captions::translated(own.clone(), units).unwrap();
            made.measure(crate::types::MeasureId::FirstHandTravelDirection).to_owned()
        };
        assert_eq!(Units::ALL.map(first), ["Hands’ first 10 cm", "Hands’ first 4 in"]);
        let fault = |edit: &dyn Fn(&mut CaptionTables)| {
            let mut tables = own.clone();
            edit(&mut tables);
            Captions::translated(tables, Units::Metric).unwrap_err()
        };
        let key = |k: &str| k.to_owned();
        let events = |t: &mut CaptionTables| t.get_mut("events").unwrap().remove("plant").unwrap();
        assert_eq!(fault(&|t| drop(events(t))), CaptionsFault::Missing { key: key("events.plant") });
        let slip = |t: &mut CaptionTables| {
            let text = events(t);
            t.get_mut("events").unwrap().insert("plnt".into(), text);
        };
        assert_eq!(fault(&slip), CaptionsFault::Unknown { key: key("events.plnt"), nearest: None });
        let screen = |word: &'static str, text: &'static str| {
            move |t: &mut CaptionTables| drop(t.insert("screen".into(), [(word.into(), text.into())].into()))
        };
        assert_eq!(
            fault(&screen("nee", "x")),
            CaptionsFault::Unknown { key: key("screen.nee"), nearest: None }
        );
        assert_eq!(fault(&screen("knee", " ")), CaptionsFault::Empty { key: key("screen.knee") });
        let english = "{times}× slower".to_owned();
        assert_eq!(
            fault(&screen("slowed", "más lento")),
            CaptionsFault::Braces { key: key("screen.slowed"), english }
        );
    }
}
