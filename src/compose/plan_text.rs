//! A plan as text, TOML or JSON: reading, writing, and what is said about wrong words.

use std::path::Path;

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize};

use super::layout::Layout;
use super::plan::{Hold, Mark, Moment, Plan, Shot, SwingShot};
use crate::messages::plan_file as messages;
use crate::store::{from_json, from_toml};
use crate::types::{Bound, Error, EventId, Limits, PlanFault, Result, TextFault};

/// How far from an event a moment may be set, s.
const FARTHEST_S: f64 = 600.0;

/// A shot as it is written: `show` says which of the fields belong to it.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShotText {
    show: Show,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    from: Option<Moment>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    to: Option<Moment>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    slow: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    layout: Option<Layout>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    draw: Option<Vec<Mark>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    caption: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lines: Option<Vec<String>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    seconds: Option<f64>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    hold: Vec<Hold>,
}

/// The kinds of shots.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Show {
    #[default]
    Swing,
    Title,
    Card,
}

impl Show {
    const fn word(self) -> &'static str {
        match self {
            Self::Swing => "swing",
            Self::Title => "title",
            Self::Card => "card",
        }
    }
}

impl From<Shot> for ShotText {
    fn from(shot: Shot) -> Self {
        match shot {
            Shot::Swing(SwingShot { from, to, slow, holds, layout, draw, caption }) => Self {
                from: Some(from),
                to: Some(to),
                slow: Some(slow),
                layout,
                draw,
                caption,
                hold: holds,
                ..Self::default()
            },
            Shot::Title { lines, seconds } => {
                Self { show: Show::Title, lines: Some(lines), seconds: Some(seconds), ..Self::default() }
            }
            Shot::Card { seconds } => Self { show: Show::Card, seconds: Some(seconds), ..Self::default() },
        }
    }
}

impl TryFrom<ShotText> for Shot {
    type Error = PlanFault;

    fn try_from(text: ShotText) -> std::result::Result<Self, PlanFault> {
        let (show, lines, seconds) = (text.show, text.lines.clone(), text.seconds);
        let idle = |given: bool, field: &'static str| {
            if given { Err(PlanFault::FieldUnused { field, show: show.word() }) } else { Ok(()) }
        };
        if show == Show::Swing {
            idle(lines.is_some(), "lines")?;
            idle(seconds.is_some(), "seconds")?;
            return Ok(Self::Swing(SwingShot {
                from: text.from.ok_or(PlanFault::NeedsFrom)?,
                to: text.to.ok_or(PlanFault::NeedsTo)?,
                slow: text.slow.unwrap_or(1.0),
                holds: text.hold,
                layout: text.layout,
                draw: text.draw,
                caption: text.caption,
            }));
        }
        for (given, field) in [
            (text.from.is_some(), "from"),
            (text.to.is_some(), "to"),
            (text.slow.is_some(), "slow"),
            (text.layout.is_some(), "layout"),
            (text.draw.is_some(), "draw"),
            (text.caption.is_some(), "caption"),
            (!text.hold.is_empty(), "hold"),
            (show == Show::Card && lines.is_some(), "lines"),
        ] {
            idle(given, field)?;
        }
        let seconds = seconds.ok_or(PlanFault::NeedsSeconds)?;
        Ok(match show {
            Show::Title => Self::Title { lines: lines.unwrap_or_default(), seconds },
            _ => Self::Card { seconds },
        })
    }
}

impl TryFrom<String> for Moment {
    type Error = PlanFault;

    fn try_from(text: String) -> std::result::Result<Self, PlanFault> {
        let (word, offset) = match text.find(['+', '-', '−']) {
            Some(i) => text.split_at(i),
            None => (text.as_str(), ""),
        };
        let event = EventId::from_word(word.trim())
            .ok_or_else(|| PlanFault::UnknownEvent { word: word.trim().to_owned() })?;
        let wrong = || PlanFault::NoMoment { text: text.clone() };
        let offset_s = if offset.is_empty() {
            0.0
        } else {
            let compact: String = offset.replace('−', "-").split_whitespace().collect();
            let (number, unit_s) = match (compact.strip_suffix("ms"), compact.strip_suffix('s')) {
                (Some(n), _) => (n, 0.001),
                (None, Some(n)) => (n, 1.0),
                _ => return Err(wrong()),
            };
            number.parse::<f64>().map_err(|_| wrong())? * unit_s
        };
        if !offset_s.is_finite() || offset_s.abs() > FARTHEST_S {
            return Err(PlanFault::TooFar { text, most_s: FARTHEST_S });
        }
        Ok(Self { event, offset_s })
    }
}

