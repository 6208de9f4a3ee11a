use serde_json::Value;
use std::collections::BTreeMap;
use swingpair::demo::{Dice, Hitter, Style, Swing, Timing};
use swingpair::types::{PARTS, Part, Point, Pose, Seen, Side, Spot, Track};

pub enum Truth {
    Swing { forward: f64, contact_s: f64 },
    Faces(f64),
    Along,
}
pub struct Case {
    pub group: &'static str,
    pub id: String,
    pub track: Track,
    pub truth: Truth,
}
const PX_PER_M: f64 = 210.0;

fn spot(at: Point) -> Option<Spot> {
    Some(Spot { at, visibility: 0.99, seen: Seen::Picture })
}

pub fn made_up(seeds: std::ops::Range<u64>) -> Vec<Case> {
    let mut all = Vec::new();
    for seed in seeds {
        let mut dice = Dice::stream(seed, 78);
        let side = if seed.is_multiple_of(2) { Side::Right } else { Side::Left };
        let hitter = Hitter::new("made up", side, dice.between(135.0, 195.0), 80.0);
        let style = Style::wide(&mut dice);
        let timing = Timing::wide(&mut dice);
        let start_s = -(timing.move_s + dice.between(0.3, 0.9));
        let swing = Swing::new(&hitter, &style, &timing, seed);
        let rate = [30.0, 60.0, 120.0, 240.0][(seed / 2 % 4) as usize];
        // x is to the pitcher in the made-up world; seen from the open side a right-hander's pitcher is right.
        let flip = if seed.is_multiple_of(3) { -1.0 } else { 1.0 };
        let n = ((1.0 - start_s) * rate) as usize;
        let poses = (0..n)
            .map(|i| {
                let t = i as f64 / rate;
                let f = swing.pose_at(start_s + t);
                let mut pose = Pose::empty(i, t);
                for part in PARTS {
                    let p = f.at(part);
                    let at = Point::new(640.0 + flip * p.x * PX_PER_M, 650.0 - p.z * PX_PER_M)
                        + Point::new(dice.bell(), dice.bell()) * 1.5;
                    pose.set(part, spot(at));
                }
                pose
            })
            .collect();
        all.push(Case {
            group: if seed.is_multiple_of(2) { "made_set" } else { "made_report" },
            id: format!("{seed}@{rate}"),
            track: Track { poses },
            truth: Truth::Swing { forward: flip, contact_s: -start_s },
        });
    }
    all
}

