//! Points of another estimator: COCO keypoint JSON (the form of the COCO data set, cocodataset.org;
//! foot names as in COCO-WholeBody). Several people per picture are strung together and the one who
//! swings is chosen, as with the own net.

mod coco;
mod sense;

use super::params::{FASTEST_FILM_HZ, GIVEN_LONGEST_GAP_S, MIN_SCORE, SLOWEST_FILM_HZ};
use std::collections::{BTreeMap, HashMap};
use std::path::Path;

use coco::Image;

use super::hitter::bursts;
use super::people::{Person, Sighting, body_box, follow};
use super::repair::{drop_outliers, fill_gaps, hold_one_bat, undo_swaps};
use super::stature::standing_height_px;
use super::{Burst, Region};
use crate::types::{Bound, Error, KeypointsFault, Limits, Part, Point, Pose, Result, Seen, Spot};
use crate::types::{TextFault, Track, Warning};

/// Where the times of the pictures come from when the file does not carry them.
#[derive(Debug, Clone, Copy)]
pub enum Times<'a> {
    /// So many pictures a second, real time.
    Rate(f64),
    /// One real time for each picture, s.
    Given(&'a [f64]),
    /// Only the file itself.
    FromFile,
}

/// What a keypoint file holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Keypoints {
    /// Real s from the first picture; the one who swings.
    pub track: Track,
    /// Real time of every picture, s from the first.
    pub times_s: Vec<f64>,
    /// Picture size, px; 0 where the file does not say it.
    pub width: usize,
    /// Picture height, px; 0 where the file does not say it.
    pub height: usize,
    /// What was mended or is odd.
    pub warnings: Vec<Warning>,
}

/// Read a keypoint file. `at` points at the hitter, px, where several people are in it.
pub fn load(path: &Path, times: Times, at: Option<Point>, limits: &Limits) -> Result<Keypoints> {
    let text = String::from_utf8(limits.read(Bound::KeypointsMb, path)?);
    let parsed = match &text {
        Ok(text) => parse(text, times, at),
        Err(_) => Err(TextFault::NotUtf8.into()),
    };
    parsed.map_err(|cause| Error::Keypoints { path: path.to_owned(), cause })
}

/// The same from text.
pub fn parse(text: &str, times: Times, at: Option<Point>) -> std::result::Result<Keypoints, KeypointsFault> {
    let mut file = coco::read(text)?;
    let columns: Vec<(usize, Part)> =
        file.names.iter().enumerate().filter_map(|(i, n)| Some((i, part_of(n)?))).collect();
    for needed in [Part::LeftShoulder, Part::LeftWrist, Part::LeftHip, Part::LeftKnee, Part::LeftAnkle] {
        if [needed, needed.other_side()].iter().any(|p| columns.iter().all(|(_, have)| have != p)) {
            let word = serde_json::to_value(needed).unwrap_or_default();
            let part = word.as_str().unwrap_or_default().replace("left_", "");
            return Err(KeypointsFault::NoPairOf { part });
        }
    }
    let times_s = picture_times(&file.images, times)?;
    let place: HashMap<i64, usize> = file.images.iter().enumerate().map(|(i, m)| (m.id, i)).collect();
    if place.len() != file.images.len() {
        return Err(KeypointsFault::SameImageId);
    }
    let (width, height) = file.images.first().map_or((0, 0), |s| (s.width, s.height));
    let mut poses = Vec::new();
    for body in &file.bodies {
        let id = body.image_id;
        let frame = *place.get(&id).ok_or(KeypointsFault::UnknownImage { id })?;
        poses.push(pose_of(&body.points, &columns, frame, times_s[frame]));
    }
    let mut warnings = sense::in_picture_px(&mut poses, (width, height))?;
    let ids = file.bodies.iter_mut().map(|b| b.track.take()).collect();
    let people = people(poses, ids, times_s.len())?;
    let hitter = choose(&people, at).ok_or(KeypointsFault::NoPerson)?;
    if people.len() > 1 {
        warnings.push(Warning::SeveralPeople { people: people.len() });
    }
    let mut track = Track { poses: hitter.poses().cloned().collect() };
    warnings.extend(sense::sides(&mut track));
    warnings.extend(sense::seen_throughout(&track, &times_s));
    Ok(Keypoints { track: mended(&track), times_s, width, height, warnings })
}

/// As with the own net, but a hole is filled only over a single slow picture: what another estimator did not see
/// may be anything.
fn mended(track: &Track) -> Track {
    let Some(height_px) = standing_height_px(&track.poses) else { return track.clone() };
    let mut track = undo_swaps(track, height_px);
    drop_outliers(&mut track, height_px);
    hold_one_bat(&mut track, height_px);
    fill_gaps(&mut track, GIVEN_LONGEST_GAP_S);
    track
}

