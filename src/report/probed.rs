//! What `probe` prints.

use serde::Serialize;

use super::worded;
use crate::media::{PlayFacts, Private, Probed, ReadAs, Tracks};
use crate::messages::{WordedWarning, probe as messages, warning};
use crate::types::Warning;

/// What `probe --json` prints.
#[derive(Debug, Clone, Serialize)]
pub struct ProbedJson<'a> {
    /// `swingpair.probe/1`.
    pub schema: &'static str,
    pub(crate) stored: &'a PlayFacts,
    pub(crate) tracks: Tracks,
    pub(crate) read: Option<ReadAs>,
    pub(crate) private: &'a [Private],
    pub(crate) findings: Vec<WordedWarning>,
}

/// What is known of a file, as `probe --json` prints it.
pub fn probed_json(probed: &Probed) -> ProbedJson<'_> {
    ProbedJson {
        schema: probed.schema,
        stored: &probed.stored,
        tracks: probed.tracks,
        read: probed.read,
        private: &probed.private,
        findings: worded::warnings(&probed.findings),
    }
}

/// How the file is stored, what is made of it, and what its owner should know.
pub fn probed_text(probed: &Probed) -> String {
    let f = &probed.stored;
    let color = messages::color(f.matrix.as_deref(), f.wide_gamut, f.full_range);
    let mut lines = vec![messages::stored(
        messages::codec(&f.codec),
        &f.profile,
        messages::container(&f.container),
        &f.pixels,
        &color,
    )];
    if let Some(read) = &probed.read {
        let rate = (read.rate_hz * 100.0).round() / 100.0;
        lines.push(messages::read_as(
            read.width,
            read.height,
            read.pictures,
            read.duration_s,
            &rate.to_string(),
        ));
        let slowed = (read.slow_factor - 1.0).abs() > 0.01;
        let time = if probed.findings.iter().any(|w| matches!(w, Warning::SpeedChanges { .. })) {
            messages::SLOWED_PART.to_owned()
        } else if slowed {
            messages::slow(read.slow_factor, read.capture_rate_hz)
        } else {
            messages::REAL_TIME.to_owned()
        };
        lines.push(format!("          {time}, {}", messages::sound(f.sound.as_deref())));
    }
    if probed.tracks.other > 0 {
        lines.push(format!("          {}", messages::other_tracks(probed.tracks.other)));
    }
    if !probed.private.is_empty() {
        let word = |p: &Private| match p {
            Private::Location => messages::PRIVATE[0],
            Private::Date => messages::PRIVATE[1],
            Private::Device => messages::PRIVATE[2],
            Private::Words => messages::PRIVATE[3],
        };
        let which: Vec<&str> = probed.private.iter().map(word).collect();
        lines.push(format!("          {}", messages::private(&which)));
    }
    lines.extend(probed.findings.iter().map(|w| format!("warning: {}", warning(w))));
    lines.join("\n")
}
