//! From a plan to output pictures: which moment of which swing each shows.

use super::layout::Layout;
use super::page::NAMED;
use super::plan::{Hold, Moment, Plan, Shot, SwingShot};
use super::stage::FrameState;
use crate::messages;
use crate::types::{Error, EventId, Events, Pairing, Reading, Result};

/// A made clip may last this long, s.
const LONGEST_S: f64 = 300.0;

/// What one output picture shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beat {
    /// Place in [`Plan::shots`].
    pub shot: usize,
    /// When it is shown in the made clip, s.
    pub output_time_s: f64,
    /// What is on the screen.
    pub shows: Shows,
}

/// What one output picture shows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shows {
    /// Both swings, or the one that the layout leaves.
    Swing {
        /// Wanted real time in each clip, s.
        today_s: f64,
        /// Real time in the reference's clip, s.
        reference_s: f64,
        /// How many times slower than life; 1 is full speed.
        slow: f64,
        /// Resting on this event.
        hold: Option<EventId>,
        /// The event whose picture was reached last, of those that a caption names.
        passed: Option<EventId>,
    },
    /// A title's lines alone.
    Title,
    /// The closing card.
    Card,
}

/// A shot's place in time.
pub(super) struct Span {
    /// Whose moments these are: 0 = today, 1 = the reference.
    pub lead: usize,
    pub start_s: f64,
    pub end_s: f64,
}

impl Plan {
    /// Every output picture at `rate_hz`. `asked` as in [`Plan::layout`]. `snap` moves a real time of a clip
    /// (0 = today, 1 = the reference) to the nearest picture's own, so that a shot that shows each real picture
    /// once does not waver between two. A plan that shows nothing or lasts too long is an error.
    pub fn beats(
        &self,
        readings: [&Reading; 2],
        pairing: &Pairing,
        rate_hz: f64,
        asked: Option<Layout>,
        snap: impl Fn(usize, f64) -> f64,
    ) -> Result<Vec<Beat>> {
        let mut beats = Vec::new();
        for (shot, what) in self.shots.iter().enumerate() {
            match what {
                Shot::Title { seconds, .. } => still(&mut beats, shot, rate_hz, *seconds, Shows::Title)?,
                Shot::Card { seconds } => still(&mut beats, shot, rate_hz, *seconds, Shows::Card)?,
                Shot::Swing(swing) => {
                    let span = self.span(what, swing, readings, pairing, asked);
                    let moment = |real_s| snap(span.lead, real_s);
                    swing_beats(&mut beats, shot, swing, &span, readings, pairing, rate_hz, moment)?;
                }
            }
        }
        if beats.is_empty() {
            let why: Vec<String> =
                self.warnings(readings, pairing, asked).iter().map(messages::warning).collect();
            return Err(Error::Usage(messages::shows_nothing(&why)));
        }
        Ok(beats)
    }

    pub(super) fn span(
        &self,
        what: &Shot,
        swing: &SwingShot,
        readings: [&Reading; 2],
        pairing: &Pairing,
        asked: Option<Layout>,
    ) -> Span {
        let lead = usize::from(self.layout(what, asked) == Some(Layout::ReferenceAlone));
        let reading = readings[lead];
        let last_s = last_s(reading);
        let start_s = moment_s(swing.from, lead, &reading.events, pairing).clamp(0.0, last_s);
        let end_s = moment_s(swing.to, lead, &reading.events, pairing).clamp(0.0, last_s);
        Span { lead, start_s, end_s: end_s.max(start_s) }
    }
}

/// Real time of the last picture, s.
fn last_s(reading: &Reading) -> f64 {
    let clip = &reading.clip;
    let by_length_s =
        (clip.duration_s / clip.slow_factor.max(1e-6) - 1.0 / clip.capture_rate_hz.max(1.0)).max(0.0);
    reading.track.poses.last().map_or(by_length_s, |p| p.time_s.max(by_length_s))
}

