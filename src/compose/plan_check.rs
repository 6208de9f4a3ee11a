//! Whether the numbers and texts of a plan lie in their ranges.

use std::cmp::Ordering;

use super::plan::{Moment, Plan, Shot};
use crate::types::{EventId, PlanFault};

const MOST_SHOTS: usize = 40;
const MOST_HOLDS: usize = 20;
const MOST_LINES: usize = 6;
/// A rest or a card lasts at most this long, s.
const LONGEST_STILL_S: f64 = 30.0;
/// Letters of one caption or line.
const LONGEST_TEXT: usize = 120;
const SLOW: std::ops::RangeInclusive<f64> = 0.25..=100.0;

impl Plan {
    /// Whether every number lies in its range.
    pub fn check(&self) -> std::result::Result<(), PlanFault> {
        let shots = self.shots.len();
        if shots == 0 || shots > MOST_SHOTS {
            return Err(PlanFault::ShotCount { shots, most: MOST_SHOTS });
        }
        for name in self.names.iter().flatten() {
            check_text(name).map_err(|fault| PlanFault::Name(Box::new(fault)))?;
        }
        // All at once, so that one look at the file mends them all.
        let wrong = |(i, shot): (usize, &Shot)| Some((i, check_shot(shot).err()?));
        let all: Vec<(usize, PlanFault)> = self.shots.iter().enumerate().filter_map(wrong).collect();
        if all.is_empty() { Ok(()) } else { Err(PlanFault::Shots(all)) }
    }
}

/// A shot between two moments of one event, or two events in their order, can be seen to run backwards without any clip.
fn check_order(from: &Moment, to: &Moment) -> std::result::Result<(), PlanFault> {
    let place = |m: &Moment| EventId::ALL.iter().position(|e| *e == m.event);
    // Load, foot off, and touch and plant may come together; hands may start before or after plant.
    let order = place(from).cmp(&place(to));
    let hands = from.event == EventId::HandsStart || to.event == EventId::HandsStart;
    let backwards = match order {
        Ordering::Equal => from.offset_s >= to.offset_s,
        Ordering::Greater => !hands && from.offset_s >= to.offset_s,
        Ordering::Less => false,
    };
    if backwards {
        return Err(PlanFault::Backwards { from: String::from(*from), to: String::from(*to) });
    }
    Ok(())
}

fn check_shot(shot: &Shot) -> std::result::Result<(), PlanFault> {
    match shot {
        Shot::Swing(s) => {
            check_order(&s.from, &s.to)?;
            if !SLOW.contains(&s.slow) {
                let (low, high) = (*SLOW.start(), *SLOW.end());
                return Err(PlanFault::OutOfRange { field: "slow", value: s.slow, low, high });
            }
            if s.holds.len() > MOST_HOLDS {
                return Err(PlanFault::TooManyHolds { holds: s.holds.len(), most: MOST_HOLDS });
            }
            for hold in &s.holds {
                check_still(hold.seconds)?;
                hold.caption.as_deref().map_or(Ok(()), check_text)?;
            }
            s.caption.as_deref().map_or(Ok(()), check_text)
        }
        Shot::Title { lines, seconds } => {
            if lines.is_empty() || lines.len() > MOST_LINES {
                return Err(PlanFault::TitleLines { most: MOST_LINES });
            }
            lines.iter().try_for_each(|l| check_text(l))?;
            check_still(*seconds)
        }
        Shot::Card { seconds } => check_still(*seconds),
    }
}

fn check_still(seconds: f64) -> std::result::Result<(), PlanFault> {
    if (0.0..=LONGEST_STILL_S).contains(&seconds) {
        return Ok(());
    }
    Err(PlanFault::OutOfRange { field: "seconds", value: seconds, low: 0.0, high: LONGEST_STILL_S })
}

fn check_text(text: &str) -> std::result::Result<(), PlanFault> {
    let letters = text.chars().count();
    if text.chars().any(char::is_control) {
        return Err(PlanFault::ControlCharacter);
    }
    if text.trim().is_empty() || letters > LONGEST_TEXT {
        return Err(PlanFault::TextLength { letters, most: LONGEST_TEXT });
    }
    Ok(())
}
