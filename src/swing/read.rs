//! One swing read by its best explanation.

use super::burst::Burst;
use super::centre::Moment;
use super::explain::Explanation;
use super::hands::SoundDelay;
use super::params::{
    ALONG_PM_S, ALONG_STANCE_PM_S, CLEARLY, DOUBT_LEAD, EXPLAINED_WORSE, FAULT_COST, LARGE_TURN,
    LATEST_BEGIN_S, LEAST_SCORE, LOOK_BACK_S, PINNED_CONTACT_NEAR_S,
};
use super::{
    Swing, SwingInput, bearing, centre, doubt, explain, feet, figure, half_step_s, hands, holes, measures,
    nearest_frame, pace, possible, scale, series, unseen,
};
use crate::math::quantile;
use crate::types::{
    Event, EventId, Events, Fault, Hitter, NoSwing, Part, Point, Scale, Source, Track, View, Warning,
};

/// All that the explanations of one track share.
struct Prepared<'a> {
    input: &'a SwingInput<'a>,
    steady: Track,
    step_s: f64,
    scale: Scale,
    warnings: Vec<Warning>,
}

impl<'a> Prepared<'a> {
    fn of(input: &'a SwingInput<'a>) -> Result<Self, NoSwing> {
        let steady = steady_track(input);
        let step_s = step_s(&steady).ok_or(NoSwing::FewFrames)?;
        let (scale, warnings) =
            scale::scale(&steady, &scale::Given::of(input)).ok_or(NoSwing::SizeUnknown)?;
        Ok(Self { input, steady, step_s, scale, warnings })
    }

    /// The explanations that are worth reading, the best first; and one that is clearly better but is not what a person
    /// said of the hitter.
    fn explanations(&self) -> Result<(Vec<Explanation>, Option<Explanation>), NoSwing> {
        let e = self.input;
        let mut all = explain::explanations(&self.steady, self.scale.body_height_px, self.step_s, e.onsets)?;
        let clearest = all.first().copied();
        all.retain(|x| e.known_hitter.allows(&x.hitter));
        let Some(best) = all.first() else {
            return Err(NoSwing::NotAsGiven);
        };
        let against = clearest.filter(|c| c.score() > best.score() + CLEARLY);
        // A person who says when contact is says which stretch is the swing.
        if let Some(contact_s) = e.pins.get(&EventId::Contact) {
            let meant = |x: &Explanation| (contact_s - x.stretch.fastest_s).abs() < PINNED_CONTACT_NEAR_S;
            if all.iter().any(meant) {
                all.retain(meant);
            }
        }
        let best = all.first().map_or(0.0, Explanation::score);
        all.retain(|x| x.score() > best - EXPLAINED_WORSE);
        Ok((all, against))
    }
}

/// One explanation with what was read by it.
pub struct Why {
    /// What it was read by.
    pub explanation: Explanation,
    /// What no body does.
    pub faults: Vec<Fault>,
    /// What counts: the explanation's log odds less what its faults cost.
    pub score: f64,
    pub(crate) swing: Swing,
}

/// Every explanation that was weighed, the one that counts first: for whoever works on this.
pub fn why(input: &SwingInput) -> Result<Vec<Why>, NoSwing> {
    let prepared = Prepared::of(input)?;
    let (explanations, against) = prepared.explanations()?;
    let mut all: Vec<Why> = explanations
        .into_iter()
        .map(|explanation| {
            let (mut swing, faults) = read_as(&prepared, &explanation);
            swing.warnings.splice(0..0, against.as_ref().map(|a| against_the_picture(&a.hitter)));
            let score = explanation.score() - FAULT_COST * faults.len() as f64;
            Why { explanation, faults, score, swing }
        })
        .collect();
    all.sort_by(|a, b| b.score.total_cmp(&a.score));
    Ok(all)
}

/// What a person said is read all the same.
fn against_the_picture(hitter: &Hitter) -> Warning {
    Warning::HitterAgainstPicture { bats: hitter.bats, view: hitter.view }
}

/// The longest stretch without points of the hands, if it is long enough to hide a swing, s.
fn missing(track: &Track) -> Option<(f64, f64)> {
    const LONG_S: f64 = 0.06;
    let times = figure::hands_series(track).times_s;
    let gaps = times.windows(2).map(|w| (w[0], w[1]));
    gaps.filter(|(a, b)| b - a > LONG_S).max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))
}

/// Read one swing by its best explanation. Pinned events win over found ones, and later events are found from the
/// pinned ones.
pub fn read_swing(input: &SwingInput) -> Result<Swing, NoSwing> {
    let all = why(input)?;
    let Some((best, others)) = all.split_first() else { return Err(NoSwing::NothingLikeIt) };
    // A person who says what is to be seen is believed.
    let own = input.pins.is_empty() && input.known_hitter.is_empty();
    if let (Some(fault), true) = (best.faults.first(), own) {
        return Err(NoSwing::Impossible(*fault));
    }
    if own && best.score < LEAST_SCORE {
        return Err(match missing(input.track) {
            Some((from_s, to_s)) => NoSwing::PointsMissing { from_s, to_s },
            None => NoSwing::BodyStill,
        });
    }
    let mut swing = best.swing.clone();
    let rival = others.iter().find(|o| o.faults.is_empty() && doubt::differ(&o.swing, &best.swing));
    if let Some(rival) = rival.filter(|r| best.score - r.score < DOUBT_LEAD) {
        doubt::keep_what_agrees(&mut swing, &rival.swing);
    }
    Ok(swing)
}

