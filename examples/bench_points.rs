//! Films made-up swings, looks at them and compares every point with the truth:
//! `cargo run --release --example bench_points -- FOLDER [name…]`
//!
//! Clips already in FOLDER are used again. Errors are in per cent of the hitter's standing height. At the end one
//! row for each step from the net's answer to what is kept, over the eight bench films.

use std::path::Path;
use std::time::Instant;

use swingpair::demo::scenarios::{bench_eight, from_behind, two_reps};
use swingpair::demo::{Bystander, Outfit, Place, Scenario, Truth, film, truth_path};
use swingpair::media::{Clip, OpenOptions};
use swingpair::reading::track::{TrackedHitter, TrackingOptions, track_hitter};
use swingpair::tracking::{Cutoffs, fuse, repair, repair_unsmoothed, smooth, standing_height_px};
use swingpair::types::{Cancel, Error, EventId, NoProgress, Part, Point, Pose, Result, Seen, Side, Track};

/// What is compared, and of which parts it is the middle.
const ROWS: [(&str, &[Part]); 8] = [
    ("hands", &[Part::LeftHand, Part::RightHand]),
    ("wrists", &[Part::LeftWrist, Part::RightWrist]),
    ("head", &[Part::LeftEar, Part::RightEar]),
    ("hips", &[Part::LeftHip, Part::RightHip]),
    ("left heel", &[Part::LeftHeel]),
    ("right heel", &[Part::RightHeel]),
    ("left toe", &[Part::LeftToe]),
    ("right toe", &[Part::RightToe]),
];

fn main() -> Result<()> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let [folder, names @ ..] = args.as_slice() else {
        return Err(Error::Usage("usage: bench_points FOLDER [name…]".to_owned()));
    };
    let folder = Path::new(folder);
    std::fs::create_dir_all(folder).map_err(|e| Error::writing(folder, e))?;
    println!(
        "{:12} {:22} {:>15} {:>15} {:>15} {:>7} {:>7} {:>6}",
        "clip", "part", "all med/90", "window med/90", "raw window", "bias x", "bias y", "jitter"
    );
    let bench: Vec<String> = bench_eight().into_iter().map(|s| s.name).collect();
    let mut steps = Steps::default();
    for scenario in cases() {
        if !names.is_empty() && !names.contains(&scenario.name) {
            continue;
        }
        let path = folder.join(format!("{}.mp4", scenario.name));
        let truth = match std::fs::read(truth_path(&path)).ok().map(|b| serde_json::from_slice(&b)) {
            Some(Ok(truth)) if path.exists() => truth,
            _ => film(&scenario, &path, &NoProgress, &Cancel::default())?,
        };
        let looked = report(&path, &truth)?;
        if let Some(looked) = looked.filter(|_| bench.contains(&truth.name)) {
            steps.add(&looked, &truth);
        }
    }
    steps.print();
    Ok(())
}

/// What is asked of each step: the front foot's heel and toe in the 150 ms before plant, the middle of the hands and
/// of the wrists from hands start to contact.
const ASKED: [&str; 4] = ["front heel", "front toe", "hands", "wrists"];

