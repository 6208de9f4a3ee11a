//! The shot plan: what the clip shows, in order, as data. And its reading into output pictures.

use serde::{Deserialize, Serialize};

use crate::ground::{EventId, Events, Pairing, Reading};

/// A moment of today's swing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Moment {
    pub event: EventId,
    /// Real seconds after it (negative: before).
    #[serde(default)]
    pub offset_s: f64,
}

/// A beat of rest on one moment.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Hold {
    pub event: EventId,
    /// Output seconds.
    pub seconds: f64,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shot {
    /// The two swings, from one moment to another.
    Swing {
        from: Moment,
        to: Moment,
        /// How many times slower than life; 1 = full speed.
        slow: f64,
        holds: Vec<Hold>,
    },
    /// The closing card with what was measured.
    Card {
        /// Output seconds.
        seconds: f64,
    },
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    pub shots: Vec<Shot>,
}

/// What one output picture shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beat {
    /// Place in [`Plan::shots`].
    pub shot: usize,
    /// When it is shown in the made clip, s.
    pub output_time_s: f64,
    pub shows: Shows,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shows {
    Swing {
        /// Wanted real time in each clip, s.
        today_s: f64,
        reference_s: f64,
        slow: f64,
        /// Resting on this event.
        hold: Option<EventId>,
    },
    Card,
}

impl Plan {
    /// Once at full speed; once slowed with a beat on the moment the two are lined up on and a
    /// shorter one on contact; a closing card. 12–18 s at the usual tempo of a swing.
    pub fn usual(zero: EventId, slow: f64) -> Self {
        let at = |event, offset_s| Moment { event, offset_s };
        let mut holds = vec![Hold { event: zero, seconds: 1.4 }];
        if zero != EventId::Contact {
            holds.push(Hold { event: EventId::Contact, seconds: 1.0 });
        }
        Self {
            shots: vec![
                Shot::Swing {
                    from: at(EventId::Load, -0.15),
                    to: at(EventId::Finish, 0.1),
                    slow: 1.0,
                    holds: Vec::new(),
                },
                Shot::Swing {
                    from: at(EventId::Plant, -0.42),
                    to: at(EventId::Extension, 0.08),
                    slow,
                    holds,
                },
                Shot::Card { seconds: 5.0 },
            ],
        }
    }

    /// Every output picture at `rate_hz`. `snap` moves a real time of today's clip to the nearest
    /// picture's own, so that a shot that shows each real picture once does not waver between two.
    pub fn beats(
        &self,
        today: &Reading,
        pairing: &Pairing,
        rate_hz: f64,
        snap: impl Fn(f64) -> f64,
    ) -> Vec<Beat> {
        let mut beats = Vec::new();
        for (shot, what) in self.shots.iter().enumerate() {
            match what {
                Shot::Card { seconds } => {
                    for _ in 0..count(*seconds, rate_hz) {
                        push(&mut beats, shot, rate_hz, Shows::Card);
                    }
                }
                Shot::Swing { from, to, slow, holds } => {
                    let slow = slow.max(0.05);
                    let start_s = snap(moment_s(*from, &today.events, pairing));
                    let end_s = moment_s(*to, &today.events, pairing).max(start_s);
                    let mut rests: Vec<(f64, Hold)> = holds
                        .iter()
                        .filter_map(|h| Some((snap(event_s(h.event, &today.events, pairing)?), *h)))
                        .filter(|(at_s, _)| (start_s..=end_s).contains(at_s))
                        .collect();
                    rests.sort_by(|a, b| b.0.total_cmp(&a.0));
                    let step_s = 1.0 / (rate_hz * slow);
                    let mut push_at = |today_s: f64, hold| {
                        let reference_s = pairing.time_map.reference_from_today(today_s);
                        push(&mut beats, shot, rate_hz, Shows::Swing { today_s, reference_s, slow, hold });
                    };
                    for k in 0..=count((end_s - start_s) * slow, rate_hz) {
                        let mut today_s = start_s + k as f64 * step_s;
                        while let Some((at_s, hold)) = rests.pop_if(|(at_s, _)| *at_s <= today_s + 1e-6) {
                            for _ in 0..count(hold.seconds, rate_hz) {
                                push_at(at_s, Some(hold.event));
                            }
                            today_s = today_s.max(at_s);
                        }
                        push_at(today_s, None);
                    }
                }
            }
        }
        beats
    }
}

