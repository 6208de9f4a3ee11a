//! The pose nets against outputs recorded from LiteRT (the framework the weights come from).

use std::path::PathBuf;

use swingpair::tracking::{Nets, Pixels};
use swingpair::types::{Frame, Plane, Point};

/// The folder of shared reference data, if this machine has it.
fn reference() -> Option<PathBuf> {
    let shared = std::env::var_os("SWINGPAIR_SHARED")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../shared"), PathBuf::from);
    let dir = shared.join("models/reference");
    if dir.is_dir() {
        Some(dir)
    } else {
        crate::skipped::skipped(
            "pose nets against their reference",
            &format!("no {} (set SWINGPAIR_SHARED)", dir.display()),
        );
        None
    }
}

fn floats(path: PathBuf) -> Vec<f32> {
    let bytes = std::fs::read(&path).unwrap();
    bytes.chunks_exact(4).map(|b| f32::from_le_bytes([b[0], b[1], b[2], b[3]])).collect()
}

fn largest_difference(a: &[f32], b: &[f32]) -> f32 {
    assert_eq!(a.len(), b.len());
    a.iter().zip(b).map(|(a, b)| (a - b).abs()).fold(0.0, f32::max)
}

struct Rgb(image::RgbImage);

impl Pixels for Rgb {
    fn width(&self) -> usize {
        self.0.width() as usize
    }
    fn height(&self) -> usize {
        self.0.height() as usize
    }
    fn rgb(&self, at: Point) -> [f32; 3] {
        let x = (at.x - 0.5).clamp(0.0, f64::from(self.0.width() - 1));
        let y = (at.y - 0.5).clamp(0.0, f64::from(self.0.height() - 1));
        let (x0, y0) = (x as u32, y as u32);
        let (x1, y1) = ((x0 + 1).min(self.0.width() - 1), (y0 + 1).min(self.0.height() - 1));
        let (fx, fy) = (x - f64::from(x0), y - f64::from(y0));
        std::array::from_fn(|c| {
            let p = |x, y| f64::from(self.0.get_pixel(x, y).0[c]);
            let top = p(x0, y0) * (1.0 - fx) + p(x1, y0) * fx;
            let bottom = p(x0, y1) * (1.0 - fx) + p(x1, y1) * fx;
            ((top * (1.0 - fy) + bottom * fy) / 255.0) as f32
        })
    }
}

/// RGB → BT.709 limited planar; chroma filtered 1-2-1 across, sited on the left column of its pair.
fn frame(image: &image::RgbImage) -> Frame {
    let (w, h) = (image.width() as usize, image.height() as usize);
    let mut f = Frame::black(w, h);
    let yuv = |x: usize, y: usize| {
        let [r, g, b] = image.get_pixel(x as u32, y as u32).0.map(|v| f64::from(v) / 255.0);
        let luma = 0.2126 * r + 0.7152 * g + 0.0722 * b;
        (luma, (b - luma) / 1.8556, (r - luma) / 1.5748)
    };
    let set = |plane: &mut Plane, x: usize, y: usize, v: f64| plane.row_mut(y)[x] = v.round() as u8;
    for y in 0..h {
        for x in 0..w {
            set(&mut f.y, x, y, 16.0 + 219.0 * yuv(x, y).0);
        }
    }
    for y in 0..h / 2 {
        for x in 0..w / 2 {
            let at = |dx: usize, dy: usize| yuv((2 * x + dx).saturating_sub(1).min(w - 1), 2 * y + dy);
            let (mut blue, mut red) = (0.0, 0.0);
            for (dx, weight) in [(0, 0.125), (1, 0.25), (2, 0.125)] {
                for dy in 0..2 {
                    blue += weight * at(dx, dy).1;
                    red += weight * at(dx, dy).2;
                }
            }
            set(&mut f.u, x, y, 128.0 + 224.0 * blue);
            set(&mut f.v, x, y, 128.0 + 224.0 * red);
        }
    }
    f
}

#[test]
fn raw_outputs_agree_with_litert() {
    let Some(dir) = reference() else { return };
    let nets = Nets::load().unwrap();
    let eye = nets.eye();
    let (boxes, scores) = eye.run_detector(floats(dir.join("detector_input.f32"))).unwrap();
    let box_error = largest_difference(&boxes, &floats(dir.join("detector_output_0.f32")));
    let score_error = largest_difference(&scores, &floats(dir.join("detector_output_1.f32")));
    let raw = eye.run_landmarks(floats(dir.join("landmark_input.f32"))).unwrap();
    let point_error = largest_difference(&raw.points, &floats(dir.join("landmark_full_output_points.f32")));
    let present_error =
        largest_difference(&[raw.present], &floats(dir.join("landmark_full_output_present.f32")));
    println!(
        "largest differences: boxes {box_error}, scores {score_error}, points {point_error}, present {present_error}"
    );
    for error in [box_error, score_error, point_error, present_error] {
        assert!(error < 2e-3, "{error}");
    }
    let (with_mask, mask) = eye.run_landmarks_and_mask(floats(dir.join("landmark_input.f32"))).unwrap();
    assert_eq!(with_mask.points, raw.points);
    assert_eq!(mask.len(), 256 * 256);
}

#[test]
fn a_drawn_figure_is_read_to_the_pixel() {
    let Some(dir) = reference() else { return };
    let truth: serde_json::Value =
        serde_json::from_slice(&std::fs::read(dir.join("figure.json")).unwrap()).unwrap();
    let points = |v: &serde_json::Value| -> Vec<Point> {
        v.as_array()
            .unwrap()
            .iter()
            .map(|p| Point::new(p[0].as_f64().unwrap(), p[1].as_f64().unwrap()))
            .collect()
    };
    let wanted_keys = points(&truth["detector"]["keypoints_px"]);
    let wanted = points(&truth["landmarks_full"]["xy_px"]);
    let nets = Nets::load().unwrap();
    let image = image::open(dir.join("figure.png")).unwrap().to_rgb8();

    fn check(
        name: &str,
        nets: &Nets,
        picture: &impl Pixels,
        wanted_keys: &[Point],
        wanted: &[Point],
        mean_px: f64,
        worst_px: f64,
    ) {
        let eye = nets.eye();
        let people = eye.find(picture).unwrap();
        assert_eq!(people.len(), 1, "{name}");
        let keys =
            people[0].keypoints.iter().zip(wanted_keys).map(|(a, b)| a.distance(*b)).fold(0.0, f64::max);
        let body = eye.body(picture, people[0].region()).unwrap();
        let errors: Vec<f64> =
            body.points.iter().zip(wanted).take(33).map(|(a, b)| a.at.distance(*b)).collect();
        let worst = errors.iter().copied().fold(0.0, f64::max);
        let mean = errors.iter().sum::<f64>() / errors.len() as f64;
        println!(
            "{name}: score {:.4}, detector keys off by up to {keys:.2} px, landmarks {mean:.2} px mean, {worst:.2} px worst",
            people[0].score
        );
        assert!(errors.len() == 33 && body.present > 0.99);
        assert!(keys < worst_px && worst < worst_px && mean < mean_px, "{name}: {keys} {worst}");
    }
    check("RGB", &nets, &Rgb(image.clone()), &wanted_keys, &wanted, 0.1, 0.5);
    check("BT.709 4:2:0", &nets, &frame(&image), &wanted_keys, &wanted, 1.0, 4.0);
}
