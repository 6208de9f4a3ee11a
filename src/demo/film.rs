//! Takes the pictures and writes the clip with its truth beside it.

use std::path::{Path, PathBuf};
use std::sync::mpsc::sync_channel;

use rayon::prelude::*;

use super::render::Studio;
use super::scenario::Scenario;
use super::scenarios::two_reps;
use super::sound::record;
use super::truth::Truth;
use crate::media::{CAPTURE_RATE, Preset, WriteOptions, Writer, stored};
use crate::messages;
use crate::store::write_file;
use crate::types::{Cancel, Cause, Error, Frame, Progress, Result};

/// Pictures drawn side by side before they go to the encoder; at most two such batches wait.
const BATCH: usize = 8;

/// Where the truth of `clip` is kept: `NAME.truth.json` beside it.
pub fn truth_path(clip: &Path) -> PathBuf {
    clip.with_extension("truth.json")
}

/// Films the scenario into the MP4 `target` and writes [`truth_path`] beside it. Returns the truth.
pub fn film(scenario: &Scenario, target: &Path, progress: &dyn Progress, cancel: &Cancel) -> Result<Truth> {
    let truth = Truth::of(scenario);
    let studio = Studio::new(scenario);
    let plan = &scenario.camera;
    let turned = plan.rotation_deg.rem_euclid(180) != 0;
    let (width, height) = if turned { (plan.height, plan.width) } else { (plan.width, plan.height) };
    let slower = scenario.stored_slower;
    let options = WriteOptions {
        width,
        height,
        rate: fraction(plan.rate_hz / slower),
        crf: 21,
        preset: Preset::Veryfast,
        sound: record(scenario, studio.swing(), studio.camera()),
        display_rotation_deg: plan.rotation_deg,
        metadata: if slower > 1.0 {
            vec![(CAPTURE_RATE.to_owned(), format!("{:.6}", plan.rate_hz))]
        } else {
            Vec::new()
        },
        ..WriteOptions::default()
    };
    let frames = scenario.frames();
    progress.begin(&messages::demo::filming(&scenario.name), frames as u64);
    let mut writer = Writer::create(target, &options)?;
    let (send, receive) = sync_channel::<Vec<Frame>>(1);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let send = send;
            for first in (0..frames).step_by(BATCH) {
                if cancel.is_cancelled() {
                    return;
                }
                let batch = (first..frames.min(first + BATCH))
                    .into_par_iter()
                    .map(|i| match (studio.frame(i), plan.rotation_deg) {
                        (frame, 0) => frame,
                        (frame, turn) => stored(&frame, turn, false),
                    })
                    .collect();
                if send.send(batch).is_err() {
                    return;
                }
            }
        });
        // Owned here, so that an error hangs up and the drawing thread stops.
        let receive = receive;
        let mut written = 0;
        for batch in &receive {
            cancel.check()?;
            for frame in &batch {
                writer.write(frame)?;
            }
            written += batch.len();
            progress.advance(batch.len() as u64);
        }
        cancel.check()?;
        if written == frames { Ok(()) } else { Err(Error::WorkerLost) }
    })?;
    // The truth first: a film of the demo never lies there without it.
    keep_truth(&truth, &truth_path(target))?;
    writer.finish()?;
    progress.end();
    Ok(truth)
}

/// Films [`super::scenarios::two_reps`] into `dir`, which is made if it is not there: `today.mp4` and `best.mp4`,
/// in this order, each with its truth beside it. Replaces films of its own only: who keeps footage under these names
/// in that folder keeps it.
pub fn film_two_reps(dir: &Path, progress: &dyn Progress, cancel: &Cancel) -> Result<Vec<PathBuf>> {
    std::fs::create_dir_all(dir).map_err(|e| Error::writing(dir, e))?;
    let reps = two_reps().map(|scenario| {
        let target = dir.join(&scenario.name).with_extension("mp4");
        (scenario, target)
    });
    for (_, target) in &reps {
        if target.exists() && !truth_path(target).exists() {
            let cause = messages::demo::NOT_A_DEMO.into();
            return Err(Error::Unwritable { path: target.clone(), cause });
        }
    }
    let mut made = Vec::new();
    for (scenario, target) in reps {
        film(&scenario, &target, progress, cancel)?;
        made.push(target);
    }
    Ok(made)
}

