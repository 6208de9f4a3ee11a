//! The ghost's cut-out against the made-up camera's own silhouette of the hitter with the bat.

use swingpair::compose::{Ghost, GhostStyle};
use swingpair::demo::{self, Studio, scenarios};
use swingpair::media::{Clip, OpenOptions};
use swingpair::reading::track;
use swingpair::types::{Cancel, Cutouts, NoProgress, Reading};

/// Shared over united pixels of the ghost and the truth, of each picture asked for.
fn overlaps(
    studio: &Studio,
    reading: &Reading,
    cutouts: Option<&Cutouts>,
    frames: &[usize],
    rate_hz: f64,
) -> Vec<f64> {
    let ghost = Ghost::new(reading, cutouts, GhostStyle::Tinted);
    let (w, h) = (reading.clip.width, reading.clip.height);
    let one = |&frame: &usize| {
        let mask = ghost.in_picture(reading, frame as f64 / rate_hz, (w, h)).unwrap();
        let truth = studio.silhouette(frame);
        let mut own = vec![false; w * h];
        for (row, line) in mask.cover.chunks_exact(mask.width).enumerate() {
            for (i, cover) in line.iter().enumerate() {
                own[(mask.y + row) * w + mask.x + i] = *cover > 127;
            }
        }
        let both = own.iter().zip(&truth).filter(|(a, b)| **a && **b).count();
        let either = own.iter().zip(&truth).filter(|(a, b)| **a || **b).count();
        both as f64 / either as f64
    };
    frames.iter().map(one).collect()
}

#[test]
fn the_ghost_is_the_hitter_with_the_bat() {
    let [_, mut scenario] = scenarios::two_reps();
    let rate_hz = 120.0;
    (scenario.camera.width, scenario.camera.height, scenario.camera.rate_hz) = (960, 540, rate_hz);
    scenario.contact_s = 1.5;
    scenario.duration_s = 2.1;
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("best.mp4");
    let truth = demo::film(&scenario, &path, &NoProgress, &Cancel::default()).unwrap();
    let clip = Clip::open(&path, &OpenOptions::default()).unwrap();
    let reading = super::made_clip::read(&clip, &truth);
    let cutouts = track::cutouts(&clip, &reading, &NoProgress, &Cancel::default()).unwrap();
    let studio = Studio::new(&scenario);
    // Stance to extension, most of them between two looks.
    let frames: Vec<usize> = (60..190).step_by(5).collect();
    let found = overlaps(&studio, &reading, Some(&cutouts), &frames, rate_hz);
    let rough = overlaps(&studio, &reading, None, &frames, rate_hz);
    let mean = |v: &[f64]| v.iter().sum::<f64>() / v.len() as f64;
    let least = |v: &[f64]| v.iter().copied().fold(f64::INFINITY, f64::min);
    println!(
        "shared over united: cut out mean {:.3}, least {:.3}; along the pose alone mean {:.3}, least {:.3}",
        mean(&found),
        least(&found),
        mean(&rough),
        least(&rough)
    );
    assert!(mean(&found) > 0.8 && least(&found) > 0.65, "{found:?}");
    assert!(mean(&found) > mean(&rough) + 0.05);
}
