//! Two explanations that fit about as well: only what both say is given.

use super::Swing;
use super::params::{ONE_SWING_S, SAME_MOMENT_S};
use crate::types::{AbsentReason, Tie, Warning};

/// Whether two readings tell of another hitter or another moment.
pub fn differ(a: &Swing, b: &Swing) -> bool {
    let contact = |s: &Swing| s.events.get(&crate::types::EventId::Contact).map_or(0.0, |e| e.time_s);
    a.hitter != b.hitter || (contact(a) - contact(b)).abs() > ONE_SWING_S
}

/// Takes out of a reading what the other does not say too, and tells of the doubt.
pub fn keep_what_agrees(swing: &mut Swing, other: &Swing) {
    swing.events.retain(|id, event| {
        let again = other.events.get(id);
        again.is_some_and(|o| (o.time_s - event.time_s).abs() <= SAME_MOMENT_S.max(event.plus_minus_s))
    });
    let gone: Vec<_> = swing
        .measures
        .iter()
        .filter(|(id, m)| {
            let again = other.measures.get(id);
            again.is_none_or(|o| (o.value - m.value).abs() > m.plus_minus.max(o.plus_minus))
        })
        .map(|(id, _)| *id)
        .collect();
    let tie = if swing.hitter.bats != other.hitter.bats {
        Tie::Bats { sides: [swing.hitter.bats, other.hitter.bats] }
    } else if swing.hitter.pitcher_side != other.hitter.pitcher_side {
        Tie::Pitcher
    } else {
        Tie::Moment
    };
    for id in gone {
        swing.measures.remove(&id);
        swing.absent.insert(id, AbsentReason::TwoReadings { tie });
    }
    swing.warnings.insert(0, Warning::ExplanationsTie { tie });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::messages;
    use crate::types::{
        Event, EventId, Hitter, Measure, MeasureId, PitcherSide, Scale, Side, Source, Unit, View,
    };

    fn swing(hitter: Hitter, events: &[(EventId, f64)], measures: &[(MeasureId, f64)]) -> Swing {
        let event =
            |time_s| Event { time_s, plus_minus_s: 0.010, frame: 0, source: Source::Motion, confidence: 0.7 };
        let measure = |value| Measure { value, plus_minus: 5.0, unit: Unit::Deg };
        Swing {
            hitter,
            scale: Scale {
                body_height_px: 400.0,
                body_height_error: 0.04,
                px_per_cm: None,
                px_per_cm_error: 0.0,
            },
            events: events.iter().map(|(id, t)| (*id, event(*t))).collect(),
            measures: measures.iter().map(|(id, v)| (*id, measure(*v))).collect(),
            absent: Default::default(),
            warnings: vec![Warning::ToeTap { taps: 1 }],
        }
    }

    const RIGHT: Hitter =
        Hitter { bats: Side::Right, pitcher_side: PitcherSide::Right, view: View::OpenSide };
    const LEFT: Hitter = Hitter { bats: Side::Left, view: View::ClosedSide, ..RIGHT };
    const OTHER_WAY: Hitter = Hitter { pitcher_side: PitcherSide::Left, view: View::ClosedSide, ..RIGHT };

    #[test]
    fn what_agrees_stays_and_what_does_not_goes_with_the_reason() {
        let mut one = swing(
            RIGHT,
            &[(EventId::Load, 0.9), (EventId::Plant, 1.3), (EventId::Contact, 1.5), (EventId::Finish, 2.0)],
            &[
                (MeasureId::FrontKneeAtPlant, 150.0),
                (MeasureId::FrontKneeAtContact, 165.0),
                (MeasureId::FirstHandTravelDirection, 30.0),
            ],
        );
        // A finish that is known to a tenth of a second only.
        one.events.get_mut(&EventId::Finish).unwrap().plus_minus_s = 0.1;
        let other = swing(
            LEFT,
            &[(EventId::Plant, 1.34), (EventId::Contact, 1.52), (EventId::Finish, 2.09)],
            &[(MeasureId::FrontKneeAtPlant, 154.0), (MeasureId::FrontKneeAtContact, 100.0)],
        );
        let before = one.clone();
        keep_what_agrees(&mut one, &other);
        assert_eq!(one.events.keys().collect::<Vec<_>>(), [&EventId::Contact, &EventId::Finish]);
        assert_eq!(one.events[&EventId::Contact], before.events[&EventId::Contact], "its own moment");
        assert_eq!(one.measures.keys().collect::<Vec<_>>(), [&MeasureId::FrontKneeAtPlant]);
        assert_eq!(one.measures[&MeasureId::FrontKneeAtPlant].value, 150.0);
        for id in [MeasureId::FrontKneeAtContact, MeasureId::FirstHandTravelDirection] {
            assert!(matches!(one.absent[&id], AbsentReason::TwoReadings { .. }), "{id:?}");
        }
        assert_eq!(one.absent.len(), 2);
        let codes: Vec<&str> = one.warnings.iter().map(crate::types::Warning::code).collect();
        assert_eq!(codes, ["explanations_tie", "toe_tap"]);
    }

    /// The sentence and every reason name the same way out.
    #[test]
    fn each_doubt_names_its_way_out() {
        let later = swing(RIGHT, &[(EventId::Contact, 2.5)], &[]);
        let cases = [
            (swing(LEFT, &[(EventId::Contact, 1.5)], &[]), "--bats", "right or left"),
            (swing(OTHER_WAY, &[(EventId::Contact, 1.5)], &[]), "--pitcher", "pitcher's side"),
            (later, "contact", "Two moments"),
        ];
        for (other, way_out, words) in cases {
            let mut one = swing(RIGHT, &[(EventId::Contact, 1.5)], &[(MeasureId::FrontKneeAtPlant, 150.0)]);
            assert!(differ(&one, &other));
            keep_what_agrees(&mut one, &other);
            let reported = messages::warning(&one.warnings[0]);
            assert!(reported.contains(way_out) && reported.contains(words), "{reported}");
            let reason = messages::absent_reason(&one.absent[&MeasureId::FrontKneeAtPlant]);
            assert!(reason.contains(way_out), "{reported} {reason}");
            for other_way in ["--bats", "--pitcher", "contact"].into_iter().filter(|w| *w != way_out) {
                assert!(!reported.contains(other_way) && !reason.contains(other_way), "{reported} {reason}");
            }
        }
    }

    #[test]
    fn the_same_hitter_and_moment_is_no_other_reading() {
        let at = |contact_s| swing(RIGHT, &[(EventId::Contact, contact_s)], &[]);
        assert!(!differ(&at(1.5), &at(1.6)));
        assert!(differ(&at(1.5), &at(1.7)));
        assert!(differ(&at(1.5), &swing(LEFT, &[(EventId::Contact, 1.5)], &[])));
    }
}
