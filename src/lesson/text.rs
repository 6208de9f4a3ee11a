//! A lesson file as it is written, before it is checked.

use std::path::PathBuf;

use serde::{Deserialize, Serialize};

use crate::types::{Delivery, LessonFault, MeasureId, PitcherSide, Side, Units};

#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LessonText {
    pub lesson: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub units: Option<Units>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub output: Option<PathBuf>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub make: Option<MakeText>,
    #[serde(default)]
    pub hitter: Vec<HitterText>,
}

#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MakeText {
    /// A ready plan, a plan's file, or "none".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clip: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sheet: Option<bool>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spread: Option<bool>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub page: Option<bool>,
}

#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HitterText {
    pub name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bats: Option<Side>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_cm: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bat_cm: Option<f64>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub good: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub watch: Vec<MeasureId>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub labels: Option<[String; 2]>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub make: Option<MakeText>,
    #[serde(default)]
    pub day: Vec<DayText>,
}

#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DayText {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<DateText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub reps: Vec<String>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub recordings: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recorded_at_hz: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pitcher: Option<PitcherSide>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ball: Option<Delivery>,
}

/// A date, with or without quotes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum DateText {
    Bare(toml::value::Datetime),
    Quoted(String),
}

impl DateText {
    /// `2026-03-07`, which sorts as it passes.
    pub(super) fn day(&self) -> std::result::Result<String, LessonFault> {
        let text = match self {
            Self::Bare(date) => date.date.map(|d| d.to_string()).unwrap_or_default(),
            Self::Quoted(text) => text.trim().to_owned(),
        };
        let parsed: std::result::Result<toml::value::Datetime, _> = text.parse();
        match parsed {
            Ok(date) if date.date.is_some() && date.time.is_none() => Ok(text),
            _ => Err(LessonFault::NoDate { text }),
        }
    }
}
