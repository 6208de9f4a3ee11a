//! Draws what was seen of the hitter onto the pictures, for looking at by eye:
//! `cargo run --release --example show_track -- CLIP OUT_DIR [every]`
//!
//! Left parts are orange, right parts blue, worked-out points hollow; the raw answer of the net is shown as grey dots.

use std::path::Path;
use std::time::Instant;

use image::{Rgb, RgbImage};
use swingpair::media::{Clip, OpenOptions};
use swingpair::reading::track::{TrackingOptions, track_hitter};
use swingpair::types::{Cancel, Frame, NoProgress, PARTS, Part, Point, Pose, Result, Seen};

const BONES: [(Part, Part); 16] = [
    (Part::LeftShoulder, Part::RightShoulder),
    (Part::LeftHip, Part::RightHip),
    (Part::LeftShoulder, Part::LeftHip),
    (Part::RightShoulder, Part::RightHip),
    (Part::LeftShoulder, Part::LeftElbow),
    (Part::RightShoulder, Part::RightElbow),
    (Part::LeftElbow, Part::LeftWrist),
    (Part::RightElbow, Part::RightWrist),
    (Part::LeftHip, Part::LeftKnee),
    (Part::RightHip, Part::RightKnee),
    (Part::LeftKnee, Part::LeftAnkle),
    (Part::RightKnee, Part::RightAnkle),
    (Part::LeftAnkle, Part::LeftHeel),
    (Part::RightAnkle, Part::RightHeel),
    (Part::LeftHeel, Part::LeftToe),
    (Part::RightHeel, Part::RightToe),
];

fn main() -> Result<()> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let [clip, out, rest @ ..] = args.as_slice() else {
        eprintln!("usage: show_track CLIP OUT_DIR [every]");
        std::process::exit(2);
    };
    let every: usize = rest.first().and_then(|e| e.parse().ok()).unwrap_or(1);
    std::fs::create_dir_all(out).map_err(|e| swingpair::types::Error::writing(Path::new(out), e))?;
    let start = Instant::now();
    let clip = Clip::open(Path::new(clip), &OpenOptions::default())?;
    let opened_s = start.elapsed().as_secs_f64();
    let looked = track_hitter(&clip, &TrackingOptions::default(), &NoProgress, &Cancel::default())?;
    println!(
        "{}: {} poses, swing at {:.2} s, window {:.2}–{:.2} s, camera {}, opened {:.1} s, looked {:.1} s",
        clip.facts().path.display(),
        looked.track.poses.len(),
        looked.swing_s,
        looked.window_s.0,
        looked.window_s.1,
        if looked.camera.stood_still() { "still" } else { "moving" },
        opened_s,
        start.elapsed().as_secs_f64() - opened_s,
    );
    let centre = Point::new(clip.facts().width as f64 / 2.0, clip.facts().height as f64 / 2.0);
    let mut moved: Vec<f64> =
        looked.camera.to_steady.iter().map(|s| s.apply(centre).distance(centre)).collect();
    moved.sort_by(f64::total_cmp);
    if let (Some(middle), Some(most)) = (moved.get(moved.len() / 2), moved.last()) {
        println!("camera moved {middle:.2} px (median), {most:.2} px (most) at the picture's middle");
    }
    let inferred = |part: Part| {
        looked.track.poses.iter().filter_map(|p| p.spot(part)).filter(|s| s.seen == Seen::Inferred).count()
    };
    println!(
        "inferred: {:?}",
        PARTS.map(|p| (p, inferred(p))).iter().filter(|p| p.1 > 0).collect::<Vec<_>>()
    );

    let Some(first) = looked.track.poses.first() else { return Ok(()) };
    let mut frames = clip.frames(first.frame, None)?;
    let mut poses = looked.track.poses.iter().zip(&looked.raw.poses).enumerate().peekable();
    while let Some(picture) = frames.next_frame()? {
        while poses.next_if(|(_, (p, _))| p.frame < picture.index).is_some() {}
        let Some((i, (pose, raw))) = poses.next_if(|(_, (p, _))| p.frame == picture.index) else { continue };
        if i % every != 0 {
            continue;
        }
        let mut image = rgb(&picture.frame);
        draw(&mut image, pose, raw);
        let name = format!("{out}/{:05}_{:.3}s.png", pose.frame, pose.time_s);
        image.save(&name).map_err(|e| swingpair::types::Error::Unwritable {
            path: name.clone().into(),
            cause: swingpair::types::Cause::of(e),
        })?;
    }
    Ok(())
}

fn draw(image: &mut RgbImage, pose: &Pose, raw: &Pose) {
    for spot in raw.spots.iter().flatten() {
        dot(image, spot.at, 1.5, Rgb([200, 200, 200]), false);
    }
    for (a, b) in BONES {
        if let (Some(p), Some(q)) = (pose.at(a), pose.at(b)) {
            line(image, p, q, side_colour(b));
        }
    }
    for part in PARTS {
        if let Some(spot) = pose.spot(part) {
            dot(image, spot.at, 3.0, side_colour(part), spot.seen == Seen::Inferred);
        }
    }
}

fn side_colour(part: Part) -> Rgb<u8> {
    if part == Part::Nose {
        Rgb([240, 228, 66])
    } else if (part as usize) % 2 == 1 {
        Rgb([230, 159, 0])
    } else {
        Rgb([86, 180, 233])
    }
}

fn set(image: &mut RgbImage, x: f64, y: f64, colour: Rgb<u8>) {
    if x >= 0.0 && y >= 0.0 && (x as u32) < image.width() && (y as u32) < image.height() {
        image.put_pixel(x as u32, y as u32, colour);
    }
}

fn dot(image: &mut RgbImage, at: Point, radius: f64, colour: Rgb<u8>, hollow: bool) {
    let n = radius.ceil() as i32 + 1;
    for dy in -n..=n {
        for dx in -n..=n {
            let d = f64::from(dx).hypot(f64::from(dy));
            if d <= radius && !(hollow && d < radius - 1.2) {
                set(image, at.x + f64::from(dx), at.y + f64::from(dy), colour);
            }
        }
    }
}

fn line(image: &mut RgbImage, a: Point, b: Point, colour: Rgb<u8>) {
    let steps = a.distance(b).ceil().max(1.0) as usize;
    for i in 0..=steps {
        let p = a.lerp(b, i as f64 / steps as f64);
        set(image, p.x, p.y, colour);
    }
}

fn rgb(frame: &Frame) -> RgbImage {
    use swingpair::tracking::Pixels;
    RgbImage::from_fn(frame.width() as u32, frame.height() as u32, |x, y| {
        Rgb(frame.rgb(Point::new(f64::from(x) + 0.5, f64::from(y) + 0.5)).map(|v| (v * 255.0).round() as u8))
    })
}
