//! Points of another estimator: COCO keypoint JSON (the form of the COCO data set, cocodataset.org;
//! foot names as in COCO-WholeBody). Several people per picture are strung together and the one who
//! swings is chosen, as with the own net.

use std::collections::HashMap;
use std::path::Path;

use serde::Deserialize;

use super::hitter::bursts;
use super::people::{Person, Sighting, body_box, follow};
use super::repair::repair_unsmoothed;
use super::stature::standing_height_px;
use super::{Burst, Region};
use crate::ground::{Error, Part, Point, Pose, Result, Seen, Spot, Track, Warning};

/// Larger files are refused, bytes.
const MAX_BYTES: u64 = 512 << 20;
/// A point that its estimator believes in less than this is no point, 0…1.
const MIN_SCORE: f64 = 0.1;

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
    pub height: usize,
    pub warnings: Vec<Warning>,
}

#[derive(Deserialize)]
struct File {
    images: Vec<Image>,
    annotations: Vec<Annotation>,
    categories: Vec<Category>,
}

#[derive(Deserialize)]
struct Image {
    id: i64,
    #[serde(default)]
    width: usize,
    #[serde(default)]
    height: usize,
    time_s: Option<f64>,
}

#[derive(Deserialize)]
struct Annotation {
    image_id: i64,
    /// x, y, v for each name; null is a gap.
    keypoints: Vec<Option<f64>>,
}

#[derive(Deserialize)]
struct Category {
    keypoints: Vec<String>,
}

/// Read a keypoint file. `at` points at the hitter, px, where several people are in it.
pub fn load(path: &Path, times: Times, at: Option<Point>) -> Result<Keypoints> {
    let size = std::fs::metadata(path).map_err(|e| Error::reading(path, &e))?.len();
    if size > MAX_BYTES {
        return Err(Error::Keypoints {
            path: path.to_owned(),
            cause: "it is larger than 512 MiB".to_owned(),
        });
    }
    let text = std::fs::read_to_string(path).map_err(|e| Error::reading(path, &e))?;
    parse(&text, times, at).map_err(|cause| Error::Keypoints { path: path.to_owned(), cause })
}

/// The same from text; the error is the cause in plain words.
pub fn parse(text: &str, times: Times, at: Option<Point>) -> std::result::Result<Keypoints, String> {
    let file: File = serde_json::from_str(&without_nan(text)).map_err(|e| e.to_string())?;
    let names = &file.categories.first().ok_or("categories is empty")?.keypoints;
    let columns: Vec<(usize, Part)> =
        names.iter().enumerate().filter_map(|(i, n)| Some((i, part_of(n)?))).collect();
    for needed in [Part::LeftShoulder, Part::LeftWrist, Part::LeftHip, Part::LeftKnee, Part::LeftAnkle] {
        if [needed, needed.other_side()].iter().any(|p| columns.iter().all(|(_, have)| have != p)) {
            let word = serde_json::to_value(needed).map_err(|e| e.to_string())?;
            let word = word.as_str().unwrap_or_default().replace("left_", "");
            return Err(format!("categories[0].keypoints does not name the left and right {word}"));
        }
    }
    let times_s = picture_times(&file.images, times)?;
    let place: HashMap<i64, usize> = file.images.iter().enumerate().map(|(i, m)| (m.id, i)).collect();
    if place.len() != file.images.len() {
        return Err("two images have the same id".to_owned());
    }
    // With v = 0, 1, 2 COCO says unlabelled, hidden, seen; others write a score from 0 to 1 there.
    let scores = file
        .annotations
        .iter()
        .all(|a| a.keypoints.chunks(3).all(|c| c.get(2).is_none_or(|v| v.unwrap_or(0.0) <= 1.0)));
    let mut pictures: Vec<Vec<Sighting>> = file.images.iter().map(|_| Vec::new()).collect();
    for annotation in &file.annotations {
        let id = annotation.image_id;
        let frame =
            *place.get(&id).ok_or_else(|| format!("an annotation names image {id}, which is not listed"))?;
        if annotation.keypoints.len() != names.len() * 3 {
            return Err(format!(
                "image {id} has {} keypoint numbers where {} names need {}",
                annotation.keypoints.len(),
                names.len(),
                names.len() * 3
            ));
        }
        let pose = pose_of(annotation, &columns, frame, times_s[frame], scores);
        if let (Some(region), Some(people)) = (region_of(&pose), pictures.get_mut(frame)) {
            people.push(Sighting { pose, region, present: 1.0 });
        }
    }
    let people = if pictures.iter().all(|p| p.len() <= 1) {
        // One person throughout needs no stringing together, so a fast camera or a cut loses nobody.
        let sightings: Vec<Sighting> = pictures.into_iter().flatten().collect();
        if sightings.is_empty() { Vec::new() } else { vec![Person { sightings }] }
    } else {
        follow(pictures)
    };
    let mut warnings = Vec::new();
    let hitter = choose(&people, at).ok_or("it shows no person")?;
    if people.len() > 1 {
        warnings.push(Warning::new(
            "several_people",
            format!("The keypoints hold {} people; the one who swings was taken.", people.len()),
        ));
    }
    let track = repair_unsmoothed(&Track { poses: hitter.poses().cloned().collect() });
    let size = file.images.first();
    Ok(Keypoints {
        track,
        times_s,
        width: size.map_or(0, |s| s.width),
        height: size.map_or(0, |s| s.height),
        warnings,
    })
}

