//! The first, coarse look: who is there, and when something sudden happens.

use super::super::params::{
    BRIDGE_GAP_S, BRIDGE_HZ, FEWEST_SIGHTS, MOST_LOST, MOST_MISSED, MOST_PEOPLE, MOTION_HZ, SAME_BODY,
    SEEN_OFTEN, SURVEY_LEAST_HZ, SURVEY_LONG_SIDE, SURVEY_MOST_HZ, SURVEY_PICTURES, USABLE_SIZE,
};
use crate::messages::swing_search as messages;
use crate::tracking::{
    Body, Eye, Motion, MotionMeter, Pan, Person, Region, Sighting, cuts, follow_panned, merge, shot_around,
    unlike,
};
use crate::types::{Frame, Point, Pose, Rect, Result, SceneLuma, TimedFrame};

use super::choose::shrunk;
use super::scene;
use super::stream::Pass;
use crate::media::{RepeatMeter, Repeats};

/// What the survey found.
pub struct Survey {
    pub people: Vec<Person>,
    pub motion: Vec<Motion>,
    pan: Pan,
    /// When another shot begins, real s.
    pub cuts: Vec<f64>,
    pictures: Vec<usize>,
    /// Everyone found in each picture shown whole.
    whole: Vec<Vec<Sighting>>,
    searched: bool,
    /// Which pictures of the clip could be read, by their places in its index.
    pub readable: Vec<bool>,
    pub repeats: Repeats,
    pub scene: Option<SceneLuma>,
}

pub fn survey(pass: &Pass) -> Result<Survey> {
    let clip = pass.clip;
    let fit = Some((SURVEY_LONG_SIDE, SURVEY_LONG_SIDE));
    let wanted = survey_pictures(pass);

    let mut meter = MotionMeter::default();
    let mut motion: Vec<Motion> = Vec::new();
    let mut next_s = 0.0;
    let mut readable = vec![false; clip.facts().frames];
    let mut repeats = RepeatMeter::default();
    let mut scene: Option<SceneLuma> = None;
    let every = |picture: &TimedFrame| {
        if let Some(slot) = readable.get_mut(picture.index) {
            *slot = true;
        }
        repeats.see(picture.index, &picture.frame);
        scene.get_or_insert_with(|| scene::luma(&picture.frame));
        let time_s = clip.real_s(picture.index);
        if time_s >= next_s {
            motion.extend(meter.next(picture.index, time_s, &picture.frame));
            next_s = time_s + 0.9 / MOTION_HZ;
        }
    };
    let seen = pass.run_through(messages::FINDING_HITTER, &wanted, fit, every, |eye, picture| {
        let frame = &picture.frame;
        let found = bodies(pass, eye, picture, &[Region::whole(frame.width(), frame.height())])?;
        Ok((picture.index, found))
    })?;
    // Pictures that do not decode are left out.
    let (wanted, whole): (Vec<usize>, Vec<Vec<Sighting>>) = seen.into_iter().unzip();
    let cuts = cuts(&motion);
    let (width, height) = (clip.facts().width as f64, clip.facts().height as f64);
    let pan = Pan::new(
        motion.iter().map(|m| (m.time_s, Point::new(m.scene.x * width, m.scene.y * height))).collect(),
    );
    let people = follow_shots(&whole, &cuts, &pan);
    let usable = USABLE_SIZE * clip.facts().width.max(clip.facts().height) as f64;
    let large = |p: &Person| p.sightings.iter().filter(|s| s.region.side >= usable).count() as f64;
    let often = people.iter().any(|p| large(p) >= SEEN_OFTEN * whole.len() as f64);
    let mut survey = Survey {
        people,
        motion,
        cuts,
        pan,
        pictures: wanted,
        whole,
        searched: false,
        readable,
        repeats: repeats.found(),
        scene,
    };
    if !often {
        survey.search(pass)?;
    }
    Ok(survey)
}

fn follow_shots(pictures: &[Vec<Sighting>], cuts: &[f64], pan: &Pan) -> Vec<Person> {
    let time = |bodies: &Vec<Sighting>| bodies.first().map(|s| s.pose.time_s);
    let mut shots: Vec<Vec<Vec<Sighting>>> = vec![Vec::new(); cuts.len() + 1];
    let mut shot = 0;
    for bodies in pictures {
        if let Some(time_s) = time(bodies) {
            shot = cuts.partition_point(|c| *c <= time_s);
        }
        shots[shot].push(bodies.clone());
    }
    shots.into_iter().flat_map(|shot| follow_panned(shot, pan)).collect()
}