#[expect(clippy::too_many_arguments, reason = "one shot and all that it depends on")]
fn swing_beats(
    beats: &mut Vec<Beat>,
    shot: usize,
    swing: &SwingShot,
    span: &Span,
    readings: [&Reading; 2],
    pairing: &Pairing,
    rate_hz: f64,
    snap: impl Fn(f64) -> f64,
) -> Result<()> {
    let slow = swing.slow.max(0.05);
    let start_s = snap(span.start_s);
    let end_s = span.end_s.max(start_s);
    if end_s <= start_s {
        return Ok(());
    }
    let events = &readings[span.lead].events;
    let mut rests: Vec<(f64, &Hold)> = swing
        .holds
        .iter()
        .filter_map(|h| Some((snap(event_s(h.event, span.lead, events, pairing)?), h)))
        .filter(|(at_s, _)| (start_s..=end_s + 0.5 / (rate_hz * slow)).contains(at_s))
        .collect();
    // The last one first. Two events may fall in one picture: then they are rested on in their own order.
    rests.sort_by(|a, b| b.0.total_cmp(&a.0).then(b.1.event.cmp(&a.1.event)));
    let named = named(span.lead, events, pairing, &snap);
    let step_s = 1.0 / (rate_hz * slow);
    let map = &pairing.time_map;
    let mut push_at = |lead_s: f64, hold| {
        let (today_s, reference_s) = match span.lead {
            0 => (lead_s, map.reference_from_today(lead_s)),
            _ => (map.today_from_reference(lead_s), lead_s),
        };
        let passed = passed(&named, lead_s);
        push(beats, shot, rate_hz, Shows::Swing { today_s, reference_s, slow, hold, passed })
    };
    for k in 0..=count((end_s - start_s) * slow, rate_hz) {
        let mut lead_s = start_s + k as f64 * step_s;
        while let Some((at_s, hold)) = rests.pop_if(|(at_s, _)| *at_s <= lead_s + 1e-6) {
            for _ in 0..count(hold.seconds, rate_hz) {
                push_at(at_s, Some(hold.event))?;
            }
            lead_s = lead_s.max(at_s);
        }
        push_at(lead_s, None)?;
    }
    for (at_s, hold) in rests.into_iter().rev() {
        for _ in 0..count(hold.seconds, rate_hz) {
            push_at(at_s, Some(hold.event))?;
        }
    }
    Ok(())
}

/// The events that a caption names, each at its picture's own time.
fn named(lead: usize, events: &Events, pairing: &Pairing, snap: impl Fn(f64) -> f64) -> Vec<(EventId, f64)> {
    NAMED.iter().filter_map(|e| Some((*e, snap(event_s(*e, lead, events, pairing)?)))).collect()
}

/// The one of them whose picture was reached last.
fn passed(named: &[(EventId, f64)], lead_s: f64) -> Option<EventId> {
    named.iter().rev().find(|(_, at_s)| *at_s <= lead_s + 1e-6).map(|(event, _)| *event)
}

/// What the picture of today's moment `today_s` says in a shot that plays `slow` times slower than life and does not
/// rest. `snap` as in [`Plan::beats`], of today's clip.
pub fn state_at(
    today_s: f64,
    slow: f64,
    today: &Reading,
    pairing: &Pairing,
    snap: impl Fn(f64) -> f64,
) -> FrameState {
    let named = named(0, &today.events, pairing, snap);
    FrameState { slow, hold: None, passed: passed(&named, today_s) }
}

fn count(seconds: f64, rate_hz: f64) -> usize {
    (seconds * rate_hz).round().clamp(0.0, 1e7) as usize
}

fn still(beats: &mut Vec<Beat>, shot: usize, rate_hz: f64, seconds: f64, shows: Shows) -> Result<()> {
    (0..count(seconds, rate_hz)).try_for_each(|_| push(beats, shot, rate_hz, shows))
}

fn push(beats: &mut Vec<Beat>, shot: usize, rate_hz: f64, shows: Shows) -> Result<()> {
    if beats.len() as f64 >= LONGEST_S * rate_hz {
        return Err(Error::Usage(messages::plan_too_long(LONGEST_S)));
    }
    beats.push(Beat { shot, output_time_s: beats.len() as f64 / rate_hz, shows });
    Ok(())
}

