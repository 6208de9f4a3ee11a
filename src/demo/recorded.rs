//! Motion that was recorded of a real hitter, from a file that the caller names; nothing of it is kept here.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::figure::Figure;
use super::hitter::Hitter;
use super::replay::figures;
use super::v3::{V3, v3};
use crate::messages::demo as messages;
use crate::types::{Error, Part, Result, Side};

/// Recorded motion and how it is played. As plain data it is the file and the tempo: a scenario that is read back
/// loads the file again.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(try_from = "Named", into = "Named")]
pub struct Recorded {
    file: PathBuf,
    /// 1 = as recorded, 1.1 = played a tenth faster.
    tempo: f64,
    capture: Arc<Capture>,
}

#[derive(Serialize, Deserialize)]
struct Named {
    file: PathBuf,
    tempo: f64,
}

impl TryFrom<Named> for Recorded {
    type Error = Error;
    fn try_from(named: Named) -> Result<Self> {
        Ok(Self { tempo: named.tempo, ..Self::load(&named.file)? })
    }
}

impl From<Recorded> for Named {
    fn from(r: Recorded) -> Self {
        Self { file: r.file, tempo: r.tempo }
    }
}

impl PartialEq for Recorded {
    fn eq(&self, other: &Self) -> bool {
        (&self.file, self.tempo) == (&other.file, other.tempo)
    }
}

/// A right-handed hitter, sample by sample, m and s from the first sample.
#[derive(Debug)]
pub struct Capture {
    pub rate_hz: f64,
    pub figures: Vec<Figure>,
    pub contact_s: f64,
    /// 10 % and 100 % of body weight on the front foot.
    pub plant_s: [f64; 2],
    pub height_m: f64,
    pub bat_m: f64,
}

impl Capture {
    pub fn last_s(&self) -> f64 {
        (self.figures.len() - 1) as f64 / self.rate_hz
    }
}

/// The file's own words.
#[derive(Deserialize)]
struct File {
    rate_hz: f64,
    bats: Side,
    points: BTreeMap<String, Vec<[f64; 3]>>,
    plant_10_s: f64,
    plant_100_s: f64,
    contact_s: f64,
}

/// Joint centres by sample, in the made-up world.
pub struct Joints {
    points: BTreeMap<String, Vec<V3>>,
    pub samples: usize,
    pub rate_hz: f64,
    pub contact_s: f64,
    pub plant_s: [f64; 2],
}

/// The handle between the fists, and where the ball is met.
const BAT: [&str; 2] = ["hands", "bat_sweet_spot"];
const BODY: [(&str, Part); 14] = [
    ("left_hand", Part::LeftHand),
    ("left_wrist", Part::LeftWrist),
    ("left_elbow", Part::LeftElbow),
    ("left_shoulder", Part::LeftShoulder),
    ("left_hip", Part::LeftHip),
    ("left_knee", Part::LeftKnee),
    ("left_ankle", Part::LeftAnkle),
    ("right_hand", Part::RightHand),
    ("right_wrist", Part::RightWrist),
    ("right_elbow", Part::RightElbow),
    ("right_shoulder", Part::RightShoulder),
    ("right_hip", Part::RightHip),
    ("right_knee", Part::RightKnee),
    ("right_ankle", Part::RightAnkle),
];

impl Joints {
    /// A joint at a sample; the last one beyond the end.
    fn named(&self, name: &str, i: usize) -> V3 {
        let places = self.points.get(name).map_or(&[][..], Vec::as_slice);
        places.get(i).or(places.last()).copied().unwrap_or_default()
    }

    /// One of the joints that are recorded; head, heels and toes are not.
    pub fn at(&self, part: Part, i: usize) -> V3 {
        let name = BODY.iter().find(|(_, p)| *p == part).map_or("", |(name, _)| *name);
        self.named(name, i)
    }

    pub fn handle(&self, i: usize) -> V3 {
        self.named(BAT[0], i)
    }

    pub fn sweet_spot(&self, i: usize) -> V3 {
        self.named(BAT[1], i)
    }

    pub fn between(&self, a: Part, i: usize) -> V3 {
        self.at(a, i).lerp(self.at(a.other_side(), i), 0.5)
    }

    fn mean_length(&self, a: Part, b: Part) -> f64 {
        (0..self.samples).map(|i| self.at(a, i).distance(self.at(b, i))).sum::<f64>() / self.samples as f64
    }

    /// Standing height over the ground of a joint that only ever rises from there: its lower tenth.
    pub fn rest_z(&self, part: Part) -> f64 {
        let mut z: Vec<f64> = (0..self.samples).map(|i| self.at(part, i).z).collect();
        z.sort_by(f64::total_cmp);
        z.get(z.len() / 10).copied().unwrap_or(0.0)
    }