fn count(seconds: f64, rate_hz: f64) -> usize {
    (seconds * rate_hz).round().clamp(0.0, 1e7) as usize
}

fn push(beats: &mut Vec<Beat>, shot: usize, rate_hz: f64, shows: Shows) {
    beats.push(Beat { shot, output_time_s: beats.len() as f64 / rate_hz, shows });
}

/// Today's real time of an event: as read, or as it was lined up.
fn event_s(event: EventId, events: &Events, pairing: &Pairing) -> Option<f64> {
    let knot = pairing.time_map.knots.iter().find(|k| k.event == event);
    knot.map(|k| k.today_s).or_else(|| events.get(&event).map(|e| e.time_s))
}

/// Usual time of each event from contact, s: where one was not found, the shot still begins and ends
/// at a sensible place. Common practice, no source; only where a shot is cut depends on it.
const fn usual_s(event: EventId) -> f64 {
    match event {
        EventId::Stance => -1.4,
        EventId::Load => -0.75,
        EventId::FootOff => -0.6,
        EventId::Touch => -0.22,
        EventId::Plant => -0.175,
        EventId::HandsStart => -0.15,
        EventId::Contact => 0.0,
        EventId::Extension => 0.08,
        EventId::Finish => 0.35,
    }
}

/// Today's real time of a moment; an event that was not found is placed from the one it is lined up on.
fn moment_s(moment: Moment, events: &Events, pairing: &Pairing) -> f64 {
    let zero = pairing.time_map.zero;
    let from_zero = || pairing.time_map.zero_today_s() + usual_s(moment.event) - usual_s(zero);
    event_s(moment.event, events, pairing).unwrap_or_else(from_zero) + moment.offset_s
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clip::sample;

    fn beats(slow: f64) -> Vec<Beat> {
        let (today, _, pairing) = sample::pair();
        Plan::usual(EventId::Plant, slow).beats(&today, &pairing, 30.0, |s| (s * 240.0).round() / 240.0)
    }

    #[test]
    fn the_usual_plan_lasts_12_to_18_seconds() {
        let beats = beats(8.0);
        let seconds = beats.len() as f64 / 30.0;
        assert!((12.0..=18.0).contains(&seconds), "{seconds}");
        for (i, beat) in beats.iter().enumerate() {
            assert!((beat.output_time_s - i as f64 / 30.0).abs() < 1e-9);
        }
    }

    #[test]
    fn eight_times_slowed_shows_every_picture_of_240_hz_once() {
        let shown: Vec<i64> = beats(8.0)
            .iter()
            .filter_map(|b| match b.shows {
                Shows::Swing { today_s, slow, hold: None, .. } if slow > 1.0 => {
                    Some((today_s * 240.0).round() as i64)
                }
                _ => None,
            })
            .collect();
        assert!(shown.len() > 100);
        assert!(shown.windows(2).all(|w| w[1] - w[0] == 1), "{shown:?}");
    }

    #[test]
    fn holds_rest_on_their_event_and_time_never_goes_back_inside_a_shot() {
        for slow in [1.0, 3.0, 8.0] {
            let beats = beats(slow);
            for pair in beats.windows(2) {
                if let (Shows::Swing { today_s: a, .. }, Shows::Swing { today_s: b, .. }) =
                    (pair[0].shows, pair[1].shows)
                {
                    assert!(pair[0].shot != pair[1].shot || b >= a);
                }
            }
            let held = |event| {
                let rest = |b: &&Beat| matches!(b.shows, Shows::Swing { hold: Some(h), .. } if h == event);
                beats.iter().filter(rest).count()
            };
            assert_eq!((held(EventId::Plant), held(EventId::Contact)), (42, 30));
        }
    }

    #[test]
    fn an_event_that_was_not_found_still_gives_a_shot() {
        let (mut today, _, pairing) = sample::pair();
        today.events.retain(|id, _| *id == EventId::Plant);
        let mut pairing = pairing;
        pairing.time_map.knots.retain(|k| k.event == EventId::Plant);
        let beats = Plan::usual(EventId::Plant, 8.0).beats(&today, &pairing, 30.0, |s| s);
        assert!(beats.len() > 200);
    }
}