pub fn recorded() -> Result<Vec<Case>, Box<dyn std::error::Error>> {
    let mut all = Vec::new();
    for name in ["a", "b", "c"] {
        let v: Value =
            serde_json::from_slice(&std::fs::read(format!("../shared/swings/swing_{name}.json"))?)?;
        let rate = v["rate_hz"].as_f64().unwrap();
        let contact = v["contact_s"].as_f64().unwrap();
        let points: BTreeMap<String, Vec<[f64; 3]>> = serde_json::from_value(v["points"].clone())?;
        let n = points["hands"].len();
        for to_rate in [30.0, 60.0, 120.0, 240.0] {
            for flip in [1.0, -1.0] {
                for left in [false, true] {
                    let mut dice = Dice::stream(to_rate as u64 + u64::from(left), 3);
                    let count = ((n - 1) as f64 / rate * to_rate) as usize;
                    let phase = dice.between(0.0, 1.0 / to_rate);
                    let poses = (0..count)
                        .map(|i| {
                            let t = i as f64 / to_rate + phase;
                            let k = t * rate;
                            let (a, share) = (k.floor() as usize, k.fract());
                            let get = |name: &str| -> [f64; 3] {
                                let p = &points[name];
                                let (p, q) = (p[a.min(n - 1)], p[(a + 1).min(n - 1)]);
                                [0, 1, 2].map(|i| p[i] + (q[i] - p[i]) * share)
                            };
                            let mut pose = Pose::empty(i, t - phase);
                            let mut put = |part: Part, p: [f64; 3]| {
                                let part = if left { part.other_side() } else { part };
                                let at = Point::new(640.0 + flip * p[0] * PX_PER_M, 650.0 - p[2] * PX_PER_M)
                                    + Point::new(dice.bell(), dice.bell()) * 1.5;
                                pose.set(part, spot(at));
                            };
                            use Part::*;
                            for (part, name) in [
                                (LeftShoulder, "shoulder"),
                                (LeftElbow, "elbow"),
                                (LeftWrist, "wrist"),
                                (LeftHand, "hand"),
                                (LeftHip, "hip"),
                                (LeftKnee, "knee"),
                                (LeftAnkle, "ankle"),
                            ] {
                                put(part, get(&format!("left_{name}")));
                                put(part.other_side(), get(&format!("right_{name}")));
                            }
                            for (part, side) in [(LeftAnkle, "left"), (RightAnkle, "right")] {
                                let p = get(&format!("{side}_ankle"));
                                let lift = (p[2] - 0.10).max(0.0);
                                let (toe, heel) = if part == LeftAnkle {
                                    (LeftToe, LeftHeel)
                                } else {
                                    (RightToe, RightHeel)
                                };
                                // Seen from the side the foot points at the camera: toe and heel are one place across.
                                put(
                                    toe,
                                    [p[0] + 0.03, 0.0, 0.02 + if lift < 0.1 { 0.0 } else { lift - 0.1 }],
                                );
                                put(heel, [p[0], 0.0, 0.02 + lift]);
                            }
                            let neck = get("neck_base");
                            put(Nose, [neck[0] + 0.08, 0.0, neck[2] + 0.14]);
                            for ear in [LeftEar, RightEar] {
                                put(ear, [neck[0] + 0.01, 0.0, neck[2] + 0.14]);
                            }
                            pose
                        })
                        .collect();
                    all.push(Case {
                        group: if name == "a" { "recorded_set" } else { "recorded_report" },
                        id: format!(
                            "{name}@{to_rate}{}{}",
                            if flip > 0.0 { "R" } else { "L" },
                            if left { "l" } else { "r" }
                        ),
                        track: Track { poses },
                        truth: Truth::Swing { forward: flip, contact_s: contact - phase },
                    });
                }
            }
        }
    }
    Ok(all)
}

pub fn labelled() -> Result<Vec<Case>, Box<dyn std::error::Error>> {
    let v: Value = serde_json::from_slice(&std::fs::read("../shared/swings/labelled.json")?)?;
    let mut all = Vec::new();
    for s in v["swings"].as_array().unwrap() {
        let id = s["id"].as_str().unwrap().to_owned();
        let points: Vec<Vec<[f64; 3]>> = serde_json::from_value(s["points"].clone())?;
        use Part::*;
        let parts = [
            Nose,
            LeftShoulder,
            RightShoulder,
            LeftElbow,
            RightElbow,
            LeftWrist,
            RightWrist,
            LeftHip,
            RightHip,
            LeftKnee,
            RightKnee,
            LeftAnkle,
            RightAnkle,
        ];
        let poses = points
            .iter()
            .enumerate()
            .map(|(i, joints)| {
                let mut pose = Pose::empty(i, i as f64 / 30.0);
                for (part, p) in parts.iter().zip(joints) {
                    if p[0] != 0.0 || p[1] != 0.0 {
                        pose.set(*part, spot(Point::new(p[0], p[1])));
                    }
                }
                pose
            })
            .collect();
        let number: u64 = id.parse()?;
        all.push(Case {
            group: if (number / 2).is_multiple_of(2) { "labelled_set" } else { "labelled_report" },
            id,
            track: Track { poses },
            truth: match s["faces"].as_str() {
                Some("left") => Truth::Faces(-1.0),
                Some("right") => Truth::Faces(1.0),
                _ => Truth::Along,
            },
        });
    }
    Ok(all)
}