/// Real time of an event in one of the two: as it was lined up, or as read.
pub(super) fn event_s(event: EventId, lead: usize, events: &Events, pairing: &Pairing) -> Option<f64> {
    let knot = pairing.time_map.knots.iter().find(|k| k.event == event);
    let lined_up = knot.map(|k| if lead == 0 { k.today_s } else { k.reference_s });
    lined_up.or_else(|| events.get(&event).map(|e| e.time_s))
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

/// Real time of a moment; an event that was not found is placed from the one the two are lined up on.
pub(super) fn moment_s(moment: Moment, lead: usize, events: &Events, pairing: &Pairing) -> f64 {
    let map = &pairing.time_map;
    let zero_s = if lead == 0 { map.zero_today_s() } else { map.zero_reference_s() };
    let from_zero = || zero_s + usual_s(moment.event) - usual_s(map.zero);
    event_s(moment.event, lead, events, pairing).unwrap_or_else(from_zero) + moment.offset_s
}

#[cfg(test)]
mod tests {
    use super::super::ready::Ready;
    use super::*;
    use crate::compose::sample;

    fn beats(slow: f64) -> Vec<Beat> {
        let (today, reference, pairing) = sample::pair();
        let snap = |_, s: f64| (s * 240.0).round() / 240.0;
        Plan::ready(Ready::Teach, slow).beats([&today, &reference], &pairing, 30.0, None, snap).unwrap()
    }

    fn moment(event: EventId, offset_s: f64) -> Moment {
        Moment { event, offset_s }
    }

    #[test]
    fn output_times_run_on() {
        for (i, beat) in beats(8.0).iter().enumerate() {
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
            let held = [EventId::Plant, EventId::Contact, EventId::Extension].map(held);
            assert_eq!(held, [39, 36, 30], "{slow}");
        }
    }

    /// The events that the captions name over a plan, neighbours never alike.
    fn reported(
        plan: &Plan,
        today: &Reading,
        reference: &Reading,
        pairing: &Pairing,
        rate_hz: f64,
    ) -> Vec<EventId> {
        let snap = |_, s: f64| (s * rate_hz).round() / rate_hz;
        let beats = plan.beats([today, reference], pairing, 30.0, None, snap).unwrap();
        let mut out: Vec<EventId> = Vec::new();
        for beat in beats {
            if let Shows::Swing { slow, hold, passed, .. } = beat.shows
                && let Some(event) = hold.or(passed).filter(|event| slow > 1.5 && out.last() != Some(event))
            {
                out.push(event);
            }
        }
        out
    }

    #[test]
    fn captions_of_events_in_one_picture_follow_their_order() {
        let (mut today, reference, pairing) = sample::pair();
        let contact_s = today.events[&EventId::Contact].time_s;
        today.events.get_mut(&EventId::Extension).unwrap().time_s = contact_s + 0.004;
        let plan = Plan::ready(Ready::Teach, 8.0);
        for rate_hz in [30.0, 60.0, 240.0] {
            let said = reported(&plan, &today, &reference, &pairing, rate_hz);
            assert!(said.windows(2).all(|w| w[0] < w[1]), "{rate_hz} Hz: {said:?}");
        }
    }

    #[test]
    fn an_event_that_was_not_found_still_gives_a_shot_and_is_told() {
        let (mut today, reference, mut pairing) = sample::pair();
        today.events.retain(|id, _| *id == EventId::Plant);
        pairing.time_map.knots.retain(|k| k.event == EventId::Plant);
        let plan = Plan::ready(Ready::Teach, 8.0);
        let beats = plan.beats([&today, &reference], &pairing, 30.0, None, |_, s| s).unwrap();
        assert!(beats.len() > 200);
        let reported = plan.warnings([&today, &reference], &pairing, None);
        let has = |code: &str, word: &str| {
            reported.iter().any(|w| w.code() == code && messages::warning(w).contains(word))
        };
        assert!(has("shot_event_missing", "load") && has("shot_event_missing", "finish"), "{reported:?}");
        assert!(has("hold_event_missing", "contact"), "{reported:?}");
    }

    #[test]
    fn what_lies_outside_the_clip_is_cut_and_told() {
        let (today, reference, pairing) = sample::pair();
        let last_s = last_s(&today);
        let (from, to) = (moment(EventId::Contact, 0.2), moment(EventId::Contact, 30.0));
        let plan = Plan::of(vec![Shot::swing(from, to, 1.0)]);
        let beats = plan.beats([&today, &reference], &pairing, 30.0, None, |_, s| s).unwrap();
        let inside = |b: &Beat| matches!(b.shows, Shows::Swing { today_s, .. } if today_s <= last_s + 0.04);
        assert!(beats.iter().all(inside));
        let reported = plan.warnings([&today, &reference], &pairing, None);
        assert_eq!(reported.iter().map(crate::types::Warning::code).collect::<Vec<_>>(), ["shot_cut"]);
        let text = messages::warning(&reported[0]);
        assert!(text.contains("29.") && text.contains("Shot 1"), "{text}");

        let backwards = Plan::of(vec![Shot::swing(to, from, 1.0)]);
        assert!(backwards.beats([&today, &reference], &pairing, 30.0, None, |_, s| s).is_err());
        assert_eq!(backwards.warnings([&today, &reference], &pairing, None)[0].code(), "shot_empty");
        let long = Plan::of(vec![Shot::Card { seconds: 30.0 }; 11]);
        let error = long.beats([&today, &reference], &pairing, 30.0, None, |_, s| s).unwrap_err();
        assert!(error.to_string().contains("300"), "{error}");
    }

    #[test]
    fn a_reference_alone_goes_by_its_own_events() {
        let (today, reference, pairing) = sample::pair();
        let from_to = [moment(EventId::HandsStart, 0.0), moment(EventId::Contact, 0.0)];
        let mut plan = Plan::of(vec![Shot::swing(from_to[0], from_to[1], 1.0)]);
        plan.layout = Some(Layout::ReferenceAlone);
        let beats = plan.beats([&today, &reference], &pairing, 240.0, None, |_, s| s).unwrap();
        let times: Vec<f64> = beats
            .iter()
            .filter_map(
                |b| if let Shows::Swing { reference_s, .. } = b.shows { Some(reference_s) } else { None },
            )
            .collect();
        let own = |event| reference.events[&event].time_s;
        assert!((times[0] - own(EventId::HandsStart)).abs() < 1e-9);
        assert!((times[times.len() - 1] - own(EventId::Contact)).abs() < 0.005);
    }
}