/// The swing as one explanation has it, and what of it no body does.
fn read_as(prepared: &Prepared, explanation: &Explanation) -> (Swing, Vec<Fault>) {
    let Prepared { input, steady, step_s, scale, warnings } = prepared;
    let (input, step_s, scale) = (*input, *step_s, *scale);
    let mut warnings = warnings.clone();
    let height_px = scale.body_height_px;
    let hitter = explanation.hitter;
    let burst = Burst::of(steady, explanation, height_px, step_s);
    let hands_peak = burst.peak;
    let figure = figure::Figure::new(steady, &hitter, height_px, step_s, input.point_wander).with_aim(
        input.track,
        input.camera,
        input.camera_lost,
        hips_place(input.track),
        height_px,
    );
    let side_view = figure::shows_stride(hitter.view);
    let delay = SoundDelay::new(input.mic_distance_m, height_px, input.height_cm, input.long_side_px);
    let mut events = Log { input, events: Events::new() };

    let (contact, source, confidence) =
        hands::contact(&figure, &burst, input.onsets, delay, input.ball, side_view);
    let burst = match source {
        Source::MotionAndSound | Source::MotionAndBall
            if !side_view || !hands::agrees(&burst, contact.time_s) =>
        {
            hands::burst_before(&burst, contact.time_s)
        }
        _ => burst,
    };
    let contact_s = events.put(EventId::Contact, contact, source, confidence);
    if let Some(start) = hands::hands_start(&figure, &burst, contact_s) {
        events.put(EventId::HandsStart, start, Source::Motion, 0.7);
    }
    events.pinned(EventId::HandsStart);
    if let Some(extension) = hands::extension(&figure, contact_s, side_view) {
        events.put(EventId::Extension, extension, Source::Motion, 0.7);
    }
    if let Some(extension_s) = events.pinned(EventId::Extension)
        && let Some(finish) = hands::finish(&figure, &burst, extension_s)
    {
        events.put(EventId::Finish, finish, Source::Motion, 0.6);
    }
    events.pinned(EventId::Finish);

    let from_s = steady.poses.first().map_or(0.0, |p| p.time_s).max(burst.peak_s - LOOK_BACK_S);
    let (mut foot, by_ankle) =
        unseen::by_ankle(feet::landed_foot(&figure, from_s, burst.peak_s, contact_s), &figure);
    warnings.extend(by_ankle);
    let begins_in_stride = unseen::begins_in_stride(&foot, from_s, step_s);
    if begins_in_stride {
        foot.foot_off = None;
    }
    for (id, found, confidence) in [
        (EventId::Plant, foot.plant, 0.75),
        (EventId::Touch, foot.touch, 0.6),
        (EventId::FootOff, foot.foot_off, 0.6),
    ] {
        if let Some(moment) = found {
            events.put(id, moment, Source::Motion, confidence);
        }
        events.pinned(id);
    }
    if foot.taps > 0 {
        warnings.push(Warning::ToeTap { taps: foot.taps });
    }
    if !foot.strode && foot.plant.is_some() {
        warnings.push(Warning::NoStride);
    }
    if side_view {
        let before_s = events.time(EventId::Plant).unwrap_or(burst.peak_s - 0.1);
        let centre = centre::body_centre(&figure, from_s, before_s);
        if let Some(load) = centre::load(&centre, from_s, before_s, figure.noise, step_s) {
            events.put(EventId::Load, load, Source::Motion, 0.6);
        }
        if let Some(load_s) = events.pinned(EventId::Load)
            && let Some(stance) = centre::stance(&centre, &figure.hands, from_s, load_s, step_s)
        {
            events.put(EventId::Stance, stance, Source::Motion, 0.5);
        }
    }
    if events.pinned(EventId::Stance).is_none() && !begins_in_stride {
        // Not seen from here, or the clip begins too late: the earliest quiet moment there is stands in.
        let until = events.time(EventId::FootOff).unwrap_or(burst.peak_s - 0.5);
        if let Some(time_s) = quietest(&figure, from_s, until) {
            events.put(EventId::Stance, Moment { time_s, plus_minus_s: 0.15 }, Source::Motion, 0.3);
        }
    }

    let mut events = events.events;
    warnings.extend(unseen::widen(&mut events, &figure, burst.peak_s));
    if !side_view {
        // Along the line of the pitch every moment read from motion is unsure.
        for (id, event) in events.iter_mut().filter(|(_, e)| e.source == Source::Motion) {
            let stance = *id == EventId::Stance;
            event.plus_minus_s = event.plus_minus_s.max(if stance { ALONG_STANCE_PM_S } else { ALONG_PM_S });
            event.confidence = event.confidence.min(0.3);
        }
    }
    let late = begins_in_stride || from_s > burst.peak_s - LATEST_BEGIN_S;
    if late || events.get(&EventId::Stance).is_some_and(|s| s.time_s - from_s < 2.0 * step_s) {
        warnings.push(Warning::StartsLate);
    }
    if hitter.view == View::FromBehind || hitter.view == View::FromFront {
        warnings.push(Warning::AlongThePitch);
    }
    let seen = |id: EventId| events.get(&id).map(|e| e.time_s);
    if let (Some(first_s), Some(last_s)) =
        (seen(EventId::Stance), seen(EventId::Finish).or(seen(EventId::Contact)))
        && figure.turned(first_s, last_s) > LARGE_TURN
    {
        warnings.push(Warning::Panning);
    }
    if let (Some(first_s), Some(last_s)) =
        (seen(EventId::Stance).or(seen(EventId::Load)), seen(EventId::Contact))
        && figure.aim_error(first_s, last_s) > 0.0
    {
        warnings.push(Warning::CameraLost);
    }
    holes::widen(&mut events, input.holes, input.time_doubt_s);
    for (id, event) in input.borrowed {
        let frame = nearest_frame(input.frame_times_s, event.time_s);
        events.insert(*id, Event { frame, ..*event });
    }
    warnings.extend(possible::leave_out(&mut events));
    warnings.extend(possible::leave_out_walk(&figure, &mut events, hitter.view));
    warnings.extend(possible::leave_out_stance(&figure, &mut events, hitter.view));
    let mut measured = measures::measure(&figure, &hitter, &scale, &events);
    warnings.extend(measured.leave_out(holes::touched(&events, input.holes)));
    if side_view && !input.rate_told {
        let slow = pace::too_slow(&events, hands_peak);
        warnings.extend(measured.leave_out(slow));
    }
    let mut swing =
        Swing { hitter, scale, events, measures: measured.measures, absent: measured.absent, warnings };
    let mut faults = possible::faults(&figure, &swing);
    faults.extend(bearing::faults(steady, &explanation.stretch, height_px, step_s));
    possible::measures(&mut swing);
    (swing, faults)
}

