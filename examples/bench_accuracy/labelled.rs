//! Swings of many hitters whose joints were marked by hand: only the pitcher's direction is known of them.

use std::error::Error;
use std::path::Path;

use serde::Deserialize;
use swingpair::swing::{SwingInput, read_swing};
use swingpair::types::{Part, PitcherSide, Point, Pose, Seen as SpotSeen, Spot, Track};

use super::cases::SWINGS;
use super::rows::{Seen, Share};

#[derive(Deserialize)]
struct File {
    joints: Vec<String>,
    rate_hz: f64,
    swings: Vec<Swing>,
}

#[derive(Deserialize)]
struct Swing {
    id: String,
    width: f64,
    height: f64,
    faces: String,
    points: Vec<Vec<[f64; 3]>>,
}

pub struct Labelled {
    pub id: String,
    pub share: Share,
    /// As `faces` says.
    pub pitcher: PitcherSide,
    pub read: Result<Seen, String>,
}

/// All of them read; `None` when the file is not there.
pub fn read_all() -> Result<Option<Vec<Labelled>>, Box<dyn Error>> {
    let path = Path::new(SWINGS).join("labelled.json");
    if !path.exists() {
        return Ok(None);
    }
    let file: File = serde_json::from_slice(&std::fs::read(path)?)?;
    let parts: Vec<Part> = file.joints.iter().filter_map(|j| part(j)).collect();
    if parts.len() != file.joints.len() {
        return Err("labelled.json names a joint that is not known here".into());
    }
    file.swings.iter().map(|s| labelled(s, &parts, file.rate_hz)).collect::<Result<_, _>>().map(Some)
}

fn labelled(s: &Swing, parts: &[Part], rate_hz: f64) -> Result<Labelled, Box<dyn Error>> {
    let half: u32 = s.id.parse::<u32>()? / 2;
    let share = if half.is_multiple_of(2) { Share::Set } else { Share::Report };
    let pitcher = match s.faces.as_str() {
        "left" => PitcherSide::Left,
        "right" => PitcherSide::Right,
        "front" => PitcherSide::Toward,
        _ => PitcherSide::Away,
    };
    let track = track(s, parts, rate_hz);
    let times: Vec<f64> = (0..s.points.len()).map(|i| i as f64 / rate_hz).collect();
    let read = read_swing(&SwingInput::new(&track, &times, s.width.max(s.height)))
        .map(|swing| Seen::of_points(swing, track.clone()))
        .map_err(|e| e.to_string());
    Ok(Labelled { id: s.id.clone(), share, pitcher, read })
}

fn track(s: &Swing, parts: &[Part], rate_hz: f64) -> Track {
    let mut poses = Vec::new();
    for (frame, places) in s.points.iter().enumerate() {
        let mut pose = Pose::empty(frame, frame as f64 / rate_hz);
        for (part, [x, y, seen]) in parts.iter().zip(places) {
            // A joint out of sight is guessed at by whoever marked it.
            let visibility = if *seen > 0.5 { 1.0 } else { 0.5 };
            let spot = Spot { at: Point::new(*x, *y), visibility, seen: SpotSeen::Picture };
            pose.set(*part, Some(spot));
            if *part == Part::Nose {
                pose.set(Part::LeftEar, Some(spot));
                pose.set(Part::RightEar, Some(spot));
            }
        }
        poses.push(pose);
    }
    Track { poses }
}

fn part(joint: &str) -> Option<Part> {
    Some(match joint {
        "nose" => Part::Nose,
        "left_shoulder" => Part::LeftShoulder,
        "right_shoulder" => Part::RightShoulder,
        "left_elbow" => Part::LeftElbow,
        "right_elbow" => Part::RightElbow,
        "left_wrist" => Part::LeftWrist,
        "right_wrist" => Part::RightWrist,
        "left_hip" => Part::LeftHip,
        "right_hip" => Part::RightHip,
        "left_knee" => Part::LeftKnee,
        "right_knee" => Part::RightKnee,
        "left_ankle" => Part::LeftAnkle,
        "right_ankle" => Part::RightAnkle,
        _ => return None,
    })
}
