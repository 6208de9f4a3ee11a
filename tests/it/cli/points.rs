//! `--keypoints`: points of another estimator, written as COCO keypoint JSON from the films' truth.

use std::path::PathBuf;

use serde_json::{Value, json};
use swingpair::ground::{EventId, MeasureId, PARTS, Part};
use tempfile::TempDir;

use super::films::{films, swingpair};

/// COCO's seventeen (cocodataset.org) and COCO-WholeBody's six of the feet, as far as they are known here.
const NAMES: [&str; 23] = [
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
    "left_small_toe",
    "left_heel",
    "right_big_toe",
    "right_small_toe",
    "right_heel",
];

fn part(name: &str) -> Option<Part> {
    let name = name.replace("big_toe", "toe");
    PARTS.into_iter().find(|p| serde_json::to_value(p).unwrap() == name.as_str())
}

/// The truth of a film as a keypoint file, after `edit`.
pub fn write(folder: &TempDir, film: &str, edit: impl FnOnce(&mut Value)) -> PathBuf {
    let truth = films().truth(film);
    let images: Vec<Value> = truth
        .times_s
        .iter()
        .enumerate()
        .map(|(i, t)| json!({"id": 100 + i, "width": 640, "height": 360, "time_s": t}))
        .collect();
    let annotations: Vec<Value> = truth
        .track()
        .poses
        .iter()
        .map(|pose| {
            let points: Vec<Value> = NAMES
                .iter()
                .flat_map(|name| match part(name).and_then(|p| pose.at(p)) {
                    Some(at) => [json!(at.x), json!(at.y), json!(2)],
                    None => [json!(0), json!(0), json!(0)],
                })
                .collect();
            json!({"id": pose.frame, "image_id": 100 + pose.frame, "category_id": 1, "keypoints": points})
        })
        .collect();
    let mut file = json!({
        "images": images, "annotations": annotations,
        "categories": [{"id": 1, "name": "person", "keypoints": NAMES}],
    });
    edit(&mut file);
    let path = folder.path().join(format!("{film}.keypoints.json"));
    std::fs::write(&path, file.to_string()).unwrap();
    path
}

fn without_times(file: &mut Value) {
    for image in file["images"].as_array_mut().unwrap() {
        image.as_object_mut().unwrap().remove("time_s");
    }
}

fn off_s(reading: &Value, film: &str, event: EventId) -> f64 {
    let found = reading["events"][event.word()]["time_s"].as_f64();
    (found.unwrap_or_else(|| panic!("no {event:?} in {reading:#}")) - films().truth(film).at(event).unwrap())
        .abs()
}

#[test]
fn exact_points_are_read_with_and_without_their_clip() {
    let folder = tempfile::tempdir().unwrap();
    let points = write(&folder, "best", |_| {});
    let alone = swingpair!["read", "--keypoints", points, "--json"].json();
    assert_eq!(alone["clip"]["path"], points.to_str().unwrap());
    assert_eq!((&alone["clip"]["width"], &alone["clip"]["frames"]), (&json!(640), &json!(294)));
    let clip = films().bare("best", &folder);
    let with_clip = swingpair!["read", clip, "--keypoints", points, "--json"].json();
    assert_eq!(with_clip["clip"]["path"], clip.to_str().unwrap());
    for reading in [&alone, &with_clip] {
        assert_eq!(reading["hitter"]["bats"], "right");
        assert!(off_s(reading, "best", EventId::Plant) < 0.02, "{:#}", reading["events"]);
        assert!(off_s(reading, "best", EventId::Contact) < 0.02, "{:#}", reading["events"]);
    }
    // With the clip comes its sound.
    assert_eq!(with_clip["events"]["contact"]["source"], "motion_and_sound");
    assert_eq!(alone["events"]["contact"]["source"], "motion");
    // Kept, but only for this file of points.
    let edited = write(&folder, "best", |file| {
        for image in file["images"].as_array_mut().unwrap() {
            image["time_s"] = json!(image["time_s"].as_f64().unwrap() * 0.9);
        }
    });
    let other = swingpair!["read", clip, "--keypoints", edited, "--json"].json();
    assert_ne!(other["events"]["plant"]["time_s"], with_clip["events"]["plant"]["time_s"]);
}

#[test]
fn points_without_times_need_a_rate_or_the_clip() {
    let folder = tempfile::tempdir().unwrap();
    let points = write(&folder, "today", without_times);
    let said = swingpair!["-q", "read", "--keypoints", points, "--json"];
    assert_eq!(said.code, Some(1));
    assert!(said.err.contains("give --rate HZ") && said.err.contains("today.keypoints.json"), "{}", said.err);
    let by_rate = swingpair!["read", "--keypoints", points, "--rate", "60", "--json"].json();
    assert!((by_rate["clip"]["rate_hz"].as_f64().unwrap() - 60.0).abs() < 1e-6);
    let clip = films().bare("today", &folder);
    let by_clip = swingpair!["read", clip, "--keypoints", points, "--json"].json();
    for reading in [by_rate, by_clip] {
        assert!(off_s(&reading, "today", EventId::Plant) < 0.03, "{:#}", reading["events"]);
    }
}

