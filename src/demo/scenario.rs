use serde::{Deserialize, Serialize};

use super::ball::BallSource;
use super::camera::CameraPlan;
use super::hitter::Hitter;
use super::pastime::Pastime;
use super::recorded::Recorded;
use super::style::{Style, Timing};

/// Everything that goes into one made-up clip. Plain data: a bench builds its own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Scenario {
    /// The clip's file name without its ending.
    pub name: String,
    /// Who swings.
    pub hitter: Hitter,
    /// How the swing looks.
    pub style: Style,
    /// When its moments come.
    pub timing: Timing,
    /// How the ball comes.
    pub ball: BallSource,
    /// Where the camera stands and how it films.
    pub camera: CameraPlan,
    /// What the hitter wears.
    pub look: Outfit,
    /// What else is in the picture.
    pub scene: Scene,
    /// Draws all that the rest leaves open; the same seed gives the same swing.
    pub swing_seed: u64,
    /// The same for camera, noise and sound: two cameras on one swing differ here.
    pub camera_seed: u64,
    /// Real time filmed, s.
    pub duration_s: f64,
    /// Real time of contact from the first picture, s.
    pub contact_s: f64,
    /// `None`: the clip is silent.
    pub sound: Option<SoundPlan>,
    /// A practice swing before the one with the ball.
    #[serde(default)]
    pub practice: Option<Practice>,
    /// What the hitter does instead of swinging, or after it.
    #[serde(default)]
    pub aside: Option<Aside>,
    /// Store the pictures this many times slower than filmed, with the capture rate in a tag, as phones
    /// do: 8 = 240 filmed, 30 played. 1 = real time.
    pub stored_slower: f64,
    /// Recorded motion instead of the made-up one: style, timing and seed of the swing say nothing then. Side and
    /// height of the hitter do: the motion is mirrored and scaled to them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recorded: Option<Recorded>,
}

/// An 8-bit sRGB colour.
pub type Rgb = [u8; 3];

/// What someone wears.
#[expect(missing_docs, reason = "each is the color of what it names")]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Outfit {
    pub jersey: Rgb,
    pub sleeves: Rgb,
    pub pants: Rgb,
    pub socks: Rgb,
    pub shoes: Rgb,
    pub helmet: Rgb,
    pub skin: Rgb,
    pub gloves: Rgb,
    pub bat: Rgb,
    /// Loose clothes: thickness of what covers trunk and limbs; 0 = close fit, 1 = very loose.
    pub baggy: f64,
    pub number: Option<u8>,
    /// A guard on the helmet that hides the face.
    #[serde(default)]
    pub face_guard: bool,
}

impl Default for Outfit {
    fn default() -> Self {
        Self {
            jersey: [38, 70, 150],
            sleeves: [38, 70, 150],
            pants: [224, 224, 218],
            socks: [30, 45, 92],
            shoes: [32, 32, 36],
            helmet: [26, 38, 88],
            skin: [222, 168, 132],
            gloves: [196, 60, 48],
            bat: [205, 160, 98],
            baggy: 0.15,
            number: Some(7),
            face_guard: false,
        }
    }
}

/// Where it happens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Place {
    /// A dirt field by day with a fence and trees.
    Field,
    /// A netted cage in a hall.
    Cage,
}

/// Someone who is in the picture but does not bat.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bystander {
    /// Where they are at the first picture, m, in the hitter's world (x to the pitcher).
    pub at_m: [f64; 2],
    /// 0 = stands and watches, m/s along x.
    pub walk_m_s: f64,
    /// Throws with one arm, overhand, every so many seconds; 0 = never.
    #[serde(default)]
    pub throws_every_s: f64,
    /// Standing height, cm.
    pub height_cm: f64,
    /// What they wear.
    pub look: Outfit,
}

/// Where it is filmed, and who else is there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Scene {
    /// The background.
    pub place: Place,
    /// People who do not swing.
    pub bystanders: Vec<Bystander>,
    /// A net between camera and hitter.
    pub net_in_front: bool,
}

impl Default for Scene {
    fn default() -> Self {
        Self { place: Place::Field, bystanders: Vec::new(), net_in_front: false }
    }
}