    /// Standing height: leg and trunk reach the shoulders' height, .818 of it (Drillis & Contini 1966).
    pub fn height_m(&self) -> f64 {
        let trunk = (0..self.samples)
            .map(|i| self.between(Part::LeftShoulder, i).distance(self.between(Part::LeftHip, i)));
        let trunk = trunk.sum::<f64>() / self.samples as f64;
        let leg = self.mean_length(Part::LeftHip, Part::LeftKnee)
            + self.mean_length(Part::LeftKnee, Part::LeftAnkle);
        (trunk + leg + self.rest_z(Part::LeftAnkle)) / 0.818
    }
}

impl Recorded {
    /// Loads a recording of a right-handed hitter: `rate_hz`, `bats`, `points` {name: [[x, y, z] …]} in m with z up, x
    /// toward the pitcher and the chest toward −y, `plant_10_s`, `plant_100_s`, `contact_s`.
    pub fn load(file: &Path) -> Result<Self> {
        let text = std::fs::read(file).map_err(|e| Error::reading(file, e))?;
        let wrong = |cause: String| Error::Unreadable { path: file.to_owned(), cause: cause.into() };
        let read: File = serde_json::from_slice(&text).map_err(|e| wrong(e.to_string()))?;
        let joints = joints(read).map_err(wrong)?;
        let figures = figures(&joints);
        let bat_m = figures.iter().find_map(|f| f.bat).map_or(0.84, |b| b.knob.distance(b.tip));
        let capture = Capture {
            rate_hz: joints.rate_hz,
            contact_s: joints.contact_s,
            plant_s: joints.plant_s,
            height_m: joints.height_m(),
            figures,
            bat_m,
        };
        Ok(Self { file: file.to_owned(), tempo: 1.0, capture: Arc::new(capture) })
    }

    /// The same motion played so many times faster.
    pub fn at_tempo(&self, tempo: f64) -> Self {
        Self { tempo, ..self.clone() }
    }

    /// How many times faster than it was recorded.
    pub fn tempo(&self) -> f64 {
        self.tempo
    }

    pub(super) fn capture(&self) -> &Arc<Capture> {
        &self.capture
    }

    /// A hitter of this size, or as tall as told, who bats from this side.
    pub fn hitter(&self, name: &str, bats: Side, height_cm: Option<f64>) -> Hitter {
        let own_cm = 100.0 * self.capture.height_m;
        let height_cm = height_cm.unwrap_or(own_cm);
        Hitter::new(name, bats, height_cm, 100.0 * self.capture.bat_m * height_cm / own_cm)
    }
}