/// The bodies strung together: by the file's own ids where all have one, else by place.
fn people(
    poses: Vec<Pose>,
    ids: Vec<Option<String>>,
    pictures: usize,
) -> std::result::Result<Vec<Person>, KeypointsFault> {
    let mut by_picture: Vec<Vec<Sighting>> = (0..pictures).map(|_| Vec::new()).collect();
    let mut by_id: BTreeMap<String, Person> = BTreeMap::new();
    for (pose, id) in poses.into_iter().zip(ids) {
        let Some(region) = region_of(&pose) else { continue };
        let (frame, sighting) = (pose.frame, Sighting { pose, region, present: 1.0 });
        match (id, by_picture.get_mut(frame)) {
            (Some(id), _) => by_id.entry(id).or_default().sightings.push(sighting),
            (None, Some(bodies)) => bodies.push(sighting),
            (None, None) => {}
        }
    }
    for (id, person) in &mut by_id {
        person.sightings.sort_by_key(|s| s.pose.frame);
        let twice = person.sightings.windows(2).find(|w| w[0].pose.frame == w[1].pose.frame);
        if let Some(w) = twice {
            return Err(KeypointsFault::SameTrackId { image: w[0].pose.frame, track: id.clone() });
        }
    }
    if !by_id.is_empty() {
        return Ok(by_id.into_values().collect());
    }
    if by_picture.iter().all(|p| p.len() <= 1) {
        // One person throughout needs no stringing together, so a fast camera or a cut loses nobody.
        let sightings: Vec<Sighting> = by_picture.into_iter().flatten().collect();
        return Ok(if sightings.is_empty() {
            Vec::new()
        } else {
            vec![Person { sightings, ..Person::default() }]
        });
    }
    Ok(follow(by_picture))
}

/// Real time of each picture from the first, rising.
fn picture_times(images: &[Image], times: Times) -> std::result::Result<Vec<f64>, KeypointsFault> {
    if images.len() < 2 {
        return Err(KeypointsFault::FewImages { images: images.len() });
    }
    let timed = images.iter().filter(|m| m.time_s.is_some()).count();
    if timed > 0
        && let Some(m) = images.iter().find(|m| m.time_s.is_none())
    {
        return Err(KeypointsFault::OneUntimed { id: m.id });
    }
    if timed == 0 {
        in_order(images)?;
    }
    let own: Option<Vec<f64>> = images.iter().map(|m| m.time_s).collect();
    let all = match (own, times) {
        (Some(own), _) => own,
        (None, Times::Rate(rate_hz)) => (0..images.len()).map(|i| i as f64 / rate_hz).collect(),
        (None, Times::Given(given)) if given.len() == images.len() => given.to_vec(),
        (None, Times::Given(given)) => {
            return Err(KeypointsFault::CountUnlikeClip { images: images.len(), frames: given.len() });
        }
        (None, Times::FromFile) => {
            return Err(KeypointsFault::Untimed);
        }
    };
    let first = all.first().copied().unwrap_or(0.0);
    if !all.iter().all(|t| t.is_finite()) {
        return Err(KeypointsFault::TimeNotANumber);
    }
    let mut steps: Vec<f64> = Vec::with_capacity(all.len());
    for (i, pair) in all.windows(2).enumerate() {
        steps.push(pair[1] - pair[0]);
        if pair[1] <= pair[0] {
            return Err(KeypointsFault::TimesNotRising { image: i, time_s: pair[1], before_s: pair[0] });
        }
    }
    steps.sort_by(f64::total_cmp);
    let rate_hz = 1.0 / steps[steps.len() / 2];
    if !(SLOWEST_FILM_HZ..=FASTEST_FILM_HZ).contains(&rate_hz) {
        return Err(KeypointsFault::OddRate { rate_hz });
    }
    Ok(all.into_iter().map(|t| t - first).collect())
}

/// Pictures without times are counted: they must be all there, in order.
fn in_order(images: &[Image]) -> std::result::Result<(), KeypointsFault> {
    let step = |w: &[Image]| i128::from(w[1].id) - i128::from(w[0].id);
    let usual = images.windows(2).map(step).next().unwrap_or(1);
    match images.windows(2).find(|w| step(w) != usual || usual <= 0) {
        Some(w) => Err(KeypointsFault::UnevenIds { id: w[1].id, before: w[0].id }),
        None => Ok(()),
    }
}

fn pose_of(points: &[Option<(f64, f64, f64)>], columns: &[(usize, Part)], frame: usize, time_s: f64) -> Pose {
    let mut pose = Pose::empty(frame, time_s);
    for (i, part) in columns {
        let Some((x, y, sure)) = points.get(*i).copied().flatten() else { continue };
        let at = Point::new(x, y);
        if at.is_finite() && sure >= MIN_SCORE {
            pose.set(*part, Some(Spot { at, visibility: sure.min(1.0) as f32, seen: Seen::Picture }));
        }
    }
    pose
}

fn region_of(pose: &Pose) -> Option<Region> {
    let b = body_box(pose)?;
    Some(Region { centre: b.centre(), side: b.width.max(b.height).max(1.0) * 1.25, rotation_rad: 0.0 })
}

