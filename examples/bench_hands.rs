//! The middle of both hands in the last 0.2 s before contact, against the truth:
//! `cargo run --release --example bench_hands -- FOLDER [name…]`
//!
//! Films short swings into FOLDER, made-up ones and, where they are there, recorded ones (films that are there are used
//! again), and takes every other film there that has a truth beside it. Errors are in per cent of the hitter's
//! standing height. At the end all pictures of each kind together: the films set on, and those that are only told of.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use swingpair::demo::scenarios::varied;
use swingpair::demo::{Hold, Place, Recorded, Scenario, Truth, film, truth_path};
use swingpair::media::{Clip, OpenOptions};
use swingpair::reading::track::{TrackedHitter, TrackingOptions, track_hitter};
use swingpair::tracking::{Cutoffs, fuse, repair, repair_unsmoothed, smooth, standing_height_px};
use swingpair::types::{Cancel, Error, EventId, NoProgress, Part, Point, Pose, Result, Side, Track, View};

/// Pictures from so long before contact, s.
const BEFORE_S: f64 = 0.2;
const HANDS: [Part; 2] = [Part::LeftHand, Part::RightHand];

fn main() -> Result<()> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let [folder, names @ ..] = args.as_slice() else {
        return Err(Error::Usage("usage: bench_hands FOLDER [name…]".to_owned()));
    };
    let folder = Path::new(folder.as_str());
    std::fs::create_dir_all(folder).map_err(|e| Error::writing(folder, e))?;
    let mut all = cases();
    all.extend(recorded()?);
    for scenario in all {
        let path = folder.join(format!("{}.mp4", scenario.name));
        let wanted = names.is_empty() || names.iter().any(|n| **n == scenario.name);
        if wanted && !(path.exists() && truth_path(&path).exists()) {
            film(&scenario, &path, &NoProgress, &Cancel::default())?;
        }
    }
    let mut films: Vec<PathBuf> = std::fs::read_dir(folder)
        .map_err(|e| Error::reading(folder, e))?
        .filter_map(|f| Some(f.ok()?.path()))
        .filter(|p| p.extension().is_some_and(|e| e == "mp4") && truth_path(p).exists())
        .filter(|p| {
            let name = p.file_stem().and_then(|s| s.to_str()).unwrap_or_default();
            names.is_empty() || names.iter().any(|n| *n == name)
        })
        .collect();
    films.sort();
    let mut all: BTreeMap<(String, &str), Vec<f64>> = BTreeMap::new();
    for path in films {
        let Ok(bytes) = std::fs::read(truth_path(&path)) else { continue };
        let Ok(truth) = serde_json::from_slice::<Truth>(&bytes) else {
            println!("{}: its truth is not readable", path.display());
            continue;
        };
        let clip = Clip::open(&path, &OpenOptions::default())?;
        let looked = match track_hitter(&clip, &TrackingOptions::default(), &NoProgress, &Cancel::default()) {
            Ok(looked) => looked,
            Err(error) => {
                println!("{}: not read: {error}", truth.name);
                continue;
            }
        };
        let view = format!("{:?}", truth.view);
        let share =
            if ["set", "real_a"].iter().any(|s| truth.name.starts_with(s)) { "set on" } else { "told of" };
        let kind = if truth.name.starts_with("re") && !truth.name.starts_with("rep") {
            "recorded"
        } else {
            "made-up"
        };
        for (step, track) in steps(&looked).into_iter().flatten() {
            let off = errors(&track, &truth);
            reported(&format!("{}, {view}, {:.0} Hz", truth.name, truth.camera.rate_hz), step, off.clone());
            all.entry((format!("{kind}, {share}, {view}"), step)).or_default().extend(off);
        }
    }
    println!();
    for ((kind, step), off) in all {
        reported(&kind, step, off);
    }
    Ok(())
}