fn joints(file: File) -> std::result::Result<Joints, String> {
    if file.bats != Side::Right {
        return Err(messages::NOT_RIGHT_HANDED.into());
    }
    let samples = file.points.get(BAT[0]).map_or(0, Vec::len);
    for name in BODY.map(|(name, _)| name).into_iter().chain(BAT) {
        let places = file.points.get(name).ok_or(messages::no_point(name))?;
        if places.len() != samples || places.iter().flatten().any(|v| !v.is_finite()) {
            return Err(messages::point_missing(name));
        }
    }
    let last_s = (samples as f64 - 1.0) / file.rate_hz;
    let times = [0.0, file.plant_10_s, file.plant_100_s, file.contact_s, last_s];
    if !(file.rate_hz > 0.0 && samples > 3 && times.windows(2).all(|w| w[0] < w[1])) {
        return Err(messages::EVENTS_OUT_OF_ORDER.into());
    }
    let points: BTreeMap<String, Vec<V3>> = file
        .points
        .into_iter()
        .map(|(name, places)| (name, places.into_iter().map(|[x, y, z]| v3(x, y, z)).collect()))
        .collect();
    let mut joints = Joints {
        points,
        samples,
        rate_hz: file.rate_hz,
        contact_s: file.contact_s,
        plant_s: [file.plant_10_s, file.plant_100_s],
    };
    // Where made-up hitters stand: their feet about the middle, their toes on the line y = 0.
    let feet = joints.between(Part::LeftAnkle, 0).without(V3::UP);
    let shift = v3(-0.05, 0.2, 0.0) - feet;
    for place in joints.points.values_mut().flatten() {
        *place = *place + shift;
    }
    Ok(joints)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo::{Scenario, Style, Swing, Timing, Truth};
    use crate::types::{EventId, PARTS};

    /// A made-up swing in a recording's words: joint centres only.
    fn written(folder: &Path) -> (Swing, PathBuf) {
        let hitter = Hitter::new("Invented", Side::Right, 170.0, 84.0);
        let swing = Swing::new(&hitter, &Style::default(), &Timing::default(), 3);
        let time = |i: usize| i as f64 / 360.0 - 1.2;
        let points = |get: &dyn Fn(&Figure) -> V3| -> Vec<[f64; 3]> {
            (0..580).map(|i| get(&swing.pose_at(time(i)))).map(|p| [p.x, p.y, p.z]).collect()
        };
        let mut all = BTreeMap::new();
        for (name, part) in BODY {
            all.insert(name, points(&|f| f.at(part)));
        }
        all.insert(BAT[0], points(&|f| f.bat.unwrap().at(0.11)));
        all.insert(BAT[1], points(&|f| f.bat.unwrap().at(0.69)));
        let file = serde_json::json!({
            "rate_hz": 360.0, "bats": "right", "points": all,
            "plant_10_s": 1.0, "plant_100_s": 1.04, "contact_s": 1.2,
        });
        let path = folder.join("swing.json");
        std::fs::write(&path, file.to_string()).unwrap();
        (swing, path)
    }

    fn scenario(recorded: &Recorded, bats: Side, height_cm: Option<f64>) -> Scenario {
        let hitter = recorded.hitter("Recorded", bats, height_cm);
        Scenario { recorded: Some(recorded.clone()), ..Scenario::new("r", hitter) }
    }

    #[test]
    fn a_recording_is_played_back_as_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let (swing, path) = written(folder.path());
        let recorded = Recorded::load(&path).unwrap();
        let own = scenario(&recorded, Side::Right, None);
        assert!((own.hitter.height_cm - 170.0).abs() < 3.0, "{}", own.hitter.height_cm);
        let played = Swing::of(&own);
        let shift = played.pose_at(-0.5).at(Part::LeftHip) - swing.pose_at(-0.5).at(Part::LeftHip);
        for i in -90..29 {
            let t = f64::from(i) / 100.0;
            let (a, b) = (played.pose_at(t), swing.pose_at(t));
            for (_, part) in BODY {
                let off = a.at(part).distance(b.at(part) + shift);
                assert!(off < 0.001, "{part:?} at {t} is {off} m off");
            }
            // Head, heels and toes are hung on: near where the made-up ones are, and on the ground.
            for part in PARTS {
                let off = a.at(part).distance(b.at(part) + shift);
                assert!(off < 0.12, "{part:?} at {t} is {off} m off");
                assert!(a.at(part).z > 0.015, "{part:?} at {t} is under the ground");
            }
        }
        // Out of the recording the hitter stands still, and nothing jumps on the way there.
        assert_eq!(played.pose_at(-1.5).parts, played.pose_at(-1.9).parts);
        assert_eq!(played.pose_at(0.6).parts, played.pose_at(0.9).parts);
        for i in -1500..700 {
            let t = f64::from(i) / 1000.0;
            let moved = played.pose_at(t).hands().distance(played.pose_at(t + 0.001).hands());
            assert!(moved < 0.016, "the hands jump at {t}");
        }
        let truth = Truth::of(&own);
        let contact = truth.at(EventId::Contact).unwrap();
        let off = |before_s: f64| truth.off_s(EventId::Plant, contact - before_s).unwrap();
        assert_eq!((off(0.19), off(0.165)), (0.0, 0.0));
        assert!((off(0.25) + 0.05).abs() < 1e-9 && (off(0.10) - 0.06).abs() < 1e-9);
        assert!(truth.known(EventId::Plant) && !truth.known(EventId::HandsStart));
    }

    #[test]
    fn it_is_mirrored_scaled_and_hurried() {
        let folder = tempfile::tempdir().unwrap();
        let (_, path) = written(folder.path());
        let recorded = Recorded::load(&path).unwrap();
        let own = Swing::of(&scenario(&recorded, Side::Right, None));
        let left = Swing::of(&scenario(&recorded, Side::Left, None));
        let child = Swing::of(&scenario(&recorded, Side::Right, Some(150.0)));
        let quick = Swing::of(&scenario(&recorded.at_tempo(1.1), Side::Right, None));
        let k = 150.0 / own.hitter.height_cm;
        for t in [-0.8, -0.2, 0.0, 0.1] {
            for part in PARTS {
                let at = own.pose_at(t).at(part);
                assert_eq!(left.pose_at(t).at(part.other_side()), at.mirrored());
                assert!(child.pose_at(t).at(part).distance(at * k) < 1e-9);
                assert!(quick.pose_at(t / 1.1).at(part).distance(at) < 1e-9);
            }
        }
    }

    #[test]
    fn a_scenario_names_the_file_and_wrong_files_are_refused() {
        let folder = tempfile::tempdir().unwrap();
        let (_, path) = written(folder.path());
        let s = scenario(&Recorded::load(&path).unwrap().at_tempo(0.9), Side::Left, Some(150.0));
        let text = serde_json::to_string(&s).unwrap();
        assert!(text.len() < 4000 && text.contains("swing.json"), "{text}");
        let back: Scenario = serde_json::from_str(&text).unwrap();
        assert_eq!(back.recorded, s.recorded);
        let whole = std::fs::read_to_string(&path).unwrap();
        for (from, to) in [
            ("\"right\"", "\"left\""),
            ("bat_sweet_spot", "sweet"),
            ("\"contact_s\":1.2", "\"contact_s\":9.2"),
            ("\"rate_hz\":360.0", "\"rate_hz\":0.0"),
        ] {
            assert!(whole.contains(from), "{from}");
            std::fs::write(&path, whole.replace(from, to)).unwrap();
            assert!(Recorded::load(&path).is_err(), "{to}");
        }
        let gone = Recorded::load(&folder.path().join("none.json")).unwrap_err().to_string();
        assert!(gone.contains("none.json"), "{gone}");
    }
}
