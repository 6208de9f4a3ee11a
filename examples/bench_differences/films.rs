//! The films: one hitter, six ways.

use std::error::Error;
use std::path::Path;

use swingpair::demo::{CameraPlan, Dice, Outfit, Place, Recorded, Scenario, Scene, Truth, film, scenarios};
use swingpair::reading::{ReadOptions, read};
use swingpair::types::{Cancel, NoProgress, Reading, Side, View};

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Variant {
    /// The reference of all the others.
    First,
    /// The same swing filmed alike again.
    Alike,
    /// Filmed alike, with planted changes.
    Planted,
    /// The same swing, the phone set up anew on another day.
    Anew,
    /// The same swing, set up anew at half the rate.
    OtherRate,
    /// The same swing from the closed side.
    OtherSide,
}

impl Variant {
    pub const ALL: [Self; 6] =
        [Self::First, Self::Alike, Self::Planted, Self::Anew, Self::OtherRate, Self::OtherSide];

    pub const fn name(self) -> &'static str {
        match self {
            Self::First => "first",
            Self::Alike => "alike",
            Self::Planted => "planted",
            Self::Anew => "set up anew",
            Self::OtherRate => "other rate",
            Self::OtherSide => "other side",
        }
    }
}

/// A film and what was read of it.
pub struct Film {
    pub hitter: u64,
    pub variant: Variant,
    pub truth: Truth,
    pub reading: Reading,
}

impl Film {
    /// `None` where no swing was read, which is said on stderr.
    pub fn read(
        folder: &Path,
        share: &str,
        hitter: u64,
        variant: Variant,
    ) -> Result<Option<Self>, Box<dyn Error>> {
        let scenario = scenario(share, hitter, variant);
        Ok(filmed(folder, &scenario)?.map(|(truth, reading)| Self { hitter, variant, truth, reading }))
    }
}

/// Films what is not there yet and reads it.
fn filmed(folder: &Path, scenario: &Scenario) -> Result<Option<(Truth, Reading)>, Box<dyn Error>> {
    let clip = folder.join(format!("{}.mp4", scenario.name));
    let planned = clip.with_extension("scenario.json");
    let plan = serde_json::to_vec(scenario)?;
    let truth = if clip.exists() && std::fs::read(&planned).ok().as_deref() == Some(&plan) {
        Truth::of(scenario)
    } else {
        let truth = film(scenario, &clip, &NoProgress, &Cancel::default())?;
        std::fs::write(planned, plan)?;
        truth
    };
    let options = ReadOptions { height_cm: Some(scenario.hitter.height_cm), ..ReadOptions::default() };
    match read(&clip, &options, &NoProgress, &Cancel::default()) {
        Ok(read) => {
            eprintln!("{}", scenario.name);
            Ok(Some((truth, read.reading)))
        }
        Err(e) => {
            eprintln!("{e}");
            Ok(None)
        }
    }
}

fn scenario(share: &str, hitter: u64, variant: Variant) -> Scenario {
    let bats = if hitter.is_multiple_of(3) { Side::Left } else { Side::Right };
    let base = scenarios::varied("differences", hitter, bats);
    let seed = hitter * 100 + variant as u64;
    let mut setup = Dice::stream(hitter, 71);
    let mut other = Dice::stream(hitter, 72);
    let first = CameraPlan {
        width: 960,
        height: 540,
        rate_hz: 120.0,
        view: View::OpenSide,
        oblique_deg: base.camera.oblique_deg * 0.5,
        body_share: 0.56 * (1.0 + 0.04 * setup.bell()),
        place: [0.48 + 0.02 * setup.bell(), 0.56],
        light: 1.0,
        hold: swingpair::demo::Hold::Tripod,
        ..base.camera
    };
    // By eye, as in `./dev bench lesson days`.
    let anew = CameraPlan {
        oblique_deg: first.oblique_deg + 3.0 * other.bell(),
        distance_m: first.distance_m * (1.0 + 0.05 * other.bell()),
        height_m: first.height_m + 0.08 * other.bell(),
        body_share: first.body_share * (1.0 + 0.04 * other.bell()),
        place: [first.place[0] + 0.02 * other.bell(), first.place[1]],
        light: if other.unit() < 0.5 { 1.0 } else { 0.8 },
        ..first
    };
    let camera = match variant {
        Variant::First | Variant::Alike | Variant::Planted => first,
        Variant::Anew => anew,
        Variant::OtherRate => CameraPlan { rate_hz: 60.0, ..anew },
        Variant::OtherSide => CameraPlan { view: View::ClosedSide, ..first },
    };
    let day = matches!(variant, Variant::Anew | Variant::OtherRate);
    let mut style = base.style;
    let mut timing = base.timing;
    if variant == Variant::Planted {
        let height = base.hitter.height_cm;
        style.plant_width += 8.0 / height;
        style.head_drift += 0.045;
        style.knee_contact_deg -= 14.0;
        style.drop_delay_s += 0.03;
        timing.plant_s += 0.04;
        timing.touch_s += 0.04;
    }
    let contact_s = 1.6 + 0.2 * Dice::stream(seed, 73).unit();
    Scenario {
        name: format!("{share}_{hitter}_{}", variant.name().replace(' ', "_")),
        style,
        timing,
        look: Outfit { ..base.look.clone() },
        scene: Scene { place: if day { Place::Field } else { Place::Cage }, ..Scene::default() },
        camera,
        swing_seed: hitter,
        camera_seed: 7000 + seed,
        duration_s: contact_s + 0.8,
        contact_s,
        ..base
    }
}

/// A recorded swing's letter, its truth, what was read of it.
pub type RecordedFilm = (char, Truth, Reading);

/// The recorded swings filmed by one camera at 120 a second; `None` when they are not there.
pub fn recorded(folder: &Path) -> Result<Option<Vec<RecordedFilm>>, Box<dyn Error>> {
    let file = |letter: char| Path::new("../shared/swings").join(format!("swing_{letter}.json"));
    if !file('a').exists() {
        return Ok(None);
    }
    let mut all = Vec::new();
    for letter in ['a', 'b', 'c'] {
        let recorded = Recorded::load(&file(letter))?;
        let hitter = recorded.hitter("recorded", Side::Right, None);
        let mut s = Scenario::new(&format!("recorded_{letter}"), hitter);
        s.camera = CameraPlan { width: 960, height: 540, rate_hz: 120.0, body_share: 0.56, ..s.camera };
        (s.contact_s, s.duration_s) = (2.0, 2.95);
        s.recorded = Some(recorded);
        s.swing_seed = 5;
        s.camera_seed = 9000 + u64::from(u32::from(letter));
        if let Some((truth, reading)) = filmed(folder, &s)? {
            all.push((letter, truth, reading));
        }
    }
    Ok(Some(all))
}
