//! What was heard beside what was seen: which of the two counts.

use crate::types::{
    Angles, EventId, Events, HeardOffset, LinedUpBy, Offset, SPEED_OF_SOUND_M_S, SharedEvent, Unheard,
};

/// How late sound is at the two microphones.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SoundDelays {
    /// Travel time of sound to each microphone, s.
    pub delays_s: [f64; 2],
    /// Error of the difference of the two, s.
    pub plus_minus_s: f64,
    /// A person gave the distances.
    pub given: bool,
}

/// A distance that is given is right within so much (95 %), m.
const PACED_M: f64 = 0.35;

impl SoundDelays {
    /// Without any distance: one phone may stand 8 m farther away than the other, s.
    pub const NOT_KNOWN_S: f64 = 8.0 / SPEED_OF_SOUND_M_S;

    /// Microphone to plate, m.
    pub fn given(distances_m: [f64; 2]) -> Self {
        Self {
            delays_s: distances_m.map(|m| m / SPEED_OF_SOUND_M_S),
            plus_minus_s: std::f64::consts::SQRT_2 * PACED_M / SPEED_OF_SOUND_M_S,
            given: true,
        }
    }
}

/// Moments that two cameras on one swing see as the same.
const SHARED: [EventId; 2] = [EventId::Plant, EventId::Contact];

/// The offset that counts; `events` of both clips where they were read. `None` where neither sound nor picture tells.
pub fn agreed(
    heard: Result<HeardOffset, Unheard>,
    ways: SoundDelays,
    events: Option<[&Events; 2]>,
) -> (Option<Angles>, Option<Unheard>) {
    let (heard, unheard) = match heard {
        Ok(heard) => (Some(heard), None),
        Err(why) => (None, Some(why)),
    };
    let between_s = ways.delays_s[1] - ways.delays_s[0];
    let through_air = |o: Offset| Offset {
        offset_s: o.offset_s - between_s,
        plus_minus_s: o.plus_minus_s.hypot(ways.plus_minus_s),
        ..o
    };
    let mut shared = events.map(shared).unwrap_or_default();
    let seen = mean(&shared);
    let at_s =
        events.and_then(|[a, _]| Some(a.get(&EventId::Contact).or_else(|| a.get(&EventId::Plant))?.time_s));
    let by_sound = heard.as_ref().map(|h| through_air(h.offset));
    for event in &mut shared {
        event.agrees =
            by_sound.map(|o| (o.offset_s - event.offset_s).abs() <= o.plus_minus_s.hypot(event.plus_minus_s));
    }
    let plain =
        |offset_s, plus_minus_s| Offset { at_s: at_s.unwrap_or(0.0), offset_s, plus_minus_s, drift: None };
    // Both moments against the sound: then a file's sound lies beside its pictures, and those are what is shown.
    let overruled = shared.len() >= 2 && shared.iter().all(|e| e.agrees == Some(false));
    let picture = || seen.map(|(offset_s, plus_minus_s)| (plain(offset_s, plus_minus_s), LinedUpBy::Picture));
    let chosen = match by_sound {
        Some(sound) if !overruled => {
            let by_contact = heard.as_ref().is_some_and(|h| h.by_contact);
            Some((sound, if by_contact { LinedUpBy::SoundAndPicture } else { LinedUpBy::Sound }))
        }
        _ => picture(),
    };
    match chosen {
        Some((offset, by)) => {
            let angles = Angles {
                offset,
                by,
                heard,
                unheard: unheard.clone(),
                events: shared,
                sound_delays_s: ways.delays_s,
                sound_delays_plus_minus_s: ways.plus_minus_s,
                distances_given: ways.given,
            };
            (Some(angles), unheard)
        }
        None => (None, unheard),
    }
}

fn shared([first, second]: [&Events; 2]) -> Vec<SharedEvent> {
    let both = |event: EventId| {
        let (a, b) = (first.get(&event)?, second.get(&event)?);
        let plus_minus_s = a.plus_minus_s.hypot(b.plus_minus_s);
        Some(SharedEvent { event, offset_s: b.time_s - a.time_s, plus_minus_s, agrees: None })
    };
    SHARED.into_iter().filter_map(both).collect()
}

/// Mean of the shared events' offsets, each weighed by its own error, and its ±.
fn mean(shared: &[SharedEvent]) -> Option<(f64, f64)> {
    let weight = |e: &SharedEvent| e.plus_minus_s.max(1e-4).powi(-2);
    let sum: f64 = shared.iter().map(weight).sum();
    (sum > 0.0).then(|| (shared.iter().map(|e| e.offset_s * weight(e)).sum::<f64>() / sum, sum.powf(-0.5)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::types::{Event, Source};

    fn events(plant_s: f64, contact_s: f64, plus_minus_s: f64) -> Events {
        let event =
            |time_s| Event { time_s, plus_minus_s, frame: 0, source: Source::Motion, confidence: 0.7 };
        Events::from([(EventId::Plant, event(plant_s)), (EventId::Contact, event(contact_s))])
    }

    fn heard(offset_s: f64) -> HeardOffset {
        HeardOffset {
            offset: Offset { at_s: 1.5, offset_s, plus_minus_s: 0.001, drift: None },
            confidence: 0.9,
            runner_up: None,
            shared: 3,
            alike: true,
            other_places: false,
            by_contact: false,
        }
    }

    #[test]
    fn the_ways_through_the_air_are_taken_out() {
        let (angles, _) = agreed(Ok(heard(0.5)), SoundDelays::given([6.0, 9.0]), None);
        let offset = angles.unwrap().offset;
        assert!((offset.offset_s - (0.5 - 3.0 / 343.4)).abs() < 1e-9);
        assert!(offset.plus_minus_s > 0.001 && offset.plus_minus_s < 0.003);
    }

    #[test]
    fn one_moment_against_the_sound_is_said_and_both_overrule_it() {
        let (first, ways) = (events(1.3, 1.5, 0.02), SoundDelays::given([6.0, 6.0]));
        let one_off = events(1.9, 2.0, 0.02);
        let (angles, _) = agreed(Ok(heard(0.5)), ways, Some([&first, &one_off]));
        let angles = angles.unwrap();
        assert_eq!(angles.by, LinedUpBy::Sound);
        assert_eq!(angles.events.iter().map(|e| e.agrees).collect::<Vec<_>>(), [Some(false), Some(true)]);
        let both_off = events(1.97, 2.17, 0.02);
        let (angles, _) = agreed(Ok(heard(0.5)), ways, Some([&first, &both_off]));
        let angles = angles.unwrap();
        assert_eq!(angles.by, LinedUpBy::Picture);
        assert!((angles.offset.offset_s - 0.67).abs() < 1e-9);
    }

    #[test]
    fn without_sound_what_is_seen_counts_with_its_error_and_without_both_there_is_nothing() {
        let (first, second) = (events(1.3, 1.5, 0.02), events(1.6, 1.8, 0.02));
        let none = || Err(Unheard::NoSound { clip: 1 });
        let ways = SoundDelays::given([6.0, 9.0]);
        let (angles, why) = agreed(none(), ways, Some([&first, &second]));
        let angles = angles.unwrap();
        assert_eq!((angles.by, why), (LinedUpBy::Picture, Some(Unheard::NoSound { clip: 1 })));
        // Two differences of ± 28 ms each.
        assert!(
            (angles.offset.plus_minus_s - 0.02).abs() < 1e-9 && (angles.offset.offset_s - 0.3).abs() < 1e-9
        );
        assert!(agreed(none(), ways, None).0.is_none());
    }
}