fn keep_truth(truth: &Truth, path: &Path) -> Result<()> {
    let text = serde_json::to_vec(truth)
        .map_err(|e| Error::Unwritable { path: path.to_owned(), cause: Cause::of(e) })?;
    write_file(path, &text)
}

/// A rate as a fraction, exact to a thousandth of a picture a second.
pub(super) fn fraction(rate_hz: f64) -> (u32, u32) {
    let thousandths = (rate_hz * 1000.0).round().max(1.0) as u32;
    let (mut a, mut b) = (thousandths, 1000);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    (thousandths / a, 1000 / a)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo::{Hitter, Scenario};
    use crate::media::{Clip, OpenOptions};
    use crate::types::{NoProgress, Side};

    /// A quarter of a second around contact, small, upright in the hand, slow motion.
    fn small() -> Scenario {
        let mut s = Scenario::new("small", Hitter::new("Invented", Side::Left, 170.0, 80.0));
        (s.camera.width, s.camera.height, s.camera.body_share) = (144, 256, 0.4);
        (s.camera.rate_hz, s.stored_slower, s.camera.rotation_deg) = (120.0, 4.0, 90);
        (s.contact_s, s.duration_s) = (0.15, 0.25);
        s
    }

    #[test]
    fn the_same_seed_gives_the_same_pictures() {
        let s = small();
        let (a, b) = (Studio::new(&s), Studio::new(&s));
        for i in [0, 18, 29] {
            assert_eq!(a.frame(i), b.frame(i), "picture {i}");
        }
        let other = Scenario { swing_seed: 99, ..small() };
        assert_ne!(a.frame(18), Studio::new(&other).frame(18));
    }

    #[test]
    fn a_filmed_clip_reads_back_as_planned() {
        let folder = tempfile::tempdir().unwrap();
        let target = folder.path().join("small.mp4");
        let truth = film(&small(), &target, &NoProgress, &Cancel::default()).unwrap();
        let clip = Clip::open(&target, &OpenOptions::default()).unwrap();
        let facts = clip.facts();
        assert_eq!((facts.width, facts.height, facts.frames), (144, 256, 30));
        assert!((facts.slow_factor - 4.0).abs() < 1e-6 && (facts.capture_rate_hz - 120.0).abs() < 1e-6);
        let kept = std::fs::read_to_string(truth_path(&target)).unwrap();
        let kept: Truth = serde_json::from_str(&kept).unwrap();
        assert_eq!(kept.events.len(), truth.events.len());
        for (i, t) in kept.times_s.iter().enumerate() {
            assert!((clip.real_s(i) - t).abs() < 1e-6, "picture {i}");
        }
        // The picture stands upright: its middle is the same as drawn, within coding error.
        let s = small();
        let drawn = Studio::new(&s).frame(0);
        let mut frames = clip.frames(0, None).unwrap();
        let read = frames.next_frame().unwrap().unwrap().frame;
        let off: u64 = drawn.y.data.iter().zip(&read.y.data).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
        assert!(off < 4 * drawn.y.data.len() as u64, "pictures differ by {off} in all");
    }

    #[test]
    fn stopping_leaves_nothing_behind() {
        let folder = tempfile::tempdir().unwrap();
        let cancel = Cancel::default();
        cancel.cancel();
        let end = film(&small(), &folder.path().join("small.mp4"), &NoProgress, &cancel);
        assert!(matches!(end, Err(Error::Cancelled)), "{end:?}");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    }

    #[test]
    fn footage_of_that_name_is_not_replaced() {
        let folder = tempfile::tempdir().unwrap();
        let dear = folder.path().join("best.mp4");
        std::fs::write(&dear, "a coach's own").unwrap();
        let reported = film_two_reps(folder.path(), &NoProgress, &Cancel::default()).unwrap_err().to_string();
        assert!(reported.contains("best.mp4") && reported.contains("not a demo video"), "{reported}");
        assert_eq!(std::fs::read(&dear).unwrap(), b"a coach's own");
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn rates_are_small_fractions() {
        assert_eq!(fraction(60.0), (60, 1));
        assert_eq!(fraction(30.0), (30, 1));
        assert_eq!(fraction(29.97), (2997, 100));
        assert_eq!(fraction(0.5), (1, 2));
    }

    #[test]
    fn truth_lies_beside_the_clip() {
        assert_eq!(truth_path(Path::new("out/today.mp4")), Path::new("out/today.truth.json"));
    }
}
