//! The stretch in which the hands swing the bat.

use super::explain::{Explanation, HandDirection};
use super::figure::{hands_series, part_series};
use super::params::{FASTEST_TO_CONTACT_S, PEAK_TO_CONTACT_S, STOP_SHARE};
use super::series::{Series, moments};
use crate::math::quantile;
use crate::types::{Part, Track};

#[derive(Debug, Clone, Copy)]
pub struct Burst {
    /// When the hands are fastest on their way to the ball, s.
    pub peak_s: f64,
    /// How fast, body heights per s.
    pub peak: f64,
    /// When the bat meets the ball, as far as the hands tell, s.
    pub contact_s: f64,
}

impl Burst {
    /// Where the hands are fastest in the explanation's stretch; `track` in steady px.
    pub fn of(track: &Track, explanation: &Explanation, body_height_px: f64, step_s: f64) -> Self {
        let hands = hands_series(track);
        let half_s = (1.7 * step_s).max(0.025);
        let stretch = &explanation.stretch;
        // The bat takes the hands' speed: how soon they stop going forward tells how soon it is there.
        let contact_s = stretch.fastest_s
            + match stretch.toward {
                HandDirection::Any => PEAK_TO_CONTACT_S,
                _ => FASTEST_TO_CONTACT_S + STOP_SHARE * (stretch.to_s - stretch.fastest_s),
            };
        // After the fastest moment toward the pitcher only what still belongs to it counts: round the body
        // the hands may be faster.
        let to_s = stretch.fastest_s + 0.5 * (stretch.to_s - stretch.fastest_s);
        moments(stretch.from_s, to_s, (step_s / 2.0).min(1.0 / 240.0))
            .filter_map(|t| Some((t, hands.fit(t, half_s)?.velocity.length() / body_height_px)))
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map_or(Self { peak_s: stretch.fastest_s, peak: stretch.fastest, contact_s }, |(peak_s, peak)| {
                Self { peak_s, peak, contact_s }
            })
    }
}

/// Median distance of the wrists between two times, px; 0 when only one is ever seen.
pub fn hands_apart(track: &Track, from_s: f64, to_s: f64) -> f64 {
    let apart: Vec<f64> = track
        .poses
        .iter()
        .filter(|p| p.time_s >= from_s && p.time_s <= to_s)
        .filter_map(|p| Some(p.at(Part::LeftWrist)?.distance(p.at(Part::RightWrist)?)))
        .collect();
    quantile(apart, 0.4).unwrap_or(0.0)
}

/// The two parts' middle as a series, px.
pub fn middle_series(track: &Track, part: Part) -> Series {
    let (a, b) = (part_series(track, part), part_series(track, part.other_side()));
    let mut series = Series::default();
    for (t, p) in a.times_s.iter().zip(&a.points) {
        if let Ok(i) = b.times_s.binary_search_by(|x| x.total_cmp(t)) {
            series.push(*t, p.midpoint(b.points[i]));
        }
    }
    series
}
