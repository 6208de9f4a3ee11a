//! The time offset between two angles, for people and programs.

use std::path::Path;

use serde::Serialize;

use super::worded;
use crate::messages::{self, WordedWarning, angles as said};
use crate::types::{Angles, Warning};

/// `swingpair.angles/1`.
#[derive(Debug, Clone, Serialize)]
pub struct AnglesJson<'a> {
    pub(crate) schema: &'static str,
    /// Names of the two files.
    pub clips: [String; 2],
    #[serde(flatten)]
    pub(crate) angles: &'a Angles,
    /// Each as code and sentence.
    pub warnings: Vec<WordedWarning>,
}

/// How two clips of one swing are lined up, as `angles --json` prints it.
pub fn angles_json<'a>(clips: [&Path; 2], angles: &'a Angles, warnings: &[Warning]) -> AnglesJson<'a> {
    AnglesJson {
        schema: "swingpair.angles/1",
        clips: clips.map(crate::types::file_name),
        angles,
        warnings: worded::warnings(warnings),
    }
}

/// The same in words.
pub fn angles_text(clips: [&Path; 2], angles: &Angles) -> String {
    let line = |name: &str, value: String| format!("  {name:<14} {value}");
    let mut lines =
        vec![said::offset(clips[0], clips[1], angles), line(said::BY, said::by(angles.by).to_owned())];
    if let Some(heard) = &angles.heard {
        let next = heard.runner_up.map(|r| (r.offset_s, r.share));
        lines.push(line(said::CONFIDENCE, said::confidence(heard.confidence, next)));
        lines.push(line(said::SHARED, said::shared(heard.shared, heard.alike)));
    }
    lines.push(line(said::DRIFT, said::drift(angles.offset.drift.as_ref())));
    lines.push(line(said::DISTANCES, said::distances(angles)));
    for event in &angles.events {
        lines.push(line(messages::event(event.event), said::shared_event(event)));
    }
    lines.join("\n")
}