impl<'de> Deserialize<'de> for Moment {
    fn deserialize<D: Deserializer<'de>>(from: D) -> std::result::Result<Self, D::Error> {
        Self::try_from(String::deserialize(from)?).map_err(|fault| match fault {
            // As serde says it of any other word, so that the nearest is found in one place.
            PlanFault::UnknownEvent { word } => D::Error::unknown_variant(&word, EventId::WORDS),
            other => D::Error::custom(other),
        })
    }
}

impl From<Moment> for String {
    fn from(m: Moment) -> Self {
        if m.offset_s == 0.0 {
            m.event.word().to_owned()
        } else {
            format!("{}{:+}s", m.event.word(), m.offset_s)
        }
    }
}

impl Plan {
    /// A plan from TOML, or from JSON where the text begins with `{`.
    ///
    /// ```
    /// use swingpair::compose::{Plan, Ready};
    ///
    /// let plan = Plan::ready(Ready::Teach, 8.0);
    /// let text = plan.to_toml()?;
    /// assert_eq!(Plan::from_text(&text), Ok(plan));
    /// assert!(Plan::from_text("shots = 7").is_err());
    /// # Ok::<(), swingpair::types::Error>(())
    /// ```
    pub fn from_text(text: &str) -> std::result::Result<Self, PlanFault> {
        let json = text.trim_start().starts_with('{');
        let plan: Self = if json { from_json(text)? } else { from_toml(text)? };
        plan.check()?;
        Ok(plan)
    }

    /// A plan from a file.
    pub fn from_file(path: &Path, limits: &Limits) -> Result<Self> {
        let wrong = |cause: PlanFault| Error::Plan { path: path.to_owned(), cause };
        let text = String::from_utf8(limits.read(Bound::PlanKb, path)?);
        let text = text.map_err(|_| wrong(TextFault::NotUtf8.into()))?;
        Self::from_text(text.trim_start_matches('\u{feff}')).map_err(wrong)
    }

    /// As TOML, with the words that may be used at its head.
    pub fn to_toml(&self) -> Result<String> {
        let body = toml::to_string(self).map_err(|e| Error::Internal(e.to_string()))?;
        let [events, layouts, marks] = [EventId::WORDS, Layout::WORDS, Mark::WORDS].map(|all| all.join(", "));
        Ok(messages::head(&events, &layouts, &marks) + &body)
    }
}

#[cfg(test)]
mod tests {
    use super::super::ready::Ready;
    use super::*;

    #[test]
    fn every_ready_plan_is_read_back_from_both_texts() {
        for which in Ready::ALL {
            let plan = Plan::ready(which, 8.0);
            let text = plan.to_toml().unwrap();
            assert_eq!(Plan::from_text(&text).unwrap(), plan, "{text}");
            let json = serde_json::to_string_pretty(&plan).unwrap();
            assert_eq!(Plan::from_text(&json).unwrap(), plan, "{json}");
        }
    }

    #[test]
    fn the_plan_in_the_guide_is_one() {
        let guide = include_str!("../../docs/coach-guide.md");
        let (_, text) = guide.split_once("```toml\n").unwrap();
        let plan = Plan::from_text(text.split("```").next().unwrap()).unwrap();
        assert_eq!(plan.layout, Some(Layout::OverUnder));
        let [Shot::Title { lines, .. }, Shot::Swing(swing), Shot::Card { .. }] = plan.shots.as_slice() else {
            panic!("{:?}", plan.shots)
        };
        assert_eq!((lines.len(), swing.holds.len(), swing.to.offset_s), (2, 1, 0.2));
        plan.check_letters().unwrap();
    }

