//! What a reading depends on, as a line that is kept with it.

use serde::Serialize;

use super::params;
use super::read::ReadOptions;
use crate::store;
use crate::swing;
use crate::tracking;
use crate::types::{Error, Param, Point, Result};

/// The settings of tracking as one line: with another line the pictures must be looked at again.
pub(super) fn settings(options: &ReadOptions) -> Result<String> {
    #[derive(Serialize)]
    struct Line<'a> {
        track: &'a str,
        recorded_at_hz: Option<f64>,
        hitter: Option<Point>,
        #[serde(skip_serializing_if = "Option::is_none")]
        swing: Option<usize>,
        keypoints: Option<&'a str>,
        keypoints_rate_hz: Option<f64>,
    }
    let track = constants(&[tracking::PARAMS, params::TABLES].concat());
    let keypoints = options.keypoints.as_deref().map(store::content_hash).transpose()?;
    let line = Line {
        track: &track,
        recorded_at_hz: options.recorded_at_hz,
        hitter: options.hitter,
        swing: options.swing,
        keypoints: keypoints.as_deref(),
        keypoints_rate_hz: options.keypoints_rate_hz,
    };
    serde_json::to_string(&line).map_err(|e| Error::Internal(e.to_string()))
}

/// Tuned constants as a short hash: what was made with other ones is made again.
fn constants(tables: &[&[Param]]) -> String {
    let text: String = tables.iter().copied().flatten().map(|p| format!("{}={};", p.name, p.value)).collect();
    store::short_hash(text.as_bytes())
}

/// Every setting that a reading depends on, as one line.
pub fn settings_line(options: &ReadOptions) -> Result<String> {
    let tracking = settings(options)?;
    let ReadOptions { height_cm, bat_cm, known_length, mic_distance_m, known_hitter, .. } = options;
    let own = (constants(swing::PARAMS), height_cm, bat_cm, known_length, mic_distance_m, known_hitter);
    let rest = serde_json::to_string(&own).map_err(|e| Error::Internal(e.to_string()))?;
    Ok(format!("{tracking} {rest}"))
}
