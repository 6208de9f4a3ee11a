//! A made-up lesson: three hitters of the Harrow Lane Lanterns, who bat right and left, on two days a month apart,
//! each day's first rep from behind as well. What changed between the days is planted and known.

use std::path::{Path, PathBuf};

use super::camera::{CameraPlan, Hold};
use super::dice::Dice;
use super::film::{film, truth_path};
use super::hitter::Hitter;
use super::scenario::{Outfit, Place, Scenario, Scene};
use super::scenarios::{from_behind, ives_marrowby, wren_castellow};
use super::style::{Style, Timing};
use crate::messages;
use crate::store::write_file;
use crate::types::{Cancel, Error, Progress, Result, Side};

/// The two days.
pub const DAYS: [&str; 2] = ["2026-03-07", "2026-04-04"];
/// Reps of each hitter on each day.
pub const REPS: usize = 4;

/// One film of the lesson and where it lies in its folder.
#[derive(Debug, Clone, PartialEq)]
pub struct LessonFilm {
    /// `wren-castellow/2026-03-07/rep1.mp4`.
    pub place: PathBuf,
    pub(crate) scenario: Scenario,
}

/// Right-handed, 158 cm.
pub fn odalys_fenwick() -> Hitter {
    Hitter { build: 0.95, ..Hitter::new("Odalys Fenwick", Side::Right, 158.0, 76.2) }
}

/// What each hitter works on from the first day to the second; Ives' swing stays as it is.
fn later(hitter: &str, style: Style) -> Style {
    match hitter {
        "Wren Castellow" => Style {
            plant_width: style.plant_width - 0.05,
            knee_contact_deg: style.knee_contact_deg + 10.0,
            ..style
        },
        "Odalys Fenwick" => {
            Style { head_drift: style.head_drift - 0.06, load_back: style.load_back + 0.02, ..style }
        }
        _ => style,
    }
}

/// Every film, filmed at 60 Hz by a phone that stands, small so that filming and reading take minutes.
pub fn lesson_films() -> Vec<LessonFilm> {
    let hitters = [
        (
            wren_castellow(),
            Style {
                hands_height: 0.02,
                stance_width: 0.29,
                plant_width: 0.50,
                knee_contact_deg: 154.0,
                ..Style::default()
            },
            [38, 70, 150],
        ),
        (ives_marrowby(), Style { plant_width: 0.46, hands_back: 0.035, ..Style::default() }, [176, 52, 44]),
        (odalys_fenwick(), Style { head_drift: 0.065, load_back: 0.02, ..Style::default() }, [92, 54, 120]),
    ];
    let mut films = Vec::new();
    for (who, (hitter, style, jersey)) in hitters.into_iter().enumerate() {
        for (day, date) in DAYS.into_iter().enumerate() {
            let style = if day == 0 { style } else { later(&hitter.name, style) };
            for rep in 0..REPS {
                let seed = 9000 + (who * 100 + day * 10 + rep) as u64;
                let mut dice = Dice::stream(seed, 60);
                let contact_s = dice.between(1.6, 1.9);
                let name = format!("rep{}", rep + 1);
                let scenario = Scenario {
                    style: style.next_rep(&mut dice),
                    timing: Timing::default().next_rep(&mut dice),
                    camera: CameraPlan {
                        width: 960,
                        height: 540,
                        rate_hz: 60.0,
                        hold: Hold::Tripod,
                        body_share: 0.58,
                        place: [dice.between(0.46, 0.5), 0.56],
                        ..CameraPlan::default()
                    },
                    look: Outfit {
                        jersey,
                        sleeves: jersey,
                        helmet: jersey.map(|v: u8| v / 2),
                        ..Outfit::default()
                    },
                    scene: Scene {
                        place: if day == 0 { Place::Cage } else { Place::Field },
                        ..Scene::default()
                    },
                    swing_seed: seed,
                    camera_seed: seed + 500,
                    duration_s: contact_s + 0.85,
                    contact_s,
                    ..Scenario::new(&name, hitter.clone())
                };
                let folder = Path::new(&slug(&hitter.name)).join(date);
                if rep == 0 {
                    let behind = from_behind(&scenario);
                    let behind = Scenario { camera: CameraPlan { rate_hz: 60.0, ..behind.camera }, ..behind };
                    films.push(LessonFilm { place: folder.join("rep1_behind.mp4"), scenario: behind });
                }
                films.push(LessonFilm { place: folder.join(format!("{name}.mp4")), scenario });
            }
        }
    }
    films
}