impl Survey {
    /// Looks for people too small to be found in the whole picture: a few pictures are searched in parts,
    /// and where someone is found, all are looked at there. False when it was done before or finds nobody.
    pub fn search(&mut self, pass: &Pass) -> Result<bool> {
        if std::mem::replace(&mut self.searched, true) {
            return Ok(false);
        }
        let fit = Some((SURVEY_LONG_SIDE, SURVEY_LONG_SIDE));
        let count = self.pictures.len();
        let mut zoomed: Vec<Sighting> = Vec::new();
        for place in [count / 4, count * 3 / 4] {
            let Some(&index) = self.pictures.get(place) else { continue };
            let known = self.whole.get(place).map(Vec::as_slice).unwrap_or_default();
            let found = pass.run(messages::FINDING_HITTER, &[index], fit, |eye, picture| {
                bodies(pass, eye, picture, &tiles(&picture.frame))
            })?;
            let new = |z: &Sighting| known.iter().all(|w| unlike(w.region, z.region) > 0.25);
            zoomed.extend(found.into_iter().flatten().filter(new));
        }
        // Believed when found twice or where nobody else is.
        let alone = self.whole.iter().all(Vec::is_empty);
        let squares = zoom_squares(zoomed.iter().filter(|z| {
            let again = |o: &&Sighting| o.pose.frame != z.pose.frame && unlike(o.region, z.region) < 0.3;
            alone || zoomed.iter().any(|o| again(&o))
        }));
        if squares.is_empty() {
            return self.bridge(pass);
        }
        let (sx, _) = pass.scale_to_full(fit);
        let squares: Vec<Region> = squares.iter().map(|s| s.scaled(1.0 / sx)).collect();
        let near = pass.run(messages::FINDING_HITTER, &self.pictures, fit, |eye, picture| {
            Ok((picture.index, bodies(pass, eye, picture, &squares)?))
        })?;
        let mut all = self.whole.clone();
        for (index, found) in near {
            if let Some(bodies) = self.pictures.binary_search(&index).ok().and_then(|i| all.get_mut(i)) {
                bodies.extend(found);
            }
        }
        self.people = follow_shots(&all, &self.cuts, &self.pan);
        self.bridge(pass)?;
        Ok(true)
    }
}

impl Survey {
    /// Follows those who are seen now and then, as behind a net, through the pictures between, by the body net alone:
    /// it knows a body again that is not found anew. False when it helps nobody.
    fn bridge(&mut self, pass: &Pass) -> Result<bool> {
        let lost =
            |p: &Person| p.sightings.len() >= FEWEST_SIGHTS && 2 * p.sightings.len() < self.pictures.len();
        let mut chosen: Vec<usize> = (0..self.people.len()).filter(|i| lost(&self.people[*i])).collect();
        chosen.sort_by_key(|i| std::cmp::Reverse(self.people[*i].sightings.len()));
        chosen.truncate(MOST_LOST);
        let mut helped = false;
        for i in chosen {
            let Some(person) = self.people.get_mut(i) else { continue };
            let between = followed(pass, person)?;
            helped |= !between.is_empty();
            person.sightings.extend(between);
            person.sightings.sort_by_key(|s| s.pose.frame);
            person.sightings.dedup_by_key(|s| s.pose.frame);
        }
        Ok(helped)
    }
}