/// Short films: both sides of the plate, open and closed side, two rates; the first eight to set by, the rest to
/// report.
fn cases() -> Vec<Scenario> {
    use Side::{Left, Right};
    use View::{ClosedSide, OpenSide};
    let one = |name: String, seed: u64, bats: Side, view: View, rate_hz: f64| {
        let mut s = varied(&name, seed, bats);
        s.camera.view = view;
        s.camera.rate_hz = rate_hz;
        s.camera.hold = if seed.is_multiple_of(3) { Hold::Light } else { Hold::Tripod };
        s.scene.place = if seed.is_multiple_of(2) { Place::Field } else { Place::Cage };
        s.contact_s = 1.25;
        s.duration_s = 1.6;
        s
    };
    let mut all = Vec::new();
    for (kind, seed, rates) in [("set", 900, [60.0, 120.0]), ("rep", 950, [60.0, 120.0])] {
        let mut k = 0;
        for view in [OpenSide, ClosedSide] {
            for bats in [Right, Left] {
                for rate_hz in rates {
                    all.push(one(format!("{kind}{}", k + 1), seed + k, bats, view, rate_hz));
                    k += 1;
                }
            }
        }
    }
    all
}

/// Recorded swings, where they are: `a` to set by, `b` and `c` to report.
fn recorded() -> Result<Vec<Scenario>> {
    use Side::{Left, Right};
    use View::{ClosedSide, OpenSide};
    let file = |letter: char| Path::new("../shared/swings").join(format!("swing_{letter}.json"));
    if !file('a').exists() {
        println!("SKIPPED: recorded swings are not in ../shared/swings");
        return Ok(Vec::new());
    }
    let cases = [
        ('a', OpenSide, Right, 60.0),
        ('a', OpenSide, Left, 120.0),
        ('a', ClosedSide, Left, 60.0),
        ('a', ClosedSide, Right, 120.0),
        ('b', OpenSide, Left, 60.0),
        ('b', ClosedSide, Left, 120.0),
        ('c', OpenSide, Right, 120.0),
        ('c', ClosedSide, Right, 60.0),
    ];
    let filmed = |(i, (letter, view, bats, rate_hz)): (usize, (char, View, Side, f64))| {
        let motion = Recorded::load(&file(letter))?;
        let mut s = varied(&format!("real_{letter}{}", i + 1), 7100 + i as u64, bats);
        s.hitter = motion.hitter(&s.name, bats, None);
        s.recorded = Some(motion);
        s.camera.view = view;
        s.camera.rate_hz = rate_hz;
        s.scene.place = if i % 2 == 0 { Place::Field } else { Place::Cage };
        s.contact_s = 1.3;
        s.duration_s = 1.65;
        Ok(s)
    };
    cases.into_iter().enumerate().map(filmed).collect()
}

fn middle(pose: &Pose) -> Option<Point> {
    let [a, b] = HANDS.map(|p| pose.at(p));
    Some(a?.midpoint(b?))
}

/// The net alone; mended over time and smoothed; with the pictures' moves; and, in turn shown in a mirror from the
/// start, the grip held: as kept.
fn steps(looked: &TrackedHitter) -> Option<[(&'static str, Track); 4]> {
    let height_px = standing_height_px(&looked.raw.poses)?;
    let fused = fuse(&repair_unsmoothed(&looked.raw), &looked.moves, height_px);
    Some([
        ("1 net", looked.raw.clone()),
        ("2 mended", repair(&looked.raw)),
        ("3 moves", smooth(&fused, &Cutoffs::default(), None)),
        ("4 kept", looked.track.clone()),
    ])
}

/// Of the pictures before contact, % of the height.
fn errors(track: &Track, truth: &Truth) -> Vec<f64> {
    let (contact_s, exact) = (truth.at(EventId::Contact).unwrap_or(f64::NAN), truth.track());
    track
        .poses
        .iter()
        .filter(|p| p.time_s >= contact_s - BEFORE_S && p.time_s <= contact_s + 1e-6)
        .filter_map(|p| Some(middle(p)?.distance(middle(exact.poses.get(p.frame)?)?)))
        .map(|px| 100.0 * px / truth.body_height_px)
        .collect()
}

fn reported(what: &str, step: &str, mut off: Vec<f64>) {
    off.sort_by(f64::total_cmp);
    let at = |share: f64| {
        let place = ((off.len() as f64 * share) as usize).min(off.len().saturating_sub(1));
        off.get(place).copied().unwrap_or(f64::NAN)
    };
    println!(
        "{what:36} {step:10} {:3} pictures  median {:5.2}  90 % {:5.2}  worst {:5.2}",
        off.len(),
        at(0.5),
        at(0.9),
        at(1.0)
    );
}
