//! `--keypoints`: points of another estimator, written as COCO keypoint JSON from the films' truth.

use std::path::PathBuf;

use serde_json::{Value, json};
use swingpair::types::{EventId, MeasureId, PARTS, Part};
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

fn every_time(file: &mut Value, change: impl Fn(f64) -> f64) {
    for image in file["images"].as_array_mut().unwrap() {
        image["time_s"] = json!(change(image["time_s"].as_f64().unwrap()));
    }
}

/// x, y and v of every point that is there.
fn every_point(file: &mut Value, change: impl Fn([f64; 3]) -> [f64; 3]) {
    for one in file["annotations"].as_array_mut().unwrap() {
        for point in one["keypoints"].as_array_mut().unwrap().chunks_mut(3) {
            let old = [0, 1, 2].map(|i| point[i].as_f64().unwrap());
            if old[2] > 0.0 {
                for (to, from) in point.iter_mut().zip(change(old)) {
                    *to = json!(from);
                }
            }
        }
    }
}

/// Left and right change places, for the parts whose name holds one of `words`.
fn swap_sides(file: &mut Value, words: &[&str]) {
    for one in file["annotations"].as_array_mut().unwrap() {
        let old = one["keypoints"].as_array().unwrap().clone();
        for (i, name) in NAMES.iter().enumerate().filter(|(_, n)| words.iter().any(|w| n.contains(w))) {
            let other = match name.strip_prefix("left_") {
                Some(rest) => format!("right_{rest}"),
                None => name.replace("right_", "left_"),
            };
            let j = NAMES.iter().position(|n| *n == other).unwrap();
            for k in 0..3 {
                one["keypoints"][3 * i + k] = old[3 * j + k].clone();
            }
        }
    }
}