/// The sightings of a person between those that are known: each begins where the one before ended.
fn followed(pass: &Pass, person: &Person) -> Result<Vec<Sighting>> {
    let clip = pass.clip;
    let known = &person.sightings;
    let (Some(first), Some(last)) = (known.first(), known.last()) else { return Ok(Vec::new()) };
    let wanted = spread(first.pose.frame, last.pose.frame + 1, BRIDGE_HZ, |i| clip.real_s(i));
    let eye = pass.nets.eye();
    let mut seen = Ok(Vec::new());
    let mut at = first.clone();
    let mut missed = 0;
    let mut step = |picture: &TimedFrame| -> Result<Option<Sighting>> {
        let time_s = clip.real_s(picture.index);
        let after = known.partition_point(|s| s.pose.frame <= picture.index);
        let before = after.checked_sub(1).and_then(|i| known.get(i)).unwrap_or(first);
        if before.pose.frame > at.pose.frame || missed >= MOST_MISSED {
            (at, missed) = (before.clone(), if before.pose.frame > at.pose.frame { 0 } else { missed });
        }
        let next = known.get(after);
        let short = next.is_none_or(|n| n.pose.time_s - before.pose.time_s < BRIDGE_GAP_S);
        if short || missed >= MOST_MISSED || wanted.binary_search(&picture.index).is_err() {
            return Ok(None);
        }
        let shift = person.pan.at(time_s) - person.pan.at(at.pose.time_s);
        let expected = Region { centre: at.region.centre + shift, ..at.region };
        let (sx, sy) = full_scale(pass, &picture.frame);
        let body = eye.body(&picture.frame, shrunk(expected, sx, sy))?;
        let found = sighting(pass, &body, picture).filter(|s| unlike(s.region, expected) < SAME_BODY);
        match &found {
            Some(s) => (at, missed) = (s.clone(), 0),
            None => missed += 1,
        }
        Ok(found)
    };
    let ends = [first.pose.frame, last.pose.frame];
    let every = |picture: &TimedFrame| {
        if let Ok(list) = &mut seen {
            match step(picture) {
                Ok(found) => list.extend(found),
                Err(e) => seen = Err(e),
            }
        }
    };
    pass.run_through(
        messages::FINDING_HITTER,
        &ends,
        Some((SURVEY_LONG_SIDE, SURVEY_LONG_SIDE)),
        every,
        |_, _| Ok(()),
    )?;
    seen
}

/// Evenly spread pictures of the clip.
fn survey_pictures(pass: &Pass) -> Vec<usize> {
    let clip = pass.clip;
    let count = clip.facts().frames;
    let length_s = clip.real_s(count.saturating_sub(1)).max(1e-3);
    let rate_hz = (SURVEY_PICTURES / length_s).clamp(SURVEY_LEAST_HZ, SURVEY_MOST_HZ);
    spread(0, count, rate_hz, |i| clip.real_s(i))
}

/// Pictures of `from..to` at least `1 / rate_hz` apart (a little less is let pass, so that a rate that is a
/// multiple is thinned evenly), the last one too.
pub fn spread(from: usize, to: usize, rate_hz: f64, time_s: impl Fn(usize) -> f64) -> Vec<usize> {
    let mut wanted = Vec::new();
    let mut next_s = f64::NEG_INFINITY;
    for i in from..to {
        if time_s(i) >= next_s {
            wanted.push(i);
            next_s = time_s(i) + 0.97 / rate_hz;
        }
    }
    if to > from && wanted.last() != Some(&(to - 1)) {
        wanted.push(to - 1);
    }
    wanted
}

/// Everyone in these squares of a picture, in full-picture px.
fn bodies(pass: &Pass, eye: &Eye, picture: &TimedFrame, squares: &[Region]) -> Result<Vec<Sighting>> {
    let mut found = Vec::new();
    for square in squares {
        found.extend(eye.find_in(&picture.frame, *square)?);
    }
    let mut sightings = Vec::new();
    for person in merge(found).iter().take(MOST_PEOPLE) {
        let body = eye.body(&picture.frame, person.region())?;
        sightings.extend(sighting(pass, &body, picture));
    }
    Ok(sightings)
}

/// The body as a sighting in full-picture px; `None` when the net says that nobody is there.
pub fn sighting(pass: &Pass, body: &Body, picture: &TimedFrame) -> Option<Sighting> {
    let region = body.next_region().filter(|_| body.present >= 0.5)?;
    let (sx, sy) = full_scale(pass, &picture.frame);
    let mut pose = body.pose(picture.index, pass.clip.real_s(picture.index));
    scale_pose(&mut pose, sx, sy);
    let region = Region {
        centre: Point::new(region.centre.x * sx, region.centre.y * sy),
        side: region.side * sx,
        ..region
    };
    Some(Sighting { pose, region, present: body.present })
}