/// Events as they are found; pins win.
struct Log<'a> {
    input: &'a SwingInput<'a>,
    events: Events,
}

impl Log<'_> {
    /// Keep a found moment unless the event is pinned; gives the time that counts.
    fn put(&mut self, id: EventId, found: Moment, source: Source, confidence: f64) -> f64 {
        if let Some(time_s) = self.pinned(id) {
            return time_s;
        }
        let frame = nearest_frame(self.input.frame_times_s, found.time_s);
        let event =
            Event { time_s: found.time_s, plus_minus_s: found.plus_minus_s, frame, source, confidence };
        self.events.insert(id, event);
        found.time_s
    }

    /// The time that counts so far: the pin if there is one, else what was found.
    fn pinned(&mut self, id: EventId) -> Option<f64> {
        if let Some(time_s) = self.input.pins.get(&id).copied() {
            let frame = nearest_frame(self.input.frame_times_s, time_s);
            // A person pins a picture: half a picture to either side.
            let plus_minus_s = half_step_s(self.input.frame_times_s, frame);
            let event = Event { time_s, plus_minus_s, frame, source: Source::Pinned, confidence: 1.0 };
            self.events.insert(id, event);
        }
        self.time(id)
    }

    fn time(&self, id: EventId) -> Option<f64> {
        self.events.get(&id).map(|e| e.time_s)
    }
}

fn steady_track(input: &SwingInput) -> Track {
    let poses = input
        .track
        .poses
        .iter()
        .enumerate()
        .map(|(i, pose)| figure::steady(pose, input.camera.get(i)))
        .collect();
    Track { poses }
}

/// Where the hips are in the middle of the track, picture px.
fn hips_place(track: &Track) -> Point {
    let pose = track.poses.get(track.poses.len() / 2);
    let at = |part: Part| pose.and_then(|p| p.at(part));
    at(Part::LeftHip).zip(at(Part::RightHip)).map_or_else(Point::default, |(l, r)| l.midpoint(r))
}

/// Typical time between two poses in the densest part of the track, s.
pub(super) fn step_s(track: &Track) -> Option<f64> {
    let steps: Vec<f64> = track.poses.windows(2).map(|w| w[1].time_s - w[0].time_s).collect();
    quantile(steps, 0.25).filter(|s| *s > 0.0)
}

/// The moment at which the feet, the head and the hands together move least.
fn quietest(figure: &figure::Figure, from_s: f64, until_s: f64) -> Option<f64> {
    let speed = |t: f64| {
        let of = |s: &series::Series| s.fit(t, 0.08).map(|f| f.velocity.length());
        Some(of(&figure.hands)? + of(&figure.head)? + of(&figure.front.toe).unwrap_or(0.0))
    };
    series::moments(from_s, until_s, 1.0 / 60.0)
        .filter_map(|t| Some((t, speed(t)?)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|m| m.0)
}