/// A name as a folder is called: "Wren Castellow" → "wren-castellow".
fn slug(name: &str) -> String {
    name.to_lowercase().replace(' ', "-")
}

/// The lesson's file, as it lies in examples/.
const FILE: &str = include_str!("../../examples/lesson/lesson.toml");

/// Films the lesson into `dir`, those that are not there yet; each with its truth beside it, and puts the lesson's file
/// there where none is. Returns the places, the file's last where it is this one.
pub fn film_lesson(dir: &Path, progress: &dyn Progress, cancel: &Cancel) -> Result<Vec<PathBuf>> {
    let films = lesson_films();
    let places: Vec<PathBuf> = films.iter().map(|f| dir.join(&f.place)).collect();
    for place in &places {
        if place.exists() && !truth_path(place).exists() {
            let cause = messages::demo::NOT_A_DEMO.into();
            return Err(Error::Unwritable { path: place.clone(), cause });
        }
    }
    for (film_of, place) in films.iter().zip(&places) {
        if place.exists() {
            continue;
        }
        if let Some(folder) = place.parent() {
            std::fs::create_dir_all(folder).map_err(|e| Error::writing(folder, e))?;
        }
        film(&film_of.scenario, place, progress, cancel)?;
    }
    let file = dir.join("lesson.toml");
    if !file.exists() {
        write_file(&file, FILE.as_bytes())?;
    }
    // A lesson of somebody's own is left as it is, and is none of what was made.
    let own = std::fs::read(&file).is_ok_and(|there| there == FILE.as_bytes());
    Ok(places.into_iter().chain(own.then_some(file)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo::Truth;
    use crate::types::{MeasureId, View};

    fn mean(who: &str, day: usize, id: MeasureId) -> f64 {
        let films = lesson_films();
        let of = films.iter().filter(|f| {
            f.place.starts_with(Path::new(who).join(DAYS[day])) && f.scenario.camera.view == View::OpenSide
        });
        let values: Vec<f64> = of.map(|f| Truth::of(&f.scenario).measures[&id]).collect();
        assert_eq!(values.len(), REPS);
        values.iter().sum::<f64>() / values.len() as f64
    }

    #[test]
    fn what_was_worked_on_changes_and_the_rest_stays() {
        let change = |who, id| mean(who, 1, id) - mean(who, 0, id);
        let stride = change("wren-castellow", MeasureId::StrideLength);
        assert!((-12.0..-5.0).contains(&stride), "{stride}");
        let knee = change("wren-castellow", MeasureId::FrontKneeAtContact);
        assert!((6.0..14.0).contains(&knee), "{knee}");
        assert!(change("ives-marrowby", MeasureId::StrideLength).abs() < 2.5);
        let head = change("odalys-fenwick", MeasureId::HeadTravelPlantToContact);
        assert!((-10.0..-3.0).contains(&head), "{head}");
    }

    #[test]
    fn three_hitters_two_days_two_angles() {
        let films = lesson_films();
        assert_eq!(films.len(), 3 * 2 * (REPS + 1));
        assert_eq!(films.iter().filter(|f| f.scenario.camera.view == View::FromBehind).count(), 6);
        assert!(films.iter().any(|f| f.scenario.hitter.bats == Side::Left));
    }
}