fn codes(reading: &Value) -> Vec<&str> {
    reading["warnings"].as_array().unwrap().iter().map(|w| w["code"].as_str().unwrap()).collect()
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
    // What may be passed on holds no folder of this computer.
    assert_eq!(alone["clip"]["path"], "best.keypoints.json");
    assert_eq!((&alone["clip"]["width"], &alone["clip"]["frames"]), (&json!(640), &json!(294)));
    let clip = films().bare("best", &folder);
    let with_clip = swingpair!["read", clip, "--keypoints", points, "--json"].json();
    assert_eq!(with_clip["clip"]["path"], "best.mp4");
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

/// Every moment that is given lies within its ±, and what is not given is not there.
fn within_its_error(reading: &Value, film: &str, what: &str) {
    for (word, event) in reading["events"].as_object().unwrap() {
        let Some(truth_s) = films().truth(film).at(EventId::from_word(word).unwrap()) else { continue };
        let of = |key: &str| event[key].as_f64().unwrap();
        let off_s = (of("time_s") - truth_s).abs();
        // The start of a quiet stance is nobody's moment.
        let room_s = if word == "stance" { 0.3 } else { 0.0 };
        assert!(off_s <= of("plus_minus_s") + room_s, "{what}: {word} is off by {off_s} s in {event:#}");
    }
}

#[test]
fn a_hole_in_the_swing_is_told_by_the_errors() {
    let folder = tempfile::tempdir().unwrap();
    let contact_s = films().truth("best").at(EventId::Contact).unwrap();
    let mut read = 0;
    for (from_s, to_s) in [(-0.25, -0.12), (-0.10, 0.05), (-0.30, 0.10), (-0.2, -0.13)] {
        let points = write(&folder, "best", |file| {
            let times: Vec<f64> =
                file["images"].as_array().unwrap().iter().map(|i| i["time_s"].as_f64().unwrap()).collect();
            let all = file["annotations"].as_array_mut().unwrap();
            all.retain(|one| {
                let t = times[one["image_id"].as_u64().unwrap() as usize - 100] - contact_s;
                t < from_s || t > to_s
            });
        });
        let said = swingpair!["read", "--keypoints", points, "--json"];
        if said.code == Some(1) {
            // Where the swing itself is gone, it is refused and the hole named.
            assert!(said.err.contains("points are missing"), "{from_s}…{to_s}: {}", said.err);
            continue;
        }
        read += 1;
        let reading = said.json();
        assert!(codes(&reading).contains(&"points_missing"), "{from_s}…{to_s}: {:?}", codes(&reading));
        within_its_error(&reading, "best", &format!("hole {from_s}…{to_s}"));
    }
    assert!(read > 0, "none was read");
}

#[test]
fn half_a_second_of_points_gives_what_it_has() {
    let folder = tempfile::tempdir().unwrap();
    let contact_s = films().truth("best").at(EventId::Contact).unwrap();
    let points = write(&folder, "best", |file| {
        let keep = |t: f64| (contact_s - 0.3..contact_s + 0.2).contains(&t);
        let images = file["images"].as_array().unwrap().clone();
        let all = file["annotations"].as_array_mut().unwrap();
        all.retain(|one| {
            keep(images[one["image_id"].as_u64().unwrap() as usize - 100]["time_s"].as_f64().unwrap())
        });
    });
    let reading = swingpair!["read", "--keypoints", points, "--json"].json();
    for code in ["points_partial", "starts_late"] {
        assert!(codes(&reading).contains(&code), "{:?}", codes(&reading));
    }
    for lost in ["stance", "load", "foot_off"] {
        assert!(reading["events"][lost].is_null(), "{lost} was not filmed: {:#}", reading["events"]);
    }
    assert!(reading["absent"]["stride_length"].as_str().unwrap().contains("stance"), "{reading:#}");
    assert!(reading["measures"]["plant_to_contact"].is_object(), "{reading:#}");
    within_its_error(&reading, "best", "half a second");
}

#[test]
fn points_without_feet_give_plant_with_a_wider_error() {
    let folder = tempfile::tempdir().unwrap();
    let points = write(&folder, "best", |file| {
        // COCO's seventeen, and no word on how sure each is.
        file["categories"][0]["keypoints"].as_array_mut().unwrap().truncate(17);
        for one in file["annotations"].as_array_mut().unwrap() {
            let old = one["keypoints"].as_array().unwrap().clone();
            one["keypoints"] = old.chunks(3).take(17).flat_map(|c| [c[0].clone(), c[1].clone()]).collect();
        }
    });
    let reading = swingpair!["read", "--keypoints", points, "--json"].json();
    assert!(codes(&reading).contains(&"no_feet"), "{:?}", codes(&reading));
    let plant = &reading["events"]["plant"];
    assert!(off_s(&reading, "best", EventId::Plant) < 0.03, "{plant:#}");
    assert!(plant["plus_minus_s"].as_f64().unwrap() >= 0.045, "{plant:#}");
    assert!(reading["events"]["touch"].is_null() && reading["events"]["foot_off"].is_null());
    assert!(reading["absent"]["stride_length"].is_string());
}

#[test]
fn other_units_and_directions_are_recognised() {
    let folder = tempfile::tempdir().unwrap();
    let read = |edit: fn(&mut Value)| {
        swingpair!["read", "--keypoints", write(&folder, "best", edit), "--json"].json()
    };
    let plain = read(|_| {});
    type Edit = fn(&mut Value);
    let cases: [(Edit, &str); 4] = [
        (|f| every_point(f, |[x, y, v]| [x / 640.0, y / 360.0, v]), "points_normalised"),
        (|f| every_point(f, |[x, y, v]| [x, 360.0 - y, v]), "y_up"),
        // Motion capture: mm, the middle of the room as zero, y up; such a file knows no picture.
        (
            |f| {
                every_point(f, |[x, y, v]| [(x - 320.0) * 11.0, (200.0 - y) * 11.0, v]);
                f["images"].as_array_mut().unwrap().iter_mut().for_each(|i| i["width"] = json!(0));
                f["images"].as_array_mut().unwrap().iter_mut().for_each(|i| i["height"] = json!(0));
            },
            "y_up",
        ),
        (|f| every_point(f, |[x, y, v]| [x * 11.0, y * 11.0, v]), "points_outside"),
    ];
    for (edit, code) in cases {
        let other = read(edit);
        assert!(codes(&other).contains(&code), "{code}: {:?}", codes(&other));
        assert_eq!(other["hitter"], plain["hitter"], "{code}");
        for (word, event) in plain["events"].as_object().unwrap() {
            let [a, b] = [&event["time_s"], &other["events"][word]["time_s"]].map(|t| t.as_f64().unwrap());
            assert!((a - b).abs() < 1e-3, "{code}: {word} at {a} and {b} s");
        }
        for (word, measure) in plain["measures"].as_object().unwrap() {
            let [a, b] = [measure, &other["measures"][word]].map(|m| m["value"].as_f64().unwrap());
            assert!((a - b).abs() < 1e-2 * a.abs().max(1.0), "{code}: {word} is {a} and {b}");
        }
    }
}

#[test]
fn swapped_sides_are_said() {
    let folder = tempfile::tempdir().unwrap();
    let read = |edit: fn(&mut Value)| {
        swingpair!["read", "--keypoints", write(&folder, "best", edit), "--json"].json()
    };
    let plain = read(|_| {});
    let mirrored = ["sides_mirrored", "sides_contradict"];
    assert!(codes(&plain).iter().all(|c| !mirrored.contains(c)), "{:?}", codes(&plain));
    // Only the legs: put right, and said.
    let legs = read(|f| swap_sides(f, &["hip", "knee", "ankle", "toe", "heel"]));
    assert!(codes(&legs).contains(&"sides_contradict"), "{:?}", codes(&legs));
    // The whole body: the toes give it away.
    let all = read(|f| swap_sides(f, &["left", "right"]));
    assert!(codes(&all).contains(&"sides_mirrored"), "{:?}", codes(&all));
    assert_eq!((&all["hitter"]["bats"], &plain["hitter"]["bats"]), (&json!("left"), &json!("right")));
    for reading in [&legs, &all] {
        for (word, measure) in plain["measures"].as_object().unwrap() {
            let [a, b] = [measure, &reading["measures"][word]].map(|m| m["value"].as_f64().unwrap());
            assert!((a - b).abs() < 1e-6 * a.abs().max(1.0), "{word} is {a} and {b}");
        }
    }
}

#[test]
fn two_people_are_told_apart_with_and_without_ids() {
    let folder = tempfile::tempdir().unwrap();
    // Someone who stands where the hitter's hands go by, so that places alone could be mistaken.
    let beside = |with_ids: bool| {
        move |file: &mut Value| {
            let all = file["annotations"].as_array_mut().unwrap();
            let still = all[0]["keypoints"].clone();
            for i in 0..all.len() {
                if with_ids {
                    all[i]["track_id"] = json!(7);
                }
                let mut points = still.clone();
                for k in 0..NAMES.len() {
                    points[3 * k] = json!(points[3 * k].as_f64().unwrap() + 90.0);
                }
                let mut other = json!({"image_id": 100 + i, "category_id": 1, "keypoints": points});
                if with_ids {
                    other["track_id"] = json!(3);
                }
                all.insert(0, other);
            }
        }
    };
    for with_ids in [false, true] {
        let points = write(&folder, "best", beside(with_ids));
        let reading = swingpair!["read", "--keypoints", points, "--json"].json();
        assert!(codes(&reading).contains(&"several_people"), "{with_ids}: {:?}", codes(&reading));
        within_its_error(&reading, "best", &format!("two people, ids: {with_ids}"));
    }
}

#[test]
fn points_of_another_picture_do_not_pass_for_the_clips() {
    let folder = tempfile::tempdir().unwrap();
    let clip = films().bare("best", &folder);
    let points = write(&folder, "best", |file| {
        file["images"].as_array_mut().unwrap().iter_mut().for_each(|i| i["height"] = json!(640));
    });
    let said = swingpair!["-q", "read", clip, "--keypoints", points, "--json"];
    assert!(said.code == Some(1) && said.err.contains("its images are 640×640"), "{said:?}");
    // Of the same shape they are only larger.
    let points = write(&folder, "best", |file| {
        every_point(file, |[x, y, v]| [2.0 * x, 2.0 * y, v]);
        for image in file["images"].as_array_mut().unwrap() {
            (image["width"], image["height"]) = (json!(1280), json!(720));
        }
    });
    let reading = swingpair!["read", clip, "--keypoints", points, "--json"].json();
    assert!(off_s(&reading, "best", EventId::Plant) < 0.02, "{:#}", reading["events"]);
}

#[test]
fn what_is_wrong_with_a_keypoint_file_is_said() {
    let folder = tempfile::tempdir().unwrap();
    type Edit = fn(&mut Value);
    let cases: [(Edit, &str); 15] = [
        (|f| f["annotations"][5]["keypoints"] = json!([1, 2, 2]), "image 105 has 3 keypoint numbers"),
        (|f| f["images"][7]["time_s"] = json!(0.01), "its times are out of order"),
        (
            |f| f["categories"][0]["keypoints"][9] = json!("left_paw"),
            "does not name both the left and the right wrist",
        ),
        (|f| f["annotations"] = json!([]), "no person"),
        (|f| f["images"][3]["id"] = json!(102), "the same id"),
        (|f| f["categories"] = json!([]), "categories is empty"),
        (|f| f["categories"][0]["keypoints"] = json!([]), "no category lists the names"),
        (|f| f["images"][7]["time_s"] = f["images"][6]["time_s"].clone(), "its times are out of order"),
        (|f| f["images"][7]["time_s"] = Value::Null, "image 107 has no time_s"),
        (|f| every_time(f, |t| t * 1000.0), "0.060 fps; time_s must be in seconds"),
        (|f| every_time(f, |t| t / 1e6), "fps; time_s must be in seconds"),
        (|f| *f = f["annotations"].take(), "a bare list of results"),
        (|f| every_point(f, |[x, y, v]| [x / 200.0, y / 200.0, v]), "units tall; give points in px"),
        (
            |f| {
                for (i, one) in f["annotations"].as_array_mut().unwrap().iter_mut().enumerate() {
                    one["track_id"] = json!(i / 2);
                    one["image_id"] = json!(100 + 2 * (i / 4));
                }
            },
            "two bodies with the track_id",
        ),
        (|f| every_point(f, |[x, y, _]| [x, y, 0.0]), "no person"),
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