/// A swing at no ball: the same motion, slower.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Practice {
    /// When its bat passes where contact would be, real s from the first picture.
    pub middle_s: f64,
    /// Its speed as a share of the swing's.
    pub tempo: f64,
}

/// What a hitter does between swings.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Aside {
    /// After the swing's finish back into the stance.
    BackToStance,
    /// The same, at no ball.
    DrySwing,
    /// No swing: the bat is held out over the plate and meets the ball.
    Bunt {
        /// When it does, real s from the first picture.
        met_s: f64,
    },
    /// No swing: the bat is drawn through half of the way, slowly.
    Waggles {
        /// When it begins, real s from the first picture.
        from_s: f64,
        /// How often.
        times: u8,
    },
    /// No swing, mostly no bat: something else, its middle where contact would be.
    Pastime(Pastime),
}

/// What the phone hears.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SoundPlan {
    /// How much later than the picture the file's sound track is, s; 0 = right, negative = early.
    /// Travel from bat to microphone comes on top.
    pub offset_s: f64,
    /// Room noise, 1 = a quiet field.
    pub noise: f64,
    /// How much of a crack's hiss two phones hear alike, 0…1; the rest is each one's own, as it leaves the bat to
    /// another side.
    #[serde(default = "half")]
    pub alike: f64,
    /// How loud the microphone is set: above 1 near sounds are cut off at the top.
    #[serde(default = "one")]
    pub gain: f64,
    /// The phone's clock runs fast by so much, parts in a million.
    #[serde(default)]
    pub clock_ppm: f64,
    /// What comes back from walls and ground.
    #[serde(default)]
    pub echoes: Vec<Echo>,
    /// What else is to be heard; the same for every phone that films this.
    #[serde(default)]
    pub others: Vec<OtherSound>,
}

fn half() -> f64 {
    0.5
}

fn one() -> f64 {
    1.0
}

/// Every sudden sound once more.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Echo {
    /// After the sound itself, s.
    pub later_s: f64,
    /// Share of the direct sound.
    pub level: f64,
}

/// A sound beside the swing's own.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct OtherSound {
    /// What is heard.
    pub kind: OtherKind,
    /// Real time from contact, s.
    pub at_s: f64,
    /// Where it comes from, m, in the hitter's world; contact is about at 0, 0.
    pub at_m: [f64; 2],
    /// Beside a crack of the swing's own at the same distance.
    pub level: f64,
}

/// A sound that is not bat on ball.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum OtherKind {
    /// A bat on a ball.
    Crack,
    /// A spoken syllable or two.
    Talk,
    /// A machine's beat, the same each time.
    Beat,
}

impl Default for SoundPlan {
    fn default() -> Self {
        Self {
            offset_s: 0.0,
            noise: 1.0,
            alike: half(),
            gain: one(),
            clock_ppm: 0.0,
            echoes: Vec::new(),
            others: Vec::new(),
        }
    }
}

impl Scenario {
    /// A plain swing, filmed at 60 Hz from the open side; contact 2 s in.
    pub fn new(name: &str, hitter: Hitter) -> Self {
        Self {
            name: name.to_owned(),
            hitter,
            style: Style::default(),
            timing: Timing::default(),
            ball: BallSource::Pitch { speed_m_s: 30.0 },
            camera: CameraPlan::default(),
            look: Outfit::default(),
            scene: Scene::default(),
            swing_seed: 1,
            camera_seed: 1,
            duration_s: 3.2,
            contact_s: 2.1,
            sound: Some(SoundPlan::default()),
            practice: None,
            aside: None,
            stored_slower: 1.0,
            recorded: None,
        }
    }

    /// How many pictures are taken.
    pub fn frames(&self) -> usize {
        (self.duration_s * self.camera.rate_hz).round().max(1.0) as usize
    }

    /// Real time of a picture from the first, s: the middle of its exposure, counted from the middle of
    /// the first one's.
    pub fn frame_time_s(&self, frame: usize) -> f64 {
        frame as f64 / self.camera.rate_hz
    }
}