/// By step: for each of [`ASKED`] and each clip the errors of all pictures.
#[derive(Default)]
struct Steps(Vec<(&'static str, [Vec<Vec<Point>>; 4])>);

impl Steps {
    fn add(&mut self, looked: &TrackedHitter, truth: &Truth) {
        let Some(height_px) = standing_height_px(&looked.raw.poses) else { return };
        let mended = repair_unsmoothed(&looked.raw);
        let fused = fuse(&mended, &looked.moves, height_px);
        let smoothed = smooth(&fused, &Cutoffs::default(), None);
        for (name, track) in [
            ("net alone", &looked.raw),
            ("mended", &mended),
            ("mended and smoothed (as before)", &repair(&looked.raw)),
            ("mended, the pictures' moves", &fused),
            ("the same, smoothed", &smoothed),
            ("as kept", &looked.track),
        ] {
            let of = self.0.iter().position(|s| s.0 == name).unwrap_or_else(|| {
                self.0.push((name, Default::default()));
                self.0.len() - 1
            });
            let (Some(plant), Some(start), Some(contact)) =
                (truth.at(EventId::Plant), truth.at(EventId::HandsStart), truth.at(EventId::Contact))
            else {
                return;
            };
            let left = truth.bats == Side::Right;
            let foot = |l, r| vec![if left { l } else { r }];
            let asked = [
                (foot(Part::LeftHeel, Part::RightHeel), (plant - 0.15, plant)),
                (foot(Part::LeftToe, Part::RightToe), (plant - 0.15, plant)),
                (vec![Part::LeftHand, Part::RightHand], (start, contact)),
                (vec![Part::LeftWrist, Part::RightWrist], (start, contact)),
            ];
            for ((parts, near), slot) in asked.iter().zip(&mut self.0[of].1) {
                let off = offsets(track, &truth.track(), parts, truth.body_height_px, *near);
                slot.push(off.into_iter().map(|o| o.1).collect());
            }
        }
    }

    /// Mean over the clips of each clip's median and 90 %; wander: the same with the clip's mean error taken off.
    fn print(&self) {
        println!("\n| step |{}", ASKED.map(|a| format!(" {a} | wander |")).concat());
        println!("|---|{}", "---|".repeat(2 * ASKED.len()));
        for (name, asked) in &self.0 {
            print!("| {name} |");
            for clips in asked {
                let of = |wander: bool, at: f64| {
                    let each = clips.iter().filter(|c| !c.is_empty()).map(|clip| {
                        let n = clip.len() as f64;
                        let mean = clip.iter().fold(Point::default(), |s, p| s + *p) * (1.0 / n);
                        let mean = if wander { mean } else { Point::default() };
                        share(&mut clip.iter().map(|p| p.distance(mean)).collect::<Vec<_>>(), at)
                    });
                    let each: Vec<f64> = each.collect();
                    each.iter().sum::<f64>() / each.len().max(1) as f64
                };
                print!(" {:.2} / {:.2} |", of(false, 0.5), of(false, 0.9));
                print!(" {:.2} / {:.2} |", of(true, 0.5), of(true, 0.9));
            }
            println!();
        }
    }
}

fn cases() -> Vec<Scenario> {
    let [today, best] = two_reps();
    let behind = from_behind(&best);
    let mut crowd = Scenario { name: "crowd".to_owned(), ..today.clone() };
    crowd.scene.place = Place::Field;
    crowd.scene.bystanders = vec![
        Bystander {
            at_m: [-1.6, 2.5],
            walk_m_s: 0.9,
            height_cm: 178.0,
            look: Outfit { jersey: [180, 60, 50], ..Outfit::default() },
            throws_every_s: 0.0,
        },
        Bystander {
            at_m: [1.5, -1.6],
            walk_m_s: 0.0,
            height_cm: 190.0,
            look: Outfit { jersey: [200, 190, 70], pants: [60, 60, 70], ..Outfit::default() },
            throws_every_s: 0.0,
        },
    ];
    let mut all = bench_eight();
    all.extend([today, best, behind, crowd]);
    all
}

fn report(path: &Path, truth: &Truth) -> Result<Option<TrackedHitter>> {
    let clip = Clip::open(path, &OpenOptions::default())?;
    let start = Instant::now();
    let looked = match track_hitter(&clip, &TrackingOptions::default(), &NoProgress, &Cancel::default()) {
        Ok(looked) => looked,
        Err(error) => {
            println!("{:12} FAILED: {error}", truth.name);
            return Ok(None);
        }
    };
    let seconds = start.elapsed().as_secs_f64();
    let window = match (truth.at(EventId::HandsStart), truth.at(EventId::Contact)) {
        (Some(from), Some(to)) => (from, to),
        _ => looked.window_s,
    };
    let landing = truth.at(EventId::Touch).map_or(window, |t| (t - 0.1, t + 0.2));
    let exact = truth.track();
    for (name, parts) in ROWS {
        let feet = name.contains("heel") || name.contains("toe");
        let near = if feet { landing } else { window };
        let all = offsets(&looked.track, &exact, parts, truth.body_height_px, (0.0, f64::INFINITY));
        let inside = offsets(&looked.track, &exact, parts, truth.body_height_px, near);
        let raw = offsets(&looked.raw, &exact, parts, truth.body_height_px, near);
        let (bias_x, bias_y) = (middle(&all, |p| p.x), middle(&all, |p| p.y));
        // Usual change of the error from one picture to the next.
        let mut steps: Vec<f64> = inside.windows(2).map(|w| w[0].1.distance(w[1].1)).collect();
        println!(
            "{:12} {:22} {} {} {} {:>7.2} {:>7.2} {:>6.2}",
            truth.name,
            format!("{name} ({})", missing(&looked.track, parts)),
            spread(&all),
            spread(&inside),
            spread(&raw),
            bias_x,
            bias_y,
            share(&mut steps, 0.5),
        );
    }
    println!(
        "{:12} {} pictures in {:.1} s of {:.1} s; swing {:+.0} ms from contact; camera {}",
        truth.name,
        looked.track.poses.len(),
        seconds,
        clip.real_s(clip.facts().frames.saturating_sub(1)),
        (looked.swing_s - truth.at(EventId::Contact).unwrap_or(f64::NAN)) * 1e3,
        camera(&looked, truth),
    );
    Ok(Some(looked))
}

fn place(pose: &Pose, parts: &[Part]) -> Option<Point> {
    let places = parts.iter().map(|p| pose.at(*p)).collect::<Option<Vec<_>>>()?;
    Some(places.iter().fold(Point::default(), |s, p| s + *p) * (1.0 / places.len() as f64))
}

/// (time, found − true in per cent of height) for the pictures within `near`.
fn offsets(track: &Track, exact: &Track, parts: &[Part], height: f64, near: (f64, f64)) -> Vec<(f64, Point)> {
    track
        .poses
        .iter()
        .filter(|p| p.time_s >= near.0 && p.time_s <= near.1)
        .filter_map(|p| {
            let at = place(p, parts)?;
            let truth = place(exact.nearest(p.time_s)?, parts)?;
            Some((p.time_s, (at - truth) * (100.0 / height)))
        })
        .collect()
}

fn missing(track: &Track, parts: &[Part]) -> String {
    let n = track.poses.len().max(1) as f64;
    let none = track.poses.iter().filter(|p| place(p, parts).is_none()).count() as f64;
    let guessed = |p: &&Pose| parts.iter().any(|q| p.spot(*q).is_some_and(|s| s.seen == Seen::Inferred));
    let inferred = track.poses.iter().filter(guessed).count() as f64;
    format!("-{:.0}% ~{:.0}%", 100.0 * none / n, 100.0 * inferred / n)
}

fn middle(offsets: &[(f64, Point)], of: impl Fn(Point) -> f64) -> f64 {
    share(&mut offsets.iter().map(|o| of(o.1)).collect::<Vec<_>>(), 0.5)
}

fn share(values: &mut [f64], share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    values
        .get(((values.len() as f64 * share) as usize).min(values.len().saturating_sub(1)))
        .copied()
        .unwrap_or(f64::NAN)
}

fn spread(offsets: &[(f64, Point)]) -> String {
    let mut sizes: Vec<f64> = offsets.iter().map(|o| o.1.x.hypot(o.1.y)).collect();
    format!("{:>7.2} {:>7.2}", share(&mut sizes, 0.5), share(&mut sizes, 0.9))
}

/// Error of the camera's motion at the head, cm: how far the found steady place strays from the true one, apart
/// from a constant (each may count from another picture).
fn camera(looked: &TrackedHitter, truth: &Truth) -> String {
    let exact = truth.track();
    let mut strays = Vec::new();
    for (i, pose) in looked.track.poses.iter().enumerate() {
        let (Some(head), Some(true_map)) = (
            exact.poses.get(pose.frame).and_then(|p| place(p, &[Part::LeftEar, Part::RightEar])),
            truth.to_steady.get(pose.frame),
        ) else {
            continue;
        };
        strays.push((looked.camera.to_steady(i).apply(head), true_map.apply(head)));
    }
    let n = strays.len().max(1) as f64;
    let constant = strays.iter().fold(Point::default(), |s, p| s + (p.0 - p.1)) * (1.0 / n);
    let mut cm: Vec<f64> = strays
        .iter()
        .map(|p| (p.0 - p.1 - constant).x.hypot((p.0 - p.1 - constant).y) / truth.px_per_cm)
        .collect();
    let still = if looked.camera.stood_still() { "still" } else { "moving" };
    format!("{still}, off by {:.2} / {:.2} cm (median / 90 %)", share(&mut cm, 0.5), share(&mut cm, 0.9))
}
