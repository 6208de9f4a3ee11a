//! How two angles lie to each other, for people and programs.

use std::path::Path;

use serde::Serialize;

use crate::messages::{self, angles as said};
use crate::types::{Angles, Warning};

/// `swingpair.angles/1`.
#[derive(Debug, Clone, Serialize)]
pub struct AnglesJson<'a> {
    pub schema: &'static str,
    /// Names of the two files.
    pub clips: [String; 2],
    #[serde(flatten)]
    pub angles: &'a Angles,
    pub warnings: &'a [Warning],
}

pub fn angles_json<'a>(clips: [&Path; 2], angles: &'a Angles, warnings: &'a [Warning]) -> AnglesJson<'a> {
    AnglesJson { schema: "swingpair.angles/1", clips: clips.map(crate::types::file_name), angles, warnings }
}

pub fn angles_text(clips: [&Path; 2], angles: &Angles) -> String {
    let line = |name: &str, value: String| format!("  {name:<14} {value}");
    let mut lines =
        vec![said::offset(clips[0], clips[1], angles), line("lined up by", said::by(angles.by).to_owned())];
    if let Some(heard) = &angles.heard {
        let next = heard.runner_up.map_or_else(
            || "no other offset fits the sound".to_owned(),
            |r| {
                format!(
                    "next best {:+.3} s, {:.0} % as good",
                    r.offset_s,
                    (r.share * 100.0).clamp(0.0, 100.0)
                )
            },
        );
        lines.push(line("confidence", format!("{:.2}; {next}", heard.confidence)));
        let alike = if heard.alike { ", alike" } else { "" };
        lines.push(line("sounds shared", format!("{}{alike}", heard.shared)));
    }
    lines.push(line("clocks' drift", said::drift(angles.offset.drift.as_ref())));
    lines.push(line("distances", said::distances(angles)));
    for event in &angles.events {
        lines.push(line(messages::event(event.event), said::shared_event(event)));
    }
    lines.join("\n")
}