pub fn full_scale(pass: &Pass, frame: &Frame) -> (f64, f64) {
    let facts = pass.clip.facts();
    (facts.width as f64 / frame.width().max(1) as f64, facts.height as f64 / frame.height().max(1) as f64)
}

fn scale_pose(pose: &mut Pose, sx: f64, sy: f64) {
    for spot in pose.spots.iter_mut().flatten() {
        spot.at = Point::new(spot.at.x * sx, spot.at.y * sy);
    }
}

/// Overlapping squares at two sizes that together cover the picture.
fn tiles(frame: &Frame) -> Vec<Region> {
    let (w, h) = (frame.width() as f64, frame.height() as f64);
    let mut squares = Vec::new();
    for share in [1.0, 0.55] {
        let side = w.min(h) * share;
        let steps = |length: f64| ((length - side) / (side * 0.6)).ceil().max(0.0) as usize;
        let (nx, ny) = (steps(w), steps(h));
        if nx + ny == 0 {
            continue;
        }
        let place = |i: usize, n: usize, length: f64| {
            side / 2.0 + (length - side) * if n == 0 { 0.5 } else { i as f64 / n as f64 }
        };
        for y in 0..=ny {
            for x in 0..=nx {
                let centre = Point::new(place(x, nx, w), place(y, ny, h));
                squares.push(Region { centre, side, rotation_rad: 0.0 });
            }
        }
    }
    squares
}

/// A square in which a body is found again though it has moved a little.
fn generous(region: Region) -> Region {
    Region { side: region.side * 1.8, rotation_rad: 0.0, ..region }
}

/// One generous square around each person found by zooming, full-picture px.
fn zoom_squares<'s>(sightings: impl Iterator<Item = &'s Sighting>) -> Vec<Region> {
    let mut squares: Vec<Region> = Vec::new();
    for s in sightings {
        let square = generous(s.region);
        if squares.iter().all(|q| unlike(*q, square) > 0.3) {
            squares.push(square);
        }
    }
    squares.truncate(3);
    squares
}

impl Survey {
    /// How much moves about a person over time: (real s, levels), smoothed over about a tenth of a second.
    pub fn stir(&self, person: &Person, width: f64, height: f64) -> Vec<(f64, f64)> {
        let in_s = person.sightings.first().map_or(0.0, |s| s.pose.time_s);
        let (from_s, to_s) = shot_around(&self.cuts, in_s);
        let raw: Vec<(f64, f64)> = self
            .motion
            .iter()
            .filter(|m| m.time_s > from_s && m.time_s < to_s)
            .filter_map(|m| {
                let r = person.region_at(m.time_s)?;
                let half = r.side * 0.45;
                let area = Rect::new(
                    (r.centre.x - half) / width,
                    (r.centre.y - half) / height,
                    2.0 * half / width,
                    2.0 * half / height,
                );
                Some((m.time_s, m.inside(area)))
            })
            .collect();
        raw.iter()
            .map(|&(t, _)| {
                let near = raw.iter().filter(|(u, _)| (u - t).abs() <= 0.05);
                let (sum, n) = near.fold((0.0, 0.0), |(s, n), (_, v)| (s + v, n + 1.0));
                (t, sum / f64::max(n, 1.0))
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spreading_thins_evenly_and_keeps_the_last() {
        let at = |i: usize| i as f64 / 240.0;
        assert_eq!(spread(0, 17, 60.0, at), [0, 4, 8, 12, 16]);
        assert_eq!(spread(0, 18, 60.0, at), [0, 4, 8, 12, 16, 17]);
        assert_eq!(spread(3, 6, 1000.0, at), [3, 4, 5]);
        assert!(spread(5, 5, 60.0, at).is_empty());
    }

    #[test]
    fn tiles_cover_a_wide_picture() {
        let squares = tiles(&Frame::black(960, 540));
        assert!(squares.iter().all(|s| {
            let half = s.side / 2.0;
            s.centre.x - half > -0.01 && s.centre.x + half < 960.01 && s.centre.y + half < 540.01
        }));
        for (x, y) in [(1.0, 1.0), (959.0, 539.0), (480.0, 270.0)] {
            assert!(squares.iter().any(|s| {
                (s.centre.x - x).abs() <= s.side / 2.0 && (s.centre.y - y).abs() <= s.side / 2.0
            }));
        }
    }
}
