//! The middle of both hands in the last 0.2 s before contact, against the truth:
//! `cargo run --release --example bench_hands -- FOLDER [--dump] [name…]`
//!
//! Films short made-up swings into FOLDER (those that are there are used again), and takes every other film there that
//! has a truth beside it. Errors are in per cent of the hitter's standing height.

use std::io::Write;
use std::path::{Path, PathBuf};

use serde_json::json;
use swingpair::body::{Pixels, Cutoffs, Move, Moves, draw_to_the_seen_hand, fuse, repair, repair_unsmoothed, smooth, standing_height_px, undo_swaps};
use swingpair::demo::scenarios::varied;
use swingpair::demo::{Hold, Place, Scenario, Truth, film, truth_path};
use swingpair::ground::{
    Cancel, Error, EventId, NoProgress, PARTS, Part, Point, Pose, Result, Seen, Side, Spot, Track, View,
};
use swingpair::media::{Clip, OpenOptions};
use swingpair::reading::look::{LookOptions, Looked, look};

/// Pictures from so long before contact, s.
const BEFORE_S: f64 = 0.2;
const HANDS: [Part; 2] = [Part::LeftHand, Part::RightHand];

fn main() -> Result<()> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let dump = args.iter().any(|a| a == "--dump");
    if args.first().is_some_and(|a| a == "--replay") {
        return replay(&args[1..]);
    }
    let args: Vec<&String> = args.iter().filter(|a| *a != "--dump").collect();
    let [folder, names @ ..] = args.as_slice() else {
        return Err(Error::Usage("usage: bench_hands FOLDER [--dump] [name…]".to_owned()));
    };
    let folder = Path::new(folder.as_str());
    std::fs::create_dir_all(folder).map_err(|e| Error::writing(folder, &e))?;
    for scenario in cases() {
        let path = folder.join(format!("{}.mp4", scenario.name));
        let wanted = names.is_empty() || names.iter().any(|n| **n == scenario.name);
        if wanted && !(path.exists() && truth_path(&path).exists()) {
            film(&scenario, &path, &NoProgress, &Cancel::default())?;
        }
    }
    let mut films: Vec<PathBuf> = std::fs::read_dir(folder)
        .map_err(|e| Error::reading(folder, &e))?
        .filter_map(|f| Some(f.ok()?.path()))
        .filter(|p| p.extension().is_some_and(|e| e == "mp4") && truth_path(p).exists())
        .filter(|p| {
            let name = p.file_stem().and_then(|s| s.to_str()).unwrap_or_default();
            names.is_empty() || names.iter().any(|n| *n == name)
        })
        .collect();
    films.sort();
    for path in films {
        let Ok(bytes) = std::fs::read(truth_path(&path)) else { continue };
        let Ok(truth) = serde_json::from_slice::<Truth>(&bytes) else {
            println!("{}: its truth is not readable", path.display());
            continue;
        };
        let clip = Clip::open(&path, &OpenOptions::default())?;
        let looked = match look(&clip, &LookOptions::default(), &NoProgress, &Cancel::default()) {
            Ok(looked) => looked,
            Err(error) => {
                println!("{}: not read: {error}", truth.name);
                continue;
            }
        };
        if dump {
            write_dump(&path, &clip, &looked, &truth)?;
        }
        row(&looked, &truth);
    }
    Ok(())
}

