//! Readings as plain text for a terminal.

use std::collections::BTreeMap;

use super::page::not_aligned;
use super::worded;
use crate::messages::{self, Captions, reading as said_of_reading};
use crate::types::{Absent, Difference, Pairing, Reading, Verdict};

/// Events and measures of one swing, a line each.
pub fn reading_text(words: &Captions, reading: &Reading) -> String {
    let mut lines =
        vec![said_of_reading::clip(&reading.clip), said_of_reading::hitter(&reading.hitter), String::new()];
    let mut events: Vec<_> = reading.events.iter().collect();
    events.sort_by(|a, b| a.1.time_s.total_cmp(&b.1.time_s));
    for (id, e) in events {
        lines.push(format!("  {}", said_of_reading::event(*id, e.time_s, e.plus_minus_s, e.frame, e.source)));
    }
    lines.push(String::new());
    for (id, m) in &reading.measures {
        let aside = messages::aside(*id, m).map(|a| format!(" ({a})")).unwrap_or_default();
        lines.push(format!("  {:<32} {}{aside}", words.measure(*id), words.value(*id, m)));
    }
    lines.extend(absent_lines(words, &reading.absent));
    lines.join("\n")
}

/// A line for each reason, with all the measures it holds for; a reason for many comes first.
fn absent_lines(words: &Captions, absent: &Absent) -> Vec<String> {
    let mut by_reason: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    for (id, why) in worded::absent(absent) {
        by_reason.entry(why).or_default().push(words.measure(id));
    }
    let mut groups: Vec<_> = by_reason.into_iter().collect();
    groups.sort_by_key(|(_, measures)| std::cmp::Reverse(measures.len()));
    groups.iter().map(|(why, measures)| format!("  {}", messages::absent(why, measures))).collect()
}

/// The verdict in words, with an apostrophe that can be typed. The rate is the slower camera's, or today's
/// where the good reps' own spread holds what their cameras add.
pub(super) fn said(d: &Difference, pairing: &Pairing, today: &Reading, reference: &Reading) -> String {
    let rate_hz = today.clip.capture_rate_hz;
    let ranged = pairing.good_reps.as_ref().is_some_and(|g| g.counted > 0);
    let rate_hz = if ranged { rate_hz } else { rate_hz.min(reference.clip.capture_rate_hz) };
    messages::verdict(d, rate_hz).replace('’', "'")
}

/// What a coach acts on: what changed, what stayed, what would settle the rest.
pub fn pairing_summary(words: &Captions, pairing: &Pairing) -> String {
    use messages::settle;
    let mut changed: Vec<&Difference> =
        pairing.differences.iter().filter(|d| d.verdict == Verdict::Bigger).collect();
    changed.sort_by(|a, b| b.clearness().total_cmp(&a.clearness()));
    let mut lines = Vec::new();
    if !changed.is_empty() {
        lines.push(settle::CHANGED.to_owned());
        let shown = changed.iter().take(settle::MOST_CHANGES);
        lines.extend(
            shown.map(|d| format!("  {:<32} {}", words.measure(d.measure), settle::change(words, d))),
        );
        let more: Vec<&str> =
            changed.iter().skip(settle::MOST_CHANGES).map(|d| words.measure(d.measure)).collect();
        if !more.is_empty() {
            lines.push(format!("  {}", words.also(words.verdict_of_several(Verdict::Bigger), &more, 0)));
        }
    }
    lines.extend(settle::same(words, &pairing.differences));
    lines.extend(words.rest(&pairing.differences));
    lines.extend(settle::filmed(&pairing.filmed));
    lines.extend(pairing.why_no_registration.map(not_aligned));
    lines.join("\n")
}

/// The differences of two swings, or of today's and the range of the good reps, a line each; `reference` is the
/// rep that is shown.
pub fn pairing_text(words: &Captions, pairing: &Pairing, today: &Reading, reference: &Reading) -> String {
    let mut lines = Vec::new();
    let line = |cells: [&str; 5]| {
        let [name, today, reference, difference, said] = cells;
        format!("  {name:<32} {today:>20}  {reference:>20}  {difference:>16}   {said}")
    };
    let ranged = pairing.good_reps.as_ref().filter(|g| g.counted > 0);
    let reference_side =
        ranged.map_or_else(|| said_of_reading::REFERENCE.to_owned(), |g| words.good_reps(g.counted));
    if !pairing.differences.is_empty() {
        lines.push(line([
            "",
            said_of_reading::TODAY,
            &reference_side,
            messages::page::DIFFERENCE,
            messages::AGAINST_USUAL,
        ]));
    }
    for d in &pairing.differences {
        lines.push(line([
            words.measure(d.measure),
            &words.value(d.measure, &d.today),
            &words.range(d).unwrap_or_else(|| words.value(d.measure, &d.reference)),
            &words.difference(d),
            &said(d, pairing, today, reference),
        ]));
    }
    if let Some(good) = &pairing.good_reps {
        let name = if ranged.is_some() { Captions::shown_rep } else { Captions::good_rep };
        let name = name(words, good.shown, good.reps.len()).to_lowercase();
        lines.push(format!("  {}", said_of_reading::shown(&reference.clip.path, &name)));
    }
    lines.extend(pairing.why_no_registration.map(|why| format!("  {}", not_aligned(why))));
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{AbsentReason, MeasureId};

    #[test]
    fn measures_with_one_reason_share_a_line() {
        let absent = Absent::from([
            (MeasureId::BatSpeed, AbsentReason::BatTooFast),
            (MeasureId::StrideLength, AbsentReason::AlongThePitch),
            (MeasureId::FrontKneeAtPlant, AbsentReason::AlongThePitch),
        ]);
        assert_eq!(
            absent_lines(messages::english(), &absent),
            [
                format!("  not measured, {}: Stride, Front knee at plant", messages::swing::ALONG),
                format!("  not measured, {}: Bat speed at contact", messages::swing::BAT_TOO_FAST),
            ]
        );
    }
}