    #[test]
    fn moments_are_written_as_they_are_said() {
        let read = |t: &str| Moment::try_from(t.to_owned());
        assert_eq!(read("load").unwrap(), Moment { event: EventId::Load, offset_s: 0.0 });
        assert_eq!(read("extension+0.2s").unwrap(), Moment { event: EventId::Extension, offset_s: 0.2 });
        assert_eq!(
            read("hands_start - 150 ms").unwrap(),
            Moment { event: EventId::HandsStart, offset_s: -0.15 }
        );
        assert_eq!(String::from(read("plant-0.3s").unwrap()), "plant-0.3s");
        for wrong in ["plant+", "plant+0.2", "plant+xs", "plant+nans", "plant+1e9s", "plant0.2s", ""] {
            assert!(read(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn wrong_words_are_named_with_the_nearest() {
        let said = |text: &str| Plan::from_text(text).unwrap_err().to_string();
        let shot =
            |extra: &str| format!("[[shot]]\nshow = \"swing\"\nfrom = \"load\"\nto = \"finish\"\n{extra}");
        for (text, wrong, near) in [
            (shot("slwo = 8"), "slwo", "slow"),
            (shot("draw = [\"hed\"]"), "hed", "head"),
            (shot("layout = \"over_under\""), "over_under", "over-under"),
            (shot("[[shot.hold]]\nat = \"plnt\"\nseconds = 1"), "plnt", "plant"),
            (shot("").replace("\"load\"", "\"laod-0.1s\""), "laod", "load"),
            (shot("").replace("swing", "swng"), "swng", "swing"),
            ("lay_out = \"ghost\"\nshot = []".to_owned(), "lay_out", "layout"),
            ("{\"shot\": [{\"show\": \"crad\", \"seconds\": 2}]}".to_owned(), "crad", "card"),
        ] {
            let error = said(&text);
            assert!(
                error.contains(&format!("word “{wrong}”")) && error.contains(&format!("“{near}”")),
                "{error}"
            );
            assert!(error.starts_with("line ") && !error.contains('\n'), "{error}");
        }
        let far = said(&shot("draw = [\"xylophone\"]"));
        assert!(far.contains("xylophone") && far.contains("hand-path"), "{far}");
    }

    #[test]
    fn numbers_out_of_range_and_fields_without_meaning_are_refused() {
        let said = |text: &str| Plan::from_text(text).unwrap_err().to_string();
        let shot =
            |extra: &str| format!("[[shot]]\nshow = \"swing\"\nfrom = \"load\"\nto = \"finish\"\n{extra}");
        for (text, word) in [
            (shot("slow = 0"), "between 0.25"),
            (shot("slow = nan"), "between 0.25"),
            (shot("seconds = 3"), "does not apply"),
            ("[[shot]]\nshow = \"card\"\nseconds = 300".into(), "between 0 and 30"),
            ("[[shot]]\nshow = \"card\"\nseconds = 3\nslow = 2".into(), "does not apply"),
            ("[[shot]]\nshow = \"card\"".into(), "seconds"),
            ("[[shot]]\nshow = \"swing\"\nfrom = \"load\"".into(), "“to”"),
            ("[[shot]]\nshow = \"title\"\nseconds = 2\nlines = []".into(), "1 to 6 lines"),
            (shot(&format!("caption = \"{}\"", "a".repeat(200))), "120 letters"),
            (shot("caption = \"a\\nb\""), "line break"),
            (
                shot("").replace("\"load\"", "\"finish\"").replace("to = \"finish\"", "to = \"load\""),
                "shot 1: it runs backwards, from finish to load",
            ),
            (
                shot("").replace("\"load\"", "\"finish+1s\""),
                "shot 1: it runs backwards, from finish+1s to finish",
            ),
            (
                format!("{}{}", shot("slow = 0\n"), "[[shot]]\nshow = \"card\"\nseconds = 99\n"),
                "between 0.25 and 100; shot 2: seconds = 99",
            ),
            ("shot = []".into(), "0 shots"),
            (String::new(), "shot"),
            ("[[shot]]\nshow = 'card'\nseconds = 1\n".repeat(41), "41 shots"),
        ] {
            let error = said(&text);
            assert!(error.contains(word), "{error}");
        }
    }

    #[test]
    fn files_that_are_no_plans_are_refused() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("plan.toml");
        std::fs::write(&path, vec![b'#'; 70_000]).unwrap();
        let read = |path: &Path| Plan::from_file(path, &Limits::default());
        assert!(read(&path).unwrap_err().to_string().contains("--limit plan-kb=70"));
        std::fs::write(&path, [0xff, 0xfe, 0x00]).unwrap();
        assert!(read(&path).unwrap_err().to_string().contains("UTF-8"));
        assert!(matches!(read(&dir.path().join("none")), Err(Error::Missing { .. })));
    }
}