/// Short films: both sides of the plate, open and closed side, three rates; the first eight to set by, the rest to
/// report.
fn cases() -> Vec<Scenario> {
    use Side::{Left, Right};
    use View::{ClosedSide, OpenSide};
    let one = |name: String, seed: u64, bats: Side, view: View, rate_hz: f64| {
        let mut s = varied(&name, seed, bats);
        s.camera.view = view;
        s.camera.rate_hz = rate_hz;
        s.camera.hold = if seed % 3 == 0 { Hold::Light } else { Hold::Tripod };
        s.scene.place = if seed % 2 == 0 { Place::Field } else { Place::Cage };
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

fn middle(pose: &Pose) -> Option<Point> {
    let [a, b] = HANDS.map(|p| pose.at(p));
    Some(a?.midpoint(b?))
}

fn row(looked: &Looked, truth: &Truth) {
    let Some(contact_s) = truth.at(EventId::Contact) else { return };
    let exact = truth.track();
    let mended = repair_unsmoothed(&looked.raw);
    let height_px = standing_height_px(&looked.raw.poses).unwrap_or(1.0);
    let fused = fuse(&mended, &looked.moves, height_px);
    let told = |name: &str, track: &Track| {
        let mut off: Vec<f64> = track
            .poses
            .iter()
            .filter(|p| p.time_s >= contact_s - BEFORE_S && p.time_s <= contact_s + 1e-6)
            .filter_map(|p| Some(middle(p)?.distance(middle(exact.poses.get(p.frame)?)?)))
            .map(|px| 100.0 * px / truth.body_height_px)
            .collect();
        off.sort_by(f64::total_cmp);
        let at = |share: f64| off.get((off.len() as f64 * share) as usize).copied().unwrap_or(f64::NAN);
        println!(
            "{:24} {:12} {:4.0} Hz  {name:10} {:3} pictures  median {:5.2}  90 % {:5.2}  worst {:5.2}",
            truth.name,
            format!("{:?}", truth.view),
            truth.camera.rate_hz,
            off.len(),
            at(0.5),
            at(0.9),
            off.last().copied().unwrap_or(f64::NAN),
        );
    };
    told("net", &looked.raw);
    told("mended", &repair(&looked.raw));
    told("fused", &fused);
    told("kept", &looked.track);
}

fn write_dump(path: &Path, clip: &Clip, looked: &Looked, truth: &Truth) -> Result<()> {
    let Some(contact_s) = truth.at(EventId::Contact) else { return Ok(()) };
    let near = |t: f64| t >= contact_s - 0.45 && t <= contact_s + 0.25;
    let exact = truth.track();
    let spots = |p: &Pose| -> Vec<_> {
        p.spots.iter().map(|s| s.map(|s| [s.at.x, s.at.y, f64::from(s.visibility)])).collect()
    };
    let rgb_path = path.with_extension("rgb");
    let mut out = std::fs::File::create(&rgb_path).map_err(|e| Error::writing(&rgb_path, &e))?;
    let mut at = 0usize;
    let mut pictures = Vec::new();
    let Some(first) = looked.track.poses.iter().find(|p| near(p.time_s)) else { return Ok(()) };
    let mut frames = clip.frames(first.frame, None)?;
    while let Some(picture) = frames.next_frame()? {
        let Some(i) = looked.track.poses.iter().position(|p| p.frame == picture.index) else { continue };
        let pose = &looked.track.poses[i];
        if !near(pose.time_s) {
            break;
        }
        let (e, f) = (&looked.evidence[i], &picture.frame);
        let half = e.looked_side_px * 0.75;
        let span = |m: f64, n: usize| {
            ((m - half).clamp(0.0, n as f64) as usize, (m + half).clamp(0.0, n as f64) as usize)
        };
        let ((x0, x1), (y0, y1)) = (span(e.looked_at.x, f.width()), span(e.looked_at.y, f.height()));
        let mut bytes = Vec::new();
        for y in y0..y1 {
            for x in x0..x1 {
                let rgb = f.rgb(Point::new(x as f64 + 0.5, y as f64 + 0.5));
                bytes.extend(rgb.map(|v| (v * 255.0).round() as u8));
            }
        }
        out.write_all(&bytes).map_err(|e| Error::writing(&rgb_path, &e))?;
        let moves: Vec<_> = looked
            .moves
            .get(i)
            .map(|m| m.iter().map(|m| m.map(|m| [m.by.x, m.by.y, m.doubt_px])).collect())
            .unwrap_or_default();
        pictures.push(json!({
            "frame": pose.frame, "t": pose.time_s, "region": [e.looked_at.x, e.looked_at.y, e.looked_side_px, e.looked_turn_rad],
            "raw": spots(&looked.raw.poses[i]), "kept": spots(pose), "truth": exact.poses.get(pose.frame).map(spots),
            "moves": moves, "box": [x0, y0, x1 - x0, y1 - y0], "offset": at, "steady": looked.camera.to_steady.get(i),
        }));
        at += bytes.len();
    }
    let json_path = path.with_extension("dump.json");
    let parts: Vec<String> = PARTS.iter().map(|p| format!("{p:?}")).collect();
    let text = json!({"name": truth.name, "view": truth.view, "bats": truth.bats, "rate": truth.camera.rate_hz,
        "height": truth.body_height_px, "found_height": standing_height_px(&looked.raw.poses), "contact": contact_s, "parts": parts, "pictures": pictures})
    .to_string();
    std::fs::write(&json_path, text).map_err(|e| Error::writing(&json_path, &e))
}

fn replay(files: &[String]) -> Result<()> {
    use serde_json::Value;
    let num = |v: &Value| v.as_f64().unwrap_or(f64::NAN);
    let mut table: std::collections::BTreeMap<(String, String), Vec<Vec<f64>>> = Default::default();
    for file in files {
        let d: Value = serde_json::from_slice(&std::fs::read(file).unwrap()).unwrap();
        let cands: Value = std::fs::read(file.replace(".dump.json", ".cands.json"))
            .ok()
            .and_then(|b| serde_json::from_slice(&b).ok())
            .unwrap_or(json!({}));
        let (height, contact) = (num(&d["height"]), num(&d["contact"]));
        let pictures = d["pictures"].as_array().unwrap();
        let pose = |p: &Value, spots: &Value| {
            let mut pose =
                Pose::empty(p["frame"].as_u64().unwrap() as usize, num(&p["t"]));
            for (part, s) in PARTS.into_iter().zip(spots.as_array().unwrap()) {
                if s.is_array() {
                    let at = Point::new(num(&s[0]), num(&s[1]));
                    pose.set(part, Some(Spot { at, visibility: num(&s[2]) as f32, seen: Seen::Picture }));
                }
            }
            pose
        };
        let moves: Vec<Moves> = pictures
            .iter()
            .map(|p| {
                let m = p["moves"].as_array().unwrap();
                m.iter()
                    .map(|m| {
                        m.is_array().then(|| Move { by: Point::new(num(&m[0]), num(&m[1])), doubt_px: num(&m[2]) })
                    })
                    .collect()
            })
            .collect();
        let truth: Vec<Point> = pictures.iter().map(|p| middle(&pose(p, &p["truth"])).unwrap()).collect();
        let mut all: Vec<(String, Value)> = vec![("raw".into(), json!({}))];
        if let Some(map) = cands.as_object() {
            all.extend(map.iter().map(|(k, v)| (k.clone(), v.clone())));
        }
        for (name, poses) in all {
            let raw = Track {
                poses: pictures
                    .iter()
                    .map(|p| {
                        let own = &poses[p["frame"].to_string()];
                        pose(p, if own.is_array() { own } else { &p["raw"] })
                    })
                    .collect(),
            };
            let height_px = num(&d["found_height"]);
            let mended = repair_unsmoothed(&raw);
            let fused = fuse(&mended, &moves, height_px);
            let mut drawn = fused.clone();
            draw_to_the_seen_hand(&mut drawn, &undo_swaps(&raw, height_px), height_px);
            let mut drawn_raw = raw.clone();
            draw_to_the_seen_hand(&mut drawn_raw, &raw, height_px);
            for (what, track) in [
                ("0 net", raw.clone()),
                ("1 net+seen", drawn_raw),
                ("2 mended", smooth(&mended, &Cutoffs::default(), None)),
                ("3 before", smooth(&fused, &Cutoffs::default(), None)),
                ("4 +seen", smooth(&drawn, &Cutoffs::default(), None)),
                ("5 +break", smooth(&drawn, &Cutoffs::default(), Some(contact))),
                ("6 unsmoothed", drawn),
            ] {
                let off: Vec<f64> = track
                    .poses
                    .iter()
                    .zip(&truth)
                    .filter(|(p, _)| p.time_s >= contact - BEFORE_S && p.time_s <= contact + 1e-6)
                    .filter_map(|(p, t)| Some(100.0 * middle(p)?.distance(*t) / height))
                    .collect();
                table.entry((name.clone(), what.to_owned())).or_default().push(off);
            }
        }
    }
    let views: Vec<String> = files
        .iter()
        .map(|f| {
            let d: Value = serde_json::from_slice(&std::fs::read(f).unwrap()).unwrap();
            d["view"].as_str().unwrap_or_default().to_owned()
        })
        .collect();
    let told = |mut off: Vec<f64>| {
        off.sort_by(f64::total_cmp);
        let at = |share: f64| off.get((off.len() as f64 * share) as usize).copied().unwrap_or(f64::NAN);
        format!("{:5.2}/{:5.2}", at(0.5), at(0.9))
    };
    for ((name, what), clips) in table {
        print!("{name:16} {what:12}");
        for c in &clips {
            print!(" {}", told(c.clone()));
        }
        for view in ["open_side", "closed_side"] {
            let of = clips.iter().zip(&views).filter(|c| c.1 == view).flat_map(|c| c.0.clone());
            print!(" | {view} {}", told(of.collect()));
        }
        println!();
    }
    Ok(())
}
