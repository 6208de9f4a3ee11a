//! Swings of many hitters whose joints were marked by hand in the picture.

use std::path::Path;

use serde_json::Value;
use swingpair::types::{Part, PitcherSide, Point, Pose, Seen, Spot, Track};

pub struct Labelled {
    pub id: String,
    pub pitcher: PitcherSide,
    pub track: Track,
    pub long_side_px: f64,
}

impl Labelled {
    /// Goes to the left or to the right of the picture.
    pub fn across(&self) -> bool {
        matches!(self.pitcher, PitcherSide::Left | PitcherSide::Right)
    }
}

pub fn load(file: &Path) -> Vec<Labelled> {
    let all: Value = serde_json::from_slice(&std::fs::read(file).unwrap()).unwrap();
    let parts: Vec<Part> = all["joints"]
        .as_array()
        .unwrap()
        .iter()
        .map(|j| serde_json::from_value(j.clone()).unwrap())
        .collect();
    let rate_hz = all["rate_hz"].as_f64().unwrap();
    all["swings"].as_array().unwrap().iter().map(|s| labelled(s, &parts, rate_hz)).collect()
}

fn labelled(swing: &Value, parts: &[Part], rate_hz: f64) -> Labelled {
    let pitcher = match swing["faces"].as_str().unwrap() {
        "left" => PitcherSide::Left,
        "right" => PitcherSide::Right,
        "front" => PitcherSide::Toward,
        "back" => PitcherSide::Away,
        other => panic!("faces {other}"),
    };
    let poses = swing["points"].as_array().unwrap().iter().enumerate().map(|(frame, joints)| {
        let mut pose = Pose::empty(frame, frame as f64 / rate_hz);
        for (part, joint) in parts.iter().zip(joints.as_array().unwrap()) {
            let [x, y, seen] = [0, 1, 2].map(|i| joint[i].as_f64().unwrap());
            // A joint out of sight is guessed at by whoever marked it.
            let visibility = if seen > 0.5 { 1.0 } else { 0.5 };
            let spot = Some(Spot { at: Point::new(x, y), visibility, seen: Seen::Picture });
            pose.set(*part, spot);
            // There is no other point of the head.
            if *part == Part::Nose {
                pose.set(Part::LeftEar, spot);
                pose.set(Part::RightEar, spot);
            }
        }
        pose
    });
    let side = |key: &str| swing[key].as_f64().unwrap();
    Labelled {
        id: swing["id"].as_str().unwrap().to_owned(),
        pitcher,
        track: Track { poses: poses.collect() },
        long_side_px: side("width").max(side("height")),
    }
}