/// The one who swings: among those at `at`, or all, the person with the best burst of both hands.
fn choose(people: &[Person], at: Option<Point>) -> Option<&Person> {
    let score = |p: &Person| {
        let poses: Vec<Pose> = p.poses().cloned().collect();
        let height_px = standing_height_px(&poses).unwrap_or(f64::MAX);
        bursts(&poses, height_px).iter().map(Burst::score).fold(0.0, f64::max)
    };
    let near: Vec<&Person> = people.iter().filter(|p| at.is_none_or(|at| p.stands_at(at))).collect();
    near.into_iter().map(|p| (score(p), p)).max_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, p)| p)
}

fn part_of(name: &str) -> Option<Part> {
    let name = match name {
        "left_big_toe" | "left_foot_index" => "left_toe",
        "right_big_toe" | "right_foot_index" => "right_toe",
        other => other,
    };
    serde_json::from_value(serde_json::Value::String(name.to_owned())).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    const NAMES: [&str; 19] = [
        "nose",
        "left_eye",
        "right_eye",
        "left_ear",
        "right_ear",
        "left_shoulder",
        "right_shoulder",
        "left_elbow",
        "right_elbow",
        "left_wrist",
        "right_wrist",
        "left_hip",
        "right_hip",
        "left_knee",
        "right_knee",
        "left_ankle",
        "right_ankle",
        "left_big_toe",
        "right_heel",
    ];

    fn file(pictures: usize, with_times: bool, edit: impl Fn(usize, &mut Vec<serde_json::Value>)) -> String {
        let images: Vec<_> = (0..pictures)
            .map(|i| {
                let mut image = serde_json::json!({"id": i, "width": 640, "height": 480});
                if with_times {
                    image["time_s"] = serde_json::json!(i as f64 * 0.1);
                }
                image
            })
            .collect();
        let annotations: Vec<_> = (0..pictures)
            .map(|i| {
                let mut points = Vec::new();
                for k in 0..NAMES.len() {
                    points.extend([
                        serde_json::json!(300.0 + k as f64),
                        serde_json::json!(100.0 + 10.0 * k as f64),
                        serde_json::json!(2),
                    ]);
                }
                edit(i, &mut points);
                serde_json::json!({"image_id": i, "keypoints": points, "category_id": 1})
            })
            .collect();
        serde_json::json!({
            "images": images, "annotations": annotations,
            "categories": [{"id": 1, "keypoints": NAMES}],
        })
        .to_string()
    }

    #[test]
    fn points_names_and_times_are_taken() {
        let read = parse(&file(5, true, |_, _| {}), Times::FromFile, None).unwrap();
        assert_eq!(read.track.poses.len(), 5);
        assert_eq!((read.width, read.height), (640, 480));
        assert_eq!(read.track.poses[3].at(Part::LeftToe), Some(Point::new(317.0, 270.0)));
        assert_eq!(read.track.poses[3].at(Part::LeftHeel), None);
        assert!((read.track.poses[3].time_s - 0.3).abs() < 1e-12);
        let by_rate = parse(&file(5, false, |_, _| {}), Times::Rate(50.0), None).unwrap();
        assert!((by_rate.track.poses[4].time_s - 0.08).abs() < 1e-12);
    }

    #[test]
    fn nan_null_and_unlabelled_are_gaps() {
        let text = file(3, true, |i, p| {
            if i == 1 {
                p[2] = serde_json::json!(0);
                p[3] = serde_json::Value::Null;
            }
        });
        let text = text.replacen("313.0", "NaN", 1);
        let read = parse(&text, Times::FromFile, None).unwrap();
        assert_eq!(read.track.poses[0].at(Part::LeftKnee), None);
        assert!(read.track.poses[2].at(Part::LeftKnee).is_some());
    }

    #[test]
    fn what_is_wrong_is_said() {
        let cause = |text: &str, times| parse(text, times, None).unwrap_err().to_string();
        assert!(cause("{", Times::FromFile).contains("line"));
        assert!(cause(&file(5, false, |_, _| {}), Times::FromFile).contains("--rate"));
        assert!(cause(&file(1, true, |_, _| {}), Times::FromFile).contains("too few"));
        let short = file(3, true, |i, p| p.truncate(if i == 2 { 12 } else { 57 }));
        assert!(cause(&short, Times::FromFile).contains("image 2 has 12"));
        let back = file(3, true, |_, _| {}).replace("0.2", "0.05");
        assert!(cause(&back, Times::FromFile).contains("out of order"));
        let unnamed = file(3, true, |_, _| {}).replace("left_wrist", "left_thumb");
        assert!(cause(&unnamed, Times::FromFile).contains("wrist"));
        assert!(
            cause(&file(3, true, |_, p| p.fill(serde_json::json!(0))), Times::FromFile).contains("no person")
        );
    }
}