/// Real time of each picture from the first, rising.
fn picture_times(images: &[Image], times: Times) -> std::result::Result<Vec<f64>, String> {
    if images.len() < 2 {
        return Err(format!("it holds {} picture(s), too few to see a swing", images.len()));
    }
    let own: Option<Vec<f64>> = images.iter().map(|m| m.time_s).collect();
    let all = match (own, times) {
        (Some(own), _) => own,
        (None, Times::Rate(rate_hz)) => (0..images.len()).map(|i| i as f64 / rate_hz).collect(),
        (None, Times::Given(given)) if given.len() == images.len() => given.to_vec(),
        (None, Times::Given(given)) => {
            return Err(format!(
                "it holds {} pictures without times, the clip {}; give --rate HZ",
                images.len(),
                given.len()
            ));
        }
        (None, Times::FromFile) => {
            return Err("its images carry no time_s; give --rate HZ".to_owned());
        }
    };
    if let Some(i) = all.windows(2).position(|w| w[1].partial_cmp(&w[0]) != Some(std::cmp::Ordering::Greater))
    {
        return Err(format!(
            "its times do not rise: image {} comes at {} s after {} s",
            i + 1,
            all[i + 1],
            all[i]
        ));
    }
    let first = all.first().copied().unwrap_or(0.0);
    if !all.iter().all(|t| t.is_finite()) {
        return Err("a time is not a number".to_owned());
    }
    Ok(all.into_iter().map(|t| t - first).collect())
}

fn pose_of(
    annotation: &Annotation,
    columns: &[(usize, Part)],
    frame: usize,
    time_s: f64,
    scores: bool,
) -> Pose {
    let mut pose = Pose::empty(frame, time_s);
    for (i, part) in columns {
        let Some([Some(x), Some(y), Some(v)]) = annotation.keypoints.get(i * 3..i * 3 + 3) else { continue };
        let visibility = if scores { *v } else { v / 2.0 };
        let at = Point::new(*x, *y);
        if at.is_finite() && visibility >= MIN_SCORE {
            let visibility = visibility.min(1.0) as f32;
            pose.set(*part, Some(Spot { at, visibility, seen: Seen::Picture }));
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

/// Some writers put NaN and Infinity, which JSON does not know, for points nobody saw: they become null.
fn without_nan(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let (mut in_string, mut escaped) = (false, false);
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let word = ["-Infinity", "Infinity", "NaN"].into_iter().find(|w| !in_string && rest.starts_with(w));
        if let Some(word) = word {
            out.push_str("null");
            rest = &rest[word.len()..];
            continue;
        }
        if in_string {
            in_string = escaped || c != '"';
            escaped = !escaped && c == '\\';
        } else {
            in_string = c == '"';
        }
        out.push(c);
        rest = &rest[c.len_utf8()..];
    }
    out
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
        let cause = |text: &str, times| parse(text, times, None).unwrap_err();
        assert!(cause("{", Times::FromFile).contains("line"));
        assert!(cause(&file(5, false, |_, _| {}), Times::FromFile).contains("--rate"));
        assert!(cause(&file(1, true, |_, _| {}), Times::FromFile).contains("too few"));
        let short = file(3, true, |i, p| p.truncate(if i == 2 { 12 } else { 57 }));
        assert!(cause(&short, Times::FromFile).contains("image 2 has 12"));
        let back = file(3, true, |_, _| {}).replace("0.2", "0.05");
        assert!(cause(&back, Times::FromFile).contains("do not rise"));
        let unnamed = file(3, true, |_, _| {}).replace("left_wrist", "left_thumb");
        assert!(cause(&unnamed, Times::FromFile).contains("wrist"));
        assert!(
            cause(&file(3, true, |_, p| p.fill(serde_json::json!(0))), Times::FromFile).contains("no person")
        );
    }
}
