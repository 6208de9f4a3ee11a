//! Motion that was recorded of a real hitter, from a file that the caller names; nothing of it is kept here.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::figure::Figure;
use super::hitter::Hitter;
use super::replay::figures;
use super::v3::{V3, v3};
use crate::ground::{Error, Part, Result, Side};

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
        let text = std::fs::read(file).map_err(|e| Error::reading(file, &e))?;
        let wrong = |cause: String| Error::Unreadable { path: file.to_owned(), cause };
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
        return Err(
            "a recording of a right-handed hitter is needed; left-handers are mirrored from it".into()
        );
    }
    let samples = file.points.get(BAT[0]).map_or(0, Vec::len);
    for name in BODY.map(|(name, _)| name).into_iter().chain(BAT) {
        let places = file.points.get(name).ok_or(format!("it has no {name}"))?;
        if places.len() != samples || places.iter().flatten().any(|v| !v.is_finite()) {
            return Err(format!("{name} is not told at every sample"));
        }
    }
    let last_s = (samples as f64 - 1.0) / file.rate_hz;
    let times = [0.0, file.plant_10_s, file.plant_100_s, file.contact_s, last_s];
    if !(file.rate_hz > 0.0 && samples > 3 && times.windows(2).all(|w| w[0] < w[1])) {
        return Err("its moments do not follow one another within its samples".into());
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