/// Any known length in the first picture gives the scale; one that cannot be is said.
#[test]
fn a_marked_length_gives_cm_and_its_caution() {
    let folder = tempfile::tempdir().unwrap();
    let points = write(&folder, "best", |_| {});
    let truth = films().truth("best");
    let marked = |share: f64| format!("300,340,{},340=43.18", 300.0 + share * 43.18 * truth.px_per_cm);
    let read = |words: &[&str]| {
        let mut all: Vec<std::ffi::OsString> = vec!["read".into(), "--json".into(), "--keypoints".into()];
        all.push(points.clone().into());
        all.extend(words.iter().map(|w| (*w).into()));
        super::films::run(&all).json()
    };
    let plain = read(&[]);
    assert_eq!(plain["measures"]["stride_length"]["unit"], "body_heights");
    let known = read(&["--known-length", &marked(1.0)]);
    let stride = &known["measures"]["stride_length"];
    let number = |v: &Value| v.as_f64().unwrap_or_else(|| panic!("{v} in {known:#}"));
    assert_eq!(stride["unit"], "cm");
    assert!(
        (number(&stride["value"]) - truth.measures[&MeasureId::StrideLength]).abs()
            <= number(&stride["plus_minus"])
    );
    assert!((number(&known["scale"]["px_per_cm"]) / truth.px_per_cm - 1.0).abs() < 1e-6);
    assert_eq!(known["measures"]["peak_hand_speed"]["unit"], "metres_per_s");
    assert!(known["warnings"].to_string().contains("known_length_depth"), "{:#}", known["warnings"]);
    assert!(!known["warnings"].to_string().contains("scales_disagree"));
    // With the height they are weighed, or contradict each other.
    let height = truth.hitter.height_cm.to_string();
    let both = read(&["--known-length", &marked(1.0), "--height", &height]);
    assert!(number(&both["scale"]["px_per_cm_error"]) < number(&known["scale"]["px_per_cm_error"]));
    assert!(!both["warnings"].to_string().contains("scales_disagree"), "{:#}", both["warnings"]);
    let wrong = read(&["--known-length", &marked(1.6), "--height", &height]);
    assert!(wrong["warnings"].to_string().contains("check --height and --known-length"), "{wrong:#}");
}

#[test]
fn gaps_and_a_second_person_do_not_disturb() {
    let folder = tempfile::tempdir().unwrap();
    let points = write(&folder, "today", |file| {
        let all = file["annotations"].as_array_mut().unwrap();
        // A knee nobody saw for three pictures, and someone standing by throughout.
        for one in &mut all[20..23] {
            one["keypoints"][39] = Value::Null;
        }
        let still = all[0]["keypoints"].clone();
        for i in 0..all.len() {
            let mut points = still.clone();
            for k in 0..NAMES.len() {
                let x = points[3 * k].as_f64().unwrap();
                points[3 * k] = json!(x + 260.0);
            }
            all.push(json!({"image_id": 100 + i, "category_id": 1, "keypoints": points}));
        }
    });
    let reading = swingpair!["read", "--keypoints", points, "--json"].json();
    assert!(off_s(&reading, "today", EventId::Contact) < 0.03, "{:#}", reading["events"]);
    assert!(reading["warnings"].to_string().contains("several_people"), "{:#}", reading["warnings"]);
    // NaN, which JSON does not know, is written by some for a point nobody saw.
    let text = std::fs::read_to_string(&points).unwrap().replacen("null", "NaN", 1);
    std::fs::write(&points, text).unwrap();
    assert_eq!(swingpair!["read", "--keypoints", points, "--json"].code, Some(0));
}

#[test]
fn what_is_wrong_with_a_keypoint_file_is_said() {
    let folder = tempfile::tempdir().unwrap();
    type Edit = fn(&mut Value);
    let cases: [(Edit, &str); 6] = [
        (|f| f["annotations"][5]["keypoints"] = json!([1, 2, 2]), "image 105 has 3 keypoint numbers"),
        (|f| f["images"][7]["time_s"] = json!(0.01), "its times do not rise"),
        (
            |f| f["categories"][0]["keypoints"][9] = json!("left_paw"),
            "does not name the left and right wrist",
        ),
        (|f| f["annotations"] = json!([]), "no person"),
        (|f| f["images"][3]["id"] = json!(102), "the same id"),
        (|f| f["categories"] = json!([]), "categories is empty"),
    ];
    for (edit, words) in cases {
        let points = write(&folder, "today", edit);
        let said = swingpair!["-q", "read", "--keypoints", points, "--json"];
        assert_eq!((said.code, said.out.as_str(), said.err.lines().count()), (Some(1), "", 1), "{said:?}");
        assert!(said.err.contains(words) && said.err.contains("today.keypoints.json"), "{}", said.err);
        assert!(said.err.contains("give COCO keypoint JSON"), "{}", said.err);
    }
    let neither = swingpair!["read", "--json"];
    assert!(
        neither.code == Some(2) && neither.err.contains("give a video, or points with --keypoints FILE"),
        "{}",
        neither.err
    );
}
